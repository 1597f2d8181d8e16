"""Counting a shelf as a page: a box for every batch of a place, saved at once."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from urllib.parse import quote

from app.rules.spans import Day
from app.services.larder.larder import BatchRow
from app.web import pages
from app.web.forms import Wrong, fresh
from app.web.larder.page import PLACES, left_of, name_of
from app.web.larder.units import read_amount, unit_of
from app.web.parts import Field, Form, Frame, Link, Pair
from app.web.typed import Typed
from app.web.words import counted, short

MOST_BOXES = 400
PREFIX = "n-"


def count_page(
    frame: Frame,
    places: Iterable[tuple[str, str, int]],
    rows: Sequence[BatchRow],
    store: str,
    place: str | None,
    wrong: Wrong,
    today: date,
    imperial: bool = False,
) -> pages.LarderCount:
    """Every batch of a kind of place, or of one place there, with a box for what was found."""
    typed, errors = wrong.of("count")
    order = sorted(rows, key=lambda one: (one.place, one.what, one.number))
    boxes = tuple(_box(row, number, typed, errors, today, imperial) for number, row in enumerate(order))
    on = Field("on", "Counted on", "date", typed.get("on", today.isoformat()), error=errors.get("on", ""),
               high=today.isoformat())  # fmt: skip
    hidden = (*fresh(), Pair("store", store), *((Pair("place", place),) if place is not None else ()))
    note = "A box left empty leaves that batch as the book has it; nought says that there is none left."
    where = place or PLACES.get(store, "").lower()
    return pages.LarderCount(
        frame=frame,
        sub=f"{counted(len(rows), 'batch', 'batches').capitalize()}: {where}" if where else "Choose where you stand.",
        places=tuple(_ways(places, store, place)),
        form=Form("/larder/count", "Put the counts down", (on, *boxes) if boxes else (), hidden, note=note,
                  error=errors.get("", "")),
        empty="Nothing lies there by the book." if store and not boxes else "",
    )  # fmt: skip


def _box(
    row: BatchRow, number: int, typed: Mapping[str, str], errors: Mapping[str, str], today: date, imperial: bool
) -> Field:
    name = f"{PREFIX}{row.id}"
    book = f"the book has {left_of(row, imperial)}, made {short(date.fromordinal(row.made_on), today)}"
    return Field(
        name, f"{name_of(row)} {row.number}", "number", typed.get(name, ""), unit_of(row.unit, imperial), book,
        errors.get(name, ""), id=f"c{number}",
    )  # fmt: skip


def boxes_of(form: Typed) -> tuple[str, ...]:
    """The ids of the batches that were sent a box for."""
    return tuple(name.removeprefix(PREFIX) for name in form.values if name.startswith(PREFIX))


def read_count(form: Typed, units: Mapping[str, str], imperial: bool) -> tuple[dict[str, float], Day | None]:
    """What was found, by the batches' ids, and on which day; ``units`` are those in which the batches are counted.

    Raises: BadInput with a sentence per box.
    """
    found = {}
    for ident in boxes_of(form):
        value = read_amount(form, f"{PREFIX}{ident}", units.get(ident, ""), imperial)
        if value is not None:
            found[ident] = value
    on = form.day("on")
    form.check()
    return found, on


def _ways(places: Iterable[tuple[str, str, int]], store: str, place: str | None) -> Iterable[Link]:
    """The kinds of place, and within the one shown its places."""
    every = list(places)
    for name, text in PLACES.items():
        count = sum(number for where, _, number in every if where == name)
        if count:
            yield Link(text, f"/larder/count?store={name}", name == store and place is None, str(count))
    inside = [(where, text, number) for where, text, number in every if where == store and text]
    if len(inside) > 1:
        for where, text, number in inside:
            yield Link(text, f"/larder/count?store={where}&place={quote(text, safe='')}", text == place, str(number))
