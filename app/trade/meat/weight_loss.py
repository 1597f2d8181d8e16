"""Drying by weight: what it should weigh, how far it is, and when it will be there by its last weighings."""

from collections.abc import Sequence
from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work

_LEAST_DAYS = 1


def target_kg(green_kg: float, loss_percent: float) -> float:
    """What a piece weighs once it has lost so much: ``green * (1 - loss)``.

    Valid: more than 0 kg, losses of 0 to 45 %.
    Source: arithmetic; 5 to 10 % for bacon, 30 to 35 % for pieces dried to slice raw, are common practice.
    Raises: OutOfRange beyond that.
    """
    if green_kg <= 0:
        raise OutOfRange("A weight", green_kg, "more than 0 kg")
    if not 0 <= loss_percent <= 45:
        raise OutOfRange("A loss", loss_percent, "0 to 45 %")
    return green_kg * (1 - loss_percent / 100)


def loss_percent(green_kg: float, now_kg: float) -> float:
    """What a piece has lost of its green weight, in per cent: ``100 * (1 - now / green)``; a gain is below 0.

    Valid: weights above 0. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    for kg in (green_kg, now_kg):
        if kg <= 0:
            raise OutOfRange("A weight", kg, "more than 0 kg")
    return 100 * (1 - now_kg / green_kg)


def salt_after_percent(salt_percent: float, loss: float) -> float:
    """Salt once it has dried, nothing having dripped: ``salt / (1 - loss / 100)``.

    Valid: losses of 0 to 45 %. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    return salt_percent / target_kg(1.0, loss)


def water_phase_salt_percent(salt_percent: float, water_percent: float) -> float:
    """Salt in the water of it: ``100 * salt / (salt + water)``, all of it in per cent of the whole.

    Never used to keep a vacuum pack beyond its ten days: fat and lean differ, and only a laboratory knows.
    Valid: 0 % salt and more, water above 0. Source: the common definition. Raises: OutOfRange beyond that.
    """
    if salt_percent < 0:
        raise OutOfRange("Salt", salt_percent, "0 % and more")
    if not 0 < water_percent <= 100:
        raise OutOfRange("Water", water_percent, "more than 0, up to 100 %")
    return 100 * salt_percent / (salt_percent + water_percent)


@work
def loss_days(
    kg: float, target_loss_percent: float, usual_percent_a_day: float, weighed: Sequence[tuple[int, float]] = ()
) -> Reckoned:
    """Days until a piece has lost so much, from its last two weighings, or at the usual rate before there are two.

    ``weighed`` are pairs of days since it was hung and kilos. The straight line through the last two is a little early
    since drying slows; each new weighing puts it right.
    Valid: as `target_kg`; a rate above 0.
    Source: arithmetic; the usual rate stands on the sheet (common practice).
    Raises: OutOfRange beyond that, and where the last weighings show no loss.
    """
    target = target_kg(kg, target_loss_percent)
    if usual_percent_a_day <= 0:
        raise OutOfRange("A daily loss", usual_percent_a_day, "more than 0 %")
    seen = sorted({day: one for day, one in weighed if one > 0}.items())
    if len(seen) >= 2 and seen[-1][1] <= target:
        return Reckoned(seen[-1][0], seen[-1][0], seen[-1][0], (f"weighed {seen[-1][1]:g} kg, {target:.3g} wanted",))
    if len(seen) < 2:
        start, at, a_day = (
            (*seen[-1], kg * usual_percent_a_day / 100) if seen else (0, kg, kg * usual_percent_a_day / 100)
        )
        said = f"at {usual_percent_a_day:g} % a day, until two weighings tell more"
    else:
        (first, was), (start, at) = seen[-2:]
        a_day = (was - at) / (start - first)
        said = f"{was:g} kg, then {at:g} kg after {start - first} days"
    if a_day <= 0:
        raise OutOfRange("A daily loss", a_day, "more than 0 kg", "It does not dry: look at room, air and scales.")
    best = max(_LEAST_DAYS, start + ceil(round(max(0.0, at - target) / a_day, 6)))
    return Reckoned(best, best, best + ceil((best - start) / 2), (f"{target:.3g} kg wanted; {said}",))
