"""What is asked about a piece in the freezer, or one on its way in, and read back."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import get_args

from app.rules.terms import Ask
from app.services.larder.larder import BatchRow
from app.services.meat.thawing import KINDS, RULE_OF, Freezer, Freezing, Meal, Rule, Shape, freeze, kind_named
from app.web.fields import field, in_units, told
from app.web.forms import fresh
from app.web.larder.units import much
from app.web.parts import Choice, Field, Form, Pair
from app.web.typed import Typed
from app.web.words import short

KG = Ask("kg", "kg", "Weight", low=0.05, high=30)
THICKNESS = Ask("thickness_mm", "mm", "Thickness, or diameter of what is round", low=5, high=300)
FRIDGE_DAYS = Ask(
    "fridge_days", "count", "Days it lay in the fridge before it was frozen", low=0, high=60, optional=True
)
RULES = {"uk": "United Kingdom and Ireland", "us": "United States"}
SHAPES: tuple[Shape, ...] = get_args(Shape)
FREEZERS: tuple[Freezer, ...] = get_args(Freezer)
_FREEZER = {"still air": "Still air (chest, or an upright that is defrosted)", "fan": "Fan (frost-free)"}
_SHAPE = {"flat pack": "Flat pack or slab", "roll": "Roll or leg", "ball": "Ball, or a whole bird"}


def with_batch(
    typed: Mapping[str, str], batch: BatchRow | None, imperial: bool, fridge_days: int | None = None
) -> dict[str, str]:
    """What was typed, with weight, kind and days in the fridge from the batch where they were not."""
    found = dict(typed)
    if batch is not None:
        kg = batch.pack_kg if batch.unit == "packs" else batch.left if batch.unit == "kg" else None
        if not found.get("kg") and kg:
            found["kg"] = told(in_units([KG], imperial)[0], kg)
        if not found.get("kind"):
            found["kind"] = kind_named(batch.what)
        if not found.get("fridge_days") and fridge_days is not None:
            found["fridge_days"] = str(fridge_days)
    return found


def thaw_form(
    typed: Mapping[str, str], errors: Mapping[str, str], batches: Sequence[BatchRow], nation: str, imperial: bool,
    today: date,
) -> Form:  # fmt: skip
    """What comes out, and for when."""
    kinds = tuple(Choice(name, name.capitalize()) for name in KINDS)
    lies = tuple(Choice(row.id, _batch(row, imperial)) for row in batches)
    fields = [
        Field("batch", "From the larder", "list", typed.get("batch", ""), choices=lies, error=errors.get("batch", ""),
              help="Its weight (of packs, one), kind and days in the fridge are taken over where you leave them out."),
        Field("kind", "What it is", "list", typed.get("kind", ""), choices=kinds, required=True,
              error=errors.get("kind", "")),
        field(in_units([KG], imperial)[0], typed.get("kg", ""), errors.get("kg", "")),
        Field("day", "To be eaten on", "date", typed.get("day", ""), required=True, error=errors.get("day", ""),
              low=today.isoformat()),
        field(FRIDGE_DAYS, typed.get("fridge_days", ""), errors.get("fridge_days", "")),
    ]  # fmt: skip
    if nation not in RULE_OF:
        choices = tuple(Choice(name, text) for name, text in RULES.items())
        fields.append(Field("rule", "Whose rules", "choice", typed.get("rule", "uk"), choices=choices,
                            error=errors.get("rule", ""), help="The two differ, and are never mixed."))  # fmt: skip
    asked = fields if batches or errors.get("batch") else fields[1:]
    return Form("/meat/thaw", "Reckon it", tuple(asked), method="get")


def read_thaw(form: Typed, batches: Sequence[BatchRow], nation: str, imperial: bool) -> Meal:
    """A meal as it was typed.

    Raises: BadInput with a sentence per field.
    """
    ident = form.choice("batch", [row.id for row in batches])
    batch = next((row for row in batches if row.id == ident), None)
    kind = form.choice("kind", KINDS, "What is it? Its days differ.")
    asked = form.asked(in_units([KG, FRIDGE_DAYS], imperial))
    day = form.day("day", "For which day?")
    rule = RULE_OF.get(nation) or form.choice("rule", RULES) or "uk"
    form.check()
    which: Rule = "us" if rule == "us" else "uk"
    used = asked.get("fridge_days")
    return Meal(kind, float(asked["kg"]), day or 0, which, batch, int(used) if used is not None else None)


def put_form(typed: Mapping[str, str]) -> Form:
    """The same, to be put down."""
    sent = ("batch", "kind", "kg", "day", "fridge_days", "rule")
    hidden = tuple(Pair(name, typed[name]) for name in sent if typed.get(name))
    return Form("/meat/thaw", "Put it down", hidden=(*hidden, *fresh()),
                note="Its jobs stand on the month and in the calendar from then on.")  # fmt: skip


def freezing_form(typed: Mapping[str, str], errors: Mapping[str, str], imperial: bool) -> Form:
    """How long a piece takes to freeze."""
    fields = (
        field(in_units([THICKNESS], imperial)[0], typed.get("thickness_mm", ""), errors.get("thickness_mm", "")),
        Field("shape", "Shape", "choice", typed.get("shape", "flat pack"), required=True,
              choices=tuple(Choice(one, _SHAPE[one]) for one in SHAPES), error=errors.get("shape", "")),
        Field("freezer", "Freezer", "choice", typed.get("freezer", "still air"), required=True,
              choices=tuple(Choice(one, _FREEZER[one]) for one in FREEZERS), error=errors.get("freezer", "")),
    )  # fmt: skip
    return Form("/meat/thaw#freezing-h", "Reckon it", fields, method="get", quiet=True)


def read_freezing(form: Typed, imperial: bool) -> Freezing:
    """A piece on its way into the freezer.

    Raises: BadInput with a sentence per field.
    """
    asked = form.asked(in_units([THICKNESS], imperial))
    shape, freezer = form.choice("shape", SHAPES) or SHAPES[0], form.choice("freezer", FREEZERS) or FREEZERS[0]
    form.check()
    which = next(one for one in SHAPES if one == shape)
    return freeze(float(asked["thickness_mm"]), which, next(one for one in FREEZERS if one == freezer))


def _batch(row: BatchRow, imperial: bool) -> str:
    left = f", {much(row.left, row.unit, imperial)}" if row.left is not None else ""
    return f"{row.number} {row.what}{left}, of {short(date.fromordinal(row.made_on))}"
