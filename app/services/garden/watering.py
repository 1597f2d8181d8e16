"""A bed's water, told: what it wants today, the account behind it, and how much of that was measured.

The account begins with a full soil: on the day of sowing or planting, or at the end of the winter where it stood
through one. It rests on the household's readings where there are any, and on an average year for the other days.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple, Protocol

from app.errors import OutOfRange
from app.rules.spans import Day
from app.services.garden.ground import Bed
from app.services.garden.stands import Stand
from app.trade.climate.days import index_of
from app.trade.climate.evapotranspiration import hargreaves_mm
from app.trade.climate.radiation import above_the_air_mj
from app.trade.garden.soils import soil
from app.trade.garden.stages import Stages, estimated_stages, table_stages
from app.trade.garden.water import GROUP_NEEDS, GroupNeed, Need, Stood, WaterDay, balance, litres_a_metre

WET_MM = 1.0
"""A day with less rain counts as dry; the usual threshold of a wet day."""
RIPENS_DAYS = 14
"""So long before it is cleared a crop is left to ripen dry; common practice."""
AHEAD_DAYS = 45
"""So far ahead is it looked when water will be wanted."""
MOST_DAYS = 300
_SPRING = 3, 1


class Weather(NamedTuple):
    """What was read on a day; None where it was not."""

    min_c: float | None
    max_c: float | None
    rain_mm: float | None


class Normal(Protocol):
    """An average year of the place, 365 days."""

    @property
    def latitude_deg(self) -> float:
        """North positive."""
        ...

    @property
    def min_c(self) -> Sequence[float]:
        """Daily lowest."""
        ...

    @property
    def max_c(self) -> Sequence[float]:
        """Daily highest."""
        ...

    @property
    def rain_mm(self) -> Sequence[float]:
        """Rain a day; empty where it is not known."""
        ...


class Line(NamedTuple):
    """A day of the account: what the air drew of short grass and what of it the crop drew, what came, what is owed.

    ``warmth`` and ``rain`` say whether they were measured here.
    """

    day: Day
    et0_mm: float
    rain_mm: float
    watered_mm: float
    stood: Stood
    warmth: bool
    rain: bool


class Account(NamedTuple):
    """A crop's water in a bed. Litres are None where the spacing is not known.

    ``wants_on`` is the day on which it will want water if no rain falls: today when it does already, None when not
    within six weeks. ``dry_days`` is the run of days without rain, None where rain is not read here.
    ``as_crop`` is whose figures stand in for it, "" where it has its own; ``ripens`` says that it will be cleared so
    soon that it wants no more water.
    """

    stand: Stand
    lines: tuple[Line, ...]
    stages: Stages
    stages_from: str
    owed_mm: float
    ready_mm: float
    store_mm: float
    wants: bool
    wants_on: Day | None
    litres_a_metre: float | None
    litres_bed: float
    dry_days: int | None
    measured_warmth: int
    measured_rain: int
    soil: str
    soil_said: bool
    as_crop: str
    ripens: bool


def account(
    bed: Bed,
    stand: Stand,
    normal: Normal,
    weather: Mapping[Day, Weather],
    watered_mm: Mapping[Day, float],
    today: Day,
) -> Account | None:
    """The account of what stands in a bed; None for a crop of which no figures of water are known, or not there yet.

    Where the place's rain is not known, it begins with the last run of days on which rain was read; None without one.
    Source: `app.trade.garden.water`; the full soil at the start is common practice.
    """
    drawn = need_of(stand)
    if drawn is None or stand.crop is None or not stand.holds(today):
        return None
    first = _first(bed, stand, normal, weather, today)
    if first > today:
        return None
    stages, said = stages_of(stand)
    days = [_day(day, bed, normal, weather, watered_mm) for day in range(first, today + 1)]
    ahead = [_day(day, bed, normal, {}, {}) for day in range(today + 1, today + AHEAD_DAYS + 1)]
    dry = [one.day._replace(rain_mm=0.0) for one in ahead]
    kind = soil(bed.soil)
    # What stays for years begins its stages anew each spring.
    number = 1 if stand.crop.rotation == "permanent" else first - stand.first + 1
    every = [one.day for one in days] + dry
    stood = balance(every, drawn.need, stages, kind.available, drawn.root_m, number)
    now, later = stood[len(days) - 1], stood[len(days) - 1 :]
    ripens = stand.last is not None and stand.last - today <= RIPENS_DAYS
    wants_on = None if ripens else next((today + n for n, one in enumerate(later) if one.wants), None)
    row_cm = stand.crop.spacing.row_cm if stand.crop.spacing is not None else None
    return Account(
        stand, _lines(first, days, stood), stages, said, now.owed_mm, now.ready_mm, now.store_mm,
        now.wants and not ripens, wants_on,
        litres_a_metre(now.owed_mm, row_cm) if row_cm else None,
        now.owed_mm * min(bed.area_m2, stand.ground_m2 or bed.area_m2),
        dry_days(weather, today) if not bed.covered else None,
        sum(one.warmth for one in days), sum(one.rain for one in days), kind.name, bed.soil is not None, drawn.crop,
        ripens,
    )  # fmt: skip


def _first(bed: Bed, stand: Stand, normal: Normal, weather: Mapping[Day, Weather], today: Day) -> Day:
    first = begins(stand.first, today, southern=normal.latitude_deg < 0)
    return first if bed.covered or len(normal.rain_mm) else max(first, since_read(weather, today))


def _lines(first: Day, days: Sequence["_Given"], stood: Sequence[Stood]) -> tuple[Line, ...]:
    return tuple(
        Line(first + n, one.day.et0_mm, one.day.rain_mm, one.day.watered_mm, stood[n], one.warmth, one.rain)
        for n, one in enumerate(days)
    )


class _Given(NamedTuple):
    day: WaterDay
    warmth: bool
    rain: bool


def _day(day: Day, bed: Bed, normal: Normal, weather: Mapping[Day, Weather], watered_mm: Mapping[Day, float]) -> _Given:
    """A day's water: measured where it was, else of an average year; under cover no rain falls."""
    read = weather.get(day)
    at = index_of(day)
    warmth = read is not None and read.min_c is not None and read.max_c is not None
    low = read.min_c if read is not None and read.min_c is not None and warmth else normal.min_c[at]
    high = read.max_c if read is not None and read.max_c is not None and warmth else normal.max_c[at]
    rain = read is not None and read.rain_mm is not None
    fallen = read.rain_mm if read is not None and read.rain_mm is not None else _usual_rain(normal, at)
    et0 = hargreaves_mm(low, max(low, high), above_the_air_mj(normal.latitude_deg, at + 1))
    water = WaterDay(et0, 0.0 if bed.covered else fallen, watered_mm.get(day, 0.0))
    return _Given(water, warmth, rain and not bed.covered)


