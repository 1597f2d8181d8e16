"""Which tick stands: what the household last said of each job, from the set of its ticks alone."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from app.rules.facts import Tick
from app.rules.keys import Key, split_key
from app.rules.terms import Value


class Word(NamedTuple):
    """What stands for one key: done, let go or moved, and the measures of all ticks that say it is done."""

    done: Tick | None
    let_go: Tick | None
    moved: Tick | None
    measures: Mapping[str, Value]
    label: tuple[int, ...]


def undone(ticks: Iterable[Tick]) -> set[str]:
    """The ids of ticks that an undo answers, and of those tied to them.

    Source: none; a tick is never deleted, only answered.
    """
    ticks = list(ticks)
    gone = {tick.answers for tick in ticks if tick.kind == "undone"}
    while True:
        more = {tick.id for tick in ticks if tick.tied_to in gone and tick.id not in gone}
        if not more:
            return gone
        gone |= more


def in_force(ticks: Iterable[Tick]) -> list[Tick]:
    """The ticks that no undo answers, one for each id, in the order in which they were said.

    Source: none; the order is (``at``, ``id``), so that it does not depend on arrival.
    """
    once = {tick.id: tick for tick in sorted(ticks, key=lambda t: (t.at, t.id), reverse=True)}
    gone = undone(once.values())
    kept = [tick for tick in once.values() if tick.id not in gone and tick.kind != "undone"]
    return sorted(kept, key=lambda tick: (tick.at, tick.id))


def standing(ticks: Iterable[Tick]) -> dict[str, Word]:
    """What stands for every key: done outranks let go, the earliest doing holds, the latest move holds.

    Measures of later ticks of the same doing fill what the first one lacks. Keys that can't be read are passed by.

    Source: none; depends on the set of ticks only, so that two phones agree.
    """
    words: dict[str, Word] = {}
    for tick in in_force(ticks):
        old = words.get(tick.key)
        label = old.label if old else _label(tick.key)
        if label is None:
            continue
        words[tick.key] = _with(old or Word(None, None, None, {}, label), tick)
    return words


def _label(text: str) -> tuple[int, ...] | None:
    try:
        return split_key(text).label
    except ValueError:
        return None


def _with(word: Word, tick: Tick) -> Word:
    if tick.kind == "done":
        return word._replace(done=word.done or tick, measures={**tick.measures, **word.measures})
    if tick.kind == "let go":
        return word._replace(let_go=word.let_go or tick)
    return word._replace(moved=tick)


def renamed(tick: Tick, entry: str, names: Mapping[str, str]) -> Tick:
    """A tick under its step's present id, when the sheet says it was once called otherwise.

    Source: none; keys never change meaning, so an old link still finds its task.
    """
    try:
        parts = split_key(tick.key)
    except ValueError:
        return tick
    if parts.entry != entry or parts.step not in names:
        return tick
    new = Key(entry, names[parts.step], parts.label)
    return tick._replace(key=".".join((new.entry, new.step, *map(str, new.label))))
