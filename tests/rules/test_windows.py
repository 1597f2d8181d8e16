"""Windows, by example: what a step is reckoned from, what pushes it, what today does to it."""

import pytest

from app.rules.moves import latest_start, moves, taken_as_done
from app.rules.state import State, state
from app.rules.tasks import Fate
from app.trade.reckoned import Reckoned
from tests.rules.kit import brief, day, done, entry, iso, keys, made, planner, task, tick, window
from tests.rules.sheets import TOMATO


def run(
    text: str, *ticks, on: str = "2027-03-01", as_of: str = "2027-01-01", last: str = "2028-12-31", works=None, **facts
):
    sheet = brief('sheet = "s"\n' + text, works)
    return made([sheet], [entry("e", "s", on, told="2027-01-01", **facts)], ticks, as_of, last)


CHAIN = """
[[step]]
id = "sow"
from = { entry = "date" }
opens = "-P1W"
closes = "P2W"
[[step]]
id = "plant"
from = { day = "--04-01" }
after = [{ step = "sow", by = "P6W" }]
closes = "P1W"
"""


def test_what_must_come_first_pushes_and_its_span_goes_with_the_best_day():
    plan = run(CHAIN)
    assert window(plan, "e.sow") == ("2027-02-22", "2027-03-01", "2027-03-15")
    assert window(plan, "e.plant") == ("2027-04-12", "2027-04-12", "2027-04-19")


def test_a_lower_bound_never_pulls():
    assert window(run(CHAIN, on="2027-01-02"), "e.plant")[1] == "2027-04-01"


def test_done_late_it_holds_what_follows_by_the_day_it_was_done():
    assert window(run(CHAIN, done("e.sow", "2027-03-20"), as_of="2027-03-20"), "e.plant")[1] == "2027-05-01"


def test_done_early_what_follows_may_come_sooner():
    assert window(run(CHAIN, done("e.sow", "2027-02-22"), as_of="2027-02-22"), "e.plant")[1] == "2027-04-05"


def test_an_open_step_past_its_best_day_counts_for_its_followers_as_today():
    assert window(run(CHAIN, as_of="2027-03-01"), "e.plant")[1] == "2027-04-12"
    assert window(run(CHAIN, as_of="2027-03-11"), "e.plant")[1] == "2027-04-22"
    assert window(run(CHAIN, as_of="2027-04-11"), "e.sow")[1] == "2027-03-01"


def missed(kind: str, closes: str = '"P2W"', more: str = ""):
    return f"""
[[step]]
id = "a"
from = {{ day = "--04-01", since = {{ entry = "date" }} }}
closes = {closes}
missed = "{kind}"
{more}
[[step]]
id = "b"
from = {{ step = "a", by = "P10D" }}
"""


def test_late_is_still_worth_doing_and_what_follows_waits_for_it():
    plan = run(missed("late"), as_of="2027-05-01")
    assert state(task(plan, "e.a"), plan.as_of) is State.LATE
    assert window(plan, "e.b")[1] == "2027-05-11"


def test_lost_takes_what_hangs_on_it_with_it_but_not_on_its_last_day():
    assert "e.b" in keys(run(missed("lost"), as_of="2027-04-15"))
    plan = run(missed("lost"), as_of="2027-04-16")
    assert (task(plan, "e.a").fate, "e.b" in keys(plan)) == (Fate.LOST, False)


def test_what_waits_moves_to_its_next_season_once_its_own_is_over():
    assert window(run(missed("wait"), as_of="2027-04-15"), "e.a")[1] == "2027-04-01"
    plan = run(missed("wait"), as_of="2027-04-16")
    assert window(plan, "e.a") == ("2028-04-01", "2028-04-01", "2028-04-15")
    assert window(plan, "e.b")[1] == "2028-04-11"


def test_what_passes_has_passed_and_is_never_late():
    plan = run(missed("passes"), as_of="2027-05-01")
    assert state(task(plan, "e.a"), plan.as_of) is State.PASSED


