"""A program that is killed while it writes loses nothing that it said was written.

A loss of power can't be tried here.
"""

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from app.records import store
from app.settings import Settings
from tests.records.sample import NOW

WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from app.records import store
from app.settings import read_settings
from tests.records.sample import task, tick
engine = store.open_database(read_settings({}, Path(sys.argv[1])), now=datetime(2027, 3, 10, tzinfo=UTC))
n = int(sys.argv[2])
while True:
    n += 1
    with store.writing(engine) as session:
        store.add_tick(session, tick(f"t{n}"))
        rows = [task(f"leek.look.{i}", minutes=n) for i in range(200)]
        store.replace_tasks(session, None, rows, now=datetime(2027, 3, 10, tzinfo=UTC))
    print(n, flush=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal")
def test_what_was_acknowledged_is_there_after_a_kill(place: Settings) -> None:
    acknowledged = 0
    for until in (15, 32):
        command = [sys.executable, "-c", WRITER, str(place.data), str(acknowledged)]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2]) as writer:
            assert writer.stdout
            for line in writer.stdout:
                acknowledged = int(line)
                if acknowledged >= until:
                    writer.kill()
                    break
            acknowledged = max([acknowledged, *map(int, writer.stdout.read().split())])
        engine = store.open_database(place, now=NOW)
        with store.reading(engine) as session:
            kept = {tick.id for tick in store.ticks(session)}
            minutes = {row.minutes for row in store.rows_for_entry(session, "leek")}
        engine.dispose()
        with sqlite3.connect(place.database) as read:
            assert read.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert {f"t{n}" for n in range(1, acknowledged + 1)} <= kept
        assert len(minutes) == 1, "a write is whole or not there"
        acknowledged = len(kept)
