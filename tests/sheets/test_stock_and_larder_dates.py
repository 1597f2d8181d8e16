"""What the meat, preserving and livestock sheets make of the check cases of their trades: dates on the calendar."""

from collections.abc import Iterable
from functools import cache

import pytest

from app.rules.bars import Bars
from app.rules.facts import Entry, Tick
from app.rules.spans import add
from app.rules.tasks import Fate, Plan
from app.rules.terms import Nation
from app.sheets.library import Library, load
from tests.rules.kit import day, done, entry, iso, planner


@cache
def library() -> Library:
    return load()


def planned(
    entries: Iterable[Entry], ticks: Iterable[Tick] = (), as_of: str = "2026-01-01", nation: Nation | None = "england"
) -> Plan:
    everything = library()
    return planner(everything.sheets.values(), nation, everything.law).plan(
        entries, (), ticks, day(as_of), day("2028-12-31")
    )


def best(plan: Plan, key: str) -> str | None:
    return next(iso(task.best) for task in plan.tasks if task.key == key)


def fate(plan: Plan, key: str) -> Fate:
    return next(task.fate for task in plan.tasks if task.key == key)


def steps(plan: Plan) -> set[str]:
    return {task.step for task in plan.tasks}


def barred(plan: Plan, act: str, who: str, on: str) -> bool:
    named = plan.laid[who].entry
    return bool(Bars(plan.bars).on(act, named, library().sheets[named.sheet].species, day(on)))


# ── meat ──────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_a_joint_of_6_kg_for_sunday_20_december_leaves_the_freezer_on_wednesday_16() -> None:
    """The Big Thaw, USDA: 24 hours for 4 lb (1.8 kg); 3.3 days, rounded up to four."""
    plan = planned([entry("joint", "joint-to-thaw", "2026-12-20", "2026-12-01", kg=6)])
    assert best(plan, "joint.out") == "2026-12-16"
    assert best(plan, "joint.meal") == "2026-12-20"


@pytest.mark.common_practice
def test_the_meal_keeps_its_day_when_the_joint_comes_out_too_late() -> None:
    """A guest day is nobody's to move: the conflict is said instead."""
    joint = entry("joint", "joint-to-thaw", "2026-12-20", "2026-12-01", kg=6)
    plan = planned([joint], [done("joint.out", "2026-12-18")], "2026-12-18")
    assert best(plan, "joint.meal") == "2026-12-20"
    assert fate(plan, "joint.meal") is Fate.SQUEEZED


@pytest.mark.published
def test_a_joint_above_the_thawing_table_gets_no_date_and_the_reason() -> None:
    """The turkey table of the USDA ends at 24 lb."""
    plan = planned([entry("joint", "joint-to-thaw", "2026-12-20", "2026-12-01", kg=14)])
    assert "out" not in steps(plan)
    assert any("up to 11 kg" in lack.reason for lack in plan.lacks)


@pytest.mark.common_practice
def test_a_skin_on_belly_of_40_mm_is_cured_14_days_and_smoked_from_day_18() -> None:
    """Seven days an inch and two to spare; four days' rest at least (European additive category 08.3.4.2)."""
    plan = planned([entry("belly", "bacon", "2026-11-01", kg=3, thickness_mm=40)])
    assert best(plan, "belly.out") == "2026-11-15"
    assert [best(plan, f"belly.smoke.{night}") for night in (1, 2, 3)] == ["2026-11-19", "2026-11-20", "2026-11-21"]


@pytest.mark.common_practice
def test_a_cure_begun_four_days_late_comes_out_four_days_late() -> None:
    plan = planned(
        [entry("belly", "bacon", "2026-11-01", kg=3, thickness_mm=40)], [done("belly.rub", "2026-11-05")], "2026-11-05"
    )
    assert best(plan, "belly.out") == "2026-11-19"
    assert best(plan, "belly.smoke.1") == "2026-11-23"


@pytest.mark.common_practice
def test_a_thick_skin_on_piece_is_sent_back_to_the_knife() -> None:
    """100 mm with skin would be even after 71 days: 30 in the cure and 41 more."""
    plan = planned([entry("loin", "bacon", "2026-11-01", kg=6, thickness_mm=100)])
    assert "smoke" not in steps(plan)
    assert any("split it" in lack.reason for lack in plan.lacks)


