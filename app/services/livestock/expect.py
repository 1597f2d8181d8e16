"""What to expect against what came: eggs by week over the lay, carcases and packs by weight, honey."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.values import moment_text
from app.rules.facts import Tick
from app.rules.keys import key, split_key
from app.rules.spans import Day
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.livestock.carcases import Carcase, carcase
from app.services.livestock.feed_groups import Eater, eaters
from app.services.rounds import label
from app.sheets.livestock_tables import layers
from app.trade.livestock.bees import honey_kg
from app.trade.livestock.lay import HYBRID, Layer, fell_suddenly
from app.trade.livestock.lay_weeks import Week, against, eggs_by_week

WEEKS_BACK, WEEKS_ON = 26, 12
LONGEST_COUNT_DAYS = 10
"""A week's count stands for the days since the one before, but for no more than these."""
FALL_SHARE = 0.8
HONEY_YEARS = ("poor", "usual", "good")


class Fall(NamedTuple):
    """A fall in the eggs: from so many to so many, within ``days``."""

    was: float
    now: float
    days: int


class Laying(NamedTuple):
    """A flock: its weeks, which of them it is now, what came of what was expected, a fall to be looked into."""

    eater: Eater
    head: int
    weeks: tuple[Week, ...]
    this: int
    expected: float
    came: float
    fall: Fall | None


class Honey(NamedTuple):
    """A colony, or some: honey in a poor, a usual and a good year, and what came this year and before, by year."""

    name: str
    entry: str
    colonies: int
    kg: tuple[float, ...]
    came: tuple[tuple[int, float], ...]


class Expected(NamedTuple):
    """All of it."""

    flocks: tuple[Laying, ...]
    carcases: tuple[Carcase, ...]
    honey: tuple[Honey, ...]


def expected(book: Book, session: Session, today: Day) -> Expected:
    """What every group here is expected to give.

    Raises: MissingFact while the first run is not done.
    """
    live, season = book.live(session, today), book.season(session)
    here = eaters(book, session, today)
    layers_here = [one for one in here if one.keep.layer and one.first <= today]
    said: dict[str, list[Tick]] = {}
    for tick in store.ticks(session, [one.entry.id for one in layers_here]) if layers_here else ():
        said.setdefault(split_key(tick.key).entry, []).append(tick)
    flocks = [_laying(one, said.get(one.entry.id, ()), season.daylight_hours, today) for one in layers_here]
    honey = [_honey(one, live.facts.ticks.get(one.entry.id, ()), today) for one in here if one.entry.sheet == "bees"]
    carcases = [found for laid in live.laid.values() if (found := carcase(book, live, laid, today))]
    carcases.sort(key=lambda one: (one.came_kg is not None, one.on or 0, one.entry))
    return Expected(tuple(flocks), tuple(carcases), tuple(honey))


# ── Eggs ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def layer_of(kind: str) -> Layer:
    """The curve of a kind of layer: its first egg from species.toml; its peak from the eggs of a year."""
    one = layers()[kind]
    start = float(one.high_weeks if kind == "hybrid hen" else (one.low_weeks + one.high_weeks) / 2)
    if kind == "hybrid hen":
        return HYBRID
    share = (one.low_eggs + one.high_eggs) / 2 / HYBRID_A_YEAR
    return Layer(start, min(1.0, HYBRID.peak * share), HYBRID.fall * share)


HYBRID_A_YEAR = 262.0
"""Eggs of the hybrid's curve in its first 52 weeks of lay, to which other kinds are scaled."""


def _laying(one: Eater, ticks: Sequence[Tick], daylight: Callable[[Day], float], today: Day) -> Laying:
    layer = layer_of(one.keep.layer)
    begins = one.born + int(7 * layer.start_weeks)
    first = max(one.first, begins, today - (today - begins) % 7 - 7 * WEEKS_BACK)
    first += (begins - first) % 7
    days = 7 * (WEEKS_BACK + WEEKS_ON)
    light = [daylight(day) for day in range(first, first + days)]
    expected_weeks = eggs_by_week(one.heads(first, first + days - 1), one.born, first, light, layer)
    counts = eggs_by_day(ticks)
    whole = [(day, eggs) for day, eggs in sorted(counts.items()) if day <= today]
    weeks = [
        week if _covered(counts, week.first) else week._replace(came=None) for week in against(expected_weeks, whole)
    ]
    this = next((at for at, week in enumerate(weeks) if week.first <= today < week.first + 7), -1)
    told = [week for week in weeks if week.came is not None]
    return Laying(
        one, one.heads(today, today)[0], tuple(weeks), this, sum(week.expected for week in told),
        sum(week.came or 0 for week in told), _fall(ticks, weeks, today),
    )  # fmt: skip


