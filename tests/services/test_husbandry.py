"""Livestock looked ahead: feed, lay, carcases, days with somebody outside, grass, the round. Day: 10 March 2027.

Values are those of the trade's tables, named beside each check.
"""

from collections.abc import Iterator
from datetime import date

import pytest
from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.rules.facts import Tick
from app.services import entries, ticking
from app.services.book import Book
from app.services.livestock.days import booked_for, days
from app.services.livestock.expect import eggs_by_day, expected, tell_eggs
from app.services.livestock.feed import Feed, Thing, feed, find, say, supply_of
from app.services.livestock.feed_groups import eaters, needs
from app.services.livestock.grass import grass
from app.services.livestock.winters import winters
from app.services.rounds import walks
from app.services.rounds_sheet import round_day, shut_at
from app.services.ticking import Words
from app.sheets.places import places
from app.trade.climate.normals_season import NormalsSeason
from app.trade.livestock.winter import Winter, winter_feeding
from tests.services.croft import ON, TODAY, Ticking, croft, day, draft

PEAK = day("2027-03-01")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    made = croft(tmp_path_factory.mktemp("husbandry"), clock=Ticking())
    for ident, one in {
        "hens": draft("laying-hens", "2027-03-01", "Hens", "orchard", head=12, age_d=245),
        "chicks": draft("layers-from-day-old", "2027-03-10", "Chicks", "shed", head=12, age_d=0),
        "pigs": draft("weaners", "2027-03-10", "Pigs", "wood", head=2, kg=16, target_kg=90),
        "ewes": draft("flock-year", "2026-10-01", "Ewes", "field", head=8),
        "lambing": draft("ewes-in-lamb", "2026-10-24", "In lamb", "field", head=8, male_out=day("2026-11-27")),
        "hive": draft("bees", "2026-05-01", "Hive", "orchard", head=2),
        "abattoir": draft("abattoir-pigs", "2027-06-10", "A pig", "yard", **{"for": "pigs"}, head=1, live_kg=90),
        "shear": draft("shearer", "2027-06-17", "Shearing", "yard", **{"for": "ewes"}, head=8),
        "ram": draft("ram-hired", "2027-10-01", "A ram", "field"),
        "bank": draft("paddock", "2027-03-08", "Bank", "bank", head=8, growth="slow"),
        "beck": draft("paddock", "2027-01-10", "Beck", "beck", head=8, growth="steady", days_on_d=5),
        "meadow": draft("hay-made", "2027-06-24", "Meadow", "meadow", area_m2=10_000),
    }.items():
        entries.put_down(made, one, TODAY, ident=ident)
    ticking.tick(made, "beck.off", TODAY, on=day("2027-02-05"))
    return made


@pytest.fixture
def session(book: Book) -> Iterator[Session]:
    with book.reading() as found:
        yield found


def fed(book: Book, session: Session, what: str) -> Thing:
    return find(feed(book, session, TODAY), what)


def group(found: Feed, name: str) -> dict[str, float]:
    one = next(one for one in found.groups if one.eater.entry.id == name)
    return {takes.what: takes.a_day for takes in one.takes}


# ── Feed ──────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_a_day_of_twelve_layers_is_a_kilo_and_a_half_and_their_water_by_the_table(book: Book, session: Session) -> None:
    """Feeding your poultry and common practice: 125 g each; Poultry CRC: 270 l for a thousand at 90 % of lay."""
    takes = group(feed(book, session, TODAY), "hens")
    assert takes["layers feed"] == pytest.approx(1.5)
    assert takes["water"] == pytest.approx(12 * 0.27, rel=1e-6)


@pytest.mark.published
def test_twelve_chicks_eat_72_kg_to_seventeen_weeks(book: Book, session: Session) -> None:
    """Feeding your poultry, a feed manufacturer: 1 kg of crumb to six weeks and 5 kg of grower to seventeen."""
    one = next(one for one in eaters(book, session, TODAY) if one.entry.id == "chicks")
    rows = needs(one, TODAY, TODAY + 17 * 7 - 1, winters(book, session))
    assert sum(rows["chick crumb", "kg"]) == pytest.approx(12, abs=0.1)
    assert sum(rows["grower feed", "kg"]) == pytest.approx(60, abs=0.1)


@pytest.mark.common_practice
def test_two_weaners_eat_246_kg_in_eighty_days(book: Book, session: Session) -> None:
    """44 kg of gain at 2.8 kg of feed for each, by two."""
    one = next(one for one in eaters(book, session, TODAY) if one.entry.id == "pigs")
    assert sum(needs(one, TODAY, TODAY + 79, winters(book, session))["pig meal", "kg"]) == pytest.approx(246.4, abs=0.5)


