"""Kit in use over time: what an entry claims, whom that meets, and from which day it is free."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, TypeVar

from sqlalchemy.orm import Session

from app.records import store
from app.records.coming import best_days
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Bar, Clash, Laid
from app.services.book import Book
from app.services.larder.larder import KG_A_LITRE
from app.services.preserving.glut_kitchen import free_litres

REACH_DAYS = 120
NEAR_DAYS = 14
KINDS = {"bottling pan": "pan", "big pan": "pan"}
"""What sheets call a thing, and the kind of kit that it is."""
Quarrel = TypeVar("Quarrel", Clash, store.ClashRow)


class KitClash(NamedTuple):
    """A thing that is wanted while another entry has it: from ``first`` to ``last``.

    ``begin`` is the first day on which the entry could begin so that it is free, None within four months.
    """

    kit: str
    first: Day
    last: Day
    other: str
    begin: Day | None


class FreezerShort(NamedTuple):
    """Kilos for a freezer without room for them, the litres they want, and those that are free."""

    kg: float
    wanted_l: float
    free_l: float


class Span(NamedTuple):
    """Days on which an entry has a thing."""

    first: Day
    last: Day
    name: str


def kit_clashes(
    book: Book,
    session: Session,
    laid: Laid,
    today: Day,
    chosen: Sequence[Laid] = (),
    pieces: Mapping[str, int] | None = None,
) -> tuple[KitClash, ...]:
    """Where an entry, laid or only looked at, wants kit that others have, and the way out.

    ``chosen`` are others only looked at, put down with it. Two dryers serve two at once: only where there are more
    claims than things is it a clash. ``pieces`` are asked of the records unless they are given.
    """
    mine = claims_of(laid)
    pieces = pieces_of(session, today) if pieces is None else pieces
    found = []
    live = book.live(session, today) if mine else None
    for kit, span in mine:
        others = [
            Span(bar.first, bar.last if bar.last is not None else bar.first, one.entry.name)
            for one in [*(live.laid.values() if live is not None else ()), *chosen]
            if one.bars and one.entry.id != laid.entry.id and not one.entry.struck
            for bar in one.bars
            if _is_claim(bar) and bar.subject == kit and (bar.last or bar.first) >= today
        ]
        found += _met(laid, kit, span, others, pieces)
    held = {kit for kit, _ in mine}
    for kit, span in _days_of(book, laid, today):
        if kit not in held:
            held.add(kit)
            found += _met(laid, kit, span, _others_on(book, session, laid, kit, span, chosen), pieces)
    return tuple(found)


def _met(laid: Laid, kit: str, span: Span, others: Sequence[Span], pieces: Mapping[str, int]) -> list[KitClash]:
    """The clash, when more want a thing at once than there are of it."""
    there = _of(pieces, kit)
    met = _too_many(span, others, there)
    if met is None:
        return []
    begin = _free_from(span, others, there)
    date = laid.entry.facts.get("date")
    day = date + begin - span.first if isinstance(date, int) and begin is not None else begin
    return [KitClash(kit, met.first, met.last, met.name, day)]


def _too_many(span: Span, others: Sequence[Span], there: int) -> Span | None:
    """When, within a span, so many others as there are of a thing have it at once, and whose is free first."""
    meets = [one for one in others if one.first <= span.last and one.last >= span.first]
    for first in sorted({max(span.first, one.first) for one in meets}) if len(meets) >= there else ():
        those = sorted((one for one in meets if one.first <= first <= one.last), key=lambda one: one.last)
        if len(those) >= there:
            free = those[len(those) - there]
            return Span(first, min(span.last, free.last), free.name)
    return None


def of_kit(book: Book, session: Session, found: Iterable[Quarrel], today: Day) -> list[Quarrel]:
    """Clashes of two claims, those of kit only where, meanwhile, more claim a thing than there are of it."""
    found, pieces = list(found), pieces_of(session, today)
    several = {kit for kit in {_kit(one) for one in found} if kit and _of(pieces, kit) > 1}
    if not several:
        return found
    every: dict[str, list[tuple[str, Span]]] = {kit: [] for kit in several}
    for laid in list(book.live(session, today).laid.values()):
        for kit, span in claims_of(laid) if laid.bars and not laid.entry.struck else ():
            if kit in several:
                every[kit].append((laid.entry.id, span))
    return [one for one in found if _kit(one) not in several or _crowded(one, every[_kit(one)], _of(pieces, _kit(one)))]


def _crowded(one: Quarrel, every: Sequence[tuple[str, Span]], there: int) -> bool:
    both = Span(one.first, one.last, "")
    others = [span for name, span in every if name not in (one.one, one.other)]
    return there < 2 or _too_many(both, others, there - 1) is not None


def _kit(one: Quarrel) -> str:
    return one.subject if (one.on if isinstance(one, Clash) else one.on_what) == "kit" else ""


def _of(pieces: Mapping[str, int], kit: str) -> int:
    return max(1, pieces.get(KINDS.get(kit, kit), 1))


def _days_of(book: Book, laid: Laid, today: Day) -> list[tuple[str, Span]]:
    """The days on which an entry's open jobs want a thing that no bar of its sheet holds, such as a pan."""
    found = []
    for task in laid.tasks:
        step = book.steps.get((laid.entry.sheet, task.step))
        if step is not None and step.needs.kit and task.done is None and task.best is not None and task.best >= today:
            found.append((step.needs.kit, Span(task.best, task.best, laid.entry.name)))
    return found


def _others_on(book: Book, session: Session, laid: Laid, kit: str, span: Span, chosen: Sequence[Laid]) -> list[Span]:
    """The days near by on which others want it, from their jobs on record and from what is put down with it."""
    found = [each for other in chosen for name, each in _days_of(book, other, span.first) if name == kit]
    steps = {name for name, step in book.steps.items() if step.needs.kit == kit}
    for entry, name, day in best_days(session, steps, span.first, span.first + NEAR_DAYS):
        if entry != laid.entry.id:
            found.append(Span(day, day, name))
    return found


def claims_of(laid: Laid) -> list[tuple[str, Span]]:
    """What an entry has in use, and when."""
    return [
        (bar.subject, Span(bar.first, bar.last if bar.last is not None else bar.first, laid.entry.name))
        for bar in laid.bars
        if _is_claim(bar)
    ]


def freezer_short(book: Book, session: Session, laid: Laid, sheet: Sheet) -> FreezerShort | None:
    """What an entry wants of a freezer that has no room for it; else None.

    Source: 0.56 kg a litre, common practice.
    """
    kg = laid.entry.facts.get("kg")
    makes = [make for step in sheet.steps for make in step.makes if make.kind == "lot"]
    if not isinstance(kg, int | float) or not makes or any(make.where != "freezer" for make in makes):
        return None
    free = free_litres(session, store.kit(session))
    wanted = kg / KG_A_LITRE
    return FreezerShort(float(kg), wanted, free) if free is not None and wanted > free else None


def _is_claim(bar: Bar) -> bool:
    return bar.kind == "clash" and bar.on == "kit"


def _free_from(span: Span, others: Sequence[Span], pieces: int) -> Day | None:
    length = span.last - span.first
    days = range(span.first, span.first + REACH_DAYS)
    return next((day for day in days if _too_many(Span(day, day + length, ""), others, pieces) is None), None)


def pieces_of(session: Session, today: Day) -> dict[str, int]:
    """How many of each kind of kit there are."""
    found: dict[str, int] = {}
    for row in store.kit(session):
        if row.ends is None or row.ends.toordinal() >= today:
            found[row.kind] = found.get(row.kind, 0) + 1
    return found
