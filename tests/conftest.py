"""What all tests share: drawn examples are the same in every run, so that a run says something of the change made.

And what makes a thousand apps quick: the first data folder of a run is migrated, and the others' databases begin as a
copy of it (`tests/records/test_migrations.py` goes the whole way each time); a template is compiled once.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
from hypothesis import settings
from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from sqlalchemy import URL

from app import main
from app.records import database
from app.records.migrate import migrate

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

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(database, "migrate", begun)
        patch.setattr(main, "environment", partial(main.environment, cache=Compiled()))
        yield
