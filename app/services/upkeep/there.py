"""What there is to be kept up, building by building; what must be done next, and which waits run in a repair."""

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.tasks import Task
from app.services.book import Book
from app.services.garden.ground import same_place
from app.services.upkeep.elements import Element, Waiting, element
from app.services.upkeep.plan import Far, upkeep_plan
from app.services.what_there_is import is_over

MOST_FIRST = 6
SOON_DAYS = 45


class Building(NamedTuple):
    """A building, or another place by its name; "" for what stands about the place."""

    name: str
    elements: tuple[Element, ...]


class Doing(NamedTuple):
    """A job of an element."""

    task: Task
    title: str
    element: Element
    state: State


class There(NamedTuple):
    """All of it: the buildings, the jobs to be done next, the waits that run; places that other entries name."""

    buildings: tuple[Building, ...]
    first: tuple[Doing, ...]
    waits: tuple[Waiting, ...]
    asked: int
    last: Day


def elements(book: Book, session: Session, today: Day) -> tuple[Element, ...]:
    """Every element that is there, by name.

    Raises: MissingFact while the first run is not done.
    """
    far = upkeep_plan(book, session, today)
    found: tuple[Element, ...] | None = far.kept.get("elements")
    if found is None:
        found = far.kept["elements"] = tuple(
            sorted(_elements(book, far, today), key=lambda one: one.entry.name.casefold())
        )
    return found


def there(book: Book, session: Session, today: Day) -> There:
    """What there is, and what it asks first.

    Raises: MissingFact while the first run is not done.
    """
    every = elements(book, session, today)
    waits = tuple(sorted((wait for one in every for wait in one.waits), key=lambda wait: (wait.until, wait.key)))
    first, asked = first_of(every, today)
    return There(_buildings(every), first, waits, asked, upkeep_plan(book, session, today).last)


def first_of(every: Sequence[Element], today: Day) -> tuple[tuple[Doing, ...], int]:
    """The jobs to do next, one an element: those asked today, then what opens in six weeks; how many are asked."""
    doing = [
        Doing(one.next, title_of(one, one.next), one, state(one.next, today)) for one in every if one.next is not None
    ]
    asked = [one for one in doing if one.state in ASKED]
    soon = [one for one in doing if one.state is State.TO_COME and (one.task.opens or 0) <= today + SOON_DAYS]
    asked.sort(key=lambda one: (one.task.closes or 0, one.task.key))
    soon.sort(key=lambda one: (one.task.opens or 0, one.task.key))
    return tuple((*asked, *soon)[:MOST_FIRST]), len(asked)


def title_of(one: Element, task: Task) -> str:
    """What a job of an element is called."""
    return next((step.title for step in one.sheet.steps if step.id == task.step), task.step)


def place_names(every: Sequence[Element]) -> tuple[str, ...]:
    """The buildings that are named already."""
    return tuple(one.name for one in _buildings(every) if one.name)


def _elements(book: Book, far: Far, today: Day) -> list[Element]:
    found = []
    for laid in far.laid.values():
        sheet = book.library.sheets.get(laid.entry.sheet)
        if sheet is not None and laid.entry.sure and not is_over(laid.entry, today) and not sheet.found:
            ticks = far.ticks.get(laid.entry.id, ())
            found.append(far.each("element", laid, partial(element, laid, sheet, ticks, today)))
    return found


def _buildings(every: Sequence[Element]) -> tuple[Building, ...]:
    """Elements by place, in the order of the places' names; what has none comes last."""
    places: dict[str, list[Element]] = {}
    for one in every:
        name = next((name for name in places if same_place(name, one.entry.place)), one.entry.place)
        places.setdefault(name, []).append(one)
    order = sorted(places, key=lambda name: (not name, name.casefold()))
    return tuple(Building(name, tuple(places[name])) for name in order)
