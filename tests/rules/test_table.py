"""Back from the table: the latest start that is in time, what is too late, and the other ways in."""

from functools import cache

import pytest

from app.rules.facts import Amendment
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.table import Back, back_from, chain_entries, latest_start, try_on
from app.rules.table_here import from_here
from app.rules.terms import Value
from app.rules.ways_in import Goal, Link, goals, usual_facts, ways_to
from app.sheets.library import load
from tests.rules.kit import brief, day, done, entry, iso, planner

BELLY: dict[str, Value] = {"kg": 3, "thickness_mm": 40}


@cache
def real(shift_days: int = 0) -> Planner:
    everything = load()
    return planner(everything.sheets.values(), "england", everything.law, shift_days)


def goal(what: str) -> Goal:
    return next(one for one in goals(real().sheets) if one.what == what)


def way(what: str, begins: str) -> tuple[Link, ...]:
    return next(one for one in ways_to(real().sheets, goal(what)) if one[0].sheet == begins)


def back(what: str, begins: str, on: str, as_of: str, facts: dict[str, Value] | None = None) -> Back:
    return back_from(real(), way(what, begins), goal(what), day(on), day(as_of), facts)


def best(found: Back, sheet: str, step: str) -> str | None:
    return next(iso(one.best) for one in found.steps if (one.sheet, one.step) == (sheet, step))


# ── the chain of the trade, by hand ───────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_bacon_for_20_december_is_counted_back_to_weaners_in_july() -> None:
    """16 to 90 kg at 0.6 kg a day is 124 days (bacon pigs, 0.62 kg a day); three days hung; 40 mm of belly 14 days in
    the cure and 4 of rest; three nights of smoke, two days and it is sliced: 124 + 3 + 22 days before 20 December."""
    found = back("bacon", "weaners", "2026-12-20", "2026-05-01", BELLY)
    assert (iso(found.start), found.late_by, iso(found.ready)) == ("2026-07-24", 0, "2026-12-20")
    assert best(found, "weaners", "kill") == "2026-11-25"
    assert best(found, "pork-cut-up", "cut") == "2026-11-28"
    assert best(found, "bacon", "out") == "2026-12-12"
    assert best(found, "weaners", "book") == "2026-09-30"


@pytest.mark.published
def test_a_ham_for_christmas_goes_through_four_trades() -> None:
    """6 kg is 13.2 lb, 53 days at 4 days a pound (USDA farm bulletin); boiled the day after; pigs of 124 days."""
    found = back("boiled ham", "weaners", "2026-12-25", "2026-06-01", {"kg": 6})
    told = ("come", "kill", "leg", "out")
    assert [(one.sheet, one.step, iso(one.best)) for one in found.steps if one.step in told] == [
        ("weaners", "come", "2026-06-27"), ("weaners", "kill", "2026-10-29"), ("pork-cut-up", "leg", "2026-11-01"),
        ("ham-in-brine", "out", "2026-12-24"),
    ]  # fmt: skip
    assert iso(found.ready) == "2026-12-25"


@pytest.mark.published
def test_a_sheet_that_counts_back_by_itself_is_asked_for_its_first_act() -> None:
    """15 lb are 60 days of brine; boiled the day before Christmas, out the day before that."""
    facts: dict[str, Value] = {"kg": 6.804, "own_pig": False}
    found = back("A ham for a day, counted back", "ham-for-the-table", "2026-12-25", "2026-10-01", facts)
    assert iso(found.start) == "2026-12-25"
    assert best(found, "ham-for-the-table", "brine") == "2026-10-24"
    assert (iso(found.begin_by), found.late_by) == ("2026-10-23", 0)


