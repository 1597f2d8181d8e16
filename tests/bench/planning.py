"""Planning beside the least that could make as many windows: three additions of python-dateutil for each."""

import gc
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import date

from dateutil.relativedelta import relativedelta

from app.rules.facts import Entry, Holding
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.sheets.library import Library, load
from app.sheets.places import places
from app.trade.climate.normals_season import NormalsSeason

MIX = (
    "salad", "pea", "parsnip-seed", "tomato", "garlic", "joint-to-thaw", "bacon", "weaners", "laying-hens",
    "rendered-wall",
)  # fmt: skip
"""The ten kinds of entry in the mix, as many of each; walls, the slowest, among them."""

AS_OF = date(2027, 3, 1)


def library() -> Library:
    """The program's own sheets."""
    return load()


def season() -> NormalsSeason:
    """An upland place."""
    found = places()
    return NormalsSeason(54.2, next(iter(found.normals.values())), found.scatter, altitude_m=250)


def entries(sheets: dict[str, Sheet] | object, count: int, mix: Sequence[str] = MIX) -> list[Entry]:
    """``count`` entries of the mix, put down over a year, each with the facts its sheet asks for."""
    known = dict(sheets)  # type: ignore[call-overload]
    return [_entry(known[mix[n % len(mix)]], n) for n in range(count)]


def _entry(sheet: Sheet, n: int) -> Entry:
    day = AS_OF.toordinal() + (n * 37) % 365 - 60
    facts: dict[str, object] = {}
    for name, ask in sheet.facts.items():
        if ask.kind == "date":
            facts[name] = day - (0 if name == "date" else 900)
        elif ask.default is None and not ask.optional:
            facts[name] = ask.choices[0] if ask.choices else max(ask.low or 0, min(40, ask.high or 40))
    return Entry(f"{sheet.id}-{n}", sheet.id, sheet.title, facts, AS_OF.toordinal() - 30, f"place {n}")  # type: ignore[arg-type]


def floor(windows: int) -> list[tuple[date, date, date]]:
    """As many windows by three additions each, the deltas made once."""
    week, fortnight, months = relativedelta(weeks=1), relativedelta(days=14), relativedelta(months=1)
    start = AS_OF
    return [(start + week, start + fortnight, start + months) for _ in range(windows)]


def best(run: Callable[[], object], times: int) -> float:
    """The least seconds of several runs."""
    least = 1e9
    for _ in range(times):
        begun = time.perf_counter()
        run()
        least = min(least, time.perf_counter() - begun)
    return least


def ratios() -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit."""
    known = library()
    planner = Planner(Holding("england", season()), known.sheets, known.law)
    today = AS_OF.toordinal()
    last = today + 3 * 365
    per_window: dict[int, float] = {}
    for count, limit, times in ((50, 2.0, 9), (500, 1.5, 7), (5000, 2.0, 2)):
        put = entries(known.sheets, count)
        windows = len(planner.plan(put, [], [], today, last).tasks)
        gc.collect()
        gc.freeze()
        spent = bare = 1e9
        for _ in range(times):  # in turn, since a shared machine drifts
            bare = min(bare, best(lambda n=windows: floor(n), 1))  # type: ignore[misc]
            spent = min(spent, best(lambda these=put: planner.plan(these, [], [], today, last), 1))  # type: ignore[misc]
        per_window[count] = spent / windows
        print(f"  {count} entries, {windows} windows: {spent * 1e3:.1f} ms, floor {bare * 1e3:.1f} ms")
        yield f"plan-{count}", spent / bare, limit
    yield "plan-growth-50-to-5000", per_window[5000] / per_window[50], 1.5
    live = Live(planner, entries(known.sheets, 500), [], [], today, last)
    spent_on = sorted(
        best(lambda name=name: live.change({name}), 5) for name in [e.id for e in entries(known.sheets, 20)]
    )  # type: ignore[misc]
    middle, worst = spent_on[len(spent_on) // 2], spent_on[-1]
    print(
        f"  one entry laid again: median of the mix {middle * 1e3:.2f} ms, worst (hens, 360 jobs) {worst * 1e3:.2f} ms"
    )
    yield "replan-one-entry-ms", middle * 1e3, 1.0
