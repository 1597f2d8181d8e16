"""Keeping it safe: a backup, a restore, everything out as open files, and back."""

from datetime import datetime
from pathlib import Path

from app.errors import DataFolderError
from app.records import backup as backups
from app.records import exchange
from app.records import restore as restores
from app.records.database import hold, open_database
from app.settings import Settings


def backup(settings: Settings, to: Path) -> None:
    """Copy the whole database to a file, also while it is served.

    Raises: DataFolderError when there is nothing yet, or it can't be written there.
    """
    backups.backup(settings.database, to)


def restore(settings: Settings, file: Path, now: datetime) -> None:
    """Put a backup in place of what is here, of which a backup is made first.

    Raises: BadInput when the file is no sound backup; DataFolderError when the folder is in use or can't be written.
    """
    restores.restore(settings, file, now=now)


def export(settings: Settings, to: Path, now: datetime) -> None:
    """Write everything to a folder, or to one file when the name ends in .zip.

    Raises: DataFolderError when it can't be read or written; Conflict when the folder holds something else.
    """
    engine = open_database(settings, now=now)
    try:
        exchange.export(engine, to, settings.sheets)
    finally:
        engine.dispose()


def take_in(settings: Settings, source: Path, now: datetime, *, replace: bool = False) -> dict[str, int]:
    """Read an export back; gives how many of each kind of fact it had. Nobody else may be using the folder.

    Raises: BadInput that names file and line; Conflict when there are facts here and ``replace`` is not said.
    """
    with hold(settings.data):
        engine = open_database(settings, now=now)
        try:
            return exchange.import_all(settings, engine, source, now=now, replace=replace)
        finally:
            engine.dispose()


def put_file(to: Path, content: bytes) -> None:
    """Write a file that was asked for, whole or not at all.

    Raises: DataFolderError when it can't be written there.
    """
    part = to.with_name(f".{to.name}.part")
    try:
        part.write_bytes(content)
        backups.put_in_place(part, to)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise DataFolderError(f"{to} can't be written ({error.strerror}).") from error
