"""The plan in memory and the projection written from it: planned anew, or again only for what a change touches."""

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date, datetime

from sqlalchemy.orm import Session

from app.records import store
from app.rules.facts import Holding, Tick
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.tasks import Plan
from app.rules.terms import NATIONS, Nation
from app.services.counted import begun, projected, version_of
from app.services.house import KeptHouse
from app.services.larder import batches
from app.services.memory import Changed, Make, Memory, planning_ticks
from app.services.project import Projector
from app.services.together import Together
from app.sheets.library import Library


class Planning:
    """What the book knows of the plan; `app.services.book.Book` says what each of it is for.

    A change is taken into the plan in memory and its share of the projection written anew, when the projection was
    written from that very plan; else everything is.
    """

    def __init__(
        self, library: Library, mark: str, house: KeptHouse, projector: Projector, together: Together,
        now: Callable[[], datetime], today: Callable[[], date],
    ) -> None:  # fmt: skip
        self._library = library
        self._mark = mark  # of the sheets and the program: another one, and all is planned anew
        self._house = house
        self._projector = projector
        self._together = together
        self._now = now
        self._today = today
        self._memory = Memory()

    def is_fresh(self, state: Mapping[str, str], version: int) -> bool:
        """Whether the projection is that of a count of facts, of today, and of the sheets as they are."""
        wanted = (str(version), str(self._today().toordinal()), self._mark)
        return (state.get("planned"), state.get("as_of"), state.get("sheets")) == wanted

    def forget(self) -> None:
        """Let go of the plan, when it may not be so."""
        self._memory.forget()

    @property
    def gone_on(self) -> object:
        """Something else once the plan has taken in a change, or will."""
        return self._memory.version, len(self._together.ticks)

    # ── Reading it ────────────────────────────────────────────────────────────────────────────────────────────────

    def plan(self, session: Session, today: Day) -> Plan:
        """Everything as one plan."""
        return self._memory.plan(version_of(session), today, self._maker(session))

    def live(self, session: Session, today: Day) -> Live:
        """The plan as it stands; while ticks are put off, as it stood before them."""
        put_off = self._together.session is session and self._together.ticks
        return self._memory.seen(begun(session) if put_off else version_of(session), today, self._maker(session))

    def far(self, session: Session, today: Day, last: Day) -> Live:
        """A plan up to a day beyond the projection."""
        return self._memory.far(version_of(session), today, last, self._maker(session))

    def _maker(self, session: Session) -> Make:
        def make(today: Day, last: Day) -> Live:
            entries, amendments = store.entries(session), store.amendments(session)
            return Live(self._planner(session), entries, amendments, planning_ticks(store.ticks(session)), today, last)

        return make

    def _planner(self, session: Session) -> Planner:
        row, library = self._house.holding(session), self._library
        nation: Nation | None = next((name for name in NATIONS if name == row.nation), None)
        holding = Holding(nation, self._house.season_of(session))
        return Planner(holding, library.sheets, library.law, store.own_ways(session))

    # ── Taking in a change ────────────────────────────────────────────────────────────────────────────────────────

    def entries_changed(self, session: Session, changed: Collection[str], today: Day) -> frozenset[str]:
        """After the facts of some entries were changed; gives the ids of the entries laid again, as all of these do."""
        before = self._before(session, today)
        if before is None:
            return self.all(session)
        ids = frozenset(changed)
        found = Changed(ids)
        if ids:
            said = planning_ticks(store.ticks(session, ids))
            found = Changed(ids, tuple(store.entries(session, ids)), tuple(store.amendments(session, ids)), tuple(said))
        return self._some(session, before, self._memory.change(found), today)

    def ticked(self, session: Session, ticks: Sequence[Tick], today: Day) -> frozenset[str]:
        """After these ticks, and nothing else, were taken down."""
        before = self._before(session, today)
        if before is None:
            return self.all(session)
        return self._some(session, before, self._memory.add_ticks(planning_ticks(ticks)), today)

    def weather_changed(self, session: Session, days: Collection[Day] | None, today: Day) -> frozenset[str]:
        """After weather was written or taken off: of these days, or of any."""
        before = self._before(session, today)
        if before is None:
            return self.all(session)
        season = self._house.season.after(session, self._house.holding(session), version_of(session), days)
        return self._some(session, before, self._memory.reseason(season), today)

    def ways_changed(self, session: Session, today: Day) -> frozenset[str]:
        """After the household's own ways were changed."""
        before = self._before(session, today)
        if before is None:
            return self.all(session)
        return self._some(session, before, self._memory.with_ways(store.own_ways(session)), today)

    def lots_changed(self, session: Session, lots: Collection[str], today: Day) -> None:
        """After something was said of some lots: no date moves."""
        self.entries_changed(session, (), today)
        if self._house.of(session).holding is not None:
            batches.project_lots(session, self.live(session, today), lots)

    def _before(self, session: Session, today: Day) -> Live | None:
        """The plan that the projection was written from, where it is the one in memory and a difference can be told."""
        version = begun(session)
        if self._memory.version != version or not self._memory.holds(version, today):
            return None
        return self._memory.seen(version, today, self._maker(session))

    # ── The projection ────────────────────────────────────────────────────────────────────────────────────────────

    def write_put_off(self, session: Session) -> None:
        """Write what was put off while several writes went together."""
        shared = self._together
        if shared.ticks:
            ticks, shared.ticks = shared.ticks, ()
            self.ticked(session, ticks, shared.today)
        if shared.before is not None:
            before, touched = shared.before, shared.touched
            shared.clear()
            self._write(session, before, touched, shared.today)

    def _some(self, session: Session, before: Live, touched: frozenset[str], today: Day) -> frozenset[str]:
        version = version_of(session)
        self._memory.counted(version)
        projected(session, version)
        if touched and self._together.session is session:
            self._together.put_off(before, touched, today)
        elif touched:
            self._write(session, before, touched, today)
        store.put_planned(session, version)
        self._house.still_holds(version)
        return touched

    def _write(self, session: Session, before: Live, touched: frozenset[str], today: Day) -> None:
        after = self.live(session, today)
        self._projector.some(session, before, after, touched, self._now())
        batches.project_some(session, after, touched)

    def all(self, session: Session) -> frozenset[str]:
        """Write the whole projection: on a new day, after a change from outside, or when it was dropped."""
        today = self._today().toordinal()
        self._together.clear()
        version = version_of(session)
        laid: frozenset[str] = frozenset()
        if self._house.of(session).holding is not None:
            live = self.live(session, today)
            self._projector.all(session, live, self._now())
            batches.project_all(session, live)
            laid = frozenset(live.laid)
        store.set_state(session, planned=str(version), as_of=str(today), sheets=self._mark)
        return laid
