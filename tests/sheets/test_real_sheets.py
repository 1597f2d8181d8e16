"""The sheets that come with the program, as they stand in the repository."""

import re
import tomllib

import pytest

from app.rules.sheet import Sheet
from app.sheets.check import check, cited, listing, unsaid, unused
from app.sheets.library import ROOT, load

LIBRARY = load() if not check() else None
ALL = sorted(path for path in ROOT.glob("*/*.toml") if path.parent.name not in ("law", "normals"))
FILES = [path for path in ALL if not tomllib.loads(path.read_text(encoding="utf-8")).get("pattern", False)]


def test_nothing_is_wrong_with_any_of_them() -> None:
    assert [str(fault) for fault in check()] == []


def test_every_file_is_loaded() -> None:
    assert LIBRARY is not None
    assert {path.stem for path in FILES} == set(LIBRARY.sheets)
    assert len(listing(LIBRARY)) == len(FILES)


def test_no_pattern_lies_about_for_nothing() -> None:
    docs = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in ALL}
    patterns = {name for name, doc in docs.items() if doc.get("pattern")}
    likes = [doc["like"] for doc in docs.values() if "like" in doc]
    named = {name for like in likes for name in (like if isinstance(like, list) else [like])}

    assert patterns
    assert patterns <= named


def sheets() -> list[Sheet]:
    return list(LIBRARY.sheets.values()) if LIBRARY else []


@pytest.mark.parametrize("sheet", sheets(), ids=lambda sheet: sheet.id)
def test_every_statement_says_where_it_comes_from(sheet: Sheet) -> None:
    assert LIBRARY is not None
    for source in cited(sheet):
        assert source.basis in ("published", "common practice", "from memory")
        if source.basis == "published":
            assert source.key in LIBRARY.sources
        if source.basis == "from memory":
            assert source.where


@pytest.mark.parametrize("sheet", sheets(), ids=lambda sheet: sheet.id)
def test_every_sheet_says_what_it_is_about(sheet: Sheet) -> None:
    assert sheet.about
    assert sheet.order
    assert sorted(sheet.order) == sorted(step.id for step in sheet.steps)


def test_no_source_and_no_caution_is_listed_for_nothing() -> None:
    """A source may also be cited by a computation's docstring, or by the figures of the climate."""
    assert LIBRARY is not None
    others = [*(ROOT / "normals").glob("*.toml"), *(ROOT.parent / "trade").rglob("*.py")]
    words = set(re.findall(r"[\w-]+", " ".join(path.read_text(encoding="utf-8") for path in others)))
    assert [key for key in unused(LIBRARY) if key not in words] == []
    assert unsaid(LIBRARY) == []


def test_a_mistake_in_a_real_sheet_does_not_go_unseen() -> None:
    """Guard for the tests above: they look at files, and the files say something."""
    assert all(tomllib.loads(path.read_text(encoding="utf-8")).get("sheet") == path.stem for path in ALL)
