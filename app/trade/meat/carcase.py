"""A carcase to its cuts: killing-out, what is packed of it, and the usual cut list by kind."""

from typing import Literal, NamedTuple

from app.errors import OutOfRange

Beast = Literal["pig", "lamb", "beef"]
BEASTS: tuple[Beast, ...] = ("pig", "lamb", "beef")


class Yield(NamedTuple):
    """Per cent, low and high: ``dressing`` is carcase of live weight, ``packed`` what is packed of the carcase."""

    dressing: tuple[float, float]
    packed: tuple[float, float]
    source: str


YIELDS: dict[Beast, Yield] = {
    "pig": Yield((70, 75), (76, 80), "University of Wisconsin Extension; University of Kentucky with the NPPC"),
    "lamb": Yield((44, 56), (65, 75), "University of Wisconsin Extension, by Ohio State University, 2023; bone in"),
    "beef": Yield((50, 64), (60, 65), "from memory: yield sheets of university extensions; mixed, bone in"),
}


class Cut(NamedTuple):
    """A cut: ``percent`` of the carcase; ``portion`` names its group in `PORTION_G`; ``keeps`` its row of `KEEPING`."""

    what: str
    percent: float
    portion: str
    keeps: str


CUTS: dict[Beast, tuple[Cut, ...]] = {
    "pig": (
        Cut("leg", 24, "on the bone", "pork joint"),
        Cut("belly", 19, "boneless", "pork joint"),
        Cut("loin", 18, "on the bone", "pork chop"),
        Cut("hand", 9, "boneless", "pork joint"),
        Cut("shoulder", 8, "boneless", "pork joint"),
        Cut("head, feet, fat, bone and trimmings", 22, "mince", "raw sausage"),
    ),
    "lamb": (
        Cut("legs", 32, "on the bone", "beef or lamb joint"),
        Cut("loin", 13, "on the bone", "lamb chop"),
        Cut("rack", 11, "on the bone", "lamb chop"),
        Cut("shoulders", 23, "on the bone", "beef or lamb joint"),
        Cut("breast, shank and neck", 21, "stew", "stewing meat"),
    ),
    "beef": (
        Cut("chuck and blade", 26, "stew", "stewing meat"),
        Cut("rib", 10, "on the bone", "beef or lamb joint"),
        Cut("loin and rump", 17, "boneless", "chops, steaks and joints"),
        Cut("round", 22, "boneless", "beef or lamb joint"),
        Cut("brisket, shin, flank and trimmings", 25, "mince", "mince"),
    ),
}
"""Per cent of the carcase. Source: pig: a 184 lb carcase, University of Kentucky with the NPPC. Lamb: the handbook of
the National Live Stock and Meat Board. Beef: from memory, rounded; put it right after the first one."""


def carcase_kg(live_kg: float, dressing_percent: float) -> float:
    """Carcase of a live weight: ``live * dressing / 100``.

    Valid: more than 0 kg, 30 to 85 %. Source: `YIELDS`. Raises: OutOfRange beyond that.
    """
    return _share(live_kg, dressing_percent, 30, 85)


def packed_kg(carcase: float, packed_percent: float) -> float:
    """What is packed of a carcase: ``carcase * packed / 100``.

    Valid: more than 0 kg, 30 to 95 %. Source: `YIELDS`. Raises: OutOfRange beyond that.
    """
    return _share(carcase, packed_percent, 30, 95)


def cut_list(beast: Beast, kg: float) -> tuple[tuple[Cut, float], ...]:
    """The usual cuts of a carcase, or of a side of it, with their kilos.

    Valid: more than 0, up to 600 kg. Source: `CUTS`. Raises: OutOfRange beyond that.
    """
    if not 0 < kg <= 600:
        raise OutOfRange("A weight", kg, "more than 0, up to 600 kg")
    return tuple((cut, kg * cut.percent / 100) for cut in CUTS[beast])


def _share(kg: float, percent: float, low: float, high: float) -> float:
    if kg <= 0:
        raise OutOfRange("A weight", kg, "more than 0 kg")
    if not low <= percent <= high:
        raise OutOfRange("A yield of per cent", percent, f"{low:g} to {high:g} %")
    return kg * percent / 100
