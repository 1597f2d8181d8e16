"""What is being kept: batches in the dryer, crocks that work, jars to look at, and what is coming in."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.coming import pickings
from app.rules.facts import Entry
from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.tasks import Laid, Task
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.garden.sowing_time import harvests
from app.services.larder.kit_claims import claims_of
from app.services.preserving.drying import Drying, drying_of
from app.services.preserving.drying_batches import record_of
from app.services.preserving.glut_kitchen import Kitchen, kitchen
from app.services.remembered import weighed
from app.services.what_there_is import is_over, next_job

COMING_DAYS = 14
PICKED_DAYS = 14
NEAR_DAYS = 21
MOST_COMING = 12


class UnderWay(NamedTuple):
    """A batch on its way: its next job, what that is today; how far it has dried when it is in the dryer."""

    entry: Entry
    sheet: Sheet
    next: Task
    state: State
    drying: Drying | None = None


class Coming(NamedTuple):
    """A crop to be picked within a fortnight: first on which day, in how many pickings; kilos of the last fortnight."""

    crop: str
    first: Day
    pickings: int
    picked_kg: float


class Preserving(NamedTuple):
    """What the page shows; ``dryer_free`` is the first day on which the dryer is free, None when it is now."""

    dryer: tuple[UnderWay, ...]
    working: tuple[UnderWay, ...]
    packed: tuple[UnderWay, ...]
    coming: tuple[Coming, ...]
    room: Kitchen
    dryer_free: Day | None


def preserving(book: Book, session: Session, today: Day) -> Preserving:
    """What is under way and what is coming; a fixed number of queries.

    Raises: MissingFact while the first run is not done.
    """
    room, record = kitchen(book, session), record_of(book, session, today)
    dryer: list[UnderWay] = []
    working: list[UnderWay] = []
    packed: list[UnderWay] = []
    free: Day | None = None
    for laid in list(book.live(session, today).laid.values()):
        sheet = book.library.sheets.get(laid.entry.sheet)
        if sheet is None or sheet.trade != "preserving" or not laid.entry.sure or is_over(laid.entry, today):
            continue
        until = _in_dryer(laid, today)
        one = _under_way(laid, sheet, today)
        if until is not None and one is not None:
            free = max(free or 0, until + 1)
            dryer.append(one._replace(drying=drying_of(book, session, laid.entry, today, room, record)))
        elif one is not None:
            (packed if _is_packed(laid, sheet) else working).append(one)
    return Preserving(
        _sorted(dryer), _sorted(working), _sorted(packed), tuple(_coming(book, session, today)), room, free
    )


def _under_way(laid: Laid, sheet: Sheet, today: Day) -> UnderWay | None:
    """A batch with something asked of it now or soon; what is packed counts only while it is asked to be looked at."""
    following = next_job(laid.tasks, today)
    if following is None or following.best is None:
        return None
    what = state(following, today)
    near = following.best <= today + NEAR_DAYS and (following.opens or 0) <= today + NEAR_DAYS
    if what not in ASKED and (not near or _is_packed(laid, sheet)):
        return None
    return UnderWay(laid.entry, sheet, following, what)


def _in_dryer(laid: Laid, today: Day) -> Day | None:
    """Until which day a batch has the dryer, when it has it now."""
    spans = [span for kit, span in claims_of(laid) if kit == "dryer"]
    return next((span.last for span in spans if span.first <= today <= span.last), None)


def _is_packed(laid: Laid, sheet: Sheet) -> bool:
    steps = {step.id for step in harvests(sheet)}
    return any(task.step in steps and task.done is not None for task in laid.tasks)


def _sorted(found: list[UnderWay]) -> tuple[UnderWay, ...]:
    return tuple(sorted(found, key=lambda one: (one.next.closes or 10**8, one.entry.name.casefold(), one.entry.id)))


def _coming(book: Book, session: Session, today: Day) -> list[Coming]:
    """The crops to be picked within a fortnight, with what their open pickings and the others weighed of late."""
    crops = {sheet.id: sheet.crop for sheet in book.library.sheets.values() if sheet.trade == "garden" and sheet.crop}
    steps = {(name, step.id) for name in crops for step in harvests(book.library.sheets[name])}
    found: dict[str, tuple[Day, int]] = {}
    entries: dict[str, str] = {}
    for sheet, entry, best, number in pickings(session, steps, today, today + COMING_DAYS):
        name = crops[sheet].many or crops[sheet].name or book.library.sheets[sheet].title
        first, count = found.get(name, (best, 0))
        found[name] = (max(today, min(first, best)), count + number)
        entries[entry] = name
    kilos = dict.fromkeys(found, 0.0)
    for tick in in_force(store.ticks(session, list(entries))) if entries else ():
        if tick.kind == "done" and tick.on > today - PICKED_DAYS:
            kilos[entries[split_key(tick.key).entry]] += weighed(tick)
    every = [Coming(name, first, count, kilos[name]) for name, (first, count) in found.items()]
    return sorted(every, key=lambda one: (-one.picked_kg, one.first, one.crop))[:MOST_COMING]
