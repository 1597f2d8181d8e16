"""How many there are of a group, over time: told, taken back, put right. What follows shrinks or grows with it."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict, NotFound, OutOfRange
from app.records import store
from app.records.store import HeadFactRow
from app.rules.facts import Amendment, Entry
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.why import said
from app.services.book import Book
from app.services.entries import date_facts
from app.services.jobs import bars_on
from app.services.livestock.carried import carry
from app.services.livestock.following import ALIVE, LEAVE, Change, carried_token, report_leaving, strike_made
from app.services.livestock.groups import Group, date_of, find_group, head_of, said_of
from app.services.livestock.held import held
from app.services.livestock.held_ones import held_ones, number_held
from app.trade.livestock.head_counts import after_each

__all__ = ["ALIVE", "LEAVE", "Change", "HeadFactRow", "Told", "history", "put_paper", "take_back", "tell", "tell_in"]

_ACTS = {"sold": ("move off", "sell"), "given": ("move off", "sell"), "left": ("move off",), "killed": ("slaughter",)}


class Told(NamedTuple):
    """What came of it: how many are left, what the law says of it, and whether it is new."""

    alive: int
    flags: tuple[str, ...] = ()
    fresh: bool = True


def tell(book: Book, entry_id: str, change: Change, today: Day, ident: str) -> Told:
    """Take a change of a count down; the entry's own count, by which its jobs reckon, follows it.

    Raises: NotFound; BadInput for a day to come, one before the group began, or more gone than were there.
    """
    with book.writing() as session:
        group = find_group(book, session, entry_id, today)
        if store.head_fact(session, ident) is not None:
            return Told(group.alive, fresh=False)
        return tell_in(book, session, group, change, today, ident)


def tell_in(book: Book, session: Session, group: Group, change: Change, today: Day, ident: str) -> Told:
    """The same inside a session that writes; ``ident`` must be free."""
    entry = group.entry
    _check(entry, change, today)
    flags = _flags(book, session, group, change)
    target = find_group(book, session, change.to, today) if change.kind == "moved" else None
    if target is not None and target.entry.id == entry.id:
        raise BadInput({"to": "They are in that group already."})
    rows = _begun(book, session, group, change, ident)
    rows.append(_row(book, ident, entry.id, change))
    left = _write(book, session, entry, rows, today, change)
    if target is not None:
        joined = Change("joined", change.on, change.number, change.note or f"from {entry.name}")
        more = [*_begun(book, session, target, joined, f"{ident}-to"),
                _row(book, f"{ident}-to", target.entry.id, joined)]  # fmt: skip
        _write(book, session, target.entry, more, today, joined)
        running = held(book.live(session, today), [group], change.on)
        carry(book, session, running, target, change.on, carried_token(ident), today)
    report_leaving(book, session, group, change, today, ident)
    return Told(left, flags)


def take_back(book: Book, entry_id: str, fact_id: str, today: Day) -> int:
    """Something told of a count was not so; gives how many there are then.

    Raises: NotFound; Conflict when what was told after it can't be so without it.
    """
    with book.writing() as session:
        group = find_group(book, session, entry_id, today)
        row = next((one for one in group.facts if one.id == fact_id), None)
        if row is None or row.kind in ("began", "came"):
            raise NotFound("That was never told of this group, or was taken back already.")
        left = _strike(book, session, group, row, today)
        twin = store.head_fact(session, f"{fact_id}-to") or store.head_fact(session, fact_id.removesuffix("-to"))
        if twin is not None and not twin.struck and twin.id != fact_id:
            _strike(book, session, find_group(book, session, twin.entry, today), twin, today)
        strike_made(book, session, fact_id.removesuffix("-to"), today)
    return left


def history(group: Group) -> list[tuple[HeadFactRow, int]]:
    """What was told of a group with the count after it, the latest last."""
    return list(zip(group.facts, after_each(said_of(group.facts)), strict=True))


def put_paper(book: Book, entry_id: str, other: str, tags: str, paper: str, today: Day) -> None:
    """What stood on the paper with which a group came: the holding, the tags, the licence or notice.

    Raises: NotFound.
    """
    with book.writing() as session:
        group = find_group(book, session, entry_id, today)
        first = next((one for one in group.facts if one.kind in ("began", "came")), None)
        if first is None:
            change = Change("came", date_of(group.entry), head_of(group.entry))
            first = _row(book, f"began-{entry_id}", entry_id, change)
        first.kind, first.other, first.tags, first.paper = "came", other, tags, paper
        store.put_head_fact(session, first)
        book.replan(session, (), today)


def _check(entry: Entry, change: Change, today: Day) -> None:
    if change.on > today:
        raise BadInput({"on": "That day has not come yet."})
    if change.on < date_of(entry):
        raise BadInput({"on": f"That is before they were here: they began on {said(date_of(entry))}."})
    if change.number < 1 and change.kind != "counted":
        raise BadInput({"number": "How many? One at least."})


def _begun(book: Book, session: Session, group: Group, change: Change, ident: str) -> list[HeadFactRow]:
    """What was told before, headed by the count they began with; a count changed elsewhere since goes before it."""
    rows, entry = list(group.facts), group.entry
    if not rows:
        start = _row(book, f"began-{entry.id}", entry.id, Change("began", date_of(entry), head_of(entry)))
        return [store.put_head_fact(session, start)]
    counted = after_each(said_of(rows))[-1]
    if counted and counted != head_of(entry):
        on = max(change.on, rows[-1].on_day.toordinal())
        put = Change("counted", on, head_of(entry), "put right on its own page")
        rows.append(store.put_head_fact(session, _row(book, f"{ident}-was", entry.id, put)))
    return rows


def _row(book: Book, ident: str, entry_id: str, change: Change) -> HeadFactRow:
    return HeadFactRow(
        id=ident, entry=entry_id, kind=change.kind, on_day=date.fromordinal(change.on), number=change.number,
        other=change.other, tags=change.tags, paper=change.paper, note=change.note, created_at=book.now(),
    )  # fmt: skip


def _write(
    book: Book, session: Session, entry: Entry, rows: Sequence[HeadFactRow], today: Day, change: Change
) -> int:  # fmt: skip
    """Write the last of some rows, once all of them add up; gives the count."""
    fresh = rows[-1]
    ordered = sorted(rows, key=lambda one: (one.on_day, one is fresh, one.created_at, one.id))
    try:
        left = after_each(said_of(ordered))[-1]
    except OutOfRange as error:
        there = _before(ordered, fresh)
        here = f"Only {there} were there then" if there else "There were no more then"
        raise BadInput(
            {"number": f"{here}; {change.number} can’t have gone. Count them, and put the count right."}
        ) from error
    store.put_head_fact(session, fresh)
    _put_head(book, session, entry, left, change.on, today)
    return left


def _before(ordered: Sequence[HeadFactRow], fresh: HeadFactRow) -> int:
    """How many there were before a row, as far as the rows before it add up."""
    before = list(ordered[: [one is fresh for one in ordered].index(True)])
    return after_each(said_of(before))[-1] if before else 0


def _strike(book: Book, session: Session, group: Group, row: HeadFactRow, today: Day) -> int:
    rest = [one for one in group.facts if one.id != row.id]
    try:
        left = after_each(said_of(rest))[-1] if rest else head_of(group.entry)
    except OutOfRange as error:
        raise Conflict("Without it more would have gone later than were there; take those back first.") from error
    row.struck = True
    store.put_head_fact(session, row)
    last = rest[-1].on_day.toordinal() if rest else today
    _put_head(book, session, group.entry, left, last, today)
    return left


def _put_head(book: Book, session: Session, entry: Entry, left: int, on: Day, today: Day) -> None:
    """The entry's own count, from which feed, minutes and lots are reckoned; without any left it has ended."""
    sheet = book.library.sheets[entry.sheet]
    facts = {**entry.facts, "head": max(left, 1)} if "head" in sheet.facts else dict(entry.facts)
    ends = on if not left else None if entry.ends is not None and entry.ends <= today else entry.ends
    dates = date_facts(sheet)
    if entry.made_by:
        old = next(iter(store.amendments(session, [entry.id])), Amendment(entry.id))
        changed = {**old.facts, **({"head": facts["head"]} if "head" in facts else {})}
        store.amend(session, old._replace(facts=changed, ends=ends), dates=dates & changed.keys())
    else:
        store.change_entry(session, entry._replace(facts=facts, ends=ends), dates=dates)
    book.replan(session, {entry.id}, today)


