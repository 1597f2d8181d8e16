"""Opening the records: the data folder, its lock, the database in the form this program knows."""

import os
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import IO, Protocol

from sqlalchemy import URL, Engine
from sqlalchemy.exc import DBAPIError

from app.errors import DataFolderError
from app.records import backup, sqlite
from app.records.migrate import migrate


class Place(Protocol):
    """What of the settings the records need."""

    @property
    def data(self) -> Path:
        """The data folder."""
        ...

    @property
    def database(self) -> Path:
        """The database file."""
        ...

    @property
    def database_url(self) -> URL:
        """The database as an address."""
        ...

    @property
    def backups(self) -> Path:
        """Where backups are put."""
        ...


def open_database(place: Place, *, now: datetime) -> Engine:
    """Open the records, made or brought up to date if need be, with the day's backup taken first.

    Raises: DataFolderError with a plain sentence when the folder can't be written, the file is no database, is
    damaged, or is newer than this program.
    """
    writable(place.data)
    try:
        begun = place.database.exists()
        if begun:
            sqlite.check_header(place.database)
        migrate(place.database_url, before=lambda: backup.before(place.database, place.backups, "upgrade", now))
        if begun:
            backup.daily(place.database, place.backups, now)
        engine = sqlite.open_engine(place.database_url)
        with engine.connect():
            return engine
    except (DBAPIError, sqlite3.Error) as error:
        raise DataFolderError(sqlite.said(place.database, getattr(error, "orig", error))) from error
    except OSError as error:
        raise DataFolderError(f"{place.database} can't be used: {error.strerror or error}.") from error


def writable(folder: Path) -> None:
    """Make the data folder if it is not there, and make sure that it can be written in.

    Raises: DataFolderError.
    """
    probe = folder / f".write-{os.getpid()}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe.write_bytes(b"")
        probe.unlink()
    except OSError as error:
        raise DataFolderError(
            f"The data folder {folder} can't be written ({error.strerror})."
            " Twelvemonth keeps everything there; name another with TWELVEMONTH_DATA."
        ) from error


@contextmanager
def hold(folder: Path) -> Iterator[None]:
    """Hold the data folder while serving, so that no second server writes into it.

    Raises: DataFolderError when it is held already.
    """
    writable(folder)
    with (folder / "twelvemonth.lock").open("a+b") as file:
        try:
            _lock(file)
        except OSError as error:
            file.seek(0)
            by = file.read(20).decode("ascii", "replace").strip()
            raise DataFolderError(
                f"Twelvemonth is already running on {folder} (process {by or 'unknown'})."
                " Stop it first, or name another folder with TWELVEMONTH_DATA."
            ) from error
        file.truncate(0)
        file.write(str(os.getpid()).encode())
        file.flush()
        try:
            yield
        finally:
            with suppress(OSError):
                file.truncate(0)
                _unlock(file)


if sys.platform == "win32":
    import msvcrt

    def _lock(file: IO[bytes]) -> None:
        file.seek(1000)  # a byte beyond the number, which others may then still read
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

    def _unlock(file: IO[bytes]) -> None:
        file.seek(1000)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)
else:
    import fcntl

    def _lock(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _unlock(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_UN)
