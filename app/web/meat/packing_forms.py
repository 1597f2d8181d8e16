"""What is asked of a delivery as it is packed, cut by cut, and read back."""

from collections.abc import Sequence
from datetime import date

from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.meat.delivery import Cut
from app.services.meat.delivery_house import place_of
from app.services.meat.delivery_lines import slug
from app.services.meat.delivery_put import FRIDGE, MOST_PACKS, Packed, Packing
from app.web.fields import field, in_units
from app.web.forms import Wrong
from app.web.parts import Choice, Field
from app.web.typed import Typed

_KG = Ask("kg", "kg", "Weight", low=0.02, high=600)
_PACKS = Ask("packs", "count", "Packs", low=1, high=MOST_PACKS)


def read_packed(form: Typed, found: Packing, imperial: bool) -> tuple[list[Packed], Day | None]:
    """The cuts that were ticked as packed, and the day.

    Raises: BadInput with a sentence per field.
    """
    on = form.day("on", "On which day were they packed?")
    place = place_of(form.text("place", longest=80) or found.freezer)
    some = []
    for cut in found.waiting:
        name = slug(cut.line.name)
        if form.raw("all") != "yes" and form.raw(f"pick-{name}") != "yes":
            continue
        asks = (*in_units([_KG._replace(name=f"kg-{name}")], imperial), _PACKS._replace(name=f"packs-{name}"))
        known = {f"kg-{name}": cut.line.kg}
        got = form.asked(asks, known=known)
        kg, packs = got.get(f"kg-{name}"), got.get(f"packs-{name}")
        if isinstance(kg, int | float) and isinstance(packs, int):
            some.append(Packed(cut.line.name, float(kg), packs, FRIDGE if cut.way == "fresh" else place))
    if not some and not form.errors:
        form.fault("", "Tick what was packed, or say that all of it was.")
    form.check()
    return some, on


def pack_fields(cut: Cut, imperial: bool, wrong: Wrong) -> tuple[Field, Field, Field]:
    """The box to tick, the weight and the packs of one cut."""
    name, (typed, errors) = slug(cut.line.name), wrong.of("pack")
    kg, packs = f"kg-{name}", f"packs-{name}"
    (ask,) = in_units([_KG._replace(name=kg, label="Weight")], imperial)
    pick = Field(f"pick-{name}", cut.line.name.capitalize(), "tick", typed.get(f"pick-{name}", ""))
    count = _PACKS._replace(name=packs, label="Packs" if cut.kind.packing != "singly" else "Pieces")
    return (
        pick,
        field(ask, typed.get(kg), errors.get(kg, ""), cut.line.kg),
        field(count, typed.get(packs), errors.get(packs, ""), cut.packs.packs),
    )


def place_fields(found: Packing, freezers: Sequence[str], wrong: Wrong, today: date) -> tuple[Field, ...]:
    """The day of packing, and the freezer where there are several."""
    typed, errors = wrong.of("pack")
    on = Field("on", "Packed on", "date", typed.get("on", today.isoformat()), error=errors.get("on", ""),
               high=today.isoformat(), required=True)  # fmt: skip
    usual = found.freezer if found.freezer in freezers else freezers[0] if freezers else found.freezer or "freezer"
    choices = tuple(Choice(name, name.capitalize()) for name in freezers)
    place = Field("place", "Into", "list" if freezers else "text", typed.get("place", usual),
                  error=errors.get("place", ""), choices=choices, required=bool(freezers))  # fmt: skip
    return on, place
