"""Dates of upkeep sheets against what statutes, the fire service, electricians and handbooks say, and the law by day.

Each date comes from the source named beside it. The season is the made-up one of the garden's years: days of twelve
hours end on 27 September, the first frost is likely on 15 October.
"""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.rules.bars import closed_seasons
from app.rules.facts import Holding, Law
from app.rules.plan import plan
from app.rules.spans import Day
from app.rules.tasks import Fate
from app.rules.terms import NATIONS, Nation
from app.sheets.law import rules_for
from app.sheets.places import places
from app.sheets.upkeep_tables import before_winter, coatings
from app.trade.climate.normals_season import NormalsSeason
from tests.rules.kit import day, done, entry, iso, task, window
from tests.sheets.test_crop_months import PLACES
from tests.sheets.test_years_of_garden_and_upkeep import best, library, made

THIS_YEAR = "2026-11-25"

# ── The law by day ────────────────────────────────────────────────────────────────────────────────────────────────


def barred(nation: Nation, act: str, on: Day) -> bool:
    """Whether the law of the land forbids an act on a day."""
    return any(act in bar.acts and bar.first <= on <= (bar.last or on) for bar in closed_seasons(
        Law(library().law.bars), nation, on, on))  # fmt: skip


@pytest.mark.published
@pytest.mark.parametrize(
    ("on", "expected"),
    [
        ("2025-02-28", False), ("2025-03-01", True), ("2025-08-31", True), ("2025-09-01", False),
        ("2024-02-29", False), ("2024-03-01", False), ("2024-05-22", False), ("2024-05-23", True),
        ("2024-08-31", True), ("2028-02-29", False), ("2028-03-01", True),
    ],
)  # fmt: skip
def test_hedges_in_england(on: str, expected: bool) -> None:
    """SI 2024/680, regulation 6: 1 March to 31 August, both days among it, in force from 23 May 2024."""
    assert barred("england", "cut hedge", day(on)) is expected


@pytest.mark.published
@pytest.mark.parametrize(
    ("nation", "act", "last_free", "first_free"),
    [
        ("england", "burn", "2025-04-15", "2025-10-01"), ("england", "burn lowland", "2025-03-31", "2025-11-01"),
        ("wales", "burn", "2025-03-31", "2025-10-01"), ("wales", "burn lowland", "2025-03-15", "2025-11-01"),
        ("scotland", "burn", "2025-04-15", "2025-10-01"), ("northern ireland", "burn", "2025-04-14", "2025-09-01"),
        ("ireland", "burn", "2025-02-28", "2025-09-01"), ("england", "lay hedge", "2025-04-30", "2025-09-01"),
        ("wales", "lay hedge", "2025-03-31", "2025-09-01"), ("scotland", "lay hedge", "2025-03-31", "2025-09-01"),
        ("ireland", "cut hedge", "2025-02-28", "2025-09-01"), ("wales", "cut hedge", "2025-02-28", "2025-09-01"),
    ],
)  # fmt: skip
def test_closed_seasons_by_nation(nation: Nation, act: str, last_free: str, first_free: str) -> None:
    """SI 2021/158; gov.wales on burning; Hill Farming Act, section 23; DARD notice 2014; Wildlife Act, section 40;
    hedge laying in April in England and in March in Scotland and Wales."""
    assert [barred(nation, act, day(last_free) + step) for step in (0, 1)] == [False, True]
    assert [barred(nation, act, day(first_free) - step) for step in (0, 1)] == [False, True]


@pytest.mark.published
def test_heather_on_10_april_is_in_season_on_the_hill_and_not_below() -> None:
    """SI 2021/158: uplands to 15 April, elsewhere to 31 March."""
    assert not barred("england", "burn", day("2025-04-10"))
    assert barred("england", "burn lowland", day("2025-04-10"))


@pytest.mark.published
@settings(max_examples=60)
@given(st.dates(date(2025, 1, 1), date(2040, 12, 31)), st.sampled_from(NATIONS))
def test_a_hedge_is_barred_on_the_same_days_of_every_year(on: date, nation: Nation) -> None:
    """The calendar's days, leap years or not, in no nation shifted; and none where no nation's law is on file."""
    months = {"elsewhere": ()}.get(nation, (3, 4, 5, 6, 7, 8))
    assert barred(nation, "cut hedge", on.toordinal()) is (on.month in months)