# ── too late ──────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
def test_what_is_too_late_is_told_with_when_it_would_be_and_the_next_way_in_is_open() -> None:
    """On 1 September weaners are 39 days too late for bacon on 20 December; a pig killed by 25 November is not."""
    pigs = back("bacon", "weaners", "2026-12-20", "2026-09-01", BELLY)
    assert pigs.late_by == 39
    assert {"come"} <= {one.step for one in pigs.late}
    # 1 September and 149 days is 28 January.
    assert iso(pigs.from_today) == "2027-01-28"
    carcase = back("bacon", "pork-cut-up", "2026-12-20", "2026-09-01", BELLY)
    assert (carcase.late_by, iso(carcase.begin_by), carcase.late) == (0, "2026-11-25", ())


@pytest.mark.published
def test_a_meal_is_put_off_by_as_much_as_its_brine_is_late() -> None:
    """60 days of brine: begun on 2 November, the leg fetched that day, it is on the table 62 days after the brine."""
    facts: dict[str, Value] = {"kg": 6.804, "own_pig": False}
    found = back("A ham for a day, counted back", "ham-for-the-table", "2026-12-25", "2026-11-02", facts)
    assert found.late_by == 10
    assert iso(found.from_today) == "2027-01-04"
    assert {"leg", "brine"} == {one.step for one in found.late}


@pytest.mark.common_practice
def test_smoked_bacon_for_august_is_smoked_before_the_flies_and_green_bacon_is_not() -> None:
    """Flies are about from April to October: no night of smoke in them."""
    smoked = back("bacon", "bacon", "2027-08-20", "2027-01-01", BELLY)
    smoke = next(one for one in smoked.steps if one.step == "smoke")
    assert iso(smoke.best) is not None
    assert smoke.best < day("2027-04-01")
    green = back("bacon", "bacon", "2027-08-20", "2027-01-01", {**BELLY, "smoked": False})
    assert green.start is not None
    assert green.start > day("2027-07-20")


@pytest.mark.common_practice
def test_what_was_not_said_is_asked_for_at_once() -> None:
    """A joint without a weight has no day to leave the freezer."""
    found = back("A joint from the freezer for a day", "joint-to-thaw", "2026-12-20", "2026-09-01")
    assert (found.start, "‘kg’" in found.reason) == (None, True)


# ── properties ────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("shift_days", [0, 182], ids=["north", "south"])
@pytest.mark.parametrize(
    ("what", "begins", "facts"),
    [
        ("bacon", "bacon", BELLY),
        ("boiled ham", "weaners", {"kg": 6}),
        ("sauerkraut", "sauerkraut", {}),
        ("A ham for a day, counted back", "ham-for-the-table", {"own_pig": True}),
    ],
)
def test_a_later_meal_never_begins_earlier_and_a_day_later_would_not_do(
    what: str, begins: str, facts: dict[str, Value], shift_days: int
) -> None:
    """Over a year with a 29 February in it, on both halves of the earth."""
    known = real(shift_days)
    before: Day = 0
    for on in [*range(day("2027-12-20"), day("2028-12-20"), 29), day("2028-12-20")]:
        found = back_from(known, way(what, begins), goal(what), on, on - 400, facts)
        assert found.start is not None
        assert found.ready is not None
        assert found.ready <= on
        assert found.start >= before
        later = try_on(known, way(what, begins), found.start + 1, facts)
        assert found.start == on or later.ready is None or later.ready > on
        before = found.start


@pytest.mark.parametrize("length", [0, 1, 7, 149, 700])
def test_the_search_finds_a_plain_length_by_counting_back(length: int) -> None:
    assert latest_start(lambda on: on + length, day("2028-03-01")) == day("2028-03-01") - length


def test_a_guess_changes_nothing_that_is_found() -> None:
    for guess in (-900, -150, -149, -100, 0, 5):
        assert latest_start(lambda on: on + 149, day("2028-03-01"), guess=day("2028-03-01") + guess) == day(
            "2027-10-04"
        )


def test_the_search_steps_over_a_stretch_without_a_day() -> None:
    """Undated from May to September; what is begun before takes ten days."""
    first, last = day("2027-05-01"), day("2027-09-30")
    assert latest_start(lambda on: None if first <= on <= last else on + 10, day("2027-08-01")) == first - 1
    assert latest_start(lambda on: None, day("2027-08-01")) is None


