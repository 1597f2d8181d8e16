"""What comes every year, each turn labelled by its year."""

from app.rules.almanac import day_in_year, year_of
from app.rules.cycle import Cycle, Follow, horizon, pass_over, stopped, ticked
from app.rules.jobs import lay_done, lay_open
from app.rules.ready import ReadyStep
from app.rules.run import Label, Run
from app.rules.spans import Day, add
from app.rules.tasks import Fate
from app.rules.window import Aim, aim, lower_bound


def lay_yearly(run: Run, one: ReadyStep, label: Label, tail: str, follow: Follow) -> None:
    """Lay a step once for each year, from the first that is owed to the last that is asked for."""
    since = one.since(run) if one.since is not None else None
    if since is None or one.yearly is None or any(map(run.lost.__getitem__, one.preds)):
        return
    found = one.yearly.on_or_after(run.almanac, since)
    if found is None:
        run.lack(one.step.id, "", f"there is no {one.yearly.name} here")
        return
    done = ticked(run, one, label)
    latest = done[-1] if done else 0
    year = max(found[0], min([year_of(run.entry.told) - 2, *done]))
    until = one.until(run) if one.until is not None else None
    # What is ticked already follows, however far ahead it lies.
    far = max(horizon(run), day_in_year(latest + 1, 12, 31)) if latest else horizon(run)
    end = min(day for day in (far, until, run.entry.ends) if day is not None)
    most = one.step.again.most if one.step.again else 0
    last_year = min(year_of(end) + 2, found[0] + most - 1) if most else year_of(end) + 2
    while year <= last_year:
        day = one.yearly.in_year(run.almanac, year)
        base = None if day is None else add(day, one.yearly_by)
        if base is not None and base > end:
            break
        if base is not None:
            cycle = Cycle(run, one, label, tail, year)
            if not _lay_year(run, one, cycle, base, latest, follow):
                break
        year += 1


def _lay_year(run: Run, one: ReadyStep, cycle: Cycle, base: Day, latest: int, follow: Follow) -> bool:
    """One year of a yearly step; False when an answer ended it."""
    run.tails[one.depth] = cycle.tail
    spread = (base, base, base)
    word = cycle.word
    run.lost[one.slot] = False
    if word is not None and word.done is not None:
        lay_done(run, one, cycle.label, cycle.key, word.done, spread)
        follow(run, one, cycle)
        return not stopped(one, word)
    before = len(run.tasks)
    found = lay_open(run, one, cycle.label, cycle.key, word, spread, cyclic=True)
    if found.fate is Fate.LET_GO:
        run.lost[one.slot] = True
    elif found.fate is Fate.PASSED_OVER and cycle.label[-1] > latest and found.closes < run.entry.told:
        del run.tasks[before:]  # it closed before the entry was told: not owed, and not worth a row
        run.lost[one.slot] = True
    elif found.best < run.as_of and _next_has_opened(run, one, cycle, base, found):
        pass_over(run, before)
        run.lost[one.slot] = True
    if run.lost[one.slot]:
        run.day[one.slot] = None
    follow(run, one, cycle)
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
