"""Restoring a backup: its rows are copied into fresh tables, so that nothing else in the file is ever adopted."""

import sqlite3
from datetime import datetime
from pathlib import Path

from sqlalchemy import URL
from sqlalchemy.exc import StatementError

from app.errors import BadInput, DataFolderError
from app.records import backup, sqlite
from app.records.beds import bed_facts, beds
from app.records.database import Place, hold
from app.records.facts import amendments, entries
from app.records.household import absences, feed_links, holding, people
from app.records.larder import batch_marks, kit
from app.records.lots import given_lots, lot_facts
from app.records.migrate import head, migrate
from app.records.session import reading, writing
from app.records.state import FACTS_VERSION, facts_version, set_state
from app.records.supply import supplies
from app.records.tables import FACTS
from app.records.ticks import ticks
from app.records.ways import nearby, ways
from app.records.weather import normals_months, weather_days, weather_files

LARGEST_BYTES = 512 * 1024 * 1024


def restore(place: Place, file: Path, *, now: datetime, largest: int = LARGEST_BYTES, held: bool = False) -> None:
    """Put a backup in place of what is here, of which a backup is made first.

    Nothing here changes until the whole backup has been read, checked and written anew; then one rename does it. The
    projection is left to be worked out again. ``held`` says that the caller holds the data folder already; nobody may
    have the database open.

    Raises: BadInput when the file is no sound backup; DataFolderError when the folder is in use or can't be written.
    """
    part = place.data / ".restore.part"
    _check_file(file, largest)
    if not held:
        with hold(place.data):
            restore(place, file, now=now, largest=largest, held=True)
        return
    try:
        part.unlink(missing_ok=True)
        _write_anew(file, part)
        _read_all(part, _version(place))
        _put_aside(place, now)
        backup.put_in_place(part, place.database)
    except OSError as error:
        raise DataFolderError(f"The backup can't be put into {place.data} ({error.strerror}).") from error
    finally:
        for end in ("", *sqlite.BESIDE):
            Path(f"{part}{end}").unlink(missing_ok=True)


def _check_file(file: Path, largest: int) -> None:
    if not file.is_file():
        raise _bad(f"There is no file {file}.")
    if file.stat().st_size > largest:
        raise _bad(f"{file.name} is larger than any backup could be ({largest // 1024 // 1024} MB at most).")
    with file.open("rb") as opened:
        if opened.read(len(sqlite.HEADER)) != sqlite.HEADER:
            raise _bad(f"{file.name} is no backup of Twelvemonth.")


def _write_anew(file: Path, part: Path) -> None:
    try:
        with sqlite.stranger(file) as source:
            version = _check(source, file)
            migrate(_url(part), version)
            target = sqlite3.connect(part)
            try:
                shape = sqlite.shape(target)
                if sqlite.shape(source) != shape:
                    raise _bad(f"{file.name} has other tables than a backup of Twelvemonth has.")
                sqlite.copy_rows(source, target, [name for name in FACTS if name in shape])
                if not sqlite.sound(target):
                    raise _bad(f"{file.name} has rows that belong to nothing.")
            finally:
                target.close()
    except sqlite3.IntegrityError as error:
        raise _bad(f"{file.name} has rows that can't be so ({error}).") from error
    except sqlite3.Error as error:
        raise _bad(f"{file.name} is damaged and can't be read whole.") from error
    migrate(_url(part))


def _check(source: sqlite3.Connection, file: Path) -> str:
    application, version = sqlite.stated(source)
    if application != sqlite.APPLICATION_ID or version < 1:
        raise _bad(f"{file.name} is no backup of Twelvemonth.")
    if version > int(head()):
        raise _bad(f"{file.name} was written by a newer Twelvemonth. Install that version, then restore it.")
    if not sqlite.sound(source):
        raise _bad(f"{file.name} is damaged and can't be used.")
    return f"{version:04}"


def _read_all(part: Path, version: int) -> None:
    """Read every fact once, so that none can fail a page later, and count on from the facts that were here."""
    engine = sqlite.open_engine(_url(part))
    try:
        with reading(engine) as session:
            entries(session), amendments(session), ticks(session), people(session, left=True), absences(session)
            holding(session), feed_links(session), weather_days(session), weather_files(session)
            normals_months(session), beds(session), bed_facts(session), given_lots(session), lot_facts(session)
            ways(session), nearby(session), kit(session), batch_marks(session)
            supplies(session)
        with writing(engine) as session:
            set_state(session, **{FACTS_VERSION: str(version + 1)})
    except (ValueError, KeyError, TypeError, StatementError) as error:
        raise _bad("The backup has facts that can't be read; it was not restored.") from error
    finally:
        engine.dispose()


def _version(place: Place) -> int:
    """The counter of what is here, or 0 where that can't be read any more."""
    if not place.database.exists():
        return 0
    engine = sqlite.open_engine(place.database_url)
    try:
        with reading(engine) as session:
            return facts_version(session)
    except Exception:  # whatever is wrong with it, it is about to be replaced
        return 0
    finally:
        engine.dispose()


def _put_aside(place: Place, now: datetime) -> None:
    if place.database.exists():
        try:
            backup.before(place.database, place.backups, "restore", now)
        except DataFolderError:
            backup.set_aside(place.database, place.backups, now)
    # A journal of the old file, found beside the new one, would be played into it.
    for end in sqlite.BESIDE:
        Path(f"{place.database}{end}").unlink(missing_ok=True)


def _url(part: Path) -> URL:
    return URL.create("sqlite", database=str(part))


def _bad(sentence: str) -> BadInput:
    return BadInput({"file": sentence})
