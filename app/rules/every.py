"""What comes every so often, each turn reckoned from the one before."""

from app.rules.bars import FOREVER
from app.rules.cycle import Cycle, Follow, horizon, pass_over, stopped, ticked
from app.rules.jobs import lay_done, lay_open
from app.rules.ready import ReadyStep
from app.rules.run import Label, Run
from app.rules.spans import Day, Span, add, length_in_days
from app.rules.tasks import Fate
from app.rules.window import Aim

_NEVER_MORE = 20_000
"""A stop for repeats that a wrong figure would run for ever."""


class Pace:
    """The next turn's day: so many spans from the anchor, so that month ends do not creep (31 Jan, 28 Feb, 31 Mar)."""

    def __init__(self, run: Run, one: ReadyStep) -> None:
        self.run = run
        self.one = one
        self.anchor: Day = 0
        self.since: Day = -FOREVER  # the day from which the present turn is reckoned
        self.turns = 0
        self.interval = 0
        self.step = one.every if one.every is not None else Span(0, 0)

    def begin(self, day: Day) -> None:
        """Count from this day on."""
        self.anchor, self.turns = day, 0

    def next(self) -> tuple[Day, Day, Day] | None:
        """The spread of the next turn, or None when a computation has no answer."""
        if self.one.every_work is not None:
            self.since = self.anchor
            answer = self.one.every_work(self.run, self.anchor)
            if answer is None:
                return None
            low, best, high = (max(1, days) for days in answer[:3])
            self.interval = best
            spread = (self.anchor + low, self.anchor + best, self.anchor + high)
            self.begin(spread[1])
            return spread
        if self.one.counts:
            self.since = self._turn(self.turns)
        self.turns += 1
        day = self._turn(self.turns)
        return day, day, day

    def _turn(self, turns: int) -> Day:
        months, days = self.step
        if not months:
            return self.anchor + days * turns
        return add(self.anchor, Span(months * turns, days * turns))

    def reach(self) -> Day:
        """How far ahead another step's doing answers this one: a year, or half the interval when that is shorter."""
        return min(366, (self.interval or length_in_days(self.step)) // 2)


def lay_every(run: Run, one: ReadyStep, label: Label, tail: str, follow: Follow) -> None:
    """Lay a step turn by turn, each reckoned from the one before: from its tick, or from its plan."""
    again = one.step.again
    assert again is not None
    pace = Pace(run, one)
    spread = _first_turn(run, one, pace)
    until = one.until(run) if one.until is not None else None
    done = ticked(run, one, label)
    latest = done[-1] if done else 0
    n = 0
    while spread is not None and n < _NEVER_MORE:
        n += 1
        cycle = Cycle(run, one, label, tail, n)
        spread = _answered(run, one, pace, spread, cycle)
        if spread is None or _over(run, one, spread[1], until, n, latest):
            break
        run.tails[one.depth] = cycle.tail
        counts = _lay_turn(run, one, cycle, spread, until, latest, follow)
        if counts is None or stopped(one, cycle.word):
            break
        if again.counted == "tick" and counts != spread[1]:
            pace.begin(counts)
        spread = pace.next()


def _first_turn(run: Run, one: ReadyStep, pace: Pace) -> tuple[Day, Day, Day] | None:
    if any(map(run.lost.__getitem__, one.preds)):
        return None
    if one.zeroth is not None:
        day = one.zeroth(run)
        if day is None:
            return None
        pace.begin(day)
        return pace.next()
    spread = one.spread(run) if one.spread is not None else None
    if one.spread is None and (base := one.base(run)) is not None:
        spread = (base, base, base)
    if spread is not None:
        pace.begin(spread[1])
    return spread


def _answered(
    run: Run, one: ReadyStep, pace: Pace, spread: tuple[Day, Day, Day], cycle: Cycle
) -> tuple[Day, Day, Day] | None:
    """The turn's day, counted anew from another step's doing that answers this one.

    A turn that is still owed will not be done before today, however long ago it fell due.
    """
    if not one.counts:
        return spread
    doings = sorted(day for slot in one.counts for day in run.doings.get(slot, ()))
    owed_on = run.as_of if cycle.word is None or cycle.word.done is None else -FOREVER
    since = pace.since
    found: tuple[Day, Day, Day] | None = spread
    for day in doings:
        if found is not None and since < day <= max(found[1], owed_on) + pace.reach():
            pace.begin(day)
            since = day
            found = pace.next()
    return found


def _over(run: Run, one: ReadyStep, base: Day, until: Day | None, n: int, latest: int) -> bool:
    again = one.step.again
    assert again is not None
    if (again.most and n > again.most) or (until is not None and base > until):
        return True
    if run.entry.ends is not None and base > run.entry.ends:
        return True
    bounded = one.runs_out and (until is not None or again.most)
    return base > horizon(run) and n > latest and not bounded


def _lay_turn(
    run: Run,
    one: ReadyStep,
    cycle: Cycle,
    spread: tuple[Day, Day, Day],
    until: Day | None,
    latest: int,
    follow: Follow,
) -> Day | None:
    """One turn; gives the day from which the next is reckoned, or None when nothing can follow."""
    word = cycle.word
    run.lost[one.slot] = False
    if word is not None and word.done is not None:
        lay_done(run, one, cycle.label, cycle.key, word.done, spread)
        follow(run, one, cycle)
        return word.done.on
    before = len(run.tasks)
    found = lay_open(run, one, cycle.label, cycle.key, word, spread, cyclic=True)
    if found.best >= FOREVER:  # barred until something is said: nothing can follow but what is done already
        return spread[1] if latest > cycle.label[-1] else None
    if latest > cycle.label[-1] and found.fate is not Fate.LET_GO:
        pass_over(run, before)
        counts, run.lost[one.slot] = found.best, True
    elif _comes_round(run, one, found):
        day = run.as_of if until is None else min(run.as_of, until)
        found = _round_again(run, one, cycle, before, day)
        counts = max(day, found.best)
    else:
        counts = _counts(run, one, found)
    if found.fate is Fate.PASSED_OVER and cycle.label[-1] > latest:
        del run.tasks[before:]
        run.lost[one.slot] = True
    if run.lost[one.slot]:
        run.day[one.slot] = None
    follow(run, one, cycle)
    return counts


def _counts(run: Run, one: ReadyStep, found: Aim) -> Day:
    """From which day the next turn is reckoned when this one is still open, lost or let go."""
    if found.fate in (Fate.LET_GO, Fate.PASSED_OVER):
        return found.best
    if found.fate is Fate.LOST:
        return max(found.best, found.closes)
    return run.day[one.slot] or found.best


def _comes_round(run: Run, one: ReadyStep, found: Aim) -> bool:
    """A repeat that merely passes (picking) is never owed for a day gone by: its open turn is today's, or its last."""
    again = one.step.again
    return (
        one.step.missed == "passes"
        and again is not None
        and again.counted == "tick"
        and found.closes < run.as_of
        and found.fate is not Fate.LET_GO
    )


def _round_again(run: Run, one: ReadyStep, cycle: Cycle, before: int, day: Day) -> Aim:
    del run.tasks[before:]
    return lay_open(run, one, cycle.label, cycle.key, cycle.word, (day, day, day), cyclic=True)
