"""What soils hold for plants: the water between what a soil keeps after draining and what roots can't draw out."""

from collections.abc import Mapping
from typing import NamedTuple

from app.errors import OutOfRange


class Soil(NamedTuple):
    """A soil's available water, θFC - θWP, as m³ of water in m³ of soil: the least and the most of its kind."""

    name: str
    low: float
    high: float

    @property
    def available(self) -> float:
        """The middle of its range."""
        return (self.low + self.high) / 2


SOILS: Mapping[str, Soil] = {
    soil.name: soil
    for soil in (
        Soil("sand", 0.05, 0.11),
        Soil("sandy loam", 0.11, 0.15),
        Soil("loam", 0.13, 0.18),
        Soil("silt loam", 0.13, 0.19),
        Soil("clay", 0.12, 0.20),
    )
}
"""Available water by soil.

Source: from memory, FAO Irrigation and Drainage Paper 56, 1998, Table 19.
"""

UNKNOWN = "loam"
"""The soil that stands in where none is said; common practice, the middle of the table."""


def soil(name: str | None) -> Soil:
    """A soil by its name; loam where none was said.

    Source: `SOILS`.
    Raises: OutOfRange for a soil that is not in the table.
    """
    found = SOILS.get(name or UNKNOWN)
    if found is None:
        raise OutOfRange("A soil", 0, ", ".join(SOILS), f"No soil is called {name!r}.")
    return found
