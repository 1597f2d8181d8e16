"""What comes round, by example: yearly, every so often, cycles in cycles, and what answers or ends them."""

from app.rules.state import State, state
from app.rules.tasks import Fate
from tests.rules.kit import brief, day, done, entry, iso, keys, made, task, tick, window
from tests.rules.sheets import TOMATO


def sheet(again: str, more: str = "", start: str = 'from = { entry = "date" }', missed: str = "late"):
    return brief(f"""
sheet = "s"
[facts]
painted = {{ asks = "date", optional = true }}
[[step]]
id = "a"
{start}
again = {again}
asks = {{ over = {{ asks = "yes or no", optional = true }} }}
missed = "{missed}"
{more}
""")


def dates(plan, step: str = "a") -> list[str | None]:
    return [iso(t.best) for t in sorted(plan.tasks, key=lambda t: t.label) if t.step == step]


def run(one, *ticks, on: str = "2027-01-31", as_of: str = "2027-01-01", last: str = "2027-12-31", **facts):
    return made([one], [entry("e", "s", on, **facts)], ticks, as_of, last)


EVERY_MONTH = sheet('{ every = "P1M", most = 4 }')


def test_a_month_from_the_31st_does_not_creep_when_a_shorter_month_comes_between():
    assert dates(run(EVERY_MONTH)) == ["2027-01-31", "2027-02-28", "2027-03-31", "2027-04-30"]
    assert dates(run(EVERY_MONTH, on="2028-01-31", last="2028-12-31"))[:3] == ["2028-01-31", "2028-02-29", "2028-03-31"]


def test_the_next_turn_is_reckoned_from_the_tick_and_so_it_crosses_the_year():
    plan = run(sheet('{ every = "P3W", most = 3 }'), done("e.a.1", "2027-12-20"), on="2027-12-10", last="2029-01-01")
    assert dates(plan) == ["2027-12-10", "2028-01-10", "2028-01-31"]
    assert iso(task(plan, "e.a.1").done) == "2027-12-20"


def test_counted_from_the_plan_a_late_turn_does_not_move_the_next():
    plan = run(sheet('{ every = "P3W", most = 3, counted = "plan" }'), done("e.a.1", "2027-02-10"))
    assert dates(plan) == ["2027-01-31", "2027-02-21", "2027-03-14"]


def test_a_turn_let_go_counts_from_its_planned_day():
    plan = run(sheet('{ every = "P3W", most = 3 }'), tick("let go", "e.a.1", "2027-02-10"))
    assert dates(plan) == ["2027-01-31", "2027-02-21", "2027-03-14"]
    assert task(plan, "e.a.1").fate is Fate.LET_GO


def test_nothing_comes_after_the_last_useful_date_and_that_day_itself_still_counts():
    until = sheet('{ every = "P7D", until = { entry = "date", by = "P14D" } }')
    assert dates(run(until)) == ["2027-01-31", "2027-02-07", "2027-02-14"]


def test_no_more_turns_than_it_says():
    assert len(dates(run(sheet('{ every = "P1D", most = 3 }')))) == 3


def test_the_answer_that_stops_it_ends_it():
    one = sheet('{ every = "P7D", stop = "over", most = 9 }')
    assert dates(run(one, done("e.a.1", "2027-01-31", over=True))) == ["2027-01-31"]
    assert len(dates(run(one, done("e.a.1", "2027-01-31", over=False)))) == 9


def test_a_neglected_repeat_is_one_late_task_and_not_a_column():
    plan = run(sheet('{ every = "P2M" }'), as_of="2027-11-01", last="2028-12-31")
    assert [t.key for t in plan.tasks if state(t, plan.as_of) is State.LATE] == ["e.a.1"]
    assert iso(task(plan, "e.a.2").best) == "2028-01-01"


def test_picking_that_was_left_is_asked_today_and_nothing_is_owed():
    plan = run(sheet('{ every = "P3D" }', missed="passes"), as_of="2027-03-15", last="2027-04-01")
    assert window(plan, "e.a.1") == ("2027-03-15",) * 3
    assert not [t for t in plan.tasks if state(t, plan.as_of) is State.LATE]


