"""Fit to paint: now, by three readings; and the days of each month on which it can be expected here."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange
from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.step import Step
from app.rules.tasks import Task
from app.services.book import Book
from app.services.upkeep.elements import Element, coat_step
from app.services.upkeep.plan import upkeep_plan
from app.services.upkeep.there import elements
from app.sheets.upkeep_tables import limits
from app.trade.climate.normals_season import NormalsSeason
from app.trade.reckoned import Job
from app.trade.upkeep.coat_months import (
    DRY_RUN,
    DRY_RUN_OTHERWISE,
    days_of_painting,
    fit_days,
    job_fit_days,
)
from app.trade.upkeep.fit_to_limewash import fit_to_limewash
from app.trade.upkeep.fit_to_paint import Fitness, fit_to_paint
from app.trade.upkeep.painting_months import fits_month, month_for

__all__ = ["ON", "FitMonths", "Fitness", "JobFit", "Readings", "fit_months", "is_it_fit"]

ON: Mapping[str, int] = {"a wall": DRY_RUN["wall"], "wood or metal": DRY_RUN_OTHERWISE}
"""On what it goes, and the run of dry days that asks."""
AHEAD_DAYS = 3 * 366
LIMEWASH = "limewash"
"""It is put on in other weather than paint, and has no fit days of paint's."""


class Readings(NamedTuple):
    """What was read: °C, %, °C of the surface (None: not read), for a kind of coating; and what the forecast says."""

    air_c: float
    humidity_percent: float
    surface_c: float | None
    coating: str
    wall_dry: bool = True
    dry_hours: float | None = None
    tonight_c: float | None = None


class JobFit(NamedTuple):
    """A coat to come: the month (1 to 12) of its best day, the days it takes, the fit days that month has.

    ``other`` is the month nearest to it that has enough, None when none has; ``other_days`` what that one has.
    """

    title: str
    element: Element
    task: Task
    month: int
    takes_days: int
    fit_days: float
    fits: bool
    other: int | None
    other_days: float


class FitMonths(NamedTuple):
    """Fit days for each month, January first, for a coating on something; empty where the place's rain is not known."""

    coating: str
    on: str
    days: tuple[float, ...]
    jobs: tuple[JobFit, ...]


def is_it_fit(book: Book, session: Session, asked: Readings, today: Day) -> Fitness:
    """Whether a coating takes now, with every reason.

    Raises: BadInput with a sentence beside the reading that can't be.
    """
    try:
        if asked.coating == LIMEWASH:
            return _limewash(book, session, asked, today)
        return fit_to_paint(
            asked.air_c, asked.humidity_percent, asked.surface_c, limits()[asked.coating],
            dry_hours_ahead=asked.dry_hours, lowest_tonight_c=asked.tonight_c, wall_dry=asked.wall_dry,
        )  # fmt: skip
    except OutOfRange as error:
        field = "humidity" if "humidity" in error.name else "surface" if "surface" in error.name else "air"
        raise BadInput({field: f"{error}"}) from error


def _limewash(book: Book, session: Session, asked: Readings, today: Day) -> Fitness:
    season = book.season(session)
    frost = likely_frost(season, today)
    return fit_to_limewash(
        asked.air_c, asked.humidity_percent, asked.surface_c, date.fromordinal(today),
        None if frost is None else date.fromordinal(frost), asked.dry_hours, asked.tonight_c, season.latitude_deg < 0,
    )  # fmt: skip


def likely_frost(season: NormalsSeason, today: Day) -> Day | None:
    """The next day on which a frost is likely: today while the last ones of spring are not over in half the years,
    else the first one that a year in five has; None where there is none.

    Source: the season's marks, those between which the sheet of limewash lies.
    """
    over, comes = _next(season, "last frost", 50, today), _next(season, "first frost", 20, today)
    return today if over is not None and (comes is None or over < comes) else comes


def _next(season: NormalsSeason, mark: str, chance: int, today: Day) -> Day | None:
    year = date.fromordinal(today).year
    days = (season.mark(mark, chance, each) for each in range(year - 1, year + 3))
    return min((day for day in days if day is not None and day > today), default=None)


def fit_months(book: Book, session: Session, coating: str, on: str, today: Day) -> FitMonths:
    """What a year's months give, and whether the coats to come lie in months that have them.

    Raises: MissingFact while the first run is not done.
    """
    season = book.season(session)
    days = fit_days(season, limits()[coating].least_c, ON[on])
    far = upkeep_plan(book, session, today)
    kept: tuple[NormalsSeason, tuple[JobFit, ...]] | None = far.kept.get("fit")
    if kept is None or kept[0] is not season:
        every = elements(book, session, today) if days else ()
        jobs = [job for one in every for job in _jobs(one, far.laid[one.entry.id].tasks, season, today)]
        jobs.sort(key=lambda job: (job.task.best or 0, job.task.key))
        kept = far.kept["fit"] = (season, tuple(jobs))
    return FitMonths(coating, on, days, kept[1])


def _jobs(one: Element, tasks: tuple[Task, ...], season: NormalsSeason, today: Day) -> list[JobFit]:
    """The next coat of an element, and every coat of a repair that is under way."""
    wanting = {step.id: step for step in one.sheet.steps if step.needs.dry and step.needs.above_c is not None}
    coat = coat_step(one.sheet)
    found: list[JobFit] = []
    seen: set[str] = set()
    for task in sorted(tasks, key=lambda each: each.best or 0):
        step = wanting.get(task.step)
        asked = state(task, today) in ASKED | {State.TO_COME}
        if step is None or task.best is None or not asked or task.step in seen or task.best > today + AHEAD_DAYS:
            continue
        seen.add(task.step)
        if coat is not None or step.again is not None:
            found.append(_job(one, step, task, season, today))
    return found


def _job(one: Element, step: Step, task: Task, season: NormalsSeason, today: Day) -> JobFit:
    job = Job(task.minutes, step.needs.people, one.sheet.kind, step.needs.above_c, step.needs.dry)
    fit, takes = job_fit_days(season, job), days_of_painting(job)
    month = date.fromordinal(max(task.best or 0, today)).month
    other = month_for(takes, fit, month)
    return JobFit(
        step.title, one, task, month, takes, fit[month - 1], fits_month(takes, fit[month - 1]), other,
        fit[other - 1] if other is not None else 0.0,
    )  # fmt: skip
