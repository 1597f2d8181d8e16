"""What the livestock sheets make of the check cases of the trade: dates on the calendar, from real sheets."""

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.rules.facts import Holding
from app.rules.plan import Planner
from app.rules.tasks import Plan
from app.rules.terms import Value
from app.sheets.livestock_tables import births, hatches
from tests.climate.tables import season
from tests.rules.kit import day, done, entry, iso, task, window
from tests.sheets.test_stock_and_larder_dates import best, library, planned, steps

OURS = [sheet for sheet in library().sheets.values() if sheet.trade == "livestock"]
DAYS = st.integers(day("2024-01-01"), day("2040-12-31"))


@cache
def here(latitude_deg: float = 53.0) -> Planner:
    """A planner at a place with twelve monthly means; which place does not matter for marks of the day's length."""
    return Planner(Holding("england", season("lincolnshire", latitude_deg)), library().sheets, library().law)


def plan_of(sheet: str, on: str, as_of: str = "", latitude_deg: float = 53.0, **facts: Value) -> Plan:
    told = as_of or on
    return here(latitude_deg).plan([entry("it", sheet, on, told, **facts)], (), (), day(told), day("2028-12-31"))


# ── Twelve layers, hatched and delivered on Monday 13 April 2026 ──────────────────────────────────────────────────


@cache
def twelve_layers() -> Plan:
    return plan_of("layers-from-day-old", "2026-04-13", "2026-04-01", head=12, age_d=0)


@pytest.mark.published
@pytest.mark.parametrize(
    ("step", "on"),
    [
        ("brooder", "2026-04-10"), ("come", "2026-04-13"), ("cooler.1", "2026-04-20"), ("cooler.2", "2026-04-27"),
        ("cooler.3", "2026-05-04"), ("cooler.4", "2026-05-11"), ("cooler.5", "2026-05-18"), ("off", "2026-05-25"),
        ("grower", "2026-05-25"), ("mites.1", "2026-06-01"), ("order", "2026-08-03"), ("first", "2026-08-31"),
        ("review", "2027-08-30"),
    ],
)  # fmt: skip
def test_twelve_layers_from_day_old(step: str, on: str) -> None:
    """IFAS: 5 °F a week, off heat at six; a feed manufacturer: grower at six weeks, layers feed at 16 to 17;
    Oregon State University Extension: first eggs at 18 to 20 weeks. 72 weeks, weekly mites and the day before are
    common practice."""
    assert best(twelve_layers(), f"it.{step}") == on


@pytest.mark.published
def test_they_are_on_the_register_by_13_may_and_lay_from_17_august() -> None:
    """GOV.UK: within one month. Oregon State University Extension: 18 weeks."""
    assert window(twelve_layers(), "it.register")[2] == "2026-05-13"
    assert window(twelve_layers(), "it.first")[0] == "2026-08-17"
    assert window(twelve_layers(), "it.brooder")[2] == "2026-04-12"


# ── Two weaners, 56 days old and 16 kg, on Monday 6 April 2026 ────────────────────────────────────────────────────


@pytest.mark.published
def test_two_weaners_for_pork_and_for_bacon() -> None:
    """0.55 and 0.60 kg a day, common practice, in keeping with the Cambridge trial; three days, Pigs Order 2011."""
    pork = planned([entry("pigs", "weaners", "2026-04-06", "2026-03-20", kg=16, target_kg=60, gain_kg=0.55)])
    assert best(pork, "pigs.kill") == "2026-06-25"
    assert best(pork, "pigs.book") == "2026-04-30"
    assert window(pork, "pigs.report")[2] == "2026-04-09"
    bacon = planned([entry("pigs", "weaners", "2026-04-06", "2026-03-20", kg=16, target_kg=90)])
    assert best(bacon, "pigs.kill") == "2026-08-08"
    assert window(bacon, "pigs.book")[0] == "2026-05-30"


@pytest.mark.common_practice
def test_the_freezer_is_cleared_and_the_cutting_sheet_written_before_the_pigs_go() -> None:
    """Three weeks before, the medicine book; a week before, the rest: so that a withdrawal can still be over."""
    plan = planned([entry("pigs", "weaners", "2026-04-06", "2026-03-20", kg=16)])
    assert best(plan, "pigs.clear") == "2026-07-18"
    assert best(plan, "pigs.cutting") == best(plan, "pigs.room") == "2026-08-01"
    assert best(plan, "pigs.trailer") == "2026-08-06"


# ── Eight ewes in lamb, ram in 24 October 2025, out 27 November, arriving on Saturday 10 January 2026 ─────────────


