"""What holds of every plan, whatever the sheets, the facts and what was said of them.

None of it is taken from the planner: each statement is one of DESIGN's own. Where a statement has an exception, the
exception is stated beside it.
"""

import os
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from app.rules.facts import Tick
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.looking import beside
from app.rules.moment import Said
from app.rules.moves import taken_as_done
from app.rules.sheet import Sheet
from app.rules.spans import add
from app.rules.state import ASKED, state
from app.rules.step import Step
from app.rules.tasks import Bar, Fate, Plan, Task
from tests.rules.drawn import World, as_sheet, open_tasks, sure_tasks, tick_of, worlds

MANY = os.environ.get("RULES_EXAMPLES", "")
"""How many examples to draw anew; without it, always the same fifteen of each."""

EXAMPLES = settings(
    max_examples=int(MANY or 15),
    deadline=None,
    derandomize=not MANY,
    database=None,
    # A world takes minutes to shrink, longer than a run of all tests may: ask for it with RULES_SHRINK=1.
    phases=[*([Phase.shrink] if os.environ.get("RULES_SHRINK") else []), Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)


def pick(data: st.DataObject, tasks: list[Task]) -> Task:
    """One of the tasks, if there is any."""
    assume(tasks)
    return data.draw(st.sampled_from(tasks))


def by_key(plan: Plan) -> dict[str, Task]:
    """The tasks by key."""
    return {task.key: task for task in plan.tasks}


def step_of(world: World, task: Task) -> tuple[Sheet, Step]:
    """A task's sheet and step."""
    sheet = world.sheet_of(task)
    return sheet, next(step for step in sheet.steps if step.id == task.step)


def said(world: World, *more: Tick, **changes: Any) -> World:
    """The world with more said."""
    return replace(world, ticks=(*world.ticks, *more), **changes)


def same(one: Plan, other: Plan) -> None:
    """Two plans are one, in every part."""
    assert one.tasks == other.tasks
    assert one.standing == other.standing
    assert one.bars == other.bars
    assert one.lacks == other.lacks
    assert one == other


# ── Form ──────────────────────────────────────────────────────────────────────────────────────────────────────────


@EXAMPLES
@given(worlds())
def test_a_window_opens_before_its_best_day_and_closes_after_it(world: World):
    for task in world.plan().tasks:
        if task.opens is None or task.best is None or task.closes is None:
            assert (task.opens, task.best, task.closes, task.fate) == (None, None, None, Fate.BARRED)
        else:
            assert task.opens <= task.best <= task.closes, task


@EXAMPLES
@given(worlds())
def test_no_two_tasks_share_a_key_and_a_key_is_taken_apart_as_it_was_put_together(world: World):
    tasks = world.plan().tasks
    assert len({task.key for task in tasks}) == len(tasks)
    for task in tasks:
        assert split_key(task.key) == (task.entry, task.step, task.label)


@EXAMPLES
@given(worlds())
def test_no_plan_is_given_up_as_pushing_itself_on_without_end(world: World):
    assert not [lack for lack in world.plan().lacks if "without end" in lack.reason]


@EXAMPLES
@given(worlds(), st.randoms(use_true_random=False))
def test_the_same_facts_in_any_order_give_the_same_plan(world: World, random: Any):
    entries, ticks, sheets = list(world.entries), list(world.ticks), list(world.sheets)
    for each in (entries, ticks, sheets):
        random.shuffle(each)
    same(replace(world, entries=tuple(entries), ticks=tuple(ticks), sheets=tuple(sheets)).plan(), world.plan())


@EXAMPLES
@given(worlds(), st.randoms(use_true_random=False))
def test_reordering_the_steps_of_a_sheet_changes_nothing(world: World, random: Any):
    docs = [{**doc, "step": random.sample(doc["step"], len(doc["step"]))} for doc in world.docs]
    other = replace(world, sheets=(*map(as_sheet, docs), world.sheets[-1]))
    assert other.plan().tasks == world.plan().tasks
    assert other.plan().bars == world.plan().bars


@EXAMPLES
@given(worlds(), st.integers(0, 690))
def test_a_nearer_last_day_only_cuts(world: World, days: int):
    # What is done is shown whatever the last day is; what was let go may be, as a row of its own.
    # A job of a far year that was moved to near days is found only when that year is laid.
    assume(not any(tick.kind == "moved" for tick in world.ticks))
    near = world.as_of + days
    far = [task for task in world.plan().tasks if task.fate is not Fate.LET_GO]
    wanted = [task for task in far if task.opens is None or task.opens <= near or task.done is not None]
    assert [task for task in world.plan(last=near).tasks if task.fate is not Fate.LET_GO] == wanted


# ── What is said ──────────────────────────────────────────────────────────────────────────────────────────────────


@EXAMPLES
@given(worlds(), st.data(), st.sampled_from(["done", "let go", "moved"]), st.integers(-20, 40))
def test_what_was_said_and_taken_back_leaves_no_trace(world: World, data: st.DataObject, kind: str, days: int):
    task = pick(data, sure_tasks(world.plan()))
    tick = tick_of(task, world.as_of + days, "new", kind)
    undo = Tick("undo", task.key, "undone", world.as_of, "9999", answers="new")
    same(said(world, tick, undo).plan(), world.plan())


@EXAMPLES
@given(worlds())
def test_what_is_said_twice_under_one_id_is_said_once(world: World):
    same(replace(world, ticks=world.ticks + world.ticks[::-1]).plan(), world.plan())


@EXAMPLES
@given(worlds(), st.data())
def test_done_outranks_let_go_whichever_was_said_first(world: World, data: st.DataObject):
    task = pick(data, sure_tasks(world.plan()))
    done, let_go = tick_of(task, world.as_of, "done"), tick_of(task, world.as_of, "gone", "let go")
    for first, second in ((done, let_go), (let_go, done)):
        ticks = (first._replace(at="9998"), second._replace(at="9999"))
        assert by_key(said(world, *ticks).plan())[task.key].done == world.as_of


@EXAMPLES
@given(worlds(), st.integers(0, 800))
def test_every_doing_is_shown_once_on_its_day_however_much_later_it_is(world: World, days: int):
    plan = world.plan(as_of=world.as_of + days, last=world.last + days)
    gone = {tick.answers for tick in world.ticks if tick.kind == "undone"}
    dones: dict[str, Tick] = {}
    for tick in sorted(world.ticks, key=lambda tick: (tick.at, tick.id)):
        if tick.kind == "done" and tick.id not in gone:
            dones.setdefault(tick.key, tick)
    shown = [(task.key, task.done) for task in plan.tasks if task.done is not None]
    # An entry that a task makes waits with its ticks while that task is taken back; they are listed as waiting.
    waiting = {tick.id for laid in plan.laid.values() for tick in laid.dormant} | {tick.id for tick in plan.adrift}
    assert sorted(shown) == sorted((key, tick.on) for key, tick in dones.items() if tick.id not in waiting)


@EXAMPLES
@given(worlds(), st.data(), st.integers(0, 30))
def test_a_planned_task_ticked_is_that_same_task_done_and_does_not_stand_alone(
    world: World, data: st.DataObject, days: int
):
    task = pick(data, sure_tasks(world.plan()))
    # With its figure: a doing without one bars for good what else hangs on it.
    tick = tick_of(task, world.as_of - days, "new", withdrawal_days=0)
    found = by_key(said(world, tick).plan())[task.key]
    assert found.done == world.as_of - days
    assert found.fate is not Fate.ALONE


@EXAMPLES
@given(worlds(), st.data(), st.integers(-20, 20))
def test_a_task_moved_is_planned_on_that_day_unless_the_law_forbids_it(world: World, data: st.DataObject, days: int):
    task = pick(data, sure_tasks(world.plan()))
    on = max(world.as_of, (task.best or 0) + days)
    plan = said(world, tick_of(task, on, "zz", "moved")._replace(at="9999")).plan()
    found = by_key(plan).get(task.key)
    held = [bar for bar in barring(world, plan, task) if on_it(bar, on)]
    _, step = step_of(world, task)
    if found is None or held or step.legal or found.fate is Fate.PASSED_OVER:
        return
    assert found.best == on


# ── What must come first ──────────────────────────────────────────────────────────────────────────────────────────


@EXAMPLES
@given(worlds())
def test_what_must_come_first_comes_so_long_before(world: World):
    plan = world.plan()
    tasks = by_key(plan)
    moved = {tick.key for tick in world.ticks if tick.kind == "moved"}  # the household's own day stands
    for task in open_tasks(plan):
        sheet, step = step_of(world, task)
        if task.key in moved or isinstance(step.start, Said):
            continue
        for after in step.after:
            depth = len(sheet.scopes.get(after.step, ()))
            first = tasks.get(".".join((task.entry, after.step, *map(str, task.label[:depth]))))
            if first is None or first.best is None or depth > len(task.label):
                continue
            back = (step.id, after.step) in sheet.back
            if first.done is not None:
                assert task.best >= add(first.done, after.by), (task, first)
            elif first.fate in (Fate.PLAIN, Fate.BARRED, Fate.SQUEEZED, Fate.OUTSIDE):
                late = first.best < world.as_of
                if not back:
                    assert task.best >= add(first.best, after.by), (task, first)
                if late and first.missed != "passes":
                    assert task.best >= add(world.as_of, after.by), (task, first)


@EXAMPLES
@given(worlds(rooms=False), st.data(), st.integers(1, 60))
def test_done_later_nothing_of_the_same_entry_comes_sooner(world: World, data: st.DataObject, days: int):
    # But for what a bar that begins with this very doing holds: it ends later, and its free days lie elsewhere.
    # Done about when it is asked: a job of a far year done now is an answer to this year's as well.
    task = pick(data, [each for each in sure_tasks(world.plan()) if (each.opens or 0) <= world.as_of + 60])
    sheet, _ = step_of(world, task)
    assume(not any(bar.kind == "law" and getattr(bar.opens, "step", "") == task.step for bar in sheet.bars))
    # Looked at on the sooner day: what waits and then missed its season moves to the next, beyond what is done later.
    early = replace(world, as_of=world.as_of - days)
    soon, late = (said(early, tick_of(task, on, "new")).plan() for on in (early.as_of, world.as_of))
    never_sooner(soon, late, task.entry)


def never_sooner(before: Plan, after: Plan, entry: str = "") -> None:
    """Nothing that is open in both comes sooner in the second."""
    old = by_key(before)
    for task in open_tasks(after):
        was = old.get(task.key)
        if was is None or was.best is None or was.done is not None or (entry and task.entry != entry):
            continue
        if was.fate not in (Fate.LET_GO, Fate.LOST, Fate.PASSED_OVER, Fate.UNLAWFUL, Fate.BARRED):
            assert task.best >= was.best, (was, task)


@EXAMPLES
@given(worlds(rooms=False, lawful=False), st.integers(1, 200))
def test_as_days_go_by_nothing_open_comes_sooner(world: World, days: int):
    # But for what a bar held, and what hangs on that: once the bar is over it is as it was before; and what
    # is unlawful holds nothing any more. So there is no law here.
    never_sooner(world.plan(), world.plan(as_of=world.as_of + days))


@EXAMPLES
@given(worlds(rooms=False), st.data())
def test_done_on_its_best_day_with_all_before_it_done_nothing_else_moves(world: World, data: st.DataObject):
    plan = world.plan()
    ready = [task for task in sure_tasks(plan) if task.best >= world.as_of and nothing_waits(world, plan, task)]
    task = pick(data, ready)
    after = by_key(said(world, tick_of(task, task.best, "new")).plan())
    for other in open_tasks(plan):
        found = after.get(other.key)
        if other.key == task.key or other.entry != task.entry or found is None or found.best is None:
            continue
        assert (found.opens, found.best, found.closes) == (other.opens, other.best, other.closes), (other, found)


def nothing_waits(world: World, plan: Plan, task: Task) -> bool:
    """Whether all that comes before a task is done, and no bar begins with it."""
    sheet, _ = step_of(world, task)
    if any(getattr(bar.opens, "step", "") == task.step for bar in sheet.bars):
        return False
    if any(target == task.step or back == task.step for target, back in sheet.back):
        return False
    sooner = [t for t in open_tasks(plan) if t.entry == task.entry and t.step == task.step and t.label < task.label]
    return not sooner and not taken_as_done(sheet, plan, task.key)


# ── The law ───────────────────────────────────────────────────────────────────────────────────────────────────────


def barring(world: World, plan: Plan, task: Task) -> list[Bar]:
    """The bars of law on a task, found anew from the list of bars."""
    sheet, step = step_of(world, task)
    land = world.planner().land(world.as_of, world.last)
    own = [bar for bar in plan.bars if bar.kind == "law"]
    return [
        bar
        for bar in [*own, *land]
        if step.act in bar.acts
        and (bar.subject == task.entry or (bar.on == "holding" and sheet.species in (bar.species or (sheet.species,))))
    ]


def on_it(bar: Bar, on: int) -> bool:
    """Whether a day lies in a bar, both ends inclusive."""
    return bar.first <= on and (bar.last is None or on <= bar.last)


@EXAMPLES
@given(worlds())
def test_nothing_is_asked_inside_a_bar_of_law(world: World):
    plan = world.plan()
    for task in open_tasks(plan):
        bars = barring(world, plan, task)
        for bar in bars:
            assert not (bar.first <= task.closes and (bar.last is None or bar.last >= task.opens)), (task, bar)
        if any(on_it(bar, world.as_of) for bar in bars):
            assert state(task, world.as_of) not in ASKED, (task, bars)


@EXAMPLES
@given(worlds())
def test_what_no_figure_has_freed_has_no_date(world: World):
    plan = world.plan()
    for task in open_tasks(plan):
        for bar in barring(world, plan, task):
            assert bar.last is not None or task.closes < bar.first


@EXAMPLES
@given(worlds())
def test_what_the_law_has_closed_is_never_asked(world: World):
    for task in world.plan().tasks:
        if task.legal and task.done is None and task.closes is not None and task.closes < world.as_of:
            assert state(task, world.as_of) not in ASKED


# ── Changes ───────────────────────────────────────────────────────────────────────────────────────────────────────


def live_of(world: World) -> Live:
    return Live(world.planner(), world.entries, [], world.ticks, world.as_of, world.last)


@EXAMPLES
@given(worlds(), st.data())
def test_a_plan_kept_up_to_date_is_the_plan_made_anew(world: World, data: st.DataObject):
    live = live_of(replace(world, ticks=()))
    for tick in world.ticks:
        live.add_tick(tick, split_key(tick.key).entry)
    same(live.plan(), world.plan())
    entry = data.draw(st.sampled_from(world.entries))
    later = entry._replace(facts={**entry.facts, "date": int(entry.facts["date"]) + 40}, place="bed")
    live.put(later)
    same(live.plan(), replace(world, entries=tuple(later if e.id == later.id else e for e in world.entries)).plan())


@EXAMPLES
@given(worlds(), st.data())
def test_looking_at_what_a_tick_would_do_is_planning_anew(world: World, data: st.DataObject):
    plan = world.plan()
    task = pick(data, sure_tasks(plan))
    tick = tick_of(task, world.as_of, "new", withdrawal_days=14)
    seen = beside(live_of(world), {task.entry}, ticks=[tick])
    assert {one.entry.id: one for one in seen.kept} | seen.laid == said(world, tick).plan().laid


@EXAMPLES
@given(worlds(), st.data())
def test_a_tick_changes_its_own_entry_what_it_makes_and_whom_its_bars_touch(world: World, data: st.DataObject):
    plan = world.plan()
    task = pick(data, sure_tasks(plan))
    after = said(world, tick_of(task, world.as_of, "new")).plan()
    touched = world.planner().touched({name: laid.entry for name, laid in plan.laid.items()}, {task.entry})
    for name, laid in plan.laid.items():
        if name not in touched:
            assert after.laid[name] == laid


@EXAMPLES
@given(worlds(waves=0, rooms=False), st.sampled_from([12, 15, 20]))
def test_more_warmth_makes_nothing_later(world: World, rate: int):
    # Looked at before anything is due: what merely passes comes round again today, sooner warm or not.
    early = min(int(entry.facts["date"]) for entry in world.entries) - 30
    never_sooner(world.plan(rate=rate, as_of=early), world.plan(as_of=early))


@pytest.mark.parametrize("name", ["e", "pigs.kill+pork", "a.b.3+c.d.1.2+e"])
@EXAMPLES
@given(st.from_regex(r"[a-z][a-z0-9-]*", fullmatch=True), st.lists(st.integers(0, 9999), max_size=4))
def test_any_key_is_taken_apart_as_it_was_put_together(name: str, step: str, label: list[int]):
    from app.rules.keys import key

    assert split_key(key(name, step, tuple(label))) == (name, step, tuple(label))
