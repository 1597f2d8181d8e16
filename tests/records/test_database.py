"""The database as the program opens it: its settings, its lock, and what a folder that can't be used gets.

The settings' reasons: SQLite documentation, "PRAGMA Statements" and "Write-Ahead Logging".
"""

import os
import shutil
import sqlite3
import tempfile
import threading
from contextlib import suppress
from pathlib import Path

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import IntegrityError

from app.errors import DataFolderError
from app.records import database, migrate, sqlite, store
from app.settings import Settings, read_settings
from tests.records.sample import NOW, fill, task

RECORDS = Path(sqlite.__file__).parent


@pytest.mark.durable
def test_foreign_keys_patience_and_durability_are_set_on_every_connection(engine: Engine) -> None:
    found = []
    for _ in range(2):
        with engine.connect() as connection:
            names = ("foreign_keys", "busy_timeout", "synchronous", "trusted_schema", "journal_mode")
            found.append([connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in names])
        engine.dispose()
    wal = sqlite3.sqlite_version_info >= (3, 51, 3)
    assert found == [[1, 5000, 2, 0, "wal" if wal else "delete"]] * 2


@pytest.mark.parametrize(
    ("version", "mode"), [((3, 40, 1), "DELETE"), ((3, 51, 2), "DELETE"), ((3, 51, 3), "WAL"), ((3, 53, 0), "WAL")]
)
def test_wal_is_used_only_where_it_is_sound(version: tuple[int, ...], mode: str) -> None:
    assert sqlite.journal_mode(version) == mode


def test_the_file_says_that_it_is_ours(engine: Engine) -> None:
    with engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA application_id").scalar() == sqlite.APPLICATION_ID
        assert connection.exec_driver_sql("PRAGMA user_version").scalar() == int(migrate.head())


def test_a_child_without_its_parent_is_refused(engine: Engine) -> None:
    add = text("INSERT INTO absence (person, first, last, note) VALUES (99, '2027-01-01', '2027-01-02', '')")
    with pytest.raises(IntegrityError, match="FOREIGN KEY"), store.writing(engine) as session:
        session.execute(add)


def test_a_column_refuses_what_its_type_does_not_say(engine: Engine) -> None:
    fill(engine)
    with pytest.raises(IntegrityError, match="ck_stamp_sequence_type"), store.writing(engine) as session:
        session.execute(text("UPDATE stamp SET sequence = 'abc'"))
    with pytest.raises(IntegrityError, match="ck_tick_on_day_type"), store.writing(engine) as session:
        session.execute(text("UPDATE tick SET on_day = 740000"))


