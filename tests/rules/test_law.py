"""The law fails closed: the ways in which a bar could let through what it forbids, each by example.

Every figure of these sheets is made up unless a source is named beside it; what is checked is that a bar holds.
"""

import dataclasses
from datetime import date
from typing import Any

import pytest

from app.rules.bars import Bars
from app.rules.facts import Entry, Law, Window
from app.rules.state import State, state
from app.rules.tasks import Fate
from app.rules.terms import Nation
from app.sheets.law import read_law
from app.sheets.read import read
from app.sheets.values import ITSELF
from tests.rules.kit import brief, day, done, entry, filled, iso, keys, made, planner, task, tick, window
from tests.rules.sheets import PIGS

ENGLAND = {
    "nation": "england",
    "bar": [
        {
            "id": "hedges",
            "acts": ["cut hedge"],
            "from": {"day": "--03-01"},
            "to": {"day": "--08-31"},
            "says": "Closed season.",
            "in_force": date(2024, 5, 23),
            "source": "common practice",
        }
    ],
}


def law_of(doc: dict[str, Any] = ENGLAND) -> Law:
    bars, faults = read_law(doc, "england.toml", ITSELF)
    assert not faults
    return Law(bars)


HEDGE = brief("""
sheet = "hedge"
trade = "upkeep"
[[step]]
id = "cut"
act = "cut hedge"
from = { entry = "date" }
opens = "-P30D"
closes = "P60D"
""")

DOSED = brief("""
sheet = "dosed"
trade = "livestock"
species = "pig"
[[step]]
id = "dose"
from = { entry = "date" }
asks = { withdrawal_days = { asks = "d", optional = true } }
again = { every = "P1W", most = 6 }
missed = "passes"
[[step]]
id = "kill"
act = "slaughter"
from = { entry = "date", by = "P6W" }
opens = "-P5W"
closes = "P4W"
[[step]]
id = "end"
act = "put down"
from = { entry = "date", by = "P1W" }
[[bar]]
id = "withdrawal"
kind = "law"
on = "entry"
acts = ["slaughter"]
from = { tick = "dose" }
to = { tick = "dose", days = "dose.withdrawal_days" }
""")


def pen(*ticks, as_of="2027-08-01", last="2028-08-01"):
    return made([DOSED], [entry("pen", "dosed", "2027-07-25")], ticks, as_of, last)


# ── The five ways ─────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    "end",
    [{"step": "dose"}, {"day": "--08-01"}, {"said": "dose.on", "else": {"entry": "date"}}, {"work": "x", "given": {}}],
)
@pytest.mark.parametrize("key", ["from", "to"])
def test_a_sheet_whose_bar_of_law_rests_on_a_plan_is_refused(key, end):
    bar = {"id": "bar", "kind": "law", "on": "entry", "acts": ["slaughter"], "from": {"entry": "date"}}
    doc = filled(
        {
            "sheet": "dosed",
            "step": [{"id": "dose", "from": {"entry": "date"}, "asks": {"on": "date"}}],
            "bar": [{**bar, "to": {"entry": "date"}, key: end}],
        }
    )
    assert isinstance(read(doc), list)
    assert any(fault.step == "bar bar" and fault.key.startswith(key) for fault in read(doc))


def test_an_animal_put_down_earlier_sees_the_dose_written_down_later_on_another_sheet():
    dose = brief("""
sheet = "medicine"
trade = "livestock"
[facts]
for = { asks = "entry" }
[[step]]
id = "give"
from = { entry = "date" }
asks = { withdrawal_days = "d" }
[[bar]]
id = "withdrawal"
kind = "law"
on = "for"
acts = ["slaughter"]
from = { tick = "give" }
to = { tick = "give", days = "give.withdrawal_days" }
""")
    # Named so that it is laid after the pen, by date and by name alike.
    entries = [entry("pen", "dosed", "2027-07-25"), entry("zinc", "medicine", "2027-08-30", **{"for": "pen"})]
    ticks = [done("zinc.give", "2027-08-30", withdrawal_days=28)]
    plan = made([DOSED, dose], entries, ticks, "2027-08-30", "2028-08-01")
    assert window(plan, "pen.kill")[:2] == ("2027-09-28", "2027-09-28")


