"""The calendar read back by libical, which is written in C and reads calendars in several desktop programs.

Skipped where the library is not installed; CI installs it.
"""

import ctypes
import ctypes.util

import pytest

from app.feed import calendar
from tests.feed.sample import FEED, item
from tests.feed.test_feed_readers import SOME

LIBRARY = ctypes.util.find_library("ical")
pytestmark = pytest.mark.skipif(not LIBRARY, reason="libical is not installed here")
EVENT = 4  # ICAL_VEVENT_COMPONENT in icalenums.h


@pytest.fixture(scope="module")
def libical():
    found = ctypes.CDLL(LIBRARY)
    for name, gives, takes in (
        ("icalparser_parse_string", ctypes.c_void_p, [ctypes.c_char_p]),
        ("icalcomponent_count_errors", ctypes.c_int, [ctypes.c_void_p]),
        ("icalrestriction_check", ctypes.c_int, [ctypes.c_void_p]),
        ("icalcomponent_count_components", ctypes.c_int, [ctypes.c_void_p, ctypes.c_int]),
        ("icalcomponent_get_first_component", ctypes.c_void_p, [ctypes.c_void_p, ctypes.c_int]),
        ("icalcomponent_get_next_component", ctypes.c_void_p, [ctypes.c_void_p, ctypes.c_int]),
        ("icalcomponent_get_uid", ctypes.c_char_p, [ctypes.c_void_p]),
        ("icalcomponent_get_summary", ctypes.c_char_p, [ctypes.c_void_p]),
        ("icalcomponent_free", None, [ctypes.c_void_p]),
    ):
        function = getattr(found, name)
        function.restype, function.argtypes = gives, takes
    return found


def read(libical, text: bytes) -> tuple[bool, dict[str, str]]:
    """Whether it is a sound calendar, and the summaries of its events by identifier."""
    whole = libical.icalparser_parse_string(text)
    if not whole:
        return False, {}
    sound = libical.icalcomponent_count_errors(whole) == 0 and libical.icalrestriction_check(whole) == 1
    found, one = {}, libical.icalcomponent_get_first_component(whole, EVENT)
    while one:
        found[libical.icalcomponent_get_uid(one).decode()] = libical.icalcomponent_get_summary(one).decode()
        one = libical.icalcomponent_get_next_component(whole, EVENT)
    libical.icalcomponent_free(whole)
    return sound, found


@pytest.mark.parametrize("alarm", [False, True])
def test_libical_reads_every_event_and_its_text(libical, alarm: bool) -> None:
    sound, found = read(libical, calendar(FEED._replace(alarm=alarm), SOME))
    assert sound
    assert set(found) == {one.uid for one in SOME}
    assert found[SOME[0].uid] == SOME[0].summary.rstrip()  # libical takes blanks off the end


@pytest.mark.parametrize("items", [SOME, ()])
def test_libical_finds_nothing_wrong_with_to_dos_or_with_none(libical, items) -> None:
    assert read(libical, calendar(FEED._replace(todos=True), items))[0]


@pytest.mark.parametrize(("right", "wrong"), [("VERSION:2.0\r\n", ""), ("END:VEVENT\r\n", "")])
def test_libical_notices_what_is_wrong(libical, right: str, wrong: str) -> None:
    text = calendar(FEED, [item()]).decode()
    assert right in text
    assert not read(libical, text.replace(right, wrong).encode())[0]
