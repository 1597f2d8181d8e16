"""How much paint, limewash, treatment, mortar, gravel: litres and kilos, tins and bags, what they cost."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from app.errors import BadInput, OutOfRange
from app.services.upkeep.elements import Element
from app.services.upkeep.prices import Prices, Tin
from app.sheets.upkeep_tables import Spread, mortars, spreads
from app.trade.upkeep.mortar import CEMENT_KG_M3, gravel_kg, mortar
from app.trade.upkeep.paint_needed import Packs, litres, packs

LIMEWASH = "limewash"
GRAVEL = "gravel"
LIME_KG_M3 = 600.0
USUAL_WASTE = {"mortar": 15.0, "gravel": 10.0, "paint": 10.0}
BAGS_KG = (Tin(25.0),)
TINS_L = (Tin(10.0), Tin(5.0), Tin(2.5))
SMALL_TINS_L = (Tin(5.0), Tin(2.5), Tin(1.0))
SPREAD_OF: Mapping[str, tuple[str, int]] = {
    "masonry paint on render": ("masonry paint, smooth render", 2),
    "masonry paint on brick": ("masonry paint, smooth render", 2),
    "limewash": (LIMEWASH, 3),
    "silicate paint": ("silicate paint", 2),
    "bitumen on masonry": ("bituminous paint, brick and concrete", 2),
    "bitumen on timber": ("bituminous paint, brick and concrete", 2),
    "bitumen on a metal roof": ("bituminous paint, metal and smooth", 2),
    "paint on joinery": ("gloss or undercoat on wood", 2),
    "solid stain on wood": ("wood stain, sawn", 2),
    "semi-transparent stain on wood": ("wood stain, planed", 2),
    "clear oil or water repellent": ("wood stain, sawn", 2),
    "fence stain": ("wood stain, sawn", 2),
    "paint on steel": ("metal paint", 2),
    "paint on cast iron": ("metal paint", 2),
}
"""What covers an element of each coating, and in how many coats: common practice."""


class Asked(NamedTuple):
    """What is to be covered: a material of `materials`, m², coats, waste (%), mm deep; packs as (size, price)."""

    what: str
    area_m2: float
    coats: int = 2
    waste_percent: float | None = None
    depth_mm: float = 50.0
    lime: bool = False
    bare: bool = False
    tins: tuple[Tin, ...] = ()


class Stuff(NamedTuple):
    """One thing to buy: how much, at least and at most where the source gives a range, and in which packs."""

    name: str
    unit: str
    needed: float
    low: float
    high: float
    buy: Packs
    priced: bool


class Amount(NamedTuple):
    """The answer, and the arithmetic with its source."""

    kind: str
    things: tuple[Stuff, ...]
    why: tuple[str, ...]
    source: str


def kind_of(what: str) -> str:
    """ "paint", "mortar" or "gravel"."""
    return GRAVEL if what == GRAVEL else "mortar" if what in mortars() else "paint"


def materials() -> tuple[str, ...]:
    """All that can be reckoned."""
    return (*(one for one in spreads() if not one.startswith("limewash,")), LIMEWASH, *mortars(), GRAVEL)


def price_name(what: str) -> str:
    """Under which name a material's packs are kept: that which jobs use it up by."""
    return what.partition(",")[0]


def for_element(one: Element) -> tuple[str, float, int] | None:
    """What covers an element, its area and the coats; None where it has no coating that is known."""
    area = one.facts.get("area_m2")
    if one.coating not in SPREAD_OF or not isinstance(area, int | float):
        return None
    what, coats = SPREAD_OF[one.coating]
    return what, float(area), coats


def reckon(asked: Asked, known: Prices) -> Amount:
    """How much of it, and what to buy.

    Source: the rows of upkeep-tables.toml and the functions named there.
    Raises: BadInput with a sentence per field.
    """
    waste = USUAL_WASTE[kind_of(asked.what)] if asked.waste_percent is None else asked.waste_percent
    try:
        match kind_of(asked.what):
            case "gravel":
                return _gravel(asked, waste, known)
            case "mortar":
                return _mortar(asked, waste, known)
            case _:
                return _paint(asked, waste, known)
    except OutOfRange as error:
        text = str(error)
        field = "coats" if "coats" in text else "depth" if "depth" in text else "tins" if "packs" in text else "area"
        raise BadInput({field: text}) from error


