"""Entries: those that tasks make, those that end or are struck; rows that stand alone; room, clashes and rounds."""

from app.rules.facts import Amendment
from app.rules.tasks import Fate
from tests.rules.kit import brief, day, done, entry, iso, keys, made, task, tick, window

PEN = brief("""
sheet = "pen"
trade = "livestock"
[[step]]
id = "kill"
from = { entry = "date", by = "P10W" }
asks = { carcase_kg = "kg" }
makes = [{ entry = "pork", sheet = "pork", facts = { kg = "kill.carcase_kg" }, else = { kg = 60 } }]
""")

PORK = brief("""
sheet = "pork"
trade = "meat"
[facts]
kg = { asks = "kg" }
[[step]]
id = "hang"
from = { entry = "date" }
closes = "P2D"
minutes = { base = 0, each = 1, per = "kg" }
""")

ID = "pen.kill+pork"
KILLED = done("pen.kill", "2027-03-20", carcase_kg=72)


def run(*ticks, amendments=(), as_of="2027-03-20", **changes):
    pen = entry("pen", "pen", "2027-01-01")._replace(**changes)
    return made([PEN, PORK], [pen], ticks, as_of, "2028-01-01", amendments=amendments)


def test_what_a_task_will_make_is_planned_from_its_planned_day_and_is_not_sure():
    found = task(run(as_of="2027-01-01"), f"{ID}.hang")
    assert (iso(found.best), found.minutes, found.sure) == ("2027-03-12", 60, False)


def test_once_it_is_made_it_is_sure_with_what_was_measured():
    found = task(run(KILLED), f"{ID}.hang")
    assert (iso(found.best), found.minutes, found.sure) == ("2027-03-20", 72, True)


def test_a_tick_on_what_is_not_made_yet_waits_and_is_listed():
    hung = done(f"{ID}.hang", "2027-03-22")
    waiting = run(hung)
    assert task(waiting, f"{ID}.hang").done is None
    assert waiting.laid[ID].dormant == (hung,)
    made_now = run(hung, KILLED)
    assert iso(task(made_now, f"{ID}.hang").done) == "2027-03-22"
    assert made_now.laid[ID].dormant == ()


def test_taken_back_it_is_gone_by_itself_and_said_again_it_is_back_with_its_ticks():
    hung = done(f"{ID}.hang", "2027-03-22")
    undo = tick("undone", "pen.kill", "2027-03-23", answers=KILLED.id)
    assert run(KILLED, hung, undo).laid[ID].dormant == (hung,)
    again = done("pen.kill", "2027-03-21", at="2027-03-24", carcase_kg=70)
    assert iso(task(run(KILLED, hung, undo, again), f"{ID}.hang").done) == "2027-03-22"


def test_a_maker_let_go_makes_nothing_and_a_tick_on_what_it_made_drifts_but_is_kept():
    hung = done(f"{ID}.hang", "2027-03-22")
    plan = run(hung, tick("let go", "pen.kill", "2027-03-12"))
    assert ID not in plan.laid
    assert plan.adrift == (hung,)


def test_what_the_household_adds_to_it_is_kept_under_its_id():
    more = Amendment(ID, {"kg": 64}, name="Half of Spot", ends=day("2027-03-21"))
    plan = run(KILLED, amendments=[more])
    assert (task(plan, f"{ID}.hang").minutes, plan.laid[ID].entry.name) == (64, "Half of Spot")
    assert iso(task(plan, f"{ID}.hang").closes) == "2027-03-21"
    assert keys(run(KILLED, amendments=[Amendment(ID, struck=True)])) == ["pen.kill"]


# ── Ends, struck, alone, renamed, told ────────────────────────────────────────────────────────────────────────────

YEARLY = brief("""
sheet = "y"
[[step]]
id = "prune"
was = ["trim"]
from = { day = "--04-10" }
again = "yearly"
""")


def tree(*ticks, as_of="2027-01-01", sheet=YEARLY, **changes):
    return made([sheet], [entry("t", "y", "2025-01-01")._replace(**changes)], ticks, as_of, "2030-01-01")


def test_after_its_last_day_nothing_is_asked_of_an_entry_and_on_it_still():
    assert keys(tree(ends=day("2028-04-10")))[-1] == "t.prune.2028"
    assert keys(tree(ends=day("2028-04-09")))[-1] == "t.prune.2027"


def test_a_job_that_comes_once_is_not_asked_after_the_last_day_of_its_entry():
    assert keys(run(as_of="2027-01-01", ends=day("2027-03-12")))[0] == "pen.kill"
    assert "pen.kill" not in keys(run(as_of="2027-01-01", ends=day("2027-03-11")))


def test_a_struck_entry_is_out_of_the_plan():
    assert keys(tree(done("t.prune.2027", "2027-04-10"), struck=True)) == []


def test_a_tick_whose_task_no_longer_follows_is_a_row_of_its_own():
    plan = tree(done("t.burn", "2027-04-01"), done("t.prune.1999", "2027-04-01"))
    assert [task(plan, key).fate for key in ("t.burn", "t.prune.1999")] == [Fate.ALONE] * 2
    assert iso(task(plan, "t.burn").done) == "2027-04-01"