@cache
def eight_ewes() -> Plan:
    ram = {"male_in": day("2025-10-24"), "male_out": day("2025-11-27")}
    return plan_of("ewes-in-lamb-bought", "2026-01-10", "2026-01-02", head=8, **ram)


@pytest.mark.published
@pytest.mark.parametrize(
    ("step", "opens", "on", "closes"),
    [
        ("join", "2026-02-07", "2026-02-07", None), ("scan", "2026-01-02", "2026-01-12", "2026-02-01"),
        ("report", "2026-01-10", "2026-01-10", "2026-01-13"), ("feed", "2026-01-23", "2026-01-23", None),
        ("booster", "2026-02-06", "2026-02-06", "2026-02-20"), ("pens", "2026-03-06", "2026-03-06", None),
        ("lambing", "2026-03-15", "2026-03-20", "2026-04-23"), ("inventory", "2026-12-01", "2026-12-01", None),
    ],
)  # fmt: skip
def test_eight_ewes_in_lamb(step: str, opens: str, on: str, closes: str | None) -> None:
    """147 days, 142 to 152 (Sheep 201): due 20 March to 23 April. Booster 42 to 28 days before, hard feed 56
    (farming press, Ireland); movement within three days, inventory 1 December (GOV.UK); 28 days apart (SCOPS, from
    memory); scan 80 days after the ram is common practice."""
    found = window(eight_ewes(), f"it.{step}")
    assert found[:2] == (opens, on)
    assert closes is None or found[2] == closes


@pytest.mark.published
def test_the_first_lambs_become_an_entry_with_their_vaccine_weaning_and_tag() -> None:
    """21 days, then 4 to 6 weeks (farming press, 2022); weaned at 12 to 14 weeks; tagged by nine months (SMR 8)."""
    plan = eight_ewes()
    born = plan.laid["it.lambing+lambs"].entry
    assert born.sheet == "lambs"
    lambs = plan_of("lambs", "2026-04-01")
    assert window(lambs, "it.vaccine")[0] == "2026-04-22"
    assert window(lambs, "it.second")[::2] == ("2026-05-20", "2026-06-03")
    assert window(lambs, "it.wean")[::2] == ("2026-06-24", "2026-07-08")
    assert window(lambs, "it.tag")[2] == "2027-01-01"
    housed = plan_of("lambs", "2026-04-01", housed=True)
    assert window(housed, "it.tag-housed")[2] == "2026-10-01", "six months where they are housed at night"
    assert "tag" not in {one.step for one in housed.tasks}


# ── Births, hatches, bees ─────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize(
    ("sheet", "served", "step", "on"),
    [
        ("ewes-in-lamb", "2025-11-05", "lambing", "2026-04-01"),
        ("ewes-in-lamb", "2023-11-05", "lambing", "2024-03-31"),
        ("farrowing", "2026-01-01", "farrow", "2026-04-25"),
        ("farrowing", "2026-01-01", "move", "2026-04-18"),
        ("house-cow", "2025-06-15", "calve", "2026-03-25"),
        ("house-cow", "2025-06-15", "dry", "2026-01-24"),
        ("goats-in-kid", "2025-10-10", "kid", "2026-03-09"),
        ("rabbits", "2026-03-01", "kindle", "2026-04-01"),
        ("rabbits", "2026-03-01", "nest", "2026-03-29"),
        ("rabbits", "2026-03-01", "feel", "2026-03-13"),
    ],
)
def test_young_are_due(sheet: str, served: str, step: str, on: str) -> None:
    """114, 147, 150, 283 days (table 5.2; Sheep 201), rabbits 31, felt at 12, nest at 28; one leap day."""
    assert best(plan_of(sheet, served), f"it.{step}") == on


@pytest.mark.published
@pytest.mark.parametrize(
    ("sheet", "lock", "hatch"),
    [
        ("hen-eggs-set", "2026-04-01", "2026-04-04"), ("duck-eggs-set", "2026-04-08", "2026-04-11"),
        ("turkey-eggs-set", "2026-04-08", "2026-04-11"), ("muscovy-eggs-set", "2026-04-15", "2026-04-18"),
        ("goose-eggs-set", "2026-04-10", "2026-04-13"), ("quail-eggs-set", "2026-03-29", "2026-04-01"),
        ("guinea-fowl-eggs-set", "2026-04-07", "2026-04-10"),
    ],
)  # fmt: skip
def test_eggs_set_on_saturday_14_march_hatch(sheet: str, lock: str, hatch: str) -> None:
    """Mississippi State University Extension, and an extension table, reprinted; turning stops three days before."""
    plan = plan_of(sheet, "2026-03-14", "2026-03-01")
    assert (best(plan, "it.lock"), best(plan, "it.hatch")) == (lock, hatch)


