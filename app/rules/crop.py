"""The figures of a garden crop, each group with its source: what a sheet's ``[crop]`` says."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Literal

from app.rules.terms import Source

Rotation = Literal["roots", "onions", "potatoes", "legumes", "brassicas", "anywhere", "permanent"]
ROTATIONS: tuple[Rotation, ...] = ("roots", "onions", "potatoes", "legumes", "brassicas", "anywhere", "permanent")

Life = Literal["annual", "biennial", "perennial"]
LIVES: tuple[Life, ...] = ("annual", "biennial", "perennial")

Hardiness = Literal["hardy", "half-hardy", "tender"]
HARDINESS: tuple[Hardiness, ...] = ("hardy", "half-hardy", "tender")


@dataclass(frozen=True, slots=True)
class Frosts:
    """What frost does: the air temperatures (°C) that begin to harm the growing plant, and that kill it."""

    source: Source
    harmed_from_c: float | None = None
    killed_at_c: float | None = None


@dataclass(frozen=True, slots=True)
class Sprouting:
    """What the seed asks of the soil (°C), and how long it takes to come up.

    ``days_10c`` and its like are days from sowing at a steady temperature; ``theta_cday`` degree-days above ``base_c``.
    """

    source: Source
    least_c: float | None = None
    best_low_c: float | None = None
    best_high_c: float | None = None
    most_c: float | None = None
    days_10c: float | None = None
    days_15c: float | None = None
    days_20c: float | None = None
    base_c: float | None = None
    theta_cday: float | None = None


@dataclass(frozen=True, slots=True)
class Growth:
    """Days to maturity from sowing or planting, and the temperature (°C) below which nothing grows."""

    source: Source
    low_days: int | None = None
    high_days: int | None = None
    base_c: float | None = None


@dataclass(frozen=True, slots=True)
class Spacing:
    """How far apart plants stand in the row, and rows from each other."""

    source: Source
    plant_cm: float | None = None
    row_cm: float | None = None


@dataclass(frozen=True, slots=True)
class Sowing:
    """How the crop is sown.

    ``seeds_each`` are sown for every plant wanted; ``again_days`` is the interval of a succession; the rest are weeks
    counted from the last frost, those before it negative, but for ``indoors_weeks``, which counts back from it: sowing
    under cover from ``indoors_weeks`` until ``indoors_to_weeks``, in the open from ``open_from_weeks`` until
    ``open_to_weeks``.
    """

    source: Source
    seeds_a_gram: float | None = None
    seeds_each: float | None = None
    again_days: int | None = None
    indoors_weeks: int | None = None
    indoors_to_weeks: int | None = None
    plant_out_weeks: int | None = None
    open_from_weeks: int | None = None
    open_to_weeks: int | None = None


@dataclass(frozen=True, slots=True)
class Keeping:
    """How many years the seed lives, kept cool and dry."""

    source: Source
    years: float | None = None


@dataclass(frozen=True, slots=True)
class Crossing:
    """How the crop is pollinated, how far (m) from another of its species, and how many plants keep the line sound."""

    source: Source
    pollination: str = ""
    apart_m: float | None = None
    plants: int | None = None


@dataclass(frozen=True, slots=True)
class Ripeness:
    """When seed is ripe, and how it is cleaned; ``months`` are northern ones."""

    source: Source
    cue: str = ""
    months: str = ""
    cleaning: str = ""
    dry_low_days: int | None = None
    dry_high_days: int | None = None
    ferment_low_days: int | None = None
    ferment_high_days: int | None = None


@dataclass(frozen=True, slots=True)
class SeedTest:
    """What seed for sale must reach (%), in the United States and in the European Union, and when a test is counted."""

    source: Source
    least_percent: float | None = None
    least_percent_eu: float | None = None
    first_days: int | None = None
    final_days: int | None = None


@dataclass(frozen=True, slots=True)
class CropWater:
    """Water by FAO-56: crop coefficients, root depths (m), the share drawn before it lacks, and the stages' days.

    ``stages_days`` are initial, development, mid-season and late season.
    """

    source: Source
    kc_start: float | None = None
    kc_mid: float | None = None
    kc_end: float | None = None
    root_low_m: float | None = None
    root_high_m: float | None = None
    depletion: float | None = None
    stages_days: tuple[int, int, int, int] | None = None


@dataclass(frozen=True, slots=True)
class Yield:
    """What a metre of row gives, kg."""

    source: Source
    kg_a_m: float | None = None


@dataclass(frozen=True, slots=True)
class Crop:
    """Everything in figures that a sheet knows of its crop.

    ``name`` is what one is called in a sentence ("parsnip"), ``many`` several ("parsnips"); both "" when unsaid.
    """

    rotation: Rotation
    life: Life
    frost: Hardiness
    source: Source
    name: str = ""
    many: str = ""
    frosts: Frosts | None = None
    sprouting: Sprouting | None = None
    growth: Growth | None = None
    spacing: Spacing | None = None
    sowing: Sowing | None = None
    keeping: Keeping | None = None
    crossing: Crossing | None = None
    ripeness: Ripeness | None = None
    test: SeedTest | None = None
    water: CropWater | None = None
    yields: Yield | None = None

    def sources(self) -> Iterator[Source]:
        """The source of the crop and of each of its groups."""
        yield self.source
        for field in fields(self):
            group = getattr(self, field.name)
            if hasattr(group, "source"):
                yield group.source
