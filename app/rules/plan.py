"""Planning: everything that follows from the facts on a day. First the law, then entries in order, then clashes."""

import heapq
from collections.abc import Collection, Iterable, Mapping
from copy import copy

from app.rules.almanac import Almanac, year_of
from app.rules.bars import Bars, closed_seasons, law_bars_of
from app.rules.clashes import clashes
from app.rules.facts import Amendment, Entry, Holding, Law, Tick, Way
from app.rules.kept import Facts, collector_resting
from app.rules.lay import lay
from app.rules.made import made_entries, with_defaults
from app.rules.own import done_otherwise, ways_of
from app.rules.ready import Ready, ready
from app.rules.rounds import lay_rounds
from app.rules.run import Run
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Bar, Laid, Plan, Task
from app.rules.ticks import Word, in_force, renamed, standing
from app.rules.touch import touched
from app.trade.climate.season import Season

_UNDATED: Day = 10**8


def plan(
    holding: Holding,
    sheets: Mapping[str, Sheet],
    law: Law,
    entries: Iterable[Entry],
    amendments: Iterable[Amendment],
    ticks: Iterable[Tick],
    as_of: Day,
    last: Day,
) -> Plan:
    """Everything that follows from the facts on ``as_of``, for what opens up to ``last``.

    The same facts and the same day give the same plan, whatever order they come in. Source: none; see `Planner`.
    """
    return Planner(holding, sheets, law).plan(entries, amendments, ticks, as_of, last)


