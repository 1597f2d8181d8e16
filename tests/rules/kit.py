"""Tools of the rules' tests: a plain season, sheets from TOML, a holding with its plan."""

import tomllib
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from app.rules.bars import FOREVER
from app.rules.facts import Amendment, Entry, Holding, Law, Tick, TickKind, Window
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Plan, Task
from app.rules.terms import Nation, Value
from app.sheets.read import read, sheet_from
from app.sheets.values import Known
from app.trade.climate.season import Spread

__all__ = [
    "FOREVER", "PlainSeason", "brief", "day", "done", "entry", "filled", "iso", "keys", "made", "planner", "sheet_from",
    "sheet_of", "shown", "task", "tick", "window",
]  # fmt: skip

PLAIN_SOURCE = 'source = "common practice"\n'


def day(text: str) -> Day:
    """A day number from an ISO date."""
    return date.fromisoformat(text).toordinal()


def iso(number: Day | None) -> str | None:
    """An ISO date from a day number."""
    return None if number is None else date.fromordinal(number).isoformat()


class PlainSeason:
    """A season made up for tests: every mark on a fixed day of the year, ten degree-days above any base every day.

    ``shift_days`` turns it to the other hemisphere. Values change a mark: frosts by a day for each 5 % of chance.
    """

    DAYS: Mapping[str, tuple[int, int]] = {
        "last frost": (5, 10),
        "first frost": (10, 10),
        "soil above": (4, 1),
        "soil below": (11, 1),
        "day longer than": (2, 16),
        "day shorter than": (10, 25),
    }

    def __init__(self, shift_days: int = 0) -> None:
        self.shift_days = shift_days

    def mark(self, name: str, value: float, year: int) -> Day | None:
        month, on = self.DAYS[name]
        late = round((value - 50) / 5) if "frost" in name else 0
        return date(year, month, on).toordinal() + late + self.shift_days

    def warmth(self, total: float, base: float, since: Day) -> Spread | None:
        days = int(total // 10)
        return Spread(since + days - days // 10, since + days, since + days + days // 10)


def planner(
    sheets: Iterable[Sheet], nation: Nation | None = "england", law: Law | None = None, shift_days: int = 0
) -> Planner:
    """A planner for a holding in the plain season."""
    return Planner(Holding(nation, PlainSeason(shift_days)), {sheet.id: sheet for sheet in sheets}, law or Law())


def entry(name: str, sheet: str, on: str, told: str | None = None, place: str = "", **facts: Value) -> Entry:
    """An entry with its date, told on that day unless said otherwise."""
    return Entry(name, sheet, name, {"date": day(on), **facts}, day(told or on), place)


_COUNT = iter(range(1, 10**9))


def done(key: str, on: str, at: str = "", **measures: Value) -> Tick:
    """A tick that says a job was done on a day."""
    n = next(_COUNT)
    return Tick(f"t{n}", key, "done", day(on), at or f"{on}T12:00:00Z", measures)


def made(
    sheets: Iterable[Sheet],
    entries: Iterable[Entry],
    ticks: Iterable[Tick] = (),
    as_of: str = "2027-01-01",
    last: str = "2030-01-01",
    nation: Nation | None = "england",
    law: Law | None = None,
    amendments: Iterable[Amendment] = (),
) -> Plan:
    """The plan of some entries."""
    return planner(sheets, nation, law).plan(entries, amendments, ticks, day(as_of), day(last))


def task(plan: Plan, key: str) -> Task:
    """The one task with a key."""
    found = [each for each in plan.tasks if each.key == key]
    assert len(found) == 1, f"{len(found)} tasks are called {key}; there are {[each.key for each in plan.tasks][:40]}"
    return found[0]


def window(plan: Plan, key: str) -> tuple[str | None, str | None, str | None]:
    """A task's window as ISO dates."""
    found = task(plan, key)
    return iso(found.opens), iso(found.best), iso(found.closes)


def shown(plan: Plan, key: str) -> Window | None:
    """A task's window as a tick would keep it."""
    found = task(plan, key)
    if found.opens is None or found.best is None or found.closes is None:
        return None
    return Window(found.opens, found.best, found.closes)


def brief(text: str, works: Mapping[str, Callable[..., Any]] | None = None) -> Sheet:
    """A sheet of which only what matters is written: heads, titles and sources are filled in."""
    return sheet_of(filled(tomllib.loads(text)), works)


def filled(doc: dict[str, Any]) -> dict[str, Any]:
    """The document with the head, the titles and the sources that every sheet must have."""
    head = {"title": doc["sheet"], "trade": "garden", "kind": "thing", "about": "Made up for a test."}
    steps = [{"title": step["id"], "source": "common practice", **step} for step in doc["step"]]
    bars = [{"says": bar["id"], "source": "common practice", **bar} for bar in doc.get("bar", [])]
    facts = {"date": {"asks": "date"}, **doc.get("facts", {})}
    return {**head, **doc, "facts": facts, "step": steps, **({"bar": bars} if bars else {})}


def sheet_of(doc: dict[str, Any], works: Mapping[str, Callable[..., Any]] | None = None) -> Sheet:
    """A sheet from a whole document, read and checked as every other."""
    found = read(doc, "", Known(works=works)) if works else read(doc)
    assert isinstance(found, Sheet), found
    return found


def tick(kind: TickKind, key: str, on: str, at: str = "", answers: str = "", **measures: Value) -> Tick:
    """A tick of any kind."""
    return Tick(f"t{next(_COUNT)}", key, kind, day(on), at or f"{on}T12:00:00Z", measures, answers)


def keys(plan: Plan) -> list[str]:
    """The keys of a plan, in its order."""
    return [each.key for each in plan.tasks]
