"""The larder: numbers that stay, what is left, what runs out, and a table that can be worked out again."""

from pathlib import Path

import pytest
from sqlalchemy import text

from app.errors import BadInput
from app.records import store
from app.records.larder import FIRST
from app.records.store import KitRow
from app.services.book import Book
from app.services.entries import look_new, put_down
from app.services.larder import larder, lot_words
from app.services.larder.batches import store_of
from app.services.larder.kit_uses import kit_uses
from app.services.larder.lasting import meals_left
from app.services.larder.lot_words import NewLot
from app.services.preview import Draft
from app.services.what_there_is import whole
from tests.services.croft import TODAY, Ticking, croft, day

MINCE = NewLot("mince", day("2027-02-01"), 6, "kg", keeps_until=day("2027-05-01"), place="freezer, top drawer")
JAM = NewLot("plum jam", day("2026-08-20"), 9, "jars", keeps_until=day("2027-08-20"), place="shelf")


def filled(tmp_path: Path) -> Book:
    book = croft(tmp_path, clock=Ticking())
    lot_words.put_lot(book, JAM, TODAY, "jam")
    lot_words.put_lot(book, MINCE, TODAY, "mince")
    return book


def rows(book: Book) -> dict[str, store.BatchRow]:
    with book.reading() as session:
        return {row.id: row for row in store.batch_rows(session)}


def test_each_batch_has_a_number_that_stays(tmp_path: Path) -> None:
    book = filled(tmp_path)
    assert {ident: row.number for ident, row in rows(book).items()} == {"jam": "26-001", "mince": "27-001"}
    lot_words.put_lot(book, MINCE._replace(made_on=day("2027-01-01")), TODAY, "earlier")
    lot_words.strike(book, "mince", TODAY)
    lot_words.put_lot(book, MINCE, TODAY, "later")
    assert rows(book)["earlier"].number == "27-002"
    assert rows(book)["later"].number == "27-003", "a number is never given twice"


def test_the_table_can_be_dropped_and_is_worked_out_the_same(tmp_path: Path) -> None:
    book = filled(tmp_path)
    lot_words.take(book, "mince", "used", 1.5, TODAY, TODAY)
    before = rows(book)
    with store.writing(book.engine) as session:
        store.drop_projection(session)
    assert rows(book) == before
    assert before["mince"].left == 4.5


def test_the_first_to_expire_come_from_one_query_on_the_index(tmp_path: Path) -> None:
    book = filled(tmp_path)
    with book.reading() as session:
        found = store.first_to_expire(session, 5)
        query = FIRST.limit(5).compile(book.engine, compile_kwargs={"literal_binds": True})
        plan = session.execute(text(f"EXPLAIN QUERY PLAN {query}")).all()
    assert [row.id for row in found] == ["mince", "jam"]
    assert "ix_batch_gone_keeps_until" in str(plan)
    assert "TEMP B-TREE" not in str(plan)


def test_more_taken_than_there_was_is_taken_down_and_a_count_puts_it_right(tmp_path: Path) -> None:
    book = filled(tmp_path)
    assert lot_words.take(book, "jam", "used", 12, TODAY, TODAY).short
    assert (rows(book)["jam"].left, rows(book)["jam"].gone) == (0, True)
    lot_words.count(book, "jam", 2, TODAY, TODAY)
    assert (rows(book)["jam"].left, rows(book)["jam"].short) == (2, False)


def test_used_before_it_was_made_changes_nothing(tmp_path: Path) -> None:
    book = filled(tmp_path)
    with pytest.raises(BadInput, match="before it was made"):
        lot_words.take(book, "mince", "used", 1, day("2027-01-15"), TODAY)
    assert rows(book)["mince"].left == 6


def test_what_was_put_back_is_there_again(tmp_path: Path) -> None:
    book = filled(tmp_path)
    lot_words.take(book, "mince", "used", 2, TODAY, TODAY)
    larder.put_back(book, "mince", 0.5, TODAY, TODAY)
    assert rows(book)["mince"].left == 4.5


@pytest.mark.published
def test_frozen_meat_keeps_for_quality_and_chilled_meat_for_safety(tmp_path: Path) -> None:
    """FoodSafety.gov, cold food storage chart: frozen food stays safe, freezer times are for quality only."""
    book = filled(tmp_path)
    larder.mark(book, "mince", TODAY, killed="home")
    assert (rows(book)["mince"].basis, rows(book)["mince"].killed) == ("quality", "home")
    larder.mark(book, "mince", TODAY, place="fridge")
    assert rows(book)["mince"].basis == "safety"


@pytest.mark.common_practice
def test_meals_of_six_kilos_of_mince_for_four() -> None:
    """Common practice: 125 g of mince a head; 6000 / (125 x 4) = 12 meals."""
    (found,) = meals_left({"mince": 6.0, "beef dripping": 2.0, "ham stock": 1.0}, 4)
    assert found.meals == 12


