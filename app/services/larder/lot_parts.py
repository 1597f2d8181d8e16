"""What lots are made of, without a book: what a job made, what was put down by hand, and how much of it is left."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Literal, NamedTuple

from app.records.store import LotFactRow, LotRow
from app.rules.facts import Entry, Tick
from app.rules.keys import key as key_of
from app.rules.live import Live
from app.rules.moment import StepDay, Work
from app.rules.sheet import Sheet
from app.rules.spans import Day, add
from app.rules.step import Make, Step
from app.rules.tasks import Laid, Task
from app.rules.terms import Value
from app.rules.ticks import Word, renamed, standing

Kind = Literal["lot", "seed"]
FactKind = Literal["used", "counted", "given", "thrown", "tested"]
TAKES: tuple[FactKind, ...] = ("used", "given", "thrown")
"""What makes a lot less."""

SAYS_NOT_HOW_MUCH = ("to", "until", "name", "basis", "rests")
"""What a count with one of these says: that it was moved, that its day or its name was put right, of what its day is
and what that rests on; not how much."""
LIVES = ("dried_keeping_days", "raw_keeping_days")
"""The computations that say how long something keeps in a store of some warmth."""
OF = ("of", "fruit")
"""The facts by which a sheet of preserving is told what it is of."""
SLACK = 1e-6


class LotFact(NamedTuple):
    """What became of some of a lot, or what was found on looking at it."""

    id: str
    lot: str
    kind: FactKind
    on: Day
    amount: float | None
    measures: Mapping[str, Value]
    note: str


class Lot(NamedTuple):
    """Something that is kept.

    ``amount`` is what was made, None where nobody weighed it; ``left`` what is left of it, None while that can't be
    known; ``short`` when more was taken than there was. ``key`` is the job that made it, "" for one put down by hand;
    ``pack_kg`` what one pack weighs.
    """

    id: str
    kind: Kind
    what: str
    variety: str
    sheet: str
    entry: str
    key: str
    made_on: Day
    amount: float | None
    unit: str
    keeps_until: Day | None
    place: str
    note: str
    facts: tuple[LotFact, ...] = ()
    left: float | None = None
    short: bool = False
    pack_kg: float | None = None

    @property
    def by_hand(self) -> bool:
        """Whether somebody put it down, rather than a job having made it."""
        return not self.key

    @property
    def over(self) -> bool:
        """Whether nothing is left of it."""
        return self.left is not None and self.left <= SLACK


def left_of(amount: float | None, facts: Iterable[LotFact]) -> tuple[float | None, bool]:
    """What is left once all that was said is reckoned, in its order, and whether more was taken than there was.

    A count puts right whatever the book had, what was put back is added; nothing is ever less than nothing.
    """
    left, short = amount, False
    for fact in facts:
        back = fact.measures.get("back")
        if isinstance(back, int | float):
            left = left if left is None else left + back
        elif fact.kind == "counted" and not any(fact.measures.get(name) for name in SAYS_NOT_HOW_MUCH):
            left, short = fact.amount, False
        elif fact.kind in TAKES and fact.amount is not None and left is not None:
            left -= fact.amount
            if left < -SLACK:
                left, short = 0.0, True
    return (left if left is None else max(0.0, left)), short


def counted(one: Lot, facts: Sequence[LotFact]) -> Lot:
    """A lot with what was said of it reckoned."""
    left, short = left_of(one.amount, facts)
    names = [str(name) for fact in facts if (name := fact.measures.get("name"))]
    return one._replace(what=names[-1] if names else one.what, facts=tuple(facts), left=left, short=short)


def day_said(facts: Iterable[LotFact]) -> Day | None:
    """The day until which it keeps as somebody put it right last, since it was moved last; None where nobody did."""
    found: Day | None = None
    for fact in facts:
        if fact.measures.get("to"):
            found = None
        if until := fact.measures.get("until"):
            found = date.fromisoformat(str(until)).toordinal()
    return found


def made_lots(live: Live, laid: Laid) -> list[Lot]:
    """The lots that an entry's jobs made: one for each thing that a ticked job makes, under its key and place there."""
    sheet = live.planner.sheet_of(laid.entry)
    if sheet is None or laid.entry.struck or not any(task.done is not None for task in laid.tasks):
        return []
    makers = {step.id: step for step in sheet.steps if any(make.kind in ("lot", "seed") for make in step.makes)}
    done = [task for task in laid.tasks if task.done is not None and task.step in makers]
    if not done:
        return []
    words = words_of(live.facts.ticks.get(laid.entry.id, ()), laid.entry.id, sheet)
    return [one for task in done for one in _of_task(laid, sheet, makers[task.step], task, words)]