def test_a_tick_under_a_step_s_old_id_is_a_tick_of_the_step():
    plan = tree(done("t.trim.2027", "2027-04-12"))
    assert iso(task(plan, "t.prune.2027").done) == "2027-04-12"
    assert "t.trim.2027" not in keys(plan)


def test_a_key_that_can_not_be_read_is_no_error():
    assert keys(tree(done("nonsense", "2027-04-12"))) == keys(tree())


# ── Room, clashes, rounds ─────────────────────────────────────────────────────────────────────────────────────────

BED = brief("""
sheet = "bed"
[[step]]
id = "sow"
act = "sow"
from = { entry = "date" }
closes = "P2W"
[[step]]
id = "clear"
from = { step = "sow", by = "P10W" }
[[bar]]
id = "bed"
kind = "room"
on = "place"
acts = ["sow"]
from = { step = "sow" }
to = { step = "clear" }
""")


def beds(*entries, ticks=(), as_of="2027-03-01"):
    return made([BED], entries, ticks, as_of, "2028-12-31")


def test_a_bed_in_use_holds_those_put_down_later_until_the_day_after_it_is_cleared():
    plan = beds(entry("b", "bed", "2027-04-20", place="bed 1"), entry("a", "bed", "2027-04-01", place="bed 1"))
    assert window(plan, "a.sow")[1] == "2027-04-01"
    assert window(plan, "b.sow")[1] == "2027-06-11"  # cleared on 10 June
    assert task(plan, "b.sow").fate is Fate.BARRED


def test_of_two_in_one_bed_the_earlier_date_comes_first_whatever_they_are_called():
    plan = beds(entry("a", "bed", "2027-04-20", place="1"), entry("b", "bed", "2027-04-01", place="1"))
    assert [window(plan, f"{name}.sow")[1] for name in "ba"] == ["2027-04-01", "2027-06-11"]


def test_another_bed_is_free_and_of_two_of_one_day_the_id_decides():
    apart = beds(entry("a", "bed", "2027-04-01", place="1"), entry("b", "bed", "2027-04-01", place="2"))
    assert {window(apart, f"{name}.sow")[1] for name in "ab"} == {"2027-04-01"}
    together = beds(entry("b", "bed", "2027-04-01", place="1"), entry("a", "bed", "2027-04-01", place="1"))
    assert [window(together, f"{name}.sow")[1] for name in "ab"] == ["2027-04-01", "2027-06-11"]


def test_three_in_one_bed_follow_one_another_in_order():
    plan = beds(*(entry(name, "bed", "2027-04-01", place="1") for name in "cba"))
    assert [window(plan, f"{name}.sow")[1] for name in "abc"] == ["2027-04-01", "2027-06-11", "2027-08-21"]


def test_cleared_early_the_bed_is_free_the_day_after():
    ticks = [done("a.sow", "2027-04-01"), done("a.clear", "2027-05-01")]
    two = [entry("a", "bed", "2027-04-01", place="1"), entry("b", "bed", "2027-04-20", place="1")]
    assert window(beds(*two, ticks=ticks, as_of="2027-04-10"), "b.sow")[1] == "2027-05-02"


def test_two_of_a_species_in_flower_at_once_clash_and_nothing_is_moved():
    flower = brief("""
sheet = "seed"
species = "Allium porrum"
[[step]]
id = "flower"
from = { entry = "date" }
closes = "P3W"
[[bar]]
id = "cross"
kind = "clash"
on = "species"
acts = ["flower"]
from = { step = "flower" }
to = { step = "flower", by = "P3W" }
""")

    def plan(second: str):
        two = [entry("a", "seed", "2027-06-01"), entry("b", "seed", second)]
        return made([flower], two, (), "2027-01-01", "2028-01-01")

    found = plan("2027-06-22").clashes
    assert [(c.one, c.other, iso(c.first), iso(c.last)) for c in found] == [("a", "b", "2027-06-22", "2027-06-22")]
    assert plan("2027-06-23").clashes == ()
    assert window(plan("2027-06-22"), "b.flower")[1] == "2027-06-22"


def test_a_round_is_standing_work_and_no_task():
    hens = brief("""
sheet = "hens"
trade = "livestock"
[facts]
head = { asks = "count", else = 6 }
[[step]]
id = "feed"
from = { entry = "date" }
round = { at = "morning", until = { entry = "date", by = "P2Y" } }
minutes = { base = 5, each = 0.5, per = "head" }
""")
    flock = entry("h", "hens", "2027-01-01", head=10)
    plan = made([hens], [flock], (), "2027-02-01", "2028-01-01")
    assert plan.tasks == ()
    (one,) = plan.standing
    assert (iso(one.first), iso(one.last), one.minutes_a_day, one.at) == ("2027-01-01", "2029-01-01", 10, "morning")
    sold = made([hens], [flock._replace(ends=day("2027-06-01"))], (), "2027-02-01", "2028-01-01")
    assert iso(sold.standing[0].last) == "2027-06-01"
