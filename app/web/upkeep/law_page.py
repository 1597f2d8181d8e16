"""The law on upkeep as a page: closed seasons, duties and intervals of the household's nation, and nobody else's."""

from datetime import date

from app.rules.moment import YearDay
from app.rules.sheet import BarRule
from app.rules.spans import words
from app.services.book import Book
from app.services.upkeep.felling import Felled
from app.services.upkeep.law import Rule, UpkeepLaw
from app.web import pages, told
from app.web.links import entry_href, sheet_href
from app.web.pages.upkeep import LawLine
from app.web.parts import Frame, Link
from app.web.upkeep.words import on
from app.web.words import MONTHS, SP, day, figure, listed

CHECK = "Check your local rules."
HEATHER = "burning heather, grass and gorse"
ACTS = {
    "cut hedge": "cutting hedges",
    "lay hedge": "laying hedges",
    "burn": HEATHER,
    "burn lowland": f"{HEATHER} below the uplands",
    "fell": "felling trees",
    "disturb nests": "disturbing nests",
}


def law_page(book: Book, frame: Frame, found: UpkeepLaw, today: date) -> pages.UpkeepLaw:
    """The page; without a nation there is no law on it."""
    said = found.nation is not None
    known = bool(found.seasons or found.rules)
    name = told.NATIONS.get(found.nation or "", "")
    if not said:
        answer = "No nation is set, so no law is told and no legal date is given anywhere."
    elif not known:
        answer = "No law is on file for where you are. Ask your own authorities."
    else:
        answer = f"As it holds in {name} on {day(today, today)}. {CHECK}"
    return pages.UpkeepLaw(
        frame=frame,
        answer=answer,
        seasons=tuple(_season(book, one, today) for one in found.seasons),
        rules=tuple(_rule(book, one, today) for one in found.rules),
        notes=(
            "Closed seasons are kept by the dates of jobs: what they bar is never asked for. Both days count.",
            "Byelaws, tenancies, insurers, grants and orders on single trees may ask for more than this.",
        )
        if known
        else (),
        none=None if said else Link("Say which nation you are in", "/household"),
    )


def _season(book: Book, one: BarRule, today: date) -> LawLine:
    acts = [act for act in one.acts if act != "burn lowland" or "burn" not in one.acts]
    what = listed(ACTS.get(act, act) for act in acts)
    return LawLine(
        one.says, "", (), (), f"{what[:1].upper()}{what[1:]}, {_day(one.opens)} to {_day(one.closes)}",
        _since(one.in_force, today), _checked(one.checked, today), told.source(book.library, one.source),
    )  # fmt: skip


def _rule(book: Book, one: Rule, today: date) -> LawLine:
    rule = one.rule
    return LawLine(
        rule.says,
        f"binds {rule.who}",
        tuple(Link(title, sheet_href(ident)) for ident, title in one.sheets),
        tuple(Link(name, entry_href(ident)) for ident, name in one.here),
        f"Every {words(rule.every).removeprefix('1 ')} at the longest" if rule.every is not None else "",
        _since(rule.in_force, today),
        _checked(rule.checked, today),
        told.source(book.library, rule.source),
        *_felled(one.felled, today),
    )


def _felled(found: Felled | None, today: date) -> tuple[str, bool]:
    """How this quarter's felling stands, and whether it is past what the law lets go."""
    if found is None:
        return "", False
    account = found.account
    months = f"{MONTHS[account.quarter.first.month - 1]} to {MONTHS[account.quarter.last.month - 1]}"
    says = f"This quarter, {months}: {figure(account.felled_m3, 1)}{SP}m³ felled"
    if account.licence:
        return (
            f"{says}, {figure(account.sold_m3, 1)}{SP}m³ of it sold. That is past the allowance: ask the authority.",
            True,
        )
    says += f", {figure(account.left_m3, 1)}{SP}m³ left"
    if account.left_to_sell_m3 is not None:
        says += f", {figure(min(account.left_to_sell_m3, account.left_m3), 1)}{SP}m³ of that to sell"
    if found.standing_m3:
        says += f". What is put down to be felled holds {figure(found.standing_m3, 1)}{SP}m³"
    return f"{says}.", found.standing_m3 > account.left_m3 + 1e-9


def _day(moment: object) -> str:
    return f"{moment.day}{SP}{MONTHS[moment.month - 1]}" if isinstance(moment, YearDay) else "a day of its own"


def _since(value: int | None, today: date) -> str:
    return f"in force since {day(on(value), today)}" if value is not None else "since when it is in force is not known"


def _checked(value: int | None, today: date) -> str:
    return f"last checked {day(on(value), today)}" if value else ""
