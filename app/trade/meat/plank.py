"""How long meat takes to freeze: Plank's equation for a slab, a cylinder, a ball and a brick."""

from math import log, sqrt
from typing import Literal, NamedTuple

from app.errors import OutOfRange

Shape = Literal["flat pack", "roll", "ball"]
Freezer = Literal["still air", "fan"]

_FORM: dict[Shape, tuple[float, float]] = {
    "flat pack": (1 / 2, 1 / 8), "roll": (1 / 4, 1 / 16), "ball": (1 / 6, 1 / 24)
}  # fmt: skip
_STILL, _FAN = (5.0, 8.0), (10.0, 25.0)
_DENSITY, _LATENT_J_KG, _FROZEN_W_MK, _FREEZES_C = 1050.0, 235e3, 1.4, -1.7
"""Lean meat. Source: from memory: Singh and Heldman; ASHRAE Refrigeration, thermal properties of foods."""
_BEFORE, _AFTER = (0.10, 0.15), (0.20, 0.30)
"""Shares added for cooling to the freezing point, and on to -18 °C in the middle. Source: common practice."""


class Hours(NamedTuple):
    """Hours from the quick to the slow end."""

    quick: float
    slow: float


def plank_s(
    p: float, r: float, thickness_m: float, h_w_m2k: float, k_w_mk: float, density: float, latent_j_kg: float,
    freezes_c: float, air_c: float,
) -> float:  # fmt: skip
    """Seconds of the change of phase: ``density * latent / (Tf - Ta) * (P d / h + R d² / k)``.

    ``thickness_m`` is the whole thickness or the diameter; of a brick its shortest side.
    Valid: figures above 0, air colder than the freezing point.
    Source: Encyclopaedia of Food Sciences and Nutrition, Caballero, "Freezing", equation 2.
    Raises: OutOfRange beyond that.
    """
    for name, value in (("A thickness in m", thickness_m), ("h", h_w_m2k), ("k", k_w_mk), ("A density", density)):
        if value <= 0:
            raise OutOfRange(name, value, "more than 0")
    if air_c >= freezes_c:
        raise OutOfRange("Air of °C", air_c, f"colder than {freezes_c:g} °C", "It would never freeze.")
    return density * latent_j_kg / (freezes_c - air_c) * (p * thickness_m / h_w_m2k + r * thickness_m**2 / k_w_mk)


def brick_form(long: float, wide: float) -> tuple[float, float]:
    """Plank's P and R of a brick whose sides are 1, ``wide`` and ``long`` times the shortest.

    ``P = lw / (2 (lw + l + w))``; R by Plank's formula for a brick.
    Valid: ``long >= wide >= 1``. From 1.0001 on; a cube is taken as its limit, 1/6 and 1/24.
    Source: from memory: ASHRAE Refrigeration, freezing times; Singh and Heldman.
    Raises: OutOfRange beyond that.
    """
    if not long >= wide >= 1:
        raise OutOfRange("A side", wide, "no shorter than the shortest side, and no longer than the longest")
    p = long * wide / (2 * (long * wide + long + wide))
    if long - 1 < 1e-4:
        return p, 1 / 24
    root = sqrt((long - wide) * (long - 1) + (wide - 1) ** 2)
    m, n = (long + wide + 1 + root) / 3, (long + wide + 1 - root) / 3
    first = (m - 1) * (long - m) * (wide - m) * log(m / (m - 1))
    second = 0.0 if n - 1 < 1e-9 else (n - 1) * (long - n) * (wide - n) * log(n / (n - 1))
    return p, (first - second) / (8 * root) + (2 * long + 2 * wide - 1) / 72


def phase_hours(thickness_mm: float, shape: Shape, h_w_m2k: float, air_c: float = -18.0) -> float:
    """Hours of the change of phase alone, for lean meat in a home freezer.

    Valid: 5 to 300 mm, air of -50 to -5 °C. Source: `plank_s`. Raises: OutOfRange beyond that.
    """
    if not 5 <= thickness_mm <= 300:
        raise OutOfRange("A thickness", thickness_mm, "5 to 300 mm", "Cut it down, or pack it flat.")
    if not -50 <= air_c <= -5:
        raise OutOfRange("A freezer of °C", air_c, "-50 to -5 °C")
    p, r = _FORM[shape]
    seconds = plank_s(
        p, r, thickness_mm / 1000, h_w_m2k, _FROZEN_W_MK, _DENSITY, _LATENT_J_KG, _FREEZES_C, air_c
    )  # fmt: skip
    return seconds / 3600


def freezing_hours(thickness_mm: float, shape: Shape, freezer: Freezer, air_c: float = -18.0) -> Hours:
    """Hours from 4 °C until the middle is at -18 °C: `phase_hours`, a tenth to a seventh before, a fifth to 0.3 after.

    Valid: as `phase_hours`. Source: `plank_s`; h of 5 to 8 in still air, 10 to 25 with a fan, from memory.
    Raises: OutOfRange as there.
    """
    slow_h, quick_h = _STILL if freezer == "still air" else _FAN
    quick = phase_hours(thickness_mm, shape, quick_h, air_c) * (1 + _BEFORE[0] + _AFTER[0])
    return Hours(quick, phase_hours(thickness_mm, shape, slow_h, air_c) * (1 + _BEFORE[1] + _AFTER[1]))
