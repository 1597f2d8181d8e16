"""The book: everything that a service needs, one for a process. It keeps the plan in memory and the projection true."""

import hashlib
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from threading import Lock
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy.exc import DatabaseError, IntegrityError
from sqlalchemy.orm import Session

from app.errors import DataFolderError, MissingFact
from app.records import store
from app.records.sqlite import said
from app.records.store import AbsenceRow, HoldingRow, PersonRow
from app.rules.facts import Holding, Tick
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.tasks import Plan
from app.rules.terms import NATIONS, Nation
from app.services.larder import batches
from app.services.memory import AHEAD_DAYS, Changed, Make, Memory, planning_ticks
from app.services.project import Projector, Shown
from app.services.together import Together
from app.services.weather.season import KeptSeason
from app.settings import Settings
from app.sheets.library import ROOT, load
from app.trade.climate.normals_season import NormalsSeason


class House(NamedTuple):
    """What is asked of the household on every page, read once for each change of facts."""

    version: int
    holding: HoldingRow | None
    people: tuple[PersonRow, ...]
    absences: tuple[AbsenceRow, ...]


class Book:
    """Records, knowledge and the plan. Reading is free; writes come one after another."""

    def __init__(self, settings: Settings, *, now: Callable[[], datetime], today: date | None = None) -> None:
        self.settings = settings
        self.now = now
        self.engine = store.open_database(settings, now=now())
        self.library = load(settings.sheets)
        self.shown = Shown(self.library.sheets)
        self.steps = {(sheet.id, step.id): step for sheet in self.library.sheets.values() for step in sheet.steps}
        self._fixed_today = today
        self._sheets_mark = _mark(settings.sheets)
        self._write_lock = Lock()
        self._memory = Memory()
        self._projector = Projector(self.shown)
        self.jobs: dict[str, Any] = {}
        self.printed: dict[str, dict[str, int]] = {}
        self._house: House | None = None
        self._season = KeptSeason()
        self._together = Together()
        with self._plainly(), store.reading(self.engine) as session:
            self.house(session)

    def close(self) -> None:
        """Let go of the records."""
        self.engine.dispose()

    @property
    def name(self) -> str:
        """The holding's name, "" before the first run; as it was last read."""
        house = self._house
        return house.holding.name if house is not None and house.holding is not None else ""

    @property
    def imperial(self) -> bool:
        """Whether the household weighs in pounds and measures in feet; as it was last read."""
        house = self._house
        return house is not None and house.holding is not None and house.holding.units == "imperial"

    # ── The only clock ────────────────────────────────────────────────────────────────────────────────────────────

    def today(self, timezone: str = "") -> date:
        """The day it is at the holding."""
        if self._fixed_today is not None:
            return self._fixed_today
        return self.day_of(self.now(), timezone)

    def day_of(self, moment: datetime, timezone: str = "") -> date:
        """The day that a moment falls on at the holding, whatever day the calendar stands at."""
        name = timezone or (self._house.holding.timezone if self._house and self._house.holding else "")
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
        with self._plainly():
            with store.reading(self.engine) as session:
                if self._is_fresh(session):
                    yield session
                    return
            with self.writing():
                pass
            with store.reading(self.engine) as session:
                session.info["facts"] = store.facts_version(session)
                yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session that holds the records to itself, the projection up to date; an error takes everything back."""
        shared = self._together.session
        if shared is not None:
            with self._together.apart(shared, lambda: (self._memory.version, len(self._together.ticks))):
                yield shared
            return
        with self._write_lock, self._plainly():
            try:
                with store.writing(self.engine) as session:
                    if not self._is_fresh(session):
                        self._project_all(session)
                    session.info["begun"] = session.info.pop("facts")
                    yield session
            except BaseException:
                self._forget()
                self._season.forget()  # its count of facts may come again, and mean something else
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
        session = shared.session
        if session is None or not shared.waits or (entry and not shared.concerns(entry)):
            return
        if shared.ticks:
            ticks, shared.ticks = shared.ticks, ()
            self._plan_ticks(session, ticks, shared.today)
        if shared.before is not None:
            before, touched = shared.before, shared.touched
            shared.clear()
            self._project(session, before, touched, shared.today)

    @contextmanager
    def _plainly(self) -> Iterator[None]:
        """What the database says when it can't be used, in a plain sentence."""
        try:
            yield
        except DatabaseError as error:
            if isinstance(error, IntegrityError):
                raise
            raise DataFolderError(said(self.settings.database, error.orig)) from error

    def _is_fresh(self, session: Session) -> bool:
        state = store.state(session)
        version = int(state.get("facts", 0))
        session.info["facts"] = version
        self.house(session)
        wanted = (str(version), str(self.today().toordinal()), self._sheets_mark)
        return (state.get("planned"), state.get("as_of"), state.get("sheets")) == wanted

    def _forget(self) -> None:
        self._memory.forget()
        self._house = None
        self.printed.clear()

    # ── The household ─────────────────────────────────────────────────────────────────────────────────────────────

    def house(self, session: Session) -> House:
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
        row = self.house(session).holding
        if row is None:
            raise MissingFact("Where the holding is", "first")
        return row

    def season(self, session: Session) -> NormalsSeason:
        """The season of the place.

        Raises: MissingFact while the first run is not done.
        """
        return self._season.of(session, self.holding(session), version_of(session))

    def planner(self, session: Session) -> Planner:
        """A planner for the holding as it is now.

        Raises: MissingFact while the first run is not done.
        """
        row = self.holding(session)
        nation: Nation | None = next((name for name in NATIONS if name == row.nation), None)
        holding, library = Holding(nation, self.season(session)), self.library
        return Planner(holding, library.sheets, library.law, store.own_ways(session))

    # ── The plan ──────────────────────────────────────────────────────────────────────────────────────────────────

    def planned(self, session: Session, today: Day) -> Plan:
        """Everything that follows from the facts today, over the next three years.

        Raises: MissingFact while the first run is not done.
        """
        return self._memory.plan(version_of(session), today, self._maker(session))

    def live(self, session: Session, today: Day) -> Live:
        """The plan as it stands, for one entry's share of it or its bars; it is for reading only.

        Raises: MissingFact while the first run is not done.
        """
        put_off = self._together.session is session and self._together.ticks
        version = session.info["begun"] if put_off else version_of(session)
        return self._memory.seen(version, today, self._maker(session))

    def is_far(self, day: Day) -> bool:
        """Whether a day lies beyond the projection."""
        return day > self.today().toordinal() + AHEAD_DAYS

    def planned_far(self, session: Session, today: Day, last: Day) -> Live:
        """A plan that reaches beyond the projection; it is never written.

        Raises: MissingFact while the first run is not done.
        """
        return self._memory.far(version_of(session), today, last, self._maker(session))

    def _maker(self, session: Session) -> Make:
        def make(today: Day, last: Day) -> Live:
            entries, amendments = store.entries(session), store.amendments(session)
            return Live(self.planner(session), entries, amendments, planning_ticks(store.ticks(session)), today, last)

        return make

    def replan(self, session: Session, changed: Collection[str] | None, today: Day) -> frozenset[str]:
        """Plan again after the facts of some entries were changed in this session, and write what differs.

        ``changed`` are their ids, made entries' among them; None when the holding itself changed. Gives the ids of
        the entries laid again.
        """
        if changed is None:
            self._forget()
            session.info.pop("facts", None)
            return self._project_all(session)
        if not self._follows_on(session, today):
            return self._project_all(session)
        ids = frozenset(changed)
        found = Changed(ids)
        if ids:
            said = planning_ticks(store.ticks(session, ids))
            found = Changed(ids, tuple(store.entries(session, ids)), tuple(store.amendments(session, ids)), tuple(said))
        before = self._memory.seen(session.info["begun"], today, self._maker(session))
        return self._project_some(session, before, self._memory.change(found), today)

    def replan_ticks(self, session: Session, ticks: Sequence[Tick], today: Day) -> frozenset[str]:
        """The same after these ticks, and nothing else, were taken down in this session.

        Within `together` it is put off until the end, and nobody is named yet.
        """
        if self._together.session is session:
            self._together.put_off_ticks(ticks, today)
            return frozenset()
        return self._plan_ticks(session, ticks, today)

    def _plan_ticks(self, session: Session, ticks: Sequence[Tick], today: Day) -> frozenset[str]:
        if not self._follows_on(session, today):
            return self._project_all(session)
        before = self._memory.seen(session.info["begun"], today, self._maker(session))
        return self._project_some(session, before, self._memory.add_ticks(planning_ticks(ticks)), today)

    def replan_weather(self, session: Session, days: Collection[Day] | None = None) -> frozenset[str]:
        """The same after the weather on record was changed in this session, and nothing else.

        ``days`` are those that were written or taken off, when they are few; None reads the whole record again. Only
        entries one of whose questions the season answers otherwise are laid again.
        """
        today = self.today().toordinal()
        if self.house(session).holding is None or not self._follows_on(session, today):
            return self._project_all(session)
        before = self._memory.seen(session.info["begun"], today, self._maker(session))
        season = self._season.after(session, self.holding(session), version_of(session), days)
        return self._project_some(session, before, self._memory.reseason(season), today)

    def replan_ways(self, session: Session, today: Day) -> frozenset[str]:
        """The same after the household's own ways, and nothing else, were changed in this session."""
        if self.house(session).holding is None or not self._follows_on(session, today):
            return self._project_all(session)
        before = self._memory.seen(session.info["begun"], today, self._maker(session))
        return self._project_some(session, before, self._memory.with_ways(store.own_ways(session)), today)

    def replan_lots(self, session: Session, lots: Collection[str], today: Day) -> None:
        """The same after something was said of some lots, and nothing else, in this session: no date moves."""
        self.replan(session, (), today)
        if self.house(session).holding is not None:
            batches.project_lots(session, self.live(session, today), lots)

    def _follows_on(self, session: Session, today: Day) -> bool:
        """Whether the plan in memory is what the projection was written from, so that a difference can be told."""
        begun = session.info["begun"]
        return self._memory.version == begun and self._memory.holds(begun, today)

    # ── The projection ────────────────────────────────────────────────────────────────────────────────────────────

    def _project_some(self, session: Session, before: Live, touched: frozenset[str], today: Day) -> frozenset[str]:
        version = version_of(session)
        self._memory.counted(version)
        session.info["begun"] = version
        if touched and self._together.session is session:
            self._together.put_off(before, touched, today)
        elif touched:
            self._project(session, before, touched, today)
        store.put_planned(session, version)
        if self._house is not None:
            self._house = self._house._replace(version=version)
        return touched

    def _project(self, session: Session, before: Live, touched: frozenset[str], today: Day) -> None:
        after = self.live(session, today)
        self._projector.some(session, before, after, touched, self.now())
        batches.project_some(session, after, touched)

    def _project_all(self, session: Session) -> frozenset[str]:
        """Write the whole projection: on a new day, after a change from outside, or when it was dropped."""
        today = self.today().toordinal()
        self._together.clear()
        version = version_of(session)
        laid: frozenset[str] = frozenset()
        if self.house(session).holding is not None:
            live = self.live(session, today)
            self._projector.all(session, live, self.now())
            batches.project_all(session, live)
            laid = frozenset(live.laid)
        horizon = str(today + AHEAD_DAYS)
        store.set_state(session, planned=str(version), as_of=str(today), horizon=horizon, sheets=self._sheets_mark)
        return laid


def version_of(session: Session) -> int:
    """How often facts had been changed at the moment this session sees."""
    known = session.info.get("facts")
    return store.facts_version(session) if known is None else int(known)


def _mark(own: Path) -> str:
    """A digest of the knowledge that the projection rests on: the program's files and the household's own."""
    digest = hashlib.blake2b(digest_size=12)
    for path in sorted([*ROOT.rglob("*.toml"), *own.glob("*.toml")]):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()
