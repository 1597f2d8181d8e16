"""Where a step's window falls: pushed by what must come first, kept in its season, kept clear of bars."""

from typing import NamedTuple

from app.rules.bars import FOREVER, Row, free_day, free_stretch
from app.rules.ready import ReadySpell, ReadyStep
from app.rules.run import Label, Run
from app.rules.spans import Day, add
from app.rules.tasks import Fate

_TURNS = 6
"""How often season and bars may push one another on before the search is given up."""


class Aim(NamedTuple):
    """A window as reckoned: ``shut`` when by its own marks it closes before it could begin."""

    opens: Day
    best: Day
    closes: Day
    fate: Fate
    shut: bool = False


def lower_bound(run: Run, one: ReadyStep, label: Label) -> Day:
    """The first day on which a step may come: after what must come first, and not below a floor that was raised.

    Source: rules as DEVELOPERS.md states them; lower bounds only, never a pull.
    """
    lower = run.floors.get((one.slot, label), -FOREVER) if run.floors else -FOREVER
    for bound in one.after:
        day = bound(run)
        if day is not None and day > lower:
            lower = day
            run.note("not before", "what must come first", day)
    return lower


def aim(run: Run, one: ReadyStep, low: Day, base: Day, high: Day, lower: Day) -> Aim:
    """The window of an open step reckoned from ``base`` with its spread, no earlier than ``lower``.

    ``opens <= best <= closes`` unless ``shut``. Source: the order base, push, season, bars, window.
    """
    firm = one.firm
    best, fate = base, Fate.PLAIN
    if base < lower:
        best, fate = (base, Fate.SQUEEZED) if firm else (lower, Fate.PLAIN)
    rows = run.rows_of(one.act)
    if one.spell is None and not rows:
        return _frame(run, one, low, base, high, best, lower, fate)
    for _ in range(_TURNS):
        pushed = best
        if one.spell is not None and not firm:
            best = into_spell(run, one.spell, best)
        found = _frame(run, one, low, base, high, best, lower, fate)
        if rows:
            unbarred = found.best
            found = _clear_of(run, rows, found, lower, firm)
            if found.best >= FOREVER or firm:
                return found
            if found.best > unbarred:
                found = _frame(run, one, low, base, high, found.best, lower, Fate.BARRED)
        best, fate = found.best, found.fate
        if best == pushed or one.spell is None:
            break
    found = _clip(rows, found) if rows else found
    return _in_season(run, one.spell, found) if one.spell is not None and not firm else found


def _frame(run: Run, one: ReadyStep, low: Day, base: Day, high: Day, best: Day, lower: Day, fate: Fate) -> Aim:
    """Both ends around a best day: spans move with it, marks of their own stay where they are."""
    push = best - base
    opens = one.opens(run, best, low + max(push, 0))
    # What the law closes is reckoned from where the step was reckoned, however far it was pushed.
    closes = one.closes(run, base, high) if one.step.legal else one.closes(run, best, high + push)
    opens = min(best, low + push) if opens is None else opens
    closes = max(best, high + push) if closes is None else closes
    if opens > best and not one.firm:
        best = opens
    if opens < lower and not one.firm:
        opens = min(lower, best)
    return Aim(min(opens, best), best, closes, fate, closes < best)


def _clear_of(run: Run, rows: list[Row], found: Aim, lower: Day, firm: bool) -> Aim:
    """Move a best day clear of bars; a bar holds today, so what is overdue inside one waits for its end."""
    best = found.best
    held = any(row.stretch(best) for row in rows)
    if firm:
        return Aim(best, best, best, Fate.BARRED) if held else found
    today_held = best < run.as_of and any(row.stretch(run.as_of) for row in rows)
    if not held and not today_held:
        return found
    if today_held:
        free = free_day(rows, run.as_of, FOREVER)
    else:
        free = free_day(rows, best, max(found.opens, lower, run.as_of))
    if free > FOREVER // 2:
        return Aim(FOREVER, FOREVER, FOREVER, Fate.BARRED)
    return found._replace(best=free, fate=Fate.BARRED)


def _clip(rows: list[Row], found: Aim) -> Aim:
    """Keep the whole window in the free days around its best one."""
    first, last = free_stretch(rows, found.best)
    opens, closes = max(found.opens, first), min(found.closes, last)
    return found._replace(opens=min(opens, found.best), closes=closes, shut=found.shut or closes < found.best)


def into_spell(run: Run, spell: ReadySpell, day: Day) -> Day:
    """The day itself when it lies in its season, else the first day of the next one; the day where there is none.

    Source: none; both ends of a spell inclusive.
    """
    held = spell_around(run, spell, day)
    return day if held is None else max(day, held[0])


def spell_around(run: Run, spell: ReadySpell, day: Day) -> tuple[Day, Day] | None:
    """The season's first and last day that holds ``day``, or else the next one's."""
    start = spell.first.on_or_before(run.almanac, add(day, -spell.first_by))
    if start is not None:
        ends = spell.last.on_or_after(run.almanac, start[1])
        if ends is not None and day <= add(ends[1], spell.last_by):
            return add(start[1], spell.first_by), add(ends[1], spell.last_by)
    start = spell.first.on_or_after(run.almanac, add(day, -spell.first_by))
    ends = spell.last.on_or_after(run.almanac, start[1]) if start is not None else None
    if start is None or ends is None:
        return None
    return add(start[1], spell.first_by), add(ends[1], spell.last_by)


def _in_season(run: Run, spell: ReadySpell, found: Aim) -> Aim:
    held = spell_around(run, spell, found.best) if found.best != FOREVER else None
    if held is None:
        return found
    opens, closes = max(found.opens, held[0]), min(found.closes, held[1])
    return found._replace(opens=min(opens, found.best), closes=closes, shut=found.shut or closes < found.best)
