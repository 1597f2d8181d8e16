"""The calendar's bytes, line by line, against RFC 5545 and RFC 7986; dates in the tests are invented."""

import re
from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid5

import pytest

from app.feed import FeedItem, calendar, uid
from tests.feed.sample import AT, FEED, SPACE, day, item, lines, unfolded, value, window

pytestmark = pytest.mark.published


def test_a_title_is_escaped() -> None:
    # RFC 5545, 3.3.11: backslash, semicolon and comma are escaped; the double quote is not.
    said = 'Sow broad beans; 2 rows, 9" apart \\ see notes'
    assert r'SUMMARY:Sow broad beans\; 2 rows\, 9" apart \\ see notes' in lines(item(summary=said))


def test_a_new_line_is_escaped_whatever_its_form() -> None:
    # RFC 5545, 3.3.11: an intentional line break is \n.
    assert "DESCRIPTION:one\\ntwo\\nthree\\nfour" in lines(item(description="one\ntwo\r\nthree\rfour"))


def test_control_characters_are_left_out() -> None:
    # RFC 5545, 3.1: CONTROL characters other than HTAB are no part of a value.
    assert "SUMMARY:Sow beans" in lines(item(summary="Sow\x00 be\x07ans\x7f"))


def test_categories_are_separated_by_bare_commas() -> None:
    # RFC 5545, 3.8.1.2 with 3.3.11.
    assert r"CATEGORIES:Crops\, roots,Garden" in lines(item(categories=("Crops, roots", "Garden")))


@pytest.mark.parametrize("letter", ["é", "🥕", "x"])
def test_no_line_is_longer_than_75_octets_and_none_is_cut_inside_a_letter(letter: str) -> None:
    # RFC 5545, 3.1: lines are folded at 75 octets, the break excluded.
    data = calendar(FEED, [item(summary=letter * 200, description=letter * 333)])
    for line in data.split(b"\r\n"):
        assert len(line) <= 75
        line.decode("utf-8")
    assert f"SUMMARY:{letter * 200}" in unfolded(data)


def test_the_whole_is_lines_that_end_in_crlf() -> None:
    # RFC 5545, 3.1; 3.4 for the frame. A byte-order mark is no part of it.
    data = calendar(FEED, [item(description="a\nb"), item("beans.hoe")])
    assert data.startswith(b"BEGIN:VCALENDAR\r\n")
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert not [line for line in data.split(b"\r\n") if b"\r" in line or b"\n" in line]


@pytest.mark.parametrize(
    ("on", "start", "end"),
    [
        ("2026-03-02", "20260302", "20260303"),  # RFC 5545, 3.6.1: DTEND is the non-inclusive end
        ("2028-02-29", "20280229", "20280301"),  # the leap day
        ("2027-02-28", "20270228", "20270301"),  # no leap day
        ("2026-12-31", "20261231", "20270101"),  # the year's end
    ],
)
def test_a_day_ends_before_the_next(on: str, start: str, end: str) -> None:
    found = lines(item(window=window(on)))
    assert f"DTSTART;VALUE=DATE:{start}" in found
    assert f"DTEND;VALUE=DATE:{end}" in found


def test_the_event_stands_on_the_best_day_and_not_over_its_window() -> None:
    # Ours: see the docstring of app/feed.py. Form by RFC 5545, 3.6.1.
    found = lines(item(window=window("2026-03-02", "2026-03-10", "2026-04-02")))
    assert "DTSTART;VALUE=DATE:20260310" in found
    assert "DTEND;VALUE=DATE:20260311" in found


def test_a_todo_covers_its_window_both_ends_included() -> None:
    # RFC 5545, 3.6.1 gives 28 June to 8 July 2007 as ...0628/...0709; 3.6.2: a DATE due is due before that day.
    found = lines(item(window=window("2007-06-28", "2007-07-01", "2007-07-08")), feed=FEED._replace(todos=True))
    assert "DTSTART;VALUE=DATE:20070628" in found
    assert "DUE;VALUE=DATE:20070709" in found
    assert value(found, "STATUS") == ["NEEDS-ACTION"]


