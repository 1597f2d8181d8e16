"""The season of the holding: from its days on record, else from monthly means, else from its two frost dates."""

from collections.abc import Collection, Sequence
from datetime import date
from functools import lru_cache
from typing import Literal, NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import HoldingRow, NormalsMonthRow
from app.sheets.places import places
from app.trade.climate.frost import OwnFrost
from app.trade.climate.lie import lie_of
from app.trade.climate.nearest import nearest_by_frost
from app.trade.climate.normals import Normals, turned
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.record import DailyRecord
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.season import Basis

OWN = "own"
"""What a holding's normals are called where the household typed its own."""


class Chosen(NamedTuple):
    """The monthly means that stand for a holding: what kind they are, what is said of them, and their height."""

    normals: Normals
    kind: Literal["months", "frost dates"]
    said: str


def season_of(
    row: HoldingRow,
    record: DailyRecord | None = None,
    months: Sequence[NormalsMonthRow] = (),
    before: NormalsSeason | None = None,
) -> NormalsSeason:
    """The season that answers for a holding; ``before`` is one of the same holding, of which what still holds is kept.

    Best first: days on record; monthly means, typed or those of a place that comes with the program; two frost dates
    alone, with which goes the place whose frosts lie nearest. Frost dates of the household's own stand before monthly
    means. South of the equator a place that comes with the program is turned by half a year.
    Source: the kinds of climate record; `app/sheets/normals/places.toml`.
    """
    last = _own_frost(row.last_frost_10, row.last_frost_50, row.last_frost_90)
    first = _own_frost(row.first_frost_10, row.first_frost_50, row.first_frost_90)
    chosen = chosen_normals(row, months, last, first)
    lie = lie_of(row.latitude, row.aspect, row.frost_hollow)
    scatter = places().scatter
    if record is not None and len(record):
        known = before if isinstance(before, RecordSeason) else None
        return RecordSeason(
            row.latitude, record, chosen.normals, scatter, row.altitude_m, last, first,
            lie=lie, said=chosen.said, before=known,
        )  # fmt: skip
    basis = Basis(chosen.kind, 0, None, None, " ".join(one for one in (chosen.said, lie.said) if one))
    return NormalsSeason(
        row.latitude, chosen.normals, scatter, row.altitude_m, last, first, lie=lie, basis=basis
    )  # fmt: skip


def chosen_normals(
    row: HoldingRow, months: Sequence[NormalsMonthRow], last: OwnFrost | None, first: OwnFrost | None
) -> Chosen:
    """The monthly means that a holding named, typed, or is given for its frost dates."""
    if row.normals == OWN and len(months) == 12:
        return Chosen(_typed(months), "months", f"Reckoned from the monthly means you typed.{_own_dates(last, first)}")
    known = places()
    south = row.latitude < 0
    shipped = {key: turned(one) if south else one for key, one in known.normals.items()}
    flipped = ", turned by half a year" if south else ""
    if row.normals in shipped:
        normals = shipped[row.normals]
        said = f"Reckoned from monthly means: {normals.name}{flipped}.{_own_dates(last, first)}"
        return Chosen(normals, "months", said)
    if last is not None or first is not None:
        normals = shipped[_nearest(row.latitude, last, first)]
        said = (
            "Reckoned from the frost dates you gave; warmth and all else from the place that comes with the program "
            f"whose frosts lie nearest, {normals.name}{flipped}."
        )
        return Chosen(normals, "frost dates", said)
    normals = next(iter(shipped.values()))
    return Chosen(normals, "months", f"No climate has been said: {normals.name}{flipped} stands in.")


@lru_cache(maxsize=32)
def _nearest(latitude_deg: float, last: OwnFrost | None, first: OwnFrost | None) -> str:
    known = places()
    shipped = [turned(one) if latitude_deg < 0 else one for one in known.normals.values()]
    return nearest_by_frost(latitude_deg, shipped, known.scatter, last, first).id


def _own_dates(last: OwnFrost | None, first: OwnFrost | None) -> str:
    names = [name for name, own in (("last", last), ("first", first)) if own is not None]
    return f" The {' and the '.join(names)} frost {'is' if len(names) == 1 else 'are'} your own." if names else ""


def _typed(months: Sequence[NormalsMonthRow]) -> Normals:
    """The household's own monthly means; they are those of the place itself, and carried to no other height."""
    rain = [one.rain_mm for one in months]
    return Normals(
        id=OWN,
        name="the monthly means you typed",
        max_c=tuple(one.max_c for one in months),
        min_c=tuple(one.min_c for one in months),
        rain_mm=() if None in rain else tuple(float(one or 0.0) for one in rain),
        basis="published",
        source="typed by the household",
    )


# ── What it rests on ──────────────────────────────────────────────────────────────────────────────────────────────


def rests_on(row: HoldingRow, weather: tuple[object, ...] = ()) -> tuple[object, ...]:
    """The facts of a holding that its season rests on, and the mark of its weather: while they stand, so does it."""
    return (
        row.latitude, row.altitude_m, row.aspect, row.frost_hollow, row.normals, row.last_frost_10, row.last_frost_50,
        row.last_frost_90, row.first_frost_10, row.first_frost_50, row.first_frost_90, weather,
    )  # fmt: skip


class KeptSeason:
    """The season of the holding, worked out once for what it rests on, and brought up to date day by day."""

    def __init__(self) -> None:
        self._kept: tuple[int, tuple[object, ...], NormalsSeason] | None = None

    def forget(self) -> None:
        """Let go of it, when it may not be so."""
        self._kept = None

    def of(self, session: Session, row: HoldingRow, version: int) -> NormalsSeason:
        """The season at one count of facts."""
        kept = self._kept
        if kept is not None and kept[0] == version:
            return kept[2]
        facts = rests_on(row, store.weather_stamp(session))
        season = kept[2] if kept is not None and kept[1] == facts else _read(session, row, kept[2] if kept else None)
        self._kept = (version, facts, season)
        return season

    def after(self, session: Session, row: HoldingRow, version: int, days: Collection[int] | None) -> NormalsSeason:
        """The season after some days were written or taken off, when it is known of before: only those are read."""
        kept = self._kept
        if kept is None or not days or not isinstance(kept[2], RecordSeason):
            return self.of(session, row, version)
        season = _with_days(session, row, kept[2], days)
        self._kept = (version, rests_on(row, store.weather_stamp(session)), season)
        return season


def _months(session: Session, row: HoldingRow) -> Sequence[NormalsMonthRow]:
    return store.normals_months(session) if row.normals == OWN else ()


def _read(session: Session, row: HoldingRow, before: NormalsSeason | None) -> NormalsSeason:
    """The season with all the weather on record."""
    days = store.weather_record(session)
    record = DailyRecord.of((day.day.toordinal(), day.min_c, day.max_c, day.rain_mm) for day in days)
    return season_of(row, record, _months(session, row), before)


def _with_days(session: Session, row: HoldingRow, season: RecordSeason, days: Collection[int]) -> NormalsSeason:
    found = {one.day.toordinal(): one for one in store.weather_days(session, min(days), max(days))}
    rows = []
    for day in sorted(days):
        one = found.get(day)
        rows.append((day, one.min_c, one.max_c, one.rain_mm) if one else (day, None, None, None))
    return season_of(row, season.record.with_days(rows), _months(session, row), season)


# ── The household's own frost dates ───────────────────────────────────────────────────────────────────────────────


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
