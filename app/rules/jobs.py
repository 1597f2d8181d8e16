"""One job laid: its window, what becomes of it today, and the day it counts for its followers."""

from app.rules.bars import FOREVER, free_stretch
from app.rules.facts import Tick, Window
from app.rules.ready import ReadyStep
from app.rules.run import Label, Run
from app.rules.spans import Day
from app.rules.tasks import Fate, Reason, Task
from app.rules.ticks import Word
from app.rules.window import Aim, aim, lower_bound, spell_around

_NEXT_SEASONS = 4
_IN_FORCE = (Fate.PLAIN, Fate.BARRED, Fate.SQUEEZED, Fate.OUTSIDE)


def lay_one(run: Run, one: ReadyStep, label: Label, tail: str) -> None:
    """Lay a step that comes once in its cycle.

    Source: none; see `lay_open` and `lay_done`.
    """
    key = run.stem + one.step.id + tail
    word = run.words.get(key) if run.words else None
    done = word is not None and word.done is not None
    lost = any(map(run.lost.__getitem__, one.preds))
    run.lost[one.slot] = False
    run.day[one.slot] = None
    if lost and not done:
        run.lost[one.slot] = True
        return
    wanted = one.when is None or one.when(run)
    if not wanted and not done:
        return
    spread = _base(run, one) if wanted and not lost else None
    if word is not None and word.done is not None:
        lay_done(run, one, label, key, word.done, spread)
    elif spread is not None:
        lay_open(run, one, label, key, word, spread)


def _base(run: Run, one: ReadyStep) -> tuple[Day, Day, Day] | None:
    if one.spread is not None:
        return one.spread(run)
    base = one.base(run)
    return None if base is None else (base, base, base)


def lay_done(run: Run, one: ReadyStep, label: Label, key: str, tick: Tick, spread: tuple[Day, Day, Day] | None) -> None:
    """Lay a step that is done: it counts for the day it was ticked, and keeps the window that was shown.

    Source: none; a tick is a fact.
    """
    on = tick.on
    _counts_for(run, one, on)
    window = tick.shown or _window_then(run, one, label, on, spread)
    if one.whole is not None:
        run.wholes.setdefault((one.whole, label), []).append((one.slot, on, True))
    run.seen.add(key)
    emit(run, one, label, key, window, on, Fate.PLAIN if spread is not None else Fate.ALONE)


def _window_then(run: Run, one: ReadyStep, label: Label, on: Day, spread: tuple[Day, Day, Day] | None) -> Window:
    """The window of a done step whose tick does not say what was shown; its own day when none can be reckoned."""
    found = aim(run, one, *spread, lower_bound(run, one, label)) if spread is not None else None
    if found is None or found.best >= FOREVER:
        return Window(on, on, on)
    return Window(found.opens, found.best, max(found.best, found.closes))


def lay_open(
    run: Run,
    one: ReadyStep,
    label: Label,
    key: str,
    word: Word | None,
    spread: tuple[Day, Day, Day],
    cyclic: bool = False,
) -> Aim:
    """Lay a step that is not done; gives its window as reckoned.

    Source: none; the five effects of today are those that DEVELOPERS.md states.
    """
    told = one.told(run) if one.told is not None else None
    found = _fixed(run, one, told) if told is not None else _sought(run, one, label, word, spread, cyclic)
    if word is not None and word.moved is not None:
        found = _moved(run, one, found, word.moved.on)
    if found.best >= FOREVER:
        run.day[one.slot] = None
        emit(run, one, label, key, None, None, Fate.BARRED)
        return found
    found = _settle(one, found)
    fate = _fate(run, one, label, key, word, found, cyclic)
    return found if fate is found.fate else Aim(found.opens, found.best, found.closes, fate, found.shut)


def _fixed(run: Run, one: ReadyStep, day: Day) -> Aim:
    """A day agreed with somebody outside: it stays, and a bar on it is said."""
    rows = run.rows_of(one.act)
    held = any(row.stretch(day) for row in rows)
    run.note("agreed", "the day that was given", day)
    return Aim(day, day, day, Fate.BARRED if held else Fate.PLAIN)


def _sought(
    run: Run, one: ReadyStep, label: Label, word: Word | None, spread: tuple[Day, Day, Day], cyclic: bool
) -> Aim:
    """The window, in the first season in which it can still be met when the step may wait for one."""
    low, base, high = spread
    if run.notes is not None:
        run.note("reckoned", one.step.id, base, one.step.source)
    lower = lower_bound(run, one, label)
    found = aim(run, one, low, base, high, lower)
    said = word is not None and (word.let_go is not None or word.moved is not None)
    if one.step.missed != "wait" or said or (cyclic and one.yearly is not None):
        return found
    for skip in range(1, _NEXT_SEASONS + 1):
        if found.best >= FOREVER or not (found.shut or found.closes < run.as_of):
            break
        later = _next_season(run, one, found, base, lower, skip)
        if later is None:
            break
        found = later
        run.note("waits", "for its next season", found.best)
    return found


