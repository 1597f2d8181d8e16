"""Putting down what there is, changing it, striking it out, ending it, bringing it back."""

from collections.abc import Mapping, Sequence

from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict, NotFound
from app.records import store
from app.rules.facts import Amendment, Entry, Tick
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import Value
from app.rules.why import said
from app.services.book import Book
from app.services.garden.bed_records import bed_spelt
from app.services.garden.sown import settle_sowing
from app.services.preview import Copy, Draft, Looked, begun, look, moment, sheet_of


def look_new(book: Book, session: Session, draft: Draft, today: Day) -> Looked:
    """The dates that would follow if this were put down.

    Raises: NotFound for a sheet that is not there; MissingFact while the first run is not done.
    """
    entry = _entry(session, sheet_of(book, draft.sheet), draft, today)
    ticks = begun(book, session, entry, today, moment(book))
    return look(book, session, entry.id, Copy(entry, ticks=tuple(ticks)), today)


def put_down(book: Book, draft: Draft, today: Day, seen: str = "", ident: str = "") -> str:
    """Put an entry down; its id comes back. Where its date has come, its first step is ticked as done on it.

    ``ident`` gives it an id of its own: sent twice with the same, it is put down once.
    Raises: NotFound for a sheet that is not there; Conflict when ``seen`` is given and the dates are others by now.
    """
    with book.writing() as session:
        if ident and store.entries(session, [ident]):
            return ident
        if seen and look_new(book, session, draft, today).seen != seen:
            raise Conflict("The dates have changed since they were shown; look at them once more.")
        entry_id = add(book, session, draft, today, ident)
        for begun_by in store.ticks(session, [entry_id]):
            settle_sowing(book, session, begun_by.key, today)
        return entry_id


def add(book: Book, session: Session, draft: Draft, today: Day, ident: str = "") -> str:
    """The same inside a session that writes; an ``ident`` must be free."""
    (entry_id,) = add_all(book, session, [draft], today, ident)
    return entry_id


def add_all(book: Book, session: Session, drafts: Sequence[Draft], today: Day, ident: str = "") -> list[str]:
    """The same for several at once, which are planned once when all are down. An ``ident`` is that of the first.

    What a date that has come says of a first step is worked out as if the others were not there.
    """
    ids: list[str] = []
    for draft in drafts:
        sheet = sheet_of(book, draft.sheet)
        entry = _entry(session, sheet, draft, today)
        entry = entry._replace(id=ident) if ident and not ids else entry
        ticks = begun(book, session, entry, today, moment(book))
        store.add_entry(session, entry, now=book.now(), dates=date_facts(sheet), note=draft.note)
        _say(session, ticks)
        ids.append(entry.id)
    book.replan(session, ids, today)
    return ids


def look_change(book: Book, session: Session, entry_id: str, draft: Draft, today: Day) -> Looked:
    """What would move if an entry were changed so.

    Raises: NotFound when there is no such entry.
    """
    return look(book, session, entry_id, _changed(book, session, entry_id, draft, today), today)


def change(book: Book, entry_id: str, draft: Draft, today: Day, seen: str = "") -> None:
    """Change an entry's name, place and facts; what was ticked stays.

    Raises: NotFound; Conflict when ``seen`` is given and what would move is something else by now.
    """
    with book.writing() as session:
        copy = _changed(book, session, entry_id, draft, today)
        if seen and look(book, session, entry_id, copy, today).seen != seen:
            raise Conflict("The dates have changed since they were shown; look at them once more.")
        sheet = sheet_of(book, draft.sheet)
        if copy.entry is not None:
            store.change_entry(session, copy.entry, dates=date_facts(sheet), note=draft.note)
        if copy.amendment is not None:
            store.amend(session, copy.amendment, dates=date_facts(sheet))
        _say(session, copy.ticks)
        book.replan(session, {entry_id}, today)


def look_later(book: Book, session: Session, entry_id: str, days: int, today: Day) -> Looked:
    """What would move if an entry began so many days later.

    Raises: NotFound; Conflict for an entry that a job made, whose date is that of the job.
    """
    entry = find(book, session, entry_id, today)
    if entry.made_by:
        raise Conflict("Its date follows from the job that made it; move that one.")
    facts = {**entry.facts, "date": _date(entry) + days}
    draft = Draft(entry.sheet, entry.name, entry.place, facts)
    return look_change(book, session, entry_id, draft, today)


