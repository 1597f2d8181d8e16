"""A glut and its ways: what each takes, what is short, whom it meets; values worked from what is printed."""

from collections.abc import Iterator
from datetime import date

import pytest

from app.records.store import KitRow
from app.services.book import Book
from app.services.entries import put_down as put_entry
from app.services.larder import larder, lot_words
from app.services.larder.lot_words import NewLot
from app.services.preserving.glut import Glut, Offer, offers
from app.services.preserving.glut_put import put_down
from app.sheets.bottling_tables import bottling_rows
from app.sheets.glut_tables import crop_called, glut_crops, glut_ways, ways_of_keeping
from app.sheets.library import load
from app.sheets.store_tables import blanching, dry_crops, raw_stores
from tests.services.croft import TODAY, croft, draft


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    found = croft(tmp_path_factory.mktemp("glut"))
    for row in (
        KitRow(name="dryer", kind="dryer", trays=8, tray_m2=0.25, watts=1000),
        KitRow(name="chest", kind="freezer", litres=200),
    ):
        larder.put_kit(found, row, TODAY)
    yield found
    found.close()


def ways(book: Book, what: str, kg: float, jars: int | None = None, on: int = TODAY) -> dict[str, Offer]:
    with book.reading() as session:
        found = offers(book, session, Glut(what, kg, on, 500.0, jars), TODAY)
    return {one.of.id: one for one in found.ways}


@pytest.mark.published
def test_ten_kilos_of_tomatoes_every_way(book: Book) -> None:
    """SR26 no. 11529: 9 % refuse, 94.52 % water, so 9.1 kg leave 0.554 kg at 10 %; 1.32 kg a litre crushed (MSU
    01600830): 15 jars of half a litre; 45 minutes for them to 1000 ft (USDA guide 3); 6.4 to 9.6 kg a day frozen."""
    found = ways(book, "tomatoes", 10)
    dried, jars, frozen = found["dry-tomatoes"].way, found["bottle-tomatoes"].way, found["freeze-tomatoes"].way
    assert dried is not None
    assert jars is not None
    assert frozen is not None
    assert dried.made_kg == pytest.approx(9.1 * 5.48 / 90, abs=0.001)
    assert dried.needs["dryer loads"] == 1
    assert (jars.needs["jars"], jars.needs["new lids"]) == (15, 15)
    assert any("45 minutes at a full boil" in note for note in found["bottle-tomatoes"].notes)
    assert frozen.needs["days of freezing"] == 2


@pytest.mark.published
def test_hands_and_waiting_are_told_apart(book: Book) -> None:
    """One load of tomatoes is 14 h in the dryer (10 to 18, So Easy to Preserve), and not 14 h of anybody's time."""
    work = ways(book, "tomatoes", 10)["dry-tomatoes"].work
    assert work.waiting_h == 14
    assert 60 < work.hands_min < 14 * 60


@pytest.mark.common_practice
def test_what_is_short_is_named(book: Book) -> None:
    """15 jars wanted of 12; 200 kg of peas in the pod are 76 kg shelled (62 % refuse, SR26 no. 11304)."""
    assert ways(book, "tomatoes", 10, jars=12)["bottle-tomatoes"].short == {"jars": 3}
    assert ways(book, "peas", 200)["freeze-peas"].fact_kg == pytest.approx(76)
    assert "Days of freezing" not in ways(book, "peas", 200)["freeze-peas"].refused
    assert ways(book, "tomatoes", 400)["bottle-tomatoes"].refused  # more than a sheet's batch is made for


@pytest.mark.published
def test_squash_is_never_bottled_and_what_is_not_known_gets_the_freezer(book: Book) -> None:
    """Squash and pumpkin: freeze or dry only (USDA AIB 539); elderberries: freeze only (University of Maine, 2020)."""
    assert "bottle" not in {one.of.kind for one in ways(book, "pumpkins", 10).values()}
    assert set(ways(book, "elderberries", 5)) == {"freeze-soft-fruit"}
    assert set(ways(book, "medlars", 5)) == {"freeze"}