def test_let_go_of_a_step_that_may_be_lost_ends_its_chain_and_of_another_does_not():
    assert "e.b" not in keys(run(missed("lost"), tick("let go", "e.a", "2027-04-01")))
    assert "e.b" in keys(run(missed("late"), tick("let go", "e.a", "2027-04-01")))


SHUT = """
[[step]]
id = "first"
from = { entry = "date" }
[[step]]
id = "a"
from = { day = "--04-01" }
after = [{ step = "first", by = "P8W" }]
closes = { day = "--04-10", since = { entry = "date" } }
missed = "%s"
"""


@pytest.mark.parametrize(
    ("kind", "fate", "best"),
    [
        ("lost", Fate.NO_ROOM, "2027-04-26"),
        ("late", Fate.SQUEEZED, "2027-04-26"),
        ("passes", Fate.SQUEEZED, "2027-04-26"),
    ],
)
def test_a_window_that_closes_before_it_could_begin_says_so(kind: str, fate: Fate, best: str):
    plan = run(SHUT % kind)
    assert task(plan, "e.a").fate is fate
    assert window(plan, "e.a") == (best, best, best)


FIRM = """
[[step]]
id = "thaw"
from = { step = "meal", by = "-P2D" }
[[step]]
id = "meal"
firm = true
from = { entry = "date" }
after = [{ step = "thaw", by = "P2D" }]
"""


def test_the_day_of_a_meal_does_not_move_and_what_is_too_late_for_it_is_said():
    plan = run(FIRM, on="2027-12-20", as_of="2027-12-19")
    assert window(plan, "e.meal")[1] == "2027-12-20"
    assert window(plan, "e.thaw")[1] == "2027-12-18"
    assert task(plan, "e.meal").fate is Fate.SQUEEZED


BACK = """
[[step]]
id = "harden"
from = { step = "plant", by = "-P2W" }
closes = "P4D"
[[step]]
id = "plant"
from = { entry = "date" }
after = [{ step = "harden", by = "P10D" }]
"""


def test_hardening_off_is_reckoned_back_from_planting_and_late_it_holds_it():
    on = {"on": "2027-05-20"}
    assert window(run(BACK, as_of="2027-05-06", **on), "e.harden")[1] == "2027-05-06"
    assert window(run(BACK, as_of="2027-05-06", **on), "e.plant")[1] == "2027-05-20"
    assert window(run(BACK, as_of="2027-05-14", **on), "e.plant")[1] == "2027-05-24"
    assert window(run(BACK, done("e.harden", "2027-05-15"), as_of="2027-05-15", **on), "e.plant")[1] == "2027-05-25"
    assert window(run(BACK, done("e.harden", "2027-05-06"), as_of="2027-05-15", **on), "e.plant")[1] == "2027-05-20"


def test_a_sowing_is_reckoned_back_from_the_last_frost_and_planting_forward():
    plan = made([TOMATO], [entry("t", "tomato", "2027-01-01")], (), "2027-01-01", "2028-01-01")
    # Last frost at 90 %: 18 May in the plain season. Eight weeks before it, and two after.
    assert window(plan, "t.sow") == ("2027-03-09", "2027-03-23", "2027-04-20")
    assert window(plan, "t.plant")[1] == "2027-06-01"
    assert window(plan, "t.harden")[1] == "2027-05-18"


def test_sown_late_the_planting_moves_and_past_the_useful_date_there_is_no_room():
    entries = [entry("t", "tomato", "2027-01-01")]
    late = made([TOMATO], entries, [done("t.sow", "2027-05-01")], "2027-05-01", "2028-01-01")
    assert window(late, "t.plant")[1] == "2027-06-12"
    # First frost at 10 %: 2 October; twelve weeks before it, 10 July.
    too_late = made([TOMATO], entries, [done("t.sow", "2027-06-05")], "2027-06-05", "2028-01-01")
    assert task(too_late, "t.plant").fate is Fate.NO_ROOM


