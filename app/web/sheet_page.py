"""A sheet as a page: every step with its dates, its needs and its source."""

from collections.abc import Mapping, Sequence

from app.rules.facts import Way
from app.rules.moment import Work
from app.rules.sheet import Sheet
from app.rules.spans import NOTHING, words
from app.rules.step import Again, Step
from app.rules.why import describe
from app.services.book import Book
from app.web import pages, told
from app.web.fields import in_units
from app.web.garden.crop_words import crop_figures
from app.web.parts import Frame, Link, Pair
from app.web.ways_page import own_pairs, ways_href
from app.web.words import listed


def sheet_page(
    book: Book, sheet: Sheet, steps: Sequence[Step], frame: Frame, ways: Mapping[str, Sequence[Way]] | None = None
) -> pages.Sheet:
    """How it's done, with the household's own figures, and its own ways by step, beside what came with the program.

    ``steps`` are those of the sheet in the order in which they are told.
    """
    own_ways = ways or {}
    library = book.library
    changes = library.changes.get(sheet.id, ())
    differs = changes or own_ways
    own = "Your own sheet." if sheet.id in library.own else "Changed for this holding." if differs else ""
    crop = sheet.crop.sources() if sheet.crop else ()
    cited = [*(step.source for step in steps), *(bar.source for bar in sheet.bars), *crop]
    published = dict.fromkeys(told.source(library, one) for one in cited if one.basis == "published")
    href = f"/found/{sheet.id}" if sheet.found else f"/add/{sheet.id}"
    return pages.Sheet(
        frame=frame,
        title=sheet.title,
        trade=sheet.trade,
        about=sheet.about,
        own=own,
        facts=tuple(Pair(told.label(ask), told.asked(ask)) for ask in in_units(sheet.facts.values(), book.imperial)),
        cautions=told.cautions(library, sheet.cautions),
        steps=tuple(_step(book, sheet, step, own_ways.get(step.id, ())) for step in steps),
        bars=tuple(Pair(bar.says, told.source(library, bar.source)) for bar in sheet.bars),
        sources=tuple(published),
        add=Link("Begin one today" if sheet.found else "Put one down", href),
        changed=own_pairs(own_ways.get("", ()), sheet),
        otherwise=Link("Does it go differently here?", ways_href(sheet.id)),
        figures=crop_figures(book, sheet.crop),
    )


def _step(book: Book, sheet: Sheet, step: Step, ways: Sequence[Way] = ()) -> pages.SheetStep:
    library = book.library
    return pages.SheetStep(
        id=step.id,
        title=step.title,
        note=step.note,
        when=tuple(pair for pair in _when(sheet, step) if pair.value),
        facts=tuple(pair for pair in _facts(book, sheet, step) if pair.value),
        cautions=told.cautions(library, step.cautions),
        source=told.source(library, step.source),
        changed=(*told.changed(library.changes.get(sheet.id, ()), sheet, step.id), *own_pairs(ways, sheet)),
        legal=f"The law of {told.nations(step.nations)}." if step.nations else "",
    )


def _when(sheet: Sheet, step: Step) -> list[Pair]:
    spell = (sheet.spells or {}).get(step.within)
    season = f"from {describe(spell.opens, sheet)} to {describe(spell.closes, sheet)}" if spell else ""
    return [
        Pair("reckoned from", describe(step.start, sheet)),
        Pair("after", listed(_after(sheet, step))),
        Pair("opens", told.edge(step.opens, sheet) if step.opens is not None else ""),
        Pair("closes", told.edge(step.closes, sheet) if step.closes is not None else ""),
        Pair("within", season),
        Pair("again", _again(sheet, step.again) if step.again else ""),
        Pair("only if", _condition(sheet, step)),
        Pair("by the clock", told.by_the_clock(step.timed) if step.timed else ""),
        Pair("round", f"every {step.round.at}" if step.round else ""),
    ]


def _after(sheet: Sheet, step: Step) -> list[str]:
    found = []
    for one in step.after:
        before = told.step_of(sheet, one.step)
        name = f"‘{before.title if before else one.step}’"
        least = f", by {words(one.by)} at least" if one.by != NOTHING else ""
        found.append(f"{name}{least if not one.work else ', by the days that are reckoned for it'}")
    return found


def _again(sheet: Sheet, again: Again) -> str:
    if again.kind == "yearly":
        return "every year"
    every = describe(again.every, sheet) if isinstance(again.every, Work) else f"every {words(again.every)}"
    parts = [
        every,
        f"until {describe(again.until, sheet)}" if again.until else "",
        f"{again.most} times at most" if again.most else "",
        "until it is said to be over" if again.stop else "",
        "reckoned from the plan" if again.counted == "plan" else "",
    ]
    return ", ".join(part for part in parts if part)


def _condition(sheet: Sheet, step: Step) -> str:
    if step.when is None:
        return ""
    tests = []
    for given, values in step.when.tests:
        asked = told.step_of(sheet, given.step)
        ask = (
            next((one for one in asked.asks if one.name == given.name), None) if asked else sheet.facts.get(given.name)
        )
        name = told.label(ask) if ask else given.name
        answers = listed((told.answer(ask, one) if ask else str(one) for one in values), "or")
        tests.append(f"{name}: {answers}{f' (asked at ‘{asked.title}’)' if asked else ''}")
    return "; ".join(tests)


def _facts(book: Book, sheet: Sheet, step: Step) -> list[Pair]:
    asks = listed(f"{told.label(ask).lower()} ({told.asked(ask)})" for ask in in_units(step.asks, book.imperial))
    return [
        Pair("with", f"{step.appointment}, by appointment" if step.appointment else ""),
        Pair("takes", told.takes(step.minutes)),
        Pair("needs", listed(told.needs(step.needs))),
        Pair("where", step.place),
        Pair("asks", asks),
        *(Pair("uses", f"{one.name}, {one.value}") for one in map(told.uses, step.uses)),
        *(Pair("makes", told.makes(book.library, one)) for one in step.makes),
        Pair("what is lost", step.loses),
        Pair("if missed", told.MISSED[step.missed] if not step.round else ""),
    ]
