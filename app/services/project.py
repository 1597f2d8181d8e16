"""From what was laid to rows of the projection: a job with all that a page needs to show it."""

import json
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import ClashRow, LackRow, StandingRow, TaskRow
from app.rules.clashes import clashes
from app.rules.facts import Tick
from app.rules.live import Live
from app.rules.ready import ready
from app.rules.sheet import Sheet
from app.rules.tasks import Bar, Clash, Laid, Task
from app.rules.ticks import renamed, standing


class Said(NamedTuple):
    """What a row must know of the ticks on its job.

    ``times`` is how many there were, undone ones among them, so that the next one's id follows; ``stands`` the id of
    the one that holds, to be taken back; ``moved`` whether the household moved it.
    """

    times: int = 0
    stands: str = ""
    moved: bool = False


NOTHING_SAID = Said()


def said_of(extra: str) -> Said:
    """What a row kept about its ticks."""
    if not extra:
        return NOTHING_SAID
    kept = json.loads(extra)
    return Said(kept["n"], kept.get("s", ""), kept.get("m", False))


class StepText(NamedTuple):
    """The words of a step that go into every row of it."""

    title: str
    place: str
    act: str
    cautions: str


class Shown:
    """Rows out of what was laid; keeps each sheet's words ready."""

    def __init__(self, sheets: Mapping[str, Sheet]) -> None:
        self._sheets = sheets
        self._texts: dict[str, dict[str, StepText]] = {}

    def _words(self, sheet: Sheet) -> dict[str, StepText]:
        """The words of a sheet's steps, put together at first use: most sheets are not followed here."""
        found = self._texts.get(sheet.id)
        if found is None:
            found = self._texts[sheet.id] = {
                step.id: StepText(step.title, step.place, step.act, " ".join((*sheet.cautions, *step.cautions)))
                for step in sheet.steps
            }
        return found

    def tasks(self, laid: Laid, ticks: Sequence[Tick]) -> list[TaskRow]:
        """The rows of one entry; ``ticks`` are all that were said about it."""
        entry = laid.entry
        sheet = self._sheets.get(entry.sheet)
        if sheet is None:
            return []
        extras = _extras(entry.id, sheet, ticks) if ticks else {}
        texts = self._words(sheet)
        return [self._row(task, laid, sheet, texts.get(task.step), extras.get(task.key, "")) for task in laid.tasks]

    def _row(self, task: Task, laid: Laid, sheet: Sheet, text: StepText | None, extra: str) -> TaskRow:
        entry = laid.entry
        title, place, act, cautions = text or (task.step.replace("-", " ").capitalize(), "", "", "")
        return TaskRow(
            task.key, entry.id, task.step, ".".join(map(str, task.label)), sheet.id, sheet.trade, title, entry.name,
            place or entry.place, task.opens, task.best, task.closes, task.done, task.fate.value, task.missed,
            task.minutes, task.sure, task.legal, act, cautions, extra,
        )  # fmt: skip

    def rounds(self, laid: Laid) -> list[StandingRow]:
        """The daily rounds of one entry, once each from a day on."""
        entry = laid.entry
        sheet = self._sheets.get(entry.sheet)
        if sheet is None:
            return []
        rows = {}
        for one in laid.standing:
            text = self._words(sheet)[one.step]
            rows[one.step, one.first] = StandingRow(
                entry.id, one.step, one.first, one.last, one.minutes_a_day, one.at, sheet.id, sheet.trade, text.title,
                entry.name, text.place or entry.place,
            )  # fmt: skip
        return list(rows.values())


class Projector:
    """Writes the projection from the plan."""

    def __init__(self, shown: Shown) -> None:
        self.shown = shown

    def all(self, session: Session, live: Live, now: datetime) -> None:
        """Everything, in place of what there was; rows that are the same are left alone."""
        shares = list(live.laid.values())
        store.replace_tasks(session, None, self._rows(live, shares), now=now)
        store.replace_standing(session, None, [row for laid in shares for row in self.shown.rounds(laid)])
        store.replace_lacks(session, None, [row for laid in shares for row in lacks(laid)])
        store.replace_clashes(session, clash_rows(clashes(claims(live))))

    def some(self, session: Session, before: Live, after: Live, touched: Collection[str], now: datetime) -> None:
        """The entries laid again: only what differs from what was projected before."""
        was = [before.laid[name] for name in sorted(touched) if name in before.laid]
        now_laid = [after.laid[name] for name in sorted(touched) if name in after.laid]
        old = {row.key: row for row in self._rows(before, was)}
        store.replace_tasks(session, touched, self._rows(after, now_laid), now=now, old=old)
        rounds = [row for laid in now_laid for row in self.shown.rounds(laid)]
        if rounds != [row for laid in was for row in self.shown.rounds(laid)]:
            store.replace_standing(session, touched, rounds)
        wanted = [row for laid in now_laid for row in lacks(laid)]
        if wanted != [row for laid in was for row in lacks(laid)]:
            store.replace_lacks(session, touched, wanted)
        if any(bar.kind == "clash" for laid in (*was, *now_laid) for bar in laid.bars):
            store.replace_clashes(session, clash_rows(clashes(claims(after))))

    def _rows(self, live: Live, shares: Iterable[Laid]) -> list[TaskRow]:
        ticks = live.facts.ticks
        return [row for laid in shares for row in self.shown.tasks(laid, ticks.get(laid.entry.id, ()))]


def claims(live: Live) -> list[Bar]:
    """What entries lay on rooms and things, in a stable order."""
    return [bar for name in sorted(live.laid) for bar in live.laid[name].bars]


def lacks(laid: Laid) -> list[LackRow]:
    """What is wanted before steps of an entry can be dated."""
    return [LackRow(*lack) for lack in laid.lacks]


def clash_rows(found: Iterable[Clash]) -> list[ClashRow]:
    """Clashes as rows."""
    return [ClashRow(*clash) for clash in found]


def _extras(entry: str, sheet: Sheet, ticks: Sequence[Tick]) -> dict[str, str]:
    """For each job that something was said about: how often, and what holds."""
    was = ready(sheet).was
    mine = [renamed(tick, entry, was) for tick in ticks]
    counts: dict[str, int] = {}
    for tick in mine:
        counts[tick.key] = counts.get(tick.key, 0) + 1
    words = standing(mine)
    extras = {}
    for key, count in counts.items():
        kept: dict[str, Any] = {"n": count}
        word = words.get(key)
        holds = word and (word.done or word.let_go or word.moved)
        if word is not None and holds:
            kept["s"] = holds.id
            if word.moved is not None and word.done is None and word.let_go is None:
                kept["m"] = True
        extras[key] = json.dumps(kept, separators=(",", ":"))
    return extras
