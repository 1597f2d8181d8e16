"""How long meat keeps, chilled and frozen: one table, the lower figure first."""

from typing import Literal, NamedTuple

from app.errors import Refused

Basis = Literal["published", "common practice"]


class Keeps(NamedTuple):
    """Days in the fridge are for safety, months in the freezer at -18 °C for flavour; low and high of each.

    ``chilled`` is None where no figure is known: then it is frozen or eaten the same day, and no date is given.
    """

    chilled: tuple[int, int] | None
    frozen: tuple[int, int] | None
    basis: Basis
    source: str


_CHART = "Cold Food Storage Chart, FoodSafety.gov and FDA"
_OLDER = "Cold storage chart, US Department of Agriculture"
_TABLES = "freezer maker's tables after the USDA"
_OWN = "common practice"

KEEPING: dict[str, Keeps] = {
    "bacon": Keeps((7, 7), (1, 1), "published", _CHART),
    "raw sausage": Keeps((1, 2), (1, 2), "published", _CHART),
    "cooked sausage": Keeps((7, 7), (1, 2), "published", _CHART),
    "dry sausage": Keeps((14, 21), (1, 2), "published", _OLDER),
    "mince": Keeps((1, 2), (3, 4), "published", _CHART),
    "stewing meat": Keeps((1, 2), (3, 4), "published", _CHART),
    "chops, steaks and joints": Keeps((3, 5), (4, 12), "published", _CHART),
    "pork joint": Keeps((3, 5), (4, 8), "published", f"{_CHART}; months: {_TABLES}"),
    "pork chop": Keeps((3, 5), (3, 4), "published", f"{_CHART}; months: {_TABLES}"),
    "lamb chop": Keeps((3, 5), (6, 9), "published", f"{_CHART}; months: {_TABLES}"),
    "beef or lamb joint": Keeps((3, 5), (6, 12), "published", f"{_CHART}; months: {_TABLES}"),
    "offal": Keeps((1, 2), (3, 4), "published", _TABLES),
    "fresh ham": Keeps((3, 5), (6, 6), "published", _CHART),
    "cured ham, raw": Keeps((5, 7), (3, 4), "published", _CHART),
    "cooked ham, whole": Keeps((7, 7), (1, 2), "published", _CHART),
    "cooked ham, cut": Keeps((3, 5), (1, 2), "published", _CHART),
    "country ham, cooked": Keeps((7, 7), (1, 1), "published", _CHART),
    "air-dried ham, cut": Keeps((60, 90), (1, 1), "published", _CHART),
    "brined beef": Keeps((5, 7), (1, 1), "published", _OLDER),
    "poultry, whole": Keeps((1, 2), (12, 12), "published", _CHART),
    "poultry, in pieces": Keeps((1, 2), (9, 9), "published", _CHART),
    "duck or goose": Keeps((1, 2), (6, 6), "published", _TABLES),
    "cooked meat": Keeps((3, 4), (2, 6), "published", _OLDER),
    "venison": Keeps(None, (8, 12), "published", "Michigan State University Extension 01600806"),
    "venison, minced or stewing": Keeps(None, (2, 3), "published", "Michigan State University Extension 01600806"),
    "game birds": Keeps(None, (6, 6), "published", "University of New Hampshire Extension"),
    "rabbit and other small game": Keeps(None, (12, 12), "published", "University of New Hampshire Extension"),
    "lard": Keeps((180, 360), (12, 12), "common practice", _OWN),
    "home-cured bacon, in the slab": Keeps((28, 42), (2, 3), "common practice", _OWN),
}
VACUUM_DAYS = 10
"""Cured, mixed or cooked meat in a vacuum pack at 3 to 8 °C: the most. Source: FSA guidance, in summary."""


def keeps(what: str) -> Keeps:
    """How long a kind of meat keeps.

    Valid: the kinds of `KEEPING`. Source: as each says. Raises: Refused for a kind that no table has.
    """
    if what not in KEEPING:
        raise Refused(f"No table says how long {what} keeps: freeze it, or ask your local food-safety authority.")
    return KEEPING[what]


def chilled_days(what: str, *, vacuum: bool = False, sliced: bool = False) -> int:
    """Days in the fridge at 5 °C or less, the lower of the range; a vacuum pack never lengthens it beyond ten.

    Sliced, home-cured bacon has seven days as bought bacon has.
    Valid: as `keeps`, kinds with a figure. Source: as there. Raises: Refused where none is known.
    """
    found = keeps(what)
    if found.chilled is None:
        raise Refused(f"No table says how long {what} keeps in the fridge: freeze it, or eat it today.")
    days = KEEPING["bacon"].chilled[0] if sliced and "bacon" in what and KEEPING["bacon"].chilled else found.chilled[0]
    return min(days, VACUUM_DAYS) if vacuum else days
