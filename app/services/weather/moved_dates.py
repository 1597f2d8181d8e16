"""Dates that this year has moved: jobs whose best day is another than it would be in an ordinary year, and why."""

from collections.abc import Collection, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.almanac import Question
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Task
from app.rules.touch import root
from app.services.book import Book
from app.trade.climate.days import YEAR
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.ordinary import ordinary_year
from app.trade.climate.season import Season

_SOIL = {"soil above": "is at %g °C or more for good from", "soil below": "falls below %g °C on"}
"""The marks that this year's days move, in words; those of frost and light are of all years."""


class MovedDate(NamedTuple):
    """A job ahead whose best day this year's warmth has moved, in the air or in the soil, and why."""

    key: str
    title: str
    entry: str
    was: Day
    best: Day
    why: str


def moved_dates(book: Book, session: Session, season: NormalsSeason, altitude_m: float, today: Day) -> list[MovedDate]:
    """The open jobs whose best day is another than it would be in an ordinary year, soonest first.

    Those entries whose sums of warmth or days of warm soil come otherwise are laid twice by themselves, with this year
    and without.
    Raises: MissingFact while the first run is not done.
    """
    ordinary = ordinary_year(season, today, altitude_m)
    if ordinary is None:
        return []
    live = book.live(session, today)
    asked = {name: _otherwise(laid.asked, season, ordinary) for name, laid in live.laid.items()}
    roots = {root(name) for name, questions in asked.items() if questions}
    if not roots:
        return []
    facts = (
        [entry for entry in live.facts.entries.values() if entry.id in roots],
        [one for name, one in live.facts.amendments.items() if root(name) in roots],
        [tick for name, ticks in live.facts.ticks.items() if root(name) in roots for tick in ticks],
    )
    last = today + YEAR
    now, then = (Live(live.planner.in_season(one), *facts, today, last) for one in (season, ordinary))
    found = _differing(book, now, then, today)
    told = []
    for name, one in found:
        questions = asked.get(name) or [each for some in asked.values() for each in some]
        told.append(one._replace(why=_why(season, ordinary, questions, one.best)))
    return sorted(told, key=lambda one: (one.best, one.key))


def _differing(book: Book, now: Live, then: Live, today: Day) -> list[tuple[str, MovedDate]]:
    """What differs between two plans of the same entries, by entry: of a job that comes round, the next doing alone."""
    found: dict[tuple[str, str], MovedDate] = {}
    for name, laid in now.laid.items():
        before = {task.key: task for task in then.laid[name].tasks} if name in then.laid else {}
        for task in laid.tasks:
            moved = _moved_date(book, laid.entry.sheet, laid.entry.name, task, before.get(task.key), today)
            before_it = found.get((name, task.step))
            if moved and (before_it is None or moved.best < before_it.best):
                found[name, task.step] = moved
    return [(name, one) for (name, _), one in found.items()]


def _otherwise(asked: Collection[Question], season: Season, ordinary: Season) -> list[Question]:
    """The sums of warmth and days of warm soil among what was asked that come otherwise than in an ordinary year."""
    return [one for one in asked if _day(season, one) != _day(ordinary, one)]


def _day(season: Season, question: Question) -> Day | None:
    """The middle day of what was asked, where it is warmth of the air or of the soil; else None."""
    if not question:
        return None
    first, second, third = question
    if not isinstance(first, str):
        spread = season.warmth(first, second, third)
        return None if spread is None else spread.best
    return season.mark(first, second, third) if first in _SOIL else None


def _moved_date(book: Book, sheet: str, entry: str, task: Task, before: Task | None, today: Day) -> MovedDate | None:
    if before is None or task.best is None or before.best is None or task.best == before.best:
        return None
    if task.done is not None or max(task.best, before.best) < today:
        return None
    step = book.steps.get((sheet, task.step))
    return MovedDate(task.key, step.title if step else task.step, entry, before.best, task.best, "")


def _why(season: NormalsSeason, ordinary: Season, questions: Sequence[Question], best: Day) -> str:
    """What the warmth nearest to a job's best day rests on."""
    known = [(abs(day - best), at, day) for at, one in enumerate(questions) if (day := _day(season, one)) is not None]
    if not known:
        return ""
    _, at, day = min(known)
    name, value, since = questions[at]  # type: ignore[misc]  # () has no day
    if not isinstance(name, str):
        return season.why_warmth(name, value, since)
    usual = _day(ordinary, questions[at])
    said = f"soil at 10 cm {_SOIL[name] % value} {_said(day)} by this year so far"
    return said if usual is None else f"{said}; in an ordinary year {_said(usual)}"


def _said(day: Day) -> str:
    on = date.fromordinal(day)
    return f"{on.day} {on:%B}"