def test_the_sheets_and_the_table_of_species_say_the_same() -> None:
    """One figure in two places must be one figure."""
    for sheet in (sheet for sheet in OURS if sheet.id.endswith("-eggs-set")):
        name = "muscovy" if sheet.id == "muscovy-eggs-set" else sheet.species
        hatch = day(best(plan_of(sheet.id, "2026-03-14"), "it.hatch") or "") - day("2026-03-14")
        assert hatch == hatches()[name].best_days, sheet.id
    for sheet_id, step in {"farrowing": "farrow", "goats-in-kid": "kid", "house-cow": "calve"}.items():
        usual = births()[library().sheets[sheet_id].species]
        found = task(plan_of(sheet_id, "2026-01-01"), f"it.{step}")
        assert found.opens == day("2026-01-01") + usual.low_days
        assert found.closes == day("2026-01-01") + usual.high_days


@pytest.mark.published
def test_a_hive_opened_on_9_may_is_opened_again_by_the_16th() -> None:
    """A cell is sealed on day 8 (British Beekeepers Association, module 1): never later than the seventh day."""
    colony = entry("bees", "bees", "2026-01-10")
    opened = [done("bees.first.2026", "2026-05-02", stores_kg=8), done("bees.open.2026.1", "2026-05-09", eggs=True)]
    found = task(here().plan([colony], (), opened, day("2026-05-10"), day("2026-12-31")), "bees.open.2026.2")
    assert iso(found.best) == "2026-05-16"


@pytest.mark.published
def test_the_booster_of_ewes_due_on_1_april_lies_between_18_february_and_4_march() -> None:
    """Farming press, Ireland, 2022: four to six weeks before lambing."""
    assert window(plan_of("ewes-in-lamb", "2025-11-05"), "it.booster")[::2] == ("2026-02-18", "2026-03-04")


@pytest.mark.published
def test_a_calf_of_1_march_has_tags_by_the_21st_and_a_passport_by_the_28th() -> None:
    """GOV.UK and the Welsh Government: before 21 days old; registered within 27 days."""
    calf = plan_of("calf", "2026-03-01")
    assert window(calf, "it.tags")[2] == "2026-03-21"
    assert window(calf, "it.passport")[2] == "2026-03-28"
    assert window(calf, "it.first-tag")[2] == "2026-03-02", "a dairy calf within 36 hours"
    assert "first-tag" not in {one.step for one in plan_of("calf", "2026-03-01", dairy=False).tasks}


def orders(*said: str, **facts: Value) -> Plan:
    """A housing order of 6 November 2025 that touches ours, or does not."""
    ticks = [done("it.ask", "2025-11-06", ours=word == "ours") for word in said]
    one = entry("it", "housing-order", "2025-11-06", "2025-11-06", head=30, **facts)
    return here().plan([one], (), ticks, day("2025-11-20"), day("2026-12-31"))


@pytest.mark.published
def test_thirty_hens_whose_eggs_a_neighbour_gets_are_housed_while_the_order_holds() -> None:
    """England, 6 November 2025: above 50 birds, or whoever sells or gives away eggs (councils' pages). A switch: the
    household reads the order and says whether it touches theirs."""
    unread, not_ours, ours = orders(), orders("not ours"), orders("ours")
    lifted = orders("ours", lifted=day("2026-03-31"))
    assert {"ask"} <= {one.step for one in unread.tasks}
    assert "house" not in {one.step for one in (*unread.tasks, *not_ours.tasks)}
    assert window(ours, "it.house")[2] == "2025-11-07"
    assert [(one.step, one.last) for one in ours.standing] == [("daily", None)]
    assert [(one.step, iso(one.last)) for one in lifted.standing] == [("daily", "2026-03-31")]
    assert best(lifted, "it.out") == "2026-03-31"


@pytest.mark.parametrize(
    ("facts", "rounds"),
    [
        ({}, {"morning": ("2025-06-15", "2026-01-24"), "morning-dry": ("2026-01-25", "2026-03-24"),
              "morning-fresh": ("2026-03-25", None)}),
        ({"in_milk": False}, {"morning-heifer": ("2025-06-15", "2026-03-24"), "morning-fresh": ("2026-03-25", None)}),
    ],
)  # fmt: skip
def test_nobody_milks_a_dry_cow(facts: dict[str, Value], rounds: dict[str, tuple[str, str | None]]) -> None:
    """283 days, and dry for 60 of them (AHDB Dairy, from memory): each day's round is one, and one alone."""
    standing = plan_of("house-cow", "2025-06-15", **facts).standing
    assert {one.step: (iso(one.first), iso(one.last)) for one in standing if one.step.startswith("mor")} == rounds


