"""A batch in the dryer by its own weights, and put right by the household's past batches; values worked by hand."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from app.errors import BadInput
from app.records.store import KitRow
from app.services.book import Book
from app.services.entries import find, put_down
from app.services.larder import larder
from app.services.preserving.drying import Drying, drying_of
from app.services.preserving.drying_sums import bring_back, reckon_for, weigh
from app.services.ticking import Words, tick
from app.trade.preserving.glut import load_hours
from tests.services.croft import ON, TODAY, Clock, croft, draft


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    clock = Clock()
    clock.at = datetime(ON.year, ON.month, ON.day, 12, 0, tzinfo=UTC)
    found = croft(tmp_path_factory.mktemp("dryer"), clock=clock)
    larder.put_kit(found, KitRow(name="dryer", kind="dryer", trays=4, tray_m2=0.5), TODAY)
    yield found
    found.close()


def batch(book: Book, sheet: str, kg: float, **facts: object) -> str:
    return put_down(book, draft(sheet, ON.isoformat(), kg=kg, tray_m2=2.0, **facts), TODAY)


def seen(book: Book, ident: str) -> Drying:
    with book.reading() as session:
        found = drying_of(book, session, find(book, session, ident, TODAY), TODAY)
    assert found is not None
    return found


@pytest.mark.published
def test_the_weight_to_reach_is_by_solids(book: Book) -> None:
    """USDA SR26, 2013, no. 11477: courgette holds 94.79 % of water; 2.50 kg are dry, at 10 %, at 0.1447 kg."""
    found = seen(book, batch(book, "dried-courgettes", 2.5))
    assert found.sums is not None
    assert found.sums.dry_kg == pytest.approx(0.1447, abs=0.0001)
    assert found.sums.loads == 1


@pytest.mark.published
def test_a_weighing_tells_the_water_and_the_hours_left(book: Book) -> None:
    """A kilo of tomato (94.52 %, SR26 no. 11529) at 0.200 kg holds 72.6 %. Lewis: ln(17.25 / 2.65) = 1.873 in 6 h,
    and ln(2.65 / 0.1111) = 3.172 still to go, so 10.16 h."""
    ident = batch(book, "dried-tomatoes", 1.0)
    weigh(book, ident, 0.200, 6.0, None, TODAY, TODAY, "d" * 32)
    weigh(book, ident, 0.200, 6.0, None, TODAY, TODAY, "d" * 32)
    found = seen(book, ident)
    assert len(found.weighed) == 1
    assert found.now_percent == pytest.approx(72.6, abs=0.05)
    assert found.left_hours == pytest.approx(10.16, abs=0.03)
    assert found.ready is not None
    weigh(book, ident, 0.0609, 15.0, None, TODAY, TODAY)
    assert seen(book, ident).dry


@pytest.mark.common_practice
def test_a_load_that_begins_anew_is_the_one_that_is_in(book: Book) -> None:
    """Hours that fall are the next load's: 20 kg are three loads on 2 m² at 4.88 kg a square metre."""
    ident = batch(book, "dried-tomatoes", 20.0)
    for kg, hours in ((2.0, 6.0), (1.0, 10.0), (3.0, 4.0)):
        weigh(book, ident, kg, hours, 6.7, TODAY, TODAY)
    found = seen(book, ident)
    assert found.sums is not None
    assert (found.sums.loads, found.loads_done, len(found.weighed)) == (3, 1, 1)


@pytest.mark.published
def test_past_batches_put_water_and_hours_right(book: Book) -> None:
    """Apples hold 85.56 % (SR26 no. 09003). A batch of 10 kg that left 2.0 kg at 20 % held 1.6 kg of solids, 84 %;
    with the table counted as one the next is reckoned at 84.78 %. It took 10 h: k = ln(5.25 / 0.25) / 10 = 0.3045."""
    past = batch(book, "dried-apples", 10.0)
    for step, measures in (("dry", {}), ("test", {"kg": 2.0, "hours": 10.0})):
        tick(book, f"{past}.{step}", TODAY, on=TODAY, words=Words(measures))
    found = seen(book, batch(book, "dried-apples", 5.0))
    assert found.sums is not None
    assert (found.sums.past.batches, found.sums.past.timed) == (1, 1)
    assert found.sums.water_percent == pytest.approx(84.78, abs=0.005)
    assert found.sums.dry_kg == pytest.approx(5 * 0.1522 / 0.8, abs=0.001)
    assert found.sums.past.rate == pytest.approx(0.3045, abs=0.0002)
    assert found.sums.hours == pytest.approx(10.19, abs=0.01)  # ln(5.5703 / 0.25) / 0.3045
    odd = batch(book, "dried-apples", 4.0)
    tick(book, f"{odd}.test", TODAY, on=TODAY, words=Words({"kg": 9.0}))
    again = seen(book, batch(book, "dried-apples", 3.0))
    assert again.sums is not None
    assert (again.sums.past.batches, again.sums.past.odd) == (1, 1)


@pytest.mark.published
def test_a_weak_dryer_takes_as_long_as_its_heat_needs(book: Book) -> None:
    """9.391 kg of water from 10 kg of tomato want 6.15 kWh (2358 kJ/kg, steam tables): 200 W give them in 30.8 h."""
    with book.reading() as session:
        easy = reckon_for(book, session, "tomatoes", "pieces", 9.0, TODAY)
    assert easy.hours == 14  # no watts were said of the first: the table's hours stand
    assert load_hours(9.391, 12, 200) == pytest.approx(30.8, abs=0.05)
    assert load_hours(9.391, 12, 2000) == 12


def test_what_cannot_be_is_told_and_changes_nothing(book: Book) -> None:
    with book.reading() as session, pytest.raises(BadInput, match="of water fresh"):
        reckon_for(book, session, "courgettes", "pieces", 2.0, TODAY, target_percent=95)
    with book.reading() as session, pytest.raises(BadInput, match="not in the table"):
        reckon_for(book, session, "stones", "pieces", 2.0, TODAY)
    ident = batch(book, "dried-courgettes", 2.0)
    weigh(book, ident, 0.05, 5.0, None, TODAY, TODAY)
    assert "no water at all" in seen(book, ident).fault  # a fact: taken down, and told that it can't be
    unnamed = put_down(book, draft("dried-vegetables", ON.isoformat(), kg=3.0, of="stones"), TODAY)
    assert "of what it is" in seen(book, unnamed).fault


@pytest.mark.published
def test_powder_goes_back_by_its_solids() -> None:
    """USDA SR26, 2013, nos 11529, 11547, 11546: 100 g at 4 % to 5.48, 8, 12.12 and 26.5 % of solids."""
    water = {name: 1000 * kg for name, kg in bring_back(100, 4.0, None).waters}
    assert list(water.values()) == pytest.approx([1651.8, 1100.0, 692.1, 262.3], abs=0.5)
    assert bring_back(100, 10.0, 24.0).waters[0][1] == pytest.approx(0.275, abs=0.0005)
    with pytest.raises(BadInput):
        bring_back(100, 4.0, 97.0)
