"""The command as somebody types it: what it prints, its exit codes, and a plain sentence for every mistake."""

import os
import re
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import icalendar
import pytest

from app.cli import main
from app.records.database import hold
from tests.made_up import put

ROOT = Path(__file__).parent.parent
TODAY = "2027-09-15"


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the made-up holding in it."""
    folder = tmp_path_factory.mktemp("filled")
    put(folder, TODAY)
    return folder


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty data folder."""
    folder = tmp_path / "data"
    monkeypatch.setenv("TWELVEMONTH_DATA", str(folder))
    return folder


@pytest.fixture
def full(filled: Path, data: Path) -> Path:
    """A data folder of its own with the made-up holding in it."""
    shutil.copytree(filled, data)
    return data


Said = tuple[int, str, str]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> "Run":
    """Run a command: gives exit code, what was printed, and what was said on the error stream."""
    return Run(capsys)


class Run:
    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, *words: str | Path) -> Said:
        try:
            code = main([str(word) for word in words])
        except SystemExit as left:  # what argparse does with what it cannot read
            code = int(str(left.code))
        told = self.capsys.readouterr()
        return code, told.out, told.err


def plain(text: str) -> bool:
    """Whether an error is one or two plain sentences."""
    return "Traceback" not in text and text.startswith("twelvemonth: ") and text.rstrip().endswith(".")


# ── The month ─────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_month_is_legible_in_a_terminal(full: Path, run: Run) -> None:
    code, out, _ = run("month", "2027-09", "--today", "2027-09-15")
    assert code == 0
    lines = out.splitlines()
    assert lines[0] == "Overfell Garth: September 2027"
    assert "wanted from today on" in lines[1]
    assert max(map(len, lines)) <= 100
    assert "\x1b" not in out, "no colours: it may be going down a pipe"
    assert re.search(r"^Open \(\d+\)$", out, re.MULTILINE)
    assert re.search(r"^Done \(\d+\)$", out, re.MULTILINE)
    for trade in ("Garden", "Livestock", "Meat", "Preserving", "Upkeep"):
        assert f"  {trade}\n" in out
    assert re.search(r"\d+ Sep to \d+ Oct, best \d+ Sep", out), "a window in words"


@pytest.mark.parametrize("month", ["2026-10", "2027-01", "2029-02", "2046-06"])
def test_other_months_too_however_far_off(full: Path, run: Run, month: str) -> None:
    code, out, _ = run("month", month, "--today", "2027-09-15")
    assert code == 0
    assert f"{date.fromisoformat(month + '-01'):%B %Y}" in out
    assert max(map(len, out.splitlines())) <= 100


@pytest.mark.parametrize("month", ["2027-13", "2027-00", "27-09", "September", "2027-9", "9999-01", "0001-01"])
def test_an_unknown_month_is_said_plainly(full: Path, run: Run, month: str) -> None:
    code, out, err = run("month", month)
    assert (code, out) == (2, "")
    assert plain(err)
    assert "month" in err


def test_before_the_first_run_it_says_what_to_do(data: Path, run: Run) -> None:
    code, _, err = run("month")
    assert code == 1
    assert plain(err)
    assert "twelvemonth serve" in err


def test_a_pipe_that_is_closed_early_is_no_error(full: Path) -> None:
    found = subprocess.run(
        f"{sys.executable} -m app.cli month 2027-09 | head -1", shell=True, cwd=ROOT, capture_output=True, text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT)}, check=False,
    )  # fmt: skip
    assert found.stderr == ""
    assert found.stdout.startswith("Overfell Garth")


# ── The calendar ──────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_calendar_goes_to_a_file(full: Path, run: Run, tmp_path: Path) -> None:
    code, _, _ = run("calendar", "--out", tmp_path / "year.ics")
    assert code == 0
    read = icalendar.Calendar.from_ical((tmp_path / "year.ics").read_bytes())
    assert len(read.walk("VEVENT")) > 100
    assert not read.walk("VTODO")


def test_the_calendar_of_some_trades_as_to_dos(full: Path, run: Run, tmp_path: Path) -> None:
    code, _, _ = run("calendar", "--out", tmp_path / "some.ics", "--todo", "--trades", "upkeep,meat")
    assert code == 0
    todos = icalendar.Calendar.from_ical((tmp_path / "some.ics").read_bytes()).walk("VTODO")
    assert {todo["CATEGORIES"].cats[0] for todo in todos} <= {"Upkeep", "Meat"}
    assert todos


def test_a_trade_that_is_none_and_a_file_that_cannot_be(full: Path, run: Run, tmp_path: Path) -> None:
    code, _, err = run("calendar", "--out", tmp_path / "some.ics", "--trades", "banking")
    assert code == 2
    assert "there are garden, livestock, meat, preserving, upkeep" in err
    code, _, err = run("calendar", "--out", tmp_path / "nowhere" / "some.ics")
    assert code == 1
    assert plain(err)


