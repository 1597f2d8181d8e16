"""Batches in from a table: looked at first, then taken in. A row counts once, and keeps what the table says of it."""

import math
from collections.abc import Mapping
from datetime import date
from hashlib import blake2b
from typing import Any, NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.csvs import unguarded
from app.records.store import BatchRow, LotFactRow, LotRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.batches import store_of
from app.services.larder.csv import EATEN, USED_UP, day_in, lines_of, names_of
from app.sheets.larder_tables import BASES, basis_of

WANTED = ("what", "made", "left", "unit")
KILLED: Mapping[str, str] = {
    "home": "home", "at home": "home", "abattoir": "abattoir", "at an abattoir": "abattoir", "bought": "bought",
}  # fmt: skip
OTHER_NAMES = {
    "amount": "left",
    "how much": "left",
    "use by": "keeps until",
    "best before": "keeps until",
    "name": "what",
}
LONGEST = {"number": 12, "what": 80, "variety": 80, "unit": 20, "place": 80, "source": 200, "note": 2000}
MOST, MOST_PACK_KG = 1_000_000, 1000
BY_HAND = "as it was put down"
"""What the day of a batch rests on that somebody put down; a table that says so says nothing more."""


class Read(NamedTuple):
    """A row that can be taken in: the batch, how it was killed, and an id that the same row has again.

    ``amount`` is what was made, ``left`` what is left of it (None: all); ``basis`` and ``source`` are of its day.
    """

    id: str
    what: str
    made_on: Day
    keeps_until: Day | None
    amount: float
    unit: str
    place: str
    killed: str
    note: str
    number: str = ""
    variety: str = ""
    left: float | None = None
    pack_kg: float | None = None
    basis: str = ""
    source: str = ""


class Looked(NamedTuple):
    """What was understood of a table: rows to take in, lines that can't be read and why, rows that are here already."""

    rows: tuple[Read, ...]
    faults: tuple[tuple[int, str], ...]
    twice: int
    here: tuple[str, ...]


def look(session: Session, text: str, today: Day) -> Looked:
    """Read a table; nothing is changed.

    Raises: BadInput under "text" when it is no table, or its first line lacks what is wanted.
    """
    names, lines = names_of(lines_of(text), OTHER_NAMES, tuple((name,) for name in WANTED))
    known = {row.number: row for row in store.batch_rows(session)}
    ids = {row.id for row in known.values()}
    rows: dict[str, Read] = {}
    faults: list[tuple[int, str]] = []
    here: list[str] = []
    twice = 0
    for number, cells in lines:
        said = {name: unguarded(cell.strip()) for name, cell in zip(names, cells, strict=False)}
        try:
            one = _read(said, today)
        except ValueError as error:
            faults.append((number, str(error)))
            continue
        if one.id in ids or _is_it(known.get(one.number), one):
            here.append(one.number or one.what)
        elif one.id in rows:
            twice += 1
        else:
            rows[one.id] = one
    return Looked(tuple(rows.values()), tuple(faults), twice, tuple(here))


def take_in(book: Book, text: str, today: Day) -> int:
    """Take in the rows of a table that can be read; gives how many batches are new.

    A number that no batch here has is kept, so that labels on jars stay true. Raises: BadInput as `look`.
    """
    with book.writing() as session:
        rows = look(session, text, today).rows
        for one in rows:
            store.add_lot(session, _lot(one, today))
            for row in _facts(book, one, today):
                store.add_lot_fact(session, row)
        store.number_as_said(session, [(one.id, date.fromordinal(one.made_on).year, one.number) for one in rows])
        book.replan_lots(session, [one.id for one in rows], today)
        killed = [one for one in rows if one.killed]
        for one in killed:
            store.mark_batch(session, one.id, {"killed": one.killed})
        if killed:
            book.replan_lots(session, [one.id for one in killed], today)
    return len(rows)


def _is_it(known: BatchRow | None, one: Read) -> bool:
    """Whether the batch of a row's number is that of the row, and not one of another larder with the same number."""
    return known is not None and (known.made_on == one.made_on or known.what.casefold() == one.what.casefold())


