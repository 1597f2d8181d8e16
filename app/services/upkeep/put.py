"""Putting an element down in one line: what it is, on which building, when it was last done."""

from typing import NamedTuple

from app.errors import BadInput, NotFound
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import Value
from app.services.book import Book
from app.services.preview import Draft
from app.services.put_once import put_once
from app.services.setup import A_YEAR, is_kept_up
from app.services.upkeep.elements import SIZES, misfit
from app.sheets.upkeep_tables import coatings, misfits


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
    return ident, misfit(sheet, {**facts, **({"surface": new.surface} if new.surface else {})})


def _facts(new: NewElement, sheet: Sheet, today: Day) -> dict[str, Value]:
    wrong: dict[str, str] = {}
    if new.done is not None and new.done > today and is_kept_up(sheet):
        wrong["done"] = "That day has not come yet; when was it last done? Left empty, nobody knows."
    facts: dict[str, Value] = {"date": _date(new, sheet, today)}
    if new.known != "to the day" and "known" in sheet.facts:
        facts["known"] = new.known
    size = size_fact(sheet)
    if new.size is not None and size:
        ask = sheet.facts[size]
        if (ask.low is not None and new.size < ask.low) or (ask.high is not None and new.size > ask.high):
            wrong["size"] = f"It should be between {ask.low or 0:g} and {ask.high or 0:g}."
        facts[size] = new.size
    _choice(facts, sheet, ("surface", "wall"), new.surface)
    _choice(facts, sheet, ("exposure",), new.exposure)
    if wrong:
        raise BadInput(wrong)
    return facts


def _date(new: NewElement, sheet: Sheet, today: Day) -> Day:
    """The entry's date: of a last time that nobody knows today where the sheet can tell, else a year back."""
    if new.done is not None:
        return new.done
    return today if "known" in sheet.facts or not is_kept_up(sheet) else today - A_YEAR


def size_fact(sheet: Sheet) -> str:
    """The fact that says how large it is: square metres, or metres; "" when neither is asked."""
    return next((name for name in SIZES if name in sheet.facts), "")


def _choice(facts: dict[str, Value], sheet: Sheet, names: tuple[str, ...], said: str) -> None:
    for name in names:
        if said and name in sheet.facts and said in sheet.facts[name].choices:
            facts[name] = said
