"""Jobs out as an iCalendar object: tuples in, bytes out, without clock, records or request.

An all-day job is one event on its **best** day. Its window is told in the description and its last day can ring, but
the event does not cover the window: windows are weeks wide and a household has a hundred open in a September, so that
bands would bury the appointments that the calendar is for, and most programs draw them as days that are taken. A to-do
has a start and a due date of its own, and carries the whole window. A timed step covers its hours.

Source: RFC 5545 (form, dates, DTSTAMP and LAST-MODIFIED without METHOD), RFC 7986 (NAME, REFRESH-INTERVAL, SOURCE,
identifiers that name nobody).
"""

import uuid
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Literal, NamedTuple

from icalendar import Alarm, Calendar, Component, Event, Timezone, TimezoneStandard, Todo, vText, vUri

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
    whole = _head(feed)
    make = _todo if feed.todos else _event
    for item in sorted(items, key=lambda item: (item.window.best, item.uid)):
        whole.add_component(make(item, feed.alarm))
    if not items:
        whole.add_component(_nothing())
    written: bytes = whole.to_ical()
    return written


def _head(feed: Feed) -> Calendar:
    whole = Calendar()
    whole.add("version", "2.0")
    whole.add("prodid", PRODID)
    whole.add("calscale", "GREGORIAN")
    whole.add("uid", feed.uid)
    # Given as a text that is one already: by itself the library writes these two without escaping them.
    for name in ("name", "x-wr-calname"):
        whole.add(name, vText(_clean(feed.name)), encode=False)
    if feed.about:
        whole.add("description", _clean(feed.about))
    whole.add("last-modified", feed.changed_at or _EMPTY_STAMP)
    whole.add("refresh-interval", REFRESH, {"VALUE": "DURATION"})
    whole.add("x-published-ttl", "PT6H")
    if feed.url:
        whole.add("url", feed.url)
    if feed.source:
        whole.add("source", vUri(feed.source), {"VALUE": "URI"})
    return whole


def _event(item: FeedItem, alarm: bool) -> Event:
    one = Event()
    _common(one, item)
    best = item.window.best if item.done is None else item.done
    if item.starts is not None and item.done is None:
        one.add("dtstart", item.starts.astimezone(UTC))
        one.add("dtend", (item.ends or item.starts + timedelta(hours=1)).astimezone(UTC))
    else:
        one.add("dtstart", date.fromordinal(best))
        one.add("dtend", date.fromordinal(best + 1))  # exclusive: RFC 5545, 3.6.1
    if item.status == "CANCELLED":
        one.add("status", "CANCELLED")
    else:
        one.add("status", "CONFIRMED" if item.sure else "TENTATIVE")
    one.add("transp", "TRANSPARENT")
    if alarm and item.status == "NEEDS-ACTION":
        one.add_component(_alarm(item, _ring_after_start(item)))
    return one


def _todo(item: FeedItem, alarm: bool) -> Todo:
    one = Todo()
    _common(one, item)
    if item.starts is not None:
        one.add("dtstart", item.starts.astimezone(UTC))
        one.add("due", (item.ends or item.starts + timedelta(hours=1)).astimezone(UTC))
    else:
        one.add("dtstart", date.fromordinal(item.window.opens))
        one.add("due", date.fromordinal(item.window.closes + 1))  # a DATE is due before it begins: RFC 5545, 3.6.2
    one.add("status", item.status)
    if item.status == "COMPLETED" and item.done is not None:
        # Only the day is known; noon names it in every time zone that people live in but two.
        one.add("completed", datetime.combine(date.fromordinal(item.done), time(12), UTC))
        one.add("percent-complete", 100)
    if alarm and item.status == "NEEDS-ACTION":
        opens = item.window.opens
        ring = timedelta(0) if item.starts else timedelta(days=_ring_day(item.window) - opens) + RING_AT
        one.add_component(_alarm(item, ring))
    return one


def _common(one: Component, item: FeedItem) -> None:
    """What an event and a to-do share. Without METHOD, DTSTAMP is when it was last changed: RFC 5545, 3.8.7.2."""
    summary = f"✓ {item.summary}" if item.status == "COMPLETED" else item.summary
    one.add("uid", item.uid)
    one.add("dtstamp", item.changed_at)
    one.add("last-modified", item.changed_at)
    one.add("sequence", item.sequence)
    one.add("summary", _clean(summary))
    if item.description:
        one.add("description", _clean(item.description))
    if item.categories:
        one.add("categories", [_clean(name) for name in item.categories])
    if item.place:
        one.add("location", _clean(item.place))
    if item.url:
        one.add("url", item.url)


def _alarm(item: FeedItem, after: timedelta) -> Alarm:
    ring = Alarm()
    ring.add("action", "DISPLAY")
    ring.add("trigger", after, {"RELATED": "START"})
    ring.add("description", _clean(item.summary))
    return ring


def _ring_after_start(item: FeedItem) -> timedelta:
    """From the start of the event to the alarm; a timed step rings when it starts."""
    if item.starts is not None:
        return timedelta(0)
    return timedelta(days=_ring_day(item.window) - item.window.best) + RING_AT


def _ring_day(window: Window) -> Day:
    """The day before the last, so that a day is left; the last itself where there is no other."""
    return max(window.opens, window.closes - 1)


def _nothing() -> Component:
    """What stands in a calendar without jobs, which must hold something (RFC 5545, 3.6): a time zone nobody sees."""
    zone = Timezone()
    zone.add("tzid", "Etc/UTC")
    standard: Any = TimezoneStandard()
    standard.add("dtstart", datetime(1970, 1, 1))  # noqa: DTZ001  # RFC 5545, 3.6.5: local time, without a zone
    standard.add("tzoffsetfrom", timedelta(0))
    standard.add("tzoffsetto", timedelta(0))
    standard.add("tzname", "UTC")
    zone.add_component(standard)
    return zone


def _clean(text: str) -> str:
    """A text without control characters, which have no place in one (RFC 5545, 3.3.11)."""
    return text.replace("\r\n", "\n").replace("\r", "\n").translate(_CONTROLS)
