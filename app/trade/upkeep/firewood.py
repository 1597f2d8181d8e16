"""Firewood: wet and dry bases, how it dries month by month, and the day by which it is ready."""

import math
from datetime import date
from typing import Literal, NamedTuple

from app.errors import OutOfRange
from app.trade.climate.season import Season
from app.trade.reckoned import Reckoned
from app.trade.register import work
from app.trade.upkeep.hemisphere import is_south
from app.trade.upkeep.intervals import months_on

READY_PERCENT = 20.0
Wood = Literal["ash, birch or softwood", "beech or sycamore", "oak"]
WOODS: tuple[Wood, ...] = ("ash, birch or softwood", "beech or sycamore", "oak")
SPEED_A_MONTH = (0.35, 0.25, 0.12)
UNSPLIT = 0.4
UNROOFED = 0.5
DRYING_MONTHS = (0.1, 0.1, 0.5, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.5, 0.1, 0.1)
"""How much of a summer month each month of the north dries."""
MOST_MONTHS = 72


def dry_basis_percent(wet_percent: float) -> float:
    """Water by the dry wood (%), which most pin meters show: u = w / (1 - w).

    Source: geometry.
    Raises: OutOfRange outside 0 to 90 %.
    """
    if not 0 <= wet_percent <= 90:
        raise OutOfRange("Moisture on the wet basis", wet_percent, "0 to 90 %")
    return 100 * wet_percent / (100 - wet_percent)


def wet_basis_percent(dry_percent: float) -> float:
    """Water by the whole (%), in which "20 % and ready to burn" is meant: w = u / (1 + u).

    Source: geometry.
    Raises: OutOfRange outside 0 to 900 %.
    """
    if not 0 <= dry_percent <= 900:
        raise OutOfRange("Moisture on the dry basis", dry_percent, "0 to 900 %")
    return 100 * dry_percent / (100 + dry_percent)


def water_to_lose_kg(mass_kg: float, wet_percent: float, target_percent: float = READY_PERCENT) -> float:
    """Water (kg) that wood loses from one moisture to another, both on the wet basis: m (1 - (1 - w0) / (1 - w1)).

    Source: a balance of mass.
    Raises: OutOfRange for moistures outside 0 to 90 %, or a target above what it is.
    """
    if not 0 <= target_percent <= wet_percent <= 90 or mass_kg < 0:
        raise OutOfRange("Moisture on the wet basis", wet_percent, "0 to 90 %, no less than the target")
    return mass_kg * (1 - (100 - wet_percent) / (100 - target_percent))


def heat_mj_kg(wet_percent: float) -> float:
    """Heat (MJ/kg, lower heating value) of wood as it is: 19 (1 - w) - 2.44 w.

    Source: common practice; 19 MJ/kg dry, 2.44 to boil off a kilogram of water.
    Raises: OutOfRange outside 0 to 80 %.
    """
    if not 0 <= wet_percent <= 80:
        raise OutOfRange("Moisture on the wet basis", wet_percent, "0 to 80 %")
    return 19 * (1 - wet_percent / 100) - 2.44 * wet_percent / 100


def still_moisture_percent(air_c: float, humidity_percent: float) -> float:
    """The moisture (%, dry basis) at which wood comes to rest in such air, by Hailwood and Horrobin.

    Valid: 0 to 50 °C, 0 to 99 %.
    Source: from memory, USDA Wood Handbook, chapter 4, equation 4-5 (°C).
    Raises: OutOfRange outside that.
    """
    if not 0 <= air_c <= 50 or not 0 <= humidity_percent <= 99:
        raise OutOfRange("Air for wood", air_c, "0 to 50 °C and 0 to 99 %")
    h, t = humidity_percent / 100, air_c
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 2.73e-6 * t * t
    k1 = 6.27 - 0.00938 * t - 3.03e-4 * t * t
    k2 = 1.91 + 0.0407 * t - 2.93e-4 * t * t
    kh = k * h
    second = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh)
    return 1800 / w * (kh / (1 - kh) + second)


