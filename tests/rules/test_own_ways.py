"""What the household does otherwise than a sheet says: the narrowest way holds, and no law gives way to it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.rules.facts import Way
from app.rules.live import Live
from app.rules.own import cannot, done_otherwise, said, ways_of, yield_percent
from app.rules.sheet import Sheet
from app.rules.spans import span
from app.rules.why import why
from tests.rules.drawn import World, worlds
from tests.rules.kit import PlainSeason, brief, day, done, entry, made, planner, task, window
from tests.rules.test_properties import EXAMPLES

APPLES = brief("""
sheet = "apples"
begins = "plant"
facts = { date = { asks = "date" }, variety = { asks = "text", optional = true } }
step = [
  { id = "plant", from = { entry = "date" } },
  { id = "pick", from = { day = "--09-20" }, again = "yearly", opens = "-P1W", closes = "P2W", minutes = 60, makes = [
    { lot = "apples", keeps = "P3M" } ] },
  { id = "look", from = { step = "pick", by = "P6W" }, closes = "P1W", minutes = 10 },
]
""")
LAMBS = brief("""
sheet = "lambs"
trade = "livestock"
step = [
  { id = "tag", from = { entry = "date", by = "P9M" }, opens = "-P9M", legal = true, nations = ["england"] },
  { id = "book", from = { entry = "date", by = "P20W" }, appointment = "the abattoir", asks = { day = "date" } },
  { id = "kill", from = { said = "book.day", else = { entry = "date", by = "P24W" } }, act = "slaughter", firm = true },
  { id = "wean", from = { entry = "date", by = "P12W" } },
]
""")
HAM = brief("""
sheet = "ham"
trade = "preserving"
step = [
  { id = "salt", from = { entry = "date" } },
  { id = "wash", from = { step = "salt", by = "P14D" }, makes = [{ lot = "ham", keeps = "P2M" }] },
]
""")


def way(what: Any, amount: float, step: str = "", sheet: str = "apples", scope: Any = "holding", **more: Any) -> Way:
    return Way(scope, sheet, what, amount, step, **more)


def planned(ways: list[Way], *entries: Any, sheets: tuple[Sheet, ...] = (APPLES,)) -> Any:
    return planner(sheets).with_ways(ways).plan(entries, [], [], day("2027-01-01"), day("2028-12-31"))


TREE = entry("tree", "apples", "2027-01-10", variety="Bramley")
OTHER = entry("other", "apples", "2027-01-10", variety="Cox")


def test_three_weeks_later_here() -> None:
    """20 September and three weeks is 11 October; what hangs on it goes with it: six weeks on is 22 November."""
    plan = planned([way("days", 21, "pick")], TREE)
    assert window(plan, "tree.pick.2027") == ("2027-10-04", "2027-10-11", "2027-10-25")
    assert window(plan, "tree.look.2027") == ("2027-11-22", "2027-11-22", "2027-11-29")


def test_sooner_too() -> None:
    assert window(planned([way("days", -10, "pick")], TREE), "tree.pick.2027")[1] == "2027-09-10"


def test_the_narrowest_holds() -> None:
    here, bramley = way("days", 21, "pick"), way("days", 7, "pick", scope="variety", variety="bramley ")
    mine = way("days", 1, "pick", scope="entry", entry="tree")
    days = {
        name: [window(planned(ways, TREE, OTHER), f"{name}.pick.2027")[1] for ways in ([here], [bramley, here],
               [mine, here, bramley])]
        for name in ("tree", "other")
    }  # fmt: skip
    assert days["tree"] == ["2027-10-11", "2027-09-27", "2027-09-21"]
    assert days["other"] == ["2027-10-11"] * 3


def test_of_two_of_one_width_the_later_holds() -> None:
    assert ways_of(TREE, [way("days", 3, "pick"), way("days", 5, "pick")])[0].amount == 5


def test_bramley_keeps_till_march() -> None:
    """From 20 September to the end of March are 192 days."""
    ways = [way("keeps_days", 192, "pick", scope="variety", variety="Bramley")]
    for one, keeps in ((TREE, span("P192D")), (OTHER, span("P3M"))):
        sheet = planner([APPLES]).with_ways(ways).sheet_of(one)
        assert sheet is not None
        assert next(step for step in sheet.steps if step.id == "pick").makes[0].keeps == keeps


def test_minutes_more_and_less() -> None:
    ways = [way("minutes_percent", 50), way("minutes_percent", 200, "look")]
    plan = planned(ways, TREE)
    assert task(plan, "tree.pick.2027").minutes == 30
    assert task(plan, "tree.look.2027").minutes == 20


def test_yield_moves_no_date() -> None:
    ways = [way("yield_percent", 130)]
    assert planned(ways, TREE) == planned([], TREE)
    assert yield_percent(ways) == 130
    assert yield_percent([]) == 100


def test_what_is_counted_from_the_last_doing_comes_round_so_much_later() -> None:
    wall = brief("""
