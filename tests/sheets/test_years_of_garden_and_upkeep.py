"""Years of the real garden and upkeep sheets, against dates that handbooks, statutes and the trade give.

Each date comes from the source named beside it and not from the program. The season is a made-up one with its marks on
round days, so that the arithmetic can be followed by hand.
"""

from collections.abc import Mapping
from datetime import date
from functools import cache

import pytest

from app.rules.facts import Holding, Tick
from app.rules.plan import plan
from app.rules.spans import Day
from app.rules.tasks import Fate, Plan
from app.rules.terms import Nation
from app.sheets.library import Library, load
from app.trade.climate.season import Spread
from tests.rules.kit import day, done, entry, iso, task, window


@cache
def library() -> Library:
    return load()


class RoundSeason:
    """Last frost 15 May at 90 %, first frost 15 October at 10 and 20 %; the rest on the days below."""

    DAYS: Mapping[str, tuple[tuple[float, int, int], ...]] = {
        "last frost": ((50, 5, 1), (90, 5, 15)),
        "first frost": ((10, 10, 15), (20, 10, 15), (50, 11, 1)),
        "soil above": ((5, 3, 20), (6, 4, 1), (7, 4, 10), (8, 4, 20), (9, 5, 1)),
        "soil below": ((10, 10, 7), (7, 11, 4), (5, 11, 20)),
        "day longer than": (
            (9, 2, 1), (10, 2, 20), (12, 3, 20), (12.5, 3, 26), (13, 4, 2), (14, 4, 16), (15.5, 5, 9), (16, 5, 18)
        ),
        "day shorter than": (
            (15.5, 8, 4), (15, 8, 13), (13, 9, 13), (12, 9, 27), (11, 10, 10), (10, 10, 25),
            (9, 11, 10)
        ),
    }  # fmt: skip

    def mark(self, name: str, value: float, year: int) -> Day | None:
        return next((date(year, m, d).toordinal() for at, m, d in self.DAYS[name] if at == value), None)

    def warmth(self, total: float, base: float, since: Day) -> Spread | None:
        days = int(total // 8)
        return Spread(since + days - 7, since + days, since + days + 7)


def made(
    sheet: str,
    on: str,
    *ticks: Tick,
    as_of: str,
    last: str = "2031-01-01",
    nation: Nation = "england",
    **facts: int | str | bool,
) -> Plan:
    """The plan of one entry of a real sheet."""
    holding = Holding(nation, RoundSeason())
    entries = [entry("e", sheet, on, told=min(on, as_of), place="Long bed", **facts)]
    return plan(holding, library().sheets, library().law, entries, (), ticks, day(as_of), day(last))


def best(found: Plan, key: str) -> str | None:
    return iso(task(found, f"e.{key}").best)


# ── Garden ────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("sheet", "sown", "planted"),
    [("tomato", "2027-03-20", "2027-05-29"), ("leek-seed", "2027-02-27", "2027-05-29")],
)
def test_weeks_before_and_after_the_last_frost(sheet: str, sown: str, planted: str) -> None:
    """Tomato eight weeks indoors and out two weeks after the frost, leek eleven and two: last frost on 15 May."""
    found = made(sheet, "2027-02-01", as_of="2027-01-05")

    assert (best(found, "sow"), best(found, "plant")) == (sown, planted)


@pytest.mark.common_practice
def test_a_late_sowing_moves_the_planting_out() -> None:
    """Six weeks from seed to planting out: sown on 1 May, out on 12 June and not on 29 May."""
    found = made("tomato", "2027-05-01", done("e.sow", "2027-05-01"), as_of="2027-05-02")

    assert best(found, "plant") == "2027-06-12"


@pytest.mark.common_practice
def test_tomato_seed_begun_on_the_first_of_september() -> None:
    """Rinse on the 4th, late on the 6th; look for dry seed a week on, packed within two."""
    found = made("tomato", "2027-03-20", done("e.ferment", "2027-09-01"), as_of="2027-09-01", room_c=25)

    assert window(found, "e.rinse") == ("2027-09-04", "2027-09-04", "2027-09-05")
    assert best(found, "tin") == "2027-09-11"


@pytest.mark.published
def test_a_parsnip_flowers_and_is_cut_in_its_second_summer() -> None:
    """The Manual of Seed Saving: flowers in year two, cut six weeks or more after, in about three passes."""
    found = made("parsnip-seed", "2027-04-10", as_of="2027-04-11")

    flower, first, third = (day(best(found, key) or "") for key in ("flower", "cut.1", "cut.3"))
    assert date.fromordinal(flower).year == 2028
    assert first - flower >= 42
    assert date.fromordinal(third).month in (8, 9)
    assert not any(each.step in ("sand", "replant") for each in found.tasks)


@pytest.mark.common_practice
def test_seed_roots_lifted_into_sand_are_replanted_in_spring() -> None:
    """Kept in damp sand over the winter and set out again in March or April."""
    ticks = (done("e.choose", "2027-10-25", way="lifted into sand"),)
    found = made("parsnip-seed", "2027-04-10", *ticks, as_of="2027-10-26")

    assert best(found, "sand") == "2027-10-28"
    assert best(found, "replant") == "2028-04-01"