@pytest.mark.common_practice
def test_bacon_that_smells_is_thrown_away_and_nothing_more_is_asked_of_it() -> None:
    cure = entry("belly", "bacon", "2026-11-01", kg=3, thickness_mm=40)
    plan = planned([cure], [done("belly.smell", "2026-11-17", found="doubtful")], "2026-11-17")
    assert "throw" in steps(plan)
    assert not steps(plan) & {"smoke", "slice", "dry"}


@pytest.mark.common_practice
def test_green_bacon_is_sliced_without_waiting_for_smoke() -> None:
    """75 mm skinned: 23 days in the cure, four of rest, sliced the day after."""
    loin = entry("loin", "bacon", "2026-11-01", kg=3, thickness_mm=75, skin="skinned", smoked=False)
    assert best(planned([loin]), "loin.slice") == "2026-11-29"


@pytest.mark.published
def test_a_box_is_frozen_before_its_days_in_the_fridge_are_over() -> None:
    """Cold Food Storage Chart: mince 1 to 2 days, chops and joints 3 to 5 days."""
    plan = planned([entry("box", "meat-box", "2026-11-27", "2026-11-10", kg=18)], as_of="2026-11-10")
    closes = {task.step: iso(task.closes) for task in plan.tasks}
    assert closes["mince"] <= "2026-11-28"
    assert closes["joints"] <= "2026-11-30"
    assert closes["last"] <= "2026-11-30"


@pytest.mark.common_practice
def test_a_belly_chosen_from_the_box_becomes_a_cure_and_goes_with_an_undo() -> None:
    box = entry("box", "meat-box", "2026-11-27", "2026-11-10", kg=18)
    chosen = done("box.take-in", "2026-11-27", bacon="belly", warm=False)
    weighed = done("box.belly", "2026-11-27", kg=2.2, thickness_mm=38, skin="skin on")
    plan = planned([box], [chosen, weighed], "2026-11-27")
    cure = plan.laid["box.belly+belly"].entry
    assert (cure.sheet, cure.facts["kg"], cure.facts["thickness_mm"], cure.sure) == ("bacon", 2.2, 38, True)
    undo = Tick("u1", weighed.key, "undone", day("2026-11-27"), "2026-11-27T13:00:00Z", answers=weighed.id)
    assert not planned([box], [chosen, weighed, undo], "2026-11-27").laid["box.belly+belly"].entry.sure


@pytest.mark.common_practice
def test_a_box_that_came_warm_is_neither_frozen_nor_cured() -> None:
    box = entry("box", "meat-box", "2026-11-27", "2026-11-10", kg=18)
    plan = planned([box], [done("box.take-in", "2026-11-27", bacon="belly and loin", warm=True)], "2026-11-27")
    assert "warm" in steps(plan)
    assert not steps(plan) & {"mince", "joints", "belly", "loin"}


@pytest.mark.published
@pytest.mark.parametrize(("freezer", "looked"), [("full", "2026-11-11"), ("half full or less", "2026-11-10")])
def test_a_freezer_that_was_off_is_looked_at_when_its_hours_are_up(freezer: str, looked: str) -> None:
    """FoodSafety.gov: 48 hours full, 24 half full."""
    plan = planned([entry("cut", "power-cut", "2026-11-09", freezer=freezer)], as_of="2026-11-09")
    assert {iso(task.best) for task in plan.tasks if task.step in ("full", "half")} == {looked}


# ── preserving ────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_bottling_has_no_date_until_the_altitude_is_said() -> None:
    """USDA Guide 2: the time in boiling water depends on it."""
    plums = entry("plums", "bottled-fruit", "2026-08-20", "2026-08-10", kg=6)
    plan = planned([plums], as_of="2026-08-10")
    assert "process" not in steps(plan)
    assert "altitude_m" in {lack.fact for lack in plan.lacks}


