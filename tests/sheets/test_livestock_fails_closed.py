"""The law on the livestock sheets: who stands still, what is not eaten, and that nothing opens by mistake."""

from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.rules.facts import Entry, Tick
from app.rules.live import Live
from app.rules.moment import TickDay
from app.rules.plan import Planner
from app.rules.tasks import Fate
from app.rules.terms import NATIONS, Nation
from app.sheets.livestock_law import standstill
from app.trade.livestock.standstill import Arrival, held_until
from app.trade.livestock.withdrawal import first_ok
from tests.rules.kit import day, done, entry, iso, planner, task, tick
from tests.sheets.test_stock_and_larder_dates import barred, library, planned

OURS = [sheet for sheet in library().sheets.values() if sheet.trade == "livestock"]
HELD = ("cattle", "sheep", "goat", "pig")
DAYS = st.integers(day("2024-01-01"), day("2040-12-31"))
COME = {
    "weaners": "pig", "pigs-moved-in": "pig", "store-lambs": "sheep", "sheep-come": "sheep", "goats-come": "goat",
    "cattle-come": "cattle", "ewes-in-lamb-bought": "sheep", "ram-hired": "sheep",
}  # fmt: skip
"""Every sheet on which animals come, and which species that is."""


@cache
def at(nation: Nation | None) -> Planner:
    return planner(library().sheets.values(), nation, library().law)


def come(sheet: str, on: int) -> Entry:
    facts: dict[str, Any] = {"date": on, **({"male_in": on - 60} if sheet == "ewes-in-lamb-bought" else {})}
    return Entry(sheet, sheet, sheet, facts, on)


def last_held(sheets: dict[str, int], nation: Nation | None) -> dict[str, int]:
    """The last barred day of each species by the bars that these arrivals lay."""
    facts = [come(sheet, on) for sheet, on in sheets.items()]
    laid = planned(facts, (), "2024-01-01", nation).bars
    found: dict[str, int] = {}
    for bar in laid:
        if "move off" in bar.acts and bar.by in sheets:
            assert bar.last is not None
            for species in bar.species:
                found[species] = max(found.get(species, 0), bar.last)
    return found


@pytest.mark.published
@pytest.mark.parametrize("nation", [*NATIONS, None])
@pytest.mark.parametrize("sheet", COME)
def test_who_comes_holds_whom_the_law_of_the_nation_names(sheet: str, nation: Nation | None) -> None:
    """General licence, annex A; the Scottish Order of 2002; SR 2013/29: one matrix, and each sheet's bars."""
    on = day("2026-04-06")
    rows = standstill(nation, on) or ()
    assert last_held({sheet: on}, nation) == held_until([Arrival(on, COME[sheet])], [hold for hold, _ in rows])


@settings(max_examples=12)
@given(
    first=DAYS,
    later=st.integers(0, 25),
    pair=st.tuples(st.sampled_from(sorted(COME)), st.sampled_from(sorted(COME))).filter(lambda two: two[0] != two[1]),
    nation=st.sampled_from(["england", "scotland"]),
)
def test_a_later_arrival_holds_on(first: int, later: int, pair: tuple[str, str], nation: Nation) -> None:
    rows = standstill(nation, first) or ()
    arrivals = [Arrival(first, COME[pair[0]]), Arrival(first + later, COME[pair[1]])]
    found = last_held({pair[0]: first, pair[1]: first + later}, nation)
    assert found == held_until(arrivals, [hold for hold, _ in rows])


@pytest.mark.published
@pytest.mark.parametrize("species", HELD)
def test_animals_do_not_leave_while_the_holding_stands_still_and_go_the_day_after(species: str) -> None:
    """Ceredigion County Council: comes on a Monday, Sunday refused, free the next Monday."""
    leaves = {"cattle": "cattle-leave", "sheep": "sheep-leave", "goat": "goats-leave", "pig": "pigs-leave"}[species]
    going = Entry("go", leaves, "go", {"date": day("2026-04-10"), "for": "them"}, day("2026-04-06"))
    plan = planned([come("sheep-come", day("2026-04-06")), going], as_of="2026-04-06")
    assert iso(task(plan, "go.go").best) == "2026-04-13"
    assert barred(plan, "move off", "go", "2026-04-12")


