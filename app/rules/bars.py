"""Bars: what forbids some acts for a while, on an entry, a place, a species or the whole holding.

The law comes first, from facts and ticks alone, and a missing figure never clears. Room is laid by entries put down
earlier on those put down later. Clashes are claims that overlap; they move nothing.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator

from app.rules.almanac import day_in_year, year_of
from app.rules.facts import Entry, Law, Tick
from app.rules.keys import split_key
from app.rules.moment import EntryDate, TickDay, YearDay
from app.rules.sheet import BarRule, Sheet
from app.rules.spans import Day, add, whole_days
from app.rules.tasks import Bar
from app.rules.terms import Nation

FOREVER: Day = 10**7
"""The end of a bar that no figure has closed yet: later than any day there is."""

Subject = tuple[str, str]


class Row:
    """The barred stretches of one act on one subject, merged, in order."""

    __slots__ = ("bars", "firsts", "lasts")

    def __init__(self) -> None:
        self.bars: list[Bar] = []
        self.firsts: list[Day] = []
        self.lasts: list[Day] = []

    def put(self, bar: Bar) -> None:
        """Add a bar, merging it with the stretches it touches."""
        self.bars.append(bar)
        first, last = bar.first, FOREVER if bar.last is None else bar.last
        if last < first:
            return
        low = bisect_right(self.lasts, first - 2)
        high = bisect_right(self.firsts, last + 1)
        if low < high:
            first, last = min(first, self.firsts[low]), max(last, self.lasts[high - 1])
        self.firsts[low:high] = [first]
        self.lasts[low:high] = [last]

    def stretch(self, day: Day) -> tuple[Day, Day] | None:
        """The barred stretch that holds ``day``, both ends inclusive."""
        at = bisect_right(self.firsts, day) - 1
        if at >= 0 and self.lasts[at] >= day:
            return self.firsts[at], self.lasts[at]
        return None

    def around(self, day: Day) -> tuple[Day, Day]:
        """The free stretch around a free ``day``: from the day after the bar before, to the day before the next."""
        at = bisect_right(self.firsts, day)
        before = self.lasts[at - 1] + 1 if at else -FOREVER
        after = self.firsts[at] - 1 if at < len(self.firsts) else FOREVER
        return before, after


class Bars:
    """Every bar in force, found by act and by whom it touches; ``over`` are bars that stand already."""

    def __init__(self, bars: Iterable[Bar] = (), over: "Bars | None" = None) -> None:
        self._rows: dict[tuple[Subject, str], Row] = {}
        self._laid_by: dict[str, set[tuple[Subject, str]]] = {}
        self._over = over
        for bar in bars:
            self.put(bar)

    def put(self, bar: Bar) -> None:
        """Lay a bar. Clashes are no bars and are passed by."""
        if bar.kind == "clash":
            return
        for subject in _subjects(bar):
            for act in bar.acts:
                self._rows.setdefault((subject, act), Row()).put(bar)
                self._laid_by.setdefault(bar.by, set()).add((subject, act))

    def take_up(self, by: frozenset[str]) -> None:
        """Take up every bar that one of these entries laid."""
        for at in set().union(*(self._laid_by.pop(name, set()) for name in by)):
            fresh = Row()
            for bar in self._rows[at].bars:
                if bar.by not in by:
                    fresh.put(bar)
            self._rows[at] = fresh

    def hold_place(self, place: str) -> bool:
        """Whether any entry has laid its room on a place."""
        return any(subject == ("place", place) and row.bars for (subject, _), row in self._rows.items())

    def rows(self, act: str, entry: Entry, species: str) -> list[Row]:
        """The rows that touch an act of an entry."""
        whom: list[Subject] = [("entry", entry.id), ("holding", "")]
        if entry.facts.get("for"):  # a day at the abattoir for a group is held by what holds the group
            whom.append(("entry", str(entry.facts["for"])))
        if entry.place:
            whom.append(("place", entry.place))
        if species:
            whom += [("species", species), ("holding", species)]
        rows = [row for subject in whom if (row := self._rows.get((subject, act)))]
        return rows + self._over.rows(act, entry, species) if self._over is not None else rows

    def on(self, act: str, entry: Entry, species: str, day: Day) -> list[Bar]:
        """The bars that hold an act of an entry on a day: what to say before it is ticked."""
        return [
            bar
            for row in self.rows(act, entry, species)
            for bar in row.bars
            if bar.first <= day and (bar.last is None or day <= bar.last)
        ]


def _subjects(bar: Bar) -> list[Subject]:
    if bar.on == "holding":
        return [("holding", species) for species in bar.species] or [("holding", "")]
    if bar.on in ("entry", "for"):
        return [("entry", bar.subject)]
    return [(bar.on, bar.subject)]


def free_day(rows: list[Row], best: Day, earliest: Day) -> Day:
    """The nearest free day: the last before the bar when that is no earlier than ``earliest``, else the first after.

    `FOREVER` or later when no end is known. Source: design decision, both ends of a bar inclusive.
    """
    before = _clear(rows, best, -1)
    return before if before >= earliest else _clear(rows, best, 1)


def _clear(rows: list[Row], day: Day, way: int) -> Day:
    """Walk from stretch to stretch until no row holds the day."""
    while True:
        held = next((found for row in rows if (found := row.stretch(day))), None)
        if held is None:
            return day
        day = held[1] + 1 if way > 0 else held[0] - 1


def free_stretch(rows: list[Row], day: Day) -> tuple[Day, Day]:
    """The free days around a free day over all rows.

    Source: none; the intersection of each row's free stretch.
    """
    stretches = [row.around(day) for row in rows]
    return max(first for first, _ in stretches), min(last for _, last in stretches)


# ── The law ───────────────────────────────────────────────────────────────────────────────────────────────────────


def holds_in(rule: BarRule, nation: Nation | None) -> bool:
    """Whether a bar is law in a nation: everywhere when it names none, nowhere it does not name."""
    return not rule.nations or nation in rule.nations


def law_bars_of(entry: Entry, sheet: Sheet, ticks: Iterable[Tick], nation: Nation | None) -> list[Bar]:
    """The bars of law that one entry lays, from its dates, facts and ticks alone.

    ``ticks`` are those in force. One bar a tick, and the longest holds; a figure that was never said leaves the bar
    open. An entry that is only planned lays none, since the law never rests on a plan.

    Source: each bar's own.
    """
    if entry.struck or not entry.sure:
        return []
    said = list(ticks)
    bars = []
    for rule in sheet.bars:
        if rule.kind != "law" or not holds_in(rule, nation):
            continue
        subject = _subject(rule, entry, sheet)
        if subject is not None:
            bars += [_law_bar(rule, entry, subject, first, last) for first, last in _stretches(rule, entry, said)]
    return bars


def _law_bar(rule: BarRule, entry: Entry, subject: str, first: Day, last: Day | None) -> Bar:
    return Bar(
        rule.kind, rule.on, subject, rule.acts, first, last, entry.id, rule.id, rule.says, rule.source, rule.species
    )


def _subject(rule: BarRule, entry: Entry, sheet: Sheet) -> str | None:
    """Whom the bar touches; None when the entry does not say."""
    if rule.on == "entry":
        return entry.id
    if rule.on == "for":
        named = entry.facts.get("for")
        return str(named) if named else None
    named = {"place": entry.place, "species": sheet.species, "kit": rule.kit, "holding": ""}[rule.on]
    return named or (None if rule.on != "holding" else "")


def _stretches(rule: BarRule, entry: Entry, ticks: list[Tick]) -> Iterator[tuple[Day, Day | None]]:
    if isinstance(rule.opens, EntryDate):
        first = _entry_day(rule.opens, entry)
        if first is not None:
            yield first, _end(rule, entry, ticks, first, None)
        return
    if isinstance(rule.opens, TickDay):
        for tick in _doings(ticks, rule.opens.step):
            first = add(tick.on, rule.opens.by)
            yield first, _end(rule, entry, ticks, first, tick)


def _end(rule: BarRule, entry: Entry, ticks: list[Tick], first: Day, begun: Tick | None) -> Day | None:
    """The last barred day, or None: a missing date or figure never clears."""
    to = rule.closes
    if isinstance(to, EntryDate):
        return _entry_day(to, entry)
    if not isinstance(to, TickDay):
        return None
    if begun is not None and isinstance(rule.opens, TickDay) and rule.opens.step == to.step:
        return _tick_end(to, begun, ticks)
    ends = [end for tick in _doings(ticks, to.step) if tick.on >= first and (end := _tick_end(to, tick, ticks))]
    return min(ends, default=None)


def _tick_end(to: TickDay, tick: Tick, ticks: list[Tick]) -> Day | None:
    if not to.days:
        return add(tick.on, to.by)
    name = to.days.rpartition(".")[2]
    # A second tick of the same doing may bring the figure that the first one lacked; of several the longest holds.
    said = [other.measures[name] for other in ticks if other.key == tick.key and name in other.measures]
    figures = [float(figure) for figure in said if isinstance(figure, int | float) and not isinstance(figure, bool)]
    if not figures:
        return None
    days = whole_days(max(figures))
    return add(tick.on + days, to.by) if days else tick.on - 1  # nought bars not even the day itself


def _entry_day(moment: EntryDate, entry: Entry) -> Day | None:
    day = entry.facts.get(moment.fact)
    return add(day, moment.by) if isinstance(day, int) and not isinstance(day, bool) else None


def _doings(ticks: Iterable[Tick], step: str) -> Iterator[Tick]:
    for tick in ticks:
        if tick.kind == "done" and split_key(tick.key).step == step:
            yield tick


def closed_seasons(law: Law, nation: Nation | None, first: Day, last: Day) -> list[Bar]:
    """The closed seasons of a nation as bars, over the years from ``first`` to ``last``; none while it is not said.

    Source: each bar's own. They follow the calendar and never shift by hemisphere.
    """
    bars = []
    for rule in law.bars:
        if nation is None or not holds_in(rule, nation):
            continue
        for year in range(year_of(first) - 1, year_of(last) + 2):
            opens, closes = _year_day(rule.opens, year), _year_day(rule.closes, year)
            if closes < opens:
                closes = _year_day(rule.closes, year + 1)
            opens, closes = max(opens, rule.in_force or opens), min(closes, rule.ends or closes)
            if opens > closes:
                continue  # this year's season fell before the law began, or after it ended
            bars.append(
                Bar(rule.kind, rule.on, "", rule.acts, opens, closes, "", rule.id, rule.says, rule.source, rule.species)
            )
    return bars


def _year_day(moment: object, year: int) -> Day:
    if not isinstance(moment, YearDay):
        raise TypeError("the law of the land has fixed days of the year")  # the loader has refused it before
    return add(day_in_year(year, moment.month, moment.day), moment.by)