def _paint(asked: Asked, waste: float, known: Prices) -> Amount:
    low, usual, high = (_litres(asked, waste, which) for which in (2, 1, 0))
    row = spreads()["limewash, later coats" if asked.what == LIMEWASH else asked.what]
    covers = "5 m² a litre in the first coat, 7 in the later ones" if asked.what == LIMEWASH else (
        f"{row.usual_m2_l:g} m² a litre ({row.low_m2_l:g} to {row.high_m2_l:g})"
    )  # fmt: skip
    bare = "; the first coat on bare work covers three quarters" if asked.bare else ""
    coats = f"{asked.coats} coats" if asked.coats > 1 else "one coat"
    why = (f"{asked.area_m2:g} m², {coats}, {covers}, {waste:g} % more for waste{bare}",)
    usual_tins = TINS_L if usual > 4 else SMALL_TINS_L
    return Amount("paint", (_stuff(price_name(asked.what), "l", (usual, low, high), asked, known, usual_tins),), why,
                  f"{row.source} ({row.basis})")  # fmt: skip


def _litres(asked: Asked, waste: float, which: int) -> float:
    """Litres at the low, usual or high spread (0, 1, 2)."""
    if asked.what != LIMEWASH:
        row = spreads()[asked.what]
        return litres(asked.area_m2, asked.coats, _covers(row)[which], waste, asked.bare)
    first, later = spreads()["limewash, first coat"], spreads()["limewash, later coats"]
    total = litres(asked.area_m2, 1, _covers(first)[which], waste)
    return total + (litres(asked.area_m2, asked.coats - 1, _covers(later)[which], waste) if asked.coats > 1 else 0.0)


def _covers(row: Spread) -> tuple[float, float, float]:
    return row.low_m2_l, row.usual_m2_l, row.high_m2_l


def _mortar(asked: Asked, waste: float, known: Prices) -> Amount:
    row = mortars()[asked.what]
    found = mortar(
        asked.area_m2, row.m3_m2, row.parts_sand, waste, LIME_KG_M3 if asked.lime else CEMENT_KG_M3
    )  # fmt: skip
    binder = "hydraulic lime" if asked.lime else "cement"
    things = tuple(
        _stuff(name, "kg", (kg, kg, kg), asked, known, BAGS_KG)
        for name, kg in ((binder, found.binder_kg), ("sand", found.sand_kg))
    )
    why = (
        f"{asked.area_m2:g} m² at {row.m3_m2:g} m³ a square metre and {waste:g} % more: {found.wet_m3:.3f} m³ wet",
        f"a quarter more dry, one part of {binder} to {row.parts_sand:g} of sand by volume",
    )
    return Amount("mortar", things, why, f"{row.source} ({row.basis})")


def _gravel(asked: Asked, waste: float, known: Prices) -> Amount:
    kg = gravel_kg(asked.area_m2, asked.depth_mm, waste)
    why = (f"{asked.area_m2:g} m², {asked.depth_mm:g} mm deep, 1600 kg/m³ loose, {waste:g} % more",)
    bags = (Tin(850.0), Tin(25.0))
    return Amount("gravel", (_stuff(GRAVEL, "kg", (kg, kg, kg), asked, known, bags),), why, "geometry; common practice")


def _stuff(
    name: str, unit: str, amounts: tuple[float, float, float], asked: Asked, known: Prices, usual: Sequence[Tin]
) -> Stuff:
    needed, low, high = amounts
    tins = asked.tins or known.tins(name, unit) or tuple(usual)
    buy = packs(round(needed, 3), tins)
    return Stuff(name, unit, needed, low, high, buy, all(one.price > 0 for one in tins))
