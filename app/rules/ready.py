"""A sheet made ready to be laid: every moment a function, every step a slot, compiled once."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from app.rules.almanac import Yearly
from app.rules.computed import Asked, days_of, given_of
from app.rules.moment import Mark, Moment, Said, Work, YearDay
from app.rules.moments import DayOf, SpreadOf, day_of, is_wide, nth_of, since_of, spread_of, told_day, yearly_of
from app.rules.place import Place
from app.rules.reach import followers, idle, margin, named_in, run_out
from app.rules.run import Run
from app.rules.sheet import BarRule, Sheet, Spell
from app.rules.spans import NOTHING, Day, Span, add
from app.rules.step import After, Step

Edge = Callable[[Run, Day, Day], Day | None]
"""An end of a window, from the best day and from the spread's own end, pushed as far as the best day was."""

Bound = Callable[[Run], Day | None]

FreeFrom = Callable[[Run, Day], Day | None]
"""The first day on which a step may come, from the day another was done."""


@dataclass(slots=True)
class ReadySpell:
    """A spell's two yearly days, and the slots of the steps that must all fall inside one."""

    id: str
    first: Yearly
    first_by: Span
    last: Yearly
    last_by: Span
    whole: tuple[int, ...]


@dataclass(slots=True)
class ReadyClaim:
    """A bar laid from planned days: its rule and the two ends, made ready in their cycle."""

    rule: BarRule
    opens: DayOf
    closes: DayOf


@dataclass(slots=True)
class ReadyStep:
    """One step, compiled.

    ``members`` are the steps of its cycle, in laying order, when it comes round; ``quiet`` those of them that can be
    laid while nothing has been said of the entry (a repair that waits for a finding can't).
    """

    slot: int
    step: Step
    depth: int
    base: DayOf
    spread: SpreadOf | None
    told: DayOf | None
    nth: Callable[[Run, int], Day | None] | None
    after: tuple[Bound, ...]
    opens: Edge
    closes: Edge
    when: Callable[[Run], bool] | None
    preds: tuple[int, ...]
    holds: tuple[tuple[int, int, FreeFrom], ...] = ()
    firm: bool = False
    act: str = ""
    spell: ReadySpell | None = None
    yearly: Yearly | None = None
    yearly_by: Span = NOTHING
    since: DayOf | None = None
    every: Span | None = None
    every_work: Asked | None = None
    zeroth: DayOf | None = None
    until: DayOf | None = None
    counts: tuple[int, ...] = ()
    counted: bool = False
    runs_out: bool = False
    followers: tuple[tuple[str, int], ...] = ()
    whole: int | None = None
    members: list["ReadyStep"] = field(default_factory=list)
    quiet: list["ReadyStep"] = field(default_factory=list)
    claims: list[ReadyClaim] = field(default_factory=list)


@dataclass(slots=True)
class Ready:
    """A sheet, compiled. ``items`` are the steps outside every cycle and the heads of the outermost cycles, in order;
    ``quiet`` those of them that can be laid while nothing has been said.

    ``margin`` is how many days past the last day asked for the laying must run, so that what is reckoned back from
    later days is not missed.
    """

    sheet: Sheet
    steps: tuple[ReadyStep, ...]
    items: list[ReadyStep]
    quiet: list[ReadyStep]
    claims: list[ReadyClaim]
    spells: tuple[ReadySpell, ...]
    depth: int
    margin: int
    was: Mapping[str, str]


_CACHE: dict[int, tuple[Sheet, Ready]] = {}


def ready(sheet: Sheet) -> Ready:
    """A sheet compiled; the same object for the same sheet."""
    held = _CACHE.get(id(sheet))
    if held is None or held[0] is not sheet:
        if len(_CACHE) > 4096:
            _CACHE.clear()
        held = _CACHE[id(sheet)] = (sheet, _compile(sheet))
    return held[1]


def _compile(sheet: Sheet) -> Ready:
    spells = _spells(sheet)
    steps = tuple(_step(sheet, at, step, spells) for at, step in enumerate(sheet.steps))
    counted = {name for step in sheet.steps if step.again for name in step.again.counts}
    run_outs = run_out(sheet)
    heads: dict[str, ReadyStep] = {}
    items: list[ReadyStep] = []
    for one in steps:
        scope = sheet.scopes.get(one.step.id, ())
        outer = scope[:-1] if one.step.again else scope
        (heads[outer[-1]].members if outer else items).append(one)
        if one.step.again:
            heads[one.step.id] = one
        one.counted = one.step.id in counted
        one.runs_out = one.step.id in run_outs
        one.whole = next((at for at, spell in enumerate(spells.values()) if one.slot in spell.whole), None)
    claims = _claims(sheet, heads)
    waiting = idle(sheet)
    for one in steps:
        one.quiet = [each for each in one.members if each.step.id not in waiting]
    quiet = [each for each in items if each.step.id not in waiting]
    depth = max((len(scope) for scope in sheet.scopes.values()), default=0)
    was = {old: step.id for step in sheet.steps for old in step.was}
    return Ready(sheet, steps, items, quiet, claims, tuple(spells.values()), depth, margin(sheet), was)


