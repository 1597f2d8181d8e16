"""Rows for the yard: a job with the one number it asks for beside its tick, and a round with its one tick."""

from dataclasses import replace

from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.jobs import Job
from app.services.rounds import Walk
from app.web import told, words
from app.web.fields import field, in_units
from app.web.parts import Field, Row
from app.web.rows import about, date_of, next_id, row, shown

PREFIX = "m."
"""Before the names of measures in a form."""

NUMBERS = ("number", "count")


def yard_row(
    job: Job,
    today: Day,
    imperial: bool,
    *,
    place: bool = True,
    who: str = "",
    typed: str | None = None,
    error: str = "",
) -> Row:
    """A job’s row on Today; ``who`` did it, ``typed`` is a number that came back, ``error`` what was wrong with it."""
    sub = about(job, place=place, note=False)  # the yard wants few words; the note is on the job's page
    if who:
        sub = f"{sub} · {who}" if sub else who
    made = row(job, None, today, sub)
    if made.can != "tick" or not job.asks:
        return made
    number = one_number(job.asks, imperial, made.anchor, typed=typed, error=error)
    if number is not None:
        return replace(made, ask=number)
    return replace(made, asks=words.listed(told.label(ask).lower() for ask in job.asks))


def one_number(
    asks: tuple[Ask, ...], imperial: bool, anchor: str, name: str = "", *, typed: str | None = None, error: str = ""
) -> Field | None:
    """The field of a job that asks for one number and nothing else; None for any other. It may be left empty."""
    if len(asks) != 1:
        return None
    ask = in_units(asks, imperial)[0]._replace(optional=True, default=None)
    made = field(ask, typed, error)
    if made.kind not in NUMBERS:
        return None
    return replace(made, name=name or f"{PREFIX}{ask.name}", id=f"{anchor}-n")


def walk_row(walk: Walk) -> Row:
    """A round as a row: one tick."""
    names = list(dict.fromkeys(line.entry_name for line in walk.lines))
    day = shown(walk.day, walk.day, walk.day)
    return Row(
        key=walk.key,
        anchor=words.anchor(walk.key),
        trade=walk.lines[0].trade,
        title=f"{walk.part.capitalize()} round",
        href=f"/round?from={date_of(walk.day)}",
        sub=words.listed(names if len(names) <= 5 else [*names[:4], f"{words.count(len(names) - 4)} more"]),
        minutes=words.minutes(walk.minutes),
        can="undo" if walk.done else "tick",
        tick_id=next_id(walk.key, walk.times),
        shown=day,
        undoes=walk.tick_id,
        state="done" if walk.done else "",
        past=walk.done,
    )
