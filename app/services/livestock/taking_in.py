"""Single animals in from a table: looked at first, then taken in. A row counts once, and a bad one loses no other."""

from collections.abc import Mapping, Sequence
from hashlib import blake2b
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.csvs import unguarded
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.csv import day_in, lines_of, names_of
from app.services.livestock.animals import Typed, row_of
from app.services.livestock.groups import Group, herd

COLUMNS = ("tag", "name", "group", "sex", "born", "mother", "father", "marked on", "cull", "note")
OTHER_NAMES = {"dam": "mother", "sire": "father", "marked": "marked on", "number": "tag", "cull list": "cull"}
SEX = {
    **dict.fromkeys(("female", "f", "ewe", "sow", "gilt", "cow", "heifer", "nanny", "doe", "hen", "duck"), "female"),
    **dict.fromkeys(("male", "m", "ram", "tup", "boar", "bull", "billy", "buck", "cock", "drake"), "male"),
    **dict.fromkeys(("castrated", "wether", "barrow", "steer", "bullock"), "castrated"),
}
LONGEST = {"tag": 40, "name": 40, "mother": 60, "father": 60, "note": 2000}


class Read(NamedTuple):
    """A row that can be taken in, with the group it goes to and an id that the same row has again."""

    id: str
    entry: str
    group: str
    typed: Typed


class Looked(NamedTuple):
    """What was understood of a table: rows to take in, lines that can't be read and why, animals that are here."""

    rows: tuple[Read, ...]
    faults: tuple[tuple[int, str], ...]
    twice: int
    here: tuple[str, ...]


def look(book: Book, session: Session, text: str, usual: str, today: Day) -> Looked:
    """Read a table; nothing is changed. ``usual`` is the group of rows that name none.

    Raises: BadInput under "text" when it is no table, or its first line names neither a tag nor a name.
    """
    groups = herd(book, session, today)
    names = {one.entry.name.casefold(): one for one in (*groups.here, *groups.coming)}
    names |= {one.entry.id: one for one in (*groups.here, *groups.coming)}
    heads, lines = names_of(lines_of(text), OTHER_NAMES, (("tag", "name"),))
    there = store.animals(session)
    tags, ids = {one.tag.casefold() for one in there if one.tag and one.gone_on is None}, {one.id for one in there}
    rows: dict[str, Read] = {}
    faults: list[tuple[int, str]] = []
    here: list[str] = []
    twice = 0
    for number, cells in lines:
        said = {name: unguarded(cell.strip()) for name, cell in zip(heads, cells, strict=False)}
        try:
            one = _read(said, names, usual, today)
        except ValueError as error:
            faults.append((number, str(error)))
            continue
        if one.id in ids or one.typed.tag.casefold() in tags:
            here.append(one.typed.tag or one.typed.name)
        elif one.id in rows:
            twice += 1
        elif one.typed.tag and any(one.typed.tag.casefold() == other.typed.tag.casefold() for other in rows.values()):
            faults.append((number, f"The tag {one.typed.tag} stands in an earlier row."))
        else:
            rows[one.id] = one
    return Looked(tuple(rows.values()), tuple(faults), twice, tuple(here))


def take_in(book: Book, text: str, usual: str, today: Day) -> int:
    """Take in the rows of a table that can be read; gives how many animals are new.

    Raises: BadInput as `look`.
    """
    with book.writing() as session:
        rows = look(book, session, text, usual, today).rows
        for one in rows:
            store.put_animal(session, row_of(book, one.id, one.entry, one.typed))
        book.replan(session, (), today)
    return len(rows)


def _read(said: Mapping[str, str], groups: Mapping[str, Group], usual: str, today: Day) -> Read:
    """One row.

    Raises: ValueError with a sentence.
    """
    for name, most in LONGEST.items():
        if len(said.get(name, "")) > most:
            raise ValueError(f"{name}: {most} letters fit.")
    tag, name = said.get("tag", ""), said.get("name", "")
    if not tag and not name:
        raise ValueError("It has neither a tag nor a name.")
    wanted = said.get("group", "")
    group = groups.get(wanted.casefold()) if wanted else groups.get(usual)
    if group is None:
        there = ", ".join(sorted({one.entry.name for one in groups.values()}))
        known = f"the groups are {there}" if there else "no group is put down yet"
        raise ValueError(f"group: {f'{wanted[:40]!r} is none that is here; ' if wanted else 'none is said; '}{known}.")
    sex = said.get("sex", "").casefold()
    if sex and sex not in SEX:
        raise ValueError(f"sex: {sex[:40]!r} is none of female, male, castrated.")
    born, marked = day_in(said.get("born", ""), "born"), day_in(said.get("marked on", ""), "marked on")
    if any(on is not None and on > today for on in (born, marked)):
        raise ValueError("born or marked on: that day has not come yet.")
    cull = said.get("cull", "").casefold()
    if cull not in ("", "yes", "no", "y", "n", "x"):
        raise ValueError(f"cull: {cull[:40]!r} is neither yes nor no.")
    typed = Typed(tag, name, SEX.get(sex, ""), born, said.get("mother", ""), said.get("father", ""), marked,
                  cull in ("yes", "y", "x"), said.get("note", ""))  # fmt: skip
    parts: Sequence[object] = (group.entry.id, *typed)
    ident = blake2b("\x1f".join(str(part).casefold() for part in parts).encode(), digest_size=15).hexdigest()
    return Read(f"in{ident}", group.entry.id, group.entry.name, typed)
