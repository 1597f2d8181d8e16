"""Backups are whole and dated; a restore adopts rows after every check, or changes nothing."""

import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine

from app.errors import BadInput, DataFolderError
from app.records import backup, sqlite, store
from app.records.restore import restore
from app.settings import Settings
from tests.records.sample import LATER, NOW, fill, leek, tick


@pytest.fixture
def saved(place: Settings, engine: Engine, tmp_path: Path) -> Path:
    """A backup of filled records, after which one more tick was taken down and the database closed."""
    fill(engine)
    file = tmp_path / "saved.sqlite3"
    backup.backup(place.database, file)
    with store.writing(engine) as session:
        store.add_tick(session, tick("after", "hens.look"))
    engine.dispose()
    return file


def tick_ids(place: Settings) -> set[str]:
    engine = store.open_database(place, now=NOW)
    with store.reading(engine) as session:
        found = {said.id for said in store.ticks(session)}
    engine.dispose()
    return found


def spoiled(saved: Path, *statements: str) -> Path:
    writer = sqlite3.connect(saved)
    for statement in statements:
        writer.execute(statement)
    writer.commit()
    writer.close()
    return saved


def test_the_first_start_of_a_day_makes_its_backup_and_fourteen_are_kept(place: Settings, engine: Engine) -> None:
    fill(engine)
    engine.dispose()
    for n in range(20):
        for hours in (0, 5):
            store.open_database(place, now=NOW + timedelta(days=n, hours=hours)).dispose()
    names = sorted(path.name for path in place.backups.iterdir())
    assert len(names) == 14
    assert (names[0], names[-1]) == ("twelvemonth-2027-03-16.sqlite3", "twelvemonth-2027-03-29.sqlite3")


def test_the_days_backup_is_that_of_its_first_start(place: Settings, engine: Engine) -> None:
    engine.dispose()
    store.open_database(place, now=NOW).dispose()
    engine = store.open_database(place, now=NOW)
    fill(engine)
    engine.dispose()
    store.open_database(place, now=NOW + timedelta(hours=9)).dispose()
    (made,) = place.backups.iterdir()
    with sqlite.stranger(made) as read:
        assert read.execute("SELECT count(*) FROM tick").fetchone() == (0,)


def test_a_backup_of_a_database_in_use_stands_alone(place: Settings, engine: Engine, tmp_path: Path) -> None:
    fill(engine)
    with store.writing(engine) as session:
        session.connection()
        copy = tmp_path / "a" / "copy.sqlite3"
        backup.backup(place.database, copy)
    assert [path.name for path in copy.parent.iterdir()] == ["copy.sqlite3"]
    with sqlite.stranger(copy) as read:
        assert read.execute("SELECT count(*) FROM tick").fetchone() == (3,)
        assert read.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_a_copy_of_a_database_in_wal_mode_has_what_lies_beside_it(tmp_path: Path) -> None:
    live = sqlite3.connect(tmp_path / "live.sqlite3")
    live.execute("PRAGMA journal_mode = WAL")
    live.executescript("CREATE TABLE hens (name TEXT); INSERT INTO hens VALUES ('Ada');")
    backup.backup(tmp_path / "live.sqlite3", tmp_path / "copy.sqlite3")
    live.close()
    # SQLite database file format, 1.3.3: bytes 18 and 19 are 1 for a rollback journal and 2 for WAL.
    assert (tmp_path / "live.sqlite3").read_bytes()[18:20] == b"\x02\x02"
    assert (tmp_path / "copy.sqlite3").read_bytes()[18:20] == b"\x01\x01"
    with sqlite.stranger(tmp_path / "copy.sqlite3") as read:
        assert read.execute("SELECT name FROM hens").fetchall() == [("Ada",)]


def test_a_database_is_not_overwritten_by_its_own_backup(place: Settings, saved: Path) -> None:
    with pytest.raises(DataFolderError, match="the database itself"):
        backup.backup(place.database, place.database)


def test_there_is_nothing_to_back_up_before_the_first_start(place: Settings, tmp_path: Path) -> None:
    with pytest.raises(DataFolderError, match="nothing to back up"):
        backup.backup(place.database, tmp_path / "copy.sqlite3")


def test_a_backup_that_can_not_be_written_is_told_and_leaves_nothing(
    place: Settings, saved: Path, tmp_path: Path
) -> None:
    with pytest.raises(DataFolderError, match="can't be written"):
        backup.backup(place.database, saved / "under-a-file.sqlite3")


def test_a_restore_brings_back_what_was_and_keeps_a_backup_of_what_is(place: Settings, saved: Path) -> None:
    assert tick_ids(place) == {"t1", "t2", "t3", "after"}
    restore(place, saved, now=LATER)
    assert tick_ids(place) == {"t1", "t2", "t3"}
    (present,) = place.backups.glob("before-restore-*.sqlite3")
    restore(place, present, now=LATER + timedelta(seconds=1))
    assert tick_ids(place) == {"t1", "t2", "t3", "after"}
    assert not list(place.data.glob(".restore*"))


def test_a_restore_leaves_the_projection_to_be_worked_out_and_counts_on(place: Settings, saved: Path) -> None:
    engine = store.open_database(place, now=NOW)
    with store.reading(engine) as session:
        version = store.facts_version(session)
    engine.dispose()
    restore(place, saved, now=LATER)
    engine = store.open_database(place, now=LATER)
    with store.reading(engine) as session:
        assert store.measure(session) == store.Measure(2, 3, 0)
        assert store.facts_version(session) == version + 1
        assert store.state(session).get("as_of", "") == ""
        assert len(store.feed_links(session)) == 1
    with store.writing(engine) as session:
        store.replace_tasks(session, None, [], now=LATER)
        assert [row.sequence for row in store.gone_rows(session, 0, 10**6)] == [1], "stamps came along"
    engine.dispose()