sheet = "wall"
facts = { date = { asks = "date" }, last = { asks = "date" } }
step = [{ id = "paint", again = { every = "P4Y", last = { entry = "last" } } }]
""")
    stone = entry("stone", "wall", "2027-01-10", last=day("2024-06-01"))
    plan = planned([way("days", 30, "paint", "wall")], stone, sheets=(wall,))
    assert window(plan, "stone.paint.1")[1] == "2028-07-01"


@pytest.mark.parametrize(
    ("sheet", "step", "what", "amount", "sentence"),
    [
        (LAMBS, "tag", "days", 30, "window of the law"),
        (LAMBS, "kill", "days", 30, "agreed with somebody outside"),
        (LAMBS, "book", "days", 30, "agreed with somebody outside"),
        (APPLES, "plant", "days", 3, "entry’s own date"),
        (APPLES, "pick", "days", 0, "Whole days"),
        (APPLES, "pick", "days", 400, "Whole days"),
        (APPLES, "pick", "days", 1.5, "Whole days"),
        (APPLES, "nothing", "days", 3, "no such job"),
        (APPLES, "look", "keeps_days", 9, "Nothing that keeps"),
        (APPLES, "pick", "keeps_days", 0, "Whole days"),
        (APPLES, "pick", "minutes_percent", 0, "more than 0"),
        (APPLES, "", "yield_percent", -5, "more than 0"),
        (HAM, "wash", "days", -1, "never sooner"),
        (HAM, "wash", "keeps_days", 90, "never longer"),
    ],
)
def test_what_no_way_changes(sheet: Sheet, step: str, what: Any, amount: float, sentence: str) -> None:
    one = way(what, amount, step, sheet.id)
    assert sentence in cannot(sheet, one)
    assert done_otherwise(sheet, [one]) is sheet


def test_food_may_be_more_careful() -> None:
    assert cannot(HAM, way("days", 3, "wash", "ham")) == ""
    assert cannot(HAM, way("keeps_days", 30, "wash", "ham")) == ""


def test_the_law_stays_where_it_is_when_what_lies_round_it_moves() -> None:
    lamb = entry("lamb", "lambs", "2027-03-01")
    before, after = (
        planned(ways, lamb, sheets=(LAMBS,)) for ways in ([], [way("days", 60, "wean", "lambs"),
                                                            way("days", 60, "tag", "lambs")])
    )  # fmt: skip
    assert task(before, "lamb.tag") == task(after, "lamb.tag")
    assert task(before, "lamb.wean") != task(after, "lamb.wean")


def test_why_says_so() -> None:
    ways = [way("days", 21, "pick", note="the north wall")]
    mine = planner([APPLES]).with_ways(ways)
    plan = mine.plan([TREE], [], [], day("2027-01-01"), day("2028-12-31"))
    laid = mine.explain(plan, plan.laid["tree"].entry, [])
    sheet = mine.sheet_of(TREE)
    assert sheet is not None
    step = next(one for one in sheet.steps if one.id == "pick")
    one = next(each for each in laid.tasks if each.key == "tree.pick.2027")
    assert [r.inputs for r in why(one, step, sheet) if r.rule == "your own way"] == [
        "3 weeks later here (the north wall)"
    ]


def test_a_way_in_words() -> None:
    assert said(way("days", -7, "pick", scope="variety", variety="Cox")) == "1 week sooner with Cox"
    assert said(way("keeps_days", 10, "pick", scope="entry", entry="x")) == "keeps 10 days for this one"
    assert said(way("minutes_percent", 80)) == "takes 80 % of the sheet’s minutes here"
    assert said(way("yield_percent", 120)) == "yields 120 % of what the sheet says here"


def test_only_those_concerned_are_laid_again() -> None:
    live = Live(planner([APPLES]), [TREE, OTHER], [], [], day("2027-01-01"), day("2028-12-31"))
    ways = [way("days", 21, "pick", scope="variety", variety="Cox")]
    assert live.with_ways(ways) == {"other"}
    assert live.plan() == planned(ways, TREE, OTHER)
    assert live.with_ways(ways) == set()
    assert live.with_ways([*ways, way("yield_percent", 80)]) == set()
    assert live.with_ways([]) == {"other"}
    assert live.plan() == planned([], TREE, OTHER)


def test_other_weather_keeps_the_ways() -> None:
    mine = planner([APPLES]).with_ways([way("days", 21, "pick")])
    same = mine.in_season(PlainSeason())
    both = [each.plan([TREE], [], [], day("2027-01-01"), day("2028-12-31")) for each in (mine, same)]
    assert both[0] == both[1]


def test_a_tick_holds_against_any_way() -> None:
    ticks = [done("tree.pick.2027", "2027-09-22")]
    mine = planner([APPLES]).with_ways([way("days", 21, "pick")])
    plan = mine.plan([TREE], [], ticks, day("2027-10-01"), day("2028-12-31"))
    assert window(plan, "tree.look.2027")[1] == "2027-11-03"
    assert made([APPLES], [TREE], ticks, "2027-10-01", "2028-12-31").laid["tree"].entry.id == "tree"


@EXAMPLES
@given(worlds(), st.data())
def test_any_ways_leave_a_plan_whole_and_the_law_alone(world: World, data: st.DataObject) -> None:
    """Windows stay in order, no key is lost or doubled, and the bars of law are what they were."""
    ways = [
        Way("holding", sheet.id, "days", float(days), step.id)
        for sheet in world.sheets
        for step in sheet.steps
        if (days := data.draw(st.integers(-60, 60), label=step.id))
    ]
    before, after = world.plan(), world.planner().with_ways(ways).plan(
        world.entries, [], world.ticks, world.as_of, world.last
    )  # fmt: skip
    for each in after.tasks:
        if each.opens is not None and each.best is not None and each.closes is not None:
            assert each.opens <= each.best <= each.closes
    assert len({each.key for each in after.tasks}) == len(after.tasks)
    planned_law = [bar for bar in after.bars if bar.kind == "law" and "+" not in bar.by]
    assert planned_law == [bar for bar in before.bars if bar.kind == "law" and "+" not in bar.by]
    assert {t.key for t in before.tasks if t.done is not None} == {t.key for t in after.tasks if t.done is not None}


@EXAMPLES
@given(worlds())
def test_ways_of_another_sheet_change_nothing(world: World) -> None:
    ways = [Way("holding", "no such sheet", "days", 9, "a")]
    own = world.planner().with_ways(ways)
    assert own.plan(world.entries, [], world.ticks, world.as_of, world.last) == world.plan()
