"""A change looked at: only whom it touches is laid again, beside a plan that stays as it is."""

from collections.abc import Collection, Iterable
from typing import NamedTuple

from app.rules.bars import Bars
from app.rules.clashes import clashes_with
from app.rules.facts import Amendment, Entry, Tick
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.moves import Move, moves_among
from app.rules.plan import order
from app.rules.tasks import Bar, Clash, Laid, Task


class Beside(NamedTuple):
    """A plan with some entries ``laid`` again, in place of those ``before``; ``kept`` are all the others, ``law`` all
    bars of law that entries lay."""

    before: tuple[Laid, ...]
    laid: dict[str, Laid]
    kept: tuple[Laid, ...]
    law: tuple[Bar, ...]

    def moves(self) -> list[Move]:
        """The open jobs that differ, in the order of the later plan."""
        return moves_among(_tasks(self.before), _tasks(self.laid.values()))

    def bars(self) -> Iterable[Bar]:
        """Every bar that entries lay."""
        yield from self.law
        for laid in (*self.kept, *self.laid.values()):
            yield from laid.bars

    def clashes(self, entry: str) -> list[Clash]:
        """The clashes of an entry that was laid again with others, in a stable order."""
        return clashes_with((entry,), self.laid[entry].bars, self.bars())


def beside(
    live: Live, changed: Collection[str], entry: Entry | None = None, amendment: Amendment | None = None,
    ticks: Iterable[Tick] = (),
) -> Beside:  # fmt: skip
    """The plan as it would be with an entry, an amendment, and ticks said besides; ``live`` stays as it is.

    Source: none; the same as planning anew.
    """
    facts, planner = live.facts.apart(), live.planner
    if entry is not None:
        facts.entries[entry.id] = entry
    if amendment is not None:
        facts.amendments[amendment.entry] = amendment
    for tick in ticks:
        name = split_key(tick.key).entry
        facts.ticks[name] = [*facts.ticks.get(name, ()), tick]
    laid = dict(live.laid)
    were = {name: one.entry for name, one in laid.items()}
    touched = planner.touched(were, changed) | planner.touched(were | facts.entries, changed)
    kept = tuple(one for name, one in laid.items() if name not in touched)
    law = [bar for bar in live.law() if bar.by not in touched]
    bars = Bars(planner.land(live.as_of, live.last))
    for bar in law:
        bars.put(bar)
    for one in kept:
        for bar in one.bars:
            bars.put(bar)
    again = [one for name, one in facts.entries.items() if name in touched]
    found, more = planner.lay(facts, again, bars, planner.law_bars(facts, again), live.as_of, live.last)
    return Beside(tuple(laid[name] for name in sorted(touched) if name in laid), found, kept, (*law, *more))


def _tasks(laid: Iterable[Laid]) -> list[Task]:
    return sorted((task for one in laid for task in one.tasks), key=order)
