"""Invented jobs for the calendar's tests, and the plain reading of its lines."""

from datetime import UTC, date, datetime
from uuid import UUID

from app.feed import Feed, FeedItem, calendar, uid
from app.rules.facts import Window

SPACE = UUID("9b0f6a52-6b1e-4a4b-8f0e-0d7f2f4b6f10")
AT = datetime(2026, 3, 1, 8, 0, tzinfo=UTC)
FEED = Feed("Holding, tasks", "6a1f3a0e-58a8-5b0e-9d0e-2f4b1e4a7a42", AT)


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def window(opens: str, best: str = "", closes: str = "") -> Window:
    return Window(day(opens), day(best or opens), day(closes or best or opens))


def item(key: str = "beans.sow", **changes: object) -> FeedItem:
    made = FeedItem(uid(SPACE, key), "Sow broad beans", window("2026-03-02"), 3, AT)
    return made._replace(**changes)  # type: ignore[arg-type]


def unfolded(data: bytes) -> list[str]:
    """Content lines as RFC 5545, 3.1 joins them: CRLF and one white space vanish."""
    return data.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode("utf-8").split("\r\n")[:-1]


def lines(*items: FeedItem, feed: Feed = FEED) -> list[str]:
    return unfolded(calendar(feed, items))


def value(text: list[str], name: str) -> list[str]:
    """The values of a property, of every component."""
    found = []
    for line in text:
        head, _, rest = line.partition(":")
        if head.split(";")[0] == name:
            found.append(rest)
    return found