@pytest.mark.published
def test_a_zone_that_is_not_lifted_lets_nothing_go_and_lifted_it_does() -> None:
    """A switch with its date; without an end it holds on."""
    zone = entry("zone", "movement-order", "2026-04-01")
    going = Entry("go", "sheep-leave", "go", {"date": day("2026-04-10"), "for": "them"}, day("2026-04-01"))
    held = task(planned([zone, going], as_of="2026-04-01"), "go.go")
    assert (held.best, held.fate) == (None, Fate.BARRED)
    lifted = zone._replace(facts={**zone.facts, "lifted": day("2026-04-12")})
    assert iso(task(planned([lifted, going], as_of="2026-04-01"), "go.go").best) == "2026-04-13"


# ── Withdrawal ────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("sheet", OURS, ids=lambda sheet: sheet.id)
def test_whoever_asks_for_a_withdrawal_bars_by_it(sheet: Any) -> None:
    """No figure is asked for and then not held to: a bar of law ends with that very tick's, in every nation."""
    for step in sheet.steps:
        for ask in step.asks:
            if not ask.name.startswith("withdrawal"):
                continue
            ends = [bar.closes for bar in sheet.bars if bar.kind == "law" and not bar.nations]
            wanted = f"{step.id}.{ask.name}"
            assert any(isinstance(end, TickDay) and end.days == wanted for end in ends), (sheet.id, step.id)
            assert not ask.optional, (sheet.id, step.id)


ASKED = [
    (sheet.id, step.id)
    for sheet in OURS
    for step in sheet.steps
    if any(ask.name == "withdrawal_days" for ask in step.asks) and "for" not in sheet.facts and not step.again
]


@settings(max_examples=25)
@given(where=st.sampled_from(ASKED), on=DAYS, days=st.none() | st.integers(0, 365) | st.sampled_from([0.5, 7.5]))
def test_the_first_free_day_lies_after_the_last_of_the_figure_and_without_one_never(
    where: tuple[str, str], on: int, days: float | None
) -> None:
    """As `first_ok`, whose cases are published: nought is free the same day, and a part of a day counts as one."""
    sheet, step = where
    label = f".{iso(on)[:4]}" if sheet == "bees" else ""  # type: ignore[index]
    dose = done(f"it.{step}{label}", iso(on) or "", **({} if days is None else {"withdrawal_days": days}))
    facts = {"male_in": on - 60} if sheet == "ewes-in-lamb-bought" else {}
    plan = planned([entry("it", sheet, iso(on - 1) or "", **facts)], [dose], iso(on) or "")
    laid = [bar for bar in plan.bars if bar.by == "it" and bar.kind == "law" and bar.first == on and "eat" in bar.acts]
    laid = laid or [bar for bar in plan.bars if bar.by == "it" and "slaughter" in bar.acts and bar.first == on]
    assert laid
    free = first_ok(on, days)
    assert {bar.last for bar in laid} == {None if free is None else free - 1}


PIGS = entry("pigs", "weaners", "2026-04-06", "2026-03-20", kg=16)
ABATTOIR = Entry(
    "day", "abattoir-pigs", "day", {"date": day("2026-08-03"), "for": "pigs", "head": 2}, day("2026-04-10")
)


