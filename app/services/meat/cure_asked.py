"""What is asked of a cure: the piece, the salt, the law, the day."""

from typing import NamedTuple

from app.rules.spans import Day
from app.trade.meat.cure import Skin
from app.trade.meat.even import Shape
from app.trade.meat.nitrite_law import Jurisdiction


class Asked(NamedTuple):
    """A piece and how it is to be cured; ``nitrite_ppm`` None for what is usual under the law that applies."""

    way: str
    cut: str
    kg: float
    thickness_mm: float
    shape: Shape
    skin: Skin
    nitrite_percent: float
    nitrate: bool
    nitrite_ppm: float | None
    salt_percent: float
    sugar_percent: float
    jurisdiction: Jurisdiction
    on: Day
    scale_g: float
    water_l: float | None = None
    name: str = ""