def strike(book: Book, entry_id: str, today: Day) -> None:
    """Take an entry out, since it was put down by mistake; what was ticked is kept.

    Raises: NotFound; Conflict when it is struck already.
    """
    with book.writing() as session:
        entry = find(book, session, entry_id, today)
        if entry.struck:
            raise Conflict(f"{entry.name} is struck out already.")
        _put(book, session, entry._replace(struck=True), today)


def end(book: Book, entry_id: str, on: Day, today: Day) -> None:
    """An entry is over: after that day nothing is asked of it.

    Raises: NotFound; BadInput for a day before it began; Conflict when it is struck.
    """
    with book.writing() as session:
        entry = find(book, session, entry_id, today)
        if entry.struck:
            raise Conflict(f"{entry.name} is struck out; bring it back first.")
        if on < min(_date(entry), today):
            raise BadInput({"on": f"It can’t end before it began, on {said(_date(entry))}."})
        _put(book, session, entry._replace(ends=on), today)


def bring_back(book: Book, entry_id: str, today: Day) -> None:
    """Take back that an entry was struck out, or that it has ended.

    Raises: NotFound; Conflict when it was neither.
    """
    with book.writing() as session:
        entry = find(book, session, entry_id, today)
        if not entry.struck and entry.ends is None:
            raise Conflict(f"{entry.name} is there as it is.")
        _put(book, session, entry._replace(struck=False, ends=None), today)


def find(book: Book, session: Session, entry_id: str, today: Day) -> Entry:
    """An entry by its id: one put down, or one that a job made.

    Raises: NotFound.
    """
    laid = book.live(session, today).laid.get(entry_id)
    if laid is not None:
        return laid.entry
    if "+" in entry_id:
        raise NotFound("There is no such entry any more: the job that made it was taken back.")
    return store.entry(session, entry_id)


def date_facts(sheet: Sheet) -> frozenset[str]:
    """Which of a sheet's facts are days."""
    return frozenset(name for name, ask in sheet.facts.items() if ask.kind == "date")


def _entry(session: Session, sheet: Sheet, draft: Draft, today: Day) -> Entry:
    ident = store.free_id(session, sheet.id)
    return Entry(ident, sheet.id, draft.name or sheet.title, dict(draft.facts), today, bed_spelt(session, draft.place))


def _changed(book: Book, session: Session, entry_id: str, draft: Draft, today: Day) -> Copy:
    entry = find(book, session, entry_id, today)
    if entry.struck:
        raise Conflict(f"{entry.name} is struck out; bring it back before you change it.")
    draft = draft._replace(place=bed_spelt(session, draft.place))
    if entry.made_by:
        return Copy(amendment=_amended(session, entry, draft))
    changed = entry._replace(name=draft.name or entry.name, place=draft.place, facts=dict(draft.facts))
    if changed.facts.get("date") == entry.facts.get("date"):
        return Copy(changed)
    ticks = begun(book, session, changed, today, moment(book), entry)
    return Copy(changed, ticks=tuple(ticks))


def _amended(session: Session, entry: Entry, draft: Draft) -> Amendment:
    """What the household adds to a made entry: what differs from what the job gave, beside what it added before."""
    old = next(iter(store.amendments(session, [entry.id])), Amendment(entry.id))
    fresh: Mapping[str, Value] = {
        name: value for name, value in draft.facts.items() if name != "date" and entry.facts.get(name) != value
    }
    name = draft.name if draft.name != entry.name else old.name
    place = draft.place if draft.place != entry.place else old.place
    return old._replace(facts={**old.facts, **fresh}, name=name, place=place)


def _put(book: Book, session: Session, entry: Entry, today: Day) -> None:
    """Write an entry's end and its struck mark, as what it is: put down, or an amendment to a made one."""
    sheet = book.library.sheets.get(entry.sheet)
    dates = date_facts(sheet) if sheet else frozenset(("date",))
    if entry.made_by:
        old = next(iter(store.amendments(session, [entry.id])), Amendment(entry.id))
        store.amend(session, old._replace(ends=entry.ends, struck=entry.struck), dates=dates & old.facts.keys())
    else:
        kept = store.entry(session, entry.id)
        store.change_entry(session, kept._replace(ends=entry.ends, struck=entry.struck), dates=dates)
    book.replan(session, {entry.id}, today)


def _say(session: Session, ticks: list[Tick] | tuple[Tick, ...]) -> None:
    for tick in ticks:
        store.add_tick(session, tick)


def _date(entry: Entry) -> Day:
    date = entry.facts.get("date")
    return date if isinstance(date, int) else entry.told