@pytest.mark.published
@pytest.mark.parametrize(("bounds", "opens"), [("field", "2027-09-01"), ("garden", None),
                                               ("field, under 20 m and joined to none", None)])  # fmt: skip
def test_what_the_ban_does_not_reach_still_asks_for_nests(bounds: str, opens: str | None) -> None:
    """SI 2024/680: hedges of 20 m, or joined at both ends, not round a garden; nests are protected at any date."""
    found = made("hedge", "2026-02-10", as_of="2027-03-01", bounds=bounds)

    cut = [each for each in found.tasks if each.step in ("cut", "trim") and each.fate is Fate.BARRED]
    assert [iso(each.opens) for each in cut[:1]] == ([opens] if opens else [])
    hedge = library().sheets["hedge"]
    assert all("bats-and-birds" in step.cautions for step in hedge.steps if step.id in ("walk", "cut", "trim"))


@pytest.mark.published
def test_every_law_says_when_it_was_last_looked_up_and_holds_on_its_days_alone() -> None:
    """SI 2025/1000: peat deeper than 30 cm from 30 September 2025, 40 cm before; alarms in Scotland from 2022."""
    rules, checked = library().rules, day("2026-11-25")
    assert all(bar.checked for bar in library().law.bars)
    assert all(one.checked >= checked for one in rules)
    peat = {on: rules_for(rules, "england", "heather-burning", day(on)) for on in ("2025-09-29", "2025-09-30")}
    assert [one.figures["peat_cm"] for found in peat.values() for one in found] == [40, 30]
    assert not rules_for(rules, "scotland", "smoke-alarms", day("2022-01-31"))
    assert rules_for(rules, "scotland", "smoke-alarms", day("2022-02-01"))
    assert rules_for(rules, None, "smoke-alarms", checked) == []


@pytest.mark.published
def test_the_quarter_of_felling_differs_by_nation() -> None:
    """Forestry Act 1967, section 9 (5 m³, 2 sold); SSI 2019/126 (5 m³, no limit on sales); DAERA (5 m³)."""
    figures = {
        nation: next(one.figures for one in library().rules if one.id == "felling" and one.nation == nation)
        for nation in ("england", "wales", "scotland", "northern ireland")
    }
    assert {one["m3_a_quarter"] for one in figures.values()} == {5}
    assert [one.get("sold_m3_a_quarter") for one in figures.values()] == [2, 2, None, None]


@pytest.mark.published
@pytest.mark.parametrize("nation", ["england", "scotland", "wales", "northern ireland"])
def test_the_wiring_of_a_let_house_is_tested_as_often_as_its_law_says(nation: Nation) -> None:
    """GOV.UK and the Department for Communities: every five years; the sheet's day is the law's."""
    rule = next(one for one in library().rules if one.id == "electrics" and one.nation == nation)
    assert rule.every is not None
    assert rule.every.months == 60
    found = made("electrics", "2024-03-10", as_of=THIS_YEAR, nation=nation, use="let dwelling")
    assert task(found, "e.let.1").legal
    assert window(found, "e.let.1")[1:] == ("2029-03-10", "2029-03-10")


# ── Dates of the sheets ───────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_a_safety_switch_is_tried_every_six_months() -> None:
    """514.12.2: tested on 1 April 2025, again on 1 October."""
    assert best(made("rcd", "2025-04-01", as_of="2025-04-02"), "test.1") == "2025-10-01"


@pytest.mark.published
def test_an_extinguisher_of_may_2020() -> None:
    """BS 5306-3: serviced each May, extended in 2025, carbon dioxide overhauled in 2030."""
    found = made("extinguishers", "2020-05-01", as_of="2020-05-02", carbon_dioxide=True)

    assert [best(found, f"service.{n}") for n in (1, 2, 3)] == ["2021-05-01", "2022-05-01", "2023-05-01"]
    assert best(found, "extended.1") == "2025-05-01"
    assert best(found, "overhaul.1") == "2030-05-01"


