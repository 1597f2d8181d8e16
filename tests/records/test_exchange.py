"""Everything leaves as open files and comes back: export, import, export gives the same bytes.

Cells: RFC 4180 (IETF, 2005) sections 2.5-2.7; formula starts: OWASP ASVS 5.0, requirement 1.2.10 (CR from memory:
OWASP, "CSV Injection").
"""

import csv
import io
import json
import tomllib
import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine, text

from app.errors import BadInput, Conflict, DataFolderError
from app.records import store
from app.records.csvs import guarded, read_csv, unguarded, write_csv
from app.records.exchange import WHOLE, export, export_files, import_all
from app.records.migrate import head
from app.records.tables import APART, FACTS, PROJECTION, TABLES
from app.settings import Settings
from tests.records.sample import LATER, NOW, fill, leek

AMENDMENT = TABLES["amendment"]


@pytest.fixture
def other(tmp_path: Path, place: Settings):  # type: ignore[no-untyped-def]
    """Another, empty data folder."""
    settings = Settings(tmp_path / "other", place.templates, place.static, place.demo_data)
    engine = store.open_database(settings, now=NOW)
    yield settings, engine
    engine.dispose()


def cells(content: bytes) -> str:
    return content.decode("utf-8-sig").splitlines()[1]


@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "cell"),
    [
        ("=1+1", "'=1+1"),
        ("-dash note", "'-dash note"),
        ("+44", "'+44"),
        ("@home", "'@home"),
        ("\ttab", "'\ttab"),
        ("＝1", "'＝1"),
        ("'tis", "''tis"),
        ('a"b,c', '"a""b,c"'),
        ("plain", "plain"),
    ],
)
def test_a_cell_is_quoted_and_never_a_formula(name: str, cell: str) -> None:
    content = write_csv(AMENDMENT, [("id", {}, name, "", None, False)])
    assert cells(content) == f"id,{{}},{cell},,,no"


@pytest.mark.published
def test_a_number_keeps_its_minus() -> None:
    row = (1, "x", None, 52.0, -3.5, 10.0, None, False, "UTC", 4.0, "metric", *(None,) * 7, NOW, None)
    assert ",52.0,-3.5,10.0,,no," in cells(write_csv(TABLES["holding"], [row]))


@pytest.mark.published
def test_lines_end_in_crlf_and_the_file_says_it_is_utf_8() -> None:
    content = write_csv(AMENDMENT, [("id", {}, "é", "", None, False)])
    assert content.startswith(b"\xef\xbb\xbfentry,facts,name,place,ends,struck\r\n")
    assert content.endswith(b"no\r\n")
    assert content.count(b"\n") == content.count(b"\r\n") == 2


@given(st.text())
def test_any_text_comes_back_through_its_guard(words: str) -> None:
    assert unguarded(guarded(words)) == words
    assert guarded(words)[:1] not in set("=+-@\t\r\0＝＋－＠")


words = st.text(st.characters(exclude_categories=["Cs"]))


@given(words, words, st.dictionaries(words, st.one_of(words, st.booleans(), st.integers(), st.floats(allow_nan=False))))
def test_any_row_comes_back_through_csv(name: str, place: str, facts: dict[str, object]) -> None:
    row = ("=id", facts, name, place, None, True)
    (found,) = read_csv(AMENDMENT, write_csv(AMENDMENT, [row]), "amendment.csv")
    assert tuple(found.values()) == row


def test_another_reader_of_csv_sees_the_same_cells() -> None:
    content = write_csv(AMENDMENT, [("id", {}, "a\r\nb", 'say "so"', None, False)])
    assert list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))[1] == [
        "id", "{}", "a\r\nb", 'say "so"', "", "no",
    ]  # fmt: skip


