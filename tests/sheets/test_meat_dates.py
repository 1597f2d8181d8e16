"""What the meat sheets make of the check cases of the trade: dates on the calendar, and what gets none."""

from typing import NamedTuple

import pytest

from app.errors import OutOfRange
from app.rules.tasks import Fate
from app.rules.terms import Nation
from app.trade.meat.warm_nights import hang_outside_days, in_the_cold
from tests.rules.kit import day, done, entry, iso
from tests.sheets.test_stock_and_larder_dates import barred, best, fate, library, planned, steps

# ── cures ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("sheet", "facts", "out", "smoked"),
    [
        ("streaky-bacon", {"thickness_mm": 40}, "2026-11-15", "2026-11-19"),
        ("back-bacon", {"thickness_mm": 75}, "2026-11-24", "2026-11-28"),
    ],
)
def test_bacon_of_each_kind_by_its_thickness(sheet: str, facts: dict[str, float], out: str, smoked: str) -> None:
    """Skin-on belly of 40 mm: 14 days and 4, day 18. Skinned loin of 75 mm: 23 days, even after 10, 4 of rest."""
    plan = planned([entry("it", sheet, "2026-11-01", kg=3, **facts)])
    assert (best(plan, "it.out"), best(plan, "it.smoke.1")) == (out, smoked)


@pytest.mark.common_practice
def test_what_came_warm_is_not_put_into_the_cure() -> None:
    """Warm meat is cooked at once, sent back or thrown away: neither cured, minced nor frozen."""
    box = entry("box", "meat-delivery", "2026-11-01", kg=10, cure_belly=True, belly_kg=3, belly_mm=40)
    assert {"belly", "rub", "joints"} <= set(steps(planned([box])))
    assert not {"belly", "rub", "joints", "last"} & set(
        steps(planned([box], [done("box.take-in", "2026-11-01", warm=True)]))
    )


@pytest.mark.common_practice
def test_summer_bacon_is_given_no_night_of_smoke_and_is_sliced_green() -> None:
    """Fly season and warm nights: no cold smoke; the slab may not wait for the autumn either."""
    plan = planned([entry("it", "bacon", "2026-06-01", "2026-06-01", kg=3, thickness_mm=40)], as_of="2026-06-01")
    assert "smoke" not in steps(plan)
    assert best(plan, "it.slice") == "2026-06-20"
    assert any("Flies are about" in lack.reason for lack in plan.lacks if lack.step == "smoke")


@pytest.mark.common_practice
def test_a_belly_hangs_in_the_curing_fridge_in_june_and_in_the_larder_only_when_it_is_cold() -> None:
    """A curing fridge knows no season; the larder is barred in fly season."""
    june = planned(
        [
            entry("fridge", "belly-air-dried", "2026-06-01", "2026-06-01", kg=3, thickness_mm=40),
            entry("larder", "belly-in-the-larder", "2026-06-01", "2026-06-01", kg=3, thickness_mm=40),
        ],
        as_of="2026-06-01",
    )
    assert best(june, "fridge.hang") == "2026-06-19"
    assert not [task for task in june.tasks if task.key == "larder.hang"]
    assert any("curing fridge" in lack.reason for lack in june.lacks)
    cold = planned([entry("larder", "belly-in-the-larder", "2026-11-20", kg=3, thickness_mm=40)])
    assert best(cold, "larder.hang") == "2026-12-08"


@pytest.mark.common_practice
def test_what_hangs_is_ready_by_its_weight_and_each_weighing_moves_the_day() -> None:
    """3 kg to lose 30 % is 2.1 kg: 30 days at 1 % a day of green weight; then by the last two weighings."""
    belly = entry("it", "belly-air-dried", "2026-11-01", kg=3, thickness_mm=40)
    assert best(planned([belly]), "it.ready") == "2026-12-19"
    hung = done("it.hang", "2026-11-19", kg=3.0)
    weighed = [done("it.weigh.1", "2026-11-26", kg=2.85), done("it.weigh.2", "2026-12-03", kg=2.5)]
    # 0.35 kg in a week is 0.05 a day; 0.4 kg still to go is 8 days from 3 December.
    assert best(planned([belly], [hung, *weighed], "2026-12-03"), "it.ready") == "2026-12-11"