def _usual_rain(normal: Normal, at: int) -> float:
    return normal.rain_mm[at] if len(normal.rain_mm) > at else 0.0


def begins(first: Day, today: Day, *, southern: bool = False) -> Day:
    """The day an account begins with a full soil: when it was sown, or the last end of winter after that.

    Source: common practice; a winter fills the soil.
    """
    month, day = (9, 1) if southern else _SPRING
    year = date.fromordinal(today).year
    springs = [date(y, month, day).toordinal() for y in (year - 1, year)]
    last = max((spring for spring in springs if spring <= today), default=first)
    return max(first, last, today - MOST_DAYS)


def need_of(stand: Stand) -> GroupNeed | None:
    """A crop's coefficients and roots: its own, else those of the best known crop of its group, named then.

    Of the two depths of roots the lesser counts, which is the one for watering. None for what stays for years and has
    no figures of its own.
    Source: FAO-56, 1998, Table 22, note 1: the smaller values for irrigation scheduling; `GROUP_NEEDS`.
    """
    crop = stand.crop
    if crop is None:
        return None
    water = crop.water
    if water is None or None in (water.kc_start, water.kc_mid, water.kc_end, water.depletion):
        return GROUP_NEEDS.get(crop.rotation)
    need = Need(water.kc_start or 0.0, water.kc_mid or 0.0, water.kc_end or 0.0, water.depletion or 0.0)
    return GroupNeed("", need, water.root_low_m or water.root_high_m or 0.4)


def stages_of(stand: Stand) -> tuple[Stages, str]:
    """The crop's stages: as its sheet says, else of FAO's table, else parted from its days to maturity; and which."""
    crop = stand.crop
    if crop is not None and crop.water is not None and crop.water.stages_days is not None:
        return Stages(*crop.water.stages_days), "sheet"
    growth = crop.growth if crop is not None else None
    known = [n for n in ((growth.low_days, growth.high_days) if growth is not None else ()) if n]
    days = sum(known) / len(known) if known else 120.0
    table = table_stages(crop.name, days) if crop is not None and crop.name else None
    if table is not None:
        return table, "table"
    try:
        return estimated_stages(days), "estimate"
    except OutOfRange:
        return estimated_stages(min(400.0, max(20.0, days))), "estimate"


def since_read(weather: Mapping[Day, Weather], today: Day) -> Day:
    """The first day of the run of days up to today, or yesterday, on which rain was read; tomorrow where there is none.

    Source: none; counting.
    """
    day = today if _rain(weather, today) is not None else today - 1
    if _rain(weather, day) is None:
        return today + 1
    while _rain(weather, day - 1) is not None:
        day -= 1
    return day


def dry_days(weather: Mapping[Day, Weather], today: Day) -> int | None:
    """How many days there was no rain to speak of, today the last; None where it was not read today or yesterday.

    A day that was not read ends the run: nothing is said of it.
    Source: `WET_MM`.
    """
    start = next((day for day in (today, today - 1) if _rain(weather, day) is not None), None)
    if start is None:
        return None
    run = 0
    while (rain := _rain(weather, start - run)) is not None and rain < WET_MM:
        run += 1
    return run


def _rain(weather: Mapping[Day, Weather], day: Day) -> float | None:
    read = weather.get(day)
    return read.rain_mm if read is not None else None
