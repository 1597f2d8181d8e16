"""A dry cure or an equilibrium brine, weighed: grams of curing salt, salt and sugar, and what the law says of it."""

from math import floor
from typing import NamedTuple

from app.errors import OutOfRange, Refused
from app.trade.meat.nitrite import curing_salt_g, ingoing_ppm, strength, weight_that_cures_g
from app.trade.meat.nitrite_law import CAUTION_PPM, Limit, Product

_LEAST_SALT_PERCENT, _LEAST_IN_MINCE, _MOST_SALT_PERCENT = 2.0, 1.5, 6.0
_MOST_SUGAR = 6.0
_SLIP_G = 0.005
_LEAST_PPM = 120.0
"""The least that is asked of cured goods to be kept cold. Source: FSIS Handbook, 1995, p. 12, as curers quote it."""
_FINE_BELOW_G, _FINE_G = 10.0, 0.01
_WEAK, _STRONG = (0.4, 0.6), (5.5, 6.3)

LITTLE = "Below 120 ppm a cure does less against botulism: kept cold, cooked and eaten soon, or frozen."
FOLLOW = "Follow your local food-safety authority: it knows today's law, and this is no substitute."


class Recipe(NamedTuple):
    """What is weighed out, in grams; ``ppm`` ingoing sodium nitrite; ``says`` what is to be known of it."""

    curing_salt_g: float
    salt_g: float
    sugar_g: float
    ppm: float
    says: tuple[str, ...]


def dry_cure(
    meat_g: float,
    nitrite_percent: float,
    target_ppm: float,
    salt_percent: float,
    sugar_percent: float,
    product: Product,
    *,
    limit: Limit | None = None,
    nitrate_percent: float = 0.0,
    skin_on: bool = False,
    water_g: float = 0.0,
) -> Recipe:
    """A cure that is weighed to the meat: ``salt = salt_percent * M - curing salt * (1 - strength)``.

    M is the green weight, less a tenth for skin; with ``water_g`` (a brine the meat stays in until it is even) meat and
    water together. Salt and sugar are per cent of M.
    Valid: 2 to 6 % salt (1.5 in mince), up to 6 % sugar; a curing salt without nitrate.
    Source: common practice; FSIS Handbook, 1995, p. 15; the law as ``limit`` says.
    Raises: Refused beyond the law, and for nitrate; OutOfRange for what no recipe covers.
    """
    _amounts(meat_g, salt_percent, sugar_percent, water_g, product)
    _no_nitrate(nitrate_percent, product)
    fraction = strength(nitrite_percent)
    if target_ppm <= 0:
        advice = "With plain salt alone no recipe is reckoned here: what is smoked or hung wants its nitrite."
        raise OutOfRange("A nitrite target", target_ppm, "more than 0 ppm", advice)
    base = weight_that_cures_g(meat_g, skin_on=skin_on) + water_g
    cure = curing_salt_g(target_ppm, fraction, base)
    says = (*judged(target_ppm, product, limit), *_known_kind(nitrite_percent))
    salt = salt_percent / 100 * base - cure * (1 - fraction)
    if salt < -_SLIP_G:
        own = 100 * cure * (1 - fraction) / base
        advice = f"The curing salt alone brings {own:.2f} %: ask for that much salt, or for less nitrite."
        raise OutOfRange("Salt", salt_percent, f"{own:.2f} % and more with this curing salt", advice)
    if cure < _FINE_BELOW_G:
        says = (*says, "Weigh the curing salt on scales that show 0.01 g.")
    ppm = ingoing_ppm(cure, fraction, base)
    return Recipe(cure, max(0.0, salt), sugar_percent / 100 * base, ppm, (*says, FOLLOW))


def judged(ppm: float, product: Product, limit: Limit | None) -> tuple[str, ...]:
    """What is to be said of so much ingoing nitrite in a product, in sentences.

    ``limit`` is what the law says on the day; None where arithmetic alone is wanted.
    Source: 21 CFR 172.170 for 200 ppm; the limit's own.
    Raises: Refused beyond the law of the country, or above 200 ppm anywhere, and it is said which.
    """
    law = f"{limit.law}. " if limit is not None else ""
    if ppm > CAUTION_PPM + _SLIP_G:
        raise Refused(f"{ppm:.0f} ppm of nitrite: above 200 ppm no cure is reckoned here. {law}{FOLLOW}")
    if limit is not None and ppm > limit.most + _SLIP_G + 0.05:
        raise Refused(f"{ppm:.0f} ppm of nitrite in {product} is beyond the law. {limit.law}. {FOLLOW}")
    said = [law.strip()] if law else []
    if limit is not None and ppm > limit.usual + _SLIP_G and limit.note:
        said.append(limit.note)
    if _does_less(ppm):
        said.append(LITTLE)
    return tuple(said)