def test_a_day_has_no_time_zone() -> None:
    # RFC 5545, 3.3.4: a DATE carries none.
    assert not [line for line in lines(item()) if "TZID" in line]


def test_a_timed_step_has_clock_times_in_utc() -> None:
    # RFC 5545, 3.3.5, form 2. 18:00 in summer in London is 17:00 UTC.
    from zoneinfo import ZoneInfo

    starts = datetime(2026, 7, 4, 18, 0, tzinfo=ZoneInfo("Europe/London"))
    found = lines(item(starts=starts, ends=starts + timedelta(hours=24), window=window("2026-07-04")))
    assert "DTSTART:20260704T170000Z" in found
    assert "DTEND:20260705T170000Z" in found


def test_no_stamp_is_the_moment_of_writing() -> None:
    # RFC 5545, 3.8.7.2: without METHOD, DTSTAMP is when the job was last revised.
    found = lines(item())
    assert value(found, "DTSTAMP") == ["20260301T080000Z"]
    assert "LAST-MODIFIED:20260301T080000Z" in found
    assert not value(found, "METHOD")
    assert "SEQUENCE:3" in found


def test_the_same_jobs_give_the_same_bytes_in_any_order() -> None:
    some = [item("beans.sow"), item("beans.hoe"), item("leek.sow", window=window("2026-01-02"))]
    assert calendar(FEED, some) == calendar(FEED, some[::-1])


def test_an_identifier_outlives_its_date_and_names_nobody() -> None:
    # RFC 5545, 3.8.4.7; RFC 7986, 5.3: letters, digits and hyphens, under 255 octets.
    assert uid(SPACE, "leek.sow.2027") == str(uuid5(SPACE, "leek.sow.2027"))
    moved = lines(item(window=window("2026-05-01"), sequence=4))
    assert value(moved, "UID")[1:] == value(lines(item()), "UID")[1:]
    for one in value(moved, "UID"):
        assert re.fullmatch("[A-Za-z0-9-]{1,254}", one)
    assert uid(UUID(int=7), "leek.sow.2027") != uid(SPACE, "leek.sow.2027")


def test_two_jobs_of_one_identifier_are_refused() -> None:
    # RFC 5545, 3.8.4.7: an identifier is globally unique.
    with pytest.raises(ValueError, match="same identifier"):
        calendar(FEED, [item(), item()])


def test_every_identifier_in_the_calendar_is_its_own() -> None:
    found = value(lines(*(item(f"beans.hoe.{n}") for n in range(50))), "UID")
    assert len(set(found)) == len(found) == 51


def test_the_calendar_says_what_it_is() -> None:
    # RFC 5545, 3.6: PRODID and VERSION, once each. RFC 7986, 5.1, 5.4, 5.5, 5.7, 5.8.
    feed = FEED._replace(url="http://192.0.2.7:8000/", source="http://192.0.2.7:8000/calendar/x.ics", about="a; b")
    found = lines(item(), feed=feed)
    assert value(found, "VERSION") == ["2.0"]
    assert len(value(found, "PRODID")) == 1
    assert r"NAME:Holding\, tasks" in found
    assert r"X-WR-CALNAME:Holding\, tasks" in found
    assert "REFRESH-INTERVAL;VALUE=DURATION:PT6H" in found
    assert "SOURCE;VALUE=URI:http://192.0.2.7:8000/calendar/x.ics" in found
    assert "URL:http://192.0.2.7:8000/" in found
    assert r"DESCRIPTION:a\; b" in found
    assert found.index(r"NAME:Holding\, tasks") < found.index("BEGIN:VEVENT")