def test_a_bar_clips_both_ends_of_a_window_and_not_its_best_day_alone():
    plan = pen(done("pen.dose.1", "2027-07-25", withdrawal_days=28))
    # Asked from 1 Aug by its sheet, best on 5 Sep; barred to 22 Aug.
    assert window(plan, "pen.kill") == ("2027-08-23", "2027-09-05", "2027-10-03")
    later = pen(done("pen.dose.1", "2027-09-20", withdrawal_days=28), as_of="2027-09-01")
    assert window(later, "pen.kill") == ("2027-08-01", "2027-09-05", "2027-09-19")


def test_a_dose_without_a_figure_never_clears():
    plan = pen(done("pen.dose.1", "2027-07-25"))
    kill = task(plan, "pen.kill")
    assert (kill.opens, kill.best, kill.closes, kill.fate) == (None, None, None, Fate.BARRED)
    assert state(kill, day("2040-01-01")) is State.WAITING
    assert plan.bars[0].last is None


def test_the_figure_said_later_of_the_same_dose_clears_it():
    first, second = done("pen.dose.1", "2027-07-25"), done("pen.dose.1", "2027-07-25", "2027-08-02", withdrawal_days=28)
    assert window(pen(first, second), "pen.kill")[0] == "2027-08-23"


def test_of_several_doses_the_longest_holds_and_not_the_last():
    plan = pen(
        done("pen.dose.1", "2027-08-01", withdrawal_days=28),
        done("pen.dose.2", "2027-08-08", withdrawal_days=0),
        as_of="2027-08-09",
    )
    assert window(plan, "pen.kill")[0] == "2027-08-30"


def test_of_two_figures_for_one_dose_the_longer_holds():
    plan = pen(
        done("pen.dose.1", "2027-08-01", "2027-08-01", withdrawal_days=10),
        done("pen.dose.1", "2027-08-01", "2027-08-02", withdrawal_days=28),
    )
    assert window(plan, "pen.kill")[0] == "2027-08-30"


def test_a_dose_with_a_figure_does_not_clear_one_without():
    plan = pen(done("pen.dose.1", "2027-08-01"), done("pen.dose.2", "2027-08-08", withdrawal_days=0))
    assert task(plan, "pen.kill").best is None


def test_the_free_day_is_never_one_before_today():
    # Best 5 Sep, barred 1-29 Sep, today 3 Sep: 31 Aug is free and gone.
    plan = pen(done("pen.dose.1", "2027-09-01", withdrawal_days=28), as_of="2027-09-03")
    assert window(plan, "pen.kill")[:2] == ("2027-09-30", "2027-09-30")
    assert task(plan, "pen.kill").fate is Fate.BARRED


def test_the_free_day_before_a_bar_still_serves_while_it_lies_ahead():
    plan = pen(done("pen.dose.1", "2027-09-01", withdrawal_days=28), as_of="2027-08-20")
    assert window(plan, "pen.kill") == ("2027-08-01", "2027-08-31", "2027-08-31")


def test_what_is_overdue_inside_a_bar_is_not_late_but_waits_for_its_end():
    plan = pen(done("pen.dose.1", "2027-10-10", withdrawal_days=28), as_of="2027-10-20")
    kill = task(plan, "pen.kill")
    assert iso(kill.opens) == iso(kill.best) == "2027-11-08"
    assert (kill.fate, state(kill, plan.as_of)) == (Fate.BARRED, State.TO_COME)


def test_a_move_of_the_plan_can_not_carry_a_window_over_a_bar():
    dose = done("pen.dose.1", "2027-10-10", withdrawal_days=10)
    plan = pen(dose, tick("moved", "pen.kill", "2027-10-25"), as_of="2027-09-01")
    assert window(plan, "pen.kill") == ("2027-10-21", "2027-10-25", "2027-10-25")


