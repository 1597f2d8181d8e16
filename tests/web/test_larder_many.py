"""Many batches at once: a shelf counted, the power off, tables out and in, what is taken as eaten. Made-up batches."""

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.records import store
from app.services import setup
from app.services.book import Book
from app.services.larder import csv as larder_csv
from app.services.larder import larder, lot_words
from app.services.larder.larder import KitRow
from app.services.larder.lot_words import NewLot
from app.services.larder.power import shares
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, day, settings

OURS = {"Origin": "http://localhost"}


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, Book]]:
    made = create_app(settings(Path(tmp_path_factory.mktemp("many"))), Ticking(), today=ON)
    book: Book = made.state.book
    setup.begin(book, WHERE, HOUSE, (), TODAY)
    with TestClient(made, base_url="http://localhost", headers=OURS) as client:
        yield client, book


@pytest.fixture(scope="module")
def client(app: tuple[TestClient, Book]) -> TestClient:
    return app[0]


@pytest.fixture(scope="module")
def book(app: tuple[TestClient, Book]) -> Book:
    return app[1]


def put(book: Book, ident: str, what: str, place: str, amount: float = 3, unit: str = "kg", **more: object) -> None:
    new = NewLot(what, TODAY - 40, amount, unit, place=place, **more)  # type: ignore[arg-type]  # as they are named
    lot_words.put_lot(book, new, TODAY, ident)


@pytest.fixture(scope="module")
def kept(book: Book) -> None:
    """Jars that stay as they are."""
    for ident in ("k2", "k3"):
        put(book, ident, f"pickle {ident}", "pantry, low", 5, "jars")


def left(book: Book, ident: str) -> float | None:
    with book.reading() as session:
        return larder.find(session, ident).left


# ── A shelf counted ───────────────────────────────────────────────────────────────────────────────────────────────


def test_a_shelf_is_counted_at_once_and_counts_once(client: TestClient, book: Book) -> None:
    for ident in ("c1", "c2", "c3"):
        put(book, ident, f"jam {ident}", "pantry, top", 5, "jars")
    text = client.get("/larder/count", params={"store": "shelf", "place": "pantry, top"}).text
    assert text.count('name="n-c') == 3
    sent = {"store": "shelf", "place": "pantry, top", "n-c1": "4", "n-c2": "5", "n-c3": "", "id": "b" * 32}
    answer = client.post("/larder/count", data=sent)
    assert "Two\u00a0batches counted, one put right" in answer.text
    assert [left(book, ident) for ident in ("c1", "c2", "c3")] == [4, 5, 5]
    lot_words.take(book, "c1", "used", 1, TODAY, TODAY)
    client.post("/larder/count", data=sent)
    assert left(book, "c1") == 3, "the same form once more counts once"
    assert "where the book had 5\u00a0jars" in client.get("/larder/c1").text


@pytest.mark.parametrize(
    ("wrong", "says"),
    [({"n-k2": "lots"}, "A number is wanted"), ({"on": "2027-01-01", "n-k2": "4"}, "before it was made"),
     ({"on": "2028-01-01", "n-k2": "4"}, "has not come yet"), ({}, "No box was filled")],
)  # fmt: skip
@pytest.mark.usefixtures("kept")
def test_a_count_that_cannot_be_changes_nothing(
    client: TestClient, book: Book, wrong: dict[str, str], says: str
) -> None:
    answer = client.post("/larder/count", data={"store": "shelf", "n-k3": "", **wrong})
    assert (answer.status_code, left(book, "k2")) == (422, 5)
    assert says in answer.text
    assert all(f'value="{value}"' in answer.text for value in wrong.values()), "what was typed is kept"


def test_a_batch_that_is_gone_is_told(client: TestClient) -> None:
    assert client.post("/larder/count", data={"store": "shelf", "n-nothing": "4"}).status_code == 404
    assert client.get("/larder/count?store=attic&place=x").status_code == 200


# ── The power off ─────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_how_long_a_freezer_holds_by_how_full_it_is() -> None:
    """FoodSafety.gov, power outage: full 48 hours, half full 24. 35 lb a cubic foot (0.56 kg/l) fills it."""
    kit = [KitRow(name="chest", kind="freezer", litres=100), KitRow(name="tall", kind="freezer", litres=100)]
    kilos = {"chest": 56.0, "tall": 28.0}
    rows = [_batch(f"{name} freezer", kg) for name, kg in kilos.items()]
    assert [(one.full_percent, one.hours) for one in shares(kit, rows)] == [(100, 48), (50, 24)]
    (one,) = shares(kit[:1], [_batch("somewhere", 20)])
    assert (round(one.full_percent or 0), one.hours) == (36, None)
    assert "twelve hours" in one.says


