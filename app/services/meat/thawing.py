"""Out of the freezer for a meal: when, thawed when, good until when, refrozen or not, how hot; how long it froze."""

from collections.abc import Mapping
from datetime import date
from typing import Literal, NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange
from app.records import store
from app.rules.facts import Entry
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.rules.terms import Value
from app.services.book import Book
from app.services.larder.larder import BatchRow
from app.services.meat.delivery_put import SHEET as DELIVERY
from app.services.preview import Draft
from app.services.put_once import put_once
from app.trade.meat.after_thaw import Rule, Thawed, thawed
from app.trade.meat.cooking import Cook, safe_core
from app.trade.meat.frozen_kinds import KINDS, Kind, kind_named
from app.trade.meat.keeping import keeps
from app.trade.meat.plank import Freezer, Hours, Shape, freezing_hours
from app.trade.meat.thaw import thaw_days

__all__ = [
    "KINDS", "RULE_OF", "SCOTLAND", "Freezer", "Freezing", "Hours", "Kind", "Meal", "Out", "Rule", "Shape",
    "days_in_the_fridge", "draft_of", "freeze", "frozen_meat", "kind_named", "put_down", "reckon",
]  # fmt: skip

RULE_OF: Mapping[str, Rule] = {
    "england": "uk", "scotland": "uk", "wales": "uk", "northern ireland": "uk", "ireland": "uk",
}  # fmt: skip
"""Whose rule a nation's households are told; elsewhere it is asked, and the stricter one stands until it is said."""
SCOTLAND = "Food Standards Scotland says one to two days; the stricter day is shown."
KG_A_DAY = 1.8
"""The slow end, as on the sheet. Source: The Big Thaw, US Department of Agriculture: 24 hours for 4 to 5 lb."""
MOST_BATCHES = 80
_AFTER_DAYS = 30


class Meal(NamedTuple):
    """What was asked: a piece of ``kg`` of a ``kind`` for a ``day``, of a batch when that is known.

    ``fridge_days`` are those it lay in the fridge before it was frozen; ``rule`` is whose days hold.
    """

    kind: str
    kg: float
    day: Day
    rule: Rule
    batch: BatchRow | None = None
    fridge_days: int | None = None


class Out(NamedTuple):
    """Out of the freezer on ``out``, thawed on ``thawed``, cooked by ``last``; ``late_by`` days too late already.

    ``after`` says what holds then, ``cook`` how hot, ``laid`` what the sheet makes of it, ``why`` the arithmetic. Too
    late for the fridge it is thawed in cold water on the day; ``soonest`` is when the fridge would have it thawed.
    """

    out: Day
    thawed: Day
    last: Day
    late_by: int
    soonest: Day
    after: Thawed
    cook: Cook
    laid: Laid
    why: str


def reckon(book: Book, session: Session, meal: Meal, today: Day) -> Out:
    """When it leaves the freezer, and all that hangs on it.

    Raises: BadInput for a day that has passed, for a piece that no table has, for days in the fridge beyond its own.
    """
    if meal.day < today:
        raise BadInput({"day": "That day has passed."})
    kind = KINDS[meal.kind]
    try:
        found = thaw_days(meal.kg, KG_A_DAY)
    except OutOfRange as error:
        raise BadInput({"kg": str(error)}) from error
    days_left = _days_left(kind, meal.fridge_days)
    laid = _laid(book, session, meal, today)
    out = next((task.best for task in laid.tasks if task.step == "out" and task.best is not None), None)
    out = meal.day - found.best if out is None else min(out, meal.day - found.best)
    late = max(0, today - out)
    after = thawed(meal.rule, kind.sort, "cold water" if late else "fridge", days_left)
    is_thawed = meal.day if late else out + found.best
    return Out(
        out, is_thawed, is_thawed + after.days, late, today + found.best, after, safe_core(meal.rule, kind.dish), laid,
        "; ".join(found.because),
    )  # fmt: skip


def _laid(book: Book, session: Session, meal: Meal, today: Day) -> Laid:
    """The jobs of a meal, planned by themselves; what they meet on the holding is said once it is put down."""
    draft = draft_of(meal)
    entry = Entry("meal", draft.sheet, draft.name, draft.facts, today)
    return book.live(session, today).planner.plan([entry], (), (), today, meal.day + _AFTER_DAYS).laid["meal"]


def _days_left(kind: Kind, used: int | None) -> int | None:
    """What is left of its life in the fridge: freezing stops that clock, and thawing does not set it back."""
    chilled = keeps(kind.keeping).chilled
    if used is None or chilled is None:
        return None
    if used > chilled[1]:
        raise BadInput(
            {"fridge_days": f"Frozen after more than {chilled[1]} days, it was past its own day: it is thrown out."}
        )
    return max(0, chilled[0] - used)


def draft_of(meal: Meal) -> Draft:
    """The entry that a meal is put down as."""
    batch = meal.batch
    facts: dict[str, Value] = {"date": meal.day, "kg": meal.kg, "joint": batch.what if batch is not None else meal.kind}
    if batch is not None:
        facts["batch"] = batch.number
    name = f"{str(facts['joint']).capitalize()} for {date.fromordinal(meal.day):%d %B}".replace(" 0", " ")
    return Draft(KINDS[meal.kind].sheet, name, "", facts)


def put_down(book: Book, meal: Meal, token: str, today: Day) -> str:
    """Put the meal down; a form sent twice puts it down once. The entry's id comes back."""
    return put_once(book, draft_of(meal), token, today)


def frozen_meat(session: Session, wanted: str = "") -> list[BatchRow]:
    """The batches of meat in the freezer, the first to expire first; ``wanted`` is among them wherever it stands."""
    rows = store.batches_there(session, 5 * MOST_BATCHES, "freezer")
    found = [row for row in rows if row.trade in ("meat", "livestock") or row.killed][:MOST_BATCHES]
    if wanted and wanted not in {row.id for row in found}:
        found = [*store.batches_by_id(session, [wanted]), *found]
    return found


def days_in_the_fridge(book: Book, session: Session, batch: BatchRow, today: Day) -> int | None:
    """Days a cut of a delivery lay in the fridge before it was packed and frozen; None where that is not known."""
    laid = book.live(session, today).laid.get(batch.entry)
    came = laid.entry.facts.get("date") if laid is not None and laid.entry.sheet == DELIVERY else None
    return max(0, batch.made_on - came) if isinstance(came, int) else None


class Freezing(NamedTuple):
    """How long a piece takes to freeze through."""

    hours: Hours
    thickness_mm: float
    shape: Shape
    freezer: Freezer


def freeze(thickness_mm: float, shape: Shape, freezer: Freezer, air_c: float = -18.0) -> Freezing:
    """Hours from 4 °C until the middle is at -18 °C.

    Raises: BadInput for a thickness or a freezer that the equation does not cover.
    """
    try:
        return Freezing(freezing_hours(thickness_mm, shape, freezer, air_c), thickness_mm, shape, freezer)
    except OutOfRange as error:
        which: Literal["air_c", "thickness_mm"] = "air_c" if "freezer" in str(error) else "thickness_mm"
        raise BadInput({which: str(error)}) from error
