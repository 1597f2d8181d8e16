"""How long seed lives: by Harrington's halvings, and by the probits of Ellis and Roberts."""

from itertools import pairwise
from math import exp, log, log10
from statistics import NormalDist
from typing import NamedTuple

from app.errors import OutOfRange

MOISTURE_DOUBLES_PERCENT = 1.0
_COLDEST_C, _WARMEST_C = 0.0, 40.0
_DRIEST_PERCENT, _WETTEST_PERCENT = 5.0, 14.0

AIR_AND_SEED: tuple[tuple[float, float], ...] = (
    (10, 3.6), (20, 5.2), (30, 6.5), (45, 8.1), (60, 9.6), (75, 11.8)
)  # fmt: skip
"""Moisture of the air (%) and that of seed lying in it at 25 °C (%): the mean of nineteen vegetables."""

LISTED_C, LISTED_RH_PERCENT = 10.0, 50.0
"""The cool and dry store in which the lists' years are taken to hold: just at Harrington's hundred."""


class Probits(NamedTuple):
    """A species' constants in the equation of Ellis and Roberts."""

    ke: float
    cw: float
    ch: float
    cq: float


ONION = Probits(6.975, 3.470, 0.040, 0.000428)
"""Allium cepa. Source: from memory of Ellis and Roberts, Annals of Botany 45 (1980) and 48 (1981)."""


def life_times(
    from_moisture_percent: float, to_moisture_percent: float, from_c: float, to_c: float, doubles_c: float = 5.6
) -> float:
    """How many times as long seed lives: ``2^(m1 − m2) · 2^((T1 − T2) / 5.6)``.

    Life doubles for each 1 % less moisture in the seed and for each 5.6 °C (10 °F) less warmth; some say 5 °C.
    Valid: 5 to 14 % moisture and 0 to 40 °C.
    Source: Harrington's rules, as in Seed Storage, University of Washington, EHUF 473; the range from memory of
    Harrington 1972.
    Raises: OutOfRange beyond that.
    """
    for percent in (from_moisture_percent, to_moisture_percent):
        _within("A seed's moisture", percent, _DRIEST_PERCENT, _WETTEST_PERCENT, "%")
    for warmth in (from_c, to_c):
        _within("A store", warmth, _COLDEST_C, _WARMEST_C, "°C")
    drier = (from_moisture_percent - to_moisture_percent) / MOISTURE_DOUBLES_PERCENT
    return exp(log(2) * (drier + (from_c - to_c) / doubles_c))


def hundred(store_c: float, rh_percent: float) -> float:
    """Harrington's sum, °F + % of air moisture: seed keeps well up to 100.

    Source: Harrington's rules, as in Seed Storage, University of Washington, EHUF 473.
    """
    return store_c * 9 / 5 + 32 + rh_percent


def dry_enough_percent(store_c: float) -> float:
    """The most air moisture (%) at which a store of this warmth keeps within Harrington's hundred; 0 when none does."""
    return max(0.0, 100 - (store_c * 9 / 5 + 32))


def seed_moisture_percent(rh_percent: float) -> float:
    """Moisture of seed that has lain long in air of ``rh_percent``, on straight lines between the points of a table.

    Valid: air of 10 to 75 %. Oily seed (cabbage, lettuce) holds some 2 % less, beans and peas 1 to 3 % more.
    Source: mean of `AIR_AND_SEED`; from memory of Knott's Handbook, vegetable seeds in equilibrium with air.
    Raises: OutOfRange beyond that.
    """
    low, high = AIR_AND_SEED[0][0], AIR_AND_SEED[-1][0]
    if not low <= rh_percent <= high:
        raise OutOfRange("Air", rh_percent, f"{low:g} to {high:g} % moisture", "In wetter air seed moulds or sprouts.")
    for (dry, less), (damp, more) in pairwise(AIR_AND_SEED):
        if rh_percent <= damp:
            return less + (more - less) * (rh_percent - dry) / (damp - dry)
    raise AssertionError("unreachable: the last point is the highest")


def tin_times(store_c: float, rh_percent: float) -> float:
    """How many times as long as the lists say seed lives in a tin of this warmth and air.

    Its moisture is held within 5 to 14 %, where the rule goes no further.
    Source: `life_times` from `LISTED_C` and `LISTED_RH_PERCENT`, an assumption of ours: the lists say "cool and dry".
    Raises: OutOfRange for air beyond 10 to 75 %, and stores beyond 0 to 40 °C.
    """
    listed = seed_moisture_percent(LISTED_RH_PERCENT)
    here = min(max(seed_moisture_percent(rh_percent), _DRIEST_PERCENT), _WETTEST_PERCENT)
    return life_times(listed, here, LISTED_C, store_c)


def days_a_probit(moisture_percent: float, store_c: float, kind: Probits = ONION) -> float:
    """Days in which viability falls by one probit: ``10^(KE − CW·log10 m − CH·t − CQ·t²)``.

    Valid: 5 to 14 % moisture (of fresh weight), 0 to 40 °C.
    Source: Ellis and Roberts 1980-81, from memory.
    Raises: OutOfRange beyond that.
    """
    _within("A seed's moisture", moisture_percent, _DRIEST_PERCENT, _WETTEST_PERCENT, "%")
    _within("A store", store_c, _COLDEST_C, _WARMEST_C, "°C")
    exponent = kind.ke - kind.cw * log10(moisture_percent) - kind.ch * store_c - kind.cq * store_c**2
    return float(10**exponent)


def still_alive_percent(at_first_percent: float, days: float, a_probit_days: float) -> float:
    """Seed alive after ``days``, of those alive at first: a probit line, ``v = Ki − p / σ``.

    Valid: above 0 and below 100 % at first.
    Source: Ellis and Roberts 1980-81, from memory.
    Raises: OutOfRange beyond that, or for days before the harvest.
    """
    if not 0 < at_first_percent < 100:
        raise OutOfRange("A share alive at first", at_first_percent, "above 0, below 100 %")
    if days < 0:
        raise OutOfRange("An age", days, "none or more days")
    probit = NormalDist().inv_cdf(at_first_percent / 100) - days / a_probit_days
    return 100 * NormalDist().cdf(probit)


def life_left(age_days: float, life_days: float) -> float:
    """The share of its listed life that seed has still before it: 1 at harvest, 0 or less when it is past.

    Age counts from the harvest of the seed, not from when it was bought.
    Source: arithmetic; the life stands on the crop's sheet.
    Raises: OutOfRange when it has no life at all.
    """
    if life_days <= 0:
        raise OutOfRange("A life of seed", life_days, "more than no days")
    return 1 - age_days / life_days


def _within(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRange(name, value, f"{low:g} to {high:g} {unit}")
