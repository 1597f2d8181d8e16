"""What all tests share: drawn examples are the same in every run, so that a run says something of the change made.

And what makes a thousand apps quick: the first data folder of a run is migrated, and the others' databases begin as a
copy of it (`tests/records/test_migrations.py` goes the whole way each time); what is the same for all of them is done
once: the program's sheets looked for, templates compiled, statements put into SQL, static files packed, the loop begun
in which requests are answered. Nothing waits for the disk to have written, except where that is what is tried (the mark
`durable`).
"""

import gc
import os
import shutil
import warnings
from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest
from anyio.from_thread import start_blocking_portal
from hypothesis import settings
from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from sqlalchemy import URL, Engine, event

from app import main
from app.records import database, sqlite
from app.records.migrate import migrate
from app.sheets import library

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the test client's own notice about httpx
    from starlette.testclient import TestClient

settings.register_profile("the same", derandomize=True, database=None, deadline=None)
settings.register_profile("anew", deadline=None)
settings.load_profile("anew" if os.environ.get("RULES_EXAMPLES") else "the same")


class Compiled(BytecodeCache):
    """Templates compiled, in memory; jinja looks whether the source is still the same."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self.kept:
            bucket.bytecode_from_string(self.kept[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.kept[bucket.key] = bucket.bytecode_to_string()


class Engines:
    """Engines that share what SQLAlchemy made of each statement; it keeps that by dialect, so they share that too."""

    def __init__(self, first: Path) -> None:
        self.statements: dict[Any, Any] = {}
        engine = sqlite.open_engine(URL.create("sqlite", database=str(first)))
        with engine.connect():  # a dialect learns of its library at its first connection
            self.dialect = engine.dialect
        engine.dispose()
        self.opened = sqlite.open_engine

    def open(self, url: URL, *, foreign_keys: bool = True) -> Engine:
        engine = self.opened(url, foreign_keys=foreign_keys)
        if foreign_keys:
            engine.dialect = self.dialect
            engine.update_execution_options(compiled_cache=self.statements)
            event.listen(engine, "connect", _hurried)
        return engine


HURRY = [True]
"""Whether a connection does without waiting for the disk."""


def _hurried(connection: Any, _record: Any) -> None:
    if HURRY[0]:
        connection.execute("PRAGMA synchronous = OFF")


@pytest.fixture(autouse=True, scope="session")
def _quick(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    empty = tmp_path_factory.mktemp("migrated") / "empty.sqlite"
    migrate(URL.create("sqlite", database=str(empty)))

    def begun(url: URL, to: str = "", *, before: Callable[[], object] | None = None) -> bool:
        at = Path(str(url.database))
        if not to and not at.exists():
            shutil.copyfile(empty, at)
            return True
        return migrate(url, to, before=before)

    stamps = library._stamps
    programs = cache(stamps)
    with pytest.MonkeyPatch.context() as patch, start_blocking_portal() as portal:
        patch.setattr(TestClient, "portal", portal)
        patch.setattr(sqlite, "open_engine", Engines(empty).open)
        patch.setattr(database, "migrate", begun)
        patch.setattr(library, "_stamps", lambda root: programs(root) if root == library.ROOT else stamps(root))
        patch.setattr(main, "environment", partial(main.environment, cache=Compiled()))
        patch.setattr(main, "Static", cache(main.Static))
        gc.collect()
        gc.freeze()  # what was imported and collected stays to the end, and need not be looked through again
        yield


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Only a test so marked waits for the disk."""
    HURRY[0] = item.get_closest_marker("durable") is None
