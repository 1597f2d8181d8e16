"""A cure on its entry's page and at its jobs: what is weighed out, the curve of weight, what was done all the same."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from urllib.parse import quote

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.terms import Ask, Value
from app.services.meat.cure_ways import CURED_AT, way_of
from app.services.meat.cure_weights import Weighed, Weights, weighed_of
from app.services.what_there_is import Whole
from app.web import fields, pages, told
from app.web.forms import fresh
from app.web.meat.cure_drawing import weight_picture
from app.web.parts import NO_LINE, Field, Form, Link, Pair
from app.web.words import SP, day, figure

TOO_MUCH = "That is more than 200 ppm of nitrite. Do not rub it in: weigh the piece again and reckon it anew."
USED_TOO_MUCH = (
    "By what was ticked {} ppm of nitrite went in: more than the 200 that any home cure may have. It is not eaten:"
    " throw it away, or ask your food-safety authority."
)
_PREFIX = "m."
"""Before the names of measures in a form, as the job's own page has it."""
_RECKON = "Reckon the cure: grams, law, days"


def kept(whole: Whole, weights: Weights | None, imperial: bool, today: Day) -> pages.CureKept | None:
    """What an entry's page shows of a cure; None for what is none."""
    if weights is None or whole.sheet is None:
        return None
    found, entry = weighed_of(whole.entry.facts), whole.entry
    return pages.CureKept(
        grams=_grams(found) if found is not None else (),
        warning=_warning(weights, found),
        reckon=_reckon(whole, anew=found is not None),
        weights=_weights(weights, imperial, today),
        picture=weight_picture(weights, today, _words(weights, imperial, today))
        if len(weights.weighed) > 1
        else NO_LINE,
        said=_said(weights, imperial, today),
        all_the_same=() if entry.struck else tuple(_undated(whole, imperial, today)),
    )


def _warning(weights: Weights, found: Weighed | None) -> str:
    if weights.too_much_used:
        return USED_TOO_MUCH.format(figure(weights.used_ppm or 0, 0))
    return TOO_MUCH if found is not None and found.too_much else ""


def without_grams(facts: tuple[Pair, ...], sheet: Sheet | None) -> tuple[Pair, ...]:
    """An entry's facts without those that stand under the cure, where ounces would be too coarse."""
    named = ("cure_g", "salt_g", "sugar_g")
    labels = {told.label(sheet.facts[name]) for name in named if sheet is not None and name in sheet.facts}
    return tuple(pair for pair in facts if pair.name not in labels)


def weighed_out(step: Step, sheet: Sheet, facts: Mapping[str, Value]) -> tuple[Pair, ...]:
    """The grams that a job of curing takes, where they were reckoned; where they were not, nothing."""
    if sheet.kind != "cure" or step.id not in CURED_AT:
        return ()
    found = weighed_of(facts)
    if found is None:
        return ()
    halves = any(one.id == "rerub" for one in sheet.steps)
    return _grams(found, ", half of it today" if halves else "")


def _grams(found: Weighed, tail: str = "") -> tuple[Pair, ...]:
    return (
        Pair(f"curing salt of {figure(found.nitrite_percent)}{SP}%", f"{found.cure_g:.2f}{SP}g{tail}"),
        Pair("plain salt", f"{found.salt_g:.2f}{SP}g{tail}"),
        Pair("sugar", f"{found.sugar_g:.2f}{SP}g{tail}"),
        Pair(
            "that is", f"{figure(found.ppm, 0)}{SP}ppm of nitrite and {figure(found.salt_percent, 1)}{SP}% salt in all"
        ),
    )


def _reckon(whole: Whole, *, anew: bool) -> Link | None:
    entry = whole.entry
    started = any(task.done is not None and task.step in CURED_AT for task in whole.laid.tasks)
    if entry.struck or (anew and started):
        return None
    return _link(entry.id, entry.sheet, "Reckon it anew" if anew else _RECKON)


