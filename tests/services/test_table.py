"""The table: what was weighed against what was expected, and the year ahead with its hungry gap."""

from dataclasses import replace
from pathlib import Path

import pytest

from app.rules.sheet import Sheet
from app.services import own_ways, ticking
from app.services.book import Book
from app.services.garden import table, tallies
from app.services.garden.table import CropYear, Store, gaps_of, merged
from app.services.own_ways import NewWay
from app.services.ticking import Words
from tests.web.holding import TODAY, book, day, entry

BEET = Sheet("beetroot", "Beetroot", "garden", "", "sowing", "", {}, (), {})
CHILLI = replace(BEET, id="chilli", title="Chilli")


def crop(
    picked: list[tuple[int, int]], kept: list[tuple[int, int, int]] | None = None, sheet: Sheet = BEET
) -> CropYear:
    return CropYear(sheet, "x", ("x",), (), tuple(picked), tuple(Store(*one) for one in kept or []), None, None)


def test_stretches_are_cut_to_the_year_and_joined() -> None:
    assert merged([(50, 60), (1, 5), (12, 20), (64, 90), (300, 400)], (3, 350)) == ((3, 20), (50, 90), (300, 350))
    assert merged([(1, 2)], (10, 20)) == ()


def test_a_week_is_hungry_with_fewer_than_two_to_pick_and_three_in_all() -> None:
    """Two are picked to day 27; one is picked and one in store to day 55; then two in store and one picked."""
    crops = [
        crop([(0, 27)]),
        crop([(0, 55), (56, 200)]),
        crop([], [(28, 300, 200)]),
        crop([], [(56, 300, 200)]),
        crop([(0, 200)], sheet=CHILLI),  # feeds nobody
    ]
    assert gaps_of(crops, 0, 139) == [(28, 55)]


def test_a_store_that_is_eaten_up_counts_no_more() -> None:
    crops = [crop([], [(0, 300, 69)]), crop([], [(0, 300, 300)]), crop([(0, 300)])]
    assert gaps_of(crops, 0, 139) == [(70, 139)]


def test_a_single_week_is_no_gap() -> None:
    crops = [crop([(0, 27), (35, 100)]), crop([(0, 27), (35, 100)])]
    assert gaps_of(crops, 0, 97) == []


@pytest.fixture(scope="module")
def kitchen(tmp_path_factory: pytest.TempPathFactory) -> Book:
    made = book(
        tmp_path_factory.mktemp("table"),
        (entry("carrots", "carrot", "2027-04-20"), entry("beet", "beetroot", "2027-04-20")),
    )
    for key in ("beet.sow", "carrots.sow.1"):
        ticking.tick(made, key, TODAY, on=day("2027-04-20"))
    for key, on, kg in (
        ("beet.pull.1", "2027-07-12", 1.5),
        ("beet.pull.2", "2027-07-14", 0.5),
        ("beet.pull.3", "2027-08-02", 2),
    ):
        ticking.tick(made, key, TODAY, on=day(on), words=Words({"kg": float(kg)}))
    return made


def test_kilos_by_week_against_what_the_row_gives(kitchen: Book) -> None:
    """12 and 14 July 2027 are of one week, whose Monday is the 12th; 2 August is a Monday itself (ISO 8601).

    Beet: 150 lb from 100 ft (Home Vegetable Gardening in Kentucky, as quoted by AP 16 May 2014), 2.23 kg a metre.
    """
    with kitchen.reading() as session:
        beet = next(one for one in tallies.tallies(kitchen, session, 2027, TODAY) if one.sheet.id == "beetroot")
        row_m = tallies.row_m_of(kitchen.live(session, TODAY).laid["beet"].entry, beet.sheet)
    if not beet.weeks:
        pytest.fail("nothing was counted")
    assert beet.weeks == ((day("2027-07-12"), 2.0), (day("2027-08-02"), 2.0))
    assert beet.kg == 4
    assert beet.expected_kg == pytest.approx(2.23 * row_m, rel=0.005)


def test_an_own_yield_is_expected_and_no_date_moves(kitchen: Book) -> None:
    with kitchen.reading() as session:
        before = {one.sheet.id: one.expected_kg for one in tallies.tallies(kitchen, session, 2027, TODAY)}
    told = own_ways.tell(kitchen, NewWay("holding", "carrot", "yield_percent", 50.0), TODAY)
    with kitchen.reading() as session:
        after = {one.sheet.id: one.expected_kg for one in tallies.tallies(kitchen, session, 2027, TODAY)}
    assert told.jobs == 0
    assert before["carrot"] is not None
    assert after == before | {"carrot": before["carrot"] / 2}


def test_the_year_ahead_holds_what_was_put_down(kitchen: Book) -> None:
    with kitchen.reading() as session:
        found = table.table(kitchen, session, TODAY)
    assert (found.first, found.last) == (day("2027-09-01"), day("2028-08-31"))
    assert [one.sheet.id for one in found.crops] == ["beetroot", "carrot"]
    for one in found.crops:
        for first, last in (*one.growing, *one.picked, *((store.first, store.last) for store in one.kept)):
            assert found.first <= first <= last <= found.last
        assert all(store.first <= store.lasts <= store.last for store in one.kept)


def test_what_can_be_sown_against_a_gap_is_picked_in_it(kitchen: Book) -> None:
    """Two crops leave the next summer bare: what is named is sown in its own time, and before the gap ends."""
    with kitchen.reading() as session:
        found = table.table(kitchen, session, TODAY)
    assert found.gaps
    gap = found.gaps[-1]
    assert gap.sow
    for one in gap.sow:
        assert TODAY <= one.since <= one.by < gap.last
        assert gap.first <= one.first <= gap.last


def test_nothing_put_down_is_an_empty_table(tmp_path: Path) -> None:
    made = book(tmp_path, ())
    with made.reading() as session:
        found = table.table(made, session, TODAY)
        assert tallies.tallies(made, session, 2027, TODAY) == []
    assert (found.crops, found.gaps) == ((), ())
