"""Files of readings: put by for the step between, looked at, taken in, taken out again."""

import re
import secrets
from collections.abc import Callable
from datetime import date, timedelta
from os import utime
from pathlib import Path
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, DataFolderError, NotFound
from app.records import store
from app.records.store import WeatherFileRow, WeatherRow
from app.services.book import Book
from app.trade.climate.readings import How, Reading, Readings, Recognised, Unread, read_days, recognise
from app.trade.climate.readings_heads import RAINS, ROLES, TEMPERATURES, Columns
from app.trade.climate.readings_months import MonthMean, monthly_means
from app.trade.climate.readings_table import Table, table_of

__all__ = [
    "RAINS", "ROLES", "TEMPERATURES", "Columns", "Heard", "How", "Looked", "MonthMean", "Reading", "Readings",
    "Recognised", "Taken", "Unread", "fetch", "let_go", "look", "named", "put_by", "read_bytes",
    "take_file", "take_in", "take_out",
]  # fmt: skip

LARGEST_BYTES = 16 * 1024 * 1024
MOST_PUT_BY = 20
FEW = 100
"""So many changed days are told one by one when the dates are worked out anew."""
_NAME = re.compile(r"[A-Za-z0-9_-]{16}")
Heard = Callable[[int, int, str], None]
"""Told how much of how much is done, and what with."""


class Looked(NamedTuple):
    """A file as it would be taken in: nothing is kept yet. ``read`` is None while something must be asked first."""

    name: str
    table: Table
    found: Recognised
    read: Readings | None
    months: tuple[MonthMean, ...]


class Taken(NamedTuple):
    """What came of a file: days that are new, days whose gaps were filled, days that stayed as they were."""

    file: int
    new: int
    filled: int
    stayed: int
    left_out: int


# ── Putting by ────────────────────────────────────────────────────────────────────────────────────────────────────


