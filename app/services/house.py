"""The household as every page asks for it: holding, people and season, read once for each count of facts."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import MissingFact
from app.records import store
from app.records.store import AbsenceRow, HoldingRow, PersonRow
from app.services.counted import version_of
from app.services.weather.season import KeptSeason
from app.trade.climate.normals_season import NormalsSeason


class House(NamedTuple):
    """The holding (None before the first run), its people and who is away, at one count of facts."""

    version: int
    holding: HoldingRow | None
    people: tuple[PersonRow, ...]
    absences: tuple[AbsenceRow, ...]


class KeptHouse:
    """The household and the season of its place, kept until facts change."""

    def __init__(self) -> None:
        self._house: House | None = None
        self.season = KeptSeason()

    @property
    def last_read(self) -> HoldingRow | None:
        """The holding as it was last read, for what is asked outside a session."""
        return self._house.holding if self._house is not None else None

    def of(self, session: Session) -> House:
        """The holding, its people and who is away."""
        version = version_of(session)
        house = self._house
        if house is None or house.version != version:
            people, away = store.people(session), store.absences(session)
            house = House(version, store.holding(session), tuple(people), tuple(away))
            for row in (house.holding, *house.people, *house.absences):
                if row is not None:
                    session.expunge(row)  # the session's end would make it forget what it says
            self._house = house
        return house

    def holding(self, session: Session) -> HoldingRow:
        """The holding.

        Raises: MissingFact while the first run is not done.
        """
        row = self.of(session).holding
        if row is None:
            raise MissingFact("Where the holding is", "first")
        return row

    def season_of(self, session: Session) -> NormalsSeason:
        """The season of the place.

        Raises: MissingFact while the first run is not done.
        """
        return self.season.of(session, self.holding(session), version_of(session))

    def still_holds(self, version: int) -> None:
        """Facts went on to this count, and none of them was the household's."""
        if self._house is not None:
            self._house = self._house._replace(version=version)

    def forget(self) -> None:
        """Let go of the household, when it may not be so; the season tells by itself whether it still is."""
        self._house = None