def test_an_end_by_a_mark_of_its_own_stays_when_the_best_day_is_pushed():
    plan = made(
        [TOMATO], [entry("t", "tomato", "2027-01-01")], [done("t.sow", "2027-05-01")], "2027-05-01", "2028-01-01"
    )
    assert window(plan, "t.plant")[2] == "2027-07-10"


def test_a_day_of_the_year_on_the_very_day_counts_as_on_or_after_and_as_on_or_before():
    text = '[[step]]\nid = "a"\nfrom = {{ day = "--03-01", {} = {{ entry = "date" }} }}\n'
    assert window(run(text.format("since")), "e.a")[1] == "2027-03-01"
    assert window(run(text.format("since"), on="2027-03-02"), "e.a")[1] == "2028-03-01"
    assert window(run(text.format("before")), "e.a")[1] == "2027-03-01"
    assert window(run(text.format("before"), on="2027-02-28"), "e.a")[1] == "2026-03-01"


def test_a_biennial_sown_in_one_year_flowers_in_the_next():
    text = """
[[step]]
id = "sow"
from = { entry = "date" }
[[step]]
id = "flower"
from = { day = "--06-20", since = { step = "sow", by = "P6M" } }
"""
    assert window(run(text, on="2027-04-20"), "e.flower")[1] == "2028-06-20"
    assert window(run(text, on="2027-12-21", last="2029-12-31"), "e.flower")[1] == "2029-06-20"


def test_warmth_opens_and_closes_a_window_by_its_spread():
    text = '[[step]]\nid = "a"\nfrom = { warmth = 600, base = 4.4, since = { entry = "date" } }\n'
    assert window(run(text), "e.a") == ("2027-04-24", "2027-04-30", "2027-05-06")  # 54, 60 and 66 days


def test_in_the_south_a_mark_comes_half_a_year_away_and_a_day_of_the_year_does_not():
    sheet = brief("""
sheet = "s"
[[step]]
id = "sow"
from = { mark = "last frost", chance = 50, since = { entry = "date" } }
[[step]]
id = "pay"
from = { day = "--04-05", since = { entry = "date" } }
""")
    facts = [entry("e", "s", "2027-01-01")]
    north, south = (
        planner([sheet], None, shift_days=shift).plan(facts, [], [], day("2027-01-01"), day("2028-06-01"))
        for shift in (0, 182)
    )
    assert (window(north, "e.sow")[1], window(south, "e.sow")[1]) == ("2027-05-10", "2027-11-08")
    assert window(north, "e.pay") == window(south, "e.pay")


# ── Computations, answers, appointments ───────────────────────────────────────────────────────────────────────────


def cure_days(thickness_mm: float, grams: float = 0) -> Reckoned:
    return Reckoned(10, round(thickness_mm / 4), 16)


CURE = """
[facts]
thickness_mm = { asks = "mm" }
[[step]]
id = "turn"
from = { work = "cure_days", given = { thickness_mm = "entry.thickness_mm" }, since = { entry = "date" } }
[[step]]
id = "thaw"
from = { work = "cure_days", given = { thickness_mm = "entry.thickness_mm" }, before = { entry = "date" } }
"""


def test_a_computation_counts_on_with_its_spread_and_back_with_it_turned_round():
    plan = run(CURE, works={"cure_days": cure_days}, thickness_mm=48)
    assert window(plan, "e.turn") == ("2027-03-11", "2027-03-13", "2027-03-17")
    assert window(plan, "e.thaw") == ("2027-02-13", "2027-02-17", "2027-02-19")


def test_without_its_figure_a_computation_dates_nothing_and_says_what_it_lacks():
    plan = run(CURE, works={"cure_days": cure_days})
    assert keys(plan) == []
    assert {(lack.step, lack.fact) for lack in plan.lacks} == {("turn", "thickness_mm"), ("thaw", "thickness_mm")}


