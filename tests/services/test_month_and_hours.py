"""A month's head and the household's hours, counted by hand; and how many queries they take."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import Engine, event

from app.errors import BadInput, NotFound
from app.records import store
from app.services.book import Book
from app.services.evening import read_numbers, tick_numbers
from app.services.hours import hours_given
from app.services.month import month, month_days
from app.services.numbers import give_numbers, numbers
from app.services.ticking import tick
from app.services.today import today
from tests.web.holding import BEGUN, TODAY, book, day, entry, rows

SEPTEMBER = day("2027-09-01"), day("2027-09-30")


@pytest.fixture
def croft(tmp_path: Path) -> Iterator[Book]:
    made = book(tmp_path)
    yield made
    made.close()


@contextmanager
def counted(engine: Engine) -> Iterator[list[str]]:
    """The statements that are sent while the block runs."""
    said: list[str] = []

    def note(_c: object, _cursor: object, statement: str, *_more: object) -> None:
        said.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    yield said
    event.remove(engine, "before_cursor_execute", note)


def test_hours_are_net_of_rounds_and_of_who_is_away(croft: Book) -> None:
    with croft.writing() as session:
        store.add_absence(session, 1, day("2027-09-18"), day("2027-09-19"))
        croft.replan(session, None, TODAY)
    with croft.reading() as session:
        days = {one.day: one for one in hours_given(croft, session, *SEPTEMBER)}
    monday, saturday, away = days[day("2027-09-06")], days[day("2027-09-11")], days[day("2027-09-18")]
    assert (monday.minutes, monday.rounds, monday.left) == (120, 20, 100)  # Ana's two hours; 15 + 5 min of rounds
    assert (saturday.minutes, saturday.left, saturday.people) == (540, 520, 2)
    assert (away.minutes, away.left, away.people) == (240, 220, 1)  # Bo alone
    assert days[day("2027-09-07")].left == 0  # nobody gives a Tuesday, and rounds take no less than nothing


def test_the_month_s_head(croft: Book) -> None:
    with croft.reading() as session:
        found = month(croft, session, *SEPTEMBER, TODAY)
    # Open and best by the end of September: thin (30), both sowings (20 each, the early one lost: not asked),
    # worm (10), report (10), the vet (30).
    open_now = {job.row.key: job.row.minutes for job in found.jobs if job.open}
    assert {key for key in open_now if key.startswith("two-pigs")} >= {
        "two-pigs.worm",
        "two-pigs.report",
        "two-pigs.vet",
    }
    wanted = sum(minutes for key, minutes in open_now.items() if (rows(croft)[key].best or 0) <= SEPTEMBER[1])
    assert found.wanted_min == wanted
    # From the 15th: Wednesdays 60 - 20 on the 15th, 22nd, 29th; Mondays 100 on the 20th, 27th; Saturdays 520 on 18, 25.
    assert found.given_min == 3 * 40 + 2 * 100 + 2 * 520
    assert found.now
    assert found.light.daylight_hours[0] > found.light.daylight_hours[-1]


def test_carried_is_what_is_late_from_before(tmp_path: Path) -> None:
    made = book(tmp_path, [entry("old-beet", "test-beet", "2027-07-01")])
    tick(made, "old-beet.sow", TODAY, on=day("2027-07-01"))
    with made.reading() as session:
        found = month(made, session, *SEPTEMBER, TODAY)
    assert found.carried == 1  # thinning was due by 5 August
    made.close()


@pytest.mark.parametrize(("year", "number"), [(2027, 0), (2027, 13), (1969, 12), (9999, 1), (10**18, 1)])
def test_there_is_no_such_month(year: int, number: int) -> None:
    with pytest.raises(NotFound):
        month_days(year, number, TODAY)


def test_months_have_their_calendar_s_days() -> None:
    assert [b - a + 1 for a, b in (month_days(2028, n, TODAY) for n in range(1, 13))] == [
        31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31,
    ]  # fmt: skip


def test_queries_do_not_grow_with_what_there_is(tmp_path: Path) -> None:
    counts = []
    for n in (1, 40):
        made = book(tmp_path / str(n), [entry(f"beet-{i}", "test-beet", "2027-09-10") for i in range(n)])
        with made.reading():
            pass
        with counted(made.engine) as looked, made.reading() as session:
            month(made, session, *SEPTEMBER, TODAY)
        tick(made, "beet-0.sow", TODAY, tick_id="warm")
        with counted(made.engine) as ticked:
            tick(made, "beet-0.thin", TODAY, tick_id="a")
        counts.append((len(looked), len(ticked)))
        made.close()
    assert counts[0] == counts[1]
    assert counts[0][0] <= 6


def test_a_tick_writes_only_rows_that_differ(tmp_path: Path) -> None:
    made = book(tmp_path)
    with counted(made.engine) as said:
        tick(made, "late-beet.sow", TODAY, tick_id="a")
    written = [one for one in said if one.startswith(("INSERT INTO task", "DELETE FROM task"))]
    assert len(written) <= 2
    assert not any("standing" in one and not one.startswith("SELECT") for one in said)
    made.close()


# ── The evening ───────────────────────────────────────────────────────────────────────────────────────────────────


def test_numbers_stay_with_their_lines_all_month(croft: Book) -> None:
    with croft.writing() as session:
        given = give_numbers(session, "2027-09", ["late-beet.sow", "early-beet.thin"])
    assert given == {"late-beet.sow": 1, "early-beet.thin": 2}
    tick(croft, "late-beet.sow", TODAY)
    with croft.writing() as session:
        again = give_numbers(session, "2027-09", ["two-pigs.vet", "early-beet.thin"])
    assert again == {"late-beet.sow": 1, "early-beet.thin": 2, "two-pigs.vet": 3}
    with croft.reading() as session:
        assert numbers(session, "2027-09") == again
        assert numbers(session, "2027-10") == {}


def test_numbers_typed_back_tick_their_jobs(croft: Book) -> None:
    with pytest.raises(BadInput, match="never numbered"):
        tick_numbers(croft, "2027-09", [2], TODAY, TODAY)
    with croft.writing() as session:
        give_numbers(session, "2027-09", ["late-beet.sow", "early-beet.thin", "two-pigs.vet"])
    came = tick_numbers(croft, "2027-09", [2, 3, 77], TODAY - 1, TODAY)
    assert [(one.number, one.key) for one in came.heard] == [(2, "early-beet.thin"), (3, "two-pigs.vet")]
    assert came.unknown == (77,)
    assert rows(croft)["early-beet.thin"].done == TODAY - 1
    assert rows(croft)["late-beet.sow"].done is None
    assert tick_numbers(croft, "2027-09", [2], TODAY, TODAY).unknown == (2,)  # it is done already


def test_the_number_of_a_fold_ticks_its_next_open_job(tmp_path: Path) -> None:
    made = book(tmp_path, [entry("b-one", "test-beet", "2027-09-12"), entry("b-two", "test-beet", "2027-09-10")])
    with made.writing() as session:
        give_numbers(session, "2027-09", ["crop:test-beet.sow"])
    assert [one.key for one in tick_numbers(made, "2027-09", [1], TODAY, TODAY).heard] == ["b-two.sow"]
    assert [one.key for one in tick_numbers(made, "2027-09", [1], TODAY, TODAY).heard] == ["b-one.sow"]
    made.close()


def test_numbers_are_read_as_they_are_typed() -> None:
    assert read_numbers(" 3, 7;12=14.2 3 ") == {3: "", 7: "", 12: "14.2"}


def test_today_puts_what_ends_soon_first_and_knows_what_is_barred(croft: Book) -> None:
    tick(croft, "two-pigs.worm", TODAY)
    with croft.reading() as session:
        found = today(croft, session, TODAY)
    assert [walk.part for walk in found.walks] == ["morning", "evening"]
    assert "early-beet.thin" in {job.row.key for job in found.best}
    assert "late-beet.sow" in {job.row.key for job in found.best}
    assert [(one.job.row.key, one.why) for one in found.not_today] == [("two-pigs.kill", "barred")]
    assert {job.row.key for job in found.done} == {"two-pigs.worm"}


def test_the_holding_has_entries_enough() -> None:
    assert len({one.sheet for one in BEGUN}) == 2
