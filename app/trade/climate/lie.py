"""How a plot lies: what a slope and a frost hollow make of the weather measured nearby. Rules of thumb, and said so."""

from typing import NamedTuple

HOLLOW_C = 3.0
"""How much colder the still, clear nights of a hollow are than the screen's. Source: 2 to 5 °C, common practice."""
SLOPE_C = 0.5
"""How much warmer by the day's mean a slope to the noon sun is than the flat, and one away from it colder. Source: own
assumption, at the cautious end of common practice."""


class Lie(NamedTuple):
    """What is added for the lie of the land: frosts are counted below ``hollow_c``, days are ``warmer_c`` warmer."""

    hollow_c: float = 0.0
    warmer_c: float = 0.0
    said: str = ""


def lie_of(latitude_deg: float, aspect: str | None, frost_hollow: bool) -> Lie:
    """What a slope (north, east, south, west or flat) and a frost hollow add, with what is assumed in a sentence.

    East and west slopes count as flat: they have their sun at other hours, not more of it.
    Source: common practice; see `HOLLOW_C` and `SLOPE_C`.
    """
    sunny, shady = ("south", "north") if latitude_deg >= 0 else ("north", "south")
    warmer = SLOPE_C if aspect == sunny else -SLOPE_C if aspect == shady else 0.0
    said = []
    if warmer:
        way = "warmer" if warmer > 0 else "colder"
        said.append(f"For a {aspect} slope its days are taken as {SLOPE_C:g} °C {way} than measured.")
    if frost_hollow:
        said.append(
            f"For the frost hollow a night counts as frost below {HOLLOW_C:g} °C, since hollows lie 2 to 5 °C colder "
            "on clear nights; where the thermometer stands in the hollow itself, don't say that it is one."
        )
    return Lie(HOLLOW_C if frost_hollow else 0.0, warmer, " ".join(said))
