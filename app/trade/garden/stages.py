"""The four stages of a crop's water need: lengths by crop, and an estimate where a crop is not in the table."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from app.errors import OutOfRange


class Stages(NamedTuple):
    """Days of the initial, development, mid-season and late stages, counted from sowing or planting out."""

    initial: int
    development: int
    mid: int
    late: int

    @property
    def total(self) -> int:
        """All four together."""
        return sum(self)


TABLE_11: Mapping[str, tuple[Stages, ...]] = {
    name: tuple(Stages(*line) for line in lines)
    for name, lines in {
        "broccoli": ((35, 45, 40, 15),),
        "cabbage": ((40, 60, 50, 15),),
        "cauliflower": ((35, 50, 40, 15),),
        "crucifers": ((20, 30, 20, 10), (25, 35, 25, 10), (30, 35, 90, 40)),
        "carrot": ((20, 30, 30, 20), (30, 40, 60, 20), (30, 50, 90, 30)),
        "celery": ((25, 40, 45, 15),),
        "lettuce": ((20, 30, 15, 10), (30, 40, 25, 10), (35, 50, 45, 10)),
        "onion": ((15, 25, 70, 40),),
        "green onion": ((25, 30, 10, 5),),
        "onion seed": ((20, 45, 165, 45),),
        "spinach": ((20, 20, 20, 5),),
        "radish": ((5, 10, 15, 5),),
        "aubergine": ((30, 45, 40, 25),),
        "sweet pepper": ((30, 35, 40, 20),),
        "tomato": ((30, 40, 45, 30),),
        "cucumber": ((20, 30, 40, 15),),
        "winter squash": ((25, 35, 35, 25),),
        "courgette": ((20, 30, 25, 15),),
        "beet": ((15, 25, 20, 10), (25, 30, 25, 10)),
        "potato": ((25, 30, 45, 30), (30, 35, 50, 30)),
        "French bean": ((20, 30, 30, 10), (15, 25, 25, 10)),
        "broad bean": ((15, 25, 35, 15), (90, 45, 40, 0), (90, 45, 40, 60)),
        "pea": ((15, 25, 35, 15), (20, 30, 35, 15), (35, 25, 30, 20)),
        "sweetcorn": ((20, 25, 25, 10), (30, 30, 30, 10)),
        "artichoke": ((40, 40, 250, 30), (20, 25, 250, 30)),
        "asparagus": ((50, 30, 100, 50),),
    }.items()
}
"""Lengths of stages by crop; of several lines each is another climate or sowing time.

Source: FAO Irrigation and Drainage Paper 56, 1998, Table 11.
"""

ALSO: Mapping[str, str] = {
    "beetroot": "beet",
    "chard": "beet",
    "calabrese": "broccoli",
    "purple sprouting broccoli": "crucifers",
    "kale": "crucifers",
    "brussels sprouts": "crucifers",
    "sprouts": "crucifers",
    "kohlrabi": "crucifers",
    "turnip": "crucifers",
    "swede": "crucifers",
    "celeriac": "celery",
    "spring onion": "green onion",
    "shallot": "onion",
    "chilli": "sweet pepper",
    "pepper": "sweet pepper",
    "squash": "winter squash",
    "pumpkin": "winter squash",
    "runner bean": "French bean",
}
"""Crops that follow another's line; common practice, the nearest of the same family and habit."""

SHARES = (0.24, 0.30, 0.32, 0.14)
"""How a season parts into the four stages where a crop is not in the table: the mean share of each over the annual
vegetables of Table 11, perennials and seed crops left out."""


def table_stages(crop: str, maturity_days: float) -> Stages | None:
    """The printed line of a crop nearest to its days to maturity here; None for a crop not in the table.

    Of two as near the longer, since most of the table comes from warmer places. Counted from planting out for what is
    transplanted. Of a name of several words any may stand in the table: a "dwarf French bean" is a French bean.
    Source: FAO-56, 1998, Table 11 (`TABLE_11`); which crops follow another's line is common practice.
    """
    words = f" {crop.casefold()} "
    named = [name for name in (*TABLE_11, *ALSO) if f" {name.casefold()} " in words]
    if not named:
        return None
    name = max(named, key=len)
    lines = TABLE_11[ALSO.get(name, name)]
    return min(lines, key=lambda line: (abs(line.total - maturity_days), -line.total))


def estimated_stages(maturity_days: float, shares: Sequence[float] = SHARES) -> Stages:
    """A season parted into stages as vegetables' usually are; they sum to the days given, rounded.

    Valid: 20 to 400 days.
    Source: the mean shares of FAO-56, 1998, Table 11.
    Raises: OutOfRange beyond it.
    """
    if not 20 <= maturity_days <= 400:
        raise OutOfRange("Days to maturity", maturity_days, "20 to 400")
    total = round(maturity_days)
    initial, development, late = (round(total * share) for share in (shares[0], shares[1], shares[3]))
    return Stages(initial, development, total - initial - development - late, late)