def _batch(place: str, kg: float) -> larder.BatchRow:
    return larder.BatchRow(
        place, "27-001", "freezer", "pork", "", "", "", "", "", TODAY, kg, "kg", kg, False, False, TODAY, "quality", "",
        "", place, "",
    )  # fmt: skip


def test_what_spoils_first_is_looked_at_first_and_thrown_together(client: TestClient, book: Book) -> None:
    for ident, what in (("p1", "peas"), ("p2", "pork joint"), ("p3", "pork mince")):
        put(book, ident, what, "freezer", keeps_until=TODAY + 9)
    text = client.get("/larder/power").text
    assert re.findall(r'value="(p\d)"', text) == ["p3", "p2", "p1"]
    assert "not frozen again raw" in text
    assert "pigs" in text
    answer = client.post("/larder/spoiled", data={"id": "c" * 32})
    assert (answer.status_code, "Tick what was spoiled" in answer.text) == (422, True)
    for _ in range(2):
        answer = client.post("/larder/spoiled", data={"batch": ["p3", "p2"], "id": "c" * 32})
    assert "None of it goes to pigs or hens" in answer.text
    assert [left(book, ident) for ident in ("p1", "p2", "p3")] == [3, 0, 0]
    assert client.get("/larder/p3").text.count("Spoiled, thrown out: 3\u00a0kg") == 1


# ── Out and in ────────────────────────────────────────────────────────────────────────────────────────────────────


def formula(book: Book) -> None:
    """A batch that a spreadsheet might reckon; put down once however often it is asked for."""
    put(book, "f1", "=HYPERLINK(1)", "shelf", 2.5, note='+1, "said"\n@all')


@pytest.mark.published
def test_the_table_out_is_no_formula(client: TestClient, book: Book) -> None:
    """OWASP ASVS 5.0, 1.2.10: a cell that begins with = + - @ is led by an apostrophe. RFC 4180."""
    formula(book)
    answer = client.get("/larder.csv")
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    head, *rows = csv.reader(io.StringIO(answer.content.decode("utf-8-sig"), newline=""))
    assert tuple(head) == larder_csv.COLUMNS
    row = next(dict(zip(head, cells, strict=True)) for cells in rows if "HYPERLINK" in cells[1])
    assert (row["what"], row["note"], row["left"]) == ("'=HYPERLINK(1)", '\'+1, "said"\n@all', "2.5")


TABLE = """\
What;Made;Left;Unit;Keeps until;Place;Killed;Note
quince jelly;2027-01-09;4,5;jars;2028-01-09;shelf;;"red; clear"
quince jelly;2027-01-09;4,5;jars;2028-01-09;shelf;;"red; clear"
lamb;8/3/2027;3;kg;;freezer;home;
;2027-01-09;1;kg;;;;
pears;2029-01-09;1;kg;;;;
pears;soon;1;kg;;;;
pears;2027-01-09;many;kg;;;;
pears;2027-01-09;1;kg;2026-01-09;;;
pears;2027-01-09;1;kg;;;hunted;
"""


def test_a_table_is_looked_at_and_then_taken_in_once(client: TestClient, book: Book) -> None:
    text = client.post("/larder/in", data={"text": TABLE}).text
    assert "Two\u00a0batches can be taken in" in text
    assert "One\u00a0row stood there twice" in text
    for line, why in ((5, "no name"), (6, "day to come"), (7, "no day"), (8, "no number"), (9, "before it was made"),
                      (10, "hunted")):  # fmt: skip
        assert re.search(rf"line {line}</dt><dd>[^<]*{why}", text), why
    assert "Quince" not in client.get("/larder").text, "nothing is kept before it is said"
    for many in ("Two", "No"):
        assert f"{many}\u00a0batches taken in" in client.post("/larder/in/take", data={"text": TABLE}).text
    found = client.get("/search?q=quince").text
    assert found.count("Quince jelly") == 1
    with book.reading() as session:
        lamb = next(row for row in larder_csv.every(session) if row.what == "lamb")
    assert (lamb.left, lamb.killed, lamb.made_on) == (3, "home", day("2027-03-08"))


def test_what_went_out_can_come_in_and_is_here_already(client: TestClient, book: Book) -> None:
    formula(book)
    put(book, "o1", "pork joint", "freezer", keeps_until=TODAY + 90)
    out = client.get("/larder.csv").content
    answer = client.post("/larder/in", files={"file": ("larder.csv", out, "text/csv")})
    assert "No row of it can be taken in" in answer.text
    assert "already, and left alone" in answer.text


