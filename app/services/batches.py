"""Batches as rows of the projection: every lot with its number, what is left, where it lies, what its day rests on."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import BatchMarkRow, BatchRow
from app.rules.live import Live
from app.rules.sheet import Sheet
from app.rules.step import Step
from app.services.lot_parts import Lot, LotFact, counted, fact_of, given_lot, made_lots

STORES = ("shelf", "freezer", "store", "fridge", "seed tin")
_STORED = ("clamp", "sand", "sack", "tray", "slat", "hung", "cellar", "cool", "damp", "store", "dry shelf")
_KILLED = {"at home": "home", "home": "home", "abattoir": "abattoir", "at the abattoir": "abattoir", "bought": "bought"}


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
    place = mark.place or one.place
    where = store_of(place, one.kind == "seed")
    killed = mark.killed or (_KILLED.get(str(laid.entry.facts.get("killed", "")).casefold(), "") if laid else "")
    return BatchRow(
        one.id, f"{mark.year % 100:02}-{mark.number:03}", where, one.what, one.variety, one.sheet,
        sheet.trade if sheet is not None else "", one.entry, one.key, one.made_on, one.amount, one.unit, one.left,
        one.short, one.over, one.keeps_until, _basis(one, where, sheet, killed), _source(one, sheet), killed, place,
        one.note,
    )  # fmt: skip


def _basis(one: Lot, where: str, sheet: Sheet | None, killed: str) -> str:
    """Whether the day is one of quality or of safety.

    Frozen food stays safe, and its day is one of quality; meat in a fridge is one of safety.
    Source: FoodSafety.gov, cold food storage chart.
    """
    if one.keeps_until is None:
        return ""
    meat = killed or (sheet is not None and sheet.trade == "meat")
    return "safety" if meat and where != "freezer" else "quality"


def _source(one: Lot, sheet: Sheet | None) -> str:
    """What the day rests on: the step's own source, or the household's word."""
    if one.keeps_until is None:
        return ""
    if sheet is None:
        return "as it was put down"
    step: Step | None = next((step for step in sheet.steps if f".{step.id}" in one.key), None)
    return step.source.basis if step is not None else ""
