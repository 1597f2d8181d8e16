"""What to expect against what came, as a page: a picture of the lay, carcases by weight, honey."""

from collections.abc import Mapping
from datetime import date

from app.services.livestock.carcases import Carcase
from app.services.livestock.expect import Expected, Honey, Laying
from app.web import pages
from app.web.links import entry_href
from app.web.livestock.husbandry_drawing import lay_curve
from app.web.livestock.husbandry_links import ways
from app.web.pages.husbandry import EggWeek, FlockLay, MeatAhead
from app.web.parts import Field, Form, Frame, Pair
from app.web.rows import date_of
from app.web.weights import weight
from app.web.words import SP, counted, day, figure, short

WHY = (
    "Eggs a bird a day: rising over eight weeks from the first egg, held at nine in ten for ten weeks, then one in a"
    " hundred fewer each week: fitted to J. C. Hermes, Oregon State University Extension. A moult of ten weeks follows"
    " a year of lay, and then a tenth to a fifth fewer.",
    "Short days take some: none at 14 hours of daylight, half at 9, a fifth of a pullet’s first winter; an estimate,"
    " common practice.",
    "What came is the week’s count, or what was counted on the round; a week that was not counted through is left out.",
)
LOOK = "Look at every bird: red mite by torch, lice, worms, a full crop, water, moult, a change of feed, a nest laid"
LOOK += " away, rats or crows. Pale, listless or breathing badly: ring the vet today."


def expect_page(
    frame: Frame, found: Expected, imperial: bool, today: date,
    wrong: tuple[str, Mapping[str, str], Mapping[str, str]], ident: str,
) -> pages.LivestockExpect:  # fmt: skip
    """The page; ``wrong`` is the flock whose eggs were refused, what was typed, and why."""
    nothing = not (found.flocks or found.carcases or found.honey)
    return pages.LivestockExpect(
        frame, tuple(_flock(one, n, today, wrong, f"{ident}{n}") for n, one in enumerate(found.flocks)),
        tuple(_carcase(one, imperial, today) for one in found.carcases),
        tuple(_honey(one, imperial) for one in found.honey), ways("/livestock/expect"),
        "No layers, no animals for the table and no bees are put down." if nothing else "",
    )  # fmt: skip


def _flock(
    one: Laying, n: int, today: date, wrong: tuple[str, Mapping[str, str], Mapping[str, str]], ident: str
) -> FlockLay:
    entry, weeks = one.eater.entry, one.weeks
    typed, errors = (wrong[1], wrong[2]) if wrong[0] == entry.id else ({}, {})
    age = (today.toordinal() - one.eater.born) // 7
    curve_words = _curve_words(one, today)
    most = max([max(week.expected, week.came or 0) for week in weeks], default=0)
    first, last = (short(date_of(one.first), today) for one in (weeks[0], weeks[-1])) if weeks else ("", "")
    ends = (str(round(most)), first, last)
    rows = tuple(
        EggWeek(short(date_of(week.first), today), figure(week.expected, 0),
                figure(week.came, 0) if week.came is not None else "not counted",
                f"{figure(100 * week.share, 0)}{SP}%" if week.share is not None else "")
        for week in weeks
        if week.first <= today.toordinal()
    )  # fmt: skip
    return FlockLay(
        f"flock-{n}", entry.name, entry_href(entry.id),
        f"{counted(one.head, 'bird')}, {counted(age, 'week')} old", _answer(one),
        _fall(one), LOOK if one.fall is not None else "",
        lay_curve([week.expected for week in weeks], [week.came for week in weeks], one.this, curve_words, ends),
        curve_words, rows[::-1], _form(entry.id, n, today, typed, errors, ident), WHY,
    )  # fmt: skip


def _answer(one: Laying) -> str:
    now = one.weeks[one.this] if one.this >= 0 else None
    expects = f"This week about {figure(now.expected, 0)} eggs are to be expected" if now is not None else ""
    if not one.expected:
        return f"{expects}; none were counted yet." if expects else "They do not lay yet."
    share = 100 * one.came / one.expected
    return f"{expects}. Of {figure(one.expected, 0)} expected {figure(one.came, 0)} came: {figure(share, 0)}{SP}%."


def _fall(one: Laying) -> str:
    if one.fall is None:
        return ""
    within = "in three days" if one.fall.days == 3 else "from one week to the next, and the curve falls less"
    was, now = figure(one.fall.was, 0), figure(one.fall.now, 0)
    return f"Down from {was} to {now} eggs {within}: a reason to look, not a diagnosis."


def _curve_words(one: Laying, today: date) -> str:
    if not one.weeks:
        return "No weeks to show yet."
    told = [week for week in one.weeks if week.came is not None]
    said = "; ".join(
        f"{day(date_of(week.first), today)}: {figure(week.expected, 0)} expected, {figure(week.came or 0, 0)} came"
        for week in told[-6:]
    )
    return f"Eggs by week, expected and come. {said or 'No week was counted through yet'}."


def _form(entry: str, n: int, today: date, typed: Mapping[str, str], errors: Mapping[str, str], ident: str) -> Form:
    fields = (
        Field("eggs", "Eggs", "count", typed.get("eggs", ""), error=errors.get("eggs", ""), required=True,
              id=f"eggs-{n}"),
        Field("on", "On", "date", typed.get("on", today.isoformat()), error=errors.get("on", ""), required=True,
              high=today.isoformat(), id=f"eggs-on-{n}"),
    )  # fmt: skip
    hidden = (Pair("entry", entry), Pair("id", typed.get("id", "") or ident))
    return Form("/livestock/expect", "Put the eggs down", fields, hidden, quiet=True)


def _carcase(one: Carcase, imperial: bool, today: date) -> MeatAhead:
    low, best, high = one.carcase_kg
    facts = [
        Pair("live", f"about {weight(one.live_kg, imperial)}"),
        Pair("carcase", f"{weight(best, imperial)} ({weight(low, imperial)} to {weight(high, imperial)})"),
        Pair("packed", f"about {weight(one.packed_kg, imperial)}"),
    ]
    note = ""
    if one.came_kg is not None:
        facts.append(Pair("came", f"{weight(one.came_kg, imperial)}, {one.came_what}"))
        note = "As expected." if low <= one.came_kg <= high else (
            f"{'Less' if one.came_kg < low else 'More'} than expected by {weight(abs(one.came_kg - best), imperial)}."
        )  # fmt: skip
    on = f", {day(date_of(one.on), today)}" if one.on is not None else ""
    return MeatAhead(one.name, entry_href(one.entry), f"{counted(one.head, 'head', 'head')}{on}", tuple(facts),
                     f"{note} {one.source}".strip())  # fmt: skip


def _honey(one: Honey, imperial: bool) -> MeatAhead:
    poor, usual, good = (weight(kg, imperial) if kg else "none" for kg in one.kg)
    facts = [Pair("a usual year", usual), Pair("a poor one", poor), Pair("a good one", good)]
    facts += [Pair(str(year), f"{weight(kg, imperial)} came") for year, kg in one.came]
    return MeatAhead(one.name, entry_href(one.entry), counted(one.colonies, "colony", "colonies"), tuple(facts),
                     "From memory, yearly surveys of British beekeepers.")  # fmt: skip
