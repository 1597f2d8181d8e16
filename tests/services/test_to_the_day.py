"""What hangs on a last day, on a limit met exactly, on a figure that was told: each is easily out by one, unseen."""

from collections.abc import Iterator

import pytest

from app.services import entries
from app.services.book import Book
from app.services.livestock.expect import expected
from app.services.livestock.grass import grass
from app.services.livestock.treat import Treatment, treat
from app.services.preserving import kitchen_sums
from app.services.ticking import Words, tick
from tests.services.croft import TODAY, Ticking, croft, day, draft


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    made = croft(tmp_path_factory.mktemp("to-the-day"), clock=Ticking())
    entries.put_down(made, draft("paddock", "2027-03-08", "Bank", growth="steady", days_on_d=5), TODAY, ident="bank")
    entries.put_down(made, draft("bees", "2026-03-20", "Hive", head=2), TODAY, ident="hive")
    entries.put_down(made, draft("weaners", "2027-03-01", "Pigs", head=2, kg=16, target_kg=90), TODAY, ident="pigs")
    yield made
    made.close()


@pytest.mark.common_practice
def test_a_round_of_some_thirty_days_rest_and_five_on_each_takes_seven_paddocks(book: Book) -> None:
    """25 to 35 days of rest while grass grows steadily; rest over days on, and the one they are on."""
    with book.reading() as session:
        found = grass(book, session, TODAY).wanted
    assert found is not None
    paddocks, rest, on = found
    assert (paddocks, on) == (7, 5)
    assert 25 <= rest <= 35


def test_honey_that_was_taken_is_told_by_its_year(book: Book) -> None:
    with book.reading() as session:
        tasks = book.live(session, TODAY).laid["hive"].tasks
    key = next(one.key for one in tasks if one.step == "honey")
    tick(book, key, TODAY, on=day("2026-08-20"), words=Words({"kg": 12.5}))
    with book.reading() as session:
        (honey,) = expected(book, session, TODAY).honey
    assert honey.came == ((2026, 12.5),)


@pytest.mark.published
def test_honey_of_twenty_per_cent_is_dry_enough() -> None:
    """The Honey (England) Regulations 2015, schedule 1: "not more than 20 %"; Wedmore's table: 20.0 % is 1.4865."""
    found = kitchen_sums.honey(1.4865, "blossom")
    assert (round(found.percent, 1), found.most_percent, found.dry) == (20.0, 20.0, True)
    assert not kitchen_sums.honey(1.4860, "blossom").dry, "20.2 % by the same table"


def test_after_the_last_dose_of_a_course_that_is_over_no_further_one_is_asked(book: Book) -> None:
    one = Treatment("pigs", None, "Drench", TODAY - 1, TODAY, False, False, {"meat": 10}, ("meat",))
    entry = treat(book, one, TODAY, "t" * 32).entry
    with book.reading() as session:
        tasks = book.live(session, TODAY).laid[entry].tasks
    assert [one.done for one in tasks if one.step in ("dose", "more")] == [TODAY - 1, TODAY]