@pytest.mark.common_practice
def test_what_can_not_be_evened_out_is_given_no_day_and_what_happened_is_taken_down_all_the_same() -> None:
    """100 mm with its skin: even after 71 days, 41 of them after the cure; 14 are the most."""
    belly = entry("it", "streaky-bacon", "2026-11-01", kg=3, thickness_mm=100)
    plan = planned([belly])
    assert steps(plan) == {"rub"}
    assert any("Skin it, or split it" in lack.reason and "freeze it" in lack.reason for lack in plan.lacks)
    out = planned([belly], [done("it.out", "2026-12-01", kg=2.8)], "2026-12-01")
    assert next(iso(task.done) for task in out.tasks if task.key == "it.out") == "2026-12-01"
    assert "smoke" not in steps(out)


@pytest.mark.published
@pytest.mark.parametrize(
    ("kg", "cut", "out"), [(4.5, "belly", "2026-11-16"), (5.5, "belly", "2026-11-22"), (3.6, "loin", "2026-11-22")]
)
def test_bacon_in_brine_by_the_bulletin(kg: float, cut: str, out: str) -> None:
    """USDA farm bulletin: bellies of 10 lb 15 days, heavier ones and loins 21."""
    plan = planned([entry("it", "bacon-in-brine", "2026-11-01", kg=kg, thickness_mm=40, cut=cut)])
    assert best(plan, "it.out") == out


@pytest.mark.common_practice
def test_a_dry_cured_leg_waits_for_its_weight_and_each_weighing_moves_the_day() -> None:
    """6 kg less 18 % are 4.92 kg; 0.2 kg in a fortnight, 0.28 kg to go: 20 days after 5 February."""
    leg = entry("leg", "ham-dry-cured", "2026-12-01", kg=6)
    weighed = [done("leg.weigh.1", "2027-01-22", kg=5.4), done("leg.weigh.2", "2027-02-05", kg=5.2)]
    plan = planned([leg], [done("leg.rub", "2026-12-01"), *weighed], "2027-02-05")
    assert best(plan, "leg.ready") == "2027-02-25"


@pytest.mark.published
def test_a_dry_cured_leg_is_even_after_45_days_and_done_after_70() -> None:
    """9 CFR 319.106: in cure on 1 December, not before 15 January, not before 9 February."""
    plan = planned([entry("leg", "ham-dry-cured", "2026-12-01", kg=6)])
    assert (best(plan, "leg.even"), best(plan, "leg.ready")) == ("2027-01-15", "2027-02-09")


@pytest.mark.common_practice
def test_a_leg_hangs_through_the_summer_in_the_curing_fridge_alone() -> None:
    """In the open it is barred in fly season; 9 CFR 319.106: 45 days from 1 June are 16 July, 70 are 10 August."""
    legs = [entry(sheet, sheet, "2026-06-01", kg=6) for sheet in ("ham-dry-cured", "ham-in-the-fridge")]
    plan = planned(legs, as_of="2026-06-01")
    hung = {task.step for task in plan.tasks if task.key.startswith("ham-dry-cured.") and task.best is not None}
    assert not hung & {"even", "weigh", "ready"}
    assert any("Flies are about" in lack.reason for lack in plan.lacks if lack.step == "even")
    assert [best(plan, f"ham-in-the-fridge.{step}") for step in ("even", "ready")] == ["2026-07-16", "2026-08-10"]


@pytest.mark.common_practice
def test_loose_salt_has_a_day_by_which_the_leg_must_be_out() -> None:
    """6 kg at 4.4 days a kilo (2 days a pound, older extension texts): 27 days, and three more at most."""
    plan = planned([entry("leg", "ham-dry-cured", "2026-12-01", kg=6)])
    out = next(task for task in plan.tasks if task.key == "leg.out")
    assert (iso(out.best), iso(out.closes)) == ("2026-12-28", "2026-12-31")


@pytest.mark.published
@pytest.mark.parametrize(("kg", "out"), [(2.722, "2026-10-25"), (6.804, "2026-11-30")])
def test_brine_by_the_pound(kg: float, out: str) -> None:
    """USDA farm bulletin, 4 days a pound: 6 lb 24 days, 15 lb 60 days."""
    plan = planned([entry("ham", "ham-in-brine", "2026-10-01", kg=kg)])
    assert best(plan, "ham.out") == out


