"""Days of batches: of safety or of quality, out of the freezer, and what is taken as eaten. Made-up batches."""

from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from app.records import store
from app.records.larder import EATEN, FIRST
from app.records.tables import TABLES
from app.services.book import Book
from app.services.entries import put_down
from app.services.larder import larder, lot_words
from app.services.larder import many as larder_many
from app.services.larder.batch_days import Keeping, keeping, taken_as_eaten
from app.services.larder.lot_parts import Lot, LotFact
from app.services.larder.lot_words import NewLot
from app.services.preview import Draft
from app.services.ticking import Words, tick
from tests.services.croft import TODAY, Ticking, croft, day

KALE = Lot(
    "k.pick#0", "lot", "kale", "", "kale", "k", "k.pick", TODAY - 20, 0.6, "kg", TODAY - 13, "fridge", "", left=0.6
)
EGGS = KALE._replace(id="e", key="", what="eggs", unit="eggs", left=12, made_on=TODAY - 30, keeps_until=TODAY - 2)


def said(kind: str, on: int, **measures: object) -> LotFact:
    return LotFact("f", "k", kind, on, None, measures, "")  # type: ignore[arg-type]  # made up for the test


# ── Taken as eaten ────────────────────────────────────────────────────────────────────────────────────────────────


def test_what_came_fresh_and_is_past_its_day_is_taken_as_eaten() -> None:
    until = KALE.keeps_until
    assert taken_as_eaten(KALE, until, "garden", TODAY)
    assert not taken_as_eaten(KALE, until, "garden", TODAY - 13), "not on its last day"
    assert not taken_as_eaten(KALE, until, "preserving", TODAY), "only the garden's"
    assert not taken_as_eaten(KALE._replace(key=""), until, "garden", TODAY), "not what was put down by hand"
    assert not taken_as_eaten(KALE._replace(kind="seed"), until, "garden", TODAY)
    assert taken_as_eaten(KALE._replace(made_on=TODAY - 32), TODAY - 1, "garden", TODAY), "31 days"
    assert not taken_as_eaten(KALE._replace(made_on=TODAY - 33), TODAY - 1, "garden", TODAY), "32 days"


def test_eggs_are_taken_as_eaten_whoever_put_them_down() -> None:
    assert taken_as_eaten(EGGS, EGGS.keeps_until, "", TODAY)
    assert not taken_as_eaten(EGGS._replace(what="eggplants"), EGGS.keeps_until, "", TODAY)


