"""Lots: what jobs made and what was put down by hand, and what is left of each."""

from pathlib import Path

import pytest

from app.errors import BadInput, NotFound
from app.records import store
from app.services import entries
from app.services.book import Book
from app.services.larder import lot_words
from app.services.larder.lot_words import NewLot
from app.services.larder.lots import Lot, kind_of, lot, lots
from app.services.ticking import Words, tick, undo
from tests.services.croft import TODAY, Ticking, croft, day, draft

SEED = NewLot("parsnip seed", day("2026-09-15"), 40, "g", sheet="parsnip-seed", keeps_until=day("2028-03-15"))


def tinned(book: Book, grams: float | None = 40, on: str = "2025-09-15") -> str:
    """The lot that parsnips of 2024 gave."""
    entry = entries.put_down(book, draft("parsnip-seed", "2024-04-10"), TODAY)
    measures = {} if grams is None else {"g": grams}
    tick(book, f"{entry}.tin", TODAY, on=day(on), words=Words(measures))
    return f"{entry}.tin#0"


def of(book: Book, ident: str) -> Lot:
    with book.reading() as session:
        return lot(book, session, ident, TODAY)


def test_a_ticked_job_that_makes_something_is_a_lot(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    found = of(book, tinned(book))

    assert (found.kind, found.what, found.amount, found.unit, found.left) == ("seed", "parsnip seed", 40, "g", 40)
    assert (found.made_on, found.keeps_until) == (day("2025-09-15"), day("2027-03-15"))
    assert not found.by_hand


def test_what_nobody_weighed_is_there_all_the_same(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = tinned(book, None)
    assert of(book, ident).left is None
    lot_words.take(book, ident, "used", 3, TODAY, TODAY)
    assert of(book, ident).left is None
    lot_words.count(book, ident, 25, TODAY, TODAY)
    assert of(book, ident).left == 25


def test_a_lot_goes_with_the_tick_that_made_it(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    entry = entries.put_down(book, draft("parsnip-seed", "2024-04-10"), TODAY)
    done = tick(book, f"{entry}.tin", TODAY, on=day("2025-09-15"), words=Words({"g": 40}))
    assert of(book, f"{entry}.tin#0").left == 40
    undo(book, done.tick_id, TODAY)
    with pytest.raises(NotFound, match="taken back"):
        of(book, f"{entry}.tin#0")


def test_lots_of_every_kind_are_listed_newest_first(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    tinned(book)
    lot_words.put_lot(book, SEED, TODAY, "mine")
    lot_words.put_lot(book, NewLot("plum jam", day("2026-08-20"), 9, "jars"), TODAY, "jam")
    with book.reading() as session:
        every = lots(book, session, TODAY)
        seed = lots(book, session, TODAY, "seed")
    assert [one.what for one in every] == ["parsnip seed", "plum jam", "parsnip seed"]
    assert [one.id for one in seed if one.by_hand] == ["mine"]
    assert kind_of("Parsnip Seed") == "seed"
    assert kind_of("seed potatoes") == "lot"


def test_used_given_and_thrown_make_it_less(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    lot_words.take(book, ident, "used", 10, day("2027-03-01"), TODAY)
    lot_words.take(book, ident, "given", 5, day("2027-03-02"), TODAY)
    came = lot_words.take(book, ident, "thrown", 1, day("2027-03-03"), TODAY)
    assert (came.was, came.left, came.short) == (25, 24, False)


def test_a_count_that_disagrees_is_put_down_as_put_right(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    lot_words.count(book, ident, 40, TODAY, TODAY)
    lot_words.count(book, ident, 31, TODAY, TODAY)
    agreed, disagreed = of(book, ident).facts
    assert (agreed.note, dict(agreed.measures)) == ("", {})
    assert (disagreed.note, disagreed.measures["was"]) == ("count put right", 40)
    assert of(book, ident).left == 31


def test_more_used_than_there_was_is_taken_down_and_said(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    came = lot_words.take(book, ident, "used", 50, TODAY, TODAY)
    assert (came.left, came.short) == (0, True)
    assert of(book, ident).over
    came = lot_words.count(book, ident, 12, TODAY, TODAY)
    assert (came.left, came.short) == (12, False)


def test_what_was_said_twice_counts_once(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    for _ in range(2):
        lot_words.take(book, ident, "used", 10, TODAY, TODAY, ident="phone-1")
    assert of(book, ident).left == 30


def test_what_was_said_can_be_taken_back(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    lot_words.take(book, ident, "used", 10, TODAY, TODAY, ident="phone-1")
    lot_words.take_back(book, ident, "phone-1", TODAY)
    assert of(book, ident).left == 40
    with pytest.raises(NotFound, match="taken back already"):
        lot_words.take_back(book, ident, "phone-1", TODAY)


def test_a_lot_put_down_by_mistake_is_struck(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    lot_words.strike(book, ident, TODAY)
    with pytest.raises(NotFound):
        of(book, ident)
    with pytest.raises(NotFound):
        lot_words.strike(book, tinned(book), TODAY)


@pytest.mark.parametrize("wrong", ["2027-03-11", "2026-09-14"])
def test_days_to_come_or_before_it_was_made_are_refused(tmp_path: Path, wrong: str) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    with pytest.raises(BadInput):
        lot_words.take(book, ident, "used", 1, day(wrong), TODAY)
    with pytest.raises(BadInput):
        lot_words.put_lot(book, SEED._replace(made_on=TODAY + 1), TODAY)
    assert of(book, ident).facts == ()


def test_more_seedlings_than_seeds_are_refused(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = lot_words.put_lot(book, SEED, TODAY)
    with pytest.raises(BadInput) as caught:
        lot_words.put_test(book, ident, 26, 20, TODAY, TODAY)
    assert "26 can’t have come up of 20" in caught.value.fields["up"]
    assert of(book, ident).facts == ()


def test_what_is_said_of_lots_moves_no_dates(tmp_path: Path) -> None:
    """The projection is not worked out again for a spoonful of seed."""
    book = croft(tmp_path, clock=Ticking())
    ident = tinned(book)
    with book.reading() as session:
        before = book.live(session, TODAY).laid
    lot_words.take(book, ident, "used", 1, TODAY, TODAY)
    with book.reading() as session:
        assert store.state(session)["planned"] == str(store.facts_version(session))
        assert all(book.live(session, TODAY).laid[name] is laid for name, laid in before.items())
