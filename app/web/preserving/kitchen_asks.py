"""What the kitchen's sums ask, each sum by its own prefix, and how it is read."""

from collections.abc import Mapping
from typing import NamedTuple

from app.rules.terms import Ask, Value
from app.services.preserving.kitchen_sums import blanching, honey_kinds, raw_stores
from app.web import fields
from app.web.parts import Form, Pair
from app.web.typed import Typed

SUMS = ("jam", "vinegar", "chutney", "crock", "blanch", "store", "honey")
"""In the order in which they stand on the page."""
BUTTON = "Reckon it"


class Place(NamedTuple):
    """What the holding itself answers until something else is typed."""

    altitude_m: float
    freezer_l: float | None


def asks(which: str, place: Place) -> tuple[Ask, ...]:
    """The questions of one sum, in metric; each has a usual answer, so that a page never opens empty."""
    height = Ask("altitude", "m", "Height above the sea", default=place.altitude_m, low=-10, high=3000)
    return {
        "jam": (
            Ask("fruit", "kg", "Fruit, or juice for jelly", default=1.0, low=0.05, high=100),
            Ask("sugar", "kg", "Sugar", default=1.0, low=0.05, high=100),
            Ask("water", "kg", "Water added", default=0.0, low=0, high=100),
            Ask("solids", "%", "Sugar of the fruit itself, by the refractometer", default=10.0, low=1, high=40),
            Ask("final", "%", "Sugar in the jam", default=65.0, low=1, high=90),
            Ask("jar", "ml", "Size of the jars", default=350, low=20, high=2000),
            height,
            Ask("boils", "c", "Water boils in the pan today at", low=50, high=120, optional=True),
        ),
        "vinegar": (
            Ask("vinegar", "ml", "Vinegar", default=1000, low=1, high=100_000),
            Ask("percent", "%", "Acid on its label", default=5.0, low=0, high=100),
            Ask("water", "ml", "Water added", default=0, low=0, high=100_000),
        ),
        "chutney": (Ask("produce", "l", "Fruit and vegetables, chopped, by the jug", default=3.0, low=0, high=1000),),
        "crock": (
            Ask("vegetables", "kg", "Vegetables, trimmed", default=2.0, low=0, high=500),
            Ask("brine", "l", "Water poured on", default=0.0, low=0, high=500),
            Ask("salt", "%", "Salt, of all that is in the crock", default=2.4, low=0, high=100),
            Ask("room", "c", "Warmth of the room", default=18.0, low=-10, high=50),
        ),
        "blanch": (
            Ask("crop", "choice", "Which", choices=tuple(sorted(blanching())), default="green beans"),
            Ask("kg", "kg", "Trimmed", default=2.0, low=0.05, high=500),
            height,
            Ask("freezer", "l", "Size of the freezer", default=place.freezer_l, low=1, high=5000, optional=True),
        ),
        "store": (
            Ask("crop", "choice", "Which", choices=tuple(sorted(raw_stores())), default="carrots"),
            Ask("store", "c", "Warmth of the store", default=5.0, low=-20, high=40),
            Ask("kg", "kg", "Weight", low=0.1, high=5000, optional=True),
        ),
        "honey": (
            Ask("index", "", "Refractive index at 20 °C", default=1.4915),
            Ask("kind", "choice", "Of", choices=honey_kinds(), default="blossom"),
        ),
    }[which]  # fmt: skip


def read(which: str, form: Typed, place: Place, imperial: bool) -> dict[str, Value]:
    """The answers to one sum, its usual ones where nothing was typed.

    Raises: BadInput with a sentence per field, named with the sum's prefix.
    """
    asked = asks(which, place)
    prefix = f"{which}-"
    got = form.asked(fields.in_units(asked, imperial), prefix=prefix)
    form.check()
    usual = {ask.name: ask.default for ask in asked if ask.default is not None}
    return {**usual, **got}


def form_of(which: str, typed: Mapping[str, str], errors: Mapping[str, str], place: Place, imperial: bool) -> Form:
    """The sum's small form: what was typed is kept."""
    prefix = f"{which}-"
    shown = tuple(
        fields.field(ask, typed.get(prefix + ask.name), errors.get(prefix + ask.name, ""), prefix=prefix)
        for ask in fields.in_units(asks(which, place), imperial)
    )
    return Form(f"/preserving/sums#{which}", BUTTON, shown, (Pair("sum", which),), method="get")