def test_a_dryer_that_is_taken_and_the_day_it_is_free(book: Book) -> None:
    """Two days of drying from the day itself on: 30 kg of plums are 4 loads of 12 h on 2 m²."""
    on = TODAY + 40
    put_entry(book, draft("dried-plums", _iso(on), "Plums", kg=30.0, tray_m2=2.0), TODAY)
    (clash,) = ways(book, "tomatoes", 10, on=on)["dry-tomatoes"].clashes
    assert (clash.kit, clash.other, clash.first) == ("dryer", "Plums", on)
    assert clash.begin == on + 3
    with book.reading() as session:
        later = offers(book, session, Glut("tomatoes", 10, on), TODAY, {"dry-tomatoes": 10}, later=True)
    assert later.ways[0].facts["date"] == on + 3
    assert not later.ways[0].clashes


def test_two_shares_that_want_one_dryer_meet(book: Book) -> None:
    with book.reading() as session:
        found = offers(book, session, Glut("tomatoes", 20, TODAY + 90), TODAY, {"dry-tomatoes": 8, "powder": 8})
    assert [len(one.clashes) for one in found.ways] == [0, 1]


def test_a_pan_wanted_twice_in_a_day_is_said(book: Book) -> None:
    on = TODAY + 150
    put_entry(book, draft("bottled-fruit", _iso(on), "Plums in jars", kg=5.0, altitude_m=100.0), TODAY)
    (clash,) = ways(book, "tomatoes", 10, on=on)["bottle-tomatoes"].clashes
    assert (clash.kit, clash.other, clash.begin) == ("bottling pan", "Plums in jars", on + 1)
    with book.reading() as session:
        found = offers(book, session, Glut("plums", 20, TODAY + 200), TODAY, {"bottle-plums": 8, "jam": 8})
    assert [len(one.clashes) for one in found.ways] == [0, 1]


def test_the_choice_becomes_entries_once(book: Book) -> None:
    glut = Glut("tomatoes", 20, TODAY + 60)
    shares = {"dry-tomatoes": 8.0, "freeze-tomatoes": 6.0}
    first = put_down(book, glut, shares, "e" * 32, TODAY)
    assert put_down(book, glut, shares, "e" * 32, TODAY) == first
    with book.reading() as session:
        laid = book.live(session, TODAY).laid
        assert [laid[ident].entry.name for ident in first] == ["Tomatoes, dried", "Tomatoes, frozen"]
        assert laid[first[0]].entry.facts["kg"] == pytest.approx(7.28)
        assert all(laid[ident].tasks for ident in first)


def test_every_way_names_what_there_is() -> None:
    sheets = load().sheets
    rows = {(row.food, row.pack) for row in bottling_rows()}
    for crop in glut_crops():
        assert not crop.dry or crop.dry in dry_crops()
        assert not crop.raw or crop.raw in raw_stores()
        assert not crop.blanch or crop.blanch in blanching()
        assert ways_of_keeping(crop)
    names = {crop.name for crop in glut_crops()}
    for way in glut_ways():
        asked = sheets[way.sheet].facts
        assert set(way.crops) <= names, way.id
        assert way.kind != "bottle" or (way.food, way.pack) in rows
        assert {"date", "kg", *(name for name, _ in way.facts), *((way.of,) if way.of else ())} <= set(asked), way.id
        assert way.source
        assert way.basis


def test_a_crop_is_known_by_what_people_call_it() -> None:
    for said, name in (("Ripe tomatoes", "tomatoes"), ("damsons, out of the freezer", "plums"), ("zz", None)):
        crop = crop_called(said)
        assert (crop.name if crop is not None else None) == name


def _iso(day: int) -> str:
    return date.fromordinal(day).isoformat()


@pytest.mark.common_practice
def test_what_is_to_buy_is_set_against_the_larder_in_its_own_unit(book: Book) -> None:
    """Chutney takes 350 g of sugar and half a litre of vinegar to the kilo: kilos on two shelves count together."""
    for what, kg, unit in (("sugar", 2, "kg"), ("Sugar", 500, "g"), ("vinegar, 5 %", 1, "bottles")):
        lot_words.put_lot(book, NewLot(what, TODAY - 9, kg, unit, place="shelf" if unit == "kg" else "store"), TODAY)
    found = {one.what: one for one in ways(book, "tomatoes", 10)["chutney"].buy}
    assert (found["sugar"].amount, found["sugar"].have) == (3500, 2500)
    assert found["vinegar, 5 %"].have is None, "bottles of nobody knows what size"
    lot_words.put_lot(book, NewLot("tomatoes", TODAY - 1, 6, "kg", place="kitchen"), TODAY)
    with book.reading() as session:
        assert offers(book, session, Glut("Tomatoes", 10, TODAY), TODAY).there_kg == 6, "picked, and not kept yet"
