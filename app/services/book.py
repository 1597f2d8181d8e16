"""The book: all that a service needs, one for a process; and sessions in which the projection is up to date."""

from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from threading import Lock
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import HoldingRow
from app.rules.facts import Tick
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Plan
from app.services import counted
from app.services.house import House, KeptHouse
from app.services.memory import AHEAD_DAYS
from app.services.planning import Planning
from app.services.project import Projector, Shown
from app.services.together import Together
from app.settings import Settings
from app.sheets.library import load, mark
from app.trade.climate.normals_season import NormalsSeason


class Book:
    """Records, knowledge and the plan. Reading is free; writes come one after another."""

    def __init__(self, settings: Settings, *, now: Callable[[], datetime], today: date | None = None) -> None:
        self.settings = settings
        self.now = now
        self.engine = store.open_database(settings, now=now())
        self.library = load(settings.sheets)
        self.steps = {(sheet.id, step.id): step for sheet in self.library.sheets.values() for step in sheet.steps}
        self.shown = Shown(self.library.sheets)
        self.jobs: dict[str, Any] = {}  # what `app.services.jobs` made lately
        self._fixed_today = today
        self._write_lock = Lock()
        self._together = Together()
        self._house = KeptHouse()
        self._planning = Planning(
            self.library, mark(settings.sheets), self._house, Projector(self.shown), self._together, now, self.today
        )
        with store.reading(self.engine) as session:
            self.house(session)

    def forget(self) -> None:
        """Let go of the plan and the household in memory, when they may not be so."""
        self._planning.forget()
        self._house.forget()

    def close(self) -> None:
        """Let go of the records."""
        self.engine.dispose()

    # ── The only clock ────────────────────────────────────────────────────────────────────────────────────────────

    def today(self, timezone: str = "") -> date:
        """The day it is at the holding."""
        if self._fixed_today is not None:
            return self._fixed_today
        return self.day_of(self.now(), timezone)

    def day_of(self, moment: datetime, timezone: str = "") -> date:
        """The day that a moment falls on at the holding, whatever day the calendar stands at."""
        holding = self._house.last_read
        name = timezone or (holding.timezone if holding is not None else "")
        try:
            return moment.astimezone(ZoneInfo(name) if name else None).date()
        except (ZoneInfoNotFoundError, ValueError):
            return moment.date()

    # ── Sessions ──────────────────────────────────────────────────────────────────────────────────────────────────

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees one moment, with the projection up to date."""
        if self._together.session is not None:
            self.settle()
            yield self._together.session
            return
        with store.reading(self.engine) as session:
            if self._is_fresh(session):
                yield session
                return
        with self.writing():
            pass
        with store.reading(self.engine) as session:
            counted.see(session, store.facts_version(session))
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session that holds the records to itself, the projection up to date; an error takes everything back."""
        shared = self._together.session
        if shared is not None:
            with self._together.apart(shared, lambda: self._planning.gone_on):
                yield shared
            return
        with self._write_lock:
            try:
                with store.writing(self.engine) as session:
                    if not self._is_fresh(session):
                        self._planning.all(session)
                    counted.begin(session)
                    yield session
            except BaseException:
                self.forget()
                self._house.season.forget()  # its count of facts may come again, and mean something else
                raise

    @contextmanager
    def together(self) -> Iterator[Session]:
        """Several writes as one: those inside share this session, and the projection is written once, at the end.

        An error of one of them takes back that one alone. Raises: `app.services.together.Spoilt` when it can't.
        """
        with self.writing() as session:
            self._together.begin(session)
            try:
                yield session
                self.settle()
            finally:
                self._together.end()

    def settle(self, entry: str = "") -> None:
        """Within `together`: write what was put off; with ``entry``, only when something of it was."""
        shared = self._together
        if shared.session is not None and shared.waits and (not entry or shared.concerns(entry)):
            self._planning.write_put_off(shared.session)

    def _is_fresh(self, session: Session) -> bool:
        state = store.state(session)
        version = int(state.get("facts", 0))
        counted.see(session, version)
        self.house(session)
        return self._planning.is_fresh(state, version)

    # ── The household ─────────────────────────────────────────────────────────────────────────────────────────────

    @property
    def name(self) -> str:
        """The holding's name, "" before the first run; as it was last read."""
        holding = self._house.last_read
        return holding.name if holding is not None else ""

    @property
    def imperial(self) -> bool:
        """Whether the household weighs in pounds and measures in feet; as it was last read."""
        holding = self._house.last_read
        return holding is not None and holding.units == "imperial"

    def house(self, session: Session) -> House:
        """The holding, its people and who is away."""
        return self._house.of(session)

    def holding(self, session: Session) -> HoldingRow:
        """The holding.

        Raises: MissingFact while the first run is not done.
        """
        return self._house.holding(session)

    def season(self, session: Session) -> NormalsSeason:
        """The season of the place.

        Raises: MissingFact while the first run is not done.
        """
        return self._house.season_of(session)

    # ── The plan ──────────────────────────────────────────────────────────────────────────────────────────────────

    def planned(self, session: Session, today: Day) -> Plan:
        """Everything that follows from the facts today, over the next three years.

        Raises: MissingFact while the first run is not done.
        """
        return self._planning.plan(session, today)

    def live(self, session: Session, today: Day) -> Live:
        """The plan as it stands, for one entry's share of it or its bars; it is for reading only.

        Raises: MissingFact while the first run is not done.
        """
        return self._planning.live(session, today)

    def is_far(self, day: Day) -> bool:
        """Whether a day lies beyond the projection."""
        return day > self.today().toordinal() + AHEAD_DAYS

    def planned_far(self, session: Session, today: Day, last: Day) -> Live:
        """A plan that reaches beyond the projection; it is never written.

        Raises: MissingFact while the first run is not done.
        """
        return self._planning.far(session, today, last)

    # ── Planning again, in the session that changed facts ─────────────────────────────────────────────────────────

    def replan(self, session: Session, changed: Collection[str] | None, today: Day) -> frozenset[str]:
        """Plan again after the facts of some entries were changed in this session, and write what differs.

        ``changed`` are their ids, made entries' among them; None when the holding itself changed. Gives the ids of
        the entries laid again.
        """
        if changed is not None:
            return self._planning.entries_changed(session, changed, today)
        self.forget()
        return self._planning.all(session)

    def replan_ticks(self, session: Session, ticks: Sequence[Tick], today: Day) -> frozenset[str]:
        """The same after these ticks, and nothing else, were taken down in this session.

        Within `together` it is put off until the end, and nobody is named yet.
        """
        if self._together.session is session:
            self._together.put_off_ticks(ticks, today)
            return frozenset()
        return self._planning.ticked(session, ticks, today)

    def replan_weather(self, session: Session, days: Collection[Day] | None = None) -> frozenset[str]:
        """The same after the weather on record was changed in this session, and nothing else.

        ``days`` are those that were written or taken off, when they are few; None reads the whole record again. Only
        entries one of whose questions the season answers otherwise are laid again.
        """
        return self._planning.weather_changed(session, days, self.today().toordinal())

    def replan_ways(self, session: Session, today: Day) -> frozenset[str]:
        """The same after the household's own ways, and nothing else, were changed in this session."""
        return self._planning.ways_changed(session, today)

    def replan_lots(self, session: Session, lots: Collection[str], today: Day) -> None:
        """The same after something was said of some lots, and nothing else, in this session: no date moves."""
        self._planning.lots_changed(session, lots, today)
