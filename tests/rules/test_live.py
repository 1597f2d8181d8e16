"""After facts are put right, a plan kept up to date is the plan made anew, for whom an entry barred and bars now."""

import pytest

from app.rules.clashes import clashes, clashes_with
from app.rules.facts import Entry
from app.rules.live import Live
from app.rules.looking import beside
from app.rules.moves import moves
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.rules.tasks import Bar, Fate
from app.rules.terms import Source
from tests.rules.kit import day, done, entry, planner, sheet_from, task

DOSE = sheet_from("""
sheet = "dose"
title = "A dose"
trade = "livestock"
kind = "treatment"
about = "Bars the animal it is for."
[facts]
date = { asks = "date" }
for = { asks = "entry" }
[[step]]
id = "give"
title = "Give it"
from = { entry = "date" }
asks = { days = "d" }
source = "common practice"
[[bar]]
id = "withdrawal"
kind = "law"
on = "for"
acts = ["slaughter"]
from = { tick = "give" }
to = { tick = "give", days = "give.days" }
says = "Withdrawal."
source = "common practice"
""")

PEN = sheet_from("""
sheet = "pen"
title = "A pen"
trade = "livestock"
kind = "pen"
about = "Lays no bar of its own."
[facts]
date = { asks = "date" }
[[step]]
id = "kill"
title = "To the abattoir"
act = "slaughter"
from = { entry = "date", by = "P17W" }
closes = "P9W"
source = "common practice"
""")

CROP = sheet_from("""
sheet = "crop"
title = "A crop"
trade = "garden"
kind = "sowing"
about = "Takes its bed from planting to clearing."
[facts]
date = { asks = "date" }
[[step]]
id = "plant"
title = "Plant"
act = "plant"
from = { entry = "date", by = "P1W" }
closes = "P8W"
source = "common practice"
[[step]]
id = "clear"
title = "Clear"
from = { step = "plant", by = "P6W" }
source = "common practice"
[[bar]]
id = "bed"
kind = "room"
on = "place"
acts = ["plant"]
from = { step = "plant" }
to = { step = "clear" }
says = "The bed is taken."
source = "common practice"
""")


def live_of(sheets: list[Sheet], entries: list, ticks: list, as_of: str) -> tuple[Live, Planner]:
    """A plan kept up to date, and a planner to make it anew."""
    made = planner(sheets)
    return Live(made, entries, (), ticks, day(as_of), day("2028-12-31")), made


def test_a_dose_put_right_to_another_animal_frees_the_first_and_bars_the_second():
    pens = [entry("one", "pen", "2027-04-06"), entry("two", "pen", "2027-04-06")]
    dose = entry("jab", "dose", "2027-07-28", **{"for": "one"})
    ticks = [done("jab.give", "2027-07-28", days=40)]
    live, made = live_of([PEN, DOSE], [*pens, dose], ticks, "2027-07-30")
    assert task(live.plan(), "one.kill").fate is Fate.BARRED
    free = task(live.plan(), "two.kill")

    right = dose._replace(facts={**dose.facts, "for": "two"})
    live.put(right)

    assert task(live.plan(), "two.kill").fate is Fate.BARRED
    freed = task(live.plan(), "one.kill")
    assert (freed.opens, freed.best, freed.closes, freed.fate) == (free.opens, free.best, free.closes, free.fate)
    assert live.plan() == made.plan([*pens, right], (), ticks, day("2027-07-30"), day("2028-12-31"))


@pytest.mark.parametrize("bed", ["far bed", ""])
def test_a_crop_that_was_put_down_in_the_wrong_bed_gives_that_bed_back(bed: str):
    first, second = entry("a", "crop", "2027-03-01", place="bed"), entry("b", "crop", "2027-03-08", place="bed")
    live, made = live_of([CROP], [first, second], [], "2027-02-01")
    assert task(live.plan(), "b.plant").fate is Fate.BARRED

    live.put(first._replace(place=bed))

    assert task(live.plan(), "b.plant").fate is Fate.PLAIN
    anew = made.plan([first._replace(place=bed), second], (), [], day("2027-02-01"), day("2028-12-31"))
    assert live.plan() == anew


def test_looking_and_planning_anew_agree_when_a_dose_is_put_right():
    pens = [entry("one", "pen", "2027-04-06"), entry("two", "pen", "2027-04-06")]
    dose = entry("jab", "dose", "2027-07-28", **{"for": "one"})
    ticks = [done("jab.give", "2027-07-28", days=40)]
    span = (day("2027-07-30"), day("2028-12-31"))
    made = planner([PEN, DOSE])
    right = dose._replace(facts={**dose.facts, "for": "two"})
    seen = beside(Live(made, [*pens, dose], (), ticks, *span), {"jab"}, right)
    assert {one.entry.id: one for one in seen.kept} | seen.laid == made.plan([*pens, right], (), ticks, *span).laid


@pytest.mark.parametrize("new", [
    entry("c", "crop", "2027-04-05", place="bed"), entry("b", "crop", "2027-03-20", place="bed"),
    entry("d", "dose", "2027-06-20", **{"for": "p"}), entry("q", "pen", "2027-03-01"),
])  # fmt: skip
def test_a_change_looked_at_is_the_plan_made_anew(new: Entry) -> None:
    """What moves, and every day of the entry, as when all is planned from nothing; the plan itself stays."""
    known = planner([DOSE, PEN, CROP])
    facts = [entry("b", "crop", "2027-03-01", place="bed"), entry("p", "pen", "2027-03-01")]
    first, last = day("2027-03-01"), day("2028-12-31")
    live = Live(known, facts, (), (), first, last)
    before, stood = known.plan(facts, (), (), first, last), dict(live.laid)
    after = known.plan([*(one for one in facts if one.id != new.id), new], (), (), first, last)
    looked = beside(live, {new.id}, new)
    assert looked.laid[new.id] == after.laid[new.id]
    assert looked.moves() == moves(before, after)
    assert set(looked.bars()) == set(after.bars)
    assert live.laid == stood


def test_clashes_of_one_are_those_of_all_that_are_its_own() -> None:
    claims = [
        Bar("clash", "kit", "dryer", (), first, first + 4, by, "r", f"{by} has it.", Source("common practice"))
        for by, first in (("a", 1), ("b", 3), ("c", 5), ("b", 9), ("d", 20))
    ]  # fmt: skip
    for name in "abcd":
        mine = [bar for bar in claims if bar.by == name]
        assert clashes_with((name,), mine, claims) == [one for one in clashes(claims) if name in (one.one, one.other)]
