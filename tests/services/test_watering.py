"""A bed's water told: what is measured, what is assumed, and what comes of it."""

from datetime import date
from types import SimpleNamespace

import pytest

from app.rules.crop import Crop, CropWater, Growth, Spacing
from app.rules.terms import Source
from app.services.garden.ground import Bed
from app.services.garden.stands import Stand
from app.services.garden.watering import Account, Weather, account, begins, dry_days, need_of, stages_of
from app.trade.climate.evapotranspiration import hargreaves_mm
from app.trade.climate.radiation import above_the_air_mj

PRACTICE = Source("common practice")
BED = Bed(1, "Long bed", 6, 1.2, soil="loam")
NORMAL = SimpleNamespace(latitude_deg=52.0, min_c=(10.0,) * 365, max_c=(20.0,) * 365, rain_mm=(2.0,) * 365)
SOWN, TODAY = date(2027, 5, 1).toordinal(), date(2027, 6, 20).toordinal()
BEANS = Crop(
    "legumes", "annual", "tender", PRACTICE, name="French bean", many="beans",
    growth=Growth(PRACTICE, 60, 90), spacing=Spacing(PRACTICE, 10, 45),
    water=CropWater(PRACTICE, 0.5, 1.05, 0.9, 0.5, 0.7, 0.45, (15, 25, 25, 10)),
)  # fmt: skip
STAND = Stand("b", "Beans", "french-bean", "beans", "legumes", "Phaseolus vulgaris", "", "Long bed", SOWN, SOWN + 90,
              True, 2.7, BEANS)  # fmt: skip


def told(weather: dict[int, Weather] | None = None, watered: dict[int, float] | None = None, bed: Bed = BED,
         stand: Stand = STAND, today: int = TODAY) -> Account:  # fmt: skip
    found = account(bed, stand, NORMAL, weather or {}, watered or {}, today)
    assert found is not None
    return found


def dry(last: int, count: int) -> dict[int, Weather]:
    return {day: Weather(10, 26, 0.0) for day in range(last - count + 1, last + 1)}


@pytest.mark.published
def test_a_dry_fortnight_makes_beans_thirsty_and_says_how_many_litres() -> None:
    """FAO-56: Hargreaves, Kc of dry bean's stages, p 0.45; checked here by a plain sum of the last days."""
    found = told(dry(TODAY, 20))
    et0 = hargreaves_mm(10, 26, above_the_air_mj(52.0, 171))
    assert found.lines[-1].et0_mm == pytest.approx(et0)
    assert found.wants
    assert found.wants_on == TODAY
    assert found.dry_days == 20
    drawn = sum(line.stood.used_mm for line in found.lines[-20:])
    before = found.lines[-21].stood.owed_mm
    assert found.owed_mm == pytest.approx(before + drawn)
    assert found.litres_a_metre == pytest.approx(found.owed_mm * 0.45)
    assert found.litres_bed == pytest.approx(found.owed_mm * 2.7)


def test_it_is_never_more_certain_than_what_was_read() -> None:
    found = told(dry(TODAY, 20))
    assert len(found.lines) == TODAY - SOWN + 1
    assert (found.measured_warmth, found.measured_rain) == (20, 20)
    some = told({TODAY: Weather(None, None, 3.0), TODAY - 1: Weather(8, 19, None)})
    assert (some.measured_warmth, some.measured_rain) == (1, 1)
    none = told()
    assert (none.measured_warmth, none.measured_rain, none.dry_days) == (0, 0, None)


def test_what_was_given_is_paid_off() -> None:
    thirsty = told(dry(TODAY, 20))
    given = told(dry(TODAY, 20), {TODAY - 1: thirsty.owed_mm})
    assert not given.wants
    assert given.owed_mm < thirsty.ready_mm
    assert given.wants_on is not None
    assert given.wants_on > TODAY


def test_no_rain_falls_under_cover() -> None:
    rainy = {day: Weather(10, 20, 9.0) for day in range(SOWN, TODAY + 1)}
    assert told(rainy).owed_mm == 0
    under = told(rainy, bed=BED._replace(cover="tunnel"))
    assert under.wants
    assert under.measured_rain == 0
    assert under.dry_days is None


def test_where_the_place_s_rain_is_not_known_it_begins_with_what_was_read() -> None:
    """Days without rain in an average year would be a desert; nothing is said of days whose rain nobody knows."""
    unknown = SimpleNamespace(**{**vars(NORMAL), "rain_mm": ()})
    assert account(BED, STAND, unknown, {}, {}, TODAY) is None
    assert account(BED, STAND, unknown, dry(TODAY - 2, 20), {}, TODAY) is None
    found = account(BED, STAND, unknown, dry(TODAY - 1, 6), {}, TODAY)
    assert found is not None
    assert (found.lines[0].day, len(found.lines)) == (TODAY - 6, 7)
    assert account(BED._replace(cover="tunnel"), STAND, unknown, {}, {}, TODAY) is not None


