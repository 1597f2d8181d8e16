"""How much to sow: for so many mouths, metres or plants, with spares, seeds and grams, kilos, and when to sow again."""

from collections.abc import Sequence
from math import ceil
from typing import Literal, NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange
from app.records import store
from app.rules.almanac import Almanac
from app.rules.crop import Crop
from app.rules.facts import Entry
from app.rules.own import ways_of, yield_percent
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.services.book import Book
from app.services.garden.ground import Bed
from app.services.garden.seed_lot import SeedLot
from app.services.garden.seed_tin import tin
from app.services.garden.sowing_time import LastUseful, SowingTime, last_useful, ripens, sowing_time
from app.services.preview import sheet_of
from app.sheets.garden_tables import Need, need_of, up_of
from app.trade.climate.days import index_of
from app.trade.garden import fit, sowing, sprouting, succession

Basis = Literal["mouths", "metres", "plants"]
BASES: tuple[Basis, ...] = ("mouths", "metres", "plants")
Use = Literal["fresh", "stored", "both"]
USES: tuple[Use, ...] = ("fresh", "stored", "both")
USUAL_GERMINATION_PERCENT = 70.0
"""Where no standard names it; common practice."""


class Asked(NamedTuple):
    """What is asked: a crop by its sheet, how many of what, and from when; a ``bed`` it is to go into, or none."""

    sheet: str
    basis: Basis
    amount: float
    use: Use = "both"
    germination_percent: float | None = None
    bed: Bed | None = None
    first: Day | None = None


class Sums(NamedTuple):
    """The answer. Pairs are of the lesser and the larger appetite; the single figures are of their mean.

    ``kg`` is None where no yield is known, ``seeds`` where it is not grown from seed, ``grams`` where nobody counted
    the seeds of a gram. ``germination_from`` says what it was taken from.
    """

    sheet: Sheet
    crop: Crop
    row_m: float
    row_range_m: tuple[float, float]
    plants: int
    spares: int
    seeds: int | None
    grams: float | None
    germination_percent: float
    germination_from: str
    kg: float | None
    own_percent: float
    need: Need | None
    fits: fit.Fit | None
    wanted_m2: float | None
    up: sprouting.Sprouts | None
    soil_c: float | None
    warnings: tuple[str, ...]
    time: SowingTime | None
    first: Day
    last: LastUseful | None
    apart_days: int | None
    sowings: tuple[Day, ...]
    by_heat: tuple[Day, ...]
    tin_seeds: int | None  # what is left in the tin, None where there is none or nobody counted
    in_turn: bool  # whether one entry of the sheet makes all the sowings

    @property
    def dates(self) -> tuple[Day, ...]:
        """The successive sowings, by heat where it is reckoned so; none where one is all."""
        several = self.by_heat if len(self.by_heat) > 1 else self.sowings
        return several if len(several) > 1 else ()


def crops_to_sow(book: Book) -> list[Sheet]:
    """The sheets of crops whose spacing is known, by title."""
    found = [one for one in book.library.sheets.values() if one.crop is not None and _plant_cm(one.crop)]
    return sorted(found, key=lambda one: one.title.casefold())


def reckon(book: Book, session: Session, asked: Asked, today: Day) -> Sums:
    """The answer.

    Raises: BadInput with a sentence per field; NotFound for an unknown sheet; MissingFact before the first run.
    """
    sheet = sheet_of(book, asked.sheet)
    crop, almanac = sheet.crop, book.live(session, today).planner.almanac
    if crop is None or not _plant_cm(crop):
        raise BadInput({"sheet": f"The sheet of ‘{sheet.title}’ says no spacing, so nothing can be reckoned for it."})
    need = need_of(sheet)
    low, high = _row(asked, crop, need)
    row_m = (low + high) / 2
    kept = _in_tin(book, session, crop, today)
    percent, percent_from = _germination(asked, crop, kept)
    try:
        plants = sowing.plants_in(row_m, _plant_cm(crop)) if asked.basis != "plants" else ceil(asked.amount)
        spare = sowing.spares(plants)
        seeds = _seeds(crop, plants + spare, percent)
        a_gram = crop.sowing.seeds_a_gram if crop.sowing is not None else None
        grams = sowing.grams_of(seeds, a_gram) if seeds and a_gram else None
    except OutOfRange as error:
        raise BadInput({"amount": str(error)}) from error
    own = yield_percent(ways_of(Entry("", sheet.id, "", {}, today), store.own_ways(session)))
    kg = sowing.expected_kg(row_m, crop.yields.kg_a_m, own) if crop.yields and crop.yields.kg_a_m else None
    time = sowing_time(almanac, crop, asked.first or today)
    first = asked.first or max(today, time.first if time is not None else today)
    soil_c = _soil_c(book, session, first) if time is not None and not time.indoors else None
    up, warnings = _up(sheet, soil_c)
    last = last_useful(almanac, sheet, crop, first)
    again = crop.sowing.again_days if crop.sowing is not None else None
    apart, by_heat = _again(almanac, sheet, again, first, last)
    fits, wanted = _fit(asked, crop, row_m)
    return Sums(
        sheet, crop, row_m, (low, high), plants, spare, seeds, grams, percent, percent_from, kg, own, need,
        fits, wanted, up, soil_c, (*warnings, *_outside(time, first)), time, first, last, again, apart, by_heat,
        sum(one.seeds or 0 for one in kept) or None,
        any(step.id == "sow" and step.again is not None for step in sheet.steps),
    )  # fmt: skip


