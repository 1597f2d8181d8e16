"""A delivery put down as an entry, read back from it, and packed: each cut becomes a batch of its own."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple
from uuid import uuid4

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.packs import packs_of
from app.records.store import BatchRow, LotRow
from app.rules.facts import Entry
from app.rules.keys import key, made_id
from app.rules.spans import Day, Span, add
from app.rules.tasks import Laid
from app.rules.terms import Value
from app.services import ticking
from app.services.book import Book
from app.services.entries import put_down
from app.services.meat.delivery import Asked, Cut, Told, cuts_of
from app.services.meat.delivery_lines import MOST_KG, read_lines, slug, written
from app.services.preview import Draft
from app.trade.meat.cuts import KINDS, Kind
from app.trade.meat.keeping import KEEPING

SHEET = "meat-delivery"
KILLED = {"home": "at home", "abattoir": "at an abattoir, for own use", "bought": "bought"}
"""What a batch keeps, and the answers of the sheet's fact ``killed``."""
FRIDGE = "fridge"
MOST_PACKS = 999
_QUICK_DAYS = 1


class Packing(NamedTuple):
    """A delivery with what became of each cut so far; ``batches`` by the cut's name, ``cures`` ids of cures begun."""

    entry: Entry
    laid: Laid
    on: Day
    killed: str
    freezer: str
    cuts: tuple[Cut, ...]
    batches: Mapping[str, BatchRow]
    cures: Mapping[str, str]

    @property
    def waiting(self) -> tuple[Cut, ...]:
        """The cuts that are neither packed nor in the cure, those that spoil first before the others."""
        left = [cut for cut in self.cuts if cut.way in ("freeze", "fresh") and cut.line.name not in self.batches]
        return tuple(sorted(left, key=lambda cut: cut.fridge_days))


class Packed(NamedTuple):
    """A cut as it was packed: so many packs, all of them together so heavy, and where they lie."""

    name: str
    kg: float
    packs: int
    place: str


def put(book: Book, told: Told, name: str, freezer: str, today: Day, ident: str) -> str:
    """Put a delivery down; its id comes back. Sent twice with the same ``ident``, it is put down once."""
    draft = Draft(SHEET, name, "kitchen", facts_of(told, freezer))
    return put_down(book, draft, today, ident=f"delivery-{ident[:12]}")


def facts_of(told: Told, freezer: str) -> dict[str, Value]:
    """What an entry keeps of a delivery; what goes into the cure stands in facts that its jobs read."""
    asked = told.asked
    frozen = [cut for cut in told.cuts if cut.way == "freeze"]
    facts: dict[str, Value] = {
        "date": asked.on, "kg": min(told.kg, MOST_KG), "freezer_l": asked.freezer_l, "meat": asked.of,
        "cuts": written(cut.line._replace(way=cut.way) for cut in told.cuts), "killed": KILLED[asked.killed],
        "to_cut": asked.carcase_kg is not None,
        "frozen": bool(frozen), "fresh": any(cut.way == "fresh" for cut in told.cuts),
        "quick": any(is_quick(cut) for cut in frozen), "slow": any(not is_quick(cut) for cut in frozen),
    }  # fmt: skip
    if frozen:
        facts["freeze_kg"] = min(told.freeze_kg, MOST_KG)
    if freezer:
        facts["freezer"] = freezer
    if asked.killed == "home":
        facts["killed_at_home_on"] = asked.on
    return facts | _cured(told.cuts)


def is_quick(cut: Cut) -> bool:
    """Whether it keeps a day in the fridge, or none."""
    return cut.fridge_days <= _QUICK_DAYS


def find(book: Book, session: Session, entry_id: str, today: Day) -> Packing:
    """A delivery that was put down, and what became of it so far.

    Raises: NotFound.
    """
    laid = book.live(session, today).laid.get(entry_id)
    if laid is None or laid.entry.sheet != SHEET or laid.entry.struck:
        raise NotFound("There is no such delivery.")
    return packing(session, book.live(session, today).laid, laid, book.holding(session).mouths)