def test_a_count_since_holds_for_as_long_again() -> None:
    counted = KALE._replace(facts=(said("counted", TODAY - 5),))
    assert not taken_as_eaten(counted, KALE.keeps_until, "garden", TODAY)
    assert not taken_as_eaten(counted, KALE.keeps_until, "garden", TODAY + 2)
    assert taken_as_eaten(counted, KALE.keeps_until, "garden", TODAY + 3)
    before = KALE._replace(facts=(said("used", TODAY - 15),))
    assert taken_as_eaten(before, KALE.keeps_until, "garden", TODAY), "what was said before its day is no count since"


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A croft with eggs of two ages, put down by hand."""
    book = croft(Path(tmp_path_factory.mktemp("fresh")), clock=Ticking())
    for name, made in (("old", "2027-02-01"), ("new", "2027-03-05")):
        lot = NewLot("eggs", day(made), 12, "eggs", keeps_until=day(made) + 28, place="larder")
        lot_words.put_lot(book, lot, TODAY, name)
    return book


def test_what_is_taken_as_eaten_counts_nowhere_until_it_is_said_to_be_here(fresh: Book) -> None:
    with fresh.reading() as session:
        found = larder.larder(fresh, session, TODAY)
        facts = store.lot_facts(session)
    assert [row.id for row in found.first] == ["new"]
    assert [row.id for row in found.eaten] == ["old"]
    assert [(what, left) for _, what, _, _, left in found.sums] == [("eggs", 12.0)]
    assert facts == [], "no fact is made of it"
    larder_many.still_here(fresh, "old", TODAY, "a" * 32)
    larder_many.still_here(fresh, "old", TODAY, "a" * 32)
    with fresh.reading() as session:
        found = larder.larder(fresh, session, TODAY)
        assert len(store.lot_facts(session)) == 1
    assert [row.id for row in found.first] == ["old", "new"]
    assert (found.eaten, found.sums[0][4]) == ((), 24.0)


# ── What a day is of ──────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_meat_out_of_the_freezer_has_a_day(tmp_path: Path) -> None:
    """safefood, Ireland, Advice on defrosting meat: thawed meat is cooked within 24 hours."""
    book = croft(tmp_path, clock=Ticking())
    chops = NewLot("pork chops", day("2027-02-01"), 6, "kg", keeps_until=day("2027-05-01"), place="freezer")
    lot_words.put_lot(book, chops, TODAY, "chops")

    def now() -> tuple[int | None, str, str, float | None]:
        with book.reading() as session:
            row = larder.find(session, "chops")
        return row.keeps_until, row.basis, row.place, row.left

    assert now() == (day("2027-05-01"), "quality", "freezer", 6)
    assert larder.mark(book, "chops", TODAY, place="fridge, bottom shelf")
    assert now() == (TODAY + 1, "safety", "fridge, bottom shelf", 6)
    with book.reading() as session:
        (moved,) = (fact.id for fact in store.lot_facts(session, "chops"))
    larder.unsay(book, "chops", moved, TODAY)
    assert now() == (day("2027-05-01"), "quality", "freezer", 6)
    assert not larder.mark(book, "chops", TODAY, place="freezer, top drawer"), "that is the same kind of place"


@pytest.mark.published
def test_what_is_frozen_later_has_the_lowest_figure() -> None:
    """Cold Food Storage Chart: mince, 3 to 4 months frozen; the first of them counts, from the day it was moved."""
    lot = Lot("m", "lot", "mince", "", "", "", "", day("2027-03-01"), 2, "kg", day("2027-03-02"), "fridge", "")
    frozen = lot._replace(facts=(said("counted", day("2027-03-02"), to="freezer"),))
    assert keeping(frozen, "fridge", "freezer", None, "meat") == Keeping(day("2027-06-02"), "quality", "published")


def test_it_takes_what_the_sheet_says_where_it_was_put(tmp_path: Path) -> None:
    book = croft(tmp_path, "sauerkraut", clock=Ticking())
    sheet = book.library.sheets["sauerkraut"]
    maker = next(step for step in sheet.steps if step.makes)
    lot = KALE._replace(id=f"s.{maker.id}#0", key=f"s.{maker.id}", what="sauerkraut", keeps_until=TODAY + 120)
    assert keeping(lot, "fridge", "fridge", sheet, "preserving").basis == "quality"
    assert keeping(lot, "fridge", "shelf", sheet, "preserving").until == TODAY + 120


def test_used_and_sold_more_than_there_was_is_taken_down(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    lot_words.put_lot(book, NewLot("ham", TODAY - 3, 2, "kg", place="freezer"), TODAY, "ham")
    came = lot_words.take(book, "ham", "given", 3, TODAY, TODAY, measures={"sold": True})
    assert (came.was, came.left, came.short) == (2, 0, True)
    assert larder_many.count_many(book, {"ham": 1.5}, TODAY, TODAY) == 1
    with book.reading() as session:
        row = larder.find(session, "ham")
        facts = [(fact.amount, fact.measures) for fact in store.lot_facts(session, "ham")]
    assert (row.left, row.short, row.gone) == (1.5, False, False)
    assert facts == [(3, {"sold": True}), (1.5, {"was": 0.0})]


# ── Asked of the index ────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("query", [FIRST, EATEN])
def test_the_first_to_expire_and_what_is_taken_as_eaten_are_read_from_the_index(fresh: Book, query: Any) -> None:
    asked = query.where(TABLES["batch"].c.keeps_until >= TODAY - 42).limit(60)
    with fresh.reading() as session:
        told = asked.compile(fresh.engine, compile_kwargs={"literal_binds": True})
        plan = str(session.execute(text(f"EXPLAIN QUERY PLAN {told}")).all())
    assert "ix_batch_gone_keeps_until" in plan
    assert "TEMP B-TREE" not in plan


def test_a_day_of_safety_stands_before_days_of_quality(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    for what, place, until in (("jam", "shelf", -9), ("cooked ham", "fridge", 2), ("beef, chilled", "fridge", 9)):
        lot_words.put_lot(book, NewLot(what, TODAY - 30, 1, "kg", keeps_until=TODAY + until, place=place), TODAY, what)
    with book.reading() as session:
        assert [row.what for row in larder.larder(book, session, TODAY).first] == ["cooked ham", "jam", "beef, chilled"]


@pytest.mark.published
def test_what_was_dried_keeps_by_the_warmth_of_its_store(tmp_path: Path) -> None:
    """Packaging and Storing Dried Foods, NCHFP: half of fruit's 12 months at 60 °F and 6 at 80: 4.55 months at 20 °C,
    whole ones told, so what was packed on 10 September is for 10 January; eaten first, its day stays."""
    book = croft(tmp_path, clock=Ticking())
    facts = {"date": day("2026-09-08"), "kg": 8.0, "store_c": 20.0}
    entry = put_down(book, Draft("dried-tomatoes", "tomatoes", "", facts), TODAY)
    tick(book, f"{entry}.pack", TODAY, on=day("2026-09-10"), words=Words({"kg": 0.5}))
    for _ in range(2):
        with book.reading() as session:
            (row,) = store.batch_rows(session)
        assert row.keeps_until == day("2027-01-10")
        tick(book, f"{entry}.first", TODAY, on=TODAY)


def test_a_batch_says_what_it_is_of(tmp_path: Path) -> None:
    """Two jams, onions on their string, and fruit that nobody named: each jar can be told from the others."""
    book = croft(tmp_path, clock=Ticking())
    for sheet, of, step, measures in (
        ("jam", {"of": "damsons"}, "label", {"jars": 7}), ("jam", {"of": "plums"}, "label", {"jars": 9}),
        ("onions-strung", {}, "store", {"kg": 8}), ("bottled-fruit", {"fruit": "pears"}, "seals", {"sealed": 4}),
    ):  # fmt: skip
        facts = {"date": TODAY - 40, "kg": 8.0, "altitude_m": 100.0} | of
        entry = put_down(book, Draft(sheet, sheet, "", facts), TODAY)
        tick(book, f"{entry}.{step}", TODAY, on=TODAY, words=Words(measures))
    with book.reading() as session:
        named = {(row.what, row.left) for row in store.batch_rows(session)}
    assert named == {("jam: damsons", 7), ("jam: plums", 9), ("onions", 8), ("bottled fruit: pears", 4)}
