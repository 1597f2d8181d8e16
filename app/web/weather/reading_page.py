"""A day's reading as a page: three large boxes, and the last seven days with their gaps."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from app.services.weather.weather import DayRead, Reading
from app.web import pages
from app.web.parts import Field, Form, Frame, Link, Pair, Status
from app.web.weather.typed import NAMES, Scale, boxed, told
from app.web.words import counted, day, short, weekday

HERE = "/weather/reading"


def reading_page(
    frame: Frame,
    on: date,
    known: Reading,
    last: Sequence[DayRead],
    today: date,
    in_: Scale,
    typed: Mapping[str, str] | None = None,
    errors: Mapping[str, str] | None = None,
) -> pages.WeatherReading:
    """The page of one day; what was ``typed`` stands, else what is on record."""
    typed, errors = typed or {}, errors or {}
    gaps = sum(one.reading == Reading() for one in last)
    return pages.WeatherReading(
        frame=frame,
        day=_named(on, today),
        days=tuple(
            Link(name, f"{HERE}?day={when}", here=when == on)
            for name, when in (("Today", today), ("Yesterday", today - timedelta(1)))
        ),
        form=_form(on, known, in_, typed, errors),
        lines=tuple(_line(one, on, today, in_) for one in last),
        other=Form(HERE, "Show", (Field("day", "Day", "date", high=today.isoformat(), required=True),), method="get"),
        gaps=f"{counted(gaps, 'day is', 'days are').capitalize()} not read." if gaps else "",
    )


def _form(on: date, known: Reading, in_: Scale, typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    fields = [
        Field(
            name, label, "number", typed.get(name, boxed(getattr(known, name), in_.unit(name))), in_.sign(name),
            error=errors.get(name, ""),
        )
        for name, label in NAMES.items()
    ]  # fmt: skip
    if "sure" in errors:
        fields.append(Field("sure", "It is right", "tick", error=errors["sure"]))
    note = "Emptied boxes take the day off the record." if known != Reading() else "What was not read is left empty."
    hidden = (Pair("day", on.isoformat()),)
    return Form(HERE, "Keep", tuple(fields), hidden=hidden, error=errors.get("day", ""), note=note)


def _line(one: DayRead, on: date, today: date, in_: Scale) -> pages.DayLine:
    when = date.fromordinal(one.day)
    reads = told(one.reading, in_)
    away = (today - when).days
    name = {0: "Today", 1: "Yesterday"}.get(away, f"{weekday(when, today)[:3]} {short(when, today)}")
    return pages.DayLine(name, f"{HERE}?day={when}", reads, here=when == on)


def _named(on: date, today: date) -> str:
    away = (today - on).days
    lead = {0: "Today", 1: "Yesterday"}.get(away)
    return f"{lead}, {day(on, today)}" if lead else weekday(on, today)


def kept(on: date, now: Reading, before: Reading, today: date, in_: Scale) -> Status:
    """What has just been kept, and the way to take it back."""
    name = _named(on, today)
    if now == Reading():
        words = f"{name}: taken off the record."
    else:
        instead = f" in place of {told(before, in_)}" if before not in (Reading(), now) else ""
        words = f"{name}: {told(now, in_)}{instead}. Every date that hangs on warmth follows."
    undo = Form(f"{HERE}/undo", "Take back", hidden=(Pair("day", on.isoformat()), Pair("had", had(before))), quiet=True)
    return Status(words, undo)


def had(reading: Reading) -> str:
    """A reading as it goes along in an address."""
    return "_".join("" if value is None else f"{value:g}" for value in reading)


def read_had(text: str) -> Reading:
    """The reading again.

    Raises: ValueError when it is none.
    """
    parts = text.split("_")
    if len(parts) != 3:
        raise ValueError(text)
    return Reading(*(float(part) if part else None for part in parts))