@pytest.mark.published
def test_a_ham_for_christmas_is_counted_back_to_the_weaners() -> None:
    """15 lb, 60 days of brine (USDA farm bulletin); 74 kg at 0.6 kg a day are 124 days."""
    plan = planned([entry("ham", "ham-for-the-table", "2026-12-25", "2026-01-01", kg=6.804, own_pig=True)])
    found = {
        step: best(plan, f"ham.{step}") for step in ("eat", "boil", "out", "brine", "leg", "kill", "book", "weaners")
    }
    assert found == {
        "eat": "2026-12-25", "boil": "2026-12-24", "out": "2026-12-23", "brine": "2026-10-24", "leg": "2026-10-23",
        "kill": "2026-10-19", "book": "2026-08-24", "weaners": "2026-06-17",
    }  # fmt: skip
    bought = planned([entry("ham", "ham-for-the-table", "2026-12-25", "2026-01-01", kg=6)])
    assert not steps(bought) & {"kill", "book", "weaners"}


@pytest.mark.common_practice
def test_a_brine_begun_too_late_is_not_hurried_and_the_table_keeps_its_day() -> None:
    """6 kg are 53 days at 4 days a pound: begun on 4 December it is out on 26 January, and Christmas is too soon."""
    ham = entry("ham", "ham-for-the-table", "2026-12-25", "2026-09-01", kg=6)
    plan = planned([ham], [done("ham.brine", "2026-12-04")], "2026-12-04")
    assert best(plan, "ham.eat") == "2026-12-25"
    assert Fate.SQUEEZED in {fate(plan, f"ham.{step}") for step in ("out", "boil", "eat")}
    assert best(plan, "ham.out") == "2027-01-26"
    in_time = planned([ham], [done("ham.brine", "2026-10-31")], "2026-10-31")
    assert {fate(in_time, f"ham.{step}") for step in ("out", "boil", "eat")} == {Fate.PLAIN}


# ── carcases, birds, batches ──────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("sheet", "kg", "opens", "closes"),
    [
        ("lamb-cut-up", 20, "2026-10-06", "2026-10-11"),
        ("beef-cut-up", 60, "2026-10-15", "2026-10-29"),
        ("venison-cut-up", 20, "2026-10-05", "2026-10-11"),
        ("poultry-box", 8, "2026-10-02", "2026-10-03"),
    ],
)
def test_a_carcase_hangs_for_the_days_of_its_kind(sheet: str, kg: float, opens: str, closes: str) -> None:
    """Lamb 5 to 10 days, beef 14 to 28, venison 4 to 10, poultry 1 to 2."""
    plan = planned([entry("it", sheet, "2026-10-01", kg=kg)])
    cut = next(task for task in plan.tasks if task.key == "it.cut")
    assert (iso(cut.opens), iso(cut.closes)) == (opens, closes)


@pytest.mark.common_practice
def test_in_a_warm_room_nothing_hangs() -> None:
    """4 °C is the most."""
    plan = planned([entry("it", "lamb-cut-up", "2026-10-01", kg=20, store_c=9)])
    assert "cut" not in steps(plan)
    assert any("cut it up at once" in lack.reason for lack in plan.lacks)


@pytest.mark.published
def test_more_beef_than_a_freezer_takes_is_said() -> None:
    """2 lb a cubic foot in 24 hours; joints wait three days."""
    plan = planned([entry("it", "beef-cut-up", "2026-10-01", kg=150)])
    assert "last" not in steps(plan)
    assert any("Have the butcher freeze" in lack.reason for lack in plan.lacks)


@pytest.mark.published
def test_birds_are_in_the_freezer_by_their_second_day() -> None:
    """Cold Food Storage Chart: poultry 1 to 2 days."""
    plan = planned([entry("it", "poultry-box", "2026-10-01", kg=8)])
    closes = {task.step: iso(task.closes) for task in plan.tasks}
    assert closes["pack"] <= "2026-10-03"
    assert closes["pieces"] <= "2026-10-03"
    assert closes["giblets"] <= "2026-10-03"


