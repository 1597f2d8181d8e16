"""Spells and bars: seasons of a sheet's own, and what forbids an act for a while."""

from typing import cast

from app.rules.moment import EntryDate, Mark, Moment, TickDay, YearDay
from app.rules.sheet import BarKind, BarOn, BarRule, Spell
from app.rules.spans import Day
from app.rules.terms import ACTS, NATIONS, Nation
from app.sheets.moments import ENTRY, inner, moment
from app.sheets.sources import source
from app.sheets.values import Table

KINDS = ("law", "room", "clash")
ON = ("entry", "for", "place", "species", "holding", "kit")
LAW_RESTS_ON = (EntryDate, TickDay)


def spell(table: Table, name: str) -> Spell:
    """Read one ``[[spell]]``."""
    table.take("id")
    ends = []
    for key in ("from", "to"):
        if not table.has(key):
            table.fault(key, "is missing; expected a day or a mark")
        found = moment(table.table(key), yearly=True)
        ends.append(found if isinstance(found, YearDay | Mark) else YearDay(1, 1))
    whole = table.choices("whole", table.reading.asks, "step")
    table.close()
    return Spell(name, ends[0], ends[1], whole)


def bar(table: Table, name: str, nation: str = "", species: str = "") -> BarRule:
    """Read one ``[[bar]]``, of a sheet or, with its ``nation``, of the law of the land."""
    table.take("id")
    kind = cast(BarKind, table.choice("kind", KINDS, "law", needed=not nation))
    on = cast(BarOn, table.choice("on", ("holding",) if nation else ON, "holding", needed=not nation))
    acts = table.choices("acts", ACTS, "act")
    if not acts:
        table.fault("acts", "names no act; a bar forbids at least one")
    opens, closes = (_end(table, key, kind, bool(nation)) for key in ("from", "to"))
    nations = cast(tuple[Nation, ...], table.choices("nations", NATIONS, "nation"))
    if nation:
        if nations or kind != "law":
            table.fault("nations" if nations else "kind", "a file of law is all law, of the one nation at its head")
        nations = (cast(Nation, nation),)
    whom = table.texts("species")
    says = table.text("says", needed=True)
    dated = in_force(table) if nation else (None, None, None)
    found = BarRule(name, kind, on, acts, opens, closes, says, source(table), whom, nations, table.text("kit"), *dated)
    _subject(table, found, species)
    table.close()
    return found


NOT_KNOWN = "not known"


def in_force(table: Table) -> tuple[Day | None, Day | None, Day | None]:
    """From when law is in force, its last day, and when it was last checked.

    Of each the first is said, if only as ``"not known"``, which is None here: then it is taken to hold on every day.
    """
    if table.doc.get("in_force") == NOT_KNOWN:
        table.take("in_force")
        first = None
    else:
        first = table.day("in_force")
        if not table.has("in_force"):
            table.fault("in_force", f'is missing; expected the first day on which it is law, or "{NOT_KNOWN}"')
    last, checked = table.day("ends"), table.day("checked")
    if first is not None and last is not None and last < first:
        table.fault("ends", "lies before in_force")
    return first, last, checked


def _end(table: Table, key: str, kind: BarKind, of_the_land: bool) -> Moment:
    if not table.has(key):
        table.fault(key, "is missing; a bar has two ends, both inclusive")
        return ENTRY
    found = moment(table.table(key), yearly=True) if of_the_land else inner(table, key)
    if found is None:
        return ENTRY
    if of_the_land and not isinstance(found, YearDay):
        table.fault(key, "a closed season begins and ends on a day of the year")
    elif kind == "law" and not of_the_land and not isinstance(found, LAW_RESTS_ON):
        kinds = "{ entry = .. } or { tick = .. }"
        table.fault(key, f"a bar of law rests on facts and ticks alone, never on a plan; expected {kinds}")
    return found


def _subject(table: Table, found: BarRule, species: str) -> None:
    """Whom the bar touches must be named somewhere."""
    facts = table.reading.facts
    if found.on == "for" and ("for" not in facts or facts["for"].kind != "entry"):
        table.fault("on", "'for' needs a fact `for`, asked as entry, that names whom it touches")
    if found.on == "species" and not species:
        table.fault("on", "'species' means the sheet's own, and it names none at its head")
    if (found.on == "kit") != bool(found.kit):
        reason = "is missing: on = 'kit' names the thing in use" if found.on == "kit" else "belongs to on = 'kit' alone"
        table.fault("kit", reason)
