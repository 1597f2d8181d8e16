"""Mortar, render, bricks and gravel: volumes, and what goes into them by weight."""

from typing import NamedTuple

from app.errors import OutOfRange

BULKING = 1.25
CEMENT_KG_M3 = 1440.0
SAND_KG_M3 = 1600.0
BRICK_M = (0.215, 0.1025, 0.065)
JOINT_M = 0.010
GRAVEL_KG_M3 = 1600.0


class Mix(NamedTuple):
    """Wet mortar (m³), and what goes into it (kg): binder and sand."""

    wet_m3: float
    binder_kg: float
    sand_kg: float


def mortar(
    area_m2: float, m3_a_m2: float, parts_sand: float, waste_percent: float = 15.0, binder_kg_m3: float = CEMENT_KG_M3
) -> Mix:
    """Mortar or render for an area, one part of binder to ``parts_sand`` of sand by volume.

    V = area x volume a square metre x (1 + waste); V x 1.25 of dry stuff, shared by the parts; 1440 kg/m³ of cement
    (some 600 of hydraulic lime), 1600 of sand.
    Source: a builder's calculator page (buildcalculators.co.uk) for bulking, waste and the method.
    Raises: OutOfRange for figures that make no sense.
    """
    if not 0 <= area_m2 <= 10_000 or not 0 < m3_a_m2 <= 1:
        raise OutOfRange("An area", area_m2, "0 to 10000 m², with a volume a square metre above 0")
    if not 0.5 <= parts_sand <= 12 or not 0 <= waste_percent <= 100 or not 100 <= binder_kg_m3 <= 2000:
        raise OutOfRange("Parts of sand", parts_sand, "0.5 to 12, with waste of 0 to 100 %")
    wet = area_m2 * m3_a_m2 * (1 + waste_percent / 100)
    part = wet * BULKING / (1 + parts_sand)
    return Mix(wet, part * binder_kg_m3, part * parts_sand * SAND_KG_M3)


def binder_share(parts_sand: float) -> float:
    """The share of binder in a mix of 1 to ``parts_sand``, by volume.

    Source: arithmetic.
    """
    return 1 / (1 + parts_sand)


def bricks_a_m2(thick: int = 1) -> float:
    """Bricks of 215 x 102.5 x 65 mm in a square metre with 10 mm joints, ``thick`` half-bricks deep.

    Source: geometry: 1 / (0.225 x 0.075); trade pages round to 60 (claydons.org).
    Raises: OutOfRange for a wall that is not 1 to 4 half-bricks thick.
    """
    if not 1 <= thick <= 4:
        raise OutOfRange("A wall in half-bricks", thick, "1 to 4")
    return thick / ((BRICK_M[0] + JOINT_M) * (BRICK_M[2] + JOINT_M))


def half_brick_mortar_m3_m2() -> float:
    """Mortar (m³) in a square metre of half-brick wall with solid bricks: the wall less its bricks.

    Source: geometry; with frogs and perforations plan on 0.022 to 0.03 (common practice).
    """
    return BRICK_M[1] - bricks_a_m2() * BRICK_M[0] * BRICK_M[1] * BRICK_M[2]


def gravel_kg(area_m2: float, depth_mm: float, waste_percent: float = 10.0) -> float:
    """Gravel (kg) to cover an area so deep, at 1600 kg/m³ loose.

    Source: geometry; the density and the tenth over are common practice.
    Raises: OutOfRange for an area below 0, or a depth outside 5 to 500 mm.
    """
    if not 0 <= area_m2 <= 100_000 or not 5 <= depth_mm <= 500:
        raise OutOfRange("A depth of gravel", depth_mm, "5 to 500 mm, on 0 m² or more")
    return area_m2 * depth_mm / 1000 * GRAVEL_KG_M3 * (1 + waste_percent / 100)
