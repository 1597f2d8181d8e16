"""The season of the holding: its normals, its height, and its own frost dates where it gave them."""

from datetime import date

from app.records.store import HoldingRow
from app.sheets.places import places
from app.trade.climate.frost import OwnFrost
from app.trade.climate.normals_season import NormalsSeason


def season_of(row: HoldingRow) -> NormalsSeason:
    """The season that answers for a holding; where it named no place, the first that came with the program.

    Source: `app/sheets/normals/places.toml`, and the household's own frost dates.
    """
    known = places()
    normals = known.normals.get(row.normals or "") or next(iter(known.normals.values()))
    return NormalsSeason(
        row.latitude,
        normals,
        known.scatter,
        row.altitude_m,
        _own_frost(row.last_frost_10, row.last_frost_50, row.last_frost_90),
        _own_frost(row.first_frost_10, row.first_frost_50, row.first_frost_90),
    )


def rests_on(row: HoldingRow) -> tuple[object, ...]:
    """The facts of a holding that its season rests on: while they stand, so does the season."""
    return (
        row.latitude, row.altitude_m, row.normals, row.last_frost_10, row.last_frost_50, row.last_frost_90,
        row.first_frost_10, row.first_frost_50, row.first_frost_90,
    )  # fmt: skip


def _own_frost(early: str | None, middle: str | None, late: str | None) -> OwnFrost | None:
    if middle is None:
        return None
    on = _in_year(middle)
    return OwnFrost(on.month, on.day, _apart(early, middle), _apart(middle, late))


def _apart(first: str | None, second: str | None) -> float | None:
    """How many days lie from one day of the year to another, the shorter way round; None where one is not known."""
    if first is None or second is None:
        return None
    days = (_in_year(second) - _in_year(first)).days % 365
    return float(days) if 0 < days < 183 else None


def _in_year(text: str) -> date:
    month, day = int(text[2:4]), int(text[5:7])
    return date(2001, month, 28 if (month, day) == (2, 29) else day)
