"""Batches as rows of the projection: every lot with its number, what is left, where it lies, what its day rests on."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import BatchMarkRow, BatchRow
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.tasks import Laid
from app.services.larder.batch_days import keeping, taken_as_eaten
from app.services.larder.lot_parts import Lot, LotFact, counted, fact_of, given_lot, made_lots

_STORED = ("clamp", "sand", "sack", "tray", "slat", "hung", "cellar", "cool", "damp", "store", "dry shelf")
_KILLED = {
    "at home": "home", "home": "home", "abattoir": "abattoir", "at the abattoir": "abattoir",
    "at an abattoir, for own use": "abattoir", "bought": "bought",
}  # fmt: skip
"""The answers to the fact ``killed`` of a sheet, as a batch keeps them."""


def store_of(place: str, seed: bool = False) -> str:
    """In what kind of place something lies, told by the place's name: "damp sand" is a store, "jar, dark" the shelf."""
    said = place.casefold()
    if seed or "seed tin" in said:
        return "seed tin"
    if "freezer" in said or "frozen" in said:
        return "freezer"
    if "fridge" in said and "not the fridge" not in said:
        return "fridge"
    return "store" if any(word in said for word in _STORED) else "shelf"


def project_all(session: Session, live: Live | None) -> None:
    """Every batch, in place of what there was."""
    lots = [one for laid in list(live.laid.values()) for one in made_lots(live, laid)] if live is not None else []
    lots += [given_lot(row) for row in store.given_lots(session)]
    facts = [fact_of(row) for row in store.lot_facts(session)]
    marks = _marked(session, lots, store.batch_marks(session))
    store.replace_batches(session, store.batch_rows(session), _rows(live, lots, facts, marks))


def project_some(session: Session, live: Live, touched: Collection[str]) -> None:
    """The batches of the entries that were laid again."""
    lots = [one for name in sorted(touched) if name in live.laid for one in made_lots(live, live.laid[name])]
    old = store.batch_rows(session, touched)
    lots += [given_lot(row) for row in store.given_lots_of(session, [row.id for row in old if not row.key])]
    if lots or old:
        _write(session, live, lots, old)


def project_lots(session: Session, live: Live, lots: Collection[str]) -> None:
    """The batches of these lots, after something was said of them."""
    entries = {lot.partition("#")[0].partition(".")[0] for lot in lots if "#" in lot}
    made = [one for name in sorted(entries) if name in live.laid for one in made_lots(live, live.laid[name])]
    wanted = [one for one in made if one.id in lots]
    wanted += [given_lot(row) for row in store.given_lots_of(session, lots)]
    _write(session, live, wanted, store.batches_by_id(session, lots))


def _write(session: Session, live: Live, lots: list[Lot], old: Iterable[BatchRow]) -> None:
    ids = [one.id for one in lots]
    facts = [fact_of(row) for row in store.lot_facts_of(session, ids)]
    marks = _marked(session, lots, store.batch_marks(session, ids))
    store.replace_batches(session, old, _rows(live, lots, facts, marks))


def _marked(session: Session, lots: Iterable[Lot], known: Mapping[str, BatchMarkRow]) -> Mapping[str, BatchMarkRow]:
    """The lots' numbers; those that had none get the next of their year."""
    new = sorted((one.made_on, one.id) for one in lots if one.id not in known)
    if not new:
        return known
    store.number_batches(session, [(ident, date.fromordinal(day).year) for day, ident in new])
    return {**known, **store.batch_marks(session, [ident for _, ident in new])}


def _rows(
    live: Live | None, lots: Iterable[Lot], facts: Iterable[LotFact], marks: Mapping[str, BatchMarkRow]
) -> list[BatchRow]:
    said: dict[str, list[LotFact]] = {}
    for fact in facts:
        said.setdefault(fact.lot, []).append(fact)
    return [_row(live, counted(one, said.get(one.id, ())), marks[one.id]) for one in lots]


def _row(live: Live | None, one: Lot, mark: BatchMarkRow) -> BatchRow:
    laid = live.laid.get(one.entry) if live is not None and one.entry else None
    sheet = live.planner.sheet_of(laid.entry) if live is not None and laid is not None else None
    place, seed = mark.place or one.place, one.kind == "seed"
    where, trade = store_of(place, seed), sheet.trade if sheet is not None else ""
    killed = mark.killed or (_killed(live, laid) if live is not None and laid is not None else "")
    until, basis, source = keeping(one, store_of(one.place, seed), where, sheet, "meat" if killed else trade)
    gone = one.over or (live is not None and taken_as_eaten(one, until, trade, live.as_of))
    return BatchRow(
        one.id, f"{mark.year % 100:02}-{mark.number:03}", where, one.what, one.variety, one.sheet, trade, one.entry,
        one.key, one.made_on, one.amount, one.unit, one.left, one.short, gone, until, basis, source, killed, place,
        one.note, one.pack_kg,
    )  # fmt: skip


def _killed(live: Live, laid: Laid | None) -> str:
    """How it was killed: as its entry says, else the one that made that: bacon is killed as its side of pork was."""
    while laid is not None:
        found = _KILLED.get(str(laid.entry.facts.get("killed", "")).casefold(), "")
        found = found or ("home" if "killed_at_home_on" in laid.entry.facts else "")
        if found:
            return found
        laid = live.laid.get(split_key(laid.entry.made_by).entry) if laid.entry.made_by else None
    return ""
