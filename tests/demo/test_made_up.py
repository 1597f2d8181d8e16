"""The made-up holding has something true to show on whatever day it is started."""

from collections import Counter
from datetime import date, datetime
from functools import cache
from pathlib import Path

import pytest

from app.records import store
from app.rules.facts import Entry, Holding
from app.rules.plan import Planner
from app.rules.state import State, state
from app.rules.terms import TRADES
from app.services.book import Book
from app.services.demo.demo import demo_entries, demo_season, habits, read_demo, relative, start
from app.services.demo.lately import done_lately
from app.services.demo.year import Saying, live_through
from app.services.upkeep.elements import element
from app.settings import read_settings
from app.sheets.library import Library, load

FOLDER = Path(__file__).parent.parent.parent / "demo_data"
# The leap day, both ends of a year, and the middle of each season.
DAYS = ("2026-11-25", "2026-12-31", "2027-01-01", "2028-02-29", "2027-04-19", "2027-06-21", "2027-08-30", "2027-10-03")


@cache
def library() -> Library:
    return load()


@cache
def planner(today: str) -> Planner:
    season = demo_season(read_demo(FOLDER), date.fromisoformat(today))
    return Planner(Holding("england", season), library().sheets, library().law)


@cache
def lived(today: str) -> tuple[tuple[Entry, ...], tuple[Saying, ...]]:
    demo = read_demo(FOLDER)
    day = date.fromisoformat(today).toordinal()
    entries = demo_entries(demo, planner(today).sheets, day)
    return tuple(entries), tuple(live_through(planner(today), entries, habits(demo), day))


@pytest.mark.parametrize("today", DAYS)
def test_a_year_lies_behind_it_and_work_lies_ahead(today: str) -> None:
    # One test for a day, so that its year is lived through once wherever it is run.
    a_year_lies_behind_it_with_everything_that_can_be_said(today)
    most_was_punctual_and_some_late(today)
    there_is_work_of_every_trade_and_a_few_things_late(today)
    a_wall_is_in_repair_and_its_wait_runs(today)
    every_measure_that_is_asked_was_thought_of(today)


def a_year_lies_behind_it_with_everything_that_can_be_said(today: str) -> None:
    day = date.fromisoformat(today).toordinal()
    _, said = lived(today)
    kinds = Counter(one.tick.kind for one in said)
    assert kinds["done"] > 200
    assert kinds["let go"] == kinds["moved"] == kinds["undone"] == 1
    assert min(one.tick.on for one in said) < day - 330
    assert max(one.tick.on for one in said) <= day
    assert max(one.tick.at for one in said)[:10] <= today
    assert len({one.tick.id for one in said}) == len(said)
    assert any(one.tick.measures for one in said)
    assert any(one.remark for one in said)


def most_was_punctual_and_some_late(today: str) -> None:
    _, said = lived(today)
    done = [one.tick for one in said if one.tick.kind == "done" and one.tick.shown]
    late = [tick for tick in done if tick.shown is not None and tick.on > tick.shown.closes]
    assert 0 < len(late) < len(done) / 5
    assert all(tick.shown is None or tick.shown.opens <= tick.on for tick in done), "nothing is done before it may be"


def there_is_work_of_every_trade_and_a_few_things_late(today: str) -> None:
    day = date.fromisoformat(today).toordinal()
    entries, said = lived(today)
    plan = planner(today).plan(entries, [], [one.tick for one in said], day, day + 366)
    states = Counter(state(task, day) for task in plan.tasks)
    assert 1 <= states[State.LATE] <= 12
    assert states[State.OPEN] + states[State.CLOSING] >= 8
    assert not plan.adrift, "every tick belongs to a job that follows from the facts"
    near = [task for task in plan.tasks if task.opens is not None and day - 31 <= task.opens <= day + 31]
    trades = {planner(today).sheets[plan.laid[task.entry].entry.sheet].trade for task in near}
    assert trades == set(TRADES)
    assert {standing.at for standing in plan.standing if standing.last is None or standing.last >= day} == {
        "morning",
        "evening",
    }
    assert any(task.entry.count("+") for task in plan.tasks), "a delivery or an animal made an entry of its own"


