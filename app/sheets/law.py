"""The law of the land: closed seasons that no entry lays, and what must be there or done; one file a nation."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import cast

from app.errors import Fault
from app.rules.sheet import BarRule
from app.rules.spans import NOTHING, Day, Span
from app.rules.terms import NATIONS, Nation, Source
from app.sheets.bars import bar, in_force
from app.sheets.read import listed, placed
from app.sheets.sources import source
from app.sheets.values import Doc, Known, Reading, Table


@dataclass(frozen=True, slots=True)
class LandRule:
    """What the law of one nation asks, other than a closed season: told beside the ``sheets`` it concerns.

    ``who`` is bound by it, in words; ``every`` is the longest interval it allows, when it names one; ``figures`` are
    its limits, named with their units (``m3_a_quarter``). It holds from the day ``in_force`` (None: not known, so it is
    taken to hold) to the day ``ends`` (None: it still does), both inclusive, and was last ``checked`` on a day.
    """

    id: str
    nation: Nation
    sheets: tuple[str, ...]
    who: str
    says: str
    source: Source
    checked: Day
    in_force: Day | None = None
    ends: Day | None = None
    every: Span | None = None
    figures: Mapping[str, float] = field(default_factory=dict)

    def holds_on(self, day: Day) -> bool:
        """Whether it is law on that day."""
        return (self.in_force or day) <= day <= (self.ends or day)


def read_law(doc: Doc, file: str, known: Known) -> tuple[tuple[BarRule, ...], list[Fault]]:
    """The closed seasons of one nation's file, and all that is wrong with it, its rules among it."""
    reading = Reading(file, known)
    head = Table(doc, reading)
    nation = _nation(head)
    bars = [bar(placed(table, "bar", name), name, nation) for name, table in listed(head, "bar").items()]
    _rules(head, nation)
    head.close()
    return tuple(bars), reading.faults


def read_rules(doc: Doc, file: str, known: Known) -> tuple[LandRule, ...]:
    """What one nation's file asks besides its closed seasons; what is wrong with it, `read_law` says."""
    head = Table(doc, Reading(file, known))
    return _rules(head, _nation(head))


def _nation(head: Table) -> Nation:
    return cast(Nation, head.choice("nation", NATIONS, "elsewhere", needed=True) or "elsewhere")


def _rules(head: Table, nation: Nation) -> tuple[LandRule, ...]:
    return tuple(_rule(placed(table, "rule", name), name, nation) for name, table in listed(head, "rule").items())


def rules_for(rules: tuple[LandRule, ...], nation: Nation | None, sheet: str, on: Day) -> list[LandRule]:
    """What the law of a nation asks of what a sheet is about, on a day; nothing while no nation is set."""
    return [one for one in rules if one.nation == nation and sheet in one.sheets and one.holds_on(on)]


def _rule(table: Table, name: str, nation: Nation) -> LandRule:
    table.take("id")
    first, last, checked = in_force(table)
    if checked is None and not table.has("checked"):
        table.fault("checked", "is missing; expected the day on which it was last looked up")
    sheets = table.texts("sheets")
    if not sheets:
        table.fault("sheets", "names no sheet; law is told beside the sheets it concerns")
    docs = table.reading.known.docs
    for one in sheets:
        if docs is not None and one not in docs:
            table.fault("sheets", f"there is no sheet '{one}'")
    every = table.span("every") if table.has("every") else NOTHING
    found = LandRule(
        name, nation, sheets, table.text("who", needed=True), table.text("says", needed=True), source(table),
        checked or 1, first, last, every if every != NOTHING else None, _figures(table),
    )  # fmt: skip
    table.close()
    return found


def _figures(table: Table) -> dict[str, float]:
    below = table.table("figures")
    return {key: below.number(key) or 0.0 for key in below.doc} if below else {}