def test_a_soil_that_holds_less_wants_water_sooner() -> None:
    days = {}
    for soil in ("sand", "loam"):
        days[soil] = told(bed=BED._replace(soil=soil), today=SOWN + 5).wants_on
    assert days["sand"] is not None
    assert days["loam"] is not None
    assert days["sand"] < days["loam"]
    assert told(bed=BED._replace(soil=None)).soil == "loam"
    assert not told(bed=BED._replace(soil=None)).soil_said


def test_nothing_is_told_where_nothing_is_known_or_nothing_stands() -> None:
    bare = BEANS.__class__("permanent", "perennial", "hardy", PRACTICE)
    assert account(BED, STAND._replace(crop=bare), NORMAL, {}, {}, TODAY) is None
    assert account(BED, STAND._replace(crop=None), NORMAL, {}, {}, TODAY) is None
    assert account(BED, STAND, NORMAL, {}, {}, SOWN - 1) is None
    assert account(BED, STAND, NORMAL, {}, {}, SOWN + 91) is None


@pytest.mark.common_practice
def test_what_is_cleared_within_two_weeks_is_left_to_ripen() -> None:
    """Onions and garlic want none in their last weeks, and what is pulled tomorrow wants none at all."""
    found = told(dry(TODAY, 20), stand=STAND._replace(last=TODAY + 14))
    assert (found.wants, found.wants_on, found.ripens) == (False, None, True)
    assert told(dry(TODAY, 20), stand=STAND._replace(last=TODAY + 15)).wants
    assert told(dry(TODAY, 20), stand=STAND._replace(last=None)).wants


@pytest.mark.published
def test_a_crop_without_figures_is_watered_as_its_kin() -> None:
    """Onions 0.7, 1.05, 0.75 with p 0.30 and 0.3 m: FAO-56, Tables 12 and 22. Leeks are not in them."""
    leeks = BEANS.__class__("onions", "biennial", "hardy", PRACTICE, name="leek", many="leeks")
    found = need_of(STAND._replace(crop=leeks))
    assert found is not None
    assert (found.crop, found.need, found.root_m) == ("onions", (0.7, 1.05, 0.75, 0.30), 0.3)
    assert told(stand=STAND._replace(crop=leeks)).as_crop == "onions"
    own = need_of(STAND)
    assert own is not None
    assert (own.crop, own.need, own.root_m) == ("", (0.5, 1.05, 0.9, 0.45), 0.5)


@pytest.mark.common_practice
def test_a_winter_fills_the_soil() -> None:
    def on(year: int, month: int, day: int) -> int:
        return date(year, month, day).toordinal()

    assert begins(on(2026, 10, 20), on(2027, 6, 1)) == on(2027, 3, 1)
    assert begins(on(2027, 5, 1), on(2027, 6, 1)) == on(2027, 5, 1)
    assert begins(on(2026, 10, 20), on(2027, 1, 5)) == on(2026, 10, 20)
    assert begins(on(2027, 2, 1), on(2027, 11, 1), southern=True) == on(2027, 9, 1)


@pytest.mark.common_practice
def test_the_run_of_dry_days() -> None:
    wet = {TODAY - 3: Weather(None, None, 4.0)}
    assert dry_days({**dry(TODAY, 3), **wet}, TODAY) == 3
    assert dry_days({**dry(TODAY - 1, 2), **wet}, TODAY) == 2, "today's gauge is not read yet"
    assert dry_days(dry(TODAY - 2, 5), TODAY) is None
    assert dry_days({TODAY: Weather(None, None, 0.9)}, TODAY) == 1
    assert dry_days({TODAY: Weather(None, None, 1.0)}, TODAY) == 0


def test_where_a_crop_s_stages_come_from() -> None:
    assert stages_of(STAND) == ((15, 25, 25, 10), "sheet")
    unsaid = Crop("legumes", "annual", "tender", PRACTICE, name="French bean", growth=Growth(PRACTICE, 60, 90))
    assert stages_of(STAND._replace(crop=unsaid)) == ((15, 25, 25, 10), "table")  # 75 days: FAO-56, Table 11
    other = Crop("roots", "biennial", "hardy", PRACTICE, name="parsnip", growth=Growth(PRACTICE, 120, 200))
    assert stages_of(STAND._replace(crop=other)) == ((38, 48, 52, 22), "estimate")