def words_of(ticks: Iterable[Tick], entry: str, sheet: Sheet) -> dict[str, Word]:
    """What stands for every job of an entry, under its steps' present ids."""
    names = {old: step.id for step in sheet.steps for old in step.was}
    return standing(renamed(tick, entry, names) for tick in ticks)


def _of_task(laid: Laid, sheet: Sheet, step: Step, task: Task, words: Mapping[str, Word]) -> list[Lot]:
    entry = laid.entry
    variety = entry.facts.get("variety")
    day = task.done if task.done is not None else 0
    return [
        Lot(
            id=f"{task.key}#{number}",
            kind="seed" if make.kind == "seed" else "lot",
            what=_named(make.name, entry, sheet),
            variety=variety if isinstance(variety, str) else "",
            sheet=sheet.id,
            entry=entry.id,
            key=task.key,
            made_on=day,
            amount=_amount(make, task, words),
            unit=make.unit,
            keeps_until=_keeps_until(laid, sheet, step, make, day),
            place=make.where,
            note="",
        )
        for number, make in enumerate(step.makes)
        if make.kind in ("lot", "seed")
    ]


def _named(name: str, entry: Entry, sheet: Sheet) -> str:
    """What a batch is called: with what it is of, where its sheet is for many things: "jam: plums"."""
    if sheet.trade != "preserving":
        return name
    said = next((entry.facts.get(fact, sheet.facts[fact].default) for fact in OF if fact in sheet.facts), None)
    of = said.strip()[:60] if isinstance(said, str) else ""
    return name if not of or of.casefold() in name.casefold() else f"{name}: {of}"


def _keeps_until(laid: Laid, sheet: Sheet, step: Step, make: Make, day: Day) -> Day | None:
    """Until when it keeps: by the warmth of its store, where the sheet reckons that, else as the sheet says."""
    if make.keeps is None:
        return None
    reckoned = {
        other.id
        for other in sheet.steps
        if isinstance(other.start, Work) and other.start.name in LIVES and other.start.since == StepDay(step.id)
    }
    days = (task.best for task in laid.tasks if task.step in reckoned)
    return next((best for best in days if best is not None), add(day, make.keeps))


def _amount(make: Make, task: Task, words: Mapping[str, Word]) -> float | None:
    """The measure that says how much, of its step in the job's own cycle or in one of those around it."""
    step, _, name = make.amount.partition(".")
    for depth in range(len(task.label), -1, -1):
        word = words.get(key_of(task.entry, step, task.label[:depth]))
        value = word.measures.get(name) if word is not None else None
        if isinstance(value, int | float) and not isinstance(value, bool):
            return float(value)
    return None


def given_lot(row: LotRow) -> Lot:
    """A lot that was put down by hand."""
    until = row.keeps_until.toordinal() if row.keeps_until is not None else None
    return Lot(
        row.id, kind_of(row.what), row.what, row.variety, row.sheet, row.entry or "", "", row.made_on.toordinal(),
        row.amount, row.unit, until, row.place, row.note, pack_kg=row.pack_kg,
    )  # fmt: skip


def kind_of(what: str) -> Kind:
    """What kind of thing a lot put down by hand is: "parsnip seed" is seed."""
    return "seed" if what.casefold().rsplit(maxsplit=1)[-1:] in (["seed"], ["seeds"]) else "lot"


def fact_of(row: LotFactRow) -> LotFact:
    """What was said of a lot."""
    kind: FactKind = row.kind  # type: ignore[assignment]  # the table admits no other
    return LotFact(row.id, row.lot, kind, row.on_day.toordinal(), row.amount, dict(row.measures), row.note)
