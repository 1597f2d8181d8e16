"""A bed's water as an account: what a crop draws, what the soil holds for it, when to water and how much.

Depths are mm, which is litres on a square metre.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.garden.stages import Stages

FIRST_ROOTS_M = 0.15
"""How deep a seedling's roots draw at first. Source: from memory, FAO-56, 1998, chapter 8 (0.15 to 0.30 m)."""


class Need(NamedTuple):
    """A crop's coefficients against the reference, and the share of the store it draws before it suffers."""

    kc_start: float
    kc_mid: float
    kc_end: float
    depletion: float


class GroupNeed(NamedTuple):
    """Whose figures stand in for a crop of a group that has none of its own, and how deep that draws."""

    crop: str
    need: Need
    root_m: float


GROUP_NEEDS: Mapping[str, GroupNeed] = {
    "onions": GroupNeed("onions", Need(0.7, 1.05, 0.75, 0.30), 0.3),
    "brassicas": GroupNeed("cabbage", Need(0.7, 1.05, 0.95, 0.45), 0.5),
    "roots": GroupNeed("carrots", Need(0.7, 1.05, 0.95, 0.35), 0.5),
    "legumes": GroupNeed("French beans", Need(0.5, 1.05, 0.90, 0.45), 0.5),
    "potatoes": GroupNeed("potatoes", Need(0.5, 1.15, 0.75, 0.35), 0.4),
    "anywhere": GroupNeed("lettuce", Need(0.7, 1.00, 0.95, 0.30), 0.3),
}
"""The best known crop of each group of the rotation, for its kin that are not in the tables: leeks as onions.

Source: FAO-56, 1998, Tables 12 and 22; that they stand in for their kin is common practice.
"""


class WaterDay(NamedTuple):
    """What comes to a crop on one day and how much the air would draw; mm."""

    et0_mm: float
    rain_mm: float = 0.0
    watered_mm: float = 0.0


class Stood(NamedTuple):
    """A crop's account at the end of a day, in mm: drawn that day, owed to the soil, the store, its easy part."""

    used_mm: float
    owed_mm: float
    store_mm: float
    ready_mm: float

    @property
    def wants(self) -> bool:
        """Whether it should be watered: more is owed than is easily drawn."""
        return self.owed_mm > self.ready_mm


def crop_coefficient(day: int, stages: Stages, kc_start: float, kc_mid: float, kc_end: float) -> float:
    """Kc on a day counted from sowing or planting (1 is the first): level, rising, level, then straight to its end.

    ``Kc = Kc_before + (day - days before the stage) / stage · (Kc_next - Kc_before)``; the end's value afterwards.
    Valid: day 0 or later.
    Source: FAO-56, 1998, equation 66.
    Raises: OutOfRange before the first day.
    """
    if day < 0:
        raise OutOfRange("A day of the crop", day, "0 or more")
    into = day - stages.initial
    if into <= 0:
        return kc_start
    if into < stages.development:
        return kc_start + into / stages.development * (kc_mid - kc_start)
    into -= stages.development + stages.mid
    if into <= 0:
        return kc_mid
    return kc_mid + into / stages.late * (kc_end - kc_mid) if into < stages.late else kc_end


def climate_coefficient(kc_table: float, wind_ms: float, least_humidity_percent: float, height_m: float) -> float:
    """Kc of mid-season (and of the end, where it is above 0.45) for a place that is not as the table's.

    ``Kc = Kc_table + [0.04 (u2 - 2) - 0.004 (RHmin - 45)] (h / 3)^0.3``.
    Valid: wind 1 to 6 m/s, least humidity 20 to 80 %, crops 0.1 to 10 m high.
    Source: FAO-56, 1998, equations 62 and 65.
    Raises: OutOfRange beyond them.
    """
    for name, value, low, high in (
        ("Wind", wind_ms, 1, 6),
        ("Least humidity", least_humidity_percent, 20, 80),
        ("A crop's height", height_m, 0.1, 10),
    ):
        if not low <= value <= high:
            raise OutOfRange(name, value, f"{low:g} to {high:g}")
    of_height: float = (height_m / 3) ** 0.3
    return kc_table + (0.04 * (wind_ms - 2) - 0.004 * (least_humidity_percent - 45)) * of_height


def store_mm(available: float, root_m: float) -> float:
    """TAW, all the water that roots of ``root_m`` can draw: ``1000 (θFC - θWP) Zr``.

    Valid: available water up to 0.5, roots up to 5 m.
    Source: FAO-56, 1998, equation 82.
    Raises: OutOfRange beyond them.
    """
    if not 0 < available <= 0.5:
        raise OutOfRange("Available water", available, "above 0 and up to 0.5 m³ in m³")
    if not 0 < root_m <= 5:
        raise OutOfRange("A depth of roots", root_m, "above 0 and up to 5 m")
    return 1000 * available * root_m


def depletion_share(table: float, used_mm: float) -> float:
    """p, the share of the store that is easily drawn: less on a thirsty day, kept between 0.1 and 0.8.

    ``p = p_table + 0.04 (5 - ETc)``.
    Source: FAO-56, 1998, Table 22, note 2.
    """
    return min(0.8, max(0.1, table + 0.04 * (5 - used_mm)))


def root_depth_m(day: int, stages: Stages, full_m: float) -> float:
    """How deep the roots draw on a day: straight from a seedling's to the full depth at the start of mid-season.

    Source: FAO-56, 1998, chapter 8, from memory.
    """
    share = min(1.0, max(0.0, day / max(1, stages.initial + stages.development)))
    first = min(FIRST_ROOTS_M, full_m)
    return first + share * (full_m - first)


def stress(owed_mm: float, store: float, ready_mm: float) -> float:
    """Ks: 1 while what is owed is easily drawn, straight down to 0 when the store is empty.

    Source: FAO-56, 1998, equation 84.
    """
    if owed_mm <= ready_mm:
        return 1.0
    return max(0.0, (store - owed_mm) / (store - ready_mm)) if store > ready_mm else 0.0


def balance(
    days: Iterable[WaterDay],
    need: Need,
    stages: Stages,
    available: float,
    full_root_m: float,
    first_day: int = 1,
    owed_mm: float = 0.0,
) -> list[Stood]:
    """The account day by day: ``D = D before - rain - watered + Ks Kc ET0``, never below none nor above the store.

    ``first_day`` is the first day's number since sowing or planting. What is beyond a full soil drains away.
    Source: FAO-56, 1998, equations 84 and 85, rain and watering taken whole.
    Raises: OutOfRange as `store_mm` and `crop_coefficient`.
    """
    found = []
    for number, day in enumerate(days, first_day):
        kc = crop_coefficient(number, stages, need.kc_start, need.kc_mid, need.kc_end)
        store = store_mm(available, root_depth_m(number, stages, full_root_m))
        wanted = kc * day.et0_mm
        ready = depletion_share(need.depletion, wanted) * store
        used = stress(owed_mm, store, ready) * wanted
        owed_mm = min(store, max(0.0, owed_mm - day.rain_mm - day.watered_mm + used))
        found.append(Stood(used, owed_mm, store, ready))
    return found


def litres_a_metre(owed_mm: float, row_cm: float) -> float:
    """Litres for a metre of row that makes good what is owed, its share of the bed being as wide as its rows are apart.

    Valid: rows 1 cm to 5 m apart.
    Source: 1 mm on a square metre is a litre; geometry.
    Raises: OutOfRange beyond it.
    """
    if not 1 <= row_cm <= 500:
        raise OutOfRange("A distance between rows", row_cm, "1 to 500 cm")
    return owed_mm * row_cm / 100
