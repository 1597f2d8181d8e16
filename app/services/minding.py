"""For whoever minds the place: the rounds of some days with what they take, what can't wait, what must not be eaten."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.records.store import StandingRow
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Bar
from app.rules.terms import Value
from app.services.book import Book
from app.services.jobs import Job, jobs_of
from app.services.rounds import PARTS

LONGEST_DAYS = 62


class Line(NamedTuple):
    """One thing done on a round: its row, its step, the facts of its entry, and the days on which it is walked."""

    row: StandingRow
    step: Step | None
    facts: dict[str, Value]
    first: Day
    last: Day


class Minding(NamedTuple):
    """Some days at the place."""

    first: Day
    last: Day
    parts: list[tuple[str, list[Line]]]
    closing: list[Job]
    held: list[tuple[str, Bar]]  # what may not be eaten or sold, by the entry's name


def minding(book: Book, session: Session, first: Day, last: Day, today: Day) -> Minding:
    """What whoever minds the place from ``first`` to ``last`` must know.

    Raises: BadInput when the days are the wrong way round or too many; MissingFact before the first run.
    """
    if last < first:
        raise BadInput({"to": "The last day comes before the first."})
    if last - first > LONGEST_DAYS:
        raise BadInput({"to": f"That is more than {LONGEST_DAYS} days; print a sheet for each month."})
    live = book.live(session, today)
    rows = store.standing_rows(session, first, last)
    lines = []
    for row in rows:
        laid = live.laid.get(row.entry)
        facts = dict(laid.entry.facts) if laid is not None else {}
        end = last if row.last is None else min(last, row.last)
        lines.append(Line(row, book.steps.get((row.sheet, row.step)), facts, max(first, row.first), end))
    closing = [row for row in store.coming_rows(session, first, last) if row.closes is not None and row.closes <= last]
    return Minding(
        first,
        last,
        [(part, mine) for part in PARTS if (mine := [line for line in lines if line.row.part == part])],
        [job for job in jobs_of(book, session, closing, today) if job.open],
        _not_eaten(live, first, last),
    )


def _not_eaten(live: Live, first: Day, last: Day) -> list[tuple[str, Bar]]:
    """The bars of law on eating and selling that touch some days, by the name of the entry that lays them: of those of
    one entry that end on the same day only the latest laid, in the fewest words, since they say the same."""
    found: dict[tuple[str, Day | None], Bar] = {}
    for bar in live.law():
        runs = bar.first <= last and (bar.last is None or bar.last >= first)
        if not runs or bar.by not in live.laid or not {"eat", "sell"} & set(bar.acts):
            continue
        known = found.get((bar.by, bar.last))
        if known is None or (bar.first, -len(bar.says)) > (known.first, -len(known.says)):
            found[bar.by, bar.last] = bar
    rows = [(live.laid[by].entry.name, bar) for (by, _), bar in found.items()]
    return sorted(rows, key=lambda pair: (pair[0], pair[1].first))