def a_wall_is_in_repair_and_its_wait_runs(today: str) -> None:
    day, demo = date.fromisoformat(today).toordinal(), read_demo(FOLDER)
    wall = next(entry for entry in lived(today)[0] if entry.id == "porch-wall")
    ticks = [one.tick for one in done_lately(demo.ticks["lately"], lambda said: relative(said, day))]
    laid = planner(today).plan([wall], [], ticks, day, day + 500).laid[wall.id]
    (wait,) = (one for one in element(laid, library().sheets[wall.sheet], ticks, day).waits if "First coat" in one.then)
    assert (wait.since, wait.done[:5]) == (day - 11, "Patch")
    assert wait.cured == day - 11 + 28, "28 days under paint that lets water out (LSPEC0026)"
    assert wait.until >= wait.cured


def every_measure_that_is_asked_was_thought_of(today: str) -> None:
    """A fallback would fill a page with ones and noughts that nobody weighed."""
    entries, said = lived(today)
    sheet_of = {entry.id: entry.sheet for entry in entries}
    asked = set()
    for one in said:
        parts = one.tick.key.partition(".")
        sheet = sheet_of.get(parts[0])
        if sheet and "+" not in one.tick.key:
            asked |= {f"{sheet}.{parts[2].split('.')[0]}.{name}" for name in one.tick.measures}
    kinds = measures_asked()
    weighed = {name for name in asked if kinds[name] not in ("yes or no", "choice", "text", "date")}
    known = habits(read_demo(FOLDER)).measures
    assert weighed <= known.keys(), sorted(weighed - known.keys())


@cache
def measures_asked() -> dict[str, str]:
    """The kind of every measure that a sheet asks, by sheet, step and name."""
    return {
        f"{sheet.id}.{step.id}.{ask.name}": ask.kind
        for sheet in library().sheets.values()
        for step in sheet.steps
        for ask in step.asks
    }


def test_every_measure_that_was_thought_of_is_asked() -> None:
    demo = read_demo(FOLDER)
    known = habits(demo).measures
    ids = {entry.id for entry in demo_entries(demo, library().sheets, date.fromisoformat(DAYS[0]).toordinal())}
    of_entries = {name for name in known if "+" in name or name.partition(".")[0] in ids}
    assert not known.keys() - measures_asked().keys() - of_entries, "a measure that no sheet asks"


def test_the_same_day_gives_the_same_year() -> None:
    demo = read_demo(FOLDER)
    day = date(2027, 4, 19).toordinal()
    entries = demo_entries(demo, planner("2027-04-19").sheets, day)
    again = live_through(planner("2027-04-19"), list(reversed(entries)), habits(demo), day)
    assert sorted(again, key=lambda one: one.tick.id) == sorted(lived("2027-04-19")[1], key=lambda one: one.tick.id)


@pytest.mark.parametrize(
    ("said", "today", "expected"),
    [
        ({"last": "--03-10"}, "2027-03-10", "2027-03-10"),
        ({"last": "--03-10"}, "2027-03-09", "2026-03-10"),
        ({"last": "--03-10", "years": 1}, "2027-12-31", "2026-03-10"),
        ({"next": "--03-10"}, "2027-03-10", "2028-03-10"),
        ({"next": "--03-10"}, "2027-03-09", "2027-03-10"),
        ("-P1Y", "2028-02-29", "2027-02-28"),
        ("P9D", "2027-12-28", "2028-01-06"),
    ],
)
def test_days_are_reckoned_from_today(said: object, today: str, expected: str) -> None:
    found = relative(said, date.fromisoformat(today).toordinal())
    assert date.fromordinal(found).isoformat() == expected


def test_it_is_filled_through_the_same_doors_as_a_household_uses(tmp_path: Path) -> None:
    today = "2028-02-29"
    settings = read_settings({}, tmp_path)
    book = Book(
        settings, now=lambda: datetime.fromisoformat(f"{today}T09:00:00+00:00"), today=date.fromisoformat(today)
    )
    start(book, settings.demo_data)
    with book.reading() as session:
        assert len(store.people(session)) == 4
        assert len(store.absences(session)) == 2
        assert len(store.entries(session)) >= 30
        assert len(store.ticks(session)) > 200
        assert store.open_rows(session, date.fromisoformat(today).toordinal())
    book.close()