def test_a_restore_into_an_empty_folder(place: Settings, saved: Path, tmp_path: Path) -> None:
    other = Settings(tmp_path / "other", place.templates, place.static, place.demo_data)
    restore(other, saved, now=NOW)
    assert tick_ids(other) == {"t1", "t2", "t3"}


def test_a_restore_over_a_damaged_database_throws_nothing_away(place: Settings, saved: Path) -> None:
    place.database.write_bytes(b"\x00" * 9000)
    restore(place, saved, now=LATER)
    assert tick_ids(place) == {"t1", "t2", "t3"}
    (damaged,) = place.backups.glob("damaged-*.sqlite3")
    assert damaged.stat().st_size == 9000


@pytest.mark.parametrize("there", [True, False])
def test_a_journal_left_by_the_old_database_is_not_played_into_the_new(
    place: Settings, saved: Path, there: bool
) -> None:
    if not there:
        place.database.unlink()
    for end in sqlite.BESIDE:
        Path(f"{place.database}{end}").write_bytes(b"left over")
    restore(place, saved, now=LATER)
    assert not [end for end in sqlite.BESIDE if Path(f"{place.database}{end}").exists()]
    assert tick_ids(place) == {"t1", "t2", "t3"}


def test_a_folder_in_use_is_not_restored_into(place: Settings, saved: Path) -> None:
    with store.hold(place.data), pytest.raises(DataFolderError, match="already running"):
        restore(place, saved, now=LATER)


def refused(place: Settings, file: Path, sentence: str, **how: int) -> None:
    before = place.database.read_bytes()
    with pytest.raises(BadInput, match=sentence):
        restore(place, file, now=LATER, **how)
    assert place.database.read_bytes() == before
    assert not list(place.data.glob(".restore*"))
    assert tick_ids(place) == {"t1", "t2", "t3", "after"}


def test_a_file_that_is_not_there_or_too_large_or_no_database_is_refused(place: Settings, saved: Path) -> None:
    refused(place, saved.with_name("none"), "no file")
    refused(place, saved, "larger than any backup", largest=1000)
    text = saved.with_name("text")
    text.write_text("Dear diary")
    refused(place, text, "no backup of Twelvemonth")


def test_a_database_of_another_program_is_refused(place: Settings, saved: Path) -> None:
    refused(place, spoiled(saved, "PRAGMA application_id = 7"), "no backup of Twelvemonth")


def test_a_backup_of_a_newer_program_is_refused(place: Settings, saved: Path) -> None:
    refused(place, spoiled(saved, "PRAGMA user_version = 9999"), "newer Twelvemonth")


def test_a_corrupt_backup_is_refused(place: Settings, saved: Path) -> None:
    content = bytearray(saved.read_bytes())
    content[8192:-4096] = b"\x05" * (len(content) - 12288)
    saved.write_bytes(content)
    refused(place, saved, "damaged")


def test_a_backup_cut_short_is_refused(place: Settings, saved: Path) -> None:
    saved.write_bytes(saved.read_bytes()[:20000])
    refused(place, saved, "damaged")


@pytest.mark.parametrize(
    ("statement", "sentence"),
    [
        ("CREATE TABLE more (a)", "other tables"),
        ("CREATE VIEW more AS SELECT 1", "other tables"),
        ("CREATE TRIGGER more AFTER INSERT ON tick BEGIN DELETE FROM tick; END", "other tables"),
        ("ALTER TABLE tick ADD COLUMN more", "other tables"),
        ("DROP TABLE tick", "other tables"),
        ("UPDATE absence SET person = 77", "damaged"),
        ("UPDATE tick SET measures = 'not json'", "facts that can't be read"),
        ("UPDATE entry SET told = 'some day'", "facts that can't be read"),
        ('UPDATE entry SET facts = \'{"date": {"date": "2027-02-30"}}\'', "facts that can't be read"),
    ],
)
def test_a_backup_that_was_tampered_with_is_refused(
    place: Settings, saved: Path, statement: str, sentence: str
) -> None:
    refused(place, spoiled(saved, statement), sentence)


def test_a_backup_with_a_row_that_no_check_allows_is_refused(place: Settings, saved: Path) -> None:
    made = "SELECT replace(sql, '''undone''', '''sold''') FROM sqlite_master WHERE name = 'tick'"
    with sqlite3.connect(saved) as writer:
        (sql,) = writer.execute(made).fetchone()
        writer.execute("ALTER TABLE tick RENAME TO old")
        writer.execute(sql)
        writer.execute("INSERT INTO tick SELECT * FROM old WHERE kind <> 'undone'")
        writer.execute("DROP TABLE old")
        writer.execute("UPDATE tick SET kind = 'sold', answers = 'x' WHERE id = 't1'")
    writer.close()
    refused(place, saved, "rows that can't be so|other tables")


def test_what_was_put_down_after_a_restore_is_kept_beside_it(place: Settings, saved: Path) -> None:
    restore(place, saved, now=LATER)
    engine = store.open_database(place, now=LATER)
    with store.writing(engine) as session:
        store.add_entry(session, leek(id="new"), now=LATER)
        store.put_person(session, store.PersonRow(name="Somebody"))
    with store.reading(engine) as session:
        assert [p.id for p in store.people(session)] == [1, 2]
    engine.dispose()
