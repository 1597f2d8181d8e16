"""The book: everything that a service needs, one for a process. It keeps the plan in memory and the projection true."""

import hashlib
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from threading import Lock, RLock
from typing import NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy.exc import DatabaseError, IntegrityError
from sqlalchemy.orm import Session

from app.errors import DataFolderError, MissingFact
from app.records import store
from app.records.sqlite import said
from app.records.store import AbsenceRow, HoldingRow, PersonRow
from app.rules.clashes import clashes
from app.rules.facts import Holding, Tick
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.sheet import NATIONS, Nation
from app.rules.spans import Day
from app.rules.tasks import Laid, Plan
from app.services.project import Shown, clash_rows, lacks
from app.services.season import season_of
from app.settings import Settings
from app.sheets.library import ROOT, load
from app.trade.climate.normals_season import NormalsSeason

AHEAD_DAYS = 1096
"""The projection holds what opens up to so many days ahead: three years."""

FURTHER_DAYS = 731
"""A plan made for a month beyond the projection reaches so much further, for the months turned to next."""

FIRST_ROUND_LABEL = 19000101
"""A round's label is a day written YYYYMMDD; no other cycle is numbered so high."""


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
        self._memory_lock = RLock()  # never held over a commit: a reader waiting for it would hold the commit up
        self._live: Live | None = None
        self._live_version = -1
        self._far: tuple[int, Live] | None = None
        self._plan: Plan | None = None
        self.printed: dict[str, dict[str, int]] = {}
        self._house: House | None = None
        self._season: tuple[tuple[object, ...], NormalsSeason] | None = None
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

    # ── The only clock ────────────────────────────────────────────────────────────────────────────────────────────

    def today(self, timezone: str = "") -> date:
        """The day it is at the holding."""
        if self._fixed_today is not None:
            return self._fixed_today
        name = timezone or (self._house.holding.timezone if self._house and self._house.holding else "")
        try:
            return self.now().astimezone(ZoneInfo(name) if name else None).date()
        except (ZoneInfoNotFoundError, ValueError):
            return self.now().date()

    # ── Sessions ──────────────────────────────────────────────────────────────────────────────────────────────────

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees one moment, with the projection up to date."""
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
        with self._write_lock, self._plainly():
            try:
                with store.writing(self.engine) as session:
                    if not self._is_fresh(session):
                        self._project_all(session)
                    session.info["begun"] = session.info.pop("facts")
                    yield session
            except BaseException:
                self._forget()
                raise

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
        with self._memory_lock:
            self._live, self._plan, self._house, self._live_version = None, None, None, -1
            self.printed.clear()

    # ── The household ─────────────────────────────────────────────────────────────────────────────────────────────

    def house(self, session: Session) -> House:
        """The holding, its people and who is away."""
        version = _version(session)
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
        row = self.holding(session)
        facts = tuple(getattr(row, name) for name in _SEASON_FACTS)
        known = self._season
        if known is None or known[0] != facts:
            known = (facts, season_of(row))
            self._season = known
        return known[1]

    def planner(self, session: Session) -> Planner:
        """A planner for the holding as it is now.

        Raises: MissingFact while the first run is not done.
        """
        row = self.holding(session)
        nation: Nation | None = next((name for name in NATIONS if name == row.nation), None)
        return Planner(Holding(nation, self.season(session)), self.library.sheets, self.library.law)

    # ── The plan ──────────────────────────────────────────────────────────────────────────────────────────────────

    def planned(self, session: Session, today: Day) -> Plan:
        """Everything that follows from the facts today, over the next three years.

        Raises: MissingFact while the first run is not done.
        """
        with self._memory_lock:
            live = self.live(session, today)
            if self._plan is None:
                self._plan = live.plan()
            return self._plan

    def live(self, session: Session, today: Day) -> Live:
        """The plan in memory, for one entry's share of it or its bars; do not change it.

        Raises: MissingFact while the first run is not done.
        """
        with self._memory_lock:
            live = self._live
            version = _version(session)
            if live is None or self._live_version < version or live.as_of != today:
                live = self._planned_anew(session, today, today + AHEAD_DAYS)
                self._live, self._plan, self._live_version = live, None, version
            return live

    def is_far(self, day: Day) -> bool:
        """Whether a day lies beyond the projection."""
        return day > self.today().toordinal() + AHEAD_DAYS

    def planned_far(self, session: Session, today: Day, last: Day) -> Live:
        """A plan that reaches beyond the projection, kept until facts change; it is never written.

        Raises: MissingFact while the first run is not done.
        """
        version = _version(session)
        with self._memory_lock:
            far = self._far
            if far is None or far[0] != version or far[1].as_of != today or far[1].last < last:
                far = (version, self._planned_anew(session, today, last + FURTHER_DAYS))
                self._far = far
            return far[1]

    def _planned_anew(self, session: Session, today: Day, last: Day) -> Live:
        return Live(
            self.planner(session),
            store.entries(session),
            store.amendments(session),
            planning_ticks(store.ticks(session)),
            today,
            last,
        )

    def replan(self, session: Session, changed: Collection[str] | None, today: Day) -> frozenset[str]:
        """Plan again after the facts of some entries were changed in this session, and write what differs.

        ``changed`` are their ids, made entries' among them; None when the holding itself changed. Gives the ids of
        the entries laid again.
        """
        if changed is None:
            self._forget()
            session.info.pop("facts", None)
            return self._project_all(session)
        with self._memory_lock:
            live = self._live
            if live is None or live.as_of != today or self._live_version < session.info["begun"]:
                return self._project_all(session)
            clashing = _clashing(live, changed)
            self._take_in(session, live, changed)
            touched = frozenset(live.change(set(changed)))
            self._plan = None
            self._write(session, live, touched, clashing or _clashing(live, touched))
            version = _version(session)
            self._live_version = version
        store.set_state(session, planned=str(version))
        if self._house is not None:
            self._house = self._house._replace(version=version)
        return touched

    def _take_in(self, session: Session, live: Live, changed: Collection[str]) -> None:
        """Read the facts of these entries anew."""
        facts = live.facts
        for entry in store.entries(session, changed):
            facts.entries[entry.id] = entry
        found = {amendment.entry: amendment for amendment in store.amendments(session, changed)}
        said: dict[str, list[Tick]] = {}
        for tick in planning_ticks(store.ticks(session, changed)):
            said.setdefault(split_key(tick.key).entry, []).append(tick)
        for name in changed:
            facts.amendments.pop(name, None)
            facts.ticks.pop(name, None)
        facts.amendments.update(found)
        facts.ticks.update(said)

    # ── The projection ────────────────────────────────────────────────────────────────────────────────────────────

    def _project_all(self, session: Session) -> frozenset[str]:
        """Write the whole projection: on a new day, after a change from outside, or when it was dropped."""
        today = self.today().toordinal()
        version = _version(session)
        laid: frozenset[str] = frozenset()
        if self.house(session).holding is not None:
            with self._memory_lock:
                live = self.live(session, today)
                self._write(session, live, None, True)
                laid = frozenset(live.laid)
        horizon = str(today + AHEAD_DAYS)
        store.set_state(session, planned=str(version), as_of=str(today), horizon=horizon, sheets=self._sheets_mark)
        return laid

    def _write(self, session: Session, live: Live, touched: frozenset[str] | None, clashing: bool) -> None:
        names = live.laid.keys() if touched is None else sorted(name for name in touched if name in live.laid)
        shares = [live.laid[name] for name in names]
        ticks = live.facts.ticks
        rows = [row for laid in shares for row in self.shown.tasks(laid, ticks.get(laid.entry.id, ()))]
        store.replace_tasks(session, touched, rows, now=self.now())
        store.replace_standing(session, touched, [row for laid in shares for row in self.shown.rounds(laid)])
        store.replace_lacks(session, touched, [row for laid in shares for row in lacks(laid)])
        if clashing:
            claims = [bar for name in sorted(live.laid) for bar in live.laid[name].bars]
            store.replace_clashes(session, clash_rows(clashes(claims)))


_SEASON_FACTS = (
    "latitude", "altitude_m", "normals", "last_frost_10", "last_frost_50", "last_frost_90", "first_frost_10",
    "first_frost_50", "first_frost_90",
)  # fmt: skip


def planning_ticks(ticks: list[Tick]) -> list[Tick]:
    """The ticks that planning reads: not those of rounds, which move nothing and are many."""
    return [tick for tick in ticks if not is_round_key(tick.key)]


def is_round_key(key: str) -> bool:
    """Whether a key is that of one day's round."""
    end = key[key.rfind(".") + 1 :]
    return len(end) == 8 and end.isdecimal() and int(end) >= FIRST_ROUND_LABEL


def _version(session: Session) -> int:
    known = session.info.get("facts")
    return store.facts_version(session) if known is None else int(known)


def _clashing(live: Live, names: Collection[str]) -> bool:
    found: list[Laid] = [live.laid[name] for name in names if name in live.laid]
    return any(bar.kind == "clash" for laid in found for bar in laid.bars)


def _mark(own: Path) -> str:
    """A digest of the knowledge that the projection rests on: the program's files and the household's own."""
    digest = hashlib.blake2b(digest_size=12)
    for path in sorted([*ROOT.rglob("*.toml"), *own.glob("*.toml")]):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def fixed_clock(moment: datetime) -> Callable[[], datetime]:
    """A clock that stands, or moves on by a second at every look, for tests and the demo holding."""
    ticking = iter(range(10**9))
    return lambda: moment + timedelta(seconds=next(ticking))