def _flags(book: Book, session: Session, group: Group, change: Change) -> tuple[str, ...]:
    """What the law says of it. It is taken down all the same: it is what happened."""
    entry = group.entry
    found = [
        f"{bar.says} It is taken down all the same, since it is what happened."
        for act in _ACTS.get(change.kind, ())
        for bar in bars_on(book, session, entry.id, act, change.on)
        if bar.kind == "law"
    ]
    if change.kind == "put down" and any(
        bar.kind == "law" for bar in bars_on(book, session, entry.id, "slaughter", change.on)
    ):
        found.append("Killing one that suffers is never barred; nothing of it is eaten, since a withdrawal runs.")
    if {"sell", "slaughter"} & set(_ACTS.get(change.kind, ())):
        found += _ones(session, book.live(session, book.today().toordinal()), group, change)
    return tuple(dict.fromkeys(found))


def _ones(session: Session, live: Live, group: Group, change: Change) -> list[str]:
    """Whether single animals inside a withdrawal period are among those that went: they are named, or too few were
    left besides them."""
    ones = [one for one in held_ones(session, live, [group], change.on) if one.meat]
    if change.who:
        ones = [one for one in ones if change.who in one.names]
    elif number_held(ones) <= group.alive - change.number:
        ones = []
    return [
        f"Inside its withdrawal period: {', '.join(one.names)}. Taken down all the same: it is what happened."
        for one in ones
    ]