def test_the_rate_is_of_what_was_really_used(tmp_path: Path) -> None:
    book = filled(tmp_path)
    lot_words.take(book, "mince", "used", 2, TODAY - 19, TODAY)
    with book.reading() as session:
        found = larder.larder(book, session, TODAY)
    (one,) = found.runs_out
    assert (one.what, round(one.a_week, 2), one.on - TODAY) == ("mince", 0.7, 40)


def test_room_in_the_freezer_is_told_once_one_is_put_down(tmp_path: Path) -> None:
    """35 lb to the cubic foot is 0.56 kg/l: six kilos take 10.7 litres of a hundred."""
    book = filled(tmp_path)
    larder.put_kit(book, KitRow(name="chest", kind="freezer", litres=100), TODAY)
    with book.reading() as session:
        assert larder.larder(book, session, TODAY).litres_free == pytest.approx(89.3, abs=0.1)


@pytest.mark.parametrize(
    ("place", "kind"),
    [("damp sand", "store"), ("freezer", "freezer"), ("fridge, leaves off", "fridge"), ("jar, dark", "shelf"),
     ("cool, not the fridge", "store"), ("larder", "shelf")],
)  # fmt: skip
def test_where_it_lies_is_told_by_the_place(place: str, kind: str) -> None:
    assert store_of(place) == kind


def test_two_dryers_serve_two_and_every_page_says_so(tmp_path: Path) -> None:
    """One rule for previews, entries and the kit: a clash is more claims at one time than there are of a thing."""
    book = filled(tmp_path)
    facts = {"kg": 8.0, "tray_m2": 1.0}
    one, two = (
        put_down(book, Draft(sheet, name, "", {"date": TODAY, **facts}), TODAY)
        for sheet, name in (("dried-apples", "apples"), ("dried-plums", "plums"))
    )
    third = Draft("dried-pears", "pears", "", {"date": TODAY, **facts})

    def said() -> tuple[int, int, int]:
        with book.reading() as session:
            looked = look_new(book, session, third, TODAY)
            return (
                len(kit_uses(book, session, TODAY)[2]),
                len(whole(book, session, one, TODAY).clashes),
                len(looked.kit),
            )

    assert said() == (1, 1, 1)
    with book.reading() as session:
        uses = [(use.name, use.first - TODAY) for use in kit_uses(book, session, TODAY)[1] if use.kit == "dryer"]
    assert uses == [("apples", 0), ("plums", 0)], "each once, from its going in until it is dry"
    for name in ("old", "new"):
        larder.put_kit(book, KitRow(name=name, kind="dryer", trays=4, tray_m2=0.25), TODAY)
    assert said() == (0, 0, 1), "two for two; a third has none"
    put_down(book, third, TODAY)
    assert said()[:2] == (3, 2), "three want two"
    assert two


def test_what_went_back_was_not_used_and_what_would_be_past_its_best_is_to_be_eaten_faster(tmp_path: Path) -> None:
    """Two taken and one put back in three weeks are a third a week; 8 jars in 163 days are 8 / floor(163 / 7)."""
    book = filled(tmp_path)
    lot_words.take(book, "jam", "used", 2, TODAY - 20, TODAY)
    larder.put_back(book, "jam", 1, TODAY, TODAY)

    def told() -> larder.RunsOut:
        with book.reading() as session:
            (one,) = larder.larder(book, session, TODAY).runs_out
        return one

    one = told()
    assert (one.left, round(one.a_week, 3), one.by) == (8, 0.333, day("2027-08-20"))
    assert one.wanted_a_week == pytest.approx(8 / 23)
    lot_words.take(book, "jam", "used", 7, TODAY, TODAY)
    assert (told().left, told().by) == (1, None)


def test_weeks_without_any_are_no_weeks_of_using_little(tmp_path: Path) -> None:
    """28 jars in four weeks, none left for four months, and nine made today: a jar a day, and not two a week."""
    book = croft(tmp_path, clock=Ticking())
    lot_words.put_lot(book, JAM._replace(amount=28), TODAY, "old")
    for back, jars in ((150, 14), (123, 14)):
        lot_words.take(book, "old", "used", jars, TODAY - back, TODAY)
    lot_words.put_lot(book, JAM._replace(made_on=TODAY, amount=9), TODAY, "new")
    with book.reading() as session:
        (one,) = larder.larder(book, session, TODAY).runs_out
    assert (one.left, one.on - TODAY) == (9, 9)


@pytest.mark.common_practice
def test_meals_are_not_told_of_what_is_past_a_day_of_safety(tmp_path: Path) -> None:
    book = filled(tmp_path)
    lot_words.put_lot(book, NewLot("pork joint", TODAY - 9, 4, "kg", keeps_until=TODAY - 1, place="fridge"), TODAY)
    with book.reading() as session:
        assert [one.what for one in larder.larder(book, session, TODAY).meals] == ["mince"]