class Stack(NamedTuple):
    """How it is stacked: the wood, split to 10 cm or not, with a roof or not."""

    wood: Wood
    split: bool = True
    roofed: bool = True


def speed_a_month(stack: Stack) -> float:
    """How fast a stack dries in a summer month (the k of exp(-k t)).

    Source: our own model: 0.35, 0.25 and 0.12 by wood, x 0.4 unsplit, x 0.5 without a roof; two years for oak and
    "typically two years" as Forest Research has it.
    Raises: OutOfRange for a wood it does not know.
    """
    if stack.wood not in WOODS:
        raise OutOfRange("A wood", 0, f"one of {', '.join(WOODS)}, not {stack.wood}")
    speed = SPEED_A_MONTH[WOODS.index(stack.wood)]
    return speed * (1.0 if stack.split else UNSPLIT) * (1.0 if stack.roofed else UNROOFED)


def moisture_after_percent(
    stack: Stack, stacked: date, on: date, green_percent: float = 50.0, still_percent: float = 18.0, south: bool = False
) -> float:
    """The moisture (%, wet basis) on a day of wood stacked on another: u = ue + (u0 - ue) exp(-k t).

    t counts months weighted by `DRYING_MONTHS`, shifted by six in the south; ``still_percent`` is where it comes to
    rest, on the dry basis (18 for a roofed stack in a mild, damp climate).
    Source: our own model, to be set right by what a meter shows.
    Raises: OutOfRange as `dry_basis_percent`, or for a day before it was stacked.
    """
    if on < stacked:
        raise OutOfRange("Days in the stack", (on - stacked).days, "0 or more")
    green = dry_basis_percent(green_percent)
    left = math.exp(-speed_a_month(stack) * _summer_months(stacked, on, south))
    return wet_basis_percent(still_percent + (green - still_percent) * left)


def _summer_months(stacked: date, on: date, south: bool) -> float:
    total, day = 0.0, stacked
    while day < on:
        after = min(months_on(day.replace(day=1), 1), on)
        weight = DRYING_MONTHS[(day.month - 1 + (6 if south else 0)) % 12]
        total += weight * (after - day).days / 30.4375
        day = after
    return total


@work
def firewood_ready_days(
    wood: Wood,
    split: bool = True,
    roofed: bool = True,
    green_percent: float = 50.0,
    still_percent: float = 18.0,
    season: Season | None = None,
    on: int = 0,
) -> Reckoned | None:
    """Days from stacking to 20 % on the wet basis; None when such a stack never gets there within six years.

    Which months dry is read from the place's own days, six months apart in north and south.

    Source: `moisture_after_percent`.
    Raises: OutOfRange as there.
    """
    stack, start = Stack(wood, split, roofed), date.fromordinal(on or date(2026, 3, 1).toordinal())
    south = is_south(season, start.year)
    if still_percent >= dry_basis_percent(READY_PERCENT):
        return None
    u0, u1 = dry_basis_percent(green_percent), dry_basis_percent(READY_PERCENT)
    wanted = math.log((u0 - still_percent) / (u1 - still_percent)) / speed_a_month(stack) if u0 > u1 else 0.0
    day, months = start, 0.0
    for _ in range(MOST_MONTHS):
        after = months_on(day.replace(day=1), 1)
        here = DRYING_MONTHS[(day.month - 1 + (6 if south else 0)) % 12] * (after - day).days / 30.4375
        if months + here >= wanted:
            days = (day - start).days + math.ceil((wanted - months) / here * (after - day).days) if here else 0
            because = f"{wood}, {'split' if split else 'in the round'}, {'roofed' if roofed else 'without a roof'}: "
            because += f"{wanted:.1f} months of summer drying from {green_percent:g} to 20 %; a meter tells"
            return Reckoned(round(days * 0.8), max(days, 0), round(days * 1.4), (because,))
        months, day = months + here, after
    return None