@pytest.mark.parametrize("to", ["out", "out.zip"])
def test_export_import_export_gives_the_same_bytes(
    engine: Engine, tmp_path: Path, place: Settings, other: tuple[Settings, Engine], to: str
) -> None:
    fill(engine)
    place.sheets.mkdir()
    (place.sheets / "our-leek.toml").write_text('changes = "leek"\n')
    (place.sheets / "Not Ours.toml").write_text("")
    export(engine, tmp_path / to, place.sheets)
    counts = import_all(other[0], other[1], tmp_path / to, now=LATER)
    assert counts == {
        "holding": 1,
        "person": 1,
        "absence": 1,
        "entry": 2,
        "amendment": 1,
        "tick": 3,
        "feed_link": 1,
        "stamp": 1,
        "normals_month": 12,
        "weather_file": 1,
        "weather_day": 3,
        "bed": 1,
        "bed_fact": 1,
        "lot": 1,
        "lot_fact": 2,
        "way": 1,
        "nearby": 1,
        "kit": 1,
        "batch_mark": 1,
        "weather_told": 1,
        "animal": 1,
        "medicine": 1,
        "head_fact": 2,
        "supply": 1,
    }
    first, again = export_files(engine, place.sheets), export_files(other[1], other[0].sheets)
    assert first == again
    assert tomllib.loads(first["sheets/our-leek.toml"].decode()) == {"changes": "leek"}
    assert "sheets/Not Ours.toml" not in first
    export(other[1], tmp_path / f"again-{to}", other[0].sheets)
    if to.endswith(".zip"):
        assert (tmp_path / to).read_bytes() == (tmp_path / f"again-{to}").read_bytes()


def test_what_was_imported_reads_as_it_was(engine: Engine, tmp_path: Path, other: tuple[Settings, Engine]) -> None:
    fill(engine)
    export(engine, tmp_path / "out")
    import_all(other[0], other[1], tmp_path / "out", now=LATER)
    with store.reading(engine) as one, store.reading(other[1]) as two:
        for read in (store.entries, store.ticks, store.amendments, store.people, store.absences, store.holding):
            assert read(one) == read(two)  # type: ignore[operator]
        assert store.measure(two).tasks == 0
        assert store.facts_version(two) > 0


def test_every_kind_of_fact_is_exported_and_nothing_worked_out(engine: Engine) -> None:
    fill(engine)
    files = export_files(engine)
    assert {name for name in files if name.endswith(".csv")} == {f"{name}.csv" for name in FACTS}
    assert set(FACTS) | set(PROJECTION) | set(APART) | {"state"} == set(TABLES)
    whole = json.loads(files[WHOLE])
    assert whole["tables"]["tick"][1]["measures"] == {"day": {"date": "2027-10-04"}}
    assert whole["tables"]["entry"][0]["note"] == 'a"b,c\r\nsecond line'
    assert b"open files" in files["README.txt"]


def test_an_import_does_not_mix_with_what_is_here_unless_it_may_replace_it(
    engine: Engine, tmp_path: Path, other: tuple[Settings, Engine]
) -> None:
    fill(engine)
    export(engine, tmp_path / "out")
    with store.writing(other[1]) as session:
        store.add_entry(session, leek(id="here"), now=NOW)
    with pytest.raises(Conflict, match="facts here already"):
        import_all(other[0], other[1], tmp_path / "out", now=LATER)
    import_all(other[0], other[1], tmp_path / "out", now=LATER, replace=True)
    with store.reading(other[1]) as session:
        assert [entry.id for entry in store.entries(session)] == ["leek", "pigs"]
    assert len(list(other[0].backups.glob("before-import-*.sqlite3"))) == 1


