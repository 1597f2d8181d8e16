"""All that is said to SQLite and to no other database: pragmas, locking, type checks, files."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event

from app.errors import DataFolderError

APPLICATION_ID = 0x54574D4F
"""Marks a database file as ours (PRAGMA application_id)."""

HEADER = b"SQLite format 3\x00"
WAL_IS_SOUND = (3, 51, 3)
"""From this version two connections can't spoil a file in WAL mode. Source: SQLite 3.51.3 release notes, 2026-03-13."""

BUSY_MS = 5000
WRITE = "twelvemonth_write"
"""The execution option of a connection that is going to write."""

TYPE_CHECKS = {
    "integer": "typeof({column}) = 'integer'",
    "number": "typeof({column}) IN ('integer', 'real')",
    "text": "typeof({column}) = 'text'",
}


def open_engine(url: URL, *, foreign_keys: bool = True) -> Engine:
    """An engine on a database file. Only migrations go without foreign keys (see `app.records.migrate`)."""
    if foreign_keys:
        engine = create_engine(url, pool_size=8, max_overflow=32)
    else:
        engine = create_engine(url, poolclass=NullPool)

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, _record: Any) -> None:
        _prepare(connection, foreign_keys)

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        write = connection.get_execution_options().get(WRITE, False) or not foreign_keys
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")

    return engine


def _prepare(connection: Any, foreign_keys: bool) -> None:
    # The driver's own transactions begin too late (at the first write), so that two can read before either writes.
    connection.isolation_level = None
    cursor = connection.cursor()
    cursor.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    cursor.execute(f"PRAGMA foreign_keys = {'ON' if foreign_keys else 'OFF'}")
    cursor.execute("PRAGMA trusted_schema = OFF")
    cursor.execute(f"PRAGMA journal_mode = {journal_mode(sqlite3.sqlite_version_info)}")
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.close()


def journal_mode(version: tuple[int, ...]) -> str:
    """WAL where the library is sound in it, else DELETE."""
    return "WAL" if version >= WAL_IS_SOUND else "DELETE"


def foreign_key_faults(connection: Connection) -> int:
    """How many rows name a parent that is not there."""
    return len(connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall())


def mark(connection: Connection, version: int) -> None:
    """Write into the file's head that it is ours, and of which version."""
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version = {int(version)}")


@contextmanager
def stranger(path: Path) -> Iterator[sqlite3.Connection]:
    """Open a file read-only, trusting nothing in it.

    Raises: DataFolderError when it is no database.
    """
    check_header(path)
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True, isolation_level=None)
    try:
        connection.execute("PRAGMA trusted_schema = OFF")
        yield connection
    finally:
        connection.close()


def check_header(path: Path) -> None:
    """Refuse a file that is no SQLite database by its first bytes; an empty one is a database not yet begun."""
    with path.open("rb") as file:
        start = file.read(len(HEADER))
    if start and start != HEADER:
        raise DataFolderError(f"{path} is not a database of Twelvemonth.")


BESIDE = ("-journal", "-wal", "-shm")
"""Ends of the names of files that belong to a database while it is open, or after it was not closed."""


def copy_database(source: Path, target: Path) -> None:
    """Copy a live database as of one moment into a file that stands alone.

    Copying the file itself would lose what is still in the journal beside it.
    """
    read = sqlite3.connect(f"{source.absolute().as_uri()}?mode=rw", uri=True, timeout=BUSY_MS / 1000)
    write = sqlite3.connect(target)
    try:
        read.backup(write)
        write.execute("PRAGMA journal_mode = DELETE")  # a copy of a WAL database is marked WAL itself
    finally:
        write.close()
        read.close()
