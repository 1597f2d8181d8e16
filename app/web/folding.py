"""A month's jobs folded and grouped: which rows share a line, under which heading it stands, and in what order."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

from app.rules.spans import Day
from app.rules.state import State
from app.services.evening import fold_id
from app.services.jobs import Job
from app.web import drawing, words
from app.web.drawing import Stretch
from app.web.parts import Fold, Group, Row
from app.web.rows import about, date_of, pressing, row, until

By = Literal["crop", "entry", "place", "none"]
BYS: tuple[By, ...] = ("crop", "entry", "place", "none")
NAMES: Mapping[By, str] = {"crop": "by crop", "entry": "by entry", "place": "by place", "none": "all rows"}
_LATEST = 10**8


class Line(NamedTuple):
    """One line of the page: a job, or several folded into one; ``id`` is its name for the printed numbers."""

    id: str
    jobs: tuple[Job, ...]
    done: int = 0


def lines(jobs: Iterable[Job], by: By) -> list[Line]:
    """Open jobs in lines, each fold once, the most pressing of its jobs first; settled jobs are counted beside."""
    if by == "none":
        return [Line(job.row.key, (job,)) for job in jobs if job.open]
    folds: dict[str, list[Job]] = {}
    done: dict[str, int] = {}
    for job in jobs:
        name = fold_id(by, job.row)
        if job.open and job.state is not State.WAITING:
            folds.setdefault(name, []).append(job)
        elif job.open:
            folds[job.row.key] = [job]
        elif job.state is State.DONE:
            done[name] = done.get(name, 0) + 1
    found = []
    for name, inside in folds.items():
        if len(inside) == 1:
            found.append(Line(inside[0].row.key, (inside[0],)))
        else:
            found.append(Line(name, tuple(sorted(inside, key=_urgency)), done.get(name, 0)))
    return found


def _urgency(job: Job) -> tuple[int, Day, Day, str]:
    r = job.row
    late = 0 if job.state in (State.LATE, State.CLOSING) else 1 if job.state is State.OPEN else 2
    return late, r.closes or _LATEST, r.best or _LATEST, r.key


class Heading(NamedTuple):
    """A group's id and heading, and which lines stand under it."""

    id: str
    heading: str
    holds: Callable[[Job], bool]
    by_closing: bool = False


def headings(stretch: Stretch, today: Day, month: str) -> tuple[Heading, ...]:
    """The groups of a month: of the one that it is by what can't wait; of one to come by what opens and runs out."""
    waiting = Heading("waiting", "Not until something is said", lambda job: job.state is State.WAITING)
    if stretch.last < today:
        return (waiting, Heading("left", "Left undone", lambda job: True, True))
    if stretch.first <= today:
        return (
            waiting,
            Heading("now", "Can’t wait", lambda job: job.pressing, True),
            Heading("open", "Time for it now", lambda job: job.state is State.OPEN),
            Heading("come", "Still to come", lambda job: True),
        )
    return (
        waiting,
        Heading("out", f"Runs out in {month}", lambda job: (job.row.closes or _LATEST) <= stretch.last, True),
        Heading("opens", f"Opens in {month}", lambda job: (job.row.opens or 0) >= stretch.first),
        Heading("on", f"Goes on through {month}", lambda job: True),
    )


def ordered(found: Sequence[Line], stretch: Stretch, today: Day, month: str) -> list[tuple[Heading, list[Line]]]:
    """The lines under their headings, each in its order; those that wait for a word come last."""
    heads = headings(stretch, today, month)
    under: dict[str, list[Line]] = {head.id: [] for head in heads}
    for one in found:
        head = next(head for head in heads if head.holds(one.jobs[0]))
        under[head.id].append(one)
    order = [(head, sorted(under[head.id], key=_closing if head.by_closing else _best)) for head in heads]
    return [(head, here) for head, here in (*order[1:], order[0]) if here]


def groups(
    under: Sequence[tuple[Heading, Sequence[Line]]],
    settled: Sequence[Job],
    stretch: Stretch,
    today: Day,
    by: By,
    numbers: Mapping[str, int],
) -> tuple[Group, ...]:
    """The groups as they are drawn; what is settled stands last, and shut."""
    made = [
        Group(head.id, head.heading, tuple(item(one, stretch, today, by, numbers) for one in here), _note(here))
        for head, here in under
    ]
    if settled:
        made.append(_settled(settled, stretch, today))
    return tuple(made)