def test_picking_that_was_left_ends_with_its_last_useful_day_and_what_follows_comes_no_sooner():
    one = sheet(
        '{ every = "P3D", until = { entry = "date", by = "P4W" } }',
        '[[step]]\nid = "dig"\nfrom = { step = "a", by = "P1W" }',
        missed="passes",
    )
    assert window(run(one, as_of="2027-02-20"), "e.dig.1")[1] == "2027-02-27"
    plan = run(one, as_of="2027-03-05")
    assert window(plan, "e.a.1") == ("2027-02-28",) * 3
    assert state(task(plan, "e.a.1"), plan.as_of) is State.PASSED
    assert window(plan, "e.dig.1")[1] == "2027-03-07"


def test_turns_passed_by_a_later_tick_are_passed_over_and_never_owed():
    plan = run(sheet('{ every = "P1M", most = 5 }'), done("e.a.3", "2027-04-02"), as_of="2027-04-10")
    assert [task(plan, f"e.a.{n}").fate for n in (1, 2)] == [Fate.PASSED_OVER] * 2
    assert iso(task(plan, "e.a.4").best) == "2027-05-02"


def test_ordinals_hold_when_the_start_is_corrected():
    one = sheet('{ every = "P5Y", last = { entry = "painted" } }', start="")
    for painted in ("2020-05-01", "2009-05-01"):
        plan = run(one, done("e.a.1", "2026-06-01"), on="2025-01-01", last="2040-01-01", painted=day(painted))
        assert iso(task(plan, "e.a.1").done) == "2026-06-01"
        assert iso(task(plan, "e.a.2").best) == "2031-06-01"


def test_ordinals_hold_when_the_interval_is_changed():
    ticks = [done("e.a.1", "2027-01-31"), done("e.a.2", "2027-02-21")]
    for every in ("P3W", "P2W"):
        plan = run(sheet(f'{{ every = "{every}", most = 5 }}'), *ticks, as_of="2027-02-22")
        assert [iso(task(plan, f"e.a.{n}").done) for n in (1, 2)] == ["2027-01-31", "2027-02-21"]


def test_a_wall_painted_long_ago_is_overdue_once_and_not_never():
    one = sheet('{ every = "P5Y", last = { entry = "painted" } }', start="")
    plan = run(one, on="2027-01-01", as_of="2027-01-01", last="2040-01-01", painted=day("2009-05-01"))
    assert [t.key for t in plan.tasks if state(t, plan.as_of) is State.LATE] == ["e.a.1"]


def test_every_ten_years_is_found_in_next_month_s_plan_and_in_that_of_2046():
    one = sheet('{ every = "P10Y", last = { entry = "painted" } }', start="")
    near = run(one, as_of="2027-01-01", last="2027-01-31", on="2020-01-01", painted=day("2017-01-20"))
    assert dates(near) == ["2027-01-20"]
    far = run(one, as_of="2027-01-01", last="2046-12-31", on="2020-01-01", painted=day("2017-01-20"))
    assert dates(far) == ["2027-01-20", "2037-01-20"]
    in_2046 = run(one, as_of="2046-01-01", last="2047-12-31", on="2020-01-01", painted=day("2036-06-01"))
    assert dates(in_2046) == ["2046-06-01"]


# ── Yearly ────────────────────────────────────────────────────────────────────────────────────────────────────────

YEARLY = sheet('"yearly"', start='from = { day = "--04-10" }')


def test_a_yearly_step_is_labelled_by_its_year():
    assert keys(run(YEARLY, last="2029-12-31")) == ["e.a.2027", "e.a.2028", "e.a.2029"]


def test_a_yearly_step_is_passed_over_once_the_next_has_opened_and_is_late_until_then():
    assert state(task(run(YEARLY, as_of="2028-04-09", last="2029-12-31"), "e.a.2027"), day("2028-04-09")) is State.LATE
    passed = run(YEARLY, as_of="2028-04-10", last="2029-12-31")
    assert task(passed, "e.a.2027").fate is Fate.PASSED_OVER
    assert state(task(passed, "e.a.2028"), day("2028-04-10")) is not State.PASSED