def _next_season(run: Run, one: ReadyStep, found: Aim, base: Day, lower: Day, skip: int) -> Aim | None:
    if one.spell is not None:
        held = spell_around(run, one.spell, found.best)
        held = spell_around(run, one.spell, max(held[1] + 1, run.as_of)) if held is not None else None
        return None if held is None else aim(run, one, base, base, base, max(lower, held[0]))
    years_gone = max(0, (run.as_of - found.closes) // 366)
    later = one.nth(run, years_gone + skip) if one.nth is not None else None
    return None if later is None else aim(run, one, later, later, later, lower)


def _moved(run: Run, one: ReadyStep, found: Aim, on: Day) -> Aim:
    """The household's own day within the window, or outside it at a risk; never past a legal limit or into a bar."""
    if one.step.legal and on > found.closes:
        return found
    rows = run.rows_of(one.act)
    held = any(row.stretch(on) or (on < run.as_of and row.stretch(run.as_of)) for row in rows)
    if held or found.best >= FOREVER:
        return found
    run.note("moved", "by the household", on)
    outside = not found.opens <= on <= found.closes
    first, last = free_stretch(rows, on) if rows else (on, FOREVER)
    opens, closes = min(found.opens, on), min(max(found.closes, on), last)
    return Aim(max(opens, first) if rows else opens, on, closes, Fate.OUTSIDE if outside else found.fate)


def _settle(one: ReadyStep, found: Aim) -> Aim:
    """A window that would close before it could begin: no room, unlawful, or squeezed to its best day."""
    if not found.shut:
        return found
    fate = Fate.UNLAWFUL if one.step.legal else Fate.NO_ROOM if one.step.missed == "lost" else Fate.SQUEEZED
    return found._replace(closes=found.best, fate=fate)


def _fate(run: Run, one: ReadyStep, label: Label, key: str, word: Word | None, found: Aim, cyclic: bool) -> Fate:
    """What becomes of an open step today, what day it counts for, and its task."""
    opens, best, closes, fate, _ = found
    counts: Day | None = best
    # Most jobs lie ahead, in an entry of which nothing is said yet: nothing can have become of them.
    if best < run.as_of or run.words or closes < run.entry.told:
        fate, counts = _today(run, one, label, word, found, cyclic)
        if fate is Fate.LET_GO:
            run.seen.add(key)
    _counts_for(run, one, counts)
    if one.whole is not None and fate in _IN_FORCE:
        run.wholes.setdefault((one.whole, label), []).append((one.slot, best, False))
    emit(run, one, label, key, (opens, best, closes), None, fate)
    return fate


def _today(
    run: Run, one: ReadyStep, label: Label, word: Word | None, found: Aim, cyclic: bool
) -> tuple[Fate, Day | None]:
    """What today and what was said make of an open step: its fate, and the day it counts for its followers."""
    _, best, closes, fate, _ = found
    missed = one.step.missed
    if word is not None and word.let_go is not None:
        run.lost[one.slot] = missed == "lost" or cyclic
        return Fate.LET_GO, None if run.lost[one.slot] else best
    not_owed = closes < run.entry.told and not (cyclic and one.yearly is None and missed in ("late", "wait"))
    if not_owed or _done_beyond(run, one, label):
        return Fate.PASSED_OVER, best
    if closes < run.as_of and one.step.legal:
        return Fate.UNLAWFUL, best
    if closes < run.as_of and missed == "lost":
        run.lost[one.slot] = True
        return Fate.LOST, None
    if best >= run.as_of or fate is Fate.UNLAWFUL:
        return fate, best
    _hold_targets(run, one, label)
    return fate, min(run.as_of, max(best, closes)) if missed == "passes" else run.as_of


def _done_beyond(run: Run, one: ReadyStep, label: Label) -> bool:
    """Whether a step that comes only after this one is done already: then this one is not owed."""
    if not run.words:
        return False
    for name, depth in one.followers:
        prefix = label[:depth]
        if any(word.label[:depth] == prefix for word in run.words_of(name)):
            return True
    return False


def _hold_targets(run: Run, one: ReadyStep, label: Label) -> None:
    """Late, it holds the step it is reckoned back from: that comes so long after today."""
    for slot, depth, free_from in one.holds:
        day = free_from(run, run.as_of)
        if day is not None:
            run.raise_floor(slot, label[:depth], day)


def _counts_for(run: Run, one: ReadyStep, day: Day | None) -> None:
    slot = one.slot
    run.day[slot] = day
    if day is not None:
        if run.first[slot] is None:
            run.first[slot] = day
        run.latest[slot] = day
        if one.counted:
            run.doings.setdefault(slot, []).append(day)


def emit(
    run: Run,
    one: ReadyStep,
    label: Label,
    key: str,
    window: tuple[Day, Day, Day] | None,
    done: Day | None,
    fate: Fate,
) -> None:
    """Put a task out, unless it opens after the last day asked for or after its entry ended.

    Without a window it is barred until something is said.
    """
    reasons = _taken(run)
    opens, best, closes = window or (None, None, None)
    if done is None and best is not None and closes is not None:
        ends = run.entry.ends
        if (opens or 0) > run.last or (ends is not None and best > ends):
            return
        closes = closes if ends is None else min(closes, ends)
    step, entry = one.step, run.entry
    minutes = run.minutes[one.slot]
    if minutes is None:
        minutes = run.minutes[one.slot] = step.minutes.minutes(run.facts)
    run.tasks.append(
        Task(
            key,
            entry.id,
            step.id,
            label,
            opens,
            best,
            closes,
            done,
            fate,
            step.missed,
            minutes,
            entry.sure,
            step.legal,
            reasons,
        )
    )


def _taken(run: Run) -> tuple[Reason, ...]:
    if not run.notes:
        return ()
    reasons = tuple(run.notes)
    run.notes.clear()
    return reasons