@pytest.mark.parametrize(
    ("file", "old", "new", "sentence"),
    [
        ("entry.csv", "2027-03-09", "9 March 2027", r"entry\.csv, line 3: told can't be '9 March 2027'"),
        ("entry.csv", "id,sheet", "id,sheets", r"entry\.csv: its first line has sheets"),
        ("entry.csv", "id,sheet,name", "id,name,name", r"entry\.csv: its first line lacks sheet"),
        ("person.csv", ",300,", ",300,5,", r"person\.csv, line 2: 11 cells where 10 are wanted"),
        ("person.csv", ",300,", ",3000,", "rows that can't be so"),
        ("absence.csv", "1,1,", "1,9,", "rows that can't be so"),
        ("tick.csv", "undone", "sold", "rows that can't be so"),
        ("tick.csv", '""kg"": 1.5', '""kg"": ', r"tick\.csv, line 2: measures can't be"),
        ("tick.csv", "2027-10-04", "2027-02-30", "facts that can't be read"),
        ("amendment.csv", ",no", ",maybe", r"amendment\.csv, line 2: struck can't be 'maybe'"),
        (WHOLE, '"twelvemonth"', '"something else"', "no export of Twelvemonth"),
        (WHOLE, f'"{head()}"', '"9999"', "newer Twelvemonth"),
        (WHOLE, "{", "[", "can't be read"),
    ],
)
def test_an_export_that_can_not_be_read_is_told_and_nothing_is_taken_in(
    engine: Engine, tmp_path: Path, other: tuple[Settings, Engine], file: str, old: str, new: str, sentence: str
) -> None:
    fill(engine)
    export(engine, tmp_path / "out")
    content = (tmp_path / "out" / file).read_bytes().decode()
    assert old in content
    (tmp_path / "out" / file).write_bytes(content.replace(old, new, 1).encode())
    empty = export_files(other[1])
    with pytest.raises(BadInput, match=sentence):
        import_all(other[0], other[1], tmp_path / "out", now=LATER)
    assert export_files(other[1]) == empty


def test_files_that_are_no_export_are_told(other: tuple[Settings, Engine], tmp_path: Path) -> None:
    (tmp_path / "text.zip").write_text("Dear diary")
    (tmp_path / "binary.csv").mkdir()
    for name, sentence in [("none.zip", "no file"), ("text.zip", "can't be unpacked"), ("binary.csv", "is not in it")]:
        with pytest.raises(BadInput, match=sentence):
            import_all(*other, tmp_path / name, now=NOW)


def test_bytes_that_are_no_text_are_told() -> None:
    for content in (b"entry,facts\xff", b'entry,facts,name,place,ends,struck\r\n"open'):
        with pytest.raises(BadInput, match=r"amendment\.csv is no CSV file"):
            read_csv(AMENDMENT, content, "amendment.csv")


def test_an_archive_writes_nowhere_but_where_it_should(
    engine: Engine, tmp_path: Path, other: tuple[Settings, Engine]
) -> None:
    fill(engine)
    export(engine, tmp_path / "out.zip")
    with zipfile.ZipFile(tmp_path / "out.zip", "a") as archive:
        for name in ("../evil.toml", "sheets/../../evil.toml", "/evil.toml", "sheets/evil/x.toml", "sheets/.toml"):
            archive.writestr(name, "evil")
    import_all(*other, tmp_path / "out.zip", now=NOW)
    assert not list(tmp_path.rglob("*evil*"))
    assert not other[0].sheets.exists()


def test_an_archive_that_unpacks_to_far_more_is_refused(tmp_path: Path, other: tuple[Settings, Engine]) -> None:
    with zipfile.ZipFile(tmp_path / "bomb.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("entry.csv", b"0" * 30_000_000)
    with pytest.raises(BadInput, match="unpacks to more"):
        import_all(*other, tmp_path / "bomb.zip", now=NOW)


def test_an_export_does_not_write_into_a_folder_of_something_else(engine: Engine, tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "aunt.txt").touch()
    with pytest.raises(Conflict, match="something else"):
        export(engine, tmp_path / "letters")
    with pytest.raises(DataFolderError, match="can't be written"):
        export(engine, tmp_path / "letters" / "aunt.txt" / "x.zip")


def test_a_long_note_comes_back(engine: Engine, tmp_path: Path, other: tuple[Settings, Engine]) -> None:
    with store.writing(engine) as session:
        store.add_entry(session, leek(), now=NOW, note="é" * 200_000)
    export(engine, tmp_path / "out")
    import_all(*other, tmp_path / "out", now=NOW)
    with store.reading(other[1]) as session:
        assert store.entry_note(session, "leek") == "é" * 200_000


def test_no_text_of_the_export_is_lost_on_the_way_to_json(engine: Engine) -> None:
    with store.writing(engine) as session:
        session.execute(text("INSERT INTO amendment VALUES ('a.b+c', '{}', '', 'x', NULL, 0)"))
    assert json.loads(export_files(engine)[WHOLE])["tables"]["amendment"] == [
        {"entry": "a.b+c", "facts": {}, "name": "", "place": "x", "ends": None, "struck": False}
    ]
