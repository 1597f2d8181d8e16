"""This holding's own ways: where an entry, a variety or the whole holding does otherwise than a sheet says.

A way makes another sheet of the one there is, so that planning knows nothing of it and keeps all that it keeps. What is
law, agreed with somebody outside, or a caution, no way changes; where food is made safe, it may only be more careful.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from app.rules.facts import Entry, Way
from app.rules.moment import EntryDate, Said, TickDay
from app.rules.sheet import Sheet
from app.rules.spans import Span, length_in_days, words
from app.rules.step import Labour, Make, Step

_NARROW = {"entry": 0, "variety": 1, "holding": 2}
_SAFE_FOOD = ("meat", "preserving")
MOST_DAYS = 366
MOST_PERCENT = 1000


def ways_of(entry: Entry, ways: Iterable[Way]) -> tuple[Way, ...]:
    """The ways that hold for an entry, one for each step and matter: its own before its variety's before all here.

    Of two of one width the later holds. Source: none; the narrowest knows best.
    """
    found: dict[tuple[str, str], Way] = {}
    for way in ways:
        if way.sheet != entry.sheet or not _touches(way, entry):
            continue
        known = found.get((way.step, way.what))
        if known is None or _NARROW[way.scope] <= _NARROW[known.scope]:
            found[way.step, way.what] = way
    return tuple(found[at] for at in sorted(found))


def _touches(way: Way, entry: Entry) -> bool:
    if way.scope == "entry":
        return way.entry == entry.id
    if way.scope == "variety":
        variety = entry.facts.get("variety")
        return isinstance(variety, str) and variety.strip().casefold() == way.variety.strip().casefold()
    return True


def done_otherwise(sheet: Sheet, ways: Sequence[Way]) -> Sheet:
    """The sheet with an entry's ways in it; what a way may not change stays as it is.

    Source: none; days are added to where a step is reckoned from, before anything pushes it.
    """
    kept = [way for way in ways if way.what != "yield_percent" and not cannot(sheet, way)]
    if not kept:
        return sheet
    steps = tuple(_step(step, [way for way in kept if way.step in ("", step.id)]) for step in sheet.steps)
    own = {step.id: said for step in sheet.steps if (said := tuple(_said_of(step, kept)))}
    return replace(sheet, steps=steps, own=own)


def cannot(sheet: Sheet, way: Way) -> str:
    """Why a way does not hold, in a sentence; "" when it does."""
    if way.what == "yield_percent" or (not way.step and way.what == "minutes_percent"):
        return "" if 0 < way.amount <= MOST_PERCENT else f"It should be more than 0 and no more than {MOST_PERCENT} %."
    step = next((one for one in sheet.steps if one.id == way.step), None)
    if step is None:
        return "The sheet has no such job."
    match way.what:
        case "days":
            return _cannot_shift(sheet, step, way.amount)
        case "keeps_days":
            return _cannot_keep(sheet, step, way.amount)
        case _:
            fits = 0 < way.amount <= MOST_PERCENT
            return "" if fits else f"It should be more than 0 and no more than {MOST_PERCENT} %."


def shifts(sheet: Sheet, step: Step) -> bool:
    """Whether the household's own days may shift a step."""
    return not _cannot_shift(sheet, step, 1)


def _cannot_shift(sheet: Sheet, step: Step, days: float) -> str:
    if step.legal:
        return "That is a window of the law; nobody can shift it."
    if step.firm or step.appointment or isinstance(step.start, Said):
        return "That day is agreed with somebody outside; it is taken down when they give it."
    if step.round is not None:
        return "That is done every day; there is nothing to shift."
    if isinstance(step.start, EntryDate) and (step.id == sheet.begins or step.start == EntryDate("date")):
        return "That day is the entry’s own date; it is put right on the entry."
    if isinstance(step.start, TickDay) and step.start.days:
        return "That waits for a figure that is written down when it is given; nobody can shift it."
    if not days or days != int(days) or abs(days) > MOST_DAYS:
        return f"Whole days are wanted, sooner or later, {MOST_DAYS} at most."
    if days < 0 and sheet.trade in _SAFE_FOOD:
        return "Where food is made safe, your own way may be later than the sheet’s, never sooner."
    return ""


def _cannot_keep(sheet: Sheet, step: Step, days: float) -> str:
    spans = [make.keeps for make in step.makes if make.keeps is not None]
    if not spans:
        return "Nothing that keeps comes of that job."
    if not 1 <= days <= 36500 or days != int(days):
        return "Whole days are wanted, one or more."
    if sheet.trade in _SAFE_FOOD and days > min(map(length_in_days, spans)):
        return "Food that was made safe to keep may be kept shorter than the sheet says, never longer."
    return ""


def _step(step: Step, ways: Sequence[Way]) -> Step:
    """One step otherwise; what is said of the step itself holds before what is said of all of them."""
    amounts = {way.what: way.amount for way in sorted(ways, key=_rank, reverse=True)}
    if "days" in amounts:
        step = _shifted(step, int(amounts["days"]))
    if "minutes_percent" in amounts:
        part, labour = amounts["minutes_percent"] / 100, step.minutes
        step = replace(step, minutes=Labour(labour.base * part, labour.each * part, labour.per))
    if "keeps_days" in amounts:
        step = replace(step, makes=tuple(_kept(make, int(amounts["keeps_days"])) for make in step.makes))
    return step


def _rank(way: Way) -> tuple[int, int]:
    return _NARROW[way.scope], 0 if way.step else 1


def _shifted(step: Step, days: int) -> Step:
    again = step.again
    if again is not None and again.last is not None:
        # Counted from when it was last done: it is the interval that is longer.
        if not isinstance(again.every, Span):
            return step
        every = Span(again.every.months, again.every.days + days)
        return step if length_in_days(every) < 1 else replace(step, again=replace(again, every=every))
    by = step.start.by
    return replace(step, start=replace(step.start, by=Span(by.months, by.days + days)))


def _kept(make: Make, days: int) -> Make:
    return make if make.keeps is None else replace(make, keeps=Span(0, days))


def yield_percent(ways: Iterable[Way]) -> float:
    """An entry's own yield, in per cent of the sheet's."""
    return next((way.amount for way in ways if way.what == "yield_percent"), 100.0)


def _said_of(step: Step, ways: Iterable[Way]) -> Iterable[str]:
    for way in ways:
        if way.step == step.id or (not way.step and (step.minutes.base or step.minutes.each)):
            yield said(way)


def said(way: Way) -> str:
    """A way in words: "3 weeks later here"."""
    length = words(Span(0, int(way.amount)))
    where = {"entry": "for this one", "variety": f"with {way.variety}", "holding": "here"}[way.scope]
    tail = f" ({way.note})" if way.note else ""
    match way.what:
        case "days":
            return f"{length} {'later' if way.amount > 0 else 'sooner'} {where}{tail}"
        case "keeps_days":
            return f"keeps {length} {where}{tail}"
        case "minutes_percent":
            return f"takes {way.amount:g} % of the sheet’s minutes {where}{tail}"
        case _:
            return f"yields {way.amount:g} % of what the sheet says {where}{tail}"