def packing(session: Session, every: Mapping[str, Laid], laid: Laid, mouths: float) -> Packing:
    """The same of a delivery at hand; ``every`` are all entries that are laid, its cures among them."""
    facts = laid.entry.facts
    lines, _ = read_lines(str(facts.get("cuts", "")))
    meat = str(facts.get("meat", "mixed"))
    of: Kind = meat if meat in KINDS else "mixed"
    on = _day(facts.get("date"), laid.entry.told)
    killed = next((kind for kind, said in KILLED.items() if said == facts.get("killed")), "")
    cuts = cuts_of(Asked(on, of, killed, lines, {}, 100.0, 0.0, mouths, 1.0))
    by_id = {row.id: row for row in packs_of(session, laid.entry.id)}
    batches = {cut.line.name: row for cut in cuts if (row := by_id.get(lot_id(laid.entry.id, cut.line.name)))}
    cures = {}
    for cut in ("belly", "loin", "leg"):
        made = every.get(made_id(key(laid.entry.id, cut), cut))
        if made is not None:
            cures[cut] = made.entry.id
    return Packing(laid.entry, laid, on, killed, str(facts.get("freezer", "")), cuts, batches, cures)


def lot_id(entry_id: str, name: str) -> str:
    """The id of the batch that a cut of a delivery becomes: always the same, so that it is put down once."""
    return f"{entry_id}-{slug(name)}"


def pack(book: Book, entry_id: str, wanted: Sequence[Packed], on: Day, today: Day, ident: str = "") -> list[str]:
    """Cuts were packed: each becomes a batch; jobs of which nothing is left to do are ticked. Gives the batches' ids.

    Raises: NotFound; BadInput for a day to come, or one before the delivery came.
    """
    if on > today:
        raise BadInput({"on": "That day has not come yet."})
    with book.writing() as session:
        found = find(book, session, entry_id, today)
        if on < found.on:
            raise BadInput({"on": "That is before it came."})
        cuts = {cut.line.name: cut for cut in found.cuts}
        fresh = [one for one in wanted if one.name in cuts and one.name not in found.batches]
        rows = [_row(found, cuts[one.name], one, on, today) for one in fresh]
        for row in rows:
            store.add_lot(session, row)
        book.replan_lots(session, [row.id for row in rows], today)
        over = _over(find(book, session, entry_id, today))
    for step in over:
        ticking.tick(book, key(entry_id, step), today, on=on, tick_id=f"{ident or uuid4().hex}-{step}")
    return [row.id for row in rows]


def _row(found: Packing, cut: Cut, one: Packed, on: Day, today: Day) -> LotRow:
    what, of = cut.line.name, str(found.entry.facts.get("meat", "mixed"))
    named = what if of == "mixed" or of in what.casefold() else f"{of} {what}"
    chilled = one.place == FRIDGE
    frozen = KEEPING[cut.kind.keeps].frozen
    until = found.on + cut.fridge_days if chilled else add(on, Span(frozen[0], 0)) if frozen is not None else None
    return LotRow(
        id=lot_id(found.entry.id, what), what=named, sheet=SHEET, made_on=date.fromordinal(on), amount=one.packs,
        unit="packs", keeps_until=date.fromordinal(max(until, on)) if until is not None else None, place=one.place,
        note=found.entry.name, told=date.fromordinal(today), entry=found.entry.id, pack_kg=one.kg / one.packs,
    )  # fmt: skip


def _over(found: Packing) -> list[str]:
    """The jobs of a delivery of which nothing is left to do, and which are not ticked."""
    left = found.waiting
    frozen = [cut for cut in left if cut.way == "freeze"]
    still = {
        "mince": any(is_quick(cut) for cut in frozen),
        "joints": any(not is_quick(cut) for cut in frozen),
        "fresh": any(cut.way == "fresh" for cut in left),
    }
    return [task.step for task in found.laid.tasks if task.done is None and still.get(task.step) is False]


def _cured(cuts: Sequence[Cut]) -> dict[str, Value]:
    """The facts of what goes into the cure: pieces of one cut weighed together, the thickest of them measured."""
    facts: dict[str, Value] = {}
    for name in ("belly", "loin", "leg"):
        some = [cut.line for cut in cuts if cut.way == "cure" and cut.cure == name]
        if some:
            facts[f"cure_{name}"] = True
            facts[f"{name}_kg"] = sum(line.kg for line in some)
            thick = [line.mm for line in some if line.mm is not None]
            if thick and name != "leg":
                facts[f"{name}_mm"] = max(thick)
    return facts


def _day(value: Value | None, otherwise: Day) -> Day:
    return value if isinstance(value, int) and not isinstance(value, bool) else otherwise