def test_a_move_into_a_bar_is_not_followed():
    plan = pen(
        done("pen.dose.1", "2027-09-20", withdrawal_days=10),
        tick("moved", "pen.kill", "2027-09-25"),
        as_of="2027-09-01",
    )
    assert window(plan, "pen.kill")[1] == "2027-09-05"


def test_what_was_moved_and_is_overdue_inside_a_bar_waits_for_its_end_too():
    plan = pen(
        done("pen.dose.1", "2027-09-20", withdrawal_days=10),
        tick("moved", "pen.kill", "2027-09-10"),
        as_of="2027-09-21",
    )
    assert window(plan, "pen.kill")[:2] == ("2027-10-01", "2027-10-01")


# ── The booked day ────────────────────────────────────────────────────────────────────────────────────────────────

BOOKED = brief("""
sheet = "booked"
trade = "livestock"
species = "pig"
[[step]]
id = "dose"
from = { entry = "date" }
asks = { withdrawal_days = { asks = "d", optional = true } }
[[step]]
id = "book"
from = { step = "kill", by = "-P8W" }
asks = { day = "date" }
[[step]]
id = "kill"
act = "slaughter"
appointment = "the abattoir"
from = { said = "book.day", else = { entry = "date", by = "P17W" } }
makes = [{ entry = "pork", sheet = "pork", facts = { }, else = { kg = 60 } }]
[[bar]]
id = "withdrawal"
kind = "law"
on = "entry"
acts = ["slaughter"]
from = { tick = "dose" }
to = { tick = "dose", days = "dose.withdrawal_days" }
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
""")


def booked(*ticks, as_of="2027-03-01"):
    return made([BOOKED, PORK], [entry("pen", "booked", "2027-01-01")], ticks, as_of, "2028-01-01")


BOOKING = tick("done", "pen.book", "2027-03-01", day=day("2027-04-20"))


def test_a_booked_day_inside_a_withdrawal_stays_is_said_to_be_barred_and_makes_nothing():
    plan = booked(BOOKING, done("pen.dose", "2027-04-01", withdrawal_days=28), as_of="2027-04-02")
    assert window(plan, "pen.kill") == ("2027-04-20",) * 3
    assert task(plan, "pen.kill").fate is Fate.BARRED
    assert "pen.kill+pork" not in plan.laid


def test_a_booked_day_outside_every_bar_is_the_whole_window_and_makes_what_it_makes():
    plan = booked(BOOKING)
    assert window(plan, "pen.kill") == ("2027-04-20",) * 3
    assert task(plan, "pen.kill").fate is Fate.PLAIN
    assert plan.laid["pen.kill+pork"].entry.sure is False


def test_before_it_is_booked_the_day_is_reckoned_and_does_slide_out_of_a_bar():
    plan = booked(done("pen.dose", "2027-04-20", withdrawal_days=28), as_of="2027-04-25")
    assert iso(task(plan, "pen.kill").best) == "2027-05-19"  # 30 April, barred to 18 May


def test_a_killing_ticked_inside_a_bar_is_taken_down_and_makes_nothing_to_eat():
    plan = booked(done("pen.dose", "2027-04-20", withdrawal_days=28), done("pen.kill", "2027-04-30"))
    assert iso(task(plan, "pen.kill").done) == "2027-04-30"
    assert "pen.kill+pork" not in plan.laid


# ── Both ends inclusive ───────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize(
    ("best", "asked"),
    [
        ("2027-02-28", "2027-02-28"),
        ("2027-03-01", "2027-02-28"),
        ("2027-08-31", "2027-09-01"),
        ("2028-03-01", "2028-02-29"),
        ("2027-09-01", "2027-09-01"),
    ],
)
def test_a_hedge_is_cut_on_28_february_and_on_1_september_and_not_between(best, asked):
    # Management of Hedgerows (England) Regulations 2024, regulation 6: no cutting from 1 March to 31 August.
    plan = made([HEDGE], [entry("h", "hedge", best)], as_of="2027-02-01", last="2028-12-01", law=law_of())
    assert window(plan, "h.cut")[1] == asked