@pytest.mark.published
def test_mince_of_3_march_is_cooked_by_5_march() -> None:
    """Cold Food Storage Chart: 1 to 2 days; the strict day is the 4th."""
    plan = planned([entry("it", "mince", "2026-03-03", "2026-03-01", kg=4)], as_of="2026-03-01")
    fridge = next(task for task in plan.tasks if task.key == "it.fridge")
    assert (iso(fridge.best), iso(fridge.closes)) == ("2026-03-04", "2026-03-05")
    assert best(plan, "it.first") == "2026-06-03"


@pytest.mark.published
def test_sausages_are_frozen_the_day_after_and_eaten_within_two_months() -> None:
    """Cold Food Storage Chart: raw sausage 1 to 2 days, 1 to 2 months."""
    plan = planned([entry("it", "sausages", "2026-11-10", "2026-11-01", kg=5)])
    first = next(task for task in plan.tasks if task.key == "it.first")
    assert best(plan, "it.freeze") == "2026-11-11"
    assert (iso(first.best), iso(first.closes)) == ("2026-12-11", "2027-01-11")


@pytest.mark.published
def test_brawn_is_eaten_within_two_days() -> None:
    """FSA, Chilling: within two days."""
    plan = planned([entry("it", "brawn", "2026-11-10", "2026-11-01", kg=8)])
    assert iso(next(task for task in plan.tasks if task.key == "it.eat").closes) == "2026-11-12"


@pytest.mark.common_practice
def test_doubtful_offal_ends_there() -> None:
    """Cysts or flukes: none of it is eaten."""
    liver = entry("it", "offal", "2026-11-10", "2026-11-10", kg=2)
    plan = planned([liver], [done("it.look", "2026-11-10", found="doubtful")], "2026-11-10")
    assert "throw" in steps(plan)
    assert not steps(plan) & {"eat", "freeze", "trim"}


@pytest.mark.published
def test_a_bird_of_5_kg_for_christmas_comes_out_on_the_22nd() -> None:
    """The Big Thaw, USDA: 24 hours for 4 lb; 5 kg are three days."""
    plan = planned([entry("bird", "bird-to-thaw", "2026-12-25", "2026-12-01", kg=5)])
    assert best(plan, "bird.out") == "2026-12-22"


@pytest.mark.published
@pytest.mark.parametrize(("cm", "held"), [(12, "2026-11-24"), (20, "2026-12-04")])
def test_pork_is_held_twenty_days_or_thirty_after_two_of_getting_cold_and_one_to_spare(cm: float, held: str) -> None:
    """9 CFR 318.10 (c)(2), table 1: -15 °C, 20 days up to 15 cm, 30 beyond."""
    plan = planned([entry("it", "pork-frozen-for-trichinella", "2026-11-01", kg=4, thickness_cm=cm)])
    assert best(plan, "it.held") == held


@pytest.mark.published
def test_a_two_star_freezer_is_no_treatment() -> None:
    """J Food Prot 48:196, 1985: larvae outlive weeks at -9 °C and days at -12."""
    plan = planned([entry("it", "pork-frozen-for-trichinella", "2026-11-01", kg=4, thickness_cm=12, store_c=-12)])
    assert "held" not in steps(plan)
    assert any("no treatment" in lack.reason for lack in plan.lacks)


# ── the law ───────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize("sheet", ["lamb-cut-up", "pork-cut-up", "beef-cut-up"])
@pytest.mark.parametrize("nation", ["england", "wales", "scotland", "northern ireland", "ireland"])
def test_what_was_killed_at_home_is_not_sold_and_what_was_not_is(sheet: str, nation: Nation) -> None:
    """FSA, Guide to home slaughter (England and Wales); the other nations' guides, from memory."""
    home = entry("home", sheet, "2026-11-01", kg=20, killed_at_home_on=day("2026-11-01"))
    bought = entry("bought", sheet, "2026-11-01", kg=20)
    plan = planned([home, bought], as_of="2026-11-02", nation=nation)
    assert barred(plan, "sell", "home", "2026-12-01")
    assert not barred(plan, "sell", "bought", "2026-12-01")
    assert best(plan, "home.cut")


