"""Dates of the sheets that feed the ground, against what the trade and a regulation say."""

import pytest

from app.rules.facts import Entry, Holding, Tick
from app.rules.plan import plan
from app.rules.spans import Day
from app.rules.tasks import Plan
from app.sheets.library import Library
from tests.rules.kit import day, done, entry, iso, task
from tests.sheets.test_years_of_garden_and_upkeep import RoundSeason, library


def planned(*entries: Entry, ticks: tuple[Tick, ...] = (), as_of: str = "2027-08-01") -> Plan:
    known: Library = library()
    holding = Holding("england", RoundSeason())
    return plan(holding, known.sheets, known.law, entries, (), ticks, day(as_of), day("2029-01-01"))


def put(sheet: str, on: str, name: str = "e", **facts: int | str | bool) -> Entry:
    return entry(name, sheet, on, told="2027-08-01", place="Long bed", **facts)


def best(found: Plan, key: str) -> str | None:
    return iso(task(found, key).best)


def steps(found: Plan, name: str = "e") -> set[str]:
    return {each.step for each in found.tasks if each.entry == name and each.best is not None}


@pytest.mark.published
def test_fresh_muck_and_what_touches_the_soil() -> None:
    """Worked in at least 120 days before the harvest of what touches the soil: 7 CFR 205.203 (c)(1)."""
    ticks = (done("e.spread", "2027-11-01"),)
    found = planned(put("muck", "2027-11-01", fresh=True, bought=False), ticks=ticks)
    assert task(found, "e.eat").best == day("2027-11-01") + 120
    assert "stack" in steps(found)
    rotted = planned(put("muck", "2027-11-01", bought=False))
    assert steps(rotted) == {"spread"}


@pytest.mark.published
def test_bought_muck_is_tested_before_it_is_spread() -> None:
    """Broad beans show it after three to four weeks; the protocol of Washington State University counts three sets of
    leaves at two to three."""
    found = planned(put("muck", "2027-11-01"))
    begun: Day = task(found, "e.test").best or 0
    made = next(one.entry for one in found.laid.values() if one.entry.sheet == "weedkiller-test")
    judged = task(found, f"{made.id}.judge").best or 0
    assert made.facts["date"] == begun
    assert judged - begun == 28
    assert judged < (task(found, "e.spread").best or 0)
    looked = task(found, f"{made.id}.look").best or 0
    assert 14 <= looked - begun <= 21


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("leaves", "then"),
    [
        ("alike in all six", set()),
        ("cupped or fern-like in the tested three", {"refuse"}),
        ("sick in all six", {"again"}),
    ],
)
def test_what_the_beans_say(leaves: str, then: set[str]) -> None:
    ticks = (done("e.sow", "2027-08-01"), done("e.judge", "2027-08-29", leaves=leaves))
    found = planned(put("weedkiller-test", "2027-08-01"), ticks=ticks, as_of="2027-08-30")
    assert steps(found) & {"refuse", "again"} == then


@pytest.mark.common_practice
def test_soil_that_is_not_sour_is_not_limed() -> None:
    """At pH 6.5 and above nothing is wanted."""
    for ph, limed in (("6.5 or more", False), ("below 5.5", True)):
        ticks = (done("e.test", "2027-10-10", ph=ph),)
        found = planned(put("lime", "2027-11-01"), ticks=ticks, as_of="2027-10-11")
        assert ("spread" in steps(found)) is limed


@pytest.mark.common_practice
def test_the_soil_is_not_tested_within_three_months_of_lime() -> None:
    found = planned(put("lime", "2027-11-01"), ticks=(done("e.spread", "2027-11-01"),))
    again = task(found, "e.again")
    assert again.opens is not None
    assert again.opens >= day("2028-02-01")


@pytest.mark.common_practice
@pytest.mark.parametrize(("lime", "clash"), [("2027-11-20", True), ("2028-02-10", False)])
def test_lime_within_two_months_of_muck_is_said(lime: str, clash: bool) -> None:
    muck, limed = put("muck", "2027-11-01", "muck", bought=False), put("lime", lime, "lime")
    found = planned(muck, limed)
    assert any({one.one, one.other} == {"muck", "lime"} for one in found.clashes) is clash
    elsewhere = planned(muck, limed._replace(place="Top bed"))
    assert not elsewhere.clashes


@pytest.mark.common_practice
def test_green_manure_is_dug_in_before_it_flowers_and_the_bed_waits_two_weeks() -> None:
    """Over winter: dug in as growth begins in spring; in summer six to ten weeks from sowing."""
    winter = planned(put("green-manure", "2027-09-10"))
    assert (best(winter, "e.cut") or "")[:7] == "2028-03"
    assert (task(winter, "e.ready").opens or 0) - (task(winter, "e.dig").best or 0) >= 14
    assert "dig-summer" not in steps(winter)
    summer = planned(put("green-manure", "2027-08-02", hardy=False))
    assert 42 <= (task(summer, "e.cut-summer").best or 0) - day("2027-08-02") <= 70
    for found, dug in ((winter, "dig"), (summer, "dig-summer")):
        (room,) = [bar for bar in found.bars if bar.kind == "room"]
        assert room.last == task(found, f"e.{dug}").best