@pytest.mark.common_practice
def test_the_last_salad_is_sown_59_days_before_ten_hours_of_light() -> None:
    """45 days to grow and 14 for the short days: ten hours on 25 October, so 27 August at the latest."""
    found = made("salad", "2027-04-10", as_of="2027-04-10")
    sowings = [each.best for each in found.tasks if each.step == "sow"]

    assert day("2027-08-06") < max(each for each in sowings if each) <= day("2027-08-27")


@pytest.mark.from_memory
def test_after_blight_the_tops_come_off_at_once_and_the_tubers_wait() -> None:
    """Royal Horticultural Society: haulm off as soon as it is seen, tubers lifted two to three weeks later."""
    found = made("potato-blight", "2027-07-20", as_of="2027-07-20")

    assert best(found, "cut") == "2027-07-20"
    assert window(found, "e.lift") == ("2027-08-03", "2027-08-10", "2027-08-31")


# ── Upkeep ────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize("nation", ["england", "scotland", "wales", "northern ireland", "ireland"])
def test_a_field_hedge_is_not_cut_from_march_to_august(nation: Nation) -> None:
    """SI 2024/680, regulation 6, and the like elsewhere: 28 February yes, 1 March not before 1 September."""
    on_time = made("hedge", "2026-02-10", as_of="2027-02-28", nation=nation)
    too_late = made("hedge", "2026-02-10", as_of="2027-03-01", nation=nation)

    assert task(on_time, "e.cut.2027").fate is Fate.PLAIN
    assert (task(on_time, "e.cut.2027").closes or 0) <= day("2027-02-28")
    assert window(too_late, "e.cut.2027")[0] == "2027-09-01"
    assert task(too_late, "e.cut.2027").fate is Fate.BARRED


@pytest.mark.published
@pytest.mark.parametrize(("nation", "barred"), [("england", False), ("ireland", True)])
def test_a_garden_hedge_is_barred_where_the_law_knows_no_gardens(nation: Nation, barred: bool) -> None:
    """SI 2024/680 leaves out what bounds a dwelling's garden; section 40 of the Irish Wildlife Act names any hedge."""
    found = made("hedge", "2026-02-10", as_of="2027-03-01", nation=nation, bounds="garden")

    assert not [each for each in found.tasks if each.step == "cut"]
    assert (task(found, "e.trim.2026").opens or 0) >= day("2027-09-01" if barred else "2026-09-01")


@pytest.mark.common_practice
def test_a_cement_patch_stands_28_days_before_its_first_coat() -> None:
    """Patched on 1 May: first coat on 29 May, the second a day on, the plinth after the wall."""
    ticks = (done("e.look.2027", "2027-04-10", found="hollow"), done("e.patch.2027", "2027-05-01"))
    found = made("rendered-wall", "2024-06-01", *ticks, as_of="2027-05-02")

    assert [best(found, f"{step}.2027") for step in ("coat1", "coat2", "plinth1", "plinth2")] == [
        "2027-05-29",
        "2027-05-30",
        "2027-06-01",
        "2027-06-02",
    ]


@pytest.mark.published
def test_a_cement_patch_stands_120_days_before_paint_that_seals_it() -> None:
    """A paint maker's page on cement rendering (icipaints.co.uk): 120 days over solid brick, patched on 1 May."""
    ticks = (done("e.look.2027", "2027-04-10", found="hollow"), done("e.patch.2027", "2027-05-01"))
    found = made("rendered-wall", "2024-06-01", *ticks, as_of="2027-05-02", paint="sealing")

    assert best(found, "coat1.2027") == "2027-08-29"


@pytest.mark.common_practice
def test_a_wall_found_hollow_too_late_to_be_painted_waits_for_spring() -> None:
    """The whole chain inside the painting season, or not begun: a month's cure does not fit into September. The season
    begins when the place is warm enough, here on 20 April."""
    found = made("rendered-wall", "2024-06-01", done("e.look.2027", "2027-08-20", found="hollow"), as_of="2027-08-25")

    assert best(found, "hack.2027") == "2028-04-20"


@pytest.mark.published
def test_stain_of_june_2020_is_due_in_june_2025() -> None:
    """Wood Handbook, table 16-5: semi-transparent stain, five years of its four to eight."""
    found = made("timber-gate", "2020-06-15", as_of="2020-07-01")

    assert best(found, "coat.1") == "2025-06-15"


@pytest.mark.published
def test_what_hangs_from_the_sweeps_day_follows_the_day_he_gave() -> None:
    """Swept before the first fire, and wood every quarter in use (fire service): lit on 7 October, again in January."""
    booked = done("e.book.2027", "2027-07-02", day=day("2027-09-14"))
    found = made("chimney-sweep", "2026-09-10", booked, as_of="2027-07-03")

    assert window(found, "e.sweep.2027") == ("2027-09-14", "2027-09-14", "2027-09-14")
    assert [best(found, f"{step}.2027") for step in ("clear", "alarm")] == ["2027-09-13", "2027-09-15"]
    assert best(found, "again.2027.1") == "2028-01-06"


@pytest.mark.common_practice
def test_pipes_are_lagged_three_weeks_before_the_first_likely_frost() -> None:
    """First frost likely on 15 October: done by 24 September, three weeks ahead."""
    found = made("pipes-before-frost", "2027-01-01", as_of="2027-01-05")

    assert best(found, "lag.2027") == "2027-09-24"
