"""A sausage mix weighed out: salt, pepper, rusk, water, and the length of skins."""

from typing import NamedTuple

from app.errors import OutOfRange

_SKIN_M_KG = 1.2


class Mix(NamedTuple):
    """Grams for a mix, and metres of hog skins; ``lean_g`` and ``fat_g`` make up the meat."""

    lean_g: float
    fat_g: float
    salt_g: float
    pepper_g: float
    rusk_g: float
    water_g: float
    skins_m: float


def sausage_mix(
    meat_kg: float,
    fat_percent: float = 30,
    salt_percent: float = 1.8,
    rusk_percent: float = 0,
    water_percent: float = 0,
) -> Mix:
    """A fresh sausage, per cent of meat and fat; 0.4 % pepper and spice, 1.2 m of 32 to 35 mm skins a kilo.

    Valid: more than 0 kg, 20 to 35 % fat, 1.5 to 2 % salt, rusk and water of up to 10 %.
    Source: common practice.
    Raises: OutOfRange beyond that.
    """
    if meat_kg <= 0:
        raise OutOfRange("A weight", meat_kg, "more than 0 kg")
    for name, value, low, high in (
        ("Fat of per cent", fat_percent, 20, 35), ("Salt of per cent", salt_percent, 1.5, 2),
        ("Rusk of per cent", rusk_percent, 0, 10), ("Water of per cent", water_percent, 0, 10),
    ):  # fmt: skip
        if not low <= value <= high:
            raise OutOfRange(name, value, f"{low:g} to {high:g} %")
    ten_g = meat_kg * 10
    fat = ten_g * fat_percent
    return Mix(
        ten_g * 100 - fat, fat, ten_g * salt_percent, ten_g * 0.4, ten_g * rusk_percent, ten_g * water_percent,
        meat_kg * _SKIN_M_KG,
    )  # fmt: skip