@pytest.mark.parametrize(
    ("changes", "status"),
    [
        ({}, "CONFIRMED"),
        ({"sure": False}, "TENTATIVE"),
        ({"status": "CANCELLED"}, "CANCELLED"),
        ({"status": "COMPLETED", "done": day("2026-03-05")}, "CONFIRMED"),
    ],
)
def test_an_event_has_a_status_that_an_event_may_have(changes: dict[str, object], status: str) -> None:
    # RFC 5545, 3.8.1.11: TENTATIVE, CONFIRMED, CANCELLED; COMPLETED is for to-dos alone.
    assert value(lines(item(**changes)), "STATUS") == [status]


def test_a_done_job_stands_on_the_day_it_was_done_with_a_mark() -> None:
    found = lines(item(status="COMPLETED", done=day("2026-03-05")))
    assert "DTSTART;VALUE=DATE:20260305" in found
    assert "SUMMARY:✓ Sow broad beans" in found


def test_a_done_todo_says_when() -> None:
    # RFC 5545, 3.8.1.8 and 3.8.2.1: PERCENT-COMPLETE 100, COMPLETED in UTC.
    found = lines(item(status="COMPLETED", done=day("2026-03-05")), feed=FEED._replace(todos=True))
    assert "STATUS:COMPLETED" in found
    assert "COMPLETED:20260305T120000Z" in found
    assert "PERCENT-COMPLETE:100" in found


def test_a_job_takes_up_nobodys_day() -> None:
    # RFC 5545, 3.8.2.7.
    assert "TRANSP:TRANSPARENT" in lines(item())


def _trigger(one: FeedItem, todos: bool = False) -> str:
    found = lines(one, feed=FEED._replace(alarm=True, todos=todos))
    assert "ACTION:DISPLAY" in found
    assert len([line for line in found if line.startswith("DESCRIPTION:")]) == 1
    return next(line for line in found if line.startswith("TRIGGER"))


def test_an_alarm_rings_at_eight_on_the_day_before_the_last() -> None:
    # RFC 5545, 3.8.6.3: counted from 00:00 of a DATE start. Best on the 10th, last on the 20th: rings on the 19th.
    long = item(window=window("2026-03-02", "2026-03-10", "2026-03-20"))
    assert _trigger(long) == "TRIGGER;RELATED=START:P9DT8H"
    assert _trigger(long, todos=True) == "TRIGGER;RELATED=START:P17DT8H"


def test_an_alarm_of_a_single_day_rings_that_morning() -> None:
    # RFC 5545, 3.8.6.3.
    assert _trigger(item()) == "TRIGGER;RELATED=START:PT8H"


def test_an_alarm_before_a_last_day_that_is_best_rings_the_day_before() -> None:
    assert _trigger(item(window=window("2026-03-02", "2026-03-10"))) == "TRIGGER;RELATED=START:-PT16H"


def test_nothing_rings_unless_asked_nor_for_what_is_done() -> None:
    assert "BEGIN:VALARM" not in lines(item())
    done = item(status="COMPLETED", done=day("2026-03-05"))
    assert "BEGIN:VALARM" not in lines(done, feed=FEED._replace(alarm=True))


def test_a_calendar_without_jobs_still_holds_a_component() -> None:
    # RFC 5545, 3.6: an iCalendar object must include at least one component.
    found = lines()
    assert [line for line in found if line.startswith("BEGIN:")] == [
        "BEGIN:VCALENDAR",
        "BEGIN:VTIMEZONE",
        "BEGIN:STANDARD",
    ]


def test_a_link_stands_as_it_is() -> None:
    # RFC 5545, 3.3.13: a URI is not escaped.
    assert "URL:http://192.0.2.7:8000/job/a.b%2Bc" in lines(item(url="http://192.0.2.7:8000/job/a.b%2Bc"))


def test_the_sample_is_of_the_moment_it_says() -> None:
    assert AT.tzinfo is UTC
