"""What comes round: yearly, and every so often, each cycle with the steps that follow from it."""

from app.rules.almanac import day_in_year, year_of
from app.rules.bars import FOREVER
from app.rules.jobs import lay_claims, lay_done, lay_one, lay_open
from app.rules.ready import ReadyStep
from app.rules.run import Label, Run
from app.rules.spans import Day, Span, add, length_in_days
from app.rules.tasks import Bar, Fate
from app.rules.ticks import Word
from app.rules.window import Aim, aim, lower_bound

_NEVER_MORE = 20_000
"""A stop for repeats that a wrong figure would run for ever."""


def lay_items(run: Run, items: list[ReadyStep], label: Label, tail: str, claims: list[Bar]) -> None:
    """Lay steps in order, those that come round cycle by cycle."""
    for one in items:
        if one.step.round is not None:
            continue
        if one.step.again is None:
            lay_one(run, one, label, tail)
            continue
        _forget(run, one)
        if one.when is not None and not one.when(run):
            continue
        if one.yearly is not None:
            _lay_yearly(run, one, label, tail, claims)
        else:
            _lay_every(run, one, label, tail, claims)


def _forget(run: Run, head: ReadyStep) -> None:
    """Cycles begin: what an outer cycle's earlier turn left is no first or last of this one."""
    for one in (head, *head.members):
        run.first[one.slot] = run.latest[one.slot] = run.day[one.slot] = None
        run.lost[one.slot] = False
        if one is not head and one.step.again is not None:
            _forget(run, one)


class Cycle:
    """One turn of a step that comes round."""

    __slots__ = ("key", "label", "tail", "word")

    def __init__(self, run: Run, one: ReadyStep, label: Label, tail: str, n: int) -> None:
        self.label = (*label, n)
        self.tail = f"{tail}.{n}"
        self.key = run.stem + one.step.id + self.tail
        self.word: Word | None = run.words.get(self.key) if run.words else None


def _follow(run: Run, one: ReadyStep, cycle: Cycle, claims: list[Bar]) -> None:
    """Lay what follows within a cycle."""
    if not one.members and not one.claims:
        return
    run.tails[one.depth] = cycle.tail
    lay_items(run, one.members if run.words else one.quiet, cycle.label, cycle.tail, claims)
    lay_claims(run, one.claims, claims)


def _ticked(run: Run, one: ReadyStep, label: Label) -> list[int]:
    """The cycles of a step in which it, or something that follows in it, is done, in order."""
    if not run.words:
        return []
    depth = len(label)
    names = _beneath(one)
    return sorted(
        word.label[depth]
        for name in names
        for word in run.words_of(name)
        if len(word.label) > depth and word.label[:depth] == label
    )


def _beneath(one: ReadyStep) -> list[str]:
    """A step and all that lies in its cycles, however deep."""
    return [one.step.id, *(name for each in one.members for name in _beneath(each))]


def _horizon(run: Run) -> Day:
    return run.last + run.margin


# ── Every year ────────────────────────────────────────────────────────────────────────────────────────────────────


def _lay_yearly(run: Run, one: ReadyStep, label: Label, tail: str, claims: list[Bar]) -> None:
    since = one.since(run) if one.since is not None else None
    if since is None or one.yearly is None or any(map(run.lost.__getitem__, one.preds)):
        return
    found = one.yearly.on_or_after(run.almanac, since)
    if found is None:
        run.lack(one.step.id, "", f"there is no {one.yearly.name} here")
        return
    ticked = _ticked(run, one, label)
    latest = ticked[-1] if ticked else 0
    year = max(found[0], min([year_of(run.entry.told) - 2, *ticked]))
    until = one.until(run) if one.until is not None else None
    # What is ticked already follows, however far ahead it lies.
    horizon = max(_horizon(run), day_in_year(latest + 1, 12, 31)) if latest else _horizon(run)
    end = min(day for day in (horizon, until, run.entry.ends) if day is not None)
    most = one.step.again.most if one.step.again else 0
    last_year = min(year_of(end) + 2, found[0] + most - 1) if most else year_of(end) + 2
    while year <= last_year:
        day = one.yearly.in_year(run.almanac, year)
        base = None if day is None else add(day, one.yearly_by)
        if base is not None and base > end:
            break
        if base is not None:
            cycle = Cycle(run, one, label, tail, year)
            if not _lay_year(run, one, cycle, base, latest, claims):
                break
        year += 1


