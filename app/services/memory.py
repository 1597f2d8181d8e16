"""The plan in memory: made once, brought up to date entry by entry, and shown to readers as it stood at one moment."""

from collections.abc import Callable, Collection, Iterable
from threading import RLock
from typing import NamedTuple

from app.rules.facts import Amendment, Entry, Tick, Way
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Plan
from app.trade.climate.season import Season

AHEAD_DAYS = 1096
"""The projection holds what opens up to so many days ahead: three years."""

FURTHER_DAYS = 731
"""A plan made for a month beyond the projection reaches so much further, for the months turned to next."""

FIRST_ROUND_LABEL = 19000101
"""A round's label is a day written YYYYMMDD; no other cycle is numbered so high."""

Make = Callable[[Day, Day], Live]
"""Plans everything anew, for a day and up to a last day."""


class Changed(NamedTuple):
    """The facts of some entries as they are now, all of each."""

    ids: frozenset[str]
    entries: tuple[Entry, ...] = ()
    amendments: tuple[Amendment, ...] = ()
    ticks: tuple[Tick, ...] = ()


class Memory:
    """What is planned, for one count of facts. Its lock is never held over a commit: a reader waiting for it would
    hold the commit up."""

    def __init__(self) -> None:
        self.lock = RLock()
        self._live: Live | None = None
        self._version = -1
        self._seen: Live | None = None
        self._plan: Plan | None = None
        self._far: tuple[int, Live] | None = None

    def forget(self) -> None:
        """Let go of everything, when it may not be so."""
        with self.lock:
            self._live, self._seen, self._plan, self._far, self._version = None, None, None, None, -1

    @property
    def version(self) -> int:
        """The count of facts that it holds for, -1 for none."""
        return self._version

    def holds(self, version: int, today: Day) -> bool:
        """Whether it holds for a count of facts, or a later one, and a day."""
        return self._live is not None and self._version >= version and self._live.as_of == today

    def seen(self, version: int, today: Day, make: Make) -> Live:
        """The plan as it stands now; later changes leave it as it is."""
        with self.lock:
            if not self.holds(version, today):
                self.forget()
                self._live, self._version = make(today, today + AHEAD_DAYS), version
            if self._seen is None and self._live is not None:
                self._seen = self._live.apart()
            assert self._seen is not None
            return self._seen

    def plan(self, version: int, today: Day, make: Make) -> Plan:
        """Everything as one plan."""
        with self.lock:
            live = self.seen(version, today, make)
            if self._plan is None:
                self._plan = live.plan()
            return self._plan

    def far(self, version: int, today: Day, last: Day, make: Make) -> Live:
        """A plan that reaches beyond the projection, kept until facts change."""
        with self.lock:
            far = self._far
            if far is None or far[0] != version or far[1].as_of != today or far[1].last < last:
                far = (version, make(today, last + FURTHER_DAYS))
                self._far = far
            return far[1]

    def change(self, changed: Changed) -> frozenset[str]:
        """Take in the facts of some entries; gives the ids of those laid again."""
        with self.lock:
            live = self._now()
            facts = live.facts
            facts.entries.update({entry.id: entry for entry in changed.entries})
            for name in changed.ids:
                facts.amendments.pop(name, None)
                facts.ticks.pop(name, None)
            facts.amendments.update({one.entry: one for one in changed.amendments})
            self._put_ticks(live, changed.ticks)
            return self._lay(live, changed.ids)

    def add_ticks(self, ticks: Iterable[Tick]) -> frozenset[str]:
        """Take in ticks that were said just now; gives the ids of the entries laid again."""
        with self.lock:
            live = self._now()
            ticks = list(ticks)
            self._put_ticks(live, ticks)
            return self._lay(live, {split_key(tick.key).entry for tick in ticks})

    def reseason(self, season: Season) -> frozenset[str]:
        """Take in another season of the same place; gives the ids of the entries laid again."""
        with self.lock:
            live = self._now()
            self._seen = self._plan = None
            return frozenset(live.reseason(season))

    def with_ways(self, ways: Iterable[Way]) -> frozenset[str]:
        """Take in other ways of the household's; gives the ids of the entries laid again."""
        with self.lock:
            live = self._now()
            self._seen = self._plan = None
            return frozenset(live.with_ways(ways))

    def counted(self, version: int) -> None:
        """It holds for this count of facts."""
        self._version = version

    def _now(self) -> Live:
        if self._live is None:
            raise RuntimeError("nothing is planned yet that could be changed")
        return self._live

    def _put_ticks(self, live: Live, ticks: Iterable[Tick]) -> None:
        for tick in ticks:
            entry = split_key(tick.key).entry
            live.facts.ticks[entry] = [*live.facts.ticks.get(entry, ()), tick]

    def _lay(self, live: Live, ids: Collection[str]) -> frozenset[str]:
        self._seen = self._plan = None
        return frozenset(live.change(set(ids))) if ids else frozenset()


def planning_ticks(ticks: Iterable[Tick]) -> list[Tick]:
    """The ticks that planning reads: not those of rounds, which move nothing and are many."""
    return [tick for tick in ticks if not is_round_key(tick.key)]


def is_round_key(key: str) -> bool:
    """Whether a key is that of one day's round."""
    end = key[key.rfind(".") + 1 :]
    return len(end) == 8 and end.isdecimal() and int(end) >= FIRST_ROUND_LABEL