def test_a_hedge_due_on_1_march_waits_for_1_september_once_february_is_over():
    plan = made([HEDGE], [entry("h", "hedge", "2027-03-01")], as_of="2027-03-02", last="2028-01-01", law=law_of())
    assert window(plan, "h.cut")[:2] == ("2027-09-01", "2027-09-01")


@pytest.mark.published
def test_pigs_that_came_on_6_april_stand_still_20_days_and_move_on_27_april():
    # Guidance of the United Kingdom's departments on standstill: 20 days, the day of arrival not counted.
    plan = made([PIGS], [entry("pigs", "pigs", "2027-04-06")], as_of="2027-04-06", last="2028-01-01")
    assert window(plan, "pigs.move")[0] == "2027-04-27"


def test_a_standstill_that_another_arrival_lays_later_holds_those_that_came_before():
    sheep = brief("""
sheet = "sheep"
trade = "livestock"
species = "sheep"
[[step]]
id = "look"
from = { entry = "date" }
[[bar]]
id = "standstill"
kind = "law"
on = "holding"
acts = ["move off"]
species = ["pig"]
from = { entry = "date" }
to = { entry = "date", by = "P6D" }
""")
    # Six days after the day of arrival, made up so that sheep on 24 April hold the pigs to 30 April.
    entries = [entry("pigs", "pigs", "2027-04-06"), entry("sheep", "sheep", "2027-04-24")]
    plan = made([PIGS, sheep], entries, as_of="2027-04-06", last="2028-01-01")
    assert window(plan, "pigs.move")[0] == "2027-05-01"


@pytest.mark.from_memory
@pytest.mark.parametrize(("as_of", "state_then"), [("2027-08-28", State.TO_COME), ("2027-08-29", State.TO_COME)])
def test_a_withdrawal_of_28_days_ends_with_day_28_and_day_29_is_free(as_of, state_then):
    # Regulation (EU) 2019/6, article 4 (34): the least time from the last dose; the day of dosing not counted.
    plan = pen(done("pen.dose.1", "2027-08-01", withdrawal_days=28), as_of=as_of)
    assert window(plan, "pen.kill")[0] == "2027-08-30"
    assert state(task(plan, "pen.kill"), day(as_of)) is state_then
    assert state(task(plan, "pen.kill"), day("2027-08-30")) is State.OPEN


def test_a_bar_merges_with_the_one_that_begins_the_day_after_it_ends():
    bars = pen(done("pen.dose.1", "2027-08-01", withdrawal_days=6), done("pen.dose.2", "2027-08-08", withdrawal_days=6))
    assert window(bars, "pen.kill")[0] == "2027-08-15"


# ── Nations ───────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("nation", "best"), [("england", "2027-09-01"), ("scotland", "2027-06-01"), (None, "2027-06-01")]
)
def test_a_closed_season_holds_in_its_nation_alone_and_nowhere_before_one_is_said(nation: Nation | None, best: str):
    plan = made(
        [HEDGE], [entry("h", "hedge", "2027-06-01")], as_of="2027-05-01", last="2028-01-01", nation=nation, law=law_of()
    )
    assert window(plan, "h.cut")[1] == best


def test_before_a_nation_is_said_no_closed_season_is_laid_even_one_that_names_no_nation():
    everywhere = Law(tuple(dataclasses.replace(bar, nations=()) for bar in law_of().bars))
    entries = [entry("h", "hedge", "2027-06-01")]
    plan = made([HEDGE], entries, as_of="2027-05-01", last="2028-01-01", nation=None, law=everywhere)
    assert window(plan, "h.cut")[1] == "2027-06-01"