@pytest.mark.published
def test_a_wood_stove_swept_on_1_september_and_lit_is_swept_again_by_1_december() -> None:
    """Fire service: wood every quarter in use, and before the first fire of the next autumn."""
    found = made("chimney-sweep", "2024-09-01", as_of="2024-09-02", fuel="wood")

    assert best(found, "this-winter.1") == "2024-12-01"
    assert (task(found, "e.sweep.2025").best or 0) <= day("2025-10-07")


@pytest.mark.published
@pytest.mark.parametrize(
    ("use", "step", "due"),
    [("own dwelling", "dwelling", "2030-03-10"), ("workshop", "farm", "2023-03-10"), ("caravan", "farm", "2023-03-10")],
)  # fmt: skip
def test_wiring_by_its_use(use: str, step: str, due: str) -> None:
    """Table 8.4: dwelling 10 years, agricultural and caravans 3."""
    assert best(made("electrics", "2020-03-10", as_of="2020-03-11", use=use), f"{step}.1") == due


@pytest.mark.published
@pytest.mark.parametrize(
    ("kind", "step", "due"),
    [("loader or hoist", "machine", "2027-02-28"), ("chains, slings or lifting people", "slings", "2026-08-28")],
)
def test_lifting_gear_at_work_has_its_day_by_law_and_none_at_home(kind: str, step: str, due: str) -> None:
    """LOLER regulation 9: 12 months, and 6 for people and accessories; not for purely domestic use."""
    at_work = made("lifting-gear", "2026-02-28", as_of="2026-03-01", kind=kind)
    at_home = made("lifting-gear", "2026-02-28", as_of="2026-03-01", kind=kind, used="at home only")

    assert window(at_work, f"e.{step}.1")[1:] == (due, due)
    assert {each.step for each in at_home.tasks} == {"look"}


@pytest.mark.common_practice
def test_what_nobody_knows_the_date_of_is_due_now_and_then_by_the_calendar() -> None:
    """Not known: at once; done on 3 March, again a year later."""
    unknown = made("septic-tank", "2026-03-01", as_of="2026-03-01", known="not known")
    done_once = made("septic-tank", "2026-03-01", done("e.empty.1", "2026-03-03"), as_of="2026-03-04",
                     known="not known")  # fmt: skip

    assert best(unknown, "empty.1") == "2026-03-02"
    assert best(done_once, "empty.2") == "2027-03-03"


@pytest.mark.common_practice
def test_a_coat_of_unknown_age_waits_for_the_look_and_follows_it() -> None:
    """Paint on joinery, five years: halfway when nobody knows; bare at the look of 2027: as soon as it is warm enough,
    which in the made-up season is on 20 April."""
    plain = made("timber-windows", "2026-11-01", as_of="2026-11-02", known="not known")
    looked = done("e.look.2027", "2027-04-05", found="bare")
    bare = made("timber-windows", "2026-11-01", looked, as_of="2027-04-06", known="not known")

    assert (best(plain, "coat.1") or "")[:7] == "2029-05"
    assert best(bare, "coat.1") == "2027-04-20"


@pytest.mark.common_practice
@pytest.mark.parametrize(("place", "latitude", "month"), [("cambridge", 52.2, 4), ("north-yorkshire", 54.3, 5)])
def test_painting_begins_when_the_place_is_warm_enough(place: str, latitude: float, month: int) -> None:
    """Outside work with paint begins in April in the lowlands of eastern England, in May on the hill."""
    holding = Holding("england", NormalsSeason(latitude, places().normals[place], places().scatter))
    entries = [entry("e", "timber-windows", "2022-03-01", told="2026-11-01", place="house")]
    found = plan(holding, library().sheets, library().law, entries, (), (), day("2026-11-01"), day("2028-01-01"))

    assert int((best(found, "coat.1") or "")[5:7]) == month


@pytest.mark.published
def test_firewood_is_measured_in_its_second_summer_at_the_latest_and_oak_later() -> None:
    """Forest Research: typically two years; the quick case nine to twelve months (drtoddshupe.com)."""
    ash = made("firewood", "2027-03-01", as_of="2027-03-01")
    oak = made("firewood", "2027-03-01", as_of="2027-03-01", wood="oak")

    first, second = task(ash, "e.test").best or 0, task(oak, "e.test").best or 0
    assert day("2027-08-01") < first < day("2028-09-01")
    assert first + 180 < second < day("2030-10-01")


