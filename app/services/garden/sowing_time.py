"""When a crop is sown here, until when it is worth it, and when what is sown is ripe: from the figures of its sheet."""

from typing import NamedTuple

from app.rules.almanac import Almanac, Yearly
from app.rules.crop import Crop
from app.rules.moment import EntryDate, StepDay, Warmth
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.trade.garden.lastsowing import last_sowing_days
from app.trade.garden.succession import Ripe, last_sowing

FROST_OVER = 90
"""Sowing weeks are counted from the day by which the last frost is over in so many years of a hundred."""
FROST_COME = 50
SHORT_DAY_HOURS = 10.0
SHORT_DAY_DAYS = 14
"""What the shortening days add to a crop's days in autumn; common practice."""
INDOORS_WEEKS = 4
"""How long the sowing under cover may be put off; common practice."""
WINTER_HARDY = "hardy"


class SowingTime(NamedTuple):
    """The days between which a crop is sown this season; ``indoors`` when it is raised under cover."""

    first: Day
    last: Day
    indoors: bool


class LastUseful(NamedTuple):
    """The last day on which a sowing still comes to something, and why."""

    day: Day
    why: str


def sowing_time(almanac: Almanac, crop: Crop, today: Day) -> SowingTime | None:
    """The sowing time that is on or comes next; None where the figures name none, or there is no frost to count from.

    Source: the crop's figures, in weeks from the last frost.
    """
    sowing = crop.sowing
    if sowing is None:
        return None
    if sowing.open_from_weeks is not None and sowing.open_to_weeks is not None:
        first, last, indoors = sowing.open_from_weeks, sowing.open_to_weeks, False
    elif sowing.indoors_weeks is not None:
        first, last, indoors = -sowing.indoors_weeks, INDOORS_WEEKS - sowing.indoors_weeks, True
    else:
        return None
    frost = Yearly("last frost", FROST_OVER)
    found = frost.on_or_after(almanac, today - 7 * last)
    return None if found is None else SowingTime(found[1] + 7 * first, found[1] + 7 * last, indoors)


def harvests(sheet: Sheet) -> list[Step]:
    """The steps of which something for the kitchen comes, in the order of laying."""
    return [step for step in sheet.steps if any(make.kind == "lot" for make in step.makes)]


def ripens(almanac: Almanac, sheet: Sheet) -> Ripe | None:
    """When what is sown is ripe by heat; None where the first harvest is not reckoned by warmth since the sowing."""
    starts = [step.start for step in harvests(sheet)]
    warm = [one for one in starts if isinstance(one, Warmth) and one.since in (StepDay("sow"), EntryDate("date"))]
    if not warm:
        return None
    total, base, by = warm[0].total, warm[0].base, warm[0].by.days

    def ripe(day: Day) -> Day | None:
        found = almanac.warmth(total, base, day)
        return None if found is None else found.best + by

    return ripe


def last_useful(almanac: Almanac, sheet: Sheet, crop: Crop, first: Day) -> LastUseful | None:
    """The last day, from ``first`` on, on which a sowing is still ripe in time; None where nothing bounds it.

    Tender and half-hardy crops must be ripe by the first frost, hardy ones before there are less than ten hours of
    light; and none is sown after its weeks are over. Source: common practice; the days stand on the sheet.
    """
    bounds = [one for one in (_by_window(almanac, crop, first), _by_growth(almanac, sheet, crop, first)) if one]
    return min(bounds, key=lambda one: one.day) if bounds else None


def _by_window(almanac: Almanac, crop: Crop, first: Day) -> LastUseful | None:
    known = sowing_time(almanac, crop, first)
    return LastUseful(known.last, "the last week in which it is sown") if known is not None else None


def _by_growth(almanac: Almanac, sheet: Sheet, crop: Crop, first: Day) -> LastUseful | None:
    hardy = crop.frost == WINTER_HARDY
    end_of = Yearly("day shorter than", SHORT_DAY_HOURS) if hardy else Yearly("first frost", FROST_COME)
    end = end_of.on_or_after(almanac, first)
    if end is None:
        return None
    said = "there are less than ten hours of light" if hardy else "the first frost of most years"
    ripe = ripens(almanac, sheet)
    if ripe is not None:
        found = last_sowing(ripe, first, end[1], end[1])
        return None if found is None else LastUseful(found, f"by its warmth it is ripe before {said}")
    days = crop.growth.low_days if crop.growth is not None else None
    sown = crop.sowing is not None and crop.sowing.open_from_weeks is not None
    if not days or not sown or crop.life == "perennial":
        return None
    whole = last_sowing_days(days, SHORT_DAY_DAYS).best
    why = f"{days} days for a quick kind, and {SHORT_DAY_DAYS} for the shortening days, before {said}"
    return LastUseful(end[1] - whole, why) if end[1] - whole >= first else None