@pytest.mark.published
def test_soft_fruit_says_its_minutes_at_its_altitude() -> None:
    """Michigan State University Extension 01600253: rhubarb at 1 500 m, 20 minutes."""
    fruit = entry("rhubarb", "bottled-soft-fruit", "2026-05-20", "2026-05-10", kg=6, altitude_m=1500)
    everything = library()
    work = planner(everything.sheets.values(), "england", everything.law)
    plan = work.plan([fruit], (), [], day("2026-05-10"), day("2027-05-10"))
    laid = work.explain(plan, plan.laid["rhubarb"].entry, [])
    said = " ".join(reason.inputs for task in laid.tasks if task.step == "process" for reason in task.reasons)
    assert "20 minutes in boiling water" in said


@pytest.mark.published
def test_kraut_in_a_warm_room_is_tasted_after_three_to_four_weeks() -> None:
    """Michigan State University Extension 01600078: 70 to 75 °F, 3 to 4 weeks."""
    plan = planned([entry("kraut", "sauerkraut", "2026-10-01", kg=5, room_c=22.5)])
    taste = next(task for task in plan.tasks if task.step == "taste")
    assert (iso(taste.opens), iso(taste.best), iso(taste.closes)) == ("2026-10-22", "2026-10-26", "2026-10-29")


@pytest.mark.published
def test_spoilt_kraut_ends_there() -> None:
    """North Dakota State University Extension: pink or slimy, discard without tasting."""
    kraut = entry("kraut", "sauerkraut", "2026-10-01", kg=5)
    plan = planned([kraut], [done("kraut.skim.2", "2026-10-07", bad=True)], "2026-10-08")
    assert "throw" in steps(plan)
    assert not steps(plan) & {"taste", "cold"}


# ── livestock ─────────────────────────────────────────────────────────────────────────────────────────────────────

PIGS = entry("pigs", "weaners", "2026-04-06", "2026-03-20", kg=16)


@pytest.mark.common_practice
def test_weaners_of_16_kg_on_6_april_are_bacon_on_8_august() -> None:
    """0.60 kg a day: 124 days; the abattoir is booked eight weeks ahead."""
    plan = planned([PIGS], as_of="2026-03-20")
    assert best(plan, "pigs.kill") == "2026-08-08"
    assert best(plan, "pigs.book") == "2026-06-13"
    assert plan.laid["pigs.kill+pork"].entry.sheet == "pork-cut-up"


@pytest.mark.common_practice
def test_the_day_the_abattoir_gives_holds_and_the_jobs_before_it_hang_from_it() -> None:
    ticks = [done("pigs.book", "2026-06-10", day=day("2026-08-04"))]
    plan = planned([PIGS], ticks, "2026-06-10")
    kill = next(task for task in plan.tasks if task.key == "pigs.kill")
    assert (iso(kill.opens), iso(kill.best), iso(kill.closes)) == ("2026-08-04",) * 3
    assert kill.fate is Fate.PLAIN
    assert best(plan, "pigs.empty") == "2026-08-03"
    ticks.append(done("pigs.empty", "2026-08-03"))
    assert fate(planned([PIGS], ticks, "2026-08-03"), "pigs.kill") is Fate.PLAIN


@pytest.mark.published
def test_pigs_hold_pigs_for_twenty_days_and_sheep_that_come_after_hold_them_on() -> None:
    """General licence, annex A, 2016: 20 and 6 days; free on day 21, and on 1 May when sheep come on day 18."""
    alone = planned([PIGS], as_of="2026-04-06")
    assert barred(alone, "move off", "pigs", "2026-04-26")
    assert not barred(alone, "move off", "pigs", "2026-04-27")
    assert not barred(alone, "slaughter", "pigs", "2026-04-10")
    both = planned([PIGS, entry("lambs", "store-lambs", "2026-04-24")], as_of="2026-04-24")
    assert barred(both, "move off", "pigs", "2026-04-30")
    assert not barred(both, "move off", "pigs", "2026-05-01")


@pytest.mark.published
@pytest.mark.parametrize(
    ("nation", "held", "free"),
    [("england", "2026-04-12", "2026-04-13"), ("scotland", "2026-04-19", "2026-04-20")],
)
def test_sheep_that_come_hold_sheep_by_the_law_of_their_nation(nation: Nation, held: str, free: str) -> None:
    """Six days in England and Wales (annex A, 2016), thirteen in Scotland (Interim Measures Order 2002)."""
    plan = planned([entry("lambs", "store-lambs", "2026-04-06")], as_of="2026-04-06", nation=nation)
    assert barred(plan, "move off", "lambs", held)
    assert not barred(plan, "move off", "lambs", free)


