"""The season as it would be in an ordinary year: as if nothing were known of this one."""

from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.season import Season, Spread
from app.trade.climate.this_year import season_first


class OrdinaryYear:
    """Answers a `Season`: marks of frost and light as the season does, and warmth, of the air and of the soil, without
    the days that have been since the season year began.

    Source: `RecordSeason` and `NormalsSeason`.
    """

    def __init__(self, season: RecordSeason, today: int, altitude_m: float | None = None) -> None:
        first = season_first(today, north=season.latitude_deg >= 0)
        self._season: Season = season
        self._before: Season = season.renewed(season.record.until(first - 1), season.normals, altitude_m)

    def mark(self, name: str, value: float, year: int) -> int | None:
        """The day of a mark: of the soil's warmth without this year's days, else as the season has it.

        Source: the season's own.
        """
        return (self._before if name.startswith("soil ") else self._season).mark(name, value, year)

    def warmth(self, total: float, base: float, since: int) -> Spread | None:
        """When so much warmth would have come, had this year been like others so far.

        Source: the season's own.
        """
        return self._before.warmth(total, base, since)


def ordinary_year(season: NormalsSeason, today: int, altitude_m: float | None = None) -> Season | None:
    """The same place in an ordinary year; None where no day of this one is known, so that nothing differs.

    ``altitude_m`` is that of the holding, for a season whose curves rest on normals from another height.
    Source: none.
    """
    if not isinstance(season, RecordSeason) or season.record.last_known is None:
        return None
    first = season_first(today, north=season.latitude_deg >= 0)
    return OrdinaryYear(season, today, altitude_m) if season.record.last_known >= first else None