# ── The sheets ────────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_list_has_a_line_for_each_sheet(data: Path, run: Run) -> None:
    code, out, _ = run("sheets", "list")
    assert code == 0
    files = [path for path in (ROOT / "app" / "sheets").glob("*/*.toml") if path.parent.name not in ("law", "normals")]
    files = [path for path in files if "\npattern = true\n" not in path.read_text(encoding="utf-8")]
    lines = out.splitlines()
    assert len(lines) == len(files) >= 24
    for path in files:
        assert any(re.match(rf"{path.parent.name} +{path.stem} +\d+ steps  \S", line) for line in lines), path.stem


def test_the_programs_own_sheets_are_right(data: Path, run: Run) -> None:
    code, out, _ = run("sheets", "check")
    assert code == 0, out
    assert "nothing wrong" in out


def test_a_sheet_with_a_slip_is_said_with_file_step_and_key(data: Path, run: Run, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    whole = (ROOT / "app" / "sheets" / "garden" / "kale.toml").read_text(encoding="utf-8")
    (own / "my-kale.toml").write_text(
        whole.replace('sheet = "kale"', 'sheet = "my-kale"').replace("missed = ", "misssed = ", 1), encoding="utf-8"
    )
    code, out, _ = run("sheets", "check", own)
    assert code == 1
    assert "my-kale.toml" in out
    assert "misssed" in out
    assert "did you mean 'missed'" in out


def test_a_folder_that_is_not_there(data: Path, run: Run, tmp_path: Path) -> None:
    code, out, _ = run("sheets", "check", tmp_path / "none")
    assert code == 1
    assert "there is no such folder" in out


# ── Keeping ───────────────────────────────────────────────────────────────────────────────────────────────────────


def counted(folder: Path) -> tuple[int, int]:
    database = sqlite3.connect(folder / "twelvemonth.sqlite3")
    found = [database.execute(f"SELECT count(*) FROM {name}").fetchone()[0] for name in ("entry", "tick")]
    database.close()
    return found[0], found[1]


def test_a_backup_comes_back(full: Path, run: Run, tmp_path: Path) -> None:
    before = counted(full)
    assert run("backup", tmp_path / "kept.sqlite3")[0] == 0
    database = sqlite3.connect(full / "twelvemonth.sqlite3")
    database.execute("DELETE FROM tick")
    database.commit()
    database.close()
    code, out, err = run("restore", tmp_path / "kept.sqlite3")
    assert code == 0, err
    assert counted(full) == before
    assert "backups" in out
    assert run("month", "2027-09")[0] == 0


@pytest.mark.parametrize("spoil", ["cut short", "no database", "not there"])
def test_a_spoilt_backup_changes_nothing(full: Path, run: Run, tmp_path: Path, spoil: str) -> None:
    file = tmp_path / "kept.sqlite3"
    run("backup", file)
    if spoil == "cut short":
        file.write_bytes(file.read_bytes()[:9000])
    elif spoil == "no database":
        file.write_text("a shopping list")
    else:
        file.unlink()
    before = counted(full)
    code, _, err = run("restore", file)
    assert code == 2
    assert plain(err)
    assert counted(full) == before


def test_everything_goes_out_and_comes_back(
    full: Path, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run("export", tmp_path / "all.zip")[0] == 0
    monkeypatch.setenv("TWELVEMONTH_DATA", str(tmp_path / "other"))
    code, _, err = run("import", tmp_path / "all.zip")
    assert code == 0, err
    assert counted(tmp_path / "other") == counted(full)
    assert run("month", "2027-09")[0] == 0


def test_an_import_does_not_overwrite_unless_it_is_said(full: Path, run: Run, tmp_path: Path) -> None:
    run("export", tmp_path / "all")
    code, _, err = run("import", tmp_path / "all")
    assert code == 1
    assert plain(err)
    assert run("import", tmp_path / "all", "--replace")[0] == 0


def test_nothing_to_back_up_yet(data: Path, run: Run, tmp_path: Path) -> None:
    code, _, err = run("backup", tmp_path / "kept.sqlite3")
    assert code == 1
    assert plain(err)


# ── Serving ───────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_port_in_use_is_said_plainly(data: Path, run: Run) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        code, _, err = run("serve", "--port", str(taken.getsockname()[1]))
    assert code == 1
    assert plain(err)
    assert "--port" in err
    assert not data.exists(), "nothing is touched before it is known that it can be served"


@pytest.mark.parametrize(("option", "value"), [("--port", "70000"), ("--port", "web"), ("--today", "yesterday")])
def test_an_option_that_cannot_be_read(data: Path, run: Run, option: str, value: str) -> None:
    code, _, err = run("serve", option, value)
    assert code == 2
    assert value in err


def test_an_address_that_is_not_ours(data: Path, run: Run) -> None:
    code, _, err = run("serve", "--host", "192.0.2.1", "--port", "0")  # RFC 5737: nobody's
    assert code == 1
    assert plain(err)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="whoever may do anything can write anywhere")
def test_a_folder_that_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> None:
    tmp_path.chmod(0o500)
    monkeypatch.setenv("TWELVEMONTH_DATA", str(tmp_path / "data"))
    code, _, err = run("month")
    tmp_path.chmod(0o700)
    assert code == 1
    assert plain(err)


def test_a_folder_that_is_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> None:
    (tmp_path / "data").write_text("")
    monkeypatch.setenv("TWELVEMONTH_DATA", str(tmp_path / "data"))
    code, _, err = run("month")
    assert code == 1
    assert plain(err)
    assert "TWELVEMONTH_DATA" in err


def test_a_folder_that_is_served_already(data: Path, run: Run) -> None:
    with hold(data):
        code, _, err = run("serve", "--port", "0")
    assert code == 1
    assert plain(err)
    assert "already running" in err


def test_a_database_of_a_newer_program(full: Path, run: Run) -> None:
    database = sqlite3.connect(full / "twelvemonth.sqlite3")
    database.execute("PRAGMA user_version = 9000")
    database.execute("UPDATE alembic_version SET version_num = '9000'")
    database.commit()
    database.close()
    code, _, err = run("month")
    assert code == 1
    assert plain(err)
    assert "newer" in err


def test_a_damaged_database(full: Path, run: Run) -> None:
    (full / "twelvemonth.sqlite3").write_bytes(b"no database" * 1000)
    code, _, err = run("month")
    assert code == 1
    assert plain(err)


@contextmanager
def served(*words: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A process of its own without a terminal that serves, and its address."""
    process = subprocess.Popen(
        [sys.executable, "-m", "app.cli", *words, "--port", "0"], cwd=ROOT, text=True, stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=os.environ | {"PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert process.stdout is not None
    address = ""
    while not address:
        line = process.stdout.readline()
        assert line, "it stopped before it said where it is"
        found = re.search(r"http://127\.0\.0\.1:\d+/", line)
        address = found[0] if found else ""
    try:
        yield process, address
    finally:
        if process.poll() is None:
            process.kill()
        process.wait()
        process.stdout.close()
        if process.stderr is not None:
            process.stderr.close()


def ready(address: str) -> bool:
    until = time.monotonic() + 120  # a busy machine takes its time
    while time.monotonic() < until:
        try:
            with urllib.request.urlopen(f"{address}healthz", timeout=5) as answer:
                return bool(answer.status == 200)
        except OSError:
            time.sleep(0.05)
    return False


@pytest.mark.skipif(os.name == "nt", reason="there are no such signals")
@pytest.mark.parametrize(
    ("words", "page", "shown", "how"),
    [("demo", "today", "data-task", signal.SIGTERM), ("serve", "start", "Where is it?", signal.SIGINT)],
)
def test_what_is_served_is_there_and_stops_cleanly(data: Path, words: str, page: str, shown: str, how: int) -> None:
    with served(words) as (process, address):
        assert ready(address)
        with urllib.request.urlopen(f"{address}{page}", timeout=60) as answer:
            assert shown in answer.read().decode()
        process.send_signal(how)
        assert process.wait(timeout=120) == 0
        assert process.stderr is not None
        assert process.stderr.read() == ""


# ── Weather ───────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_file_of_weather_is_taken_in_and_what_can_not_be_is_named(full: Path, run: Run, tmp_path: Path) -> None:
    file = tmp_path / "made-up.csv"
    file.write_text("date,tmin,tmax\n1990-03-04,1,8\n1990-03-05,9,8\n1990-03-06,2,60\n")
    code, out, _ = run("weather", "take", str(file))
    assert code == 0
    assert "line 3: 1990-03-05: 9 to 8 °C: the lowest is above the highest" in out
    assert "line 4: 1990-03-06: 60 °C" in out
    assert "Took in 1 days" in out


def test_what_a_file_of_weather_does_not_tell_is_asked(full: Path, run: Run, tmp_path: Path) -> None:
    file = tmp_path / "made-up.csv"
    file.write_text("date,tmin,tmax\n03/04/1991,41,86\n05/04/1991,42,85\n")
    code, _, said = run("weather", "take", str(file))
    assert code == 2
    assert "day or the month comes first" in said
    assert "°F" in said
    assert run("weather", "take", str(file), "--order", "dmy", "--temperature", "f")[0] == 0
    assert run("weather", "take", str(tmp_path / "none.csv"))[0] == 2
