"""Back from the table: what can stand on it, the ways in worked back from a day, and a chain put down."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.rules.clashes import clashes_with
from app.rules.live import Live
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.table import Back, Dated, back_from, chain_entries
from app.rules.table_here import Here, from_here
from app.rules.tasks import Clash
from app.rules.terms import Ask, Value
from app.rules.ways_in import Goal, Link, facts_that_count, goals, usual_facts, ways_to
from app.services.book import Book
from app.services.larder.kit_claims import of_kit
from app.services.preview import Draft
from app.services.put_once import once_id, put_once

__all__ = [
    "Here", "WayIn", "asked_of", "clashes_of", "from_what_is_here", "goal_id", "goal_of", "offered", "put_down",
    "step_of", "work_back",
]  # fmt: skip

MOST_HERE = 6
_HERE: WeakKeyDictionary[Live, dict[str, list[Here]]] = WeakKeyDictionary()
"""Of a plan as it stands, what can be reached from what is here; gone with the plan at the next change of facts."""
FURTHEST_DAYS = 1096
"""Meals are worked back from three years off at the most: as far as the holding is planned."""


class WayIn(NamedTuple):
    """A way in: its links, the sheets of each, and what came of working it back."""

    links: tuple[Link, ...]
    sheets: tuple[Sheet, ...]
    back: Back

    @property
    def open(self) -> bool:
        """Whether there is still time for it."""
        return self.back.start is not None and not self.back.late_by


def offered(book: Book) -> list[Goal]:
    """All that can stand on the table."""
    return goals(book.library.sheets)


def goal_of(book: Book, ident: str) -> Goal:
    """A goal by its id, "sheet.step".

    Raises: NotFound.
    """
    found = next((one for one in offered(book) if goal_id(one) == ident), None)
    if found is None:
        raise NotFound("There is nothing of that name to be worked back to.")
    return found


def goal_id(goal: Goal) -> str:
    """The id of a goal."""
    return f"{goal.sheet}.{goal.step}"


def asked_of(book: Book, session: Session, goal: Goal) -> tuple[tuple[Ask, ...], Mapping[str, Value]]:
    """What is asked about what is to stand on the table, and what it usually is: what its dates hang on, no more."""
    sheet = book.library.sheets[goal.sheet]
    altitude = book.holding(session).altitude_m
    usual: dict[str, Value] = {"altitude_m": altitude} if altitude is not None else {}
    asks = tuple(sheet.facts[name] for name in facts_that_count(sheet))
    return asks, {**usual_facts(book.library.sheets, goal.sheet), **usual}


def work_back(
    book: Book, session: Session, goal: Goal, day: Day, facts: Mapping[str, Value], today: Day
) -> list[WayIn]:
    """Every way in, the one that begins first before the others; what can't be dated stays, with its reason.

    Raises: BadInput for a day that has passed, or one beyond the years that are planned.
    """
    if day < today:
        raise BadInput({"day": "That day has passed."})
    if day > today + FURTHEST_DAYS:
        raise BadInput({"day": "That is more than three years off; come back nearer to it."})
    planner, sheets = book.live(session, today).planner, book.library.sheets
    found: dict[tuple[tuple[str, ...], Day | None], WayIn] = {}
    starts: dict[tuple[str, ...], Day | None] = {}
    for way in reversed(ways_to(sheets, goal)):  # the shortest first: a longer one begins before it
        names = tuple(link.sheet for link in way)
        back = back_from(planner, way, goal, day, today, facts, starts.get(names[1:]))
        starts[names] = back.start
        found.setdefault((names, back.begin_by), WayIn(way, tuple(sheets[name] for name in names), back))
    return sorted(found.values(), key=lambda one: one.back.begin_by or day)


def from_what_is_here(
    book: Book, session: Session, goal: Goal, found: list[WayIn], facts: Mapping[str, Value], today: Day
) -> list[tuple[WayIn, Here]]:
    """What stands already from which the goal can be reached, with the way it goes, the first to be there first."""
    if goal.meal:
        return []
    live = book.live(session, today)
    here = [(way, one) for way in found for one in _from_here(live, way.links, facts)]
    return sorted(here, key=lambda each: (each[1].ready, each[1].entry.id))[:MOST_HERE]


def _from_here(live: Live, way: Sequence[Link], facts: Mapping[str, Value]) -> list[Here]:
    """A way from what stands already; as long as nothing changes it is the same for any day and is kept."""
    known = _HERE.setdefault(live, {})
    asked = repr((way, sorted(facts.items())))
    if asked not in known:
        kept = live.facts
        known[asked] = from_here(
            live.planner, way, kept.entries.values(), kept.amendments, kept.ticks, live.as_of, facts
        )
    return known[asked]


def clashes_of(
    book: Book, session: Session, way: WayIn, on: Day, facts: Mapping[str, Value], today: Day
) -> list[tuple[Clash, str]]:
    """What of kit and room a way would want while another has it, begun on a day, with that other's name."""
    live = book.live(session, today)
    entry, more = chain_entries(live.planner, way.links, on, facts)
    plan = live.planner.plan([entry], more, (), today, on + FURTHEST_DAYS)
    mine = [bar for laid in plan.laid.values() for bar in laid.bars]
    others = [bar for laid in list(live.laid.values()) for bar in laid.bars]
    found = of_kit(book, session, clashes_with(plan.laid, mine, others), today)
    return [(one, live.laid[one.other if one.one in plan.laid else one.one].entry.name) for one in found]


def step_of(way: WayIn, dated: Dated) -> Step:
    """The step that a dated line of a chain is of."""
    return next(one for one in way.sheets[dated.at].steps if one.id == dated.step)


def put_down(book: Book, way: WayIn, goal: Goal, on: Day, facts: Mapping[str, Value], token: str, today: Day) -> str:
    """Put the first entry of a chain down; what follows comes of its jobs, with what was said of it. Its id comes back.

    A form sent twice puts it down once.
    """
    ident = once_id(way.links[0].sheet, token)
    with book.reading() as session:
        entry, more = chain_entries(book.live(session, today).planner, way.links, on, facts, ident)
    name = way.sheets[0].title if len(way.links) == 1 else f"{way.sheets[0].title}, for {goal.what}"
    draft = Draft(entry.sheet, name, "", entry.facts)
    return put_once(book, draft, token, today, more)
