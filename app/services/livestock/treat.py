"""A group or some animals of it treated: an entry of the medicine sheet, whose bar of law holds until it is clear."""

from collections.abc import Mapping, Sequence
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
from app.rules.spans import Day
from app.rules.terms import Value
from app.rules.why import said
from app.services.book import Book
from app.services.entries import add
from app.services.livestock.groups import LAYERS, Group, date_of, find_group
from app.services.livestock.held import Held, until_of
from app.services.livestock.medicine import (
    COMMODITIES,
    Commodity,
    below_floor,
    bottle,
    figure,
    in_days,
    nation_of,
)
from app.services.preview import Draft
from app.services.put_once import once_id
from app.services.ticking import NO_WORDS, say
from app.trade.livestock.withdrawal import first_ok

SHEET = "medicine"
MOST_DOSES = 11
"""A first dose and the ten that may follow on the sheet."""
LONGEST_DAYS = 730


class Treatment(NamedTuple):
    """A treatment as it was typed. ``figures`` are in days, milk in hours; what is missing never clears.

    ``eaten`` is what of theirs is eaten or sold; ``animals`` is "" for the whole group; ``used`` in the medicine's
    own unit.
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
    animals: str = ""
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
        name = f"{one.product}: {one.animals or group.entry.name}"[:80]
        facts: dict[str, Value] = {"date": one.first, "for": one.entry, "product": _product(one)}
        add(book, session, Draft(SHEET, name, group.entry.place, facts, one.note), today, ident)
        for tick, words in _ticks(book, one, ident, days, today):
            say(book, session, tick, today, NO_WORDS._replace(measures=tick.measures, remark=words))
        _use(book, session, one, today)
    return Put(ident, days, clear)


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


def _ticks(book: Book, one: Treatment, ident: str, days: int | None, today: Day) -> list[tuple[Tick, str]]:
    """A tick for each dose until today, the first with all that the book wants to know."""
    said_all: dict[str, Value] = {"product": _product(one), "off_label": one.vet, "eaten": ", ".join(one.eaten)}
    said_all |= {f"{of}_{'hours' if of == 'milk' else 'days'}": value for of, value in one.figures.items()}
    texts = {"given": one.dose, "by": one.by, "animals": one.animals}
    said_all |= {name: text for name, text in texts.items() if text}
    if one.medicine is not None:
        said_all["medicine"] = one.medicine.id
        labels = [in_days(of, value) for of in COMMODITIES
                  if (value := figure(one.medicine, of, vet=False)) is not None]  # fmt: skip
        said_all |= {"label_days": max(labels)} if one.vet and labels else {}
    figures: dict[str, Value] = {"withdrawal_days": days} if days is not None else {}
    more = one.course or one.last > one.first
    first = Tick(f"{ident}-0", key(ident, "dose"), "done", one.first, "", {**said_all, **figures, "course": more})
    found = [(first, one.note)]
    for number, on in enumerate(range(one.first + 1, min(one.last, today) + 1), 1):
        over = on == one.last and not one.course
        tick = Tick(f"{ident}-{number}", key(ident, "more", (number,)), "done", on, "", {**figures, "last": over})
        found.append((tick, ""))
    return [(tick._replace(at=moment_text(book.now())), words) for tick, words in found]


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


def carry(book: Book, session: Session, rows: Sequence[Held], target: Group, on: Day, token: str, today: Day) -> None:
    """Some that are inside a withdrawal period join another group: that one is held as long, since they can't be told
    apart there. What has no end yet has none there either."""
    running = [one for one in rows if one.last is None or one.last >= on]
    if not running:
        return
    last = until_of(running)
    ident = once_id(SHEET, token)
    names = ", ".join(dict.fromkeys(one.by.name for one in running if one.by is not None))
    product = f"moved in inside a withdrawal period ({names})"[:120]
    facts: dict[str, Value] = {"date": on, "for": target.entry.id, "product": product}
    add(book, session, Draft(SHEET, f"Moved into {target.entry.name}"[:80], target.entry.place, facts), today, ident)
    figures: dict[str, Value] = {} if last is None else {"withdrawal_days": last - on}
    measures: dict[str, Value] = {"product": product, "course": False, **figures}
    tick = Tick(f"{ident}-0", key(ident, "dose"), "done", on, moment_text(book.now()), measures)
    say(book, session, tick, today, NO_WORDS._replace(measures=measures))


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
