"""Powder back to purée and paste, by its solids."""

from app.errors import OutOfRange

_PUREE_CODEX, _PUREE_US, _PASTE = 7.0, 8.0, 24.0


def water_to_add_kg(powder_kg: float, powder_water_percent: float, solids_percent: float) -> float:
    """Water that makes a purée of so many per cent solids: ``m * (s_powder / s_target - 1)``.

    Valid: a purée thinner than the powder.
    Source: mass balance on the solids.
    Raises: OutOfRange beyond that.
    """
    solids = _solids(powder_kg, powder_water_percent, solids_percent)
    return powder_kg * (solids / solids_percent - 1)


def powder_for_kg(wanted_kg: float, powder_water_percent: float, solids_percent: float) -> float:
    """Powder in so much purée: ``M * s_target / s_powder``; the rest of it is water.

    Valid: a purée thinner than the powder.
    Source: mass balance on the solids.
    Raises: OutOfRange beyond that.
    """
    return wanted_kg * solids_percent / _solids(wanted_kg, powder_water_percent, solids_percent)


def fresh_kg(powder_kg: float, powder_water_percent: float, fresh_water_percent: float) -> float:
    """The fresh produce a powder stands for, if nothing was sieved out: ``m * s_powder / s_fresh``.

    Valid: produce wetter than the powder.
    Source: mass balance on the solids.
    Raises: OutOfRange beyond that.
    """
    fresh_solids = 100 - fresh_water_percent
    return powder_kg * _solids(powder_kg, powder_water_percent, fresh_solids) / fresh_solids


def boiled_down_kg(pulp_kg: float, solids_percent: float, wanted_percent: float) -> float:
    """What is left of pulp boiled to so many per cent solids: ``m * s1 / s2``.

    Valid: thicker than it was, and below 100 %.
    Source: mass balance on the solids.
    Raises: OutOfRange beyond that.
    """
    if pulp_kg <= 0:
        raise OutOfRange("A weight", pulp_kg, "more than 0 kg")
    if not 0 < solids_percent <= wanted_percent < 100:
        raise OutOfRange("Solids in %", wanted_percent, f"{solids_percent:g} to below 100")
    return pulp_kg * solids_percent / wanted_percent


def tomato_name(soluble_percent: float) -> str:
    """What a tomato concentrate may be called by its dissolved solids (a refractometer's reading, not all its solids).

    Valid: 0 to 100 %.
    Source: CODEX STAN 57-1981 (2007): purée 7 to below 24 %, paste from 24; 21 CFR 155.191: purée from 8.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= soluble_percent <= 100:
        raise OutOfRange("Dissolved solids in %", soluble_percent, "0 to 100")
    if soluble_percent >= _PASTE:
        return "paste"
    if soluble_percent >= _PUREE_US:
        return "purée"
    return "purée by Codex, not in the United States" if soluble_percent >= _PUREE_CODEX else "pulp or juice"


def _solids(kg: float, powder_water_percent: float, solids_percent: float) -> float:
    if kg <= 0:
        raise OutOfRange("A weight", kg, "more than 0 kg")
    if not 0 <= powder_water_percent < 30:
        raise OutOfRange("The water of a powder in %", powder_water_percent, "0 to 30")
    solids = 100 - powder_water_percent
    if not 0 < solids_percent <= solids:
        raise OutOfRange("Solids in %", solids_percent, f"above 0, up to the powder's {solids:g}")
    return solids
