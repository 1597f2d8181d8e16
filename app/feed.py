"""Jobs out as an iCalendar object: tuples in, bytes out, without clock, records or request.

An all-day job is one event on its **best** day. Its window is told in the description and its last day can ring, but
the event does not cover the window: windows are weeks wide and a household has a hundred open in a September, so that
bands would bury the appointments that the calendar is for, and most programs draw them as days that are taken. A to-do
has a start and a due date of its own, and carries the whole window. A timed step covers its hours.

It is written here and not by a library, which takes three seconds for 5 000 jobs: a phone would not wait for it.
Libraries read it back in the tests.

Source: RFC 5545 (form, dates, DTSTAMP and LAST-MODIFIED without METHOD), RFC 7986 (NAME, REFRESH-INTERVAL, SOURCE,
identifiers that name nobody).
"""

import uuid
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Literal, NamedTuple

from app.rules.facts import Window
from app.rules.spans import Day

PRODID = "-//Twelvemonth//The year of a household//EN"
REFRESH = timedelta(hours=6)
RING_AT = timedelta(hours=8)
"""An alarm rings at eight in the morning, by the reader's own clock (RFC 5545, 3.8.6.3)."""
_EMPTY_STAMP = datetime(1970, 1, 1, tzinfo=UTC)
_CONTROLS = {code: None for code in range(32) if chr(code) not in "\t\n"} | {127: None}

Status = Literal["NEEDS-ACTION", "COMPLETED", "CANCELLED"]


class FeedItem(NamedTuple):
    """A job as a calendar gets it.

    ``window`` is its days, ``done`` the day it was done. ``changed_at`` is when it last changed (UTC) and ``sequence``
    how often. ``sure`` is false for what rests on a plan. ``starts`` and ``ends`` are the clock times of a timed step.
    """

    uid: str
    summary: str
    window: Window
    sequence: int
    changed_at: datetime
    status: Status = "NEEDS-ACTION"
    done: Day | None = None
    sure: bool = True
    categories: tuple[str, ...] = ()
    place: str = ""
    description: str = ""
    url: str = ""
    starts: datetime | None = None
    ends: datetime | None = None


class Feed(NamedTuple):
    """The calendar that the jobs stand in; ``changed_at`` is the newest stamp in it, deletions counted."""

    name: str
    uid: str
    changed_at: datetime | None
    about: str = ""
    url: str = ""
    source: str = ""
    todos: bool = False
    alarm: bool = False


def uid(namespace: uuid.UUID, key: str) -> str:
    """The identifier of a job for good: the same installation and key give the same one, whatever the dates do.

    Source: RFC 9562, 5.5 (version 5); RFC 7986, 5.3 (no host, no person in it).
    """
    return str(uuid.uuid5(namespace, key))


def calendar(feed: Feed, items: Sequence[FeedItem]) -> bytes:
    """The calendar as bytes: the same items give the same bytes, whenever and in whatever order they come.

    Raises: ValueError when two items have one identifier.
    """
    if len({item.uid for item in items}) < len(items):
        raise ValueError("two jobs of one calendar have the same identifier")
    lines = ["BEGIN:VCALENDAR", *_head(feed)]
    make = _todo if feed.todos else _event
    for item in sorted(items, key=lambda item: (item.window.best, item.uid)):
        lines += make(item, feed.alarm)
    if not items:
        lines += _NOTHING
    lines.append("END:VCALENDAR")
    return "".join([_folded(line) for line in lines]).encode()


def _head(feed: Feed) -> list[str]:
    lines = ["VERSION:2.0", f"PRODID:{PRODID}", "CALSCALE:GREGORIAN", f"UID:{feed.uid}"]
    lines += [f"NAME:{_text(feed.name)}", f"X-WR-CALNAME:{_text(feed.name)}"]
    if feed.about:
        lines += [f"DESCRIPTION:{_text(feed.about)}", f"X-WR-CALDESC:{_text(feed.about)}"]
    lines.append(f"LAST-MODIFIED:{_moment(feed.changed_at or _EMPTY_STAMP)}")
    lines += [f"REFRESH-INTERVAL;VALUE=DURATION:{_duration(REFRESH)}", f"X-PUBLISHED-TTL:{_duration(REFRESH)}"]
    if feed.url:
        lines.append(f"URL:{feed.url}")
    if feed.source:
        lines.append(f"SOURCE;VALUE=URI:{feed.source}")
    return lines


def _event(item: FeedItem, alarm: bool) -> list[str]:
    lines = ["BEGIN:VEVENT", *_common(item)]
    best = item.window.best if item.done is None else item.done
    if item.starts is not None and item.done is None:
        lines += [f"DTSTART:{_moment(item.starts)}", f"DTEND:{_moment(_ends(item.starts, item.ends))}"]
    else:  # the end is exclusive: RFC 5545, 3.6.1
        lines += [f"DTSTART;VALUE=DATE:{_date(best)}", f"DTEND;VALUE=DATE:{_date(best + 1)}"]
    sure = "CONFIRMED" if item.sure else "TENTATIVE"
    lines += [f"STATUS:{'CANCELLED' if item.status == 'CANCELLED' else sure}", "TRANSP:TRANSPARENT"]
    if alarm and item.status == "NEEDS-ACTION":
        lines += _alarm(item, _ring_after_start(item))
    return [*lines, "END:VEVENT"]