class Planner:
    """Plans one holding: its nation's law, its season, its sheets and its own ways. Keeps nothing but what the season
    answered, and the sheets as they are done here."""

    def __init__(self, holding: Holding, sheets: Mapping[str, Sheet], law: Law, ways: Iterable[Way] = ()) -> None:
        self.nation = holding.nation
        self.sheets = sheets
        self.law = law
        self.almanac = Almanac(holding.season)
        self.ways = _by_sheet(ways)
        self._otherwise: dict[tuple[str, tuple[Way, ...]], Sheet] = {}
        self._land: dict[tuple[int, int], Bars] = {}

    def with_ways(self, ways: Iterable[Way]) -> "Planner":
        """The same planner with other ways of the household's."""
        other = copy(self)
        other.ways = _by_sheet(ways)
        return other

    def sheet_of(self, entry: Entry) -> Sheet | None:
        """The sheet that an entry follows, as it is done here; None when there is none of that id."""
        sheet = self.sheets.get(entry.sheet)
        ways = self.ways.get(entry.sheet)
        if sheet is None or not ways:
            return sheet
        mine = ways_of(entry, ways)
        known = self._otherwise.get((sheet.id, mine))
        if known is None:
            known = self._otherwise[sheet.id, mine] = done_otherwise(sheet, mine)
        return known

    def in_season(self, season: Season) -> "Planner":
        """The same planner in another season: other weather, the same place.

        Source: none.
        """
        other = copy(self)
        other.almanac = Almanac(season)
        return other

    def plan(
        self, entries: Iterable[Entry], amendments: Iterable[Amendment], ticks: Iterable[Tick], as_of: Day, last: Day
    ) -> Plan:
        """Plan everything anew.

        Source: the order law, entries by (date, id), clashes.
        """
        facts = Facts(entries, amendments, ticks)
        everyone = list(facts.entries.values())
        with collector_resting():
            bars = self._land_bars(as_of, last)
            laid, law = self.lay(facts, everyone, bars, self.law_bars(facts, everyone), as_of, last)
            return self.gather(facts, laid, law, as_of, last)

    def touched(self, known: Mapping[str, Entry], changed: Collection[str]) -> set[str]:
        """Whom a change of some entries can move, among these: themselves, what they make, whom their bars can reach.

        Ask for what was and for what is: an entry can change its place, or the animal it is for, and whom it no longer
        bars must be laid again too.

        Source: none; errs on the side of too many.
        """
        return touched(known, changed, self.sheets, self.nation)

    def explain(self, before: Plan, entry: Entry, ticks: Iterable[Tick]) -> Laid:
        """One entry laid again with the reasons of every date.

        Source: none; the bars are those of the plan given.
        """
        bars = Bars(
            [
                *self.land(before.as_of, before.last),
                *(bar for bar in before.bars if bar.by != entry.id or bar.kind == "law"),
            ]
        )
        sheet = self.sheet_of(entry)
        assert sheet is not None
        words = standing([renamed(tick, entry.id, ready(sheet).was) for tick in ticks]) if entry.sure else {}
        return self._lay_entry(entry, sheet, words, bars, before.as_of, before.last, explain=True)

    # ── how it is done ────────────────────────────────────────────────────────────────────────────────────────────

    def land(self, as_of: Day, last: Day) -> list[Bar]:
        """The law of the land over the days planned.

        Source: each bar's own.
        """
        return closed_seasons(self.law, self.nation, as_of - 366, last + 366)

    def _land_bars(self, as_of: Day, last: Day) -> Bars:
        """The same to be asked, for reading only: closed seasons are of whole years, and serve many plans."""
        years = year_of(as_of - 366), year_of(last + 366)
        if years not in self._land:
            self._land[years] = Bars(self.land(as_of, last))
        return self._land[years]

    def law_bars(self, facts: Facts, entries: Iterable[Entry]) -> list[Bar]:
        """The bars of law that entries lay, from facts and ticks alone.

        Source: each bar's own.
        """
        found = []
        for entry in entries:
            sheet = self.sheets.get(entry.sheet)
            if sheet is not None and any(rule.kind == "law" for rule in sheet.bars):
                ticks = [renamed(t, entry.id, ready(sheet).was) for t in in_force(facts.ticks.get(entry.id, ()))]
                found += law_bars_of(entry, sheet, ticks, self.nation)
        return found

    def lay(
        self, facts: Facts, entries: Iterable[Entry], bars: Bars, law: list[Bar], as_of: Day, last: Day
    ) -> tuple[dict[str, Laid], list[Bar]]:
        """Lay entries in order of date and id, each laying its room on later ones; made ones join in as they are found.

        ``bars`` are those that stand already, ``law`` those that these entries lay. A made entry that is sure can lay
        law on entries that came before it, so the whole is laid again when one does. Source: none; design decision.
        """
        entries = list(entries)
        while True:
            laid, found = self._pass(facts, entries, bars, law, as_of, last)
            more = [bar for bar in found if bar not in law]
            if not more:
                return laid, law
            law = law + more

    def _pass(
        self,
        facts: Facts,
        entries: list[Entry],
        standing_bars: Bars,
        law: list[Bar],
        as_of: Day,
        last: Day,
    ) -> tuple[dict[str, Laid], list[Bar]]:
        bars = Bars(law, over=standing_bars)
        laid: dict[str, Laid] = {}
        queue = [(_order(entry), entry.id, entry) for entry in (self._whole(e) for e in entries)]
        heapq.heapify(queue)
        found: list[Bar] = []
        while queue:
            _, _, entry = heapq.heappop(queue)
            sheet = self.sheet_of(entry)
            if sheet is None or entry.struck:
                laid[entry.id] = Laid(entry, ())
                continue
            mine = [renamed(tick, entry.id, ready(sheet).was) for tick in facts.ticks.get(entry.id, ())]
            words = standing(mine) if entry.sure and mine else {}
            one = self._lay_entry(entry, sheet, words, bars, as_of, last)
            laid[entry.id] = one if entry.sure else one._replace(dormant=tuple(in_force(mine)))
            for bar in one.bars:
                bars.put(bar)
            for made in made_entries(entry, sheet, one.tasks, words, bars, facts.amendments, last + 366):
                made = self._whole(made)
                heapq.heappush(queue, (_order(made), made.id, made))
                found += self.law_bars(facts, [made])
        return laid, found

    def _whole(self, entry: Entry) -> Entry:
        sheet = self.sheets.get(entry.sheet)
        return entry if sheet is None else with_defaults(entry, sheet)

    def _lay_entry(
        self,
        entry: Entry,
        sheet: Sheet,
        words: Mapping[str, Word],
        bars: Bars,
        as_of: Day,
        last: Day,
        explain: bool = False,
    ) -> Laid:
        made: Ready = ready(sheet)
        almanac = self.almanac.listening()
        run = Run(
            entry,
            sheet.species,
            len(made.steps),
            made.depth,
            words,
            almanac,
            bars,
            as_of,
            last,
            made.margin,
            explain,
        )
        claims = lay(made, run)
        rounds = lay_rounds(run, made)
        tasks = tuple(sorted(self._lawful(sheet, run.tasks), key=order))
        lacks = tuple(run.lacks[at] for at in sorted(run.lacks))
        return Laid(entry, tasks, rounds, tuple(claims), lacks, asked=frozenset(almanac.asked))

    def _lawful(self, sheet: Sheet, tasks: list[Task]) -> list[Task]:
        """Leave out what is law in other nations, windows and duties: with none said, no legal date is given."""
        other = {step.id for step in sheet.steps if step.nations and self.nation not in step.nations}
        return [task for task in tasks if task.step not in other or task.done is not None] if other else tasks

    def gather(self, facts: Facts, laid: Mapping[str, Laid], law: list[Bar], as_of: Day, last: Day) -> Plan:
        """Put what was laid together: tasks in order, clashes found, ticks that hang in the air listed."""
        ordered = {name: laid[name] for name in sorted(laid)}
        tasks = sorted((task for one in ordered.values() for task in one.tasks), key=order)
        rounds = tuple(one for each in ordered.values() for one in each.standing)
        claims = [bar for one in ordered.values() for bar in one.bars]
        lacks = tuple(lack for one in ordered.values() for lack in one.lacks)
        bars = tuple(sorted([*law, *claims], key=_bar_order))
        adrift = [t for name, ticks in facts.ticks.items() if name not in laid for t in in_force(ticks)]
        adrift.sort(key=lambda tick: (tick.at, tick.id))
        return Plan(tuple(tasks), rounds, tuple(clashes(claims)), bars, lacks, ordered, as_of, last, tuple(adrift))


def _by_sheet(ways: Iterable[Way]) -> dict[str, tuple[Way, ...]]:
    found: dict[str, tuple[Way, ...]] = {}
    for way in (way for way in ways if way.what != "yield_percent"):  # which moves no date
        found[way.sheet] = (*found.get(way.sheet, ()), way)
    return found


def order(task: Task) -> tuple[Day, str, str, tuple[int, ...]]:
    """The order of tasks: when they open, then by key, its numbers as numbers; undated ones last."""
    return (_UNDATED if task.opens is None else task.opens, task.entry, task.step, task.label)


def _order(entry: Entry) -> Day:
    date = entry.facts.get("date")
    return date if isinstance(date, int) else entry.told


def _bar_order(bar: Bar) -> tuple[Day, str, str, str]:
    return bar.first, bar.by, bar.rule, bar.subject
