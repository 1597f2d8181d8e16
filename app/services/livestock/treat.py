"""A group or some animals of it treated: an entry of the medicine sheet, whose bar of law holds until it is clear."""

from collections.abc import Mapping
from datetime import date
from math import ceil
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.records.store import MedicineRow
from app.records.values import moment_text
from app.rules.facts import Tick
from app.rules.keys import key
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.terms import Value
from app.rules.why import said
from app.services.book import Book
from app.services.entries import add
from app.services.livestock.groups import LAYERS, Group, date_of, find_group
from app.services.livestock.held_ones import BETWEEN, MIXED, SOME, held_ones, names_held
from app.services.livestock.medicine import (
    COMMODITIES,
    Commodity,
    below_floor,
    bottle,
    figure,
    in_days,
    nation_of,
)
from app.services.livestock.singles import animals_of, called, pick
from app.services.preview import Draft
from app.services.put_once import once_id
from app.services.ticking import NO_WORDS, say
from app.trade.livestock.withdrawal import first_ok

SHEET = "medicine-given"
"""The sheet of a whole group's treatment; those of some of it, told by tag or name, stand in `held_ones`."""
PRODUCE: tuple[Commodity, ...] = ("milk", "eggs")
MOST_DOSES = 11
"""A first dose and the ten that may follow on the sheet."""
LONGEST_DAYS = 730


class Treatment(NamedTuple):
    """A treatment as it was typed. ``figures`` are in days, milk in hours; what is missing never clears.

    ``eaten`` is what of theirs is eaten or sold; ``animals`` is empty for the whole group; ``apart`` says that the
    eggs or milk of those are kept from the others'; ``used`` in the medicine's own unit.
    """

    entry: str
    medicine: MedicineRow | None
    product: str
    first: Day
    last: Day
    course: bool
    vet: bool
    figures: Mapping[Commodity, float]
    eaten: tuple[Commodity, ...]
    dose: str = ""
    by: str = ""
    animals: tuple[str, ...] = ()
    apart: bool = False
    used: float | None = None
    note: str = ""


class Put(NamedTuple):
    """What came of it: the entry, the longest figure in days (None: one is missing), and from when it is clear."""

    entry: str
    days: int | None
    clear: Day | None
    fresh: bool = True


def eaten_of(group: Group) -> tuple[Commodity, ...]:
    """What of a group's is eaten, where nothing else is said.

    Source: common practice; cattle and goats are taken as milked, sheep are not.
    """
    if group.species in LAYERS:
        return ("meat", "eggs")
    return ("meat", "milk") if group.species in ("cattle", "goat") else ("meat",)


def must_of(group: Group) -> tuple[Commodity, ...]:
    """What can't be left out, since jobs of the sheet are to eat it."""
    if not any(step.act == "eat" for step in group.sheet.steps):
        return ()
    return ("eggs",) if group.species in LAYERS else ("milk",) if group.species in ("cattle", "goat") else ()


def longest(figures: Mapping[Commodity, float], eaten: tuple[Commodity, ...]) -> int | None:
    """The longest figure of all that is eaten, in whole days; None where one of them is missing: it never clears.

    Source: a part of a day counts as one (common practice, the safe way).
    """
    days = [in_days(of, figures[of]) for of in eaten if of in figures]
    if len(days) < len(eaten) or not days:
        return None
    return max(ceil(round(one, 6)) for one in days)


def figures_of(one: Treatment) -> tuple[int | None, int | None]:
    """Whole days for which meat, and eggs or milk, are barred; of what is not eaten, as long as of what is.

    Source: withdrawal belongs to each commodity; `longest`.
    """
    produce = tuple(of for of in one.eaten if of in PRODUCE)
    in_all = longest(one.figures, one.eaten)
    meat = longest(one.figures, ("meat",)) if "meat" in one.eaten else in_all
    return meat, longest(one.figures, produce) if produce else in_all


def treat(book: Book, one: Treatment, today: Day, token: str) -> Put:
    """Take a treatment down. Given more than once, its withdrawal counts from the last dose so far.

    Raises: NotFound; BadInput for days that can't be, and figures that the law does not let stand.
    """
    ident = once_id(SHEET, token)
    days = longest(one.figures, one.eaten)
    with book.writing() as session:
        group = find_group(book, session, one.entry, today)
        clear = first_ok(min(one.last, today), days)
        if store.entries(session, [ident]):
            return Put(ident, days, clear, fresh=False)
        _check(book, session, group, one, today)
        sheet, names = _whom(session, book.live(session, today), group, one)
        whom = BETWEEN.join(names) or ", ".join(one.animals)
        facts: dict[str, Value] = {"date": one.first, "for": one.entry, "product": _product(one)}
        facts |= {"animals": whom} if names else {}
        name = f"{one.product}: {whom or group.entry.name}"[:80]
        add(book, session, Draft(sheet, name, group.entry.place, facts, one.note), today, ident)
        for tick, words in _ticks(book, one, ident, whom, today):
            say(book, session, tick, today, NO_WORDS._replace(measures=tick.measures, remark=words))
        _use(book, session, one, today)
    return Put(ident, days, clear)


