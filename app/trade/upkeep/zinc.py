"""How long zinc lasts on steel: its thickness over the speed at which the place eats it."""

from typing import Literal, NamedTuple

from app.errors import OutOfRange

ZINC_G_CM3 = 7.14
Air = Literal["C1", "C2", "C3", "C4", "C5"]


class ZincLife(NamedTuple):
    """Years to the first upkeep: the fewest and the most."""

    low_years: float
    high_years: float


def dipped_um(steel_mm: float) -> float:
    """Mean zinc (micrometres) of hot-dipped steel by its thickness: 45, 55, 70, 85.

    Source: from memory, ISO 1461, table 3.
    Raises: OutOfRange for a thickness outside 0.3 to 200 mm.
    """
    if not 0.3 <= steel_mm <= 200:
        raise OutOfRange("A thickness of steel", steel_mm, "0.3 to 200 mm")
    return (45.0, 55.0, 70.0, 85.0)[sum(steel_mm >= end for end in (1.5, 3.0, 6.0))]


def sheet_um(grams_m2: float, faces: int = 2) -> float:
    """Zinc (micrometres) on one face of a sheet sold by the grams on a square metre of both faces (Z275), or of wire.

    ``faces`` is 2 for a sheet and 1 for wire, whose surface is counted once.
    Source: geometry, zinc of 7.14 g/cm³.
    Raises: OutOfRange for no zinc, or neither one face nor two.
    """
    if not 5 <= grams_m2 <= 2000 or faces not in (1, 2):
        raise OutOfRange("Zinc on a square metre", grams_m2, "5 to 2000 g, on one face or two")
    return grams_m2 / faces / ZINC_G_CM3


def zinc_life(thickness_um: float, low_um_a_year: float, high_um_a_year: float) -> ZincLife:
    """Years that zinc lasts where the air takes ``low_um_a_year`` to ``high_um_a_year``: t / r, at both ends.

    Source: ISO 1461:2009, annex E, life in proportion to thickness; the speeds stand in upkeep-tables.toml.
    Raises: OutOfRange for a thickness or speeds that are not above 0.
    """
    if not 0 < thickness_um <= 1000:
        raise OutOfRange("A thickness of zinc", thickness_um, "above 0 and up to 1000 micrometres")
    if not 0 < low_um_a_year <= high_um_a_year:
        raise OutOfRange("A speed of wear", low_um_a_year, "above 0, and no more than the high one")
    return ZincLife(thickness_um / high_um_a_year, thickness_um / low_um_a_year)
