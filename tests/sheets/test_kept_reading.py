"""What was read of the sheets is kept for the next start, and never stands in for files that changed."""

import pickle
import sys
from pathlib import Path

import pytest

from app.errors import Fault, KnowledgeError
from app.sheets import library
from app.sheets.kept_reading import kept

STAMP = [(Path("leek.toml"), 1, 100)]


@pytest.fixture(autouse=True)
def _writing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", False)


class Reader:
    """Reads, and counts how often."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self) -> dict[str, int]:
        self.times += 1
        return {"leek": self.times}


def test_files_are_read_once_as_long_as_they_stay_as_they_are(tmp_path: Path) -> None:
    reader = Reader()
    assert [kept(reader, STAMP, tmp_path) for _ in range(3)] == [{"leek": 1}] * 3
    assert reader.times == 1


@pytest.mark.parametrize(
    "stamp", [(Path("leek.toml"), 2, 100), (Path("leek.toml"), 1, 101), (Path("kale.toml"), 1, 100)]
)
def test_a_file_that_changed_is_read_again_and_the_old_reading_goes(
    tmp_path: Path, stamp: tuple[Path, int, int]
) -> None:
    reader = Reader()
    kept(reader, STAMP, tmp_path)
    assert kept(reader, [stamp], tmp_path) == {"leek": 2}
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize("spoilt", [b"", b"nonsense", pickle.dumps(Reader)[:-3], b"\x80\x05cno.such\nthing\n."])
def test_what_cannot_be_read_back_is_read_from_the_files(tmp_path: Path, spoilt: bytes) -> None:
    reader = Reader()
    kept(reader, STAMP, tmp_path)
    next(tmp_path.iterdir()).write_bytes(spoilt)
    assert kept(reader, STAMP, tmp_path) == {"leek": 2}
    assert kept(reader, STAMP, tmp_path) == {"leek": 2}


def test_where_nothing_can_be_written_the_files_are_read_each_time(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    reader = Reader()
    assert [kept(reader, STAMP, tmp_path / "file" / "below") for _ in range(2)] == [{"leek": 1}, {"leek": 2}]


def test_nothing_is_kept_of_sheets_that_are_wrong(tmp_path: Path) -> None:
    def wrong() -> None:
        raise KnowledgeError([Fault("leek.toml", "", "", "wrong")])

    with pytest.raises(KnowledgeError):
        kept(wrong, STAMP, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_the_programs_own_sheets_come_back_as_they_were(tmp_path: Path) -> None:
    made = kept(lambda: library._read(library.ROOT), STAMP, tmp_path)
    again = kept(lambda: pytest.fail("they were not kept"), STAMP, tmp_path)
    assert again.library == made.library
    assert again.docs == made.docs