@pytest.mark.published
def test_a_day_at_the_abattoir_is_held_by_the_withdrawal_of_the_group_it_is_for() -> None:
    """28 days from 20 July: free on 18 August (Fimea); the appointment is another entry, and must not slip by."""
    worm = done("pigs.worm", "2026-07-20", withdrawal_days=28)
    kill = task(planned([PIGS, ABATTOIR], [worm], "2026-07-21"), "day.kill")
    assert iso(kill.best) == "2026-08-18"
    assert iso(task(planned([PIGS, ABATTOIR], (), "2026-07-21"), "day.kill").best) == "2026-08-03"
    never = task(planned([PIGS, ABATTOIR], [done("pigs.worm", "2026-07-20")], "2026-07-21"), "day.kill")
    assert (never.best, never.fate) == (None, Fate.BARRED)


@pytest.mark.published
def test_it_is_held_at_once_when_the_dose_is_put_down_later() -> None:
    """A plan kept up to date is the plan made anew: whoever is for the group is laid again with it."""
    live = Live(at("england"), [PIGS, ABATTOIR], [], [], day("2026-07-21"), day("2027-01-01"))
    worm: Tick = done("pigs.worm", "2026-07-20", withdrawal_days=28)
    live.add_tick(worm, "pigs")
    kept = next(found for found in live.laid["day"].tasks if found.step == "kill")
    assert iso(kept.best) == "2026-08-18"
    live.add_tick(tick("undone", worm.key, "2026-07-21", answers=worm.id), "pigs")
    free = next(found for found in live.laid["day"].tasks if found.step == "kill")
    assert iso(free.best) == "2026-08-03"


@pytest.mark.common_practice
@pytest.mark.parametrize("nation", [*NATIONS, None])
def test_the_killing_of_a_casualty_is_never_barred(nation: Nation | None) -> None:
    """Inside a withdrawal without a figure, inside a standstill, inside a zone: today."""
    dose = Entry("dose", "medicine", "dose", {"date": day("2026-05-01"), "for": "pigs"}, day("2026-05-01"))
    zone = entry("zone", "movement-order", "2026-04-01")
    case = Entry("case", "sick-animal", "case", {"date": day("2026-05-02"), "for": "pigs"}, day("2026-05-02"))
    looked = done("case.look", "2026-05-02", bad="suffers beyond help")
    plan = planned([PIGS, dose, zone, case], [done("dose.dose", "2026-05-01"), looked], "2026-05-02", nation)
    found = task(plan, "case.put-down")
    assert (iso(found.best), found.fate) == ("2026-05-02", Fate.PLAIN)
    assert barred(plan, "slaughter", "pigs", "2026-12-01")


# ── Nations ───────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("sheet", OURS, ids=lambda sheet: sheet.id)
def test_without_a_nation_no_duty_of_law_has_a_date(sheet: Any) -> None:
    """Registers, reports, tags, passports, inventories: dated where they are law, nowhere else."""
    law = {step.id for step in sheet.steps if step.nations}
    facts = {"for": "another", "male_in": day("2026-01-01"), "ring": True}
    asked = {name: value for name, value in facts.items() if name in sheet.facts}
    one = entry("it", sheet.id, "2026-04-06", "2026-03-25", **asked)
    nowhere = planned([one], as_of="2026-03-25", nation=None)
    assert not law & {found.step for found in nowhere.tasks}
    assert not [bar for bar in nowhere.bars if bar.by == "it" and bar.kind == "law" and "move off" in bar.acts] or (
        sheet.id == "movement-order"
    )
    assert not [step.id for step in sheet.steps if step.loses == "it is the law" and not step.nations]


@pytest.mark.published
def test_a_duty_that_is_late_is_still_owed() -> None:
    """GOV.UK: register within one month; a month and a day later it is late, and not forgiven."""
    hens = entry("hens", "laying-hens", "2026-04-13")
    found = task(planned([hens], as_of="2026-05-20"), "hens.register")
    assert (iso(found.closes), found.fate) == ("2026-05-13", Fate.PLAIN)
    scots = {one.step for one in planned([hens], as_of="2026-05-20", nation="scotland").tasks}
    assert "register" in scots