@pytest.mark.common_practice
def test_a_tupping_is_counted_back_from_the_first_lambs() -> None:
    """147 days, two cycles of 17 (Merck; Sheep 201): first lambs 20 March, ram in 24 October, out 27 November."""
    plan = plan_of("tupping", "2026-03-20", "2025-07-01")
    assert [best(plan, f"it.{step}") for step in ("ram", "flush", "in", "colour.1", "out")] == [
        "2025-08-15", "2025-10-03", "2025-10-24", "2025-11-10", "2025-11-27",
    ]  # fmt: skip
    assert plan.laid["it.in+in-lamb"].entry.sheet == "ewes-in-lamb"


@pytest.mark.common_practice
@pytest.mark.parametrize(("latitude", "months"), [(53.0, {4}), (-40.0, {10, 11}), (-53.0, {8, 9, 10})])
def test_bees_are_opened_in_spring_in_either_hemisphere(latitude: float, months: set[int]) -> None:
    """The 14-hour day: mid April at 53 degrees north (almanac); in the south half a year from it."""
    plan = plan_of("bees", "2026-01-10", latitude_deg=latitude)
    firsts = [found for found in plan.tasks if found.step == "first"]
    assert firsts
    assert {int((iso(found.best) or "")[5:7]) for found in firsts} <= months


@settings(max_examples=15)
@given(served=DAYS, latitude=st.sampled_from([53.0, -45.0]))
def test_days_in_lamb_are_days_whatever_the_year_and_the_hemisphere(served: int, latitude: float) -> None:
    ewes = entry("it", "ewes-in-lamb", iso(served) or "")
    found = task(here(latitude).plan([ewes], (), (), served, served + 400), "it.lambing")
    assert (found.opens, found.best, found.closes) == (served + 142, served + 147, served + 152)


# ── Sheets as a whole ─────────────────────────────────────────────────────────────────────────────────────────────


def test_there_are_twenty_two_sheets_of_livestock_and_more_with_grass_hay_muck_and_rounds() -> None:
    found = {sheet.id for sheet in OURS}
    assert len(found) >= 29
    assert {"paddock", "hay-made", "hay-bought", "mucking-out", "group-rounds"} <= found


@pytest.mark.parametrize("sheet", OURS, ids=lambda sheet: sheet.id)
def test_a_livestock_sheet_is_planned_without_anything_being_asked_again(sheet: object) -> None:
    """With its own defaults and the facts it must have: nothing is lacking."""
    name: str = sheet.id  # type: ignore[attr-defined]
    needed = {"for": "another", "male_in": day("2026-01-01")}
    asked = {fact: value for fact, value in needed.items() if fact in library().sheets[name].facts}
    plan = plan_of(name, "2026-04-06", "2026-03-25", **asked)
    assert [lack for lack in plan.lacks if lack.entry == "it" and lack.fact not in ("lifted", "expires")] == []
    assert steps(plan)


@pytest.mark.parametrize(
    ("sheet", "caution"),
    [
        ("ewes-in-lamb", "lambing-pregnancy"), ("goats-in-kid", "lambing-pregnancy"), ("house-cow", "own-milk"),
        ("layers-from-day-old", "heat-lamp"), ("layers-from-day-old", "kitchen-scraps"), ("geese", "slaughter"),
        ("farrowing", "bulls-and-mothers"), ("calf", "bulls-and-mothers"), ("tupping", "copper"),
        ("bees", "bee-stings"), ("bees", "hive-acids"), ("hay-made", "hay-heats"), ("sick-animal", "casualty"),
        ("dead-animal", "fallen-stock"), ("weaners", "pigs-no-scraps"), ("paddock", "poisonous-plants"),
        ("mucking-out", "muck-gases"), ("lambs", "zoonoses"),
    ],
)  # fmt: skip
def test_what_can_hurt_is_warned_of(sheet: str, caution: str) -> None:
    """Zoonoses, fire, slaughter, bulls, copper, stings, kitchen waste: cautions of the authorities."""
    found = library().sheets[sheet]
    assert caution in {*found.cautions, *(one for step in found.steps for one in step.cautions)}


@pytest.mark.parametrize("sheet", OURS, ids=lambda sheet: sheet.id)
def test_whatever_is_killed_for_food_is_warned_of(sheet: object) -> None:
    """Slaughter law: competence and stunning, on the step or on the sheet."""
    for step in sheet.steps:  # type: ignore[attr-defined]
        if step.act == "slaughter":
            assert "slaughter" in {*sheet.cautions, *step.cautions}, step.id  # type: ignore[attr-defined]
