"""Which ways of curing there are: the sheet that each follows by its cut, and the product that the law sees in it."""

from collections.abc import Mapping
from typing import NamedTuple

from app.errors import BadInput
from app.trade.meat.nitrite_law import Product

CURED_AT = ("rub", "rerub", "brine")
"""Steps of a sheet at which the cure goes on."""
CUTS = ("belly", "loin", "shoulder", "jowl", "leg")


class Way(NamedTuple):
    """A way of curing: ``sheets`` by cut, further ``facts`` of the entry; ``brine`` where water goes in too."""

    title: str
    product: Product
    sheets: Mapping[str, str]
    brine: bool = False
    smoked: bool = True


_BACON = {"belly": "streaky-bacon", "loin": "back-bacon", "shoulder": "bacon", "jowl": "bacon"}
_BRINED = {"belly": "bacon-in-brine", "loin": "bacon-in-brine"}
_BOILED = {"leg": "ham-in-brine", "shoulder": "ham-in-brine"}
WAYS: Mapping[str, Way] = {
    "smoked": Way("Bacon, cold-smoked", "dry-cured bacon", _BACON),
    "green": Way("Bacon, unsmoked", "dry-cured bacon", _BACON, smoked=False),
    "fridge": Way("Air-dried in the curing fridge", "dry-cured bacon",
                  {"belly": "belly-air-dried", "jowl": "jowl-air-dried"}),
    "larder": Way("Air-dried in a cold larder", "dry-cured bacon", {"belly": "belly-in-the-larder"}),
    "ham": Way("Ham on the bone, in dry salt, hung in the cold", "dry-cured ham", {"leg": "ham-dry-cured"}),
    "ham-fridge": Way("Ham on the bone, hung in the curing fridge", "dry-cured ham", {"leg": "ham-in-the-fridge"}),
    "brined": Way("Bacon in brine, then smoked", "brined bacon", _BRINED, brine=True),
    "boiled": Way("Ham in brine, boiled", "brined ham", _BOILED, brine=True),
}  # fmt: skip
"""The law of a country may know finer kinds; a dried belly or jowl counts as bacon here, which is the stricter."""


def sheet_for(way: str, cut: str) -> str:
    """The sheet that a cut cured so follows.

    Raises: BadInput where none is known: it says what the cut is cured as.
    """
    found = WAYS[way].sheets.get(cut)
    if found is not None:
        return found
    others = [one.title for one in WAYS.values() if cut in one.sheets]
    advice = f"A {cut} is cured as: {'; '.join(others)}." if others else "Freeze it."
    raise BadInput({"way": f"No rule is known here for a {cut} cured so. {advice}"})


def stays(sheet: str, way: str, cut: str) -> None:
    """See to it that an entry that is put down is reckoned as what it is: its dates come of its own sheet.

    Raises: BadInput where the way or the cut is of another sheet, with what to do.
    """
    found = WAYS[way]
    if sheet == found.sheets.get(cut) or (sheet == "bacon" and found.sheets is _BACON):
        return
    own = way_of(sheet, cut)[0]
    known = f"It is put down as: {WAYS[own].title}. " if own and own != way else ""
    raise BadInput({"way": f"{known}To cure it another way, strike it out and reckon a new one."})


def way_of(sheet: str, cut: str = "", *, smoked: bool = True) -> tuple[str, str]:
    """The way and the cut of an entry by its sheet, for the form; "" where it is none of these."""
    for name, way in WAYS.items():
        cuts = [one for one, its in way.sheets.items() if its == sheet]
        if sheet == "bacon":
            cuts = list(way.sheets) if way.sheets is _BACON else []
        if cuts and (way.smoked == smoked or way.sheets is not _BACON):
            return name, cut if cut in cuts else cuts[0]
    return "", ""