def _step(sheet: Sheet, at: int, step: Step, spells: Mapping[str, ReadySpell]) -> ReadyStep:
    place = Place(sheet, step.id)
    start, again = step.start, step.again
    wide = is_wide(start)
    made = ReadyStep(
        slot=at,
        step=step,
        depth=place.depth,
        base=day_of(start, place),
        spread=spread_of(start, place) if wide else None,
        told=told_day(start, place) if isinstance(start, Said) else None,
        nth=nth_of(start, place) if isinstance(start, YearDay | Mark) else None,
        after=tuple(_bound(sheet, one, step, place) for one in step.after),
        opens=_edge(step.opens, place),
        closes=_edge(step.closes, place),
        when=_when(step, place),
        preds=_preds(sheet, step, place),
        holds=tuple(_holds(sheet, step, place)),
        spell=spells.get(step.within),
        firm=step.firm,
        act=step.act,
        followers=followers(sheet, step.id),
    )
    if again is not None:
        _repeat(made, start, place)
    return made


def _repeat(made: ReadyStep, start: Moment, place: Place) -> None:
    again = made.step.again
    assert again is not None
    if again.kind == "yearly" and isinstance(start, YearDay | Mark):
        made.yearly, made.yearly_by, made.since = yearly_of(start), start.by, since_of(start, place)
    made.until = day_of(again.until, place) if again.until else None
    made.zeroth = day_of(again.last, place) if again.last else None
    if isinstance(again.every, Work):
        made.every_work = days_of(again.every, place)
    else:
        made.every = again.every
    made.counts = tuple(place.slot[name] for name in again.counts)


def _edge(end: Span | Moment | None, place: Place) -> Edge:
    if end is None:
        return lambda run, best, edge: edge
    if isinstance(end, Span):
        if not end.months:
            days = end.days
            return lambda run, best, edge: best + days
        return lambda run, best, edge: add(best, end)
    day = day_of(end, place)
    return lambda run, best, edge: day(run)


def _bound(sheet: Sheet, after: After, step: Step, place: Place) -> Bound:
    """The first day on which a step may come, since another must come first."""
    slot, which, free_from = place.slot[after.step], after.which, _free_from(after, place)
    if (step.id, after.step) in sheet.back:
        # Reckoned back from me: it holds me only once it is ticked (or, when late, by the floor it raises).
        depth, name = min(place.depth_of(after.step), place.depth), after.step

        def by_tick(run: Run) -> Day | None:
            word = run.word(name, depth)
            return free_from(run, word.done.on) if word is not None and word.done is not None else None

        return by_tick

    def bound(run: Run) -> Day | None:
        days = run.first if which == "first" else run.latest if which == "last" else run.day
        day = days[slot]
        return None if day is None else free_from(run, day)

    return bound


def _free_from(after: After, place: Place) -> FreeFrom:
    by = after.by
    if after.work is None:
        return (lambda run, day: add(day, by)) if by.months else (lambda run, day: day + by.days)
    reckon = days_of(after.work, place)

    def free(run: Run, day: Day) -> Day | None:
        answer = reckon(run, day)
        return None if answer is None else add(day + answer.best, by)

    return free


def _holds(sheet: Sheet, step: Step, place: Place) -> list[tuple[int, int, FreeFrom]]:
    """The targets that this step, reckoned back from them, holds when it is late: (slot, depth, free from)."""
    by_id = {each.id: each for each in sheet.steps}
    return [
        (place.slot[target], place.depth_of(target), _free_from(after, Place(sheet, target)))
        for target, back in sheet.back
        if back == step.id
        for after in by_id[target].after
        if after.step == back
    ]


def _preds(sheet: Sheet, step: Step, place: Place) -> tuple[int, ...]:
    """The slots of steps whose loss is this step's loss: those it is reckoned from or must come after."""
    back = {two for one, two in sheet.back if one == step.id}
    names = named_in(step.start) | {after.step for after in step.after if not after.which and after.step not in back}
    return tuple(sorted(place.slot[name] for name in names))


def _when(step: Step, place: Place) -> Callable[[Run], bool] | None:
    if step.when is None:
        return None
    tests = tuple((given_of(given, place), frozenset(values)) for given, values in step.when.tests)
    otherwise = step.when.otherwise

    def holds(run: Run) -> bool:
        for get, values in tests:
            answer = get(run, 0)
            if answer is None:
                return otherwise
            if answer not in values:
                return False
        return True

    return holds


def _spells(sheet: Sheet) -> dict[str, ReadySpell]:
    slots = {step.id: at for at, step in enumerate(sheet.steps)}
    return {name: _spell(spell, slots) for name, spell in (sheet.spells or {}).items()}


def _spell(spell: Spell, slots: Mapping[str, int]) -> ReadySpell:
    first, last = yearly_of(spell.opens), yearly_of(spell.closes)
    assert first is not None
    assert last is not None
    return ReadySpell(
        spell.id, first, spell.opens.by, last, spell.closes.by, tuple(slots[name] for name in spell.whole)
    )


def _claims(sheet: Sheet, heads: Mapping[str, ReadyStep]) -> list[ReadyClaim]:
    """Bars laid from planned days, each put where its cycle ends; those outside every cycle are given back."""
    outer: list[ReadyClaim] = []
    for rule in sheet.bars:
        if rule.kind == "law":
            continue
        named = named_in(rule.opens) | named_in(rule.closes)
        scope = max((sheet.scopes.get(name, ()) for name in named), key=len, default=())
        place = Place(sheet, scope[-1] if scope else "")
        claim = ReadyClaim(rule, day_of(rule.opens, place), day_of(rule.closes, place))
        (heads[scope[-1]].claims if scope else outer).append(claim)
    return outer
