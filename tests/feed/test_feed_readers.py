"""The calendar read back by three parsers that did not write it; `test_feed_libical.py` has one that is not Python."""

from datetime import date, datetime, timedelta

import icalendar
import ics
import pytest
import vobject

from app.feed import calendar
from tests.feed.sample import FEED, day, item, window

HARD = 'Sow broad beans; 2 rows, 9" apart \\ see notes: ½ kg, “é” 🥕 ' + "and on " * 30
SOME = (
    item(summary=HARD, description="From 2 March.\nWhy: 8 weeks, \\ before; frost", place="A; b"),
    item("a.leap", window=window("2028-02-29")),
    item("a.year", window=window("2026-12-31"), sure=False),
    item("a.done", window=window("2026-03-02"), status="COMPLETED", done=day("2026-03-04")),
    item("a.gone", window=window("2026-04-02"), status="CANCELLED"),
    item("a+b.hot", window=window("2026-07-04"), starts=datetime.fromisoformat("2026-07-04T18:00+01:00"),
         ends=datetime.fromisoformat("2026-07-05T18:00+01:00")),
)  # fmt: skip


def _by_uid(found: list[vobject.base.Component]) -> dict[str, vobject.base.Component]:
    return {one.uid.value: one for one in found}


@pytest.mark.parametrize("alarm", [False, True])
def test_vobject_reads_and_validates_it(alarm: bool) -> None:
    whole = vobject.readOne(calendar(FEED._replace(alarm=alarm), SOME).decode())
    whole.validate(raiseException=True)
    events = _by_uid(whole.vevent_list)
    assert len(events) == len(SOME)
    for one in SOME[1:3]:
        event = events[one.uid]
        assert event.dtstart.value == date.fromordinal(one.window.best)
        assert event.dtend.value - event.dtstart.value == timedelta(days=1)
    assert events[SOME[0].uid].summary.value == HARD
    assert events[SOME[0].uid].description.value == SOME[0].description
    assert events[SOME[0].uid].location.value == "A; b"
    assert events[SOME[5].uid].dtstart.value == SOME[5].starts
    rings = {event.uid.value for event in whole.vevent_list if "valarm" in event.contents}
    assert rings == ({SOME[n].uid for n in (0, 1, 2, 5)} if alarm else set())


@pytest.mark.parametrize("todos", [False, True])
def test_ics_reads_it(todos: bool) -> None:
    whole = ics.Calendar(calendar(FEED._replace(todos=todos), SOME).decode())
    found = {one.uid: one for one in (whole.todos if todos else whole.events)}
    assert len(found) == len(SOME)
    assert found[SOME[0].uid].name == HARD
    assert found[SOME[0].uid].description == SOME[0].description
    assert found[SOME[3].uid].name == "✓ " + SOME[3].summary
    if not todos:
        assert found[SOME[1].uid].all_day
        assert found[SOME[1].uid].begin.date() == date(2028, 2, 29)
        assert found[SOME[5].uid].begin.datetime == SOME[5].starts
    else:
        assert found[SOME[1].uid].due.date() == date(2028, 3, 1)


@pytest.mark.parametrize("todos", [False, True])
def test_a_calendar_without_jobs_is_read_too(todos: bool) -> None:
    text = calendar(FEED._replace(todos=todos), ()).decode()
    vobject.readOne(text).validate(raiseException=True)
    assert not ics.Calendar(text).events


def test_the_readers_notice_what_is_wrong() -> None:
    # The checks above can fail: a job without identifier, and one done as no event can be, are refused.
    text = calendar(FEED, [item()]).decode()
    with pytest.raises(vobject.base.ValidateError):
        vobject.readOne(text.replace("UID:" + item().uid, "X-NOT:it")).validate(raiseException=True)
    with pytest.raises(ValueError, match=r".+"):
        ics.Calendar(text.replace("STATUS:CONFIRMED", "STATUS:COMPLETED"))


@pytest.mark.published
def test_vtodos_validate() -> None:
    # RFC 5545, 3.6.2.
    whole = vobject.readOne(calendar(FEED._replace(todos=True, alarm=True), SOME).decode())
    whole.validate(raiseException=True)
    todos = _by_uid(whole.vtodo_list)
    assert todos[SOME[3].uid].status.value == "COMPLETED"
    assert todos[SOME[4].uid].status.value == "CANCELLED"


@pytest.mark.parametrize("todos", [False, True])
def test_icalendar_reads_it_and_keeps_no_error(todos: bool) -> None:
    whole = icalendar.Calendar.from_ical(calendar(FEED._replace(todos=todos, alarm=True, name="Holding"), SOME))
    assert not [one.errors for one in whole.walk() if one.errors]
    found = {str(one["UID"]): one for one in whole.walk("VTODO" if todos else "VEVENT")}
    assert len(found) == len(SOME)
    assert str(found[SOME[0].uid]["SUMMARY"]) == HARD
    assert str(found[SOME[0].uid]["DESCRIPTION"]) == SOME[0].description
    assert whole["REFRESH-INTERVAL"].dt == timedelta(hours=6)
    if not todos:
        assert (found[SOME[1].uid].start, found[SOME[1].uid].end) == (date(2028, 2, 29), date(2028, 3, 1))
