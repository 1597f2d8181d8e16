"""Migrations: with foreign keys on, making a parent table anew empties its children without a word."""

import shutil
import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest
from alembic import command
from sqlalchemy import Engine, text

from app.errors import DataFolderError
from app.records import migrate, sqlite, store
from app.records.tables import Base
from app.settings import Settings
from tests.records.sample import NOW, fill

LAST = int(migrate.head())
"""The newest form there is; the steps made up here come after it."""

STEP = """
import sqlalchemy as sa
from alembic import op

revision = "{number}"
down_revision = "{before}"

def upgrade():
{body}
"""


@pytest.fixture
def steps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the migrations, to which a test can add."""
    copy = tmp_path / "migrations"
    shutil.copytree(migrate.MIGRATIONS, copy, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(migrate, "MIGRATIONS", copy)
    return copy / "versions"


def add_step(steps: Path, number: int, *lines: str) -> None:
    body = "\n".join(f"    {line}" for line in lines)
    content = STEP.format(number=f"{number:04}", before=f"{number - 1:04}", body=body)
    (steps / f"{number:04}_test.py").write_text(content)


def test_migrated_tables_are_those_of_the_models(engine: Engine) -> None:
    configured = migrate.config()
    with engine.connect() as connection:
        configured.attributes["connection"] = connection
        command.check(configured)


def test_migrated_tables_are_so_to_the_letter_checks_and_all(engine: Engine, tmp_path: Path) -> None:
    fresh = sqlite.open_engine(store_url(tmp_path / "fresh.sqlite3"))
    Base.metadata.create_all(fresh)
    assert sorted(parts(fresh)) == sorted(part for part in parts(engine) if "alembic_version" not in part)


def test_children_survive_when_their_parent_is_made_anew(place: Settings, engine: Engine, steps: Path) -> None:
    fill(engine)
    engine.dispose()
    add_step(
        steps, LAST + 1,
        'op.create_table("child", sa.Column("person", sa.Integer, sa.ForeignKey("person.id", ondelete="CASCADE")))',
        'op.execute("INSERT INTO child (person) SELECT id FROM person")',
    )  # fmt: skip
    add_step(
        steps, LAST + 2,
        'with op.batch_alter_table("person", recreate="always") as batch:',
        '    batch.add_column(sa.Column("nickname", sa.String))',
    )  # fmt: skip
    assert migrate.migrate(place.database_url)
    with sqlite3.connect(place.database) as read:
        counts = [read.execute(f"SELECT count(*) FROM {name}").fetchone()[0] for name in ("person", "child", "absence")]
        columns = [row[1] for row in read.execute("PRAGMA table_info(person)")]
    assert counts == [1, 1, 1]
    assert "nickname" in columns


def test_an_upgrade_that_orphans_a_row_is_not_made(place: Settings, engine: Engine, steps: Path) -> None:
    fill(engine)
    engine.dispose()
    add_step(steps, LAST + 1, 'op.execute("DELETE FROM person")')
    with pytest.raises(DataFolderError, match="2 rows without their parent"):
        migrate.migrate(place.database_url)
    assert people_and_form(place) == (1, f"{LAST:04}")


def test_an_upgrade_that_fails_half_way_leaves_everything_as_it_was(
    place: Settings, engine: Engine, steps: Path
) -> None:
    fill(engine)
    engine.dispose()
    add_step(
        steps,
        LAST + 1,
        'op.execute("CREATE TABLE half (a)")',
        'op.execute("DELETE FROM absence")',
        "raise ValueError('stopped')",
    )
    with pytest.raises(ValueError, match="stopped"):
        migrate.migrate(place.database_url)
    with sqlite3.connect(place.database) as read:
        assert not read.execute("SELECT 1 FROM sqlite_master WHERE name = 'half'").fetchall()
        assert read.execute("SELECT count(*) FROM absence").fetchone() == (1,)
    assert people_and_form(place) == (1, f"{LAST:04}")


def test_a_backup_is_made_before_an_upgrade(place: Settings, engine: Engine, steps: Path) -> None:
    fill(engine)
    engine.dispose()
    add_step(steps, LAST + 1, 'op.execute("DELETE FROM absence")')
    store.open_database(place, now=NOW + timedelta(hours=2)).dispose()
    (made,) = place.backups.glob("before-upgrade-*.sqlite3")
    with sqlite3.connect(made) as read:
        assert read.execute("SELECT count(*) FROM absence").fetchone() == (1,)
        assert read.execute("SELECT version_num FROM alembic_version").fetchone() == (f"{LAST:04}",)


def test_opening_again_changes_nothing(place: Settings, engine: Engine) -> None:
    engine.dispose()
    before = place.database.read_bytes()
    store.open_database(place, now=NOW).dispose()
    assert place.database.read_bytes() == before
    assert migrate.migrate(place.database_url) is False


def store_url(path: Path):  # type: ignore[no-untyped-def]
    from sqlalchemy import URL

    return URL.create("sqlite", database=str(path))


def parts(engine: Engine) -> list[str]:
    """Every table as its columns and checks, every index, in words without spaces, and in no order of its own."""
    with engine.connect() as connection:
        made = connection.execute(text("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")).all()
    found = []
    for name, sql in made:
        sql = sql.replace(f'CREATE TABLE "{name}"', f"CREATE TABLE {name}")  # SQLite quotes what was made anew
        lines = sorted(" ".join(line.strip(" \t,").split()) for line in sql.splitlines())
        found.append(f"{name}: {' | '.join(line for line in lines if line)}")
    return found


def people_and_form(place: Settings) -> tuple[int, str]:
    with sqlite3.connect(place.database) as read:
        (people,) = read.execute("SELECT count(*) FROM person").fetchone()
        (form,) = read.execute("SELECT version_num FROM alembic_version").fetchone()
    return people, form
