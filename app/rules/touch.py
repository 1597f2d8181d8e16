"""Whom a change of some entries can move: themselves, what they make, and whom their bars can reach."""

from collections.abc import Collection, Mapping

from app.rules.bars import holds_in
from app.rules.facts import Entry
from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.terms import Nation

Sheets = Mapping[str, Sheet]
Known = Mapping[str, Entry]
Families = dict[str, set[str]]
"""The ids of what was made of each entry, itself among them; looked up, since a bar may reach every entry there is."""


def touched(known: Known, changed: Collection[str], sheets: Sheets, nation: Nation | None) -> set[str]:
    """The ids of the entries that may have to be laid again, among those that are known.

    Source: none; errs on the side of too many.
    """
    families: Families = {}
    for name in known:
        families.setdefault(root(name), set()).add(name)
    reach = set(changed).union(*(families.get(root(name), ()) for name in changed))
    shared = {entry.place for entry in known.values() if entry.place and _lays_room(entry, sheets)}
    while True:
        more = _barred(reach, known, families, shared, sheets, nation) | _named(reach, known, families)
        if not more:
            return reach
        reach |= more


def root(name: str) -> str:
    """The entry that the household put down, of which this one is or was made.

    Source: none; the form of `made_id`.
    """
    return split_key(name.partition("+")[0]).entry if "+" in name else name


def _barred(
    reach: Collection[str], known: Known, families: Families, shared: set[str], sheets: Sheets, nation: Nation | None
) -> set[str]:
    """Whom the bars of these entries can hold, with their families."""
    places, species, everyone = _reached(reach, known, sheets, nation)
    # Room is laid by earlier entries on later ones: all of a place are laid again, in their order.
    places |= shared & {known[name].place for name in reach if name in known}
    more: set[str] = set()
    for name, entry in known.items():
        if name in reach:
            continue
        sheet = sheets.get(entry.sheet)
        if everyone or entry.place in places or (sheet is not None and sheet.species in species):
            more |= families[root(name)]
    return more


def _named(reach: Collection[str], known: Known, families: Families) -> set[str]:
    """Whom these entries are for, and who is for them, with their families."""
    more = {
        other
        for name, entry in known.items()
        if name not in reach and entry.facts.get("for") in reach
        for other in families[root(name)]
    }
    for name in reach:
        named = known[name].facts.get("for") if name in known else None
        if isinstance(named, str) and named in known and named not in reach:
            more |= families[root(named)]
    return more


def _lays_room(entry: Entry, sheets: Sheets) -> bool:
    sheet = sheets.get(entry.sheet)
    return sheet is not None and any(rule.kind == "room" and rule.on == "place" for rule in sheet.bars)


def _reached(
    reach: Collection[str], known: Known, sheets: Sheets, nation: Nation | None
) -> tuple[set[str], set[str], bool]:
    """The places and species that bars of these entries can hold, and whether some hold everyone."""
    places: set[str] = set()
    species: set[str] = set()
    for name in reach:
        sheet = sheets.get(known[name].sheet) if name in known else None
        for rule in sheet.bars if sheet is not None else ():
            if rule.kind == "clash" or not holds_in(rule, nation):
                continue
            if rule.on == "place" and known[name].place:
                places.add(known[name].place)
            if rule.on == "species" and sheet is not None:
                species.add(sheet.species)
            if rule.on == "holding":
                if not rule.species:
                    return places, species, True
                species.update(rule.species)
    return places - {""}, species - {""}, False
