"""Moving a job to another day: freely within its window, outside it with what that risks, past the law not at all."""

from typing import NamedTuple

from app.errors import BadInput, Conflict, NotFound, Refused
from app.records import store
from app.rules.facts import Window
from app.rules.spans import Day
from app.rules.state import State
from app.rules.why import said
from app.services.book import Book
from app.services.jobs import bars_on, state_of, step_of
from app.services.ticking import Outcome, Words, new_tick, say


class Risk(NamedTuple):
    """Why a day outside the window is a risk: nothing was changed, and it can be asked for again, knowing this."""

    to: Day
    says: str


def move(
    book: Book, key: str, to: Day, today: Day, *, tick_id: str = "", shown: Window | None = None, knowing: bool = False,
    person: int | None = None,
) -> Outcome | Risk:  # fmt: skip
    """Move a job to a day; ``knowing`` when what it risks was said and is taken.

    Raises: NotFound; BadInput for a day gone by; Conflict for a job that is settled or can't be moved; Refused where
    the law forbids that day.
    """
    if to < today:
        raise BadInput({"on": "That day has gone by. If it was done then, tick it on that day."})
    with book.writing() as session:
        row = store.task_row(session, key)
        if row is None:
            raise NotFound("There is no such job any longer.")
        found = step_of(book, row)
        if state_of(row, today) in (State.DONE, State.LET_GO):
            raise Conflict("That job is settled; take back what was said of it first.")
        if found is not None and found[1].firm:
            raise Conflict("That is a day nobody here can move.")
        if row.closes is None:
            raise Conflict("That job has no day yet, so there is nothing to move.")
        if row.legal and to > row.closes:
            raise Refused(f"The law allows it until {said(row.closes)}, and not later.")
        bars = bars_on(book, session, row.entry, row.act, to)
        for bar in bars:
            if bar.kind == "law":
                raise Refused(bar.says)
        risk = _risk(row.opens, row.closes, found[1].loses if found else "", to, [bar.says for bar in bars])
        if risk and not knowing:
            return Risk(to, risk)
        tick = new_tick(book, key, "moved", to, tick_id, shown)
        return say(book, session, tick, today, Words(person=person))


def _risk(opens: Day | None, closes: Day, loses: str, to: Day, bars: list[str]) -> str:
    """What a day risks; "" for a free one."""
    if bars:
        return " ".join(bars)
    if to > closes:
        lost = f" What it risks: {loses}." if loses else ""
        return f"Its last day is {said(closes)}.{lost}"
    if opens is not None and to < opens:
        return f"It opens on {said(opens)}; sooner than that it is not ready, or what comes before it is not done."
    return ""