def test_twenty_additions_by_each_of_five_at_once_are_a_hundred(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.set_state(session, n="0")
    failed: list[BaseException] = []

    def add() -> None:
        try:
            for _ in range(20):
                with store.writing(engine) as session:
                    store.set_state(session, n=str(int(store.state(session, ("n",))["n"]) + 1))
        except BaseException as error:  # told to the test, which would not see it in a thread
            failed.append(error)

    threads = [threading.Thread(target=add) for _ in range(5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with store.reading(engine) as session:
        assert (failed, store.state(session, ("n",))["n"]) == ([], "100")


def test_an_error_while_writing_takes_everything_back(engine: Engine) -> None:
    with suppress(ZeroDivisionError), store.writing(engine) as session:
        store.set_state(session, n=str(1))
        store.set_state(session, m=str(1 // 0))
    with store.reading(engine) as session:
        assert "n" not in store.state(session)


def test_what_is_written_while_reading_is_not_kept(engine: Engine) -> None:
    with store.reading(engine) as session:
        store.set_state(session, n="1")
    with store.reading(engine) as session:
        assert "n" not in store.state(session)


def test_a_database_that_another_program_holds_is_told(place: Settings, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite, "BUSY_MS", 30)
    engine = store.open_database(place, now=NOW)
    other = sqlite3.connect(place.database)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(DataFolderError, match="in use by another program"), store.writing(engine) as session:
        store.set_state(session, n="1")
    other.rollback()
    other.close()
    with store.writing(engine) as session:
        store.set_state(session, n="1")
    engine.dispose()


def test_a_folder_is_served_by_one_only(place: Settings) -> None:
    told = f"already running on .*process {os.getpid()}"
    with store.hold(place.data), pytest.raises(DataFolderError, match=told), store.hold(place.data):
        raise AssertionError("held twice")
    with store.hold(place.data):
        pass


def test_a_database_newer_than_the_program_is_left_alone(place: Settings, engine: Engine) -> None:
    with store.writing(engine) as session:
        session.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    before = place.database.read_bytes()
    with pytest.raises(DataFolderError, match="newer Twelvemonth"):
        store.open_database(place, now=NOW)
    assert place.database.read_bytes() == before


@pytest.mark.parametrize("content", [b"Dear diary, " * 20, b"SQLite format 3\x00" + b"\xff" * 5000, b"short"])
def test_a_file_that_is_no_database_is_left_alone(place: Settings, content: bytes) -> None:
    place.data.mkdir()
    place.database.write_bytes(content)
    with pytest.raises(DataFolderError, match="no database of Twelvemonth"):
        store.open_database(place, now=NOW)
    assert place.database.read_bytes() == content


def test_the_database_of_another_program_is_left_alone(place: Settings) -> None:
    place.data.mkdir()
    other = sqlite3.connect(place.database)
    other.executescript("CREATE TABLE hens (name TEXT); INSERT INTO hens VALUES ('Ada');")
    other.close()
    with pytest.raises(DataFolderError, match="not a database of Twelvemonth"):
        store.open_database(place, now=NOW)


def test_a_damaged_database_is_told_and_no_backup_is_made_of_it(place: Settings, engine: Engine) -> None:
    fill(engine)
    engine.dispose()
    content = bytearray(place.database.read_bytes())
    content[4096:40960] = b"\x07" * (40960 - 4096)
    place.database.write_bytes(content)
    with pytest.raises(DataFolderError, match="damaged"):
        store.open_database(place, now=NOW)
    assert not list(place.backups.glob("*.sqlite3"))


def test_damage_deep_inside_is_found_before_a_good_backup_is_pushed_out(place: Settings, engine: Engine) -> None:
    with store.writing(engine) as session:
        store.replace_tasks(session, None, [task(f"leek.look.{n}") for n in range(2000)], now=NOW)
    engine.dispose()
    content = bytearray(place.database.read_bytes())
    # Table leaves that hold something: SQLite database file format, 1.6, bytes 0 and 3-4 of a page.
    pages = range(4096 * 40, len(content), 4096)
    leaves = [at for at in pages if content[at] == 0x0D and content[at + 3 : at + 5] != b"\x00\x00"]
    content[leaves[5] + 8 : leaves[5] + 2000] = b"\x07" * 1992
    place.database.write_bytes(content)
    with pytest.raises(DataFolderError, match="damaged"):
        store.open_database(place, now=NOW)
    assert not list(place.backups.glob("*"))


def test_an_empty_file_is_a_database_not_yet_begun(place: Settings) -> None:
    place.data.mkdir()
    place.database.touch()
    store.open_database(place, now=NOW).dispose()


@pytest.mark.skipif(os.name == "nt", reason="permissions are told otherwise there")
def test_a_folder_that_can_only_be_read_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o555)
    child = os.fork()
    if not child:  # as nobody, since an administrator may write anywhere
        code = 1
        try:
            if os.geteuid() == 0:
                os.setgid(65534)
                os.setuid(65534)
            database.writable(folder)
        except DataFolderError as error:
            code = 0 if "can't be written" in str(error) and "TWELVEMONTH_DATA" in str(error) else 2
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    shutil.rmtree(folder)
    assert os.waitstatus_to_exitcode(status) == 0


def test_a_folder_under_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    place = read_settings({"TWELVEMONTH_DATA": str(tmp_path / "file" / "data")})
    with pytest.raises(DataFolderError, match="can't be written"):
        store.open_database(place, now=NOW)


def test_only_one_module_speaks_to_sqlite_alone() -> None:
    names = ("PRAGMA", "sqlite_master", "BEGIN IMMEDIATE", "INSERT OR", "ATTACH", "strftime(", "julianday", "rowid")
    found = {
        path.name: name
        for path in RECORDS.rglob("*.py")
        if path.name != "sqlite.py"
        for name in names
        if name in path.read_text()
    }
    assert found == {}