@pytest.mark.published
def test_no_nation_no_law() -> None:
    """Where no nation is set no legal date is given."""
    home = entry("home", "lamb-cut-up", "2026-11-01", kg=20, killed_at_home_on=day("2026-11-01"))
    assert not barred(planned([home], as_of="2026-11-02", nation=None), "sell", "home", "2026-12-01")


# ── sheets as a whole ─────────────────────────────────────────────────────────────────────────────────────────────

OURS = [sheet for sheet in library().sheets.values() if sheet.trade == "meat"]


def test_there_are_twenty_sheets_of_meat_and_more() -> None:
    """Five, and fifteen besides them."""
    assert len(OURS) >= 20


@pytest.mark.parametrize("sheet", OURS, ids=lambda sheet: sheet.id)
def test_what_a_meat_sheet_makes_keeps_for_a_time_and_lies_somewhere(sheet: object) -> None:
    """A batch without a time would never come up to be used."""
    lots = [make for step in sheet.steps for make in step.makes if make.kind == "lot"]  # type: ignore[attr-defined]
    assert all(make.keeps is not None and make.where for make in lots)


@pytest.mark.parametrize(
    ("sheet", "caution"),
    [
        ("bacon", "nitrite"), ("bacon-in-brine", "nitrite"), ("ham-dry-cured", "nitrite"), ("ham-in-brine", "nitrite"),
        ("ham-dry-cured", "dried-is-raw"),
        ("belly-air-dried", "nitrite"), ("bacon", "vacuum-pack"), ("stock", "botulism"), ("poultry-box", "raw-poultry"),
        ("bird-to-thaw", "raw-poultry"), ("offal", "offal"), ("pork-cut-up", "home-killed"),
        ("pork-cut-up", "trichinella"),
        ("lamb-cut-up", "home-killed"), ("venison-cut-up", "game-shot"), ("sausages", "mince-raw"), ("lard", "hot-fat"),
    ],
)  # fmt: skip
def test_what_can_hurt_is_warned_of(sheet: str, caution: str) -> None:
    """Nitrite, botulism, trichinella, raw birds, liver, lead, fat: cautions of the food authorities."""
    found = library().sheets[sheet]
    assert caution in {*found.cautions, *(one for step in found.steps for one in step.cautions)}


# ── flies and warm nights ─────────────────────────────────────────────────────────────────────────────────────────


class Soil(NamedTuple):
    """A place whose soil crosses the mark on two days of each year, or on none."""

    below: str = ""
    above: str = ""

    def mark(self, name: str, value: float, year: int) -> int | None:
        at = {"soil below": self.below, "soil above": self.above}[name]
        return day(f"{year}-{at}") if at else None

    def warmth(self, total: float, base: float, since: int) -> None:
        return None


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("soil", "on", "cold"),
    [
        (Soil("10-25", "04-20"), "2026-12-31", True), (Soil("10-25", "04-20"), "2027-01-01", True),
        (Soil("10-25", "04-20"), "2026-10-24", False), (Soil("10-25", "04-20"), "2026-04-20", False),
        (Soil("05-10", "09-15"), "2026-07-01", True), (Soil("05-10", "09-15"), "2026-12-31", False),
        (Soil(), "2026-07-01", True), (Soil(above="01-01"), "2026-01-15", False),
    ],
)  # fmt: skip
def test_the_cold_lies_between_two_marks_of_the_soil(soil: Soil, on: str, cold: bool) -> None:
    """North, south, a place that never warms, one that never cools; arithmetic of the calendar."""
    assert in_the_cold(soil, day(on), 10) is cold


@pytest.mark.common_practice
def test_hanging_outside_is_refused_in_the_warm_and_when_the_warm_comes_before_it_is_done() -> None:
    """Flies above a mean of about 10 °C."""
    soil = Soil("10-25", "04-20")
    assert hang_outside_days(4, 30, 10, soil, day("2026-11-10")).best == 4
    for begun in ("2026-07-10", "2027-04-01"):
        with pytest.raises(OutOfRange, match="Flies are about"):
            hang_outside_days(4, 30, 10, soil, day(begun))
