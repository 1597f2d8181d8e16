"""Dated backups by themselves, a backup on demand, and a restore that adopts rows and never a file."""

import os
import shutil
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from app.errors import DataFolderError
from app.records import sqlite

KEPT = 14
"""So many of the daily backups are kept, and so many of those made before a change."""


def daily(database: Path, folder: Path, now: datetime) -> Path | None:
    """Make the day's backup unless it is there already, and let the oldest go."""
    target = folder / f"twelvemonth-{now:%Y-%m-%d}.sqlite3"
    if target.exists():
        return None
    backup(database, target)
    _let_go(folder, "twelvemonth-????-??-??.sqlite3")
    return target


def before(database: Path, folder: Path, what: str, now: datetime) -> Path:
    """Make a backup before something changes the whole: an upgrade, a restore, an import."""
    target = folder / f"before-{what}-{now:%Y-%m-%dT%H%M%S}.sqlite3"
    backup(database, target)
    _let_go(folder, "before-*.sqlite3")
    return target


def backup(database: Path, to: Path) -> None:
    """Copy the whole database as of one moment, also while it is in use; ``to`` appears only when it is whole.

    Raises: DataFolderError when there is nothing to copy or it can't be written there.
    """
    if not database.is_file():
        raise DataFolderError(f"There is nothing to back up yet: {database} is not there.")
    if to.exists() and to.samefile(database):
        raise DataFolderError(f"{to} is the database itself; name another file for the backup.")
    part = to.with_name(f".{to.name}.part")
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
        part.unlink(missing_ok=True)
        sqlite.copy_database(database, part)
        put_in_place(part, to)
    except OSError as error:
        raise DataFolderError(f"The backup can't be written to {to} ({error.strerror}).") from error
    finally:
        with suppress(OSError):
            part.unlink()


def put_in_place(part: Path, target: Path) -> None:
    """Make a finished file appear under its name, and be sure that both are on the disk."""
    _sync(part)
    os.replace(part, target)
    if os.name != "nt":
        _sync(target.parent)


def set_aside(database: Path, folder: Path, now: datetime) -> Path:
    """Move a database that can't be read out of the way, with what lies beside it; nothing is thrown away."""
    target = folder / f"damaged-{now:%Y-%m-%dT%H%M%S}.sqlite3"
    folder.mkdir(parents=True, exist_ok=True)
    for end in ("", *sqlite.BESIDE):
        with suppress(FileNotFoundError):
            shutil.move(f"{database}{end}", f"{target}{end}")
    return target


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY if os.name != "nt" else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _let_go(folder: Path, pattern: str) -> None:
    oldest_first = sorted(folder.glob(pattern), key=lambda path: (path.stat().st_mtime, path.name))
    for path in oldest_first[:-KEPT]:
        path.unlink(missing_ok=True)
