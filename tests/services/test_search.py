"""The search: names, notes and remarks, in a fixed number of queries."""

from pathlib import Path

import pytest
from sqlalchemy import event

from app.records import store
from app.rules.facts import Tick
from app.services.book import Book
from app.services.larder import lot_words
from app.services.larder.lot_words import NewLot
from app.services.search import Everything, search
from tests.services.croft import TODAY, Ticking, croft, day


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    found = croft(Path(tmp_path_factory.mktemp("search")), clock=Ticking())
    jam = NewLot("plum jam", day("2026-08-20"), 9, "jars", place="pantry", note="Set too hard")
    lot_words.put_lot(found, jam, TODAY, "jam")
    lot_words.take(found, "jam", "used", 1, TODAY, TODAY, "for the harvest supper")
    with found.writing() as session:
        tick = Tick("t1", "leek.sow", "done", day("2027-03-09"), "2027-03-09T18:00:00.000Z")
        store.add_tick(session, tick, remark="Mice had been at the tray")
        found.replan(session, (), TODAY)
    return found


def looked(book: Book, words: str) -> tuple[Everything, int]:
    asked: list[str] = []

    def note(*args: object) -> None:
        asked.append(str(args[2]))

    with book.reading() as session:
        event.listen(book.engine, "before_cursor_execute", note)
        try:
            found = search(book, session, words)
        finally:
            event.remove(book.engine, "before_cursor_execute", note)
    return found, len(asked)


def test_a_batch_is_found_by_its_note_and_what_was_noted_of_it(book: Book) -> None:
    assert [row.id for row in looked(book, "too HARD")[0].batches] == ["jam"]
    assert [(one.of, one.title) for one in looked(book, "harvest")[0].said] == [("jam", "plum jam")]


def test_a_job_is_found_by_what_was_remarked_of_it(book: Book) -> None:
    (found,) = looked(book, "mice tray")[0].remarks
    assert (found.of, found.says) == ("leek.sow", "Mice had been at the tray")


def test_signs_of_patterns_are_letters_like_others(book: Book) -> None:
    assert looked(book, "100%")[0] == looked(book, "  ")[0] == Everything((), (), ())


def test_the_queries_are_as_many_however_much_there_is(book: Book) -> None:
    before = looked(book, "a")[1]
    for number in range(12):
        lot_words.put_lot(book, NewLot("apple", TODAY, 1, "kg", note="a"), TODAY, f"a{number}")
    found, after = looked(book, "a")
    assert len(found.batches) > 12
    assert before == after == 5
