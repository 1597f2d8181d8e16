"""A plan kept up to date in memory: a change lays again only whom it touches, however many entries there are."""

from collections.abc import Collection, Iterable
from copy import copy

from app.rules.bars import Bars
from app.rules.facts import Amendment, Entry, Tick, Way
from app.rules.kept import Facts, collector_resting
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.tasks import Bar, Laid, Plan
from app.rules.touch import root
from app.trade.climate.season import Season


class Live:
    """The plan of one holding on one day, with its facts beside it; give it changed facts, it says what moved."""

    def __init__(
        self,
        planner: Planner,
        entries: Iterable[Entry],
        amendments: Iterable[Amendment],
        ticks: Iterable[Tick],
        as_of: Day,
        last: Day,
    ) -> None:
        self.planner = planner
        self.facts = Facts(entries, amendments, ticks)
        self.as_of, self.last = as_of, last
        self.laid: dict[str, Laid] = {}
        self._law: dict[str, list[Bar]] = {}
        self._families: dict[str, set[str]] = {}
        self._named: set[str] = set()  # whom others are for, or have been
        self._bars = Bars(planner.land(as_of, last))
        with collector_resting():
            self._lay(set(self.facts.entries), list(self.facts.entries.values()))

    def add_tick(self, tick: Tick, entry: str) -> set[str]:
        """Take in a tick of an entry; gives the ids of the entries laid again."""
        self.facts.ticks.setdefault(entry, []).append(tick)
        return self.change({entry})

    def put(self, entry: Entry) -> set[str]:
        """Take in a new or changed entry."""
        self.facts.entries[entry.id] = entry
        return self.change({entry.id})

    def amend(self, amendment: Amendment) -> set[str]:
        """Take in what the household added to an entry that a tick made."""
        self.facts.amendments[amendment.entry] = amendment
        return self.change({amendment.entry})

    def reseason(self, season: Season) -> set[str]:
        """Take in another season (a day's weather was read); gives the ids of the entries laid again.

        Those are the entries one of whose questions it answers otherwise, and whom that touches: an entry all of whose
        questions have the answers they had would be laid as it was.
        """
        before = self.planner.almanac
        self.planner = self.planner.in_season(season)
        asked = {question for laid in self.laid.values() for question in laid.asked}
        otherwise = self.planner.almanac.answered_otherwise(before, asked)
        names = {name for name, laid in self.laid.items() if not otherwise.isdisjoint(laid.asked)}
        return self.change(names) if names else set()

    def with_ways(self, ways: Iterable[Way]) -> set[str]:
        """Take in other ways of the household's; gives the ids of the entries laid again, those they concern."""
        before = self.planner
        self.planner = before.with_ways(ways)
        entries = {name: laid.entry for name, laid in self.laid.items()}
        names = {name for name, one in entries.items() if before.sheet_of(one) is not self.planner.sheet_of(one)}
        return self.change(names) if names else set()

    def change(self, changed: Collection[str]) -> set[str]:
        """Lay again whom a change of these entries touches; gives their ids, those that are gone among them.

        First their own families. Only when the bars that these lay on others are not what they were, also those others.
        """
        families = {name for each in changed for name in self._families.get(root(each), {each})} | set(changed)
        if any(place and self._bars.hold_place(place) for place in self._places(families)):
            # Room is laid by earlier entries on later ones, so that all of a place are laid again in their order.
            return self._again(self._touched(families))
        before = self._outward(families)
        others = self._touched(families) if before else set()
        touched = self._again(families)
        if self._outward(families | touched) == before:
            return touched
        return touched | self._again(others | self._touched(families))

    def _touched(self, changed: Collection[str]) -> set[str]:
        """Whom a change can move, by what the entries were when they were laid and by what they are now."""
        were = {name: laid.entry for name, laid in self.laid.items()}
        now = were | self.facts.entries
        return self.planner.touched(were, changed) | self.planner.touched(now, changed)

    def _places(self, names: Collection[str]) -> set[str]:
        known = [self.facts.entries.get(name) for name in names]
        known += [self.laid[name].entry for name in names if name in self.laid]
        return {entry.place for entry in known if entry is not None}

    def _again(self, touched: set[str]) -> set[str]:
        before = {name for name in touched if name in self.laid}
        for name in before:
            del self.laid[name]
        self._bars.take_up(frozenset(touched))
        return before | self._lay(touched, [self.facts.entries[name] for name in touched if name in self.facts.entries])

    def _outward(self, names: Collection[str]) -> set[Bar]:
        """The bars that some entries lay on others than themselves, or on themselves and so on whoever is for them."""
        law = (bar for name in names for bar in self._law.get(name, ()))
        room = (bar for name in names if name in self.laid for bar in self.laid[name].bars)
        return {
            bar for bar in (*law, *room) if bar.kind != "clash" and (bar.on != "entry" or bar.subject in self._named)
        }

    def _lay(self, touched: Collection[str], entries: list[Entry]) -> set[str]:
        law: list[Bar] = []
        for name in touched:
            self._law.pop(name, None)
        for entry in entries:
            law += self.planner.law_bars(self.facts, [entry])
        laid, found = self.planner.lay(self.facts, entries, self._bars, law, self.as_of, self.last)
        for bar in found:
            self._law.setdefault(bar.by, []).append(bar)
            self._bars.put(bar)
        for name, one in laid.items():
            self.laid[name] = one
            self._families.setdefault(root(name), set()).add(name)
            if one.entry.facts.get("for"):
                self._named.add(str(one.entry.facts["for"]))
            for bar in one.bars:
                self._bars.put(bar)
        return set(laid)

    def plan(self) -> Plan:
        """Everything as one plan, the same as planning anew."""
        return self.planner.gather(self.facts, self.laid, self.law(), self.as_of, self.last)

    def apart(self) -> "Live":
        """The same plan with dictionaries of its own, for readers to go through while it is changed."""
        seen = copy(self)
        seen.laid, seen._law, seen.facts = dict(self.laid), dict(self._law), self.facts.apart()
        return seen

    def law(self) -> list[Bar]:
        """The bars of law that entries lay."""
        return [bar for name in sorted(self._law) for bar in self._law[name]]

    def bars(self) -> Bars:
        """Every bar in force, to ask before something is ticked."""
        return self._bars