def _lot(one: Read, today: Day) -> LotRow:
    until = None if one.keeps_until is None else date.fromordinal(one.keeps_until)
    return LotRow(
        id=one.id, what=one.what, variety=one.variety, made_on=date.fromordinal(one.made_on), amount=one.amount,
        unit=one.unit, keeps_until=until, place=one.place, note=one.note, told=date.fromordinal(today),
        pack_kg=one.pack_kg,
    )  # fmt: skip


def _facts(book: Book, one: Read, today: Day) -> list[LotFactRow]:
    """What a lot alone does not say: that some of it is gone, and of what its day is where its name would not tell."""
    found: list[dict[str, Any]] = []
    day = {}
    if one.basis and one.basis != basis_of(one.what, "meat" if one.killed else "", store_of(one.place)).of:
        day["basis"] = one.basis
    if one.source not in ("", BY_HAND):
        day["rests"] = one.source
    if day and one.keeps_until is not None:
        found.append({"measures": day})
    if one.left is not None and one.left != one.amount:
        found.append({"amount": one.left, "measures": {"was": one.amount}, "note": "as the table has it"})
    on = date.fromordinal(today)
    return [
        LotFactRow(id=f"{one.id}-{n}", lot=one.id, kind="counted", on_day=on, created_at=book.now(), **said)
        for n, said in enumerate(found)
    ]


# ── One row ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _read(said: Mapping[str, str], today: Day) -> Read:
    """One row.

    Raises: ValueError with a sentence.
    """
    for name, most in LONGEST.items():
        if len(said.get(name, "")) > most:
            raise ValueError(f"{name}: {most} letters fit.")
    what, unit = said.get("what", ""), said.get("unit", "")
    if not what or not unit:
        raise ValueError("It has no name." if not what else f"In what {what!r} is counted is not said.")
    made, until = day_in(said.get("made", ""), "made"), day_in(said.get("keeps until", ""), "keeps until")
    if made is None or made > today:
        raise ValueError("When it was made is not said." if made is None else "It was made on a day to come.")
    if until is not None and until < made:
        raise ValueError("It keeps until a day before it was made.")
    left, amount = _left(said), _figure(said, "there were", MOST)
    pack_kg, killed = _figure(said, "pack kg", MOST_PACK_KG), said.get("killed", "").casefold()
    if killed and killed not in KILLED:
        raise ValueError(f"killed: {killed[:40]!r} is none of home, abattoir, bought.")
    basis = said.get("basis", "").casefold()
    if basis and basis not in BASES:
        raise ValueError(f"basis: {basis[:40]!r} is neither quality nor safety.")
    made_of = left if amount is None else amount
    parts = (what, made, until, made_of, unit, said.get("place", ""), KILLED.get(killed, ""), said.get("note", ""),
             said.get("number", ""), said.get("variety", ""), left, pack_kg or None, basis)  # fmt: skip
    name = blake2b("\x1f".join(str(part).casefold() for part in parts).encode(), digest_size=15).hexdigest()
    return Read(f"in{name}", *parts, source=said.get("source", ""))


def _left(said: Mapping[str, str]) -> float:
    """What is left; nothing only of what the table says is used up, or taken as eaten."""
    if said.get("state", "").casefold() in (USED_UP, EATEN):
        return 0.0
    left = _figure(said, "left", MOST)
    if not left:
        raise ValueError("How much is left is not said." if left is None else "Nothing is left of it.")
    return left


def _figure(said: Mapping[str, str], name: str, most: float) -> float | None:
    text = said.get(name, "")
    if not text:
        return None
    try:
        value = float(text.replace(",", "."))
    except ValueError as error:
        raise ValueError(f"{name}: {text[:40]!r} is no number.") from error
    if not math.isfinite(value) or not 0 <= value <= most:
        raise ValueError(f"{name}: {text[:40]!r} can’t be; nothing to {'a million' if most == MOST else f'{most:g}'}.")
    return value
