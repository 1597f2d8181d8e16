"""The weather told and what becomes of the day's jobs; the made-up yard of `tests/web/yard.py`, counted by hand."""

from collections.abc import Iterator

import pytest

from app.errors import BadInput
from app.records import store
from app.services.book import Book
from app.services.evening import Doing, tick_all, tick_numbers
from app.services.numbers import give_numbers
from app.services.ticking import tick
from app.services.today import Today, today
from app.services.weather.told import AHEAD, BACK, tell, told
from tests.web.holding import TODAY, day, entry, rows
from tests.web.yard import yard_book


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    made = yard_book(tmp_path_factory.mktemp("yard"))
    yield made
    made.close()


@pytest.fixture
def yard(whole: Book) -> Iterator[Book]:
    """The one book, with nothing told when a test is over."""
    yield whole
    with whole.writing() as session:
        for n in range(-BACK, AHEAD + 1):
            store.tell_weather(session, TODAY + n, sky="", frost=False, wind=False, at=whole.now())
        whole.replan(session, (), TODAY)


def seen(made: Book) -> Today:
    with made.reading() as session:
        return today(made, session, TODAY)


def why(made: Book) -> dict[str, str]:
    return {one.job.row.step: one.why for one in seen(made).not_today}


@pytest.mark.parametrize(
    ("what", "off"),
    [
        ("dry", {}),
        ("showers", {"coat": "dry", "hang": "dry"}),
        ("wet", {"coat": "dry", "hang": "dry"}),
        ("wind", {"spray": "still"}),
        ("frost", {"plant": "no frost", "paint": "warm"}),
    ],
)
def test_what_the_weather_does_not_give_is_not_for_today(yard: Book, what: str, off: dict[str, str]) -> None:
    assert why(yard) == {}
    tell(yard, TODAY, what, True, TODAY)
    assert why(yard) == off
    tell(yard, TODAY, what, False, TODAY)
    assert why(yard) == {}


def test_several_may_hold_one_sky_takes_the_place_of_another_and_the_last_word_counts(yard: Book) -> None:
    for what in ("dry", "wet", "wet", "frost", "wind"):
        tell(yard, TODAY + 1, what, True, TODAY)
    with yard.reading() as session:
        assert [one[1:] for one in told(session, TODAY, TODAY + 2)] == [
            ("", False, False), ("wet", True, True), ("", False, False),
        ]  # fmt: skip
    tell(yard, TODAY + 1, "dry", False, TODAY)  # it is not dry: that takes no rain away
    with yard.reading() as session:
        assert told(session, TODAY + 1, TODAY + 1)[0].sky == "wet"
    assert why(yard) == {}, "tomorrow's weather puts nothing off today"


def test_on_a_wet_day_there_is_work_under_cover_the_shortest_first(yard: Book) -> None:
    assert seen(yard).dry_work == []
    tell(yard, TODAY, "wet", True, TODAY)
    found = seen(yard)
    assert [job.row.step for job in found.dry_work] == ["tools", "jars"]
    assert not {"tools", "jars"} & {job.row.step for job in [*found.best, *found.later]}


def test_a_frost_tonight_brings_what_guards_against_it_within_two_weeks(yard: Book) -> None:
    assert seen(yard).before_frost == []
    tell(yard, TODAY, "frost", True, TODAY)
    assert [job.row.step for job in seen(yard).before_frost] == ["fleece"]
    assert rows(yard)["yard.fleece"].opens == day("2027-09-28")
    assert rows(yard)["yard.straw"].opens == day("2027-09-30"), "fifteen days off"


def test_what_is_told_reaches_two_days_on_and_comes_in_late_from_a_phone_without_signal(yard: Book) -> None:
    tell(yard, TODAY + AHEAD, "wet", True, TODAY)
    tell(yard, TODAY - BACK, "wet", True, TODAY)
    for far in (TODAY + AHEAD + 1, TODAY - BACK - 1):
        with pytest.raises(BadInput):
            tell(yard, far, "wet", True, TODAY)
    with pytest.raises(BadInput):
        tell(yard, TODAY, "hail", True, TODAY)


def test_telling_the_weather_plans_nothing_anew(yard: Book) -> None:
    before = rows(yard)
    tell(yard, TODAY, "wet", True, TODAY)
    assert rows(yard) == before


def test_the_next_days_have_what_opens_what_is_best_and_what_is_arranged(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    made = yard_book(tmp_path_factory.mktemp("ahead"))
    with made.writing() as session:
        # Pigs that came on 26 August: the vet calls three weeks later, on 16 September.
        store.add_entry(session, entry("more-pigs", "test-pen", "2027-08-26", "Orchard"), now=made.now())
        store.add_entry(session, entry("beet-on", "test-beet", "2027-09-17"), now=made.now())
        store.add_entry(session, entry("beet-off", "test-beet", "2027-09-24"), now=made.now())
        made.replan(session, None, TODAY)
    found = {one.day: [(line.row.key, line.kind) for line in one.lines] for one in seen(made).ahead}
    assert list(found) == [TODAY + 1, TODAY + 2, TODAY + 3]
    assert found[TODAY + 1] == [("more-pigs.vet", "appointment")]
    assert found[TODAY + 2] == [("beet-on.sow", "best"), ("beet-off.sow", "opens")]
    assert found[TODAY + 3] == []
    made.close()


# ── The evening ───────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_evening_saves_all_or_nothing_once_and_leaves_what_another_said(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    made = yard_book(tmp_path_factory.mktemp("evening"))
    doings = [Doing("yard.pick", "yard.pick~0", None, {"kg": 14.2}), Doing("yard.jars", "yard.jars~0", None, {})]
    with pytest.raises(BadInput):
        tick_all(made, doings, TODAY + 1, TODAY)
    with pytest.raises(BadInput):
        tick_all(made, [], TODAY, TODAY)
    with pytest.raises(BadInput):
        tick_all(made, [doings[0], doings[1]._replace(tick_id="x" * 500)], TODAY, TODAY)
    assert rows(made)["yard.pick"].done is None, "all or nothing"
    for _ in range(2):
        assert tick_all(made, doings, TODAY, TODAY, 1) == (2, ())
    with made.reading() as session:
        (said,) = store.told(session, key="yard.pick")
    assert (said.tick.measures, said.person) == ({"kg": 14.2}, 1)
    assert seen(made).by["yard.pick"] == "Ana"
    tick(made, "yard.tools", TODAY, on=TODAY - 1, tick_id="yard.tools~0")
    came = tick_all(made, [Doing("yard.tools", "yard.tools~0", None, {})], TODAY, TODAY)
    assert came == (0, ("Oil the tools",))
    assert rows(made)["yard.tools"].done == TODAY - 1
    made.close()


def test_numbers_of_one_form_sent_twice_count_once_even_where_a_number_stands_for_several(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    made = yard_book(tmp_path_factory.mktemp("numbers"))
    with made.writing() as session:
        give_numbers(session, "2027-09", ["place:Long barn"])
    first = tick_numbers(made, "2027-09", [1], TODAY, TODAY, 2, "form-a")
    assert tick_numbers(made, "2027-09", [1], TODAY, TODAY, 2, "form-a") == first
    assert sum(row.done is not None for key, row in rows(made).items() if key.startswith("yard.")) == 1
    assert tick_numbers(made, "2027-09", [1], TODAY, TODAY, 2, "form-b").heard[0].key != first.heard[0].key
    made.close()
