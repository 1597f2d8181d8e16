"""Bringing the tables to the form this program knows."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import URL, Connection, Engine, inspect, text

from app.errors import DataFolderError
from app.records import sqlite

if TYPE_CHECKING:
    from alembic.config import Config

MIGRATIONS = Path(__file__).with_name("migrations")


def head() -> str:
    """The newest form of the tables that this program knows, such as "0001"."""
    return max(path.name[:4] for path in (MIGRATIONS / "versions").glob("[0-9]*.py"))


def revision(engine: Engine) -> str:
    """The form that a database has; "" when it is empty.

    Raises: DataFolderError when it has tables that are not ours, or is newer than the program.
    """
    with engine.connect() as connection:
        tables = set(inspect(connection).get_table_names())
        if not tables:
            return ""
        found = "alembic_version" in tables and connection.scalar(text("SELECT version_num FROM alembic_version"))
    if not found:
        raise DataFolderError(f"{engine.url.database} is not a database of Twelvemonth.")
    if str(found) > head():
        raise DataFolderError(
            f"{engine.url.database} was written by a newer Twelvemonth (its form is {found}; this one knows {head()})."
            " Install the newer version again; nothing was changed."
        )
    return str(found)


def migrate(url: URL, to: str = "", *, before: Callable[[], object] | None = None) -> bool:
    """Bring a database to ``to`` (the newest form); False when it already was. ``before`` is called before a change.

    The whole way is one transaction, so that a program that is stopped in it leaves the old form. Foreign keys are
    off on its connection: with them on, a parent table that is made anew would empty its children. They are checked
    before it is committed.

    Raises: DataFolderError when rows would be left without their parent, and then nothing is changed.
    """
    target = to or head()
    engine = sqlite.open_engine(url, foreign_keys=False)
    try:
        present = revision(engine)
        if present >= target:
            return False
        if before and present:
            before()
        with engine.begin() as connection:
            _upgrade(connection, target)
            faults = sqlite.foreign_key_faults(connection)
            if faults:
                raise DataFolderError(f"The upgrade would leave {faults} rows without their parent; it was not made.")
            sqlite.mark(connection, int(target))
        return True
    finally:
        engine.dispose()


def _upgrade(connection: Connection, target: str) -> None:
    # Imported here: it is needed once in the life of a version, and costs as much time as the rest of a start.
    from alembic import command

    configured = config()
    configured.attributes["connection"] = connection
    command.upgrade(configured, target)


def config() -> "Config":
    """Alembic's settings, made in code: an installed program has no alembic.ini."""
    from alembic.config import Config

    configured = Config()
    configured.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    configured.set_main_option("path_separator", "os")
    return configured