OURS_OUT = """\
number,what,variety,made,keeps until,basis,there were,left,unit,pack kg,place,killed,source,note,state
27-007,pork,,2027-02-01,2027-08-01,quality,9,4,packs,0.6,far freezer,home,published,"for ""us"", only",here
27-008,potted ham,,2027-03-08,2027-03-12,safety,3,3,jars,,fridge,bought,as it was put down,,here
27-009,eggs,,2027-02-20,2027-03-20,quality,12,12,eggs,,larder,,as it was put down,,here
27-010,eggs,,2027-02-20,2027-03-20,quality,12,12,eggs,,larder,,as it was put down,,here
27-011,onions,Stuttgart,2027-01-05,,,8,0,kg,,a loft,,,,used up
"""


def test_a_larder_moves_to_another_house_with_all_that_its_table_says(tmp_path: Path) -> None:
    """Numbers on jars, packs, what was made, how it was killed, of what its day is: out again they are the same."""
    made = create_app(settings(tmp_path), Ticking(), today=ON)
    setup.begin(made.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(made, base_url="http://localhost", headers=OURS) as web:
        web.post("/larder/add", data={"what": "jam", "made_on": "2027-03-01", "amount": "2", "unit": "jars"})
        assert "one of them used up" in web.post("/larder/in", data={"text": OURS_OUT}).text
        assert "Five\u00a0batches taken in" in web.post("/larder/in/take", data={"text": OURS_OUT}).text
        out = web.get("/larder.csv").content.decode("utf-8-sig").replace("\r\n", "\n")
        rows = [line for line in out.splitlines(keepends=True) if ",jam," not in line]
        assert sorted(rows) == sorted(OURS_OUT.splitlines(keepends=True))
        assert "use by 12\u00a0March" in web.get("/larder").text
        assert "27-012" in web.post("/larder/add", data={"what": "tea", "made_on": "2027-03-01", "amount": "1",
                                                         "unit": "jars"}).text, "no number is given twice"  # fmt: skip
        other = OURS_OUT.splitlines()[0] + "\n27-009,brawn,,2027-03-01,,,2,2,kg,,fridge,home,,,here\n"
        assert "One\u00a0batch taken in" in web.post("/larder/in/take", data={"text": other}).text


@pytest.mark.parametrize("text", ["", "a", "what,made\njam,2027-01-01", "what,made,left,unit"])
def test_what_is_no_table_is_told(client: TestClient, text: str) -> None:
    answer = client.post("/larder/in", data={"text": text})
    assert (answer.status_code, 'class="error"' in answer.text) == (422, True)


def test_a_file_that_is_no_text_is_told(client: TestClient) -> None:
    answer = client.post("/larder/in", files={"file": ("larder.csv", b"\xff\xfe\x00", "text/csv")})
    assert (answer.status_code, "UTF-8" in answer.text) == (422, True)


# ── Taken as eaten, and what a batch says ─────────────────────────────────────────────────────────────────────────


def test_what_is_taken_as_eaten_is_told_and_brought_back(client: TestClient, book: Book) -> None:
    put(book, "e1", "eggs", "larder", 12, "eggs", keeps_until=TODAY - 12)
    text = client.get("/larder").text
    assert "Taken as eaten" in text
    assert "taken as eaten and counts nowhere" in client.get("/larder/e1").text
    assert "here again" in client.post("/larder/e1/here", data={"id": "d" * 32}).text
    assert "Taken as eaten" not in client.get("/larder").text


def test_a_batch_says_one_table_beside_another(client: TestClient, book: Book) -> None:
    put(book, "b1", "streaky bacon", "fridge", keeps_until=TODAY + 3)
    text = client.get("/larder/b1").text
    assert "a day of safety" in text
    assert re.search(r"published</dt><dd>1 week \(Cold Food Storage Chart", text)
    assert re.search(r"common practice</dt><dd>4 to 6 weeks", text)


@pytest.mark.published
def test_a_household_of_pounds_reads_and_writes_pounds(client: TestClient, book: Book) -> None:
    """International yard and pound, 1959: 1 lb = 0.45359237 kg, so 3 kg are 6.6 lb."""
    put(book, "u1", "parsnip soup", "freezer")
    assert client.post("/larder/u1/take", data={"kind": "used", "amount": "500 g"}).status_code == 200
    assert left(book, "u1") == 2.5
    reads(book, "imperial")
    try:
        assert "5.5\u00a0lb" in client.get("/larder/u1").text
        client.post("/larder/count", data={"store": "freezer", "n-u1": "2"})
        assert left(book, "u1") == pytest.approx(0.90718474)
        assert 'value="0.90718474 kg"' in client.get("/larder/u1").text, "one tap uses up all of it, in kilos"
        assert "A number is wanted" in client.post("/larder/u1/take", data={"kind": "used", "amount": "2 miles"}).text
    finally:
        reads(book, "metric")


def reads(book: Book, units: str) -> None:
    with book.writing() as session:
        row = book.holding(session)
        store.put_holding(session, store.HoldingRow(**{**row.model_dump(), "units": units}))
        book.replan(session, None, TODAY)