def read_bytes(content: bytes) -> str:
    """The text of a file, whichever of the usual ways it is written in.

    Raises: BadInput when it is no text, or far too long.
    """
    if len(content) > LARGEST_BYTES:
        raise BadInput({"file": "That is more than 16 MB; a hundred years of days are less."})
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", "replace")
    if b"\x00" in content[:4096] or content[:4] in (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF"):
        raise BadInput({"file": "That is no text. In the spreadsheet, save it as CSV first."})
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def put_by(book: Book, name: str, text: str) -> str:
    """Keep a file until it is taken in, for a day at most; gives the word by which it is found again.

    Raises: BadInput when there is no table in it; DataFolderError when the folder can't be written.
    """
    try:
        table_of(text)
    except ValueError as error:
        raise BadInput({"file": str(error)}) from error
    clean = " ".join(name.replace("\\", "/").rpartition("/")[2].split())[:80] or "Pasted"
    word, folder = secrets.token_urlsafe(12), _folder(book)
    try:
        folder.mkdir(exist_ok=True)
        _clear(folder, book.now().timestamp())
        file = folder / f"{word}.txt"
        file.write_text(f"{clean}\n{text}", encoding="utf-8", newline="")
        utime(file, (book.now().timestamp(),) * 2)
    except OSError as error:
        raise DataFolderError(f"{folder} can't be written ({error.strerror}).") from error
    return word


def _folder(book: Book) -> Path:
    return book.settings.data / "staged"


def _clear(folder: Path, now: float) -> None:
    """Let go of what was put by and never taken in."""
    files = sorted(folder.glob("*.txt"), key=lambda file: file.stat().st_mtime, reverse=True)
    for number, file in enumerate(files):
        if number >= MOST_PUT_BY - 1 or now - file.stat().st_mtime > timedelta(days=1).total_seconds():
            file.unlink(missing_ok=True)


def fetch(book: Book, word: str) -> tuple[str, str]:
    """A file that was put by: its name and its text.

    Raises: NotFound when it is gone.
    """
    file = _folder(book) / f"{word}.txt"
    if not _NAME.fullmatch(word) or not file.is_file():
        raise NotFound("That file is no longer put by; choose it once more.")
    with file.open(encoding="utf-8", newline="") as opened:
        name, _, text = opened.read().partition("\n")
    return name, text


def let_go(book: Book, word: str) -> None:
    """A file that was put by is wanted no longer."""
    if _NAME.fullmatch(word):
        (_folder(book) / f"{word}.txt").unlink(missing_ok=True)


# ── Looking and taking in ─────────────────────────────────────────────────────────────────────────────────────────


def look(name: str, text: str, said: How, latitude_deg: float, today: date, heard: Heard | None = None) -> Looked:
    """What a file holds, read as ``said`` and else as it is recognised.

    Raises: BadInput when there is no table in it.
    """
    try:
        table = table_of(text)
    except ValueError as error:
        raise BadInput({"file": str(error)}) from error
    found = recognise(table, said, latitude_deg)
    if found.doubts or found.shape == "several":
        return Looked(name, table, found, None, ())
    if found.shape == "monthly":
        return Looked(name, table, found, None, monthly_means(table, found.how).months)
    rows = (lambda done, of: heard(done, of, "Reading the rows")) if heard else None
    return Looked(name, table, found, read_days(table, found.how, until=today, heard=rows), ())


def take_in(book: Book, looked: Looked, *, over: bool = False, heard: Heard | None = None) -> Taken:
    """Write the days of a file; every date that warmth drives follows.

    A day on record stays as it is, and only what was not read on it is filled in; with ``over`` the file counts.

    Raises: BadInput when no day in it is new.
    """
    read = looked.read
    if read is None or not read.days:
        raise BadInput({"file": "No day in it can be read."})
    tell = heard or (lambda done, of, what: None)
    with book.writing() as session:
        known = _known(session, read)
        new, filled = _sorted(read, known, over, book)
        stayed = len(read.days) - len(new) - len(filled)
        if not new and not filled:
            raise BadInput({"file": "Every day of it is on record already."})
        tell(1, 3, "Writing the days")
        row = WeatherFileRow(name=looked.name, taken_at=book.now(), rows=len(new), left_out=len(read.unread))
        file = store.add_weather_file(session, row).id or 0
        days = [store.WeatherDay(*one) for one in new]
        store.put_weather_days(session, days, at=book.now(), file=file)
        store.put_weather(session, filled)
        tell(2, 3, "Working out every date anew")
        changed = [one.day.toordinal() for one in new] + [one.day.toordinal() for one in filled]
        book.replan_weather(session, changed if len(changed) <= FEW else None)
    return Taken(file, len(new), len(filled), stayed, len(read.unread))


def _known(session: Session, read: Readings) -> dict[date, WeatherRow]:
    first, last = read.days[0].day.toordinal(), read.days[-1].day.toordinal()
    return {row.day: row for row in store.weather_days(session, first, last)}


def _sorted(
    read: Readings, known: dict[date, WeatherRow], over: bool, book: Book
) -> tuple[list[Reading], list[WeatherRow]]:
    """The days that are new, and those on record of which something is filled in."""
    new, filled = [], []
    for one in read.days:
        row = known.get(one.day)
        if row is None or (over and (row.min_c, row.max_c, row.rain_mm) != one[1:]):
            new.append(one)
            continue
        values = [had if had is not None else got for had, got in zip(_values(row), one[1:], strict=True)]
        crossed = values[0] is not None and values[1] is not None and values[0] > values[1]
        if tuple(values) != _values(row) and not crossed:
            made = WeatherRow(day=row.day, file=row.file, at=book.now())
            made.min_c, made.max_c, made.rain_mm = values
            filled.append(made)
    return new, filled


def _values(row: WeatherRow) -> tuple[float | None, float | None, float | None]:
    return row.min_c, row.max_c, row.rain_mm


def named(temperature: str, rain: str, order: str) -> How:
    """How a file is read, by the words of the command: "tenths" stands for tenths of °C, or of mm."""
    units = {"tenths": ("tenths c", "tenths mm")}
    return How(
        temperature=units.get(temperature, (temperature, ""))[0], rain=units.get(rain, ("", rain))[1], order=order
    )


def take_file(
    book: Book, path: Path, said: How, *, over: bool = False, heard: Heard | None = None
) -> tuple[Looked, Taken]:
    """Take in a file by its path, in one go.

    Raises: BadInput with every question that must be answered first, or when no day in it can be had; MissingFact while
    the first run is not done.
    """
    try:
        text = read_bytes(path.read_bytes())
    except OSError as error:
        raise BadInput({"file": f"{path} can't be read ({error.strerror})."}) from error
    with book.reading() as session:
        latitude = book.holding(session).latitude
    looked = look(path.name, text, said, latitude, book.today(), heard)
    if looked.found.doubts:
        raise BadInput(looked.found.doubts)
    if looked.read is None:
        raise BadInput({"file": f"{path.name} has no row for each day."})
    return looked, take_in(book, looked, over=over, heard=heard)


def take_out(book: Book, file: int) -> int:
    """Take a file out again with every day that came of it; gives how many those were.

    Raises: NotFound.
    """
    with book.writing() as session:
        gone = store.remove_weather_file(session, file)
        book.replan_weather(session, None)
    return gone
