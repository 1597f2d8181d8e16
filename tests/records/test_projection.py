"""The projection can be dropped and worked out again with nothing lost; what a calendar saw is never taken back.

SEQUENCE and LAST-MODIFIED: RFC 5545, 3.8.7.3 and 3.8.7.4 (a revision raises the number; it never goes down).
"""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from sqlalchemy import Engine, event, select

from app.records import store
from app.records.tables import TABLES
from app.records.values import moment_text
from tests.records.sample import LATER, NOW, day, fill, leek, task

SEPTEMBER = (day("2027-09-01"), day("2027-09-30"))


def put(engine: Engine, *tasks: store.TaskRow, entries: list[str] | None = None, now: object = NOW) -> tuple[int, int]:
    with store.writing(engine) as session:
        return tuple(store.replace_tasks(session, entries, tasks, now=now))  # type: ignore[arg-type, return-value]


def stamps(engine: Engine) -> dict[str, tuple[int, str]]:
    with store.reading(engine) as session:
        rows = session.execute(select(TABLES["stamp"].c["key", "sequence", "changed_at"]))
        return {key: (sequence, moment_text(at)) for key, sequence, at in rows}


@contextmanager
def counted(engine: Engine) -> Iterator[list[str]]:
    seen: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        if not statement.startswith(("BEGIN", "COMMIT", "ROLLBACK")):
            seen.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    yield seen
    event.remove(engine, "before_cursor_execute", note)


def window(first: str, last: str, **changes: object) -> dict[str, object]:
    return {"opens": day(first), "best": day(first), "closes": day(last), **changes}


def test_a_job_comes_back_as_it_was_planned(engine: Engine) -> None:
    row = task(cautions="lime-burns ladders", extra='{"loses": "a year"}', legal=True, act="plant")
    put(engine, row)
    with store.reading(engine) as session:
        assert store.task_row(session, "leek.plant") == row
        assert store.task_row(session, "leek.nothing") is None
        assert store.rows_for_entry(session, "leek") == [row]
        assert store.task_rows(session, ["leek.plant", "leek.nothing"]) == [row]


def test_only_what_differs_is_written(engine: Engine) -> None:
    rows = [task(f"leek.look.{n}") for n in range(20)]
    put(engine, *rows)
    with counted(engine) as statements:
        assert put(engine, *rows, now=LATER) == (0, 0)
    assert [s for s in statements if not s.startswith("SELECT")] == []
    assert put(engine, *rows[:18], task("leek.look.18", minutes=9), entries=["leek"], now=LATER) == (1, 1)


def test_entries_that_are_not_named_are_left_alone(engine: Engine) -> None:
    put(engine, task(), task("hens.look"))
    put(engine, task(minutes=1), entries=["leek"])
    put(engine, entries=["leek"])
    with store.reading(engine) as session:
        assert store.rows_for_entry(session, "leek") == []
        assert len(store.rows_for_entry(session, "hens")) == 1


@pytest.mark.published
def test_a_revision_raises_the_sequence_and_a_change_no_calendar_sees_does_not(engine: Engine) -> None:
    put(engine, task())
    put(engine, task(minutes=90), now=LATER)
    assert stamps(engine) == {"leek.plant": (0, moment_text(NOW))}
    put(engine, task(closes=day("2027-06-30")), now=LATER)
    assert stamps(engine) == {"leek.plant": (1, moment_text(LATER))}


@pytest.mark.published
def test_a_rebuild_keeps_every_sequence_and_moment(engine: Engine) -> None:
    rows = [task(f"leek.look.{n}") for n in range(600)]
    put(engine, *rows)
    rows[3] = rows[3]._replace(done=day("2027-05-20"))
    put(engine, *rows)
    before = stamps(engine)
    with store.reading(engine) as session:
        was = store.rows_for_entry(session, "leek")
    with store.writing(engine) as session:
        store.drop_projection(session)
        assert store.rows_for_entry(session, "leek") == []
    put(engine, *reversed(rows), now=LATER)
    with store.reading(engine) as session:
        assert store.rows_for_entry(session, "leek") == was
    assert stamps(engine) == before
    assert before["leek.look.3"][0] == 1


@pytest.mark.published
def test_a_job_that_is_gone_and_comes_back_goes_on_counting(engine: Engine) -> None:
    put(engine, task(), task("leek.sow"))
    put(engine, task("leek.sow"), entries=["leek"], now=LATER)
    span = (day("2027-05-01"), day("2027-05-31"))
    with store.reading(engine) as session:
        (gone,) = store.gone_rows(session, *span)
        assert [row.task.key for row in store.feed_rows(session, *span)] == ["leek.sow"]
    assert gone == store.GoneRow(
        "leek.plant", 1, moment_text(LATER), moment_text(LATER), "Plant out: Leeks", task().opens, task().closes
    )
    put(engine, task(), task("leek.sow"), entries=["leek"], now=LATER)
    assert {key: sequence for key, (sequence, _) in stamps(engine).items()} == {"leek.plant": 2, "leek.sow": 0}
    with store.reading(engine) as session:
        assert store.gone_rows(session, *span) == []


@pytest.mark.published
def test_what_went_while_the_projection_was_dropped_is_gone_too(engine: Engine) -> None:
    put(engine, task(), task("leek.sow"))
    with store.writing(engine) as session:
        store.drop_projection(session)
    put(engine, task(), now=LATER)
    assert stamps(engine) == {"leek.plant": (0, moment_text(NOW)), "leek.sow": (1, moment_text(LATER))}
    put(engine, task(), now=LATER)
    assert stamps(engine)["leek.sow"][0] == 1