def _closing(one: Line) -> tuple[Day, Day, str]:
    r = one.jobs[0].row
    return r.closes or _LATEST, r.best or _LATEST, r.key


def _best(one: Line) -> tuple[Day, Day, str]:
    r = one.jobs[0].row
    return r.best or _LATEST, r.closes or _LATEST, r.key


def _note(here: Sequence[Line]) -> str:
    jobs = [job for one in here for job in one.jobs]
    minutes = words.minutes(sum(job.row.minutes for job in jobs))
    said = words.counted(len(jobs), "job")
    return f"{said}, {minutes}" if minutes else said


def _settled(jobs: Sequence[Job], stretch: Stretch, today: Day) -> Group:
    jobs = sorted(jobs, key=lambda job: (-(job.row.done or 0), job.row.key))
    done = sum(job.state is State.DONE for job in jobs)
    heading = "Done" if done == len(jobs) else "Done, let go and past"
    rows = tuple(row(job, stretch, today, about(job, note=False)) for job in jobs)
    return Group("done", heading, rows, words.counted(len(jobs), "job"), folded=True)


def item(one: Line, stretch: Stretch, today: Day, by: By, numbers: Mapping[str, int]) -> Row | Fold:
    """A line as it is drawn."""
    number = str(numbers[one.id]) if one.id in numbers else ""
    if len(one.jobs) == 1:
        return row(one.jobs[0], stretch, today, about(one.jobs[0]), number)
    name = (one.id, stretch, today, number)
    known = _drawn.get(name)
    if known is not None and known[0].done == one.done and _same(known[0].jobs, one.jobs):
        return known[1]
    made = _fold(one, stretch, today, by, number)
    if len(_drawn) >= _MOST:
        _drawn.clear()
    _drawn[name] = (one, made)
    return made


_MOST = 2048
_drawn: dict[tuple[str, Stretch, Day, str], tuple[Line, Fold]] = {}


def _same(one: Sequence[Job], other: Sequence[Job]) -> bool:
    """Whether two lines hold the very same jobs."""
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))


def _fold(one: Line, stretch: Stretch, today: Day, by: By, number: str) -> Fold:
    first = one.jobs[0].row
    opens = min(job.row.opens or _LATEST for job in one.jobs)
    closes = max(job.row.closes or 0 for job in one.jobs)
    bests = tuple(job.row.best for job in one.jobs if job.row.best is not None)
    trades = {job.row.trade for job in one.jobs}
    entries = {job.row.entry for job in one.jobs}
    alone = len(entries) == 1
    return Fold(
        anchor="f-" + words.anchor(one.id)[2:],
        trade=first.trade if len(trades) == 1 else "",
        title=fold_title(one, by),
        count=_count(one, by, alone),
        rows=tuple(row(job, stretch, today, inner_sub(job, by, alone)) for job in one.jobs),
        sub=_fold_sub(one, by, alone),
        minutes=words.minutes(sum(job.row.minutes for job in one.jobs)),
        when=words.between(date_of(opens), date_of(closes), date_of(today)),
        until=until(min(job.row.closes or _LATEST for job in one.jobs), stretch),
        line=drawing.line(stretch, opens, closes, bests),
        pressing=pressing(one.jobs[0], date_of(today)),
        number=number,
    )


def fold_title(one: Line, by: By) -> str:
    """What the jobs of a fold have in common."""
    first = one.jobs[0].row
    return {"entry": first.entry_name, "place": first.place or "No place said"}.get(by, first.title)


def _count(one: Line, by: By, alone: bool) -> str:
    n = len(one.jobs)
    said = words.counted(n, "time") if by == "crop" and alone else words.counted(n, "job")
    return f"{said}, {words.count(one.done)} done" if one.done else said


def _fold_sub(one: Line, by: By, alone: bool) -> str:
    first = one.jobs[0]
    if by == "crop" and alone:
        return about(first)
    if by == "crop":
        names = list(dict.fromkeys(job.row.entry_name for job in one.jobs))
        return (
            words.listed(names) if len(names) <= 3 else f"{names[0]}, {names[1]} and {words.count(len(names) - 2)} more"
        )
    return first.row.place if by == "entry" else ""


def inner_sub(job: Job, by: By, alone: bool) -> str:
    """A row's second line inside a fold: only what the fold does not say itself."""
    if by == "crop":
        return "" if alone else about(job, note=False)
    return about(job, entry=by == "place", place=False)
