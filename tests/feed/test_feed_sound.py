"""Calendars large and small against what readers don't notice; and that the looking itself can find something."""

import time

import pytest

from app.feed import calendar
from tests.feed.sample import FEED, item, window
from tests.feed.sound import faults
from tests.feed.test_feed_readers import SOME

pytestmark = pytest.mark.published


@pytest.mark.parametrize("todos", [False, True])
@pytest.mark.parametrize("alarm", [False, True])
def test_nothing_is_wrong_that_readers_let_pass(todos: bool, alarm: bool) -> None:
    feed = FEED._replace(todos=todos, alarm=alarm, about="a; b, c", url="http://192.0.2.7:8000/")
    assert faults(calendar(feed, SOME)) == []
    assert faults(calendar(feed, ())) == []


@pytest.mark.parametrize("todos", [False, True])
def test_five_thousand_jobs(todos: bool) -> None:
    words = "Take care, lift with two; é 🥕 and on " * 6
    many = [item(f"beans.hoe.{n}", description=words, window=window("2026-03-02", "2026-03-05")) for n in range(5000)]
    begun = time.process_time()
    data = calendar(FEED._replace(todos=todos, alarm=True), many)
    assert time.process_time() - begun < 2.0  # a phone waits for ten seconds or so; the machine of a house is slow
    assert data.count(b"BEGIN:VTODO" if todos else b"BEGIN:VEVENT") == 5000
    assert faults(data[:100_000].rpartition(b"BEGIN:V")[0] + b"END:VCALENDAR\r\n") == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        (b"\r\n", b"\n"),
        (b"DTEND;VALUE=DATE:20260303", b"DTEND;VALUE=DATE:20260302"),
        (b"DTEND;VALUE=DATE:20260303", b"DTEND:20260303T000000Z"),
        (b"DTSTART;VALUE=DATE:", b"DTSTART:"),
        (b"DTSTAMP:20260301T080000Z", b"DTSTAMP:20260301T080000"),
        (b"STATUS:CONFIRMED", b"STATUS:COMPLETED"),
        (b"SUMMARY:Sow", b"SUMMARY:Sow, and"),
        (b"SUMMARY:Sow", b"SUMMARY:" + b"Sow" * 30),
        (b"SUMMARY:Sow", b"SUMMARY:\xc3\r\n \xa9"),
        (b"BEGIN:VCALENDAR", b"\xef\xbb\xbfBEGIN:VCALENDAR"),
        (b"TRANSP:TRANSPARENT", b"SUMMARY:again"),
    ],
)
def test_the_looking_finds_what_is_wrong(right: bytes, wrong: bytes) -> None:
    data = calendar(FEED, [item()])
    assert right in data
    assert faults(data.replace(right, wrong))
    assert not faults(data)


def test_it_finds_an_identifier_that_is_there_twice() -> None:
    one = calendar(FEED, [item()])
    event = b"BEGIN:VEVENT" + one.partition(b"BEGIN:VEVENT")[2].partition(b"END:VCALENDAR")[0]
    assert faults(one.replace(b"END:VCALENDAR", event + b"END:VCALENDAR"))
