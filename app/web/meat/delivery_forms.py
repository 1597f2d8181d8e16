"""What is asked about a delivery, and read back."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple, cast

from app.rules.terms import Ask
from app.services.meat.delivery import Asked, Cut, cuts_of
from app.services.meat.delivery_house import House
from app.services.meat.delivery_lines import (
    CARCASES,
    KINDS,
    WAYS,
    CutLine,
    Kind,
    Way,
    offered,
    read_lines,
    slug,
    written,
)
from app.web.fields import field, in_units
from app.web.forms import Wrong, fresh_id
from app.web.larder.forms import KILLED
from app.web.parts import Choice, Field, Form, Pair
from app.web.typed import Typed
from app.web.words import counted

USUAL_LITRES = 300.0
WAY_WORDS: Mapping[Way, str] = {
    "freeze": "Freeze", "cure": "Cure", "fresh": "Eat fresh", "other": "Boil, render or throw out",
}  # fmt: skip
_WEIGHT = Ask("weight", "kg", "What it weighs, cold", low=1, high=600)
_LITRES = Ask("freezer_l", "l", "Freezer, all drawers together", default=USUAL_LITRES, low=20, high=2000)
_A_WEEK = Ask("a_week", "count", "Meals of meat a week", default=4, low=1, high=21)
_CURE_LIMITS = {"belly": (0.2, 20.0), "loin": (0.2, 20.0), "leg": (0.5, 12.0)}
"""Kilos that one entry of the cure takes, as its sheet has it."""


class Read(NamedTuple):
    """A delivery as it was typed: its name, the freezer's name, what is asked of it.

    ``faults`` are sentences about cuts that can't go into the cure as they are, beside what becomes of each.
    """

    name: str
    freezer: str
    asked: Asked
    faults: Mapping[str, str]


def delivery_form(by: str, house: House, wrong: Wrong, today: date, typed: Mapping[str, str]) -> Form:
    """A box of named cuts (``by`` "box"), or a carcase or side by its weight ("carcase")."""
    errors = wrong.errors
    meats = tuple(Choice(kind, kind.capitalize()) for kind in (CARCASES if by == "carcase" else KINDS))
    lines = Field(
        "cuts", "What came, a cut to a line" if by == "box" else "Its cuts", "lines", typed.get("cuts", ""),
        help=f"Such as “belly {'7 lb, 1.5 in' if house.imperial else '3.2 kg, 40 mm'}”: the thickness only where it is"
        " to be cured." if by == "box" else "Left empty, the usual list is offered; put the weights right afterwards.",
        error=errors.get("cuts", ""), required=by == "box",
    )  # fmt: skip
    whole = (
        _text("part", "Is it whole, or a side?", typed, errors, "side", kind="choice",
              choices=(Choice("side", "A side or half"), Choice("whole", "A whole carcase")), required=True),
        _asked(_WEIGHT, house, typed, errors),
    )  # fmt: skip
    usual = "pork" if by == "carcase" else "mixed"
    fields = (
        _text("date", "Comes on", typed, errors, today.isoformat(), kind="date", required=True),
        _text("of", "Meat", typed, errors, usual, kind="list", choices=meats, required=True),
        *(whole if by == "carcase" else ()),
        lines,
        _text("killed", "How it was killed", typed, errors, "bought", kind="choice", required=True,
              choices=tuple(Choice(kind, text) for kind, text in KILLED.items()), help="It goes with every batch."),
        _freezer(house, typed, errors),
        _asked(_A_WEEK, house, typed, errors),
        _text("name", "What you call it", typed, errors, help="Left empty, it is named by its meat."),
    )  # fmt: skip
    ident = typed.get("id", "") or fresh_id()
    ways = [Pair(key, value) for key, value in typed.items() if key.startswith("way-")] if errors else []
    return Form("/meat/delivery", "Show first", fields, (Pair("by", by), Pair("id", ident), *ways))


def read_delivery(form: Typed, house: House) -> Read:
    """A delivery as it was typed.

    Raises: BadInput with a sentence per field.
    """
    by = "carcase" if form.raw("by") == "carcase" else "box"
    on = form.day("date", "On which day does it come?")
    of = cast(Kind, form.choice("of", CARCASES if by == "carcase" else KINDS, "What meat is it?") or "mixed")
    killed = form.choice("killed", KILLED, "How was it killed? It goes with every batch.")
    weight = _weight(form, house) if by == "carcase" else None
    freezer, litres, free = _read_freezer(form, house)
    a_week = form.asked((_A_WEEK,)).get("a_week", _A_WEEK.default)
    name = form.text("name", longest=80)
    lines = _lines(form, by, of, weight)
    ways = _ways(form, lines)
    asked = Asked(
        on or 0, of, killed, lines, ways, litres, free, house.mouths, float(cast(int, a_week)), weight
    )  # fmt: skip
    form.check()
    return Read(name or named(asked, form.raw("part") == "side"), freezer, asked, _cure_faults(cuts_of(asked)))


def named(asked: Asked, side: bool) -> str:
    """What a delivery is called of which nobody said."""
    meat = "meat" if asked.of == "mixed" else asked.of
    return f"{'Box' if asked.carcase_kg is None else 'Side' if side else 'Carcase'} of {meat}"


def way_fields(cuts: Sequence[Cut], errors: Mapping[str, str], told: Mapping[str, str]) -> tuple[Field, ...]:
    """What becomes of each cut, to be put right; ``told`` is what each makes, in words, by its name."""
    return tuple(
        Field(
            f"way-{slug(cut.line.name)}", told[cut.line.name], "list", cut.way, error=errors.get(
                f"way-{slug(cut.line.name)}", ""),
            choices=tuple(Choice(way, WAY_WORDS[way]) for way in WAYS if way != "cure" or cut.cure),
            required=True, id=f"way-{slug(cut.line.name)}",
        )
        for cut in cuts
    )  # fmt: skip


def _lines(form: Typed, by: str, of: Kind, weight: float | None) -> tuple[CutLine, ...]:
    if by == "carcase" and not form.raw("cuts"):
        lines = offered(of, weight) if weight is not None else ()
        form.values["cuts"] = written(lines, "\n")
        return lines
    lines, faults = read_lines(form.raw("cuts"))
    if faults:
        more = f" And {counted(len(faults) - 3, 'line')} more." if len(faults) > 3 else ""
        form.fault("cuts", " ".join(faults[:3]) + more)
    return lines


def _ways(form: Typed, lines: Sequence[CutLine]) -> dict[str, Way]:
    """What was chosen in the lists that stand under the form once it was shown."""
    found: dict[str, Way] = {}
    for line in lines:
        said = form.raw(f"way-{slug(line.name)}")
        if said in WAYS:
            found[line.name] = said
    return found


def _cure_faults(cuts: Sequence[Cut]) -> dict[str, str]:
    kilos: dict[str, float] = {}
    found: dict[str, str] = {}
    for cut in (cut for cut in cuts if cut.way == "cure"):
        where, line = f"way-{slug(cut.line.name)}", cut.line
        kilos[cut.cure] = kilos.get(cut.cure, 0.0) + line.kg
        low, high = _CURE_LIMITS.get(cut.cure, (0.0, 1e9))
        if not cut.cure:
            found[where] = f"No cure is reckoned here for {line.name}: freeze it, or eat it fresh."
        elif cut.cure != "leg" and line.mm is None:
            such = f"{line.name} {line.kg:g} kg, 40 mm"
            found[where] = f"Its days in the cure hang on how thick it is: say it in its line above, such as “{such}”."
        elif not low <= kilos[cut.cure] <= high:
            found[where] = f"One cure takes {low:g} to {high:g} kg of {cut.cure}: freeze the rest."
    return found


def _weight(form: Typed, house: House) -> float | None:
    form.choice("part", ("side", "whole"), "Is it whole, or a side?")
    value = form.asked(in_units((_WEIGHT,), house.imperial)).get("weight")
    return float(value) if isinstance(value, int | float) else None


def _read_freezer(form: Typed, house: House) -> tuple[str, float, float]:
    """The freezer's name, its litres, and those of them that are free."""
    if not house.freezers:
        value = form.asked((_LITRES,)).get("freezer_l", USUAL_LITRES)
        litres = float(value) if isinstance(value, int | float) else USUAL_LITRES
        return "", litres, max(0.0, litres - house.free.get("", 0.0))
    known = {row.name: row for row in house.freezers}
    name = form.choice("freezer", known, "Which freezer does it go into?") or house.freezers[0].name
    litres = min(2000.0, known[name].litres)
    return name, litres, house.free.get(name, litres)


def _freezer(house: House, typed: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    if not house.freezers:
        return field(_LITRES, typed.get("freezer_l"), errors.get("freezer_l", ""))
    choices = tuple(Choice(row.name, f"{row.name.capitalize()}, {row.litres:g} litres") for row in house.freezers)
    return _text("freezer", "Goes into", typed, errors, house.freezers[0].name, kind="choice", choices=choices,
                 required=True)  # fmt: skip


def _asked(ask: Ask, house: House, typed: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    (asked,) = in_units((ask,), house.imperial)
    return field(asked, typed.get(ask.name), errors.get(ask.name, ""))


def _text(
    name: str, label: str, typed: Mapping[str, str], errors: Mapping[str, str], value: str = "", *, kind: str = "text",
    choices: tuple[Choice, ...] = (), required: bool = False, help: str = "", high: str = "",
) -> Field:  # fmt: skip
    return Field(
        name, label, kind, typed.get(name, value), choices=choices, required=required, help=help, high=high,
        error=errors.get(name, ""),
    )  # fmt: skip
