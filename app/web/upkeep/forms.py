"""What is asked about an element in one line, and read back."""

import re
from datetime import date

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.services.upkeep.put import TO_COME, NewElement, is_to_come, surfaces
from app.web.forms import Wrong, field, fresh
from app.web.parts import Choice, Form
from app.web.typed import FIRST_YEAR, Typed, read_day

EXPOSURES = ("sheltered", "moderate", "severe", "very severe")
MOST = 100_000
_YEAR = re.compile(r"(?:about|around|c\.?|ca\.?)?\s*(\d{4})", re.IGNORECASE)
_NOTHING = re.compile(r"[-−]\s*[\d.,]+|[+0.,]*0[0.,]*")
_UNKNOWN = ("", "?", "not known", "unknown", "no idea", "never")


def element_form(
    sheets: tuple[Sheet, ...], places: tuple[str, ...], imperial: bool, wrong: Wrong, chosen: str = ""
) -> Form:
    """An element in one line: what, where, when last done; how large, on what and how exposed where that is wanted."""
    typed, errors = wrong.of("add")
    where = f"Buildings so far: {', '.join(places)}." if places else "The house, the byre, the yard: in your own words."
    fields = (
        field("sheet", "What it is", typed, errors, chosen, kind="list", required=True,
              choices=tuple(Choice(one.id, one.title) for one in sheets)),
        field("place", "Building", typed, errors, help=f"{where} Left empty, it stands about the place."),
        field("done", "Last done", typed, errors,
              help="A day (12/3/2024), or about a year (2021). Left empty, nobody knows."),
        field("size", "Area or length", typed, errors, kind="number", unit="m² or ft" if imperial else "m² or m"),
        field("name", "What you call it", typed, errors),
        field("surface", "It goes on", typed, errors, kind="list", help="Of what is painted, tarred or limewashed.",
              choices=tuple(Choice(one, one.capitalize()) for one in surfaces())),
        field("exposure", "Driving rain, or near the sea", typed, errors, kind="list", help="Of the same.",
              choices=tuple(Choice(one, one.capitalize()) for one in EXPOSURES)),
    )  # fmt: skip
    return Form("/upkeep", "Put it down", fields, fresh())


def read_element(form: Typed, sheets: tuple[Sheet, ...], imperial: bool, today: date) -> NewElement:
    """An element as it was typed.

    Raises: BadInput with a sentence per field.
    """
    sheet = form.choice("sheet", tuple(one.id for one in sheets), "Choose what it is.")
    place, name = form.text("place", longest=80), form.text("name", longest=80)
    done, known = _done(form, today)
    chosen = next((one for one in sheets if one.id == sheet), None)
    if chosen is not None and is_to_come(done, chosen, today.toordinal()):
        form.fault("done", TO_COME)
    size = _size(form, chosen, imperial)
    surface = form.choice("surface", surfaces())
    exposure = form.choice("exposure", EXPOSURES)
    form.check()
    return NewElement(sheet, name, " ".join(place.split()), done, known, size, surface, exposure)


def _done(form: Typed, today: date) -> tuple[Day | None, str]:
    """When it was last done: a day, about a year, or not known."""
    text = form.raw("done")
    if text.casefold() in _UNKNOWN:
        return None, "not known"
    if found := _YEAR.fullmatch(text):
        year = int(found[1])
        if not year >= FIRST_YEAR:
            form.fault("done", f"A year from {FIRST_YEAR} on is wanted, or a day such as 12/3/2024.")
            return None, "not known"
        if year > today.year:
            form.fault("done", f"{year} has not come yet; when was it last done?")
            return None, "not known"
        middle = date(year, 7, 1)
        return (min(middle, today) if year == today.year else middle).toordinal(), "about"
    try:
        return read_day(text), "to the day"
    except ValueError:
        form.fault("done", f"{text[:40]!r} is neither a day nor a year; 12/3/2024, or 2021, or nothing.")
        return None, "not known"


def _size(form: Typed, sheet: Sheet | None, imperial: bool) -> float | None:
    """Square metres, or metres; feet where a length is asked of a household that measures in feet."""
    if _NOTHING.fullmatch(form.raw("size")):
        form.fault("size", "That is nothing, or less than nothing; leave it empty where you do not know.")
        return None
    value = form.number("size", 0, MOST)
    if value is not None and imperial and sheet is not None and "area_m2" not in sheet.facts:
        return value * 0.3048
    return value
