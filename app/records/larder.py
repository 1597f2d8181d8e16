"""Batches as they are projected, their lasting numbers, and kit. The first to expire are one indexed query."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date

from sqlalchemy import case, delete, func, insert, or_, select, update
from sqlalchemy.orm import Session

from app.errors import Conflict, NotFound
from app.records.rows import BatchRow
from app.records.state import facts_changed
from app.records.tables import TABLES, BatchMarkRow, KitRow, LotFactRow, LotRow

_BATCH = TABLES["batch"]
_B = _BATCH.c
_MARK = TABLES["batch_mark"]
_M = _MARK.c
_KIT = TABLES["kit"].c
_FACT = TABLES["lot_fact"].c
_LOT = TABLES["lot"].c
_FEW = 400
_LEAST = 1e-6
SEED = "seed tin"

FIRST = select(_BATCH).where(_B.gone.is_(False), _B.keeps_until.is_not(None)).order_by(_B.keeps_until)
"""What is left, the first to expire first: read from the index on it."""
EATEN = (
    select(_BATCH)
    .where(_B.gone.is_(True), _B.store != SEED, or_(_B.left.is_(None), _B.left > _LEAST))
    .order_by(_B.keeps_until.desc())
)
"""What is told as gone though some of it is left by the book, the latest first: read from the same index."""


def first_to_expire(session: Session, limit: int, since: int = 0) -> list[BatchRow]:
    """The batches there are, by the day they keep until, from the day ``since`` on."""
    query = FIRST.where(_B.keeps_until >= since).limit(limit)
    return [BatchRow._make(row) for row in session.connection().execute(query)]


def batch_rows(session: Session, entries: Collection[str] | None = None) -> list[BatchRow]:
    """Every batch, or those of some entries."""
    if entries is None:
        return [BatchRow._make(row) for row in session.connection().execute(select(_BATCH))]
    found: list[BatchRow] = []
    for some in _portions(entries):
        query = select(_BATCH).where(_B.entry.in_(some))
        found += [BatchRow._make(row) for row in session.connection().execute(query)]
    return found


def batches_by_id(session: Session, ids: Collection[str]) -> list[BatchRow]:
    """Some batches by their ids."""
    found: list[BatchRow] = []
    for some in _portions(ids):
        found += [BatchRow._make(row) for row in session.connection().execute(select(_BATCH).where(_B.id.in_(some)))]
    return found


def batches_there(
    session: Session, limit: int, store: str = "", place: str | None = None, *, newest: bool = False
) -> list[BatchRow]:
    """What is left, of one store or one place where that is given, the first to expire first, or else the newest."""
    order = (_B.made_on.desc(), _B.number.desc()) if newest else (_B.keeps_until.nulls_last(), _B.id)
    query = select(_BATCH).where(_B.gone.is_(False)).order_by(*order)
    query = query.where(_B.store == store) if store else query.where(_B.store != SEED)
    query = query if place is None else query.where(_B.place == place)
    return [BatchRow._make(row) for row in session.connection().execute(query.limit(limit))]


def taken_as_eaten(session: Session, since: int, limit: int) -> list[BatchRow]:
    """What is told as gone though nobody said so, of days from ``since`` on, the latest first: read from the index."""
    query = EATEN.where(_B.keeps_until >= since).limit(limit)
    return [BatchRow._make(row) for row in session.connection().execute(query)]


def batch_places(session: Session) -> list[tuple[str, str, int]]:
    """The places in which something lies: kind of place, the place in the household's words, how many batches."""
    query = select(_B.store, _B.place, func.count()).where(_B.gone.is_(False), _B.store != SEED)
    query = query.group_by(_B.store, _B.place).order_by(_B.store, _B.place)
    return [(row[0], row[1], row[2]) for row in session.connection().execute(query)]


def batch_sums(session: Session) -> list[tuple[str, str, str, int, float]]:
    """What is left by store, kind of thing and unit: how many batches, and how much."""
    query = (
        select(_B.store, _B.what, _B.unit, func.count(), func.coalesce(func.sum(_B.left), 0.0))
        .where(_B.gone.is_(False))
        .group_by(_B.store, _B.what, _B.unit)
    )
    return [(row[0], row[1], row[2], row[3], float(row[4])) for row in session.connection().execute(query)]


def used_since(session: Session, first: int) -> list[tuple[str, str, float, int, int]]:
    """What was used up since a day, less what went back, by kind of thing and unit: how much, first and last when."""
    back = func.coalesce(func.json_extract(_FACT.measures, "$.back"), 0.0)
    used = _FACT.kind == "used"
    on_day = case((used, _FACT.on_day))
    query = (
        select(_B.what, _B.unit, func.sum(case((used, _FACT.amount), else_=-back)), func.min(on_day), func.max(on_day))
        .join(_BATCH, _B.id == _FACT.lot)
        .where(_FACT.kind.in_(("used", "counted")), _FACT.struck.is_(False), _FACT.on_day >= date.fromordinal(first))
        .group_by(_B.what, _B.unit)
    )
    rows = session.connection().execute(query)
    return [
        (row[0], row[1], float(row[2] or 0), row[3].toordinal(), row[4].toordinal())
        for row in rows
        if row[3] is not None
    ]


