"""When the hens are let out and shut up: by the sun of the place, for the rounds of a day."""

from datetime import datetime, timedelta, tzinfo
from typing import NamedTuple

from app.trade.climate.daylength import sun

AFTER_SUNSET_MIN = 20
"""Hens are in by then, and the fox is not yet about. Source: common practice, 15 to 30 minutes."""


class HenDay(NamedTuple):
    """Local times: let out at sunrise or later, shut up ``shut``; None where the sun does not rise or set that day."""

    out: datetime | None
    shut: datetime | None


def hen_day(latitude_deg: float, longitude_deg: float, zone: tzinfo, day: int) -> HenDay:
    """When to let out and shut up poultry on a day: sunrise, and twenty minutes after sunset.

    Valid: as `sun`; hills shorten the day. Source: `sun`; common practice.
    Raises: OutOfRange for a place that is not on the globe.
    """
    today = sun(latitude_deg, longitude_deg, zone, day)
    shut = today.sets + timedelta(minutes=AFTER_SUNSET_MIN) if today.sets else None
    return HenDay(today.rises, shut)
