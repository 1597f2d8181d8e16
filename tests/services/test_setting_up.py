"""The first run: a place, its frosts, and a year that is filled."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from app.errors import Conflict, MissingFact
from app.records import store
from app.rules.terms import TRADES
from app.services import setup
from app.services.household import household
from tests.services.croft import HOUSE, TODAY, WHERE, croft, day, empty


def test_before_the_first_run_no_date_is_given(tmp_path: Path) -> None:
    book = empty(tmp_path)
    with book.reading() as session, pytest.raises(MissingFact):
        book.planned(session, TODAY)


def test_the_estimate_follows_the_height(tmp_path: Path) -> None:
    # Colder by 6.5 °C in 1000 m (ICAO standard atmosphere): the last frost of a higher place is later.
    low, high = (
        setup.estimate(WHERE._replace(altitude_m=height, climate="braemar"), 2027) for height in (150.0, 400.0)
    )
    assert low.last_frost is not None
    assert high.last_frost is not None
    assert high.last_frost > low.last_frost
    assert low.first_frost is not None
    assert high.first_frost is not None
    assert high.first_frost < low.first_frost


def test_what_is_ticked_becomes_entries_and_fills_the_year(tmp_path: Path) -> None:
    book = croft(tmp_path, "leek-seed", "gutters", "rendered-wall")
    with book.reading() as session:
        plan = book.planned(session, TODAY)
        names = [entry.id for entry in store.entries(session)]
    assert names == ["gutters", "leek-seed", "rendered-wall"]
    soon = [task for task in plan.tasks if task.best is not None and TODAY <= task.best <= TODAY + 365]
    assert {task.entry for task in soon} == set(names)


def test_nothing_is_said_to_be_sown_that_was_only_ticked(tmp_path: Path) -> None:
    book = empty(tmp_path)
    every = [one.sheet for one in setup.offered(book)]
    setup.begin(book, WHERE, HOUSE, every, TODAY)
    with book.reading() as session:
        assert store.ticks(session) == []
        assert len(store.entries(session)) == len(every)


def test_every_sheet_offered_wants_nothing_more_than_a_tick(tmp_path: Path) -> None:
    book = empty(tmp_path)
    offered = setup.offered(book)
    assert {one.trade for one in offered} >= {"garden", "upkeep", "livestock"}
    assert {one.trade for one in offered} <= set(TRADES)
    for one in offered:
        sheet = book.library.sheets[one.sheet]
        assert not sheet.found
        wanted = [ask for ask in sheet.facts.values() if ask.default is None and not ask.optional]
        assert [ask.name for ask in wanted] == ["date"]


def test_a_sowing_is_offered_in_its_season_and_a_gutter_a_year_back(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with book.reading() as session:
        leek = setup.likely_date(book, session, book.library.sheets["leek-seed"], TODAY)
        gutters = setup.likely_date(book, session, book.library.sheets["gutters"], TODAY)
    # common practice: leeks are sown from late winter to the middle of spring
    assert date(2027, 3, 11) <= date.fromordinal(leek) <= date(2027, 5, 1)
    assert date.fromordinal(gutters) == date(2027, 3, 10) - timedelta(days=365)


def test_a_second_first_run_is_refused(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with pytest.raises(Conflict, match="set up already"):
        setup.begin(book, WHERE, HOUSE, [], TODAY)


def test_a_sheet_that_is_not_there_is_left_out(tmp_path: Path) -> None:
    book = croft(tmp_path, "no-such-sheet", "gutters")
    with book.reading() as session:
        assert [entry.sheet for entry in store.entries(session)] == ["gutters"]


def test_own_frost_dates_move_what_hangs_on_them(tmp_path: Path) -> None:
    late = empty(tmp_path / "late")
    setup.begin(late, WHERE, HOUSE._replace(last_frost="--06-10"), ["leek-seed"], TODAY)
    early = empty(tmp_path / "early")
    setup.begin(early, WHERE, HOUSE._replace(last_frost="--04-10"), ["leek-seed"], TODAY)
    found = []
    for book in (early, late):
        with book.reading() as session:
            found.append(book.season(session).mark("last frost", 50, 2027))
            assert household(book, session, TODAY).place.house.last_frost in ("--06-10", "--04-10")
    assert found == [day("2027-04-10"), day("2027-06-10")]