def test_while_an_answer_is_out_else_decides_and_the_answer_then_does():
    text = """
[[step]]
id = "look"
from = { entry = "date" }
asks = { found = ["gaps", "full"] }
[[step]]
id = "replant"
when = { "look.found" = ["gaps"], else = %s }
from = { step = "look", by = "P1W" }
"""
    assert "e.replant" in keys(run(text % "true"))
    assert "e.replant" not in keys(run(text % "false"))
    assert "e.replant" in keys(run(text % "false", done("e.look", "2027-03-01", found="gaps")))
    assert "e.replant" not in keys(run(text % "true", done("e.look", "2027-03-01", found="full")))


def test_an_appointment_is_reckoned_until_the_day_is_given_and_then_does_not_slide():
    text = """
[[step]]
id = "book"
from = { step = "shear", by = "-P8W" }
asks = { day = "date" }
[[step]]
id = "shear"
appointment = "the shearer"
from = { said = "book.day", else = { day = "--06-01" } }
opens = "-P1W"
closes = "P3W"
[[step]]
id = "dip"
from = { step = "shear", by = "P3W" }
"""
    plan = run(text)
    assert window(plan, "e.book")[1] == "2027-04-06"
    assert window(plan, "e.shear") == ("2027-05-25", "2027-06-01", "2027-06-22")
    booked = run(text, done("e.book", "2027-04-06", day=day("2027-06-12")), as_of="2027-06-20")
    assert window(booked, "e.shear") == ("2027-06-12",) * 3
    assert window(booked, "e.dip")[1] == "2027-07-11"  # not shorn yet on the 20th: three weeks from then


# ── Moved ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_moved_the_best_day_is_the_household_s_and_what_follows_goes_along():
    move = tick("moved", "e.a", "2027-04-05", at="2027-03-01")
    plan = run(missed("late"), move)
    assert window(plan, "e.a") == ("2027-04-01", "2027-04-05", "2027-04-15")
    assert window(plan, "e.b")[1] == "2027-04-15"
    assert task(plan, "e.a").fate is Fate.PLAIN


def test_moved_beyond_its_window_it_says_outside_and_taken_back_it_is_as_before():
    move = tick("moved", "e.a", "2027-05-20", at="2027-03-01")
    plan = run(missed("late"), move)
    assert (task(plan, "e.a").fate, window(plan, "e.a")[1]) == (Fate.OUTSIDE, "2027-05-20")
    undo = tick("undone", "e.a", "2027-03-02", answers=move.id)
    assert window(run(missed("late"), move, undo), "e.a") == ("2027-04-01", "2027-04-01", "2027-04-15")


def test_a_change_says_what_it_moves():
    before, after = run(CHAIN), run(CHAIN, done("e.sow", "2027-03-20"), as_of="2027-03-20")
    assert [
        (move.key, iso(move.was.best), iso(move.now.best)) for move in moves(before, after) if move.was and move.now
    ] == [("e.plant", "2027-04-12", "2027-05-01")]


def test_a_doing_is_taken_to_say_so_of_what_must_have_come_before_it():
    sheet = brief('sheet = "s"\n' + CHAIN)
    plan = made([sheet], [entry("e", "s", "2027-03-01")], (), "2027-04-12", "2028-01-01")
    assert taken_as_done(sheet, plan, "e.plant") == ["e.sow"]
    assert taken_as_done(sheet, plan, "e.sow") == []


def test_back_from_the_table_the_latest_start_is_found():
    sheet = brief('sheet = "s"\n[[step]]\nid = "eat"\nfrom = { entry = "date", by = "P3M" }\n')

    def plan(start: int):
        return made([sheet], [entry("e", "s", iso(start))], (), "2027-01-01", "2029-01-01")

    first, by = day("2027-01-01"), day("2027-12-20")
    assert iso(latest_start(plan, "e.eat", by, first, day("2027-12-31"))) == "2027-09-20"
    assert latest_start(plan, "e.eat", day("2027-03-01"), first, day("2027-12-31")) is None
