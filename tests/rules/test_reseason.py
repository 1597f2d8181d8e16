"""Another day's weather: a plan kept up to date is the plan made anew in the other season, and lays little again."""

from hypothesis import given
from hypothesis import strategies as st

from app.rules.almanac import Almanac
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.spans import Day
from app.trade.climate.season import Spread
from tests.rules.drawn import Warmer, World, worlds
from tests.rules.kit import PlainSeason, brief, day, done, entry, planner
from tests.rules.test_properties import EXAMPLES

BY_WARMTH = """
[[step]]
id = "sow"
from = { entry = "date" }

[[step]]
id = "pick"
from = { warmth = 300, base = 5, since = { tick = "sow" } }

[[step]]
id = "clear"
from = { step = "pick", by = "P2W" }
"""
BY_DATE = '[[step]]\nid = "sow"\nfrom = { entry = "date" }\n'
BY_FROST = '[[step]]\nid = "plant"\nfrom = { mark = "last frost", chance = 90 }\n'


class Late(PlainSeason):
    """The plain season, its warmth so many days later."""

    def __init__(self, days: int) -> None:
        super().__init__()
        self.days = days

    def warmth(self, total: float, base: float, since: Day) -> Spread | None:
        found = super().warmth(total, base, since)
        return None if found is None else Spread(*(one + self.days for one in found))


def live_of(world: World, made: Planner) -> Live:
    return Live(made, world.entries, (), world.ticks, world.as_of, world.last)


@EXAMPLES
@given(worlds(), st.sampled_from([8, 9, 11, 15]))
def test_a_plan_kept_up_to_date_through_another_season_is_the_plan_made_anew(world: World, rate: int):
    other = Warmer(rate)
    live = live_of(world, world.planner())
    live.reseason(other)
    assert live.plan() == live_of(world, world.planner().in_season(other)).plan()


@EXAMPLES
@given(worlds())
def test_the_same_season_lays_nothing_again(world: World):
    live = live_of(world, world.planner())
    assert live.reseason(Warmer()) == set()
    assert live.plan() == live_of(world, world.planner()).plan()


def garden() -> Live:
    """An entry by warmth from its tick, one not sown yet, one by date alone, one by the last frost."""
    sheets = [
        brief(f'sheet = "{name}"\n{text}')
        for name, text in (("warm", BY_WARMTH), ("dated", BY_DATE), ("frost", BY_FROST))
    ]
    entries = [
        entry("peas", "warm", "2027-04-01"),
        entry("beans", "warm", "2027-05-01"),
        entry("leeks", "dated", "2027-04-01"),
        entry("marrows", "frost", "2027-04-01"),
    ]
    ticks = [done("peas.sow", "2027-04-02"), done("beans.sow", "2027-05-02")]
    return Live(planner(sheets), entries, (), ticks, day("2027-05-02"), day("2028-12-31"))


def test_only_entries_whose_questions_are_answered_otherwise_are_laid_again():
    live = garden()
    was = {task.key: task.best for task in live.plan().tasks}
    assert live.reseason(Late(4)) == {"peas", "beans"}
    now = {task.key: task.best for task in live.plan().tasks}
    moved = {key: now[key] - was[key] for key in was if now[key] != was[key]}
    assert moved == {"peas.pick": 4, "peas.clear": 4, "beans.pick": 4, "beans.clear": 4}
    assert live.reseason(Late(4)) == set()


def test_another_answer_to_one_question_lays_only_its_asker_again():
    class FromMay(Late):
        def warmth(self, total: float, base: float, since: Day) -> Spread | None:
            return (
                super().warmth(total, base, since)
                if since >= day("2027-05-01")
                else PlainSeason.warmth(self, total, base, since)
            )

    assert garden().reseason(FromMay(4)) == {"beans"}


def test_the_plan_that_a_reader_holds_stays_in_its_own_season():
    from app.services.memory import Memory

    memory = Memory()
    live = garden()
    seen = memory.seen(1, live.as_of, lambda today, last: live)
    kept, before = seen.planner, seen.plan()
    assert memory.reseason(Late(4)) == {"peas", "beans"}
    assert seen.planner is kept
    assert seen.plan() == before
    assert memory.seen(1, live.as_of, lambda today, last: live).plan() != before


def test_who_may_ask_a_season_anything_is_always_laid_again():
    almanac = Almanac(PlainSeason()).listening()
    assert almanac.season.mark("last frost", 50, 2027) is not None
    assert Almanac(PlainSeason()).answered_otherwise(Almanac(PlainSeason()), almanac.asked) == {()}