LAMB = brief("""
sheet = "lamb"
trade = "livestock"
[[step]]
id = "ring"
from = { entry = "date", by = "P2D" }
opens = "-P1D"
closes = { entry = "date", by = "P7D" }
legal = true
nations = ["england", "wales"]
[[step]]
id = "wean"
from = { step = "ring", by = "P10W" }
after = [{ step = "ring", by = "P8W" }]
""")


def lamb(as_of: str, *ticks, nation: Nation | None = "england"):
    return made([LAMB], [entry("lamb", "lamb", "2027-04-01")], ticks, as_of, "2028-01-01", nation)


@pytest.mark.parametrize("nation", ["scotland", None])
def test_a_legal_step_of_another_nation_is_not_asked(nation: Nation | None):
    assert "lamb.ring" not in keys(lamb("2027-04-01", nation=nation))


def test_a_legal_step_ticked_where_it_is_no_law_is_still_shown():
    assert "lamb.ring" in keys(lamb("2027-04-04", done("lamb.ring", "2027-04-03"), nation=None))


def test_past_its_last_day_a_legal_step_is_unlawful_and_never_late_and_the_rest_goes_on():
    for as_of in ("2027-04-09", "2027-06-01"):
        plan = lamb(as_of)
        ring = task(plan, "lamb.ring")
        assert (ring.fate, state(ring, day(as_of))) == (Fate.UNLAWFUL, State.UNLAWFUL)
        assert window(plan, "lamb.wean")[1] == "2027-06-12"
    assert state(task(lamb("2027-04-08"), "lamb.ring"), day("2027-04-08")) is State.CLOSING


def test_a_move_past_the_legal_last_day_is_not_followed():
    assert window(lamb("2027-04-02", tick("moved", "lamb.ring", "2027-04-09")), "lamb.ring")[1] == "2027-04-03"
    assert window(lamb("2027-04-02", tick("moved", "lamb.ring", "2027-04-08")), "lamb.ring")[1] == "2027-04-08"


SHORN = brief("""
sheet = "shorn"
trade = "livestock"
[[step]]
id = "first"
from = { entry = "date" }
[[step]]
id = "ring"
act = "mark"
from = { entry = "date", by = "P2D" }
after = [{ step = "first", by = "P1D" }]
closes = "P5D"
legal = true
nations = ["england"]
[[bar]]
id = "quiet"
kind = "law"
on = "entry"
acts = ["mark"]
from = { entry = "date" }
to = { entry = "date", by = "P20D" }
""")


def test_a_bar_never_carries_a_legal_last_day_on():
    plan = made([SHORN], [entry("lamb", "shorn", "2027-04-01")], as_of="2027-04-01", last="2028-01-01")
    assert task(plan, "lamb.ring").fate is Fate.UNLAWFUL


def test_what_came_late_before_it_never_carries_a_legal_last_day_on():
    free = brief(
        """
sheet = "shorn"
trade = "livestock"
[[step]]
id = "first"
from = { entry = "date" }
[[step]]
id = "ring"
from = { entry = "date", by = "P2D" }
after = [{ step = "first", by = "P1D" }]
closes = "P5D"
legal = true
nations = ["england"]
"""
    )
    plan = made(
        [free],
        [entry("lamb", "shorn", "2027-04-01")],
        [done("lamb.first", "2027-04-20")],
        as_of="2027-04-20",
        last="2028-01-01",
    )
    assert task(plan, "lamb.ring").fate is Fate.UNLAWFUL


# ── Acts, entries that are only planned ───────────────────────────────────────────────────────────────────────────


def test_ending_the_suffering_of_an_animal_is_never_barred():
    plan = pen(done("pen.dose.1", "2027-07-25"))
    assert window(plan, "pen.end")[1] == "2027-08-01"
    bars = Bars(plan.bars)
    assert not bars.on("put down", plan.laid["pen"].entry, "pig", day("2027-08-01"))
    assert bars.on("slaughter", plan.laid["pen"].entry, "pig", day("2027-08-01"))


ARRIVING = brief("""
sheet = "buy"
trade = "livestock"
[[step]]
id = "fetch"
from = { entry = "date" }
makes = [{ entry = "herd", sheet = "dosed" }, { entry = "drove", sheet = "pigs" }]
""")


