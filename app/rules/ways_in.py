"""Ways in: what can stand on the table, and by which chains of sheets it gets there, read off what steps make."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import NamedTuple

from app.rules.moment import EntryDate, Given
from app.rules.sheet import Sheet
from app.rules.step import Make, Step, Use
from app.rules.terms import Value

TRADES = ("meat", "livestock", "preserving")
MEAL = "meal"
MOST_LINKS = 4


class Goal(NamedTuple):
    """Something that can stand on the table: ``what`` it is called, and the ``step`` of a ``sheet`` that ends in it.

    ``meal`` is true where the sheet is itself counted back from the meal, so that its date is the day of it.
    """

    what: str
    sheet: str
    step: str
    meal: bool = False


class Link(NamedTuple):
    """One sheet of a chain.

    ``step`` makes the next one, as the entry called ``name``; of the last link it is the goal, and ``name`` is "".
    ``facts`` are what must be said of the entry so that the step is asked at all (the legs are to be ham).
    """

    sheet: str
    step: str
    name: str = ""
    facts: Mapping[str, Value] = {}


def goals(sheets: Mapping[str, Sheet]) -> list[Goal]:
    """All that can stand on the table by some sheet of meat, livestock or preserving: meals, then by trade and name.

    Source: none; a meal's own day, or the first step of a sheet that puts a kind of thing in store.
    """
    found: list[Goal] = []
    for sheet in sheets.values():
        if sheet.trade not in TRADES or sheet.found:
            continue
        if sheet.kind == MEAL:
            found += [
                Goal(sheet.title, sheet.id, one.id, True)
                for one in sheet.steps
                if one.firm and one.start == EntryDate("date")
            ]
            continue
        seen: set[str] = set()
        for step in _in_order(sheet):
            names = [make.name for make in step.makes if make.kind == "lot" and make.name not in seen]
            if names and _plannable(sheet, step):
                found.append(Goal(names[0], sheet.id, step.id))
            seen.update(names)
    trade = {sheet.id: TRADES.index(sheet.trade) for sheet in sheets.values() if sheet.trade in TRADES}
    return sorted(found, key=lambda one: (not one.meal, trade[one.sheet], one.what, one.sheet))


def ways_to(sheets: Mapping[str, Sheet], goal: Goal) -> list[tuple[Link, ...]]:
    """The chains that end in a goal, the longest first: from the animals, from the carcase, from the piece itself.

    A chain keeps to one species, and passes no step that comes round. Source: none; what makes what, followed back.
    """
    last = sheets[goal.sheet]
    end = (Link(goal.sheet, goal.step, facts=_needed(last, goal.step)),)
    found = [] if goal.meal else list(_back(sheets, end))
    return sorted([*found, end], key=lambda one: (-len(one), [link.sheet for link in one]))


def usual_facts(sheets: Mapping[str, Sheet], sheet_id: str) -> dict[str, Value]:
    """What an entry of a sheet is usually like: its own usual answers, else what a job that makes one plans with.

    Source: the sheets' own ``else`` figures.
    """
    sheet = sheets[sheet_id]
    found: dict[str, Value] = {}
    for one in sheets.values():
        for make in (make for step in one.steps for make in step.makes if make.sheet == sheet_id):
            found = {**(make.otherwise or {}), **found}
    said = {name: ask.default for name, ask in sheet.facts.items() if ask.default is not None}
    return {name: value for name, value in {**found, **said}.items() if name in sheet.facts and name != "date"}


def facts_that_count(sheet: Sheet) -> list[str]:
    """The facts of a sheet that its dates hang on: those without which there are none, and those that a step asks of.

    Source: none; read off the sheet's moments and conditions, in the order of its facts.
    """
    named = {given.name for step in sheet.steps for given in _givens(step)}
    return [
        name
        for name, ask in sheet.facts.items()
        if name != "date" and (name in named or (ask.default is None and not ask.optional))
    ]


def _givens(part: object) -> Iterator[Given]:
    """Every fact that a part of a sheet names, however deep it stands; what is made or used of it does not count."""
    if isinstance(part, Given):
        if part.of == "fact":
            yield part
    elif is_dataclass(part) and not isinstance(part, (type, Make, Use)):
        for each in fields(part):
            yield from _givens(getattr(part, each.name))
    elif isinstance(part, Mapping):
        for value in part.values():
            yield from _givens(value)
    elif isinstance(part, tuple):
        for value in part:
            yield from _givens(value)


def _back(sheets: Mapping[str, Sheet], chain: tuple[Link, ...]) -> Iterator[tuple[Link, ...]]:
    if len(chain) >= MOST_LINKS:
        return
    first = sheets[chain[0].sheet]
    for sheet in sheets.values():
        known = [sheets[link.sheet] for link in chain]
        if sheet in known or not all(_of_one_kind(sheet, one) for one in known):
            continue
        for step in sheet.steps:
            names = [make.name for make in step.makes if make.kind == "entry" and make.sheet == first.id]
            if names and _plannable(sheet, step):
                longer = (Link(sheet.id, step.id, names[0], _needed(sheet, step.id)), *chain)
                yield longer
                yield from _back(sheets, longer)


def _of_one_kind(sheet: Sheet, other: Sheet) -> bool:
    return not sheet.species or not other.species or sheet.species == other.species


def _plannable(sheet: Sheet, step: Step) -> bool:
    """Whether a job is planned before anything is ticked, and once: what waits for an answer makes nothing yet."""
    waits = step.when is not None and not step.when.otherwise and any(g.of != "fact" for g, _ in step.when.tests)
    return not sheet.scopes.get(step.id) and not waits


def _needed(sheet: Sheet, step_id: str) -> dict[str, Value]:
    """The facts that must be said for a step to be asked: of each condition on a fact, its first answer."""
    step = next(one for one in sheet.steps if one.id == step_id)
    tests = step.when.tests if step.when is not None else ()
    return {given.name: answers[0] for given, answers in tests if given.of == "fact" and answers}


def _in_order(sheet: Sheet) -> list[Step]:
    place = {name: at for at, name in enumerate(sheet.order)}
    return sorted(sheet.steps, key=lambda one: place.get(one.id, 0))