def test_what_closed_before_it_was_told_is_not_owed():
    plan = made([YEARLY], [entry("e", "s", "2020-01-01", told="2027-06-01")], (), "2027-06-01", "2029-01-01")
    assert keys(plan) == ["e.a.2028"]


def test_in_the_south_the_year_of_the_season_is_the_label():
    from tests.rules.kit import planner

    one = sheet('"yearly"', start='from = { mark = "last frost", chance = 50 }')
    facts = [entry("e", "s", "2027-01-01")]
    north, south = (
        planner([one], None, shift_days=shift).plan(facts, [], [], day("2027-01-01"), day("2029-12-31"))
        for shift in (0, 182)
    )
    assert dates(north)[:2] == ["2027-05-10", "2028-05-10"]
    assert dates(south)[:2] == ["2027-11-08", "2028-11-08"]
    assert keys(north) == keys(south)


# ── Cycles in cycles ──────────────────────────────────────────────────────────────────────────────────────────────

SALAD = brief("""
sheet = "s"
[[step]]
id = "sow"
from = { entry = "date" }
again = { every = "P3W", most = 4 }
[[step]]
id = "pick"
from = { step = "sow", by = "P6W" }
again = { every = "P3D", most = 8 }
missed = "passes"
[[step]]
id = "clear"
from = { step = "pick", which = "last", by = "P1W" }
[[step]]
id = "cover"
from = { step = "sow", which = "first", by = "P1D" }
""")


def test_picking_is_in_the_cycle_of_its_sowing_and_labelled_by_both():
    plan = run(SALAD, on="2027-04-01", as_of="2027-03-01")
    # Third sowing: 1 Apr + 6 weeks; first picking 6 weeks on; seventh 18 days after that.
    assert iso(task(plan, "e.pick.3.7").best) == "2027-07-12"
    assert len([key for key in keys(plan) if key.startswith("e.pick.")]) == 32


def test_the_first_and_the_last_of_the_cycles_beneath_are_found():
    plan = run(SALAD, on="2027-04-01", as_of="2027-03-01")
    assert iso(task(plan, "e.cover").best) == "2027-04-02"
    assert iso(task(plan, "e.clear").best) == "2027-08-12"  # 3 June sown, 15 July, 5 Aug the eighth, a week


def test_the_first_beneath_is_that_of_its_own_sowing():
    washed = brief("""
sheet = "s"
[[step]]
id = "sow"
from = { entry = "date" }
again = { every = "P3W", most = 3 }
[[step]]
id = "pick"
from = { step = "sow", by = "P6W" }
again = { every = "P3D", most = 4 }
[[step]]
id = "wash"
from = { step = "pick", which = "first", by = "P1D" }
after = [{ step = "sow", by = "P1D" }]
""")
    plan = run(washed, on="2027-04-01", as_of="2027-03-01")
    assert [iso(task(plan, f"e.wash.{n}").best) for n in (1, 2, 3)] == ["2027-05-14", "2027-06-04", "2027-06-25"]


def test_what_is_reckoned_back_from_a_turn_beyond_the_last_day_is_still_found():
    one = sheet('"yearly"', '[[step]]\nid = "lead"\nfrom = { step = "a", by = "-P3M" }', 'from = { day = "--02-01" }')
    plan = run(one, on="2027-03-01", last="2027-12-31")
    assert keys(plan) == ["e.lead.2028"]
    assert iso(task(plan, "e.lead.2028").best) == "2027-11-01"


def test_a_sowing_let_go_takes_its_pickings_with_it_and_no_others():
    plan = run(SALAD, tick("let go", "e.sow.2", "2027-04-22"), on="2027-04-01", as_of="2027-03-01")
    assert not [key for key in keys(plan) if key.startswith("e.pick.2.")]
    assert [key for key in keys(plan) if key.startswith("e.pick.3.")]


def test_a_doing_two_cycles_deep_keeps_the_cycles_around_it():
    deep = brief("""
sheet = "s"
[[step]]
id = "sow"
from = { entry = "date" }
again = { every = "P3W", most = 3 }
missed = "passes"
[[step]]
id = "pick"
from = { step = "sow", by = "P6W" }
again = { every = "P1W", most = 4 }
[[step]]
id = "wash"
from = { step = "pick", by = "P1D" }
""")
    plan = run(deep, done("e.wash.1.2", "2027-05-21"), on="2027-04-01", as_of="2027-05-21")
    assert task(plan, "e.wash.1.2").fate is Fate.PLAIN
    assert [task(plan, key).fate for key in ("e.sow.1", "e.pick.1.1", "e.pick.1.2")] == [Fate.PASSED_OVER] * 3