def test_an_entry_that_is_only_planned_lays_no_law_and_lays_it_once_it_is_sure():
    entries = [entry("old", "pigs", "2027-04-01"), entry("buy", "buy", "2027-04-08")]

    def plan(*ticks):
        return made([PIGS, DOSED, ARRIVING], entries, ticks, "2027-04-01", "2028-01-01")

    assert window(plan(), "old.move")[0] == "2027-04-22"  # its own 20 days alone
    assert window(plan(done("buy.fetch", "2027-04-08")), "old.move")[0] == "2027-04-29"
    assert not [bar for bar in plan().bars if bar.by.startswith("buy")]


def test_a_dose_ticked_under_a_step_s_old_name_still_bars_in_an_entry_that_was_made():
    renamed = brief("""
sheet = "dosed"
trade = "livestock"
[[step]]
id = "dose"
was = ["drench"]
from = { entry = "date" }
asks = { withdrawal_days = { asks = "d", optional = true } }
[[step]]
id = "kill"
act = "slaughter"
from = { entry = "date", by = "P6W" }
[[bar]]
id = "withdrawal"
kind = "law"
on = "entry"
acts = ["slaughter"]
from = { tick = "dose" }
to = { tick = "dose", days = "dose.withdrawal_days" }
""")
    ticks = [done("buy.fetch", "2027-04-08"), done("buy.fetch+herd.drench", "2027-05-10", withdrawal_days=28)]
    plan = made(
        [PIGS, renamed, ARRIVING], [entry("buy", "buy", "2027-04-08")], ticks, as_of="2027-05-11", last="2028-01-01"
    )
    assert window(plan, "buy.fetch+herd.kill")[1] == "2027-06-08"


def test_a_struck_entry_lays_no_bar():
    herd: Entry = entry("pigs", "pigs", "2027-04-06")._replace(struck=True)
    assert not planner([PIGS]).plan([herd], [], [], day("2027-04-06"), day("2028-01-01")).bars


def test_an_undone_dose_bars_nothing():
    dose = done("pen.dose.1", "2027-07-25")
    plan = pen(dose, tick("undone", "pen.dose.1", "2027-07-26", answers=dose.id))
    assert window(plan, "pen.kill") == ("2027-08-01", "2027-09-05", "2027-10-03")


def test_a_window_shown_in_a_tick_is_kept_whatever_bars_come_later():
    first = done("pen.kill", "2027-09-05")._replace(
        shown=Window(day("2027-08-01"), day("2027-09-05"), day("2027-10-03"))
    )
    plan = pen(first, done("pen.dose.1", "2027-09-01", withdrawal_days=28))
    assert window(plan, "pen.kill") == ("2027-08-01", "2027-09-05", "2027-10-03")


LATCH = brief("""
sheet = "latch"
trade = "livestock"
species = "pig"
[[step]]
id = "seen"
from = { entry = "date" }
[[step]]
id = "cleared"
from = { step = "seen", by = "P1W" }
[[step]]
id = "kill"
act = "slaughter"
from = { entry = "date", by = "P6W" }
opens = "-P6W"
closes = "P4W"
[[bar]]
id = "shut"
kind = "law"
on = "entry"
acts = ["slaughter"]
from = { tick = "seen" }
to = { tick = "cleared" }
""")


@pytest.mark.parametrize(
    ("cleared", "opens"), [("2027-07-25", "2027-07-26"), ("2027-07-28", "2027-07-29"), ("2027-07-24", None)]
)
def test_a_bar_is_ended_by_what_is_ticked_on_its_first_day_or_later_and_by_nothing_earlier(cleared, opens):
    ticks = [done("pen.seen", "2027-07-25"), done("pen.cleared", cleared)]
    plan = made([LATCH], [entry("pen", "latch", "2027-07-25")], ticks, as_of="2027-07-25", last="2028-08-01")
    assert window(plan, "pen.kill")[0] == opens