@pytest.mark.published
@pytest.mark.parametrize("nation", ["northern ireland", None])
def test_no_standstill_is_dated_where_none_is_law_or_no_nation_is_said(nation: Nation | None) -> None:
    """Northern Ireland lifted the standstill of whole holdings on 4 March 2013 (SR 2013/29)."""
    plan = planned([PIGS, entry("lambs", "store-lambs", "2026-04-06")], as_of="2026-04-06", nation=nation)
    assert not any("move off" in bar.acts for bar in plan.bars)


@pytest.mark.published
def test_28_days_of_withdrawal_are_free_on_the_29th_and_a_missing_figure_never_clears() -> None:
    """Last dose 1 May 2026, 28 days: first 30 May (Fimea: 6 days of milk, good from the seventh day after)."""
    dosed = planned([PIGS], [done("pigs.worm", "2026-05-01", withdrawal_days=28)], "2026-05-02")
    assert barred(dosed, "slaughter", "pigs", "2026-05-29")
    assert not barred(dosed, "slaughter", "pigs", "2026-05-30")
    unsaid = planned([PIGS], [done("pigs.worm", "2026-05-01")], "2026-05-02")
    assert barred(unsaid, "slaughter", "pigs", "2027-12-31")
    kill = next(task for task in unsaid.tasks if task.key == "pigs.kill")
    assert (kill.best, kill.fate) == (None, Fate.BARRED)


def medicine(name: str, on: str, whom: str) -> Entry:
    return Entry(name, "medicine", name, {"date": day(on), "for": whom}, day(on))


@pytest.mark.published
def test_of_two_medicines_the_longer_withdrawal_holds() -> None:
    """10 days from 1 May, 5 from 8 May: first free 14 May; 10 from 1 May is the 12th alone."""
    hens = entry("hens", "laying-hens", "2026-01-10")
    treated = [hens, medicine("one", "2026-05-01", "hens"), medicine("two", "2026-05-08", "hens")]
    first = done("one.dose", "2026-05-01", withdrawal_days=10, course=False)
    second = done("two.dose", "2026-05-08", withdrawal_days=5, course=False)
    plan = planned(treated, [first, second], "2026-05-08")
    assert barred(plan, "eat", "hens", "2026-05-13")
    assert not barred(plan, "eat", "hens", "2026-05-14")
    assert not barred(planned(treated[:2], [first], "2026-05-08"), "eat", "hens", "2026-05-12")


@pytest.mark.common_practice
def test_a_medicine_put_down_and_not_yet_ticked_holds_already() -> None:
    """Nobody eats the eggs of hens under a treatment whose figure is not said."""
    plan = planned([entry("hens", "laying-hens", "2026-01-10"), medicine("one", "2026-05-01", "hens")])
    assert barred(plan, "eat", "hens", "2026-05-01")
    assert barred(plan, "sell", "hens", "2027-12-01")
    assert not barred(plan, "eat", "hens", "2026-04-30")


@pytest.mark.common_practice
def test_a_course_is_free_only_after_its_last_dose() -> None:
    hens = entry("hens", "laying-hens", "2026-01-10")
    ticks = [
        done("one.dose", "2026-05-01", withdrawal_days=7, course=True),
        done("one.more.1", "2026-05-02", withdrawal_days=7, last=False),
        done("one.more.2", "2026-05-03", withdrawal_days=7, last=True),
    ]
    plan = planned([hens, medicine("one", "2026-05-01", "hens")], ticks, "2026-05-03")
    assert barred(plan, "eat", "hens", "2026-05-10")
    assert not barred(plan, "eat", "hens", "2026-05-11")


