"""The working state of laying one entry: what its moments may ask while its steps are laid in turn."""

from collections.abc import Mapping

from app.rules.almanac import Almanac
from app.rules.bars import Bars, Row
from app.rules.facts import Entry
from app.rules.keys import split_key
from app.rules.spans import Day
from app.rules.tasks import Lack, Reason, Task
from app.rules.terms import Source, Value
from app.rules.ticks import Word

Label = tuple[int, ...]


class Run:
    """One laying of one entry. ``slots`` are the positions of the sheet's steps in laying order.

    ``day`` holds, for each slot, the day the step counts for its followers in the cycle now being laid: its tick, else
    its best day, else (once that is past) today. ``tails`` holds the key ending of the current cycle at each depth.
    """

    __slots__ = (
        "almanac", "as_of", "bars", "by_step", "day", "doings", "entry", "facts", "first", "floors", "lacks",
        "last", "latest", "lost", "margin", "minutes", "notes", "raised", "rows", "seen", "species", "stem", "tails",
        "tasks", "until", "wholes", "words",
    )  # fmt: skip

    def __init__(
        self,
        entry: Entry,
        species: str,
        slots: int,
        depth: int,
        words: Mapping[str, Word],
        almanac: Almanac,
        bars: Bars,
        as_of: Day,
        last: Day,
        margin: int = 0,
        explain: bool = False,
    ) -> None:
        self.entry = entry
        self.species = species
        self.facts: Mapping[str, Value] = entry.facts
        self.words = words
        self.almanac = almanac
        self.bars = bars
        self.as_of = as_of
        self.last = last
        self.margin = margin
        self.stem = entry.id + "."
        self.tails = [""] * (depth + 1)
        self.floors: dict[tuple[int, Label], Day] = {}
        self.minutes: list[int | None] = [None] * slots
        self.notes: list[Reason] | None = [] if explain else None
        self.by_step: dict[str, list[Word]] | None = None
        self.rows: dict[str, list[Row]] = {}
        self.begin(slots)

    def begin(self, slots: int) -> None:
        """Clear what one pass found; the floors it raised stay."""
        self.day: list[Day | None] = [None] * slots
        self.first: list[Day | None] = [None] * slots
        self.latest: list[Day | None] = [None] * slots
        self.lost = [False] * slots
        self.tasks: list[Task] = []
        self.lacks: dict[tuple[str, str], Lack] = {}
        self.seen: set[str] = set()
        self.doings: dict[int, list[Day]] = {}
        self.wholes: dict[tuple[int, Label], list[tuple[int, Day, bool]]] = {}
        self.raised = False

    def rows_of(self, act: str) -> list[Row]:
        """The bars that touch an act of this entry."""
        if not act:
            return []
        rows = self.rows.get(act)
        if rows is None:
            rows = self.rows[act] = self.bars.rows(act, self.entry, self.species)
        return rows

    def lack(self, step: str, fact: str, reason: str = "") -> None:
        """Take down why a step can't be dated."""
        self.lacks.setdefault((step, fact), Lack(self.entry.id, step, fact, reason))

    def note(self, rule: str, inputs: str = "", day: Day | None = None, source: Source | None = None) -> None:
        """Take down a link of the reckoning, when somebody asked why."""
        if self.notes is not None:
            self.notes.append(Reason(rule, inputs, day, source))

    def raise_floor(self, slot: int, label: Label, day: Day) -> None:
        """Ask for another pass in which a step comes no earlier than ``day``."""
        if day > self.floors.get((slot, label), 0):
            self.floors[slot, label] = day
            self.raised = True

    def word(self, step: str, depth: int) -> Word | None:
        """What stands for a step in the present cycle."""
        return self.words.get(self.stem + step + self.tails[depth]) if self.words else None

    def words_of(self, step: str) -> list[Word]:
        """The doings of a step in all its cycles, by day."""
        if self.by_step is None:
            self.by_step = {}
            for key, word in self.words.items():
                if word.done is not None:
                    self.by_step.setdefault(split_key(key).step, []).append(word)
            for words in self.by_step.values():
                words.sort(key=lambda word: (word.done.on if word.done else 0, word.label))
        return self.by_step.get(step, [])

    def label_at(self, depth: int) -> Label:
        """The present cycle's label, to a depth."""
        tail = self.tails[depth]
        return tuple(int(part) for part in tail[1:].split(".")) if tail else ()