def _plant_cm(crop: Crop) -> float:
    return (crop.spacing.plant_cm or 0.0) if crop.spacing is not None else 0.0


def _row(asked: Asked, crop: Crop, need: Need | None) -> tuple[float, float]:
    """The metres of row, for the lesser and the larger appetite."""
    try:
        if asked.basis == "metres":
            sowing.plants_in(asked.amount, _plant_cm(crop))
            return asked.amount, asked.amount
        if asked.basis == "plants":
            row = sowing.row_of_m(asked.amount, _plant_cm(crop))
            return row, row
        if need is None:
            name = crop.many or crop.name or "of this"
            raise BadInput({"basis": f"Nobody says how many {name} a person eats; ask by metres or plants."})
        each = [sum(part) for part in zip(need.fresh, need.stored, strict=True)]
        if asked.use != "both":
            each = list(need.fresh if asked.use == "fresh" else need.stored)
        if not any(each):
            raise BadInput({"use": "Of this crop the table names no amount for that use; choose the other."})
        sizes = each if need.unit == "m" else [sowing.row_of_m(max(one, 1e-6), _plant_cm(crop)) for one in each]
        low, high = (sowing.row_for_mouths_m(asked.amount, max(one, 1e-6)) for one in sizes)
    except OutOfRange as error:
        raise BadInput({"amount": str(error)}) from error
    return low, high


def _in_tin(book: Book, session: Session, crop: Crop, today: Day) -> list[SeedLot]:
    """The lots of this crop's seed that are in the tin, whichever of its sheets they are of."""
    lots = tin(book, session, today).lots
    return [one for one in lots if one.crop is not None and one.crop.name and one.crop.name == crop.name]


def _germination(asked: Asked, crop: Crop, kept: Sequence[SeedLot]) -> tuple[float, str]:
    if asked.germination_percent is not None:
        if not 1 <= asked.germination_percent <= 100:
            raise BadInput({"germination": "Of a hundred seeds, from 1 to 100 can come up."})
        return asked.germination_percent, "as you say"
    tried = [one.test for one in kept if one.test is not None and one.test.share is not None and one.test.up > 0]
    if tried:
        latest = max(tried, key=lambda one: one.on)
        return 100 * latest.up / latest.tried, f"your own test, {latest.up} of {latest.tried}"
    test = crop.test
    if test is not None and (test.least_percent_eu or test.least_percent):
        return float(test.least_percent_eu or test.least_percent or 0), "the least that seed for sale must reach"
    return USUAL_GERMINATION_PERCENT, "common practice"


def _seeds(crop: Crop, plants: int, percent: float) -> int | None:
    if crop.sowing is None or not crop.sowing.seeds_a_gram:
        return None
    return sowing.seeds_for(plants, crop.sowing.seeds_each or 1, percent)


def _soil_c(book: Book, session: Session, day: Day) -> float | None:
    curve = book.season(session).soil_c
    return curve[index_of(day)] if curve else None


def _up(sheet: Sheet, soil_c: float | None) -> tuple[sprouting.Sprouts | None, tuple[str, ...]]:
    """How soon it is up in the soil of the first day; what is wrong with that day."""
    table = up_of(sheet)
    if table is None or soil_c is None:
        return None, ()
    try:
        found = sprouting.sprouts(table.days, table.percent, round(soil_c, 1))
    except OutOfRange:
        low, high = sprouting.comes_up(table.days)
        hint = "wait for warmer soil, or sow under cover" if soil_c < low else "wait for cooler soil"
        there = f"On the first day the soil has about {soil_c:.1f} °C"
        return None, (f"{there}; seed was seen to come up from {low} to {high} °C only: {hint}.",)
    return found, (found.warning,) if found is not None and found.warning else ()


def _again(
    almanac: Almanac, sheet: Sheet, apart: int | None, first: Day, last: LastUseful | None
) -> tuple[tuple[Day, ...], tuple[Day, ...]]:
    """The successive sowings: so many days apart, and by heat where the sheet reckons by it."""
    if not apart or last is None:
        return (), ()
    ripe = ripens(almanac, sheet)
    by_heat: Sequence[Day] = succession.sowings_by_heat(ripe, first, apart, last.day) if ripe is not None else ()
    return tuple(succession.sowings_apart(first, apart, last.day)), tuple(by_heat)


def _fit(asked: Asked, crop: Crop, row_m: float) -> tuple[fit.Fit | None, float | None]:
    spacing = crop.spacing
    if spacing is None or not spacing.row_cm or not spacing.plant_cm:
        return None, None
    wanted = fit.ground_m2(spacing.row_cm, row_m)
    if asked.bed is None:
        return None, wanted
    try:
        return fit.fits(asked.bed.length_m, asked.bed.width_m, spacing.plant_cm, spacing.row_cm), wanted
    except OutOfRange as error:
        raise BadInput({"bed": str(error)}) from error


def _outside(time: SowingTime | None, first: Day) -> tuple[str, ...]:
    if time is None or time.first <= first <= time.last:
        return ()
    return ("That is before its time here; its weeks stand below." if first < time.first else "Its time is over.",)
