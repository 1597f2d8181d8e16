"""Whether honey is dry enough to keep, by the refractometer."""

from math import log10

from app.errors import OutOfRange, Refused

_MOST_PERCENT = {"blossom": 20.0, "heather": 23.0, "for baking": 23.0, "heather, for baking": 25.0}


def honey_water_percent(refractive_index: float) -> float:
    """Water in honey, by its refractive index at 20 °C: ``(-0.2681 - log10(n - 1)) / 0.002243``.

    Valid: indices of 1.4740 to 1.5044, 25 to 13 % of water.
    Source: Wedmore, 1955, as the International Honey Commission has it; from memory.
    Raises: OutOfRange beyond that.
    """
    if not 1.474 <= refractive_index <= 1.5044:
        raise OutOfRange(
            "A refractive index", refractive_index, "1.474 to 1.5044", "Clean the prism, and warm it to 20 °C."
        )
    return (-0.2681 - log10(refractive_index - 1)) / 0.002243


def honey_most_percent(kind: str) -> float:
    """The most water that honey of a kind may have: blossom 20 %, heather 23, for baking 23, heather for baking 25.

    Valid: the kinds named.
    Source: Directive 2001/110/EC, annex II, kept in the law of the United Kingdom.
    Raises: Refused for another kind.
    """
    if kind not in _MOST_PERCENT:
        raise Refused(f"No limit is known here for honey of the kind {kind}.")
    return _MOST_PERCENT[kind]


def honey_kinds() -> tuple[str, ...]:
    """The kinds of honey that have a limit."""
    return tuple(_MOST_PERCENT)