def left_by_day(session: Session, things: Collection[str]) -> list[tuple[str, str, int, float]]:
    """What is left of some kinds of thing, by unit and the day it keeps until: the first to expire first."""
    found: list[tuple[str, str, int, float]] = []
    for some in _portions(things):
        query = (
            select(_B.what, _B.unit, _B.keeps_until, func.sum(_B.left))
            .where(_B.gone.is_(False), _B.keeps_until.is_not(None), _B.left > 0, _B.store != SEED, _B.what.in_(some))
            .group_by(_B.what, _B.unit, _B.keeps_until)
            .order_by(_B.keeps_until)
        )
        found += [(row[0], row[1], row[2], float(row[3])) for row in session.connection().execute(query)]
    return found


def replace_batches(session: Session, old: Iterable[BatchRow], new: Iterable[BatchRow]) -> int:
    """Put some batches in place of others; those that are the same are left alone. Gives how many were written."""
    before = {row.id: row for row in old}
    after = {row.id: row for row in new}
    changed = [row for ident, row in after.items() if before.get(ident) != row]
    drop = [*(before.keys() - after.keys()), *(row.id for row in changed if row.id in before)]
    for some in _portions(drop):
        session.connection().execute(delete(_BATCH).where(_B.id.in_(some)))
    if changed:
        session.connection().execute(insert(_BATCH), [row._asdict() for row in changed])
    return len(changed)


# ── Facts of some lots ────────────────────────────────────────────────────────────────────────────────────────────


def lot_facts_of(session: Session, lots: Collection[str]) -> list[LotFactRow]:
    """What became of some lots, in order of days, without what was struck out."""
    found: list[LotFactRow] = []
    for some in _portions(lots):
        query = select(LotFactRow).where(_FACT.struck.is_(False), _FACT.lot.in_(some))
        found += session.scalars(query.order_by(_FACT.on_day, _FACT.created_at, _FACT.id))
    return found


def given_lots_of(session: Session, lots: Collection[str]) -> list[LotRow]:
    """Some of the lots put down by hand, without what was struck out."""
    found: list[LotRow] = []
    for some in _portions(lots):
        found += session.scalars(select(LotRow).where(_LOT.struck.is_(False), _LOT.id.in_(some)))
    return found


# ── Numbers ───────────────────────────────────────────────────────────────────────────────────────────────────────


def batch_marks(session: Session, lots: Collection[str] | None = None) -> dict[str, BatchMarkRow]:
    """What is known of batches, by lot."""
    if lots is None:
        return {row.lot: row for row in session.scalars(select(BatchMarkRow))}
    found: dict[str, BatchMarkRow] = {}
    for some in _portions(lots):
        found |= {row.lot: row for row in session.scalars(select(BatchMarkRow).where(_M.lot.in_(some)))}
    return found


def number_batches(session: Session, wanted: Iterable[tuple[str, int]]) -> None:
    """Give lots the next number of their year, in this order; it is theirs for good, whatever becomes of them."""
    new = list(wanted)
    if not new:
        return
    query = select(_M.year, func.max(_M.number)).where(_M.year.in_({year for _, year in new})).group_by(_M.year)
    last = {row[0]: int(row[1]) for row in session.connection().execute(query)}
    rows = []
    for lot, year in new:
        last[year] = last.get(year, 0) + 1
        rows.append({"lot": lot, "year": year, "number": last[year], "killed": None, "place": None})
    session.connection().execute(insert(_MARK), rows)


def number_as_said(session: Session, said: Iterable[tuple[str, int, str]]) -> None:
    """Give lots the number that stands on their jars ("27-001"), where no other has it: lot, year, number."""
    wanted: dict[tuple[int, int], str] = {}
    for lot, year, text in said:
        first, _, last = text.partition("-")
        if first == f"{year % 100:02}" and last.isdecimal() and 0 < int(last) < 100_000:
            wanted.setdefault((year, int(last)), lot)
    if not wanted:
        return
    query = select(_M.year, _M.number).where(_M.year.in_({year for year, _ in wanted}))
    taken = {(row[0], row[1]) for row in session.connection().execute(query)}
    free = [{"lot": lot, "year": year, "number": number, "killed": None, "place": None}
            for (year, number), lot in wanted.items() if (year, number) not in taken]  # fmt: skip
    if free:
        session.connection().execute(insert(_MARK), free)


def mark_batch(session: Session, lot: str, changes: Mapping[str, str | None]) -> None:
    """Put down how a batch was killed (``killed``) or where it lies now (``place``).

    Raises: NotFound when there is no such batch.
    """
    if not changes:
        return
    if not session.connection().execute(update(_MARK).where(_M.lot == lot).values(**changes)).rowcount:
        raise NotFound("There is no such batch.")
    facts_changed(session)


# ── Kit ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def kit(session: Session) -> list[KitRow]:
    """Everything that was put down as kit, by kind and name, what is there no more too (it has an end)."""
    return list(session.scalars(select(KitRow).order_by(_KIT.kind, _KIT.name, _KIT.id)))


def put_kit(session: Session, row: KitRow) -> KitRow:
    """Write a piece of kit; a new one gets an id.

    Raises: Conflict when another has that name; NotFound when it is to be changed and is not there.
    """
    if session.scalars(select(_KIT.id).where(_KIT.name == row.name, _KIT.id != (row.id or 0))).first() is not None:
        raise Conflict(f"There is already something called {row.name}.")
    if row.id is not None and session.get(KitRow, row.id) is None:
        raise NotFound("There is no such piece of kit.")
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def _portions(ids: Collection[str]) -> list[list[str]]:
    every = sorted(ids)
    return [every[at : at + _FEW] for at in range(0, len(every), _FEW)]