@pytest.mark.published
def test_day_olds_of_13_april_are_off_heat_on_25_may_and_lay_from_late_august() -> None:
    """Six weeks: IFAS Extension. First eggs at 18 to 20 weeks: Oregon State University Extension."""
    birds = entry("birds", "table-birds", "2026-04-13", "2026-04-01", age_d=0)
    assert best(planned([birds], as_of="2026-04-01"), "birds.off") == "2026-05-25"
    hens = entry("hens", "laying-hens", "2026-04-13", "2026-04-01", age_d=0)
    first = next(task for task in planned([hens], as_of="2026-04-01").tasks if task.step == "first")
    assert (iso(first.opens), iso(first.best)) == ("2026-08-17", "2026-08-31")


@pytest.mark.common_practice
def test_the_brooder_is_warm_before_the_chicks_come() -> None:
    plan = planned([entry("birds", "table-birds", "2026-04-13", "2026-04-01")], as_of="2026-04-01")
    brooder = next(task for task in plan.tasks if task.step == "brooder")
    assert brooder.closes < day("2026-04-13")


@pytest.mark.common_practice
def test_rounds_are_no_tasks_and_end_with_the_group() -> None:
    plan = planned([PIGS], as_of="2026-03-20")
    rounds = {(one.step, one.at, iso(one.first), iso(one.last)) for one in plan.standing if one.entry == "pigs"}
    assert rounds == {
        ("morning", "morning", "2026-04-06", "2026-08-08"),
        ("evening", "evening", "2026-04-06", "2026-08-08"),
    }
    assert not steps(plan) & {"morning", "evening"}


@pytest.mark.common_practice
def test_struck_sheep_hold_their_flock_until_the_figure_is_said() -> None:
    flock = entry("lambs", "store-lambs", "2026-08-24")
    strike = Entry("strike", "fly-strike", "strike", {"date": day("2026-09-02"), "for": "lambs"}, day("2026-09-02"))
    plan = planned([flock, strike], as_of="2026-09-02")
    assert barred(plan, "slaughter", "lambs", "2026-12-01")
    treated = planned([flock, strike], [done("strike.treat", "2026-09-02", withdrawal_days=0)], "2026-09-03")
    assert not barred(treated, "slaughter", "lambs", "2026-09-03")


@pytest.mark.published
def test_a_ring_is_lawful_to_the_seventh_day_and_never_late_after_it() -> None:
    """SI 2007/1029, schedule 5, paragraph 1: born 1 April 2026, last lawful day 8 April; the rest goes on."""
    lambs = entry("lambs", "lambs", "2026-04-01", ring=True)
    born = done("lambs.born", "2026-04-01")
    ring = next(task for task in planned([lambs], [born], "2026-04-02").tasks if task.step == "ring")
    assert (iso(ring.opens), iso(ring.closes), ring.legal) == ("2026-04-02", "2026-04-08", True)
    after = planned([lambs], [born], "2026-04-09")
    assert fate(after, "lambs.ring") is Fate.UNLAWFUL
    assert best(after, "lambs.wean") == "2026-07-01"
    assert "ring" not in steps(planned([lambs], [born], "2026-04-02", nation=None))


@pytest.mark.published
def test_a_lamb_is_vaccinated_at_three_weeks_and_again_four_to_six_weeks_later() -> None:
    """Farming press, 2022: the first from 3 weeks old, the second 4 to 6 weeks later."""
    plan = planned([entry("lambs", "lambs", "2026-04-01")], [done("lambs.born", "2026-04-01")], "2026-04-02")
    second = next(task for task in plan.tasks if task.step == "second")
    assert best(plan, "lambs.vaccine") == "2026-04-22"
    assert (iso(second.best), iso(second.closes)) == ("2026-05-20", "2026-06-03")


@pytest.mark.published
@pytest.mark.parametrize("sheet", ["laying-hens", "laying-ducks", "quail"])
def test_a_week_of_eggs_is_dated_by_its_oldest(sheet: str) -> None:
    """Business Companion, Selling eggs: best before 28 days from laying. The oldest of those put by on 8 March 2026
    was laid on 1 March, and its day is 29 March."""
    step = next(step for step in library().sheets[sheet].steps if step.id == "eggs")
    (made,) = step.makes
    assert made.keeps is not None
    assert iso(add(day("2026-03-08"), made.keeps)) == "2026-03-29"
