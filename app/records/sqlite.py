"""All that is said to SQLite and to no other database: pragmas, locking, type checks, files."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
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


def check_header(path: Path) -> None:
    """Refuse a file that is no database of ours by its first bytes; an empty one is a database not yet begun.

    Raises: DataFolderError.
    Source: SQLite database file format, 1.3: the header string in bytes 0-15, the application id in 68-71.
    """
    with path.open("rb") as file:
        start = file.read(100)
    if not start:
        return
    ours = (0, APPLICATION_ID)  # 0 until the first migration is committed
    if len(start) < 100 or start[:16] != HEADER or int.from_bytes(start[68:72], "big") not in ours:
        raise DataFolderError(f"{path} is no database of Twelvemonth. Move it away, or name another data folder.")


def copy_database(source: Path, target: Path) -> None:
    """Copy a live database as of one moment into a file that stands alone, and look it over.

    Copying the file itself would lose what is still in the journal beside it.

    Raises: DataFolderError when what was copied is damaged.
    """
    address = f"{source.absolute().as_uri()}?mode=rw"
    try:
        with (
            closing(sqlite3.connect(address, uri=True, timeout=BUSY_MS / 1000)) as read,
            closing(sqlite3.connect(target)) as write,
        ):
            read.backup(write)
            write.execute("PRAGMA journal_mode = DELETE")  # a copy of a WAL database is marked WAL itself
            if not sound(write):
                raise sqlite3.DatabaseError("database disk image is malformed")
    except sqlite3.DatabaseError as error:
        raise DataFolderError(said(source, error)) from error


def sound(connection: sqlite3.Connection) -> bool:
    """Whether a database is whole, and every row has its parent."""
    whole = connection.execute("PRAGMA quick_check(1)").fetchall() == [("ok",)]
    return whole and not connection.execute("PRAGMA foreign_key_check").fetchall()


def said(database: Path | str | None, error: object) -> str:
    """The plain sentence for what the driver said."""
    words = str(error)
    if "malformed" in words or "not a database" in words:
        return f"{database} is damaged. The last good copies are in the backups folder beside it."
    if "locked" in words:
        return f"{database} is in use by another program, which did not let go of it in time."
    if "readonly" in words or "unable to open" in words or "disk I/O" in words:
        return f"{database} can't be written. Twelvemonth needs to write there."
    return f"{database} can't be used: {words}."


# ── Files from elsewhere ──────────────────────────────────────────────────────────────────────────────────────────


@contextmanager
def stranger(path: Path) -> Iterator[sqlite3.Connection]:
    """Open a file from elsewhere read-only, trusting nothing in it."""
    address = f"{path.absolute().as_uri()}?mode=ro&immutable=1"
    connection = sqlite3.connect(address, uri=True, isolation_level=None)
    try:
        connection.execute("PRAGMA trusted_schema = OFF")
        yield connection
    finally:
        connection.close()


def stated(connection: sqlite3.Connection) -> tuple[int, int]:
    """What a file says it is: the application id, and the form of its tables."""
    return (
        connection.execute("PRAGMA application_id").fetchone()[0],
        connection.execute("PRAGMA user_version").fetchone()[0],
    )


def shape(connection: sqlite3.Connection) -> dict[str, Any]:
    """The tables of a file with their columns; anything else in it (views, triggers) stands under its kind."""
    found: dict[str, Any] = {}
    query = "SELECT type, name FROM sqlite_master WHERE type <> 'index' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'"
    for kind, name in connection.execute(query):
        columns = connection.execute("SELECT name FROM pragma_table_info(?)", (name,))
        found[name] = {row[0] for row in columns} if kind == "table" else kind
    return found


def copy_rows(source: sqlite3.Connection, target: sqlite3.Connection, tables: Sequence[str]) -> None:
    """Copy the rows of some tables, whose names and columns are ours, as they are."""
    target.execute("PRAGMA foreign_keys = OFF")
    with target:
        for table in tables:
            columns = [row[1] for row in target.execute(f"PRAGMA table_info({table})")]
            named = ", ".join(f'"{column}"' for column in columns)
            marks = ", ".join("?" * len(columns))
            target.executemany(
                f"INSERT INTO {table} ({named}) VALUES ({marks})",
                source.execute(f"SELECT {named} FROM {table}"),
            )


BESIDE = ("-journal", "-wal", "-shm")
"""Ends of the names of files that belong to a database while it is open, or after it was not closed."""
