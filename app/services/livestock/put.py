"""Putting a group of animals down in one line, and what was told of it on other pages."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.rules.facts import Entry, Tick
from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.livestock.animals import SERVED
from app.services.livestock.groups import Group, head_of, is_group
from app.services.livestock.heads import LEAVE, Change, put_paper, tell
from app.services.preview import Draft, sheet_of
from app.services.put_once import once_id, put_once
from app.sheets.livestock_keep import keeps
from app.trade.livestock.served import no_service

KINDS = {"move off": "left", "slaughter": "killed", "put down": "put down"}
"""What the doing of a job says of animals, by its act."""


class NewGroup(NamedTuple):
    """A group as it was typed; ``other``, ``tags`` and ``paper`` of the movement with which it came."""

    sheet: str
    on: Day
    head: int | None = None
    name: str = ""
    place: str = ""
    other: str = ""
    tags: str = ""
    paper: str = ""


class Elsewhere(NamedTuple):
    """Animals told as gone on another page and not yet taken off the count; ``source`` names what was told."""

    source: str
    kind: str
    on: Day
    number: int
    entry: str


def put_group(book: Book, new: NewGroup, token: str, today: Day) -> str:
    """Put a group down on its sheet; its entry's id comes back. Sent twice it is put down once.

    Raises: NotFound; BadInput for a sheet of no animals, one that asks more than a line, or a wether that is served.
    """
    sheet = sheet_of(book, new.sheet)
    if not is_group(sheet):
        raise BadInput({"sheet": "That is no group of animals; choose one of these."})
    served = no_service(new.name) if sheet.id in SERVED.values() else ""
    if served:
        raise BadInput({"on": f"{served}"})
    facts: dict[str, Value] = {"date": new.on}
    asks = sheet.facts.get("head")
    if asks is not None and new.head is not None:
        if not (asks.low or 0) <= new.head <= (asks.high or 10**6):
            raise BadInput({"head": f"It should be between {asks.low or 0:g} and {asks.high or 10**6:g}."})
        facts["head"] = new.head
    missing = [
        a for a in sheet.facts.values() if a.default is None and not a.optional and a.name not in ("date", "head")
    ]
    if missing:
        raise BadInput({"sheet": f"That one asks more: {missing[0].label.lower()}. Put it down on its own page."})
    ident = put_once(book, Draft(sheet.id, new.name, new.place, facts), token, today)
    if new.other or new.tags or new.paper:
        put_paper(book, ident, new.other, new.tags, new.paper, today)
    return ident


def elsewhere(book: Book, session: Session, group: Group, today: Day) -> list[Elsewhere]:
    """What was told on other pages of animals of a group that are gone, and is not yet taken off its count."""
    return elsewhere_of(book, session, [group.entry.id], today).get(group.entry.id, [])


def elsewhere_of(
    book: Book, session: Session, groups: Collection[str], today: Day
) -> dict[str, list[Elsewhere]]:  # fmt: skip
    """The same of several groups, by their ids."""
    live = book.live(session, today)
    known = {one.id for one in store.head_facts(session)}
    ours = {once_id(sheet, one) for one in known for sheet in LEAVE.values()}
    wanted = frozenset(groups)
    found: dict[str, list[Elsewhere]] = {}
    for laid in list(live.laid.values()):
        entry = laid.entry
        whose = entry.id if entry.id in wanted else str(entry.facts.get("for", ""))
        sheet = book.library.sheets.get(entry.sheet)
        if entry.struck or not entry.sure or whose not in wanted or entry.id in ours or sheet is None:
            continue
        for one in _gone(entry, sheet, live.facts.ticks.get(entry.id, ()), today):
            if one.source not in known and one.on <= today:
                found.setdefault(whose, []).append(one)
    return found


def _gone(entry: Entry, sheet: Sheet, ticks: Iterable[Tick], today: Day) -> Iterator[Elsewhere]:
    """What an entry and its jobs say of animals that are gone: found dead, loaded, killed, put down. A job that says no
    number took all of them, unless it is one of a group that goes on after it."""
    if entry.sheet == "dead-animal":
        yield Elsewhere(f"from-{entry.id}", "died", _day(entry.facts, today), head_of(entry), entry.id)
    acts = {step.id: KINDS[step.act] for step in sheet.steps if step.act in KINDS}
    for tick in in_force(ticks):
        step = split_key(tick.key).step
        goes_on = is_group(sheet) and (entry.sheet not in keeps() or keeps()[entry.sheet].ends != step)
        kind, head = acts.get(step, ""), tick.measures.get("head", 0 if goes_on else head_of(entry))
        if tick.kind == "done" and kind and isinstance(head, int | float) and head > 0:
            yield Elsewhere(f"from-{tick.id}", kind, tick.on, int(head), entry.id)


def count_in(book: Book, group: Group, source: str, today: Day) -> None:
    """Take what was told elsewhere off the count; the same once more is nothing new.

    Raises: BadInput where more are gone than there were, or nothing of that name was told.
    """
    with book.reading() as session:
        one = next((each for each in elsewhere(book, session, group, today) if each.source == source), None)
        if one is None and store.head_fact(session, source) is not None:
            return
    if one is None:
        raise BadInput({"": "Nothing of that name was told, so nothing was changed."})
    tell(book, group.entry.id, Change(one.kind, one.on, one.number, "told on another page"), today, source)


def _day(facts: Mapping[str, Value], today: Day) -> Day:
    date = facts.get("date")
    return int(date) if isinstance(date, int) else today
