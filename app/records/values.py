"""Facts and measures to JSON and back: a date is `{"date": "2027-03-10"}` there and a day number in the rules."""

from collections.abc import Collection, Mapping
from datetime import UTC, date, datetime
from typing import Any

from app.rules.spans import Day
from app.rules.terms import Value


def to_json(values: Mapping[str, Value], dates: Collection[str] = ()) -> dict[str, Any]:
    """Values as they are kept; ``dates`` names those that are day numbers.

    Raises: ValueError when a value is not one of the four kinds, or a date is not a day number.
    """
    kept: dict[str, Any] = {}
    for name, value in values.items():
        if not isinstance(value, int | float | str):
            raise ValueError(f"{name!r} is {value!r}, which is no fact")
        kept[name] = {"date": to_date(int(value)).isoformat()} if name in dates else value
    return kept


def from_json(kept: Mapping[str, Any]) -> dict[str, Value]:
    """Kept values as the rules read them."""
    return {name: to_day(value) if isinstance(value, dict) else value for name, value in kept.items()}


def to_day(kept: Mapping[str, Any]) -> Day:
    """The day number of a kept date."""
    return date.fromisoformat(kept["date"]).toordinal()


def to_date(day: Day) -> date:
    """A day number as a date."""
    return date.fromordinal(day)


def maybe_date(day: Day | None) -> date | None:
    """A day number as a date, or nothing."""
    return None if day is None else date.fromordinal(day)


def maybe_day(on: date | None) -> Day | None:
    """A date as a day number, or nothing."""
    return None if on is None else on.toordinal()


def moment_text(at: datetime) -> str:
    """A moment in UTC, always of one length, so that the order of texts is that of time: `2027-03-10T07:15:00.000Z`."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def read_moment(text: str) -> datetime:
    """The moment a text names, cut to milliseconds.

    Raises: ValueError when it is none, or has no time zone.
    """
    at = datetime.fromisoformat(text)
    if at.utcoffset() is None:
        raise ValueError(f"{text!r} does not say its time zone")
    at = at.astimezone(UTC)
    return at.replace(microsecond=at.microsecond // 1000 * 1000)
