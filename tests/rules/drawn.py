"""Holdings drawn at random: sheets with their steps, cycles, back pairs, spells and bars; entries; ticks in waves.

The sheets go through the loader as every other. What it refuses (two cycles that do not nest, a lead too short) is
taken out of the sheet, key by key, until it is accepted.
"""

import copy
from dataclasses import dataclass, replace
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from app.rules.facts import Entry, Holding, Law, Tick, Window
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Fate, Plan, Task
from app.sheets.law import read_law
from app.sheets.read import read
from app.sheets.values import ITSELF
from tests.rules.kit import PlainSeason, day, filled

START = day("2027-01-01")
NAMES = "abcdef"
ACTS = ("cut hedge", "slaughter", "move off")
SEED = {"sheet": "offspring", "step": [{"id": "first", "from": {"entry": "date", "by": "P1W"}, "act": "slaughter"}]}

LAW, _FAULTS = read_law(
    {
        "nation": "england",
        "bar": [
            {
                "id": "hedges",
                "acts": ["cut hedge"],
                "from": {"day": "--03-01"},
                "to": {"day": "--08-31"},
                "says": "Closed season.",
                "source": "common practice",
            }
        ],
    },
    "england.toml",
    ITSELF,
)


class Warmer(PlainSeason):
    """The plain season with another rate of warmth, in degree-days a day."""

    def __init__(self, rate: int = 10) -> None:
        super().__init__()
        self.rate = rate

    def warmth(self, total: float, base: float, since: int) -> Any:
        return super().warmth(10 * (total // self.rate), base, since)


@dataclass(frozen=True, repr=False)
class World:
    """Everything that planning takes."""

    docs: tuple[dict[str, Any], ...]
    sheets: tuple[Sheet, ...]
    entries: tuple[Entry, ...]
    ticks: tuple[Tick, ...]
    as_of: Day
    last: Day
    rate: int = 10

    def __repr__(self) -> str:
        keep = {"spell", "bar", "step", "sheet"}
        lines = [str({key: doc[key] for key in doc if key in keep}) for doc in self.docs]
        lines += [f"{e.id} of {e.sheet}: {e.facts}, told {e.told}, at {e.place!r}" for e in self.entries]
        lines += [f"{t.kind} {t.key} on {t.on} {dict(t.measures)}" for t in self.ticks]
        return "\n".join([*lines, f"as of {self.as_of}"])

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        printer.text(repr(self))

    def planner(self) -> Planner:
        """A planner of its own."""
        return Planner(Holding("england", Warmer(self.rate)), {s.id: s for s in self.sheets}, Law(LAW))

    def plan(self, **changes: Any) -> Plan:
        """The plan, with some of it changed."""
        other = replace(self, **changes) if changes else self
        return other.planner().plan(other.entries, [], other.ticks, other.as_of, other.last)

    def sheet_of(self, task: Task) -> Sheet:
        """The sheet that a task's entry follows."""
        name = "offspring" if "+" in task.entry else next(e.sheet for e in self.entries if e.id == task.entry)
        return next(sheet for sheet in self.sheets if sheet.id == name)


def spans(low: int, high: int) -> st.SearchStrategy[str]:
    """Spans of so many days, said in days, weeks or months."""

    def said(days: int) -> str:
        sign, days = ("-" if days < 0 else ""), abs(days)
        if days and not days % 30:
            return f"{sign}P{days // 30}M"
        return f"{sign}P{days // 7}W" if days and not days % 7 else f"{sign}P{days}D"

    return st.integers(low, high).map(said)


@st.composite
def bases(draw: DrawFn, before: list[str]) -> dict[str, Any]:
    """A moment to reckon from: the entry, an earlier step, a day or mark of the year, warmth."""
    step = {"step": draw(st.sampled_from(before))} if before else {"entry": "date"}
    since = draw(st.sampled_from([{"entry": "date"}, step]))
    kind = draw(st.integers(0, 9))
    if kind <= 2:
        return {"entry": "date", "by": draw(spans(0, 90))}
    if kind <= 5:
        return {**step, "by": draw(spans(0, 60))}
    if kind <= 7:
        return {"day": draw(st.sampled_from(["--01-31", "--02-28", "--04-10", "--06-15", "--10-31"])), "since": since}
    if kind == 8:
        return {"mark": "last frost", "chance": draw(st.sampled_from([10, 50, 90])), "since": since}
    return {"warmth": draw(st.sampled_from([100, 300, 600])), "base": 4.4, "since": since}


@st.composite
def steps(draw: DrawFn, name: str, before: list[str]) -> dict[str, Any]:
    """One step, reckoned from those before it."""
    step: dict[str, Any] = {"id": name, "from": draw(bases(before))}
    step["missed"] = draw(st.sampled_from(["late", "late", "lost", "wait", "passes"]))
    step["asks"] = {"withdrawal_days": {"asks": "d", "optional": True}, "over": {"asks": "yes or no", "optional": True}}
    if draw(st.booleans()):
        step["opens"] = draw(spans(-21, 0))
    if draw(st.booleans()):
        step["closes"] = draw(st.one_of(spans(0, 40), st.just({"day": "--07-15", "since": {"entry": "date"}})))
    if before and draw(st.booleans()):
        chosen = draw(st.lists(st.sampled_from(before), unique=True, max_size=2))
        step["after"] = [{"step": each, "by": draw(spans(0, 30))} for each in chosen]
    if draw(st.integers(0, 3)) == 0:
        step["act"] = draw(st.sampled_from(ACTS))
    if draw(st.integers(0, 5)) == 0:
        step["within"] = "season"
    if draw(st.integers(0, 2)) == 0:
        step["again"] = draw(repeats())
        if step["again"] == "yearly" and not {"day", "mark"} & set(step["from"]):
            step["from"] = {"day": "--05-05", "since": {"entry": "date"}}
    if draw(st.integers(0, 9)) == 0:
        step |= {"legal": True, "nations": ["england"]}
    if draw(st.integers(0, 9)) == 0:
        step["makes"] = [{"entry": "young", "sheet": "offspring"}]
    return step


@st.composite
def repeats(draw: DrawFn) -> Any:
    """How a step comes round."""
    if draw(st.integers(0, 2)) == 0:
        return "yearly"
    again: dict[str, Any] = {"every": draw(st.sampled_from(["P9D", "P3W", "P1M", "P6M"]))}
    again |= draw(
        st.sampled_from([{"most": 4}, {"until": {"entry": "date", "by": "P5M"}}, {"most": 6, "stop": "over"}])
    )
    return again | draw(st.sampled_from([{}, {}, {"counted": "plan"}]))


@st.composite
def documents(draw: DrawFn, name: str) -> dict[str, Any]:
    """A sheet as a document that the loader accepts."""
    count = draw(st.integers(2, 6))
    found = [draw(steps(NAMES[at], list(NAMES[:at]))) for at in range(count)]
    if draw(st.booleans()):
        target = draw(st.sampled_from(found))
        lead = draw(st.integers(7, 21))
        found.append({"id": "back", "from": {"step": target["id"], "by": f"-P{lead}D"}, "closes": "P4D"})
        target.setdefault("after", []).append({"step": "back", "by": f"P{draw(st.integers(1, lead))}D"})
    doc = {"sheet": name, "trade": "livestock", "species": "pig", "step": found}
    doc["spell"] = [{"id": "season", "from": {"day": "--04-01"}, "to": {"day": "--09-30"}}]
    doc["bar"] = draw(bars([step["id"] for step in found]))
    return mended(filled(doc))


@st.composite
def bars(draw: DrawFn, names: list[str]) -> list[dict[str, Any]]:
    """Bars of law, and of room on those that come later to the same place."""
    found: list[dict[str, Any]] = []
    if draw(st.booleans()):
        one = draw(st.sampled_from(names))
        end = draw(st.sampled_from([{"tick": one, "by": "P20D"}, {"tick": one, "days": f"{one}.withdrawal_days"}]))
        found.append({"id": "dosed", "kind": "law", "on": "entry", "from": {"tick": one}, "to": end})
    if draw(st.integers(0, 2)) == 0:
        end = {"entry": "date", "by": draw(spans(0, 30))}
        found.append({"id": "still", "kind": "law", "on": "holding", "from": {"entry": "date"}, "to": end})
    if draw(st.integers(0, 3)) == 0:
        one = draw(st.sampled_from(names))
        found.append(
            {"id": "bed", "kind": "room", "on": "place", "from": {"step": one}, "to": {"step": one, "by": "P3W"}}
        )
    return [{**bar, "acts": [draw(st.sampled_from(ACTS[1:]))]} for bar in found]


def mended(doc: dict[str, Any]) -> dict[str, Any]:
    """The document without what the loader refuses."""
    doc = copy.deepcopy(doc)
    for _ in range(20):
        found = read(doc)
        if not isinstance(found, list):
            return doc
        fault = found[0]
        step = next((each for each in doc["step"] if each["id"] == fault.step), None)
        head = fault.key.partition(".")[0].partition("[")[0]
        if step is None and fault.step.startswith("bar "):
            doc["bar"] = [bar for bar in doc["bar"] if bar["id"] != fault.step[4:]]
        elif step is not None and head in step and head not in ("from", "id"):
            del step[head]
        elif step is not None and "again" in step:
            del step["again"]
        elif step is not None:
            step["from"] = {"entry": "date", "by": "P1D"}
            step.pop("after", None)
        if not doc.get("bar"):
            doc.pop("bar", None)
    raise AssertionError(found)


@st.composite
def worlds(draw: DrawFn, waves: int = 3, rooms: bool = True, lawful: bool = True) -> World:
    """A holding with one to three entries of one or two sheets, and what was said of them up to a day."""
    docs = tuple(draw(documents(f"sheet-{at}")) for at in range(draw(st.integers(1, 2))))
    kinds = {kind for kind, wanted in (("room", rooms), ("law", lawful)) if not wanted}
    docs = tuple(_without(doc, kinds) for doc in docs)
    sheets = tuple(as_sheet(doc) for doc in (*docs, filled(SEED)))
    count = draw(st.integers(1, 3))
    entries = tuple(_entry(draw, at, docs) for at in range(count))
    as_of = START + draw(st.integers(0, 300))
    entries = tuple(entry._replace(told=min(entry.told, as_of)) for entry in entries)  # nobody is told of tomorrow's
    world = World(docs, sheets, entries, (), as_of, as_of + 700)
    for wave in range(draw(st.integers(0, waves))):
        world = _said(draw, world, wave)
    return world


def _without(doc: dict[str, Any], kinds: set[str]) -> dict[str, Any]:
    """The sheet without bars of some kinds; without law no act and no legal window."""
    bars = [bar for bar in doc.get("bar", []) if bar["kind"] not in kinds]
    gone = {"act", "legal", "nations"} if "law" in kinds else set()
    steps = [{key: value for key, value in step.items() if key not in gone} for step in doc["step"]]
    rest = {key: value for key, value in doc.items() if key != "bar"} | {"step": steps}
    return {**rest, "bar": bars} if bars else rest


def as_sheet(doc: dict[str, Any]) -> Sheet:
    """The sheet that a document is read as."""
    found = read(doc)
    assert isinstance(found, Sheet), found
    return found


def _entry(draw: DrawFn, at: int, docs: tuple[dict[str, Any], ...]) -> Entry:
    begun = START + draw(st.integers(-200, 200))
    told = begun + draw(st.sampled_from([0, 0, 0, 40, 400]))
    sheet = draw(st.sampled_from(docs))["sheet"]
    return Entry(f"e{at}", sheet, f"e{at}", {"date": begun}, told, draw(st.sampled_from(["", "bed"])))


def open_tasks(plan: Plan) -> list[Task]:
    """The tasks that are dated, not done, and still asked or to come."""
    ended = (Fate.LET_GO, Fate.LOST, Fate.PASSED_OVER, Fate.UNLAWFUL, Fate.NO_ROOM, Fate.ALONE)
    return [task for task in plan.tasks if task.done is None and task.best is not None and task.fate not in ended]


def sure_tasks(plan: Plan) -> list[Task]:
    """Those of entries that are sure."""
    return [task for task in open_tasks(plan) if task.sure]


def tick_of(task: Task, on: Day, name: str, kind: str = "done", **measures: Any) -> Tick:
    """A tick of a task as the page would make it."""
    assert task.opens is not None
    assert task.best is not None
    assert task.closes is not None
    shown = Window(task.opens, task.best, task.closes)
    return Tick(name, task.key, kind, on, f"{on:08d}-{name}", measures, shown=shown)  # type: ignore[arg-type]


def _said(draw: DrawFn, world: World, wave: int) -> World:
    """Something is said of a few tasks; then time goes on."""
    tasks = sure_tasks(world.plan())[:14]
    ticks = list(world.ticks)
    for at, task in enumerate(draw(st.lists(st.sampled_from(tasks), max_size=4, unique=True)) if tasks else []):
        kind = draw(st.sampled_from(["done", "done", "done", "let go", "moved"]))
        on = min(world.as_of, (task.best or 0) + draw(st.integers(-10, 30)))
        on = world.as_of + draw(st.integers(0, 60)) if kind == "moved" else on
        days = draw(st.sampled_from([None, 0, 14, 28]))
        measures = {"withdrawal_days": days} if days is not None and kind == "done" else {}
        measures |= {"over": True} if kind == "done" and draw(st.integers(0, 9)) == 0 else {}
        ticks.append(tick_of(task, on, f"w{wave}-{at}", kind, **measures))
    if ticks and draw(st.integers(0, 4)) == 0:
        tick = draw(st.sampled_from(ticks))
        ticks.append(Tick(f"u{wave}", tick.key, "undone", world.as_of, f"{world.as_of:08d}-u", answers=tick.id))
    as_of = world.as_of + draw(st.integers(0, 120))
    return replace(world, ticks=tuple(ticks), as_of=as_of, last=as_of + 700)