def _does_less(ppm: float) -> bool:
    """80 mg/kg of the ion, the Union's most, are 119.98 of sodium nitrite and count as 120."""
    return ppm < _LEAST_PPM - 0.05


def on_scales(mix: Recipe, step_g: float, nitrite_percent: float, base_g: float) -> Recipe:
    """The same as scales can show it: the curing salt down to the step below, never up; the others to the nearest,
    with the salt that is left out of the curing salt made up by plain salt.

    ``step_g`` is what the scales show; ``base_g`` the weight that takes up cure, in a brine with its water.
    Valid: steps above 0; curing salt of less than 10 g only on scales that show 0.01 g.
    Source: arithmetic; 0.01 g below 10 g is common practice, since half a gram of 5 is a tenth of the nitrite.
    Raises: OutOfRange for scales too coarse.
    """
    if step_g <= 0:
        raise OutOfRange("A step of scales in g", step_g, "more than 0 g")
    if mix.curing_salt_g < _FINE_BELOW_G and step_g > _FINE_G:
        advice = (
            f"{mix.curing_salt_g:.2f} g of curing salt is too little for these scales: half a step off is "
            f"{50 * step_g / mix.curing_salt_g:.0f} % of the nitrite. Borrow a pair that shows 0.01 g, or take a weak "
            "curing salt (0.4 to 0.6 % nitrite), of which more is weighed."
        )
        raise OutOfRange("A step of scales in g", step_g, "0.01 g, for less than 10 g of curing salt", advice)
    cure = floor(round(mix.curing_salt_g / step_g, 6)) * step_g
    ppm = ingoing_ppm(cure, strength(nitrite_percent), base_g)
    says = (*mix.says, LITTLE) if _does_less(ppm) and step_g > _FINE_G and LITTLE not in mix.says else mix.says
    left_out = (mix.curing_salt_g - cure) * (1 - strength(nitrite_percent))
    salt, sugar = (round(grams / step_g) * step_g for grams in (mix.salt_g + left_out, mix.sugar_g))
    return Recipe(cure, salt, sugar, ppm, says)


def _amounts(meat_g: float, salt_percent: float, sugar_percent: float, water_g: float, product: Product) -> None:
    if meat_g <= 0:
        raise OutOfRange("A weight", meat_g, "more than 0 g")
    if water_g < 0:
        raise OutOfRange("Water", water_g, "0 g and more")
    least = _LEAST_IN_MINCE if product == "minced" else _LEAST_SALT_PERCENT
    if not least <= salt_percent <= _MOST_SALT_PERCENT:
        advice = "Less does not hold it while it cures; more is for soaking, to a recipe of its own."
        raise OutOfRange("Salt", salt_percent, f"{least:g} to {_MOST_SALT_PERCENT:g} %", advice)
    if not 0 <= sugar_percent <= _MOST_SUGAR:
        raise OutOfRange("Sugar", sugar_percent, f"0 to {_MOST_SUGAR:g} %")


def _no_nitrate(nitrate_percent: float, product: Product) -> None:
    if nitrate_percent < 0:
        raise OutOfRange("Nitrate", nitrate_percent, "0 % and more")
    if nitrate_percent == 0:
        return
    if product in ("dry-cured bacon", "brined bacon"):
        raise Refused(f"A curing salt with nitrate is never for bacon, which is fried. {FOLLOW}")
    raise Refused(
        "A curing salt with nitrate is for goods dried for months, to a recipe of an extension service: none is"
        f" reckoned here. {FOLLOW}"
    )


def _known_kind(nitrite_percent: float) -> tuple[str, ...]:
    """Strengths between the weak and the strong kinds are rarely sold."""
    if any(low <= nitrite_percent <= high for low, high in (_WEAK, _STRONG)):
        return ()
    return (
        f"Few curing salts have {nitrite_percent:g} %: most have 0.4 to 0.6, or 5.67 to 6.25. Read the packet again.",
    )