def _lay_year(run: Run, one: ReadyStep, cycle: Cycle, base: Day, latest: int, claims: list[Bar]) -> bool:
    """One year of a yearly step; False when an answer ended it."""
    run.tails[one.depth] = cycle.tail
    spread = (base, base, base)
    word = cycle.word
    run.lost[one.slot] = False
    if word is not None and word.done is not None:
        lay_done(run, one, cycle.label, cycle.key, word.done, spread)
        _follow(run, one, cycle, claims)
        return not _stopped(one, word)
    before = len(run.tasks)
    found = lay_open(run, one, cycle.label, cycle.key, word, spread, cyclic=True)
    if found.fate is Fate.LET_GO:
        run.lost[one.slot] = True
    elif found.fate is Fate.PASSED_OVER and cycle.label[-1] > latest and found.closes < run.entry.told:
        del run.tasks[before:]  # it closed before the entry was told: not owed, and not worth a row
        run.lost[one.slot] = True
    elif found.best < run.as_of and _next_has_opened(run, one, cycle, base, found):
        _pass_over(run, before)
        run.lost[one.slot] = True
    if run.lost[one.slot]:
        run.day[one.slot] = None
    _follow(run, one, cycle, claims)
    return True


def _next_has_opened(run: Run, one: ReadyStep, cycle: Cycle, base: Day, found: Aim) -> bool:
    """A yearly step is passed over once its next has opened; one that waits for its season, once it has closed."""
    if one.step.missed == "wait" and found.closes < run.as_of:
        return True
    assert one.yearly is not None
    day = one.yearly.in_year(run.almanac, cycle.label[-1] + 1)
    if day is None:
        return False
    later = add(day, one.yearly_by)
    if later > run.as_of + 400:
        return False
    return aim(run, one, later, later, later, lower_bound(run, one, cycle.label)).opens <= run.as_of


def _pass_over(run: Run, at: int) -> None:
    if len(run.tasks) > at:
        run.tasks[at] = run.tasks[at]._replace(fate=Fate.PASSED_OVER)


def _stopped(one: ReadyStep, word: Word | None) -> bool:
    again = one.step.again
    return bool(again and again.stop and word is not None and word.done and word.measures.get(again.stop) is True)


# ── Every so often ────────────────────────────────────────────────────────────────────────────────────────────────


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


def _lay_every(run: Run, one: ReadyStep, label: Label, tail: str, claims: list[Bar]) -> None:
    again = one.step.again
    assert again is not None
    pace = Pace(run, one)
    spread = _first_turn(run, one, pace)
    until = one.until(run) if one.until is not None else None
    ticked = _ticked(run, one, label)
    latest = ticked[-1] if ticked else 0
    n = 0
    while spread is not None and n < _NEVER_MORE:
        n += 1
        cycle = Cycle(run, one, label, tail, n)
        spread = _answered(run, one, pace, spread, cycle)
        if spread is None or _over(run, one, spread[1], until, n, latest):
            break
        run.tails[one.depth] = cycle.tail
        counts = _lay_turn(run, one, cycle, spread, until, latest, claims)
        if counts is None or _stopped(one, cycle.word):
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
    return base > _horizon(run) and n > latest and not bounded


def _lay_turn(
    run: Run,
    one: ReadyStep,
    cycle: Cycle,
    spread: tuple[Day, Day, Day],
    until: Day | None,
    latest: int,
    claims: list[Bar],
) -> Day | None:
    """One turn; gives the day from which the next is reckoned, or None when nothing can follow."""
    word = cycle.word
    run.lost[one.slot] = False
    if word is not None and word.done is not None:
        lay_done(run, one, cycle.label, cycle.key, word.done, spread)
        _follow(run, one, cycle, claims)
        return word.done.on
    before = len(run.tasks)
    found = lay_open(run, one, cycle.label, cycle.key, word, spread, cyclic=True)
    if found.best >= FOREVER:  # barred until something is said: nothing can follow but what is done already
        return spread[1] if latest > cycle.label[-1] else None
    if latest > cycle.label[-1] and found.fate is not Fate.LET_GO:
        _pass_over(run, before)
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
    _follow(run, one, cycle, claims)
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