def _todo(item: FeedItem, alarm: bool) -> list[str]:
    lines = ["BEGIN:VTODO", *_common(item)]
    opens, closes = item.window.opens, item.window.closes
    if item.starts is not None:
        lines += [f"DTSTART:{_moment(item.starts)}", f"DUE:{_moment(_ends(item.starts, item.ends))}"]
    else:  # a DATE is due before it begins: RFC 5545, 3.6.2
        lines += [f"DTSTART;VALUE=DATE:{_date(opens)}", f"DUE;VALUE=DATE:{_date(closes + 1)}"]
    lines.append(f"STATUS:{item.status}")
    if item.status == "COMPLETED" and item.done is not None:
        # Only the day is known; noon names it in every time zone that people live in but two.
        lines += [f"COMPLETED:{_date(item.done)}T120000Z", "PERCENT-COMPLETE:100"]
    if alarm and item.status == "NEEDS-ACTION":
        ring = timedelta(0) if item.starts else timedelta(days=_ring_day(item.window) - opens) + RING_AT
        lines += _alarm(item, ring)
    return [*lines, "END:VTODO"]


def _common(item: FeedItem) -> list[str]:
    """What an event and a to-do share. Without METHOD, DTSTAMP is when it was last changed: RFC 5545, 3.8.7.2."""
    summary = f"✓ {item.summary}" if item.status == "COMPLETED" else item.summary
    changed = _moment(item.changed_at)
    lines = [f"UID:{item.uid}", f"DTSTAMP:{changed}", f"LAST-MODIFIED:{changed}", f"SEQUENCE:{item.sequence}"]
    lines.append(f"SUMMARY:{_text(summary)}")
    if item.description:
        lines.append(f"DESCRIPTION:{_text(item.description)}")
    if item.categories:
        lines.append(f"CATEGORIES:{','.join(_text(name) for name in item.categories)}")
    if item.place:
        lines.append(f"LOCATION:{_text(item.place)}")
    if item.url:
        lines.append(f"URL:{item.url}")
    return lines


def _alarm(item: FeedItem, after: timedelta) -> list[str]:
    trigger = f"TRIGGER;RELATED=START:{_duration(after)}"
    return ["BEGIN:VALARM", "ACTION:DISPLAY", trigger, f"DESCRIPTION:{_text(item.summary)}", "END:VALARM"]


def _ring_after_start(item: FeedItem) -> timedelta:
    """From the start of the event to the alarm; a timed step rings when it starts."""
    if item.starts is not None:
        return timedelta(0)
    return timedelta(days=_ring_day(item.window) - item.window.best) + RING_AT


def _ring_day(window: Window) -> Day:
    """The day before the last, so that a day is left; the last itself where there is no other."""
    return max(window.opens, window.closes - 1)


def _ends(starts: datetime, ends: datetime | None) -> datetime:
    return ends if ends is not None and ends > starts else starts + timedelta(hours=1)


_NOTHING = [
    "BEGIN:VTIMEZONE", "TZID:Etc/UTC", "BEGIN:STANDARD", "DTSTART:19700101T000000", "TZOFFSETFROM:+0000",
    "TZOFFSETTO:+0000", "TZNAME:UTC", "END:STANDARD", "END:VTIMEZONE",
]  # fmt: skip
"""What stands in a calendar without jobs, which must hold something (RFC 5545, 3.6): a time zone nobody sees."""


# ── Values, and lines ─────────────────────────────────────────────────────────────────────────────────────────────


def _text(text: str) -> str:
    """A TEXT (RFC 5545, 3.3.11): escaped, and without the control characters that have no place in one."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").translate(_CONTROLS)
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _date(day: Day) -> str:
    return f"{date.fromordinal(day):%Y%m%d}"


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _duration(span: timedelta) -> str:
    """A DURATION (RFC 5545, 3.3.6) of whole minutes."""
    minutes = abs(round(span.total_seconds() / 60))
    days, minutes = divmod(minutes, 1440)
    hours, minutes = divmod(minutes, 60)
    clock = (f"{hours}H" if hours else "") + (f"{minutes}M" if minutes or not (days or hours) else "")
    sign = "-" if span < timedelta(0) else ""
    return f"{sign}P{f'{days}D' if days else ''}{f'T{clock}' if clock else ''}"


def _folded(line: str) -> str:
    """A content line, folded at 75 octets and never inside a letter (RFC 5545, 3.1)."""
    if len(line) <= 75 and (line.isascii() or len(line.encode()) <= 75):
        return f"{line}\r\n"
    octets, parts, room = line.encode(), [], 75
    while len(octets) > room:
        cut = room
        while octets[cut] & 0xC0 == 0x80:  # the middle of a letter
            cut -= 1
        parts.append(octets[:cut].decode())
        octets, room = octets[cut:], 74
    parts.append(octets.decode())
    return "\r\n ".join(parts) + "\r\n"