@pytest.mark.published
def test_trees_are_felled_in_winter_and_a_licence_is_asked_for_first() -> None:
    """Forestry Act 1967, section 9; felled bare, from the shortest days to the equinox: common practice."""
    found = made("felling", "2027-06-01", as_of="2027-02-01")

    assert best(found, "ask") == "2027-08-16"
    assert best(found, "fell") == "2027-10-25"
    assert not [each for each in made("felling", "2027-12-01", as_of="2027-02-01", covered="licence held").tasks
                if each.step == "ask"]  # fmt: skip


# ── Sheets and tables agree ───────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_sheets_take_their_years_between_coats_from_the_table() -> None:
    """Wood Handbook, table 16-5, and the trade pages named there: one figure in two places is held together here."""
    wanted = {(one.sheet, one.least_years, one.usual_years, one.most_years) for one in coatings().values() if one.sheet}
    found = set()
    for sheet in {name for name, *_ in wanted}:
        for step in library().sheets[sheet].steps:
            given_ = getattr(getattr(step.again, "every", None), "given", {})
            if "usual_years" in given_:
                years = (given_[f"{end}_years"].value for end in ("least", "usual", "most"))
                found.add((sheet, *years))
    assert wanted <= found


@pytest.mark.common_practice
def test_what_is_wanted_before_winter_is_there_to_be_done() -> None:
    """Pipes three weeks before the frost, lime eight: common practice; every step named is a step."""
    for one in before_winter():
        assert set(one.steps) <= {step.id for step in library().sheets[one.sheet].steps}, one.sheet
    weeks = {one.sheet: one.weeks for one in before_winter()}
    assert (weeks["pipes-before-frost"], weeks["limewash"]) == (3, 8)


@pytest.mark.common_practice
@pytest.mark.parametrize("place", ["north", "south"])
def test_every_sheet_of_upkeep_has_its_dates_in_north_and_south(place: str) -> None:
    """A made-up half-year's turn of one climate; nothing is lacking but what nobody has said, and no chain is lost."""
    sheets, law = library().sheets, library().law
    names = [sheet.id for sheet in sheets.values() if sheet.trade == "upkeep"]
    entries = [entry(name, name, "2026-05-10", told="2026-05-10") for name in names]
    found = plan(Holding("england", PLACES[place]), sheets, law, entries, (), [], day("2026-05-10"), day("2037-01-01"))

    assert [(lack.entry, lack.step, lack.reason) for lack in found.lacks if lack.reason] == []
    assert [each.key for each in found.tasks if each.fate is Fate.PASSED_OVER] == []
    assert {each.entry.partition("+")[0].partition(".")[0] for each in found.tasks} >= set(names)


@pytest.mark.common_practice
def test_work_that_can_hurt_carries_its_caution() -> None:
    """Heights, fragile roofs, lead, asbestos, lime, electricity, confined spaces, fumes, rags, the saw."""
    wanted = {
        "ladders": "gutters", "fragile-roofs": "metal-roof", "lead-paint": "timber-windows", "asbestos": "flat-roof",
        "lime-burns": "solid-wall", "wiring": "rcd", "confined-spaces": "septic-tank", "carbon-monoxide": "stove",
        "oily-rags": "decking", "chainsaw": "felling", "bats-and-birds": "eaves", "bitumen-fumes": "bitumen-plinth",
    }  # fmt: skip
    for caution, name in wanted.items():
        sheet = library().sheets[name]
        assert caution in {*sheet.cautions, *(one for step in sheet.steps for one in step.cautions)}, name


@pytest.mark.common_practice
def test_there_are_sheets_enough_and_walls_are_asked_for_their_kind() -> None:
    """Thirty-five and more for upkeep and ground; tar, paint and cement speak up on a solid wall."""
    assert sum(sheet.trade == "upkeep" for sheet in library().sheets.values()) >= 38
    for name in ("rendered-wall", "masonry-painted", "bitumen-plinth"):
        found = made(name, "2020-05-01", as_of="2020-05-02", last="2034-01-01", wall="solid stone or brick")
        assert [each for each in found.tasks if each.step == "breathe"], name
        assert not [each for each in made(name, "2020-05-01", as_of="2020-05-02").tasks if each.step == "breathe"]
