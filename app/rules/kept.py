"""The facts as planning goes through them, and the collector at rest meanwhile."""

import gc
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from copy import copy

from app.rules.facts import Amendment, Entry, Tick
from app.rules.keys import split_key


@contextmanager
def collector_resting() -> Iterator[None]:
    """Keep the garbage collector from walking the growing plan again and again: a plan makes no cycles to collect."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


class Facts:
    """The facts in the order in which they are planned: entries by id, amendments by entry, ticks by entry."""

    def __init__(self, entries: Iterable[Entry], amendments: Iterable[Amendment], ticks: Iterable[Tick]) -> None:
        self.entries = {entry.id: entry for entry in entries}
        self.amendments = {amendment.entry: amendment for amendment in amendments}
        self.ticks: dict[str, list[Tick]] = {}
        for tick in ticks:
            try:
                self.ticks.setdefault(split_key(tick.key).entry, []).append(tick)
            except ValueError:
                self.ticks.setdefault("", []).append(tick)

    def apart(self) -> "Facts":
        """The same facts in dictionaries of their own; its lists of ticks are for reading only."""
        other = copy(self)
        other.entries, other.amendments, other.ticks = dict(self.entries), dict(self.amendments), dict(self.ticks)
        return other