def reckon_first(step: Step | None, sheet: Sheet | None, facts: Mapping[str, Value], entry: str) -> tuple[Link, ...]:
    """On a job of curing whose grams were never reckoned: the way to do so."""
    if (
        step is None
        or sheet is None
        or step.id not in CURED_AT
        or sheet.kind != "cure"
        or weighed_of(facts) is not None
    ):
        return ()
    found = _link(entry, sheet.id, _RECKON)
    return (found,) if found is not None else ()


def _link(entry: str, sheet: str, text: str) -> Link | None:
    return Link(text, f"/meat/cure?entry={quote(entry, safe='')}") if way_of(sheet)[0] else None


def _in(value: float, imperial: bool) -> str:
    return told.answer(fields.in_units([Ask("", "kg")], imperial)[0], round(value, 3))


def _on(on: Day, today: Day) -> str:
    return day(date.fromordinal(on), date.fromordinal(today))


def _weights(weights: Weights, imperial: bool, today: Day) -> tuple[Pair, ...]:
    return tuple(
        Pair(
            _on(one.on, today),
            f"{_in(one.kg, imperial)}"
            + (f", {figure(abs(one.loss_percent), 1)}{SP}% {'lost' if one.loss_percent > 0 else 'gained'}"
               if abs(one.loss_percent) >= 0.05 else ", green"),
        )
        for one in weights.weighed
    )  # fmt: skip


def _said(weights: Weights, imperial: bool, today: Day) -> tuple[str, ...]:
    return tuple(text for text in (_dried(weights, imperial, today), _salted(weights), _smoked(weights)) if text)


def _dried(weights: Weights, imperial: bool, today: Day) -> str:
    if weights.target_kg is None or weights.loss_percent is None:
        return ""
    wanted = f"{figure(weights.loss_percent)}{SP}% lighter is {_in(weights.target_kg, imperial)}"
    if weights.reached is not None:
        return f"{wanted}: it was there on {_on(weights.reached, today)}."
    if weights.expected is not None:
        why = f" Reckoned from {weights.why}." if weights.why else " Each weighing puts that day right."
        return f"{wanted}, about {_on(weights.expected, today)}.{why}"
    return f"{wanted}. {weights.why}".strip()


def _salted(weights: Weights) -> str:
    salt = weights.salt_percent
    return f"Its salt comes to {figure(salt, 1)}{SP}% by then, if nothing dripped." if salt is not None else ""


def _smoked(weights: Weights) -> str:
    owed = weights.smoke_owed_h
    if owed is None:
        return ""
    return (
        f"Of the usual 24 hours of smoke, {figure(owed)} are still to come."
        if owed
        else "It has its 24 hours of smoke."
    )


def _words(weights: Weights, imperial: bool, today: Day) -> str:
    points = "; ".join(f"{_on(one.on, today)} {_in(one.kg, imperial)}" for one in weights.weighed)
    return f"Weight by day: {points}. {' '.join(_said(weights, imperial, today))}".strip()


def _undated(whole: Whole, imperial: bool, today: Day) -> list[tuple[str, Form]]:
    """A way to say that a job was done that no rule gives a day: what happened is taken down all the same."""
    found = []
    dated = {task.step for task in whole.laid.tasks}
    for step in whole.sheet.steps if whole.sheet is not None else ():
        if step.id in dated or all(lack.step != step.id or not lack.reason for lack in whole.laid.lacks):
            continue
        key = f"{whole.entry.id}.{step.id}" + (".1" if step.again is not None else "")
        on = date.fromordinal(today).isoformat()
        asks = fields.in_units((ask._replace(optional=True) for ask in step.asks if ask.name == "kg"), imperial)
        boxes = (
            Field("on", "Done on", "date", on, required=True, high=on, id=f"on-{step.id}"),
            *(replace(fields.field(ask, prefix=_PREFIX), id=f"kg-{step.id}") for ask in asks),
        )
        hidden = (Pair("key", key), *fresh())
        found.append((step.title, Form("/tick", "It was done", boxes, hidden, quiet=True)))
    return found