def _whom(session: Session, live: Live, group: Group, one: Treatment) -> tuple[str, list[str]]:
    """The sheet that a treatment follows, and who were treated where each can be told: else, and where none is left
    but those and some that are held already, the whole group is held."""
    rows = [
        row for row in animals_of(session, group.entry.id)
        if row.gone_on is None or row.gone_on.toordinal() >= one.first
    ]  # fmt: skip
    known = pick(rows, one.animals)
    if not known:
        return SHEET, []
    held = [each for each in held_ones(session, live, [group], one.first) if each.meat]
    names = {called(row).casefold() for row in known} | names_held(held)
    if len(names) >= group.alive:
        return SHEET, []
    mixed = not one.apart and any(of in PRODUCE for of in one.eaten)
    return (MIXED if mixed else SOME), [called(row).replace(";", ",") for row in known]


def _check(book: Book, session: Session, group: Group, one: Treatment, today: Day) -> None:
    faults: dict[str, str] = {}
    if one.first > today:
        faults["first"] = "That day has not come yet. Put it down on the day it is given."
    elif one.first < date_of(group.entry):
        faults["first"] = f"That is before they were here: they began on {said(date_of(group.entry))}."
    if one.last < one.first:
        faults["last"] = "The last dose can’t be before the first."
    elif one.last - one.first >= MOST_DOSES:
        faults["last"] = f"Up to {MOST_DOSES} days of doses are put down at once; put the rest down anew."
    for of in must_of(group):
        if of not in one.eaten:
            faults["eaten"] = f"Their {of} are eaten here." if of == "eggs" else "Their milk is drunk here."
    if not one.eaten:
        faults["eaten"] = "What of theirs is eaten? Meat at least, unless they are never killed for food."
    faults |= _figures(book, session, one)
    if faults:
        raise BadInput(faults)


def _figures(book: Book, session: Session, one: Treatment) -> dict[str, str]:
    """What is wrong with the figures: below the label's, or below the law's least off the label."""
    nation, faults = nation_of(book, session), {}
    for of, value in one.figures.items():
        label = figure(one.medicine, of, vet=False)
        name = f"{of}_{'hours' if of == 'milk' else 'days'}"
        unit = "hours" if of == "milk" else "days"
        if in_days(of, value) > LONGEST_DAYS:
            faults[name] = "That is longer than two years."
        elif one.vet:
            wrong = below_floor(nation, of, value, label, one.first)
            if wrong:
                faults[name] = wrong
        elif label is not None and value < label:
            faults[name] = f"The label says {label:g} {unit}. A shorter one is only ever the vet’s, and off the label."
    return faults


def _ticks(book: Book, one: Treatment, ident: str, whom: str, today: Day) -> list[tuple[Tick, str]]:
    """A tick for each dose until today, the first with all that the book wants to know."""
    said_all: dict[str, Value] = {"product": _product(one), "off_label": one.vet, "eaten": ", ".join(one.eaten)}
    said_all |= {f"{of}_{'hours' if of == 'milk' else 'days'}": value for of, value in one.figures.items()}
    texts = {"given": one.dose, "by": one.by, "animals": whom}
    said_all |= {name: text for name, text in texts.items() if text}
    if one.medicine is not None:
        said_all["medicine"] = one.medicine.id
        labels = [in_days(of, value) for of in COMMODITIES
                  if (value := figure(one.medicine, of, vet=False)) is not None]  # fmt: skip
        said_all |= {"label_days": max(labels)} if one.vet and labels else {}
    figures = measures(*figures_of(one))
    more = one.course or one.last > one.first
    first = Tick(f"{ident}-0", key(ident, "dose"), "done", one.first, "", {**said_all, **figures, "course": more})
    found = [(first, one.note)]
    for number, on in enumerate(range(one.first + 1, min(one.last, today) + 1), 1):
        over = on == one.last and not one.course
        tick = Tick(f"{ident}-{number}", key(ident, "more", (number,)), "done", on, "", {**figures, "last": over})
        found.append((tick, ""))
    return [(tick._replace(at=moment_text(book.now())), words) for tick, words in found]


def measures(meat: int | None, produce: int | None) -> dict[str, Value]:
    """The figures as the sheet asks them; one that is missing is left out, and never clears."""
    said = {"withdrawal_days": meat, "withdrawal_produce_days": produce}
    return {name: days for name, days in said.items() if days is not None}


def _use(book: Book, session: Session, one: Treatment, today: Day) -> None:
    """What was used is taken off the bottle; one that was not opened before was opened that day."""
    if one.medicine is None:
        return
    row = store.medicine(session, one.medicine.id)
    if one.used and row.amount_left is not None:
        row.amount_left = max(0.0, row.amount_left - one.used)
    if row.opened_on is None and row.open_days is not None:
        row.opened_on = date.fromordinal(one.first)
    store.put_medicine(session, row)
    book.replan(session, (), today)


def over_by(row: MedicineRow, on: Day) -> str:
    """Why a medicine ought not be given on a day: expired, or open for too long; "" where it may."""
    found = bottle(row, on)
    if found.until is None or found.until >= on:
        return ""
    what = "It had expired" if found.why == "expires" else "It had been open for too long"
    return f"{what} on {said(found.until)}. It is taken down as given; tell the vet, and take the rest back."


def _product(one: Treatment) -> str:
    batch = one.medicine.batch if one.medicine is not None else ""
    return f"{one.product}, batch {batch}" if batch else one.product