MONTH = {
    "inside": window("2027-09-10", "2027-09-20"),
    "over": window("2027-01-01", "2028-01-01"),
    "ends-on-first": window("2027-08-01", "2027-09-01"),
    "opens-on-last": window("2027-09-30", "2027-10-15"),
    "done-in-it": window("2027-10-01", "2027-10-15", done=day("2027-09-30")),
    "lost-in-it": window("2027-09-01", "2027-09-02", fate="lost"),
}
NOT_MONTH = {
    "before": window("2027-08-01", "2027-08-31", missed="passes"),
    "after": window("2027-10-01", "2027-10-15"),
    "done-before": window("2027-08-20", "2027-09-20", done=day("2027-08-31")),
    "lost-before": window("2027-08-01", "2027-08-31", fate="lost"),
    "let-go": window("2027-08-01", "2027-08-31", fate="let go"),
}
CARRIED = {
    "late": window("2027-08-01", "2027-08-31", missed="late"),
    "no-days": {"opens": None, "best": None, "closes": None, "fate": "barred"},
}


def test_a_month_holds_what_touches_it_what_was_done_in_it_and_what_is_carried_over(engine: Engine) -> None:
    put(engine, *(task(f"leek.{name}", **changes) for name, changes in (MONTH | NOT_MONTH | CARRIED).items()))
    with store.reading(engine) as session:
        this = store.month_rows(session, *SEPTEMBER, today=day("2027-09-15"))
        other = store.month_rows(session, *SEPTEMBER, today=day("2027-07-15"))
    assert {row.step for row in this} == MONTH.keys() | CARRIED.keys()
    assert {row.step for row in other} == MONTH.keys()
    assert [row.opens for row in other] == sorted(row.opens or 0 for row in other)
    assert this[-1].step == "no-days"


def test_today_holds_what_is_open_and_late_but_nothing_that_passed(engine: Engine) -> None:
    put(engine, *(task(f"leek.{name}", **changes) for name, changes in (MONTH | NOT_MONTH | CARRIED).items()))
    with store.reading(engine) as session:
        rows = store.open_rows(session, day("2027-09-15"))
        coming = store.coming_rows(session, day("2027-10-10"), day("2027-10-20"))
    assert {row.step for row in rows} == {"inside", "over", "late", "ends-on-first"}
    assert {row.step for row in coming} == {"over", "opens-on-last", "after"}


def test_a_month_asks_as_many_queries_of_many_jobs_as_of_few(engine: Engine) -> None:
    numbers = []
    for many in (3, 3000):
        put(engine, *(task(f"leek.look.{n}", **window("2027-09-10", "2027-09-20")) for n in range(many)))
        with counted(engine) as statements, store.reading(engine) as session:
            assert len(store.month_rows(session, *SEPTEMBER, today=day("2027-09-15"))) == many
        numbers.append(len(statements))
    assert numbers == [1, 1]


def test_the_month_and_todays_list_are_found_by_an_index(engine: Engine) -> None:
    with counted(engine) as statements, store.reading(engine) as session:
        store.month_rows(session, *SEPTEMBER, today=day("2027-09-15"))
        store.open_rows(session, day("2027-09-15"))
        store.rows_for_entry(session, "leek")
    with engine.connect() as connection:
        for statement in statements:
            marks = (None,) * statement.count("?")
            plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", marks).all()
            assert not [row for row in plan if row[3].startswith("SCAN")], statement


def test_a_search_finds_entries_and_open_jobs_by_every_word(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.add_entry(session, leek(place="Leek bed"), now=NOW)
        store.add_entry(session, leek(id="odd", name="100% wool_sack"), now=NOW)
        store.add_entry(session, leek(id="gone", struck=True), now=NOW)
    put(engine, task(), task("leek.sow", done=day("2027-03-10")))
    with store.reading(engine) as session:
        assert store.search(session, "LEEK bed") == [
            store.Found("leek", "", "Leeks", "Leek bed", None),
            store.Found("leek", "leek.plant", "Plant out: Leeks", "Leek bed", task().best),
        ]
        assert [found.entry for found in store.search(session, "0% L_s")] == ["odd"]
        assert store.search(session, "leek turnip") == store.search(session, "  ") == []
        assert len(store.search(session, "leek", limit=1)) == 1


def test_rounds_clashes_and_lacks_are_put_in_place_of_what_there_was(engine: Engine) -> None:
    walk = store.StandingRow("hens", "feed", 100, None, 10, "morning", "hens", "livestock", "Feed", "Hens", "Yard")
    clash = store.ClashRow("kit", "dryer", "apples", "pears", 100, 104, "The dryer is wanted twice.")
    lack = store.LackRow("wall", "paint", "exposure", "")
    with store.writing(engine) as session:
        for _ in range(2):
            store.replace_standing(session, None, [walk, walk._replace(entry="cow", last=110)])
            store.replace_clashes(session, [clash])
            store.replace_lacks(session, None, [lack, lack._replace(entry="gate")])
        store.replace_lacks(session, ["gate"], [])
        assert store.standing_rows(session, 111, 120) == [walk]
        assert len(store.standing_rows(session, 110, 120)) == 2
        assert store.clash_rows(session, "pears") == store.clash_rows(session) == [clash]
        assert store.clash_rows(session, "plums") == []
        assert store.lack_rows(session) == store.lack_rows(session, "wall") == [lack]


def test_dropping_the_projection_drops_no_fact(engine: Engine) -> None:
    fill(engine)
    with store.reading(engine) as session:
        before = (store.entries(session), store.ticks(session), store.amendments(session), store.measure(session))
    with store.writing(engine) as session:
        store.drop_projection(session)
    with store.reading(engine) as session:
        after = (store.entries(session), store.ticks(session), store.amendments(session), store.measure(session))
    assert after == (*before[:3], store.Measure(2, 3, 0))
    assert before[3] == store.Measure(2, 3, 1)