def test_picking_stops_where_it_is_over_and_in_that_sowing_alone():
    plan = made(
        [TOMATO],
        [entry("t", "tomato", "2027-01-01")],
        [done("t.pick.2", "2027-07-30", over=True)],
        "2027-07-30",
        "2028-01-01",
    )
    assert "t.pick.3" not in keys(plan)


# ── What answers ──────────────────────────────────────────────────────────────────────────────────────────────────

WALL = brief("""
sheet = "s"
[facts]
painted = { asks = "date" }
[[step]]
id = "look"
from = { day = "--04-10" }
again = "yearly"
asks = { found = ["sound", "hollow"] }
[[step]]
id = "paint"
again = { every = "P8Y", last = { entry = "painted" }, counts = ["coat"] }
within = "painting"
missed = "wait"
[[step]]
id = "patch"
when = { "look.found" = ["hollow"] }
from = { step = "look", by = "P2W" }
within = "painting"
missed = "wait"
[[step]]
id = "coat"
from = { step = "patch", by = "P29D" }
after = [{ step = "patch", by = "P29D" }]
within = "painting"
missed = "wait"
[[spell]]
id = "painting"
from = { day = "--04-01" }
to = { day = "--09-30" }
whole = ["patch", "coat"]
""")


def wall(*ticks, as_of: str, last: str = "2045-01-01"):
    return made([WALL], [entry("e", "s", "2019-06-01", painted=day("2019-06-01"))], ticks, as_of, last)


def hollow(on: str):
    return done(f"e.look.{on[:4]}", on, found="hollow")


def test_a_repair_hangs_on_what_was_found():
    assert "e.patch.2027" not in keys(wall(as_of="2027-04-10"))
    assert "e.patch.2027" not in keys(wall(done("e.look.2027", "2027-04-10", found="sound"), as_of="2027-04-10"))
    assert iso(task(wall(hollow("2027-04-10"), as_of="2027-04-10"), "e.patch.2027").best) == "2027-04-24"


def test_a_repair_s_top_coat_answers_the_painting_that_was_due():
    assert iso(task(wall(as_of="2027-04-10"), "e.paint.1").best) == "2027-06-01"
    plan = wall(hollow("2027-04-10"), as_of="2027-04-10")
    assert iso(task(plan, "e.coat.2027").best) == "2027-05-23"
    assert iso(task(plan, "e.paint.1").best) == "2035-05-23"


def test_a_painting_owed_for_years_is_answered_by_the_repair_that_is_planned():
    # Painted in 2010, due in 2018 and still owed; the repair of 2027 puts on the same coat.
    long_ago = [entry("e", "s", "2019-06-01", painted=day("2010-06-01"))]
    plan = made([WALL], long_ago, [hollow("2027-04-10")], "2027-04-10", "2045-01-01")
    assert iso(task(plan, "e.coat.2027").best) == "2027-05-23"
    assert iso(task(plan, "e.paint.1").best) == "2035-05-23"


def test_a_chain_that_no_longer_fits_this_season_waits_whole_for_the_next():
    plan = wall(hollow("2027-08-20"), as_of="2027-08-20")
    # 20 Aug + 14 days = 3 Sep, + 29 days = 2 Oct: past the end of September.
    assert iso(task(plan, "e.patch.2027").best) == "2028-04-01"
    assert iso(task(plan, "e.coat.2027").best) == "2028-04-30"


def test_a_chain_begun_is_not_thrown_back_and_each_step_waits_for_its_own_season():
    plan = wall(hollow("2027-08-20"), done("e.patch.2027", "2027-09-10"), as_of="2027-10-09")
    assert iso(task(plan, "e.patch.2027").done) == "2027-09-10"
    assert iso(task(plan, "e.coat.2027").best) == "2028-04-01"
