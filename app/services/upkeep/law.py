"""What the law of the household's nation asks of upkeep: duties, intervals and closed seasons, as they hold today."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.sheet import BarRule
from app.rules.spans import Day
from app.rules.terms import NATIONS, Nation
from app.services.book import Book
from app.services.upkeep.felling import SHEET, Felled, felled_this_quarter
from app.services.upkeep.there import elements
from app.sheets.law import LandRule, rules_for

ACTS = ("cut hedge", "lay hedge", "burn", "burn lowland", "fell", "disturb nests")
"""The acts of upkeep that a season closes."""


class Rule(NamedTuple):
    """A rule, the titles of the sheets it is told beside, the entries here that follow one of them, and, of felling,
    how this quarter's allowance stands."""

    rule: LandRule
    sheets: tuple[tuple[str, str], ...]
    here: tuple[tuple[str, str], ...]
    felled: Felled | None = None


class UpkeepLaw(NamedTuple):
    """None of it while no nation is said; ``seasons`` are closed seasons, ``coming`` what is to come into force."""

    nation: Nation | None
    seasons: tuple[BarRule, ...]
    rules: tuple[Rule, ...]


def upkeep_law(book: Book, session: Session, today: Day) -> UpkeepLaw:
    """The law of the nation that was said, as it holds on a day.

    Raises: MissingFact while the first run is not done.
    """
    said = book.holding(session).nation
    nation: Nation | None = next((name for name in NATIONS if name == said), None)
    if nation is None or nation == "elsewhere":
        return UpkeepLaw(nation, (), ())
    library = book.library
    seasons = tuple(
        bar for bar in library.law.bars
        if nation in bar.nations and set(bar.acts) & set(ACTS) and (bar.in_force or 0) <= today
        and (bar.ends is None or bar.ends >= today)
    )  # fmt: skip
    mine = {sheet.id for sheet in library.sheets.values() if sheet.trade == "upkeep"}
    every = elements(book, session, today)
    found: dict[str, Rule] = {}
    for ident in sorted(mine):
        for rule in rules_for(library.rules, nation, ident, today):
            sheets = tuple((one, library.sheets[one].title) for one in rule.sheets if one in mine)
            here = tuple((one.entry.id, one.entry.name) for one in every if one.sheet.id in rule.sheets)
            felled = felled_this_quarter(book, session, rule, today) if SHEET in rule.sheets else None
            found.setdefault(rule.id, Rule(rule, sheets, here, felled))
    return UpkeepLaw(nation, seasons, tuple(sorted(found.values(), key=lambda one: (not one.here, one.rule.id))))
