"""The month in which a coat is put on: the one it falls due in, or the nearest that has the days it takes."""

from datetime import date
from functools import lru_cache
from math import ceil

from app.trade.climate.days import MONTH_DAYS
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.season import Season
from app.trade.climate.year import months_of
from app.trade.reckoned import Job
from app.trade.upkeep.painting_months import MonthMeans, fits_month, month_for, painting_days

HOURS_A_DAY = 4.0
"""Hours of painting in a fit day: those for which the weather is reckoned."""
DRY_RUN = {"wall": 3}
DRY_RUN_OTHERWISE = 2
"""The run of dry days that a kind of thing asks: a wall must have dried the day before, too."""
LEAST_C = 5.0
LEAST_LIGHT_H = 12.0
MIDDLE = 15


@lru_cache(maxsize=4)
def month_means(season: NormalsSeason) -> tuple[MonthMeans, ...]:
    """The place's twelve months as painting asks for them, January first; none where its wet days are not known.

    Source: `months_of`.
    """
    months = months_of(season)
    if any(one.dry_days is None for one in months):
        return ()
    return tuple(
        MonthMeans(
            days, days - (one.dry_days or 0.0), min(one.frost_nights, days), one.max_c, one.min_c, one.day_hours
        )
        for one, days in zip(months, MONTH_DAYS, strict=True)
    )  # fmt: skip


def fit_days(season: NormalsSeason, least_c: float, run: int) -> tuple[float, ...]:
    """The fit days of each month, January first; none where the place's wet days are not known.

    Source: `painting_days`.
    """
    return tuple(painting_days(one, run, least_c, HOURS_A_DAY) for one in month_means(season))


def job_fit_days(season: NormalsSeason, job: Job) -> tuple[float, ...]:
    """The days of each month that are fit for a job, by what it asks of the day and what it is done to.

    Source: `painting_days`; 5 °C where nothing else is said: common practice.
    """
    least_c = LEAST_C if job.least_c is None else job.least_c
    return fit_days(season, least_c, DRY_RUN.get(job.kind, DRY_RUN_OTHERWISE))


@lru_cache(maxsize=64)
def _in_long_days(season: NormalsSeason, kind: str, least_c: float | None) -> tuple[float, ...]:
    fit = job_fit_days(season, Job(0, 1, kind, least_c))
    return tuple(
        days if month.light_h >= LEAST_LIGHT_H else 0.0 for days, month in zip(fit, month_means(season), strict=True)
    )


def days_of_painting(job: Job) -> int:
    """On how many fit days so much work is done, by all its hands.

    Source: arithmetic, four hours to a day.
    """
    return max(1, ceil(job.minutes / 60 / HOURS_A_DAY / max(1, job.people)))


def in_fit_month(day: int, job: Job | None, season: Season | None) -> int:
    """A day number moved into the nearest month that has the fit days a job takes, the earlier of two as near.

    It stays where it is when its own month has them, when no month has, when the job asks for no dry day, or where the
    place's wet days are not known. Months whose days are shorter than twelve hours are left out, as the painting
    season of every sheet ends with them; in another month the middle is taken.
    Source: design rule: the nearest month whose fit days cover the job, earlier rather than later.
    """
    if job is None or not job.dry or not isinstance(season, NormalsSeason):
        return day
    fit = _in_long_days(season, job.kind, job.least_c)
    if not fit:
        return day
    on, takes = date.fromordinal(day), days_of_painting(job)
    if fits_month(takes, fit[on.month - 1]):
        return day
    month = month_for(takes, fit, on.month)
    if month is None:
        return day
    apart = (month - on.month + 6) % 12 - 6
    index = on.year * 12 + on.month - 1 + apart
    return date(index // 12, index % 12 + 1, MIDDLE).toordinal()