def eggs_by_day(ticks: Sequence[Tick]) -> dict[Day, float]:
    """Eggs of each day: as counted on the round; else a week's count, shared over the days since the one before."""
    daily = eggs_on_the_round(ticks)
    weekly = sorted({tick.on: tick for tick in _counted(ticks, "eggs")}.values(), key=lambda tick: tick.on)
    found: dict[Day, float] = {}
    before: Day | None = None
    for tick in weekly:
        days = min(tick.on - before, LONGEST_COUNT_DAYS) if before is not None else 7
        before = tick.on
        for day in range(tick.on - days + 1, tick.on + 1):
            found[day] = float(tick.measures["eggs"]) / days
    return {**found, **daily}


def eggs_on_the_round(ticks: Sequence[Tick]) -> dict[Day, float]:
    """Eggs of the days on which they were counted as they were collected, morning and evening together."""
    found: dict[Day, float] = {}
    for step in ("morning", "dusk"):
        latest = {tick.key: tick for tick in _counted(ticks, step)}
        for tick in latest.values():
            found[tick.on] = found.get(tick.on, 0.0) + float(tick.measures["eggs"])
    return found


def tell_eggs(book: Book, entry_id: str, eggs: int, on: Day, today: Day, ident: str) -> None:
    """Eggs were collected on a day: taken down on the morning's round, which it does not say was walked.

    Told again for the same day, the later count holds. Raises: NotFound; BadInput for a day to come or too early.
    """
    if on > today:
        raise BadInput({"on": "That day has not come yet."})
    with book.writing() as session:
        one = next((one for one in eaters(book, session, today) if one.entry.id == entry_id and one.keep.layer), None)
        if one is None:
            raise NotFound("There is no such flock here.")
        if on < one.first:
            raise BadInput({"on": "They had not come by then."})
        if eggs > 2 * max(1, *one.heads(on, on)):
            raise BadInput({"eggs": f"That is more than two eggs a bird; {one.heads(on, on)[0]} are put down here."})
        name = key(entry_id, "morning", (label(on),))
        said = Tick(ident, name, "done", on, moment_text(book.now()), {"eggs": eggs})
        store.add_tick(session, said)
        book.replan(session, (), today)


def _counted(ticks: Sequence[Tick], step: str) -> list[Tick]:
    return [
        tick
        for tick in in_force(ticks)
        if tick.kind == "done"
        and isinstance(tick.measures.get("eggs"), int | float)
        and split_key(tick.key).step == step
    ]


def _covered(counts: Mapping[Day, float], first: Day) -> bool:
    return all(day in counts for day in range(first, first + 7))


def _fall(ticks: Sequence[Tick], weeks: Sequence[Week], today: Day) -> Fall | None:
    """A fall of more than a fifth in three days; where only weeks are counted, from one week to the next."""
    daily = eggs_on_the_round(ticks)
    run = [daily[day] for day in range(today - 4, today + 1) if day in daily]
    if len(run) >= 4:
        return Fall(run[-4], run[-1], 3) if fell_suddenly(run) else None
    told = [week for week in weeks if week.came is not None]
    if len(told) < 2 or told[-1].first < today - 21 or not told[-2].share:
        return None
    last, before = told[-1], told[-2]
    if (last.share or 0) < FALL_SHARE * (before.share or 0):
        return Fall(before.came or 0, last.came or 0, 7)
    return None


def _honey(one: Eater, ticks: Sequence[Tick], today: Day) -> Honey:
    colonies = max(1, one.heads(today, today)[0]) if one.first <= today else 1
    years: dict[int, float] = {}
    for tick in in_force(ticks):
        value = tick.measures.get("kg")
        if split_key(tick.key).step == "honey" and isinstance(value, int | float):
            year = date.fromordinal(tick.on).year
            years[year] = years.get(year, 0.0) + value
    kg = tuple(honey_kg(colonies, year) for year in HONEY_YEARS)
    return Honey(one.entry.name, one.entry.id, colonies, kg, tuple(sorted(years.items())))
