"""Putting an element down in one line: what it is, on which building, when it was last done."""

from collections.abc import Mapping
from typing import NamedTuple

from app.errors import BadInput, NotFound
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import Value
from app.services.book import Book
from app.services.preview import Draft
from app.services.put_once import put_once
from app.services.setup import A_YEAR, is_kept_up
from app.services.upkeep.elements import GOES_ON, SIZES, misfit
from app.sheets.upkeep_tables import coatings, misfits

TO_COME = "That day has not come yet; when was it last done? Left empty, nobody knows."


class NewElement(NamedTuple):
    """An element as it was typed: a sheet, a building, when last done (None: nobody knows) and how sure that is."""

    sheet: str
    name: str
    place: str
    done: Day | None
    known: str
    size: float | None = None
    surface: str = ""
    exposure: str = ""


def element_sheets(book: Book) -> tuple[Sheet, ...]:
    """The sheets of upkeep that an entry can be put down on, by title."""
    every = (sheet for sheet in book.library.sheets.values() if sheet.trade == "upkeep" and not sheet.found)
    return tuple(sorted(every, key=lambda sheet: sheet.title.casefold()))


def surfaces() -> tuple[str, ...]:
    """All that coatings are put on, suited or not."""
    suited = {on for one in coatings().values() for on in one.on}
    return tuple(sorted(suited | {one.on for one in misfits()}))


def put_element(book: Book, new: NewElement, token: str, today: Day) -> tuple[str, str]:
    """Put it down once, however often its form is sent; its id, and what speaks against its coating there.

    Raises: NotFound for a sheet that is not there; BadInput for a day to come or a size that cannot be.
    """
    sheet = book.library.sheets.get(new.sheet)
    if sheet is None or sheet.trade != "upkeep" or sheet.found:
        raise NotFound("There is no such element; choose one from the list.")
    facts = _facts(new, sheet, today)
    ident = put_once(book, Draft(sheet.id, new.name, new.place, facts), token, today)
    return ident, _says(new, sheet, facts)


def _says(new: NewElement, sheet: Sheet, facts: Mapping[str, Value]) -> str:
    """What speaks against its coating on what was chosen, whether the sheet asks for that or not."""
    return misfit(sheet, {**facts, **({"surface": new.surface} if new.surface else {})})


def _suits(surface: str, sheet: Sheet) -> bool:
    return any(surface in one.on for one in coatings().values() if one.sheet == sheet.id)


def _facts(new: NewElement, sheet: Sheet, today: Day) -> dict[str, Value]:
    """The facts of the entry. What was typed and is not asked of such a thing is said, and not dropped in silence."""
    wrong: dict[str, str] = {}
    if is_to_come(new.done, sheet, today):
        wrong["done"] = TO_COME
    facts: dict[str, Value] = {"date": _date(new, sheet, today)}
    if new.known != "to the day" and "known" in sheet.facts:
        facts["known"] = new.known
    size = size_fact(sheet)
    if new.size is not None and not size:
        wrong["size"] = f"‘{sheet.title}’ is not measured by area or length; leave it empty."
    elif new.size is not None:
        ask = sheet.facts[size]
        if (ask.low is not None and new.size < ask.low) or (ask.high is not None and new.size > ask.high):
            wrong["size"] = f"It should be between {ask.low or 0:g} and {ask.high or 0:g}."
        facts[size] = new.size
    on = _choices(sheet, GOES_ON, new.surface)
    if new.surface and not on and not _suits(new.surface, sheet) and not _says(new, sheet, facts):
        wrong["surface"] = f"‘{sheet.title}’ does not go on that; choose another, or leave it empty."
    exposed = _choices(sheet, ("exposure",), new.exposure)
    if new.exposure and not exposed:
        wrong["exposure"] = f"It makes no difference to ‘{sheet.title}’; leave it empty."
    if wrong:
        raise BadInput(wrong)
    return {**facts, **on, **exposed}


def is_to_come(done: Day | None, sheet: Sheet, today: Day) -> bool:
    """Whether what is said to have been done last lies in days to come."""
    return done is not None and done > today and is_kept_up(sheet)


def _date(new: NewElement, sheet: Sheet, today: Day) -> Day:
    """The entry's date: of a last time that nobody knows today where the sheet can tell, else a year back."""
    if new.done is not None:
        return new.done
    return today if "known" in sheet.facts or not is_kept_up(sheet) else today - A_YEAR


def size_fact(sheet: Sheet) -> str:
    """The fact that says how large it is: square metres, or metres; "" when neither is asked."""
    return next((name for name in SIZES if name in sheet.facts), "")


def _choices(sheet: Sheet, names: tuple[str, ...], said: str) -> dict[str, Value]:
    """The facts of those names that can be what was said."""
    return {name: said for name in names if said and name in sheet.facts and said in sheet.facts[name].choices}
