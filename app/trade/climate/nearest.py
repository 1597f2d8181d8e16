"""Of several places the one whose frosts lie nearest to two dates: what stands in where nothing else is known."""

from collections.abc import Iterable
from datetime import date

from app.trade.climate.days import YEAR
from app.trade.climate.frost import OwnFrost
from app.trade.climate.normals import Normals, Scatter
from app.trade.climate.normals_season import NormalsSeason

_ANY_YEAR = 2025


def nearest_by_frost(
    latitude_deg: float,
    places: Iterable[Normals],
    scatter: Scatter,
    last_frost: OwnFrost | None,
    first_frost: OwnFrost | None,
) -> Normals:
    """The place whose middle frost dates lie the fewest days from the household's own; the first of equals.

    A place without such a frost lies half a year away.
    Source: own choice; the least sum of days apart over the dates given.
    """
    own = (("last frost", last_frost), ("first frost", first_frost))

    def apart(place: Normals) -> int:
        season = NormalsSeason(latitude_deg, place, scatter)
        return sum(
            _days_apart(frost, season.mark(name, 50, _ANY_YEAR)) for name, frost in own if frost is not None
        )  # fmt: skip

    return min(places, key=apart)


def _days_apart(own: OwnFrost, day: int | None) -> int:
    if day is None:
        return YEAR // 2
    on = date(_ANY_YEAR, own.month, own.day).toordinal()
    away = (day - on) % YEAR
    return min(away, YEAR - away)