# ── ways in ───────────────────────────────────────────────────────────────────────────────────────────────────────


def test_ways_in_go_through_what_makes_what_and_keep_to_one_species() -> None:
    found = [[link.sheet for link in one] for one in ways_to(real().sheets, goal("bacon"))]
    assert ["weaners", "pork-cut-up", "bacon"] in found
    assert found[-1] == ["bacon"]
    assert not any("store-lambs" in one for one in found)


def test_a_step_that_hangs_on_a_fact_is_asked_by_saying_it() -> None:
    chain = way("boiled ham", "weaners")
    assert chain[1].facts == {"legs": "ham in brine"}
    entry, amendments = chain_entries(real(), chain, day("2026-06-27"), {"kg": 5})
    assert entry.facts["target_kg"] == 90
    assert [(one.entry, dict(one.facts)) for one in amendments] == [
        ("table.kill+pork", {"legs": "ham in brine"}), ("table.kill+pork.leg+ham", {"kg": 5})
    ]  # fmt: skip


def test_what_waits_for_an_answer_is_no_way_in() -> None:
    maker = brief("""
        sheet = "maker"
        trade = "meat"
        [[step]]
        id = "look"
        from = { entry = "date" }
        asks = { found = ["good", "bad"] }
        [[step]]
        id = "turn"
        from = { step = "look", by = "P2D" }
        when = { "look.found" = ["good"], else = false }
        makes = [{ entry = "thing", sheet = "end" }]
    """)
    end = brief("""
        sheet = "end"
        trade = "meat"
        [[step]]
        id = "pack"
        from = { entry = "date", by = "P3D" }
        asks = { kg = { asks = "kg" } }
        makes = [{ lot = "thing", amount = "pack.kg", unit = "kg", keeps = "P1M", where = "fridge" }]
    """)
    sheets = {"maker": maker, "end": end}
    assert [len(one) for one in ways_to(sheets, Goal("thing", "end", "pack"))] == [1]
    assert usual_facts(sheets, "end") == {}


# ── from what is here ─────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_pigs_that_are_here_are_planned_on_to_the_ham_though_nobody_has_said_so_yet() -> None:
    """Come on 1 July: 124 days to 2 November, hung three, 53 days of brine, boiled the day after: 29 December."""
    pigs = entry("pigs", "weaners", "2026-07-01", kg=16)
    one = from_here(real(), way("boiled ham", "weaners"), [pigs], {}, {}, day("2026-07-02"), {"kg": 6})
    assert [(each.entry.id, iso(each.ready), each.say) for each in one] == [("pigs", "2026-12-29", "pigs.kill+pork")]
    booked = {"pigs": [done("pigs.book", "2026-08-01", day=day("2026-10-20"))]}
    said = {"pigs.kill+pork": Amendment("pigs.kill+pork", {"legs": "ham in brine"})}
    two = from_here(real(), way("boiled ham", "weaners"), [pigs], said, booked, day("2026-08-02"), {"kg": 6})
    assert [(iso(each.ready), each.say) for each in two] == [("2026-12-16", "")]


def test_what_is_struck_or_of_another_sheet_is_not_here() -> None:
    """A cure of its own that is here goes on to its own end: 40 mm, sliced 22 days after it went in."""
    cure = entry("cure", "bacon", "2026-11-01", kg=3, thickness_mm=40)
    one = from_here(real(), way("bacon", "bacon"), [cure], {}, {}, day("2026-11-01"))
    assert [iso(each.ready) for each in one] == ["2026-11-23"]
    gone = entry("gone", "weaners", "2026-07-01")._replace(struck=True)
    lambs = entry("lambs", "store-lambs", "2026-07-01")
    assert not from_here(real(), way("bacon", "weaners"), [gone, lambs], {}, {}, day("2026-07-02"), BELLY)