@pytest.mark.common_practice
def test_one_bag_lasts_twelve_layers_thirteen_days_and_is_followed_ten_days_before(book: Book) -> None:
    """20 kg at 1.5 kg a day: 13 whole days; ordered a lead of seven and three days before it is out."""
    say(book, supply_of("layers feed", "kg", 20, 11.5, 7, 20, ON), TODAY)
    with book.reading() as session:
        one = fed(book, session, "layers feed")
    assert one.runs_out == TODAY + 13
    assert one.order is not None
    assert one.order.by == TODAY + 13 - 7 - 3
    assert one.cost == pytest.approx(11.5 * -(-one.total // 20))


def test_what_was_eaten_since_it_was_counted_is_gone(book: Book) -> None:
    say(book, supply_of("layers feed", "kg", 20, None, 7, 20, date(2027, 3, 6)), TODAY)
    with book.reading() as session:
        assert fed(book, session, "layers feed").left == pytest.approx(20 - 4 * 1.5)


def winter(place: str, latitude_deg: float = 53.0, turned: int = 0) -> Winter:
    """Winter feeding of 2026 at one of the places that come with the program, or with its months turned."""
    normals = places().normals[place]
    max_c, min_c = ((*row[turned:], *row[:turned]) for row in (normals.max_c, normals.min_c))
    there = normals._replace(max_c=max_c, min_c=min_c, rain_mm=(), wet_days=(), min_sd_c=())
    found = winter_feeding(NormalsSeason(latitude_deg, there, places().scatter).mark, 2026)
    assert found is not None
    return found


@pytest.mark.common_practice
def test_hay_is_fed_from_december_to_march_in_the_lowlands_and_half_a_year_on_in_the_south() -> None:
    """Common practice in the English lowlands: about 120 days from 1 December."""
    north, south = winter("lincolnshire"), winter("lincolnshire", -53.0, turned=6)
    for found, first, last in ((north, "2026-12-01", "2027-03-31"), (south, "2027-06-01", "2027-09-30")):
        assert found.first == pytest.approx(day(first), abs=8)
        assert found.last == pytest.approx(day(last), abs=8)


@pytest.mark.common_practice
def test_winter_is_longer_where_it_is_colder_and_nothing_where_grass_always_grows() -> None:
    lengths = [
        (one.last - one.first) for one in map(winter, ("braemar", "north-yorkshire", "lincolnshire", "plymouth"))
    ]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[-1] == 59
    assert winter_feeding(lambda name, value, year: None if name == "soil below" else 1, 2026) is None
    assert winter_feeding(lambda name, value, year: 5 if name == "soil below" else None, 2026) == (5, 369)


def test_the_winter_that_is_and_the_next_are_told_by_the_day(book: Book, session: Session) -> None:
    found = winters(book, session)
    now, then = found.next(day("2027-01-15")), found.next(day("2027-07-01"))
    assert now is not None
    assert then is not None
    assert found.at(now.first) == found.at(now.last) == now
    assert found.at(now.first - 1) is found.at(now.last + 1) is None
    assert then.first - now.first in (364, 365, 366)


@pytest.mark.published
def test_eight_ewes_want_their_hay_once_though_they_follow_two_sheets(book: Book, session: Session) -> None:
    """1.2 kg of dry matter (Irish Farmers Journal) over 0.85, and a tenth: 1.553 kg each."""
    found = feed(book, session, TODAY)
    assert group(found, "ewes")["hay"] == pytest.approx(8 * 1.2 / 0.85 * 1.1)
    assert "lambing" not in {one.eater.entry.id for one in found.groups}


def test_what_nobody_here_takes_is_not_found(book: Book, session: Session) -> None:
    with pytest.raises(NotFound):
        fed(book, session, "caviar")


# ── What to expect ────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_a_pig_of_90_kg_gives_67_kg_of_carcase_and_50_of_packs(book: Book, session: Session) -> None:
    """C. Talton, UGA Cooperative Extension: 74 %, 66.6 kg; a butcher's chart: 75 % of it, 50.0 kg."""
    one = next(one for one in expected(book, session, TODAY).carcases if one.entry == "abattoir")
    assert one.carcase_kg[1] == pytest.approx(66.6)
    assert one.packed_kg == pytest.approx(50.0, abs=0.06)


def test_honey_of_a_usual_year_is_eleven_kilos_a_colony(book: Book, session: Session) -> None:
    """From memory: yearly surveys of British beekeepers."""
    assert [one.kg for one in expected(book, session, TODAY).honey] == [(0.0, 22.0, 50.0)]


@pytest.mark.common_practice
def test_a_fall_of_more_than_a_fifth_in_three_days_is_said(book: Book) -> None:
    for back, eggs in ((3, 10), (2, 10), (1, 9), (0, 8)):
        tell_eggs(book, "hens", eggs, TODAY - back, TODAY, f"eggs{back:028}")
    with book.reading() as session:
        assert next(one for one in expected(book, session, TODAY).flocks if one.eater.entry.id == "hens").fall is None
    tell_eggs(book, "hens", 7, TODAY, TODAY, f"again{0:027}")
    with book.reading() as session:
        hens = next(one for one in expected(book, session, TODAY).flocks if one.eater.entry.id == "hens")
        walk = walks(book, session, TODAY)[0]
    assert hens.fall is not None
    assert (hens.fall.was, hens.fall.now, hens.fall.days) == (10, 7, 3)
    assert not walk.done, "eggs say nothing of the round"


@pytest.mark.parametrize(
    ("eggs", "on", "field"), [(5, TODAY + 1, "on"), (5, day("2027-02-01"), "on"), (25, TODAY, "eggs")]
)
def test_eggs_that_cannot_be_are_refused(book: Book, eggs: int, on: int, field: str) -> None:
    with pytest.raises(BadInput) as error:
        tell_eggs(book, "hens", eggs, on, TODAY, "x" * 32)
    assert list(error.value.fields) == [field]


def test_a_weeks_count_stands_for_the_days_since_the_one_before(book: Book) -> None:
    said = [("hens.eggs.1", "2027-02-01", 70), ("hens.eggs.2", "2027-02-06", 50)]
    ticks = [Tick(key, key, "done", day(on), on, {"eggs": eggs}) for key, on, eggs in said]
    found = eggs_by_day(ticks)
    assert len(found) == 12
    assert found[day("2027-01-31")] == found[day("2027-02-04")] == 10


# ── Days with somebody outside ────────────────────────────────────────────────────────────────────────────────────


def test_what_must_be_booked_is_told_with_its_day_and_moves_when_one_is_given(book: Book) -> None:
    with book.reading() as session:
        found = {one.laid.entry.id: one for one in days(book, session, TODAY).to_book}
    assert {"abattoir", "shear", "ram", "pigs"} <= set(found)
    assert found["shear"].day == day("2027-06-17")
    assert found["shear"].book_by is not None
    assert {"Bring them in under cover, dry, no feed from the evening"} <= {j.row.title for j in found["shear"].hangs}
    assert found["abattoir"].back[0][0] == "pork"
    assert found["abattoir"].freezer is not None
    assert found["abattoir"].freezer.wanted == pytest.approx(50 / 0.56, rel=0.01)
    for on in ("2027-06-22", "2027-06-24"):  # the day was given, and then another
        booked_for(book, found["shear"].book_key, day(on), TODAY, f"{on.replace('-', ''):0>32}")
    booked_for(book, found["shear"].book_key, day("2027-06-30"), TODAY, f"{'20270624':0>32}")  # sent again
    with book.reading() as session:
        one = next(one for one in days(book, session, TODAY).booked if one.laid.entry.id == "shear")
    assert one.day == day("2027-06-24")
    assert next(j for j in one.hangs if j.row.step == "in").row.best == day("2027-06-23")


@pytest.mark.parametrize("on", [TODAY - 1, TODAY + 5000])
def test_a_day_that_cannot_be_booked_is_refused(book: Book, on: int) -> None:
    with book.reading() as session:
        key = next(one for one in days(book, session, TODAY).to_book if one.laid.entry.id == "abattoir").book_key
    with pytest.raises(BadInput):
        booked_for(book, key, on, TODAY, "b" * 32)


def test_a_withdrawal_without_a_figure_holds_the_day_at_the_abattoir(book: Book) -> None:
    ticking.tick(book, "pigs.worm", TODAY, words=Words({"product": "the vet's"}))
    with book.reading() as session:
        found = {one.laid.entry.id: one for one in days(book, session, TODAY).to_book}
    assert [bar.last for bar in found["abattoir"].held] == [None], "for the pigs of which it is one"


# ── Grass, and the round ──────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
def test_paddocks_are_stocked_rested_and_clean_after_a_year(book: Book, session: Session) -> None:
    """Steady growth: 25 to 35 days of rest; clean for weaned lambs a year after sheep left (SCOPS, from memory)."""
    found = {one.name: one for one in grass(book, session, TODAY).paddocks}
    assert found["bank"].state == "stocked"
    assert found["beck"].state == "fit"
    assert found["beck"].clean == day("2028-02-05")
    assert found["bank"].clean is None


@pytest.mark.common_practice
def test_hay_to_be_made_is_told_by_area_and_months(book: Book, session: Session) -> None:
    """3.5 tonnes a hectare of old grass; hay is made from May to August."""
    found = grass(book, session, TODAY)
    assert [one.yield_kg for one in found.fields] == [3500]
    assert [one.month for one in found.months] == [5, 6, 7, 8]
    assert found.short is not None
    assert found.short.winter[0] == TODAY
    assert day("2027-04-10") < found.short.winter[1] < day("2027-05-15"), "later than the lowlands: 250 m up"


def test_the_round_says_what_each_gets_and_shuts_up_after_sunset(book: Book, session: Session) -> None:
    found = round_day(book, session, TODAY, TODAY + 6, TODAY)
    hens = next(one for one in found.gets if one.entry == "hens")
    assert {what: much for what, _, much in hens.feed}["layers feed"] == pytest.approx(1.5)
    first, last = shut_at(found) or (0, 0)
    assert 18 * 60 < first < last < 19 * 60, "sunset at 54° N on 10 March is about six; it grows later"
