"""Ticks, undos, moves and letting go: what follows moves, facts are taken down, only advice is refused.

Expected days are counted by hand from the made-up sheets of `tests/web/holding.py`: thinning is four weeks after
sowing, lifting eight weeks after thinning.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict, NotFound, Refused
from app.records import store
from app.services.book import Book
from app.services.moving import Risk, move
from app.services.rounds import tick_round, walks
from app.services.ticking import Words, let_go, tick, undo
from tests.web.holding import TODAY, book, day, rows


@pytest.fixture
def croft(tmp_path: Path) -> Iterator[Book]:
    made = book(tmp_path)
    yield made
    made.close()


def best(made: Book, key: str) -> int | None:
    return rows(made)[key].best


def test_what_follows_moves_with_a_late_tick(croft: Book) -> None:
    assert best(croft, "late-beet.thin") == day("2027-10-13")  # not sown yet: today and four weeks
    came = tick(croft, "late-beet.sow", TODAY, on=day("2027-09-14"), tick_id="a")
    assert best(croft, "late-beet.thin") == day("2027-10-12")
    assert best(croft, "late-beet.lift") == day("2027-12-07")
    assert {one.key: one.now and one.now.best for one in came.moved} == {
        "late-beet.thin": day("2027-10-12"),
        "late-beet.lift": day("2027-12-07"),
    }


def test_an_undo_puts_everything_back(croft: Book) -> None:
    before = rows(croft)
    tick(croft, "late-beet.sow", TODAY, on=day("2027-09-14"), tick_id="a")
    assert rows(croft) != before
    undo(croft, "a", TODAY, tick_id="b")
    assert rows(croft) == before


def test_what_must_have_come_before_is_taken_as_done_and_goes_with_the_undo(croft: Book) -> None:
    before = rows(croft)
    came = tick(croft, "late-beet.thin", TODAY, tick_id="a")
    assert came.tied == ("Sow the beet",)
    assert rows(croft)["late-beet.sow"].done == day("2027-09-13")
    assert best(croft, "late-beet.lift") == day("2027-11-10")
    undo(croft, "a", TODAY, tick_id="b")
    assert rows(croft) == before


def test_the_same_tick_sent_twice_counts_once(croft: Book) -> None:
    first = tick(croft, "late-beet.sow", TODAY, tick_id="a")
    again = tick(croft, "late-beet.sow", TODAY, tick_id="a")
    assert (first.fresh, again.fresh) == (True, False)
    with croft.reading() as session:
        assert [told.tick.id for told in store.told(session, key="late-beet.sow")] == ["a"]


def test_one_id_can_not_say_two_things(croft: Book) -> None:
    tick(croft, "late-beet.sow", TODAY, tick_id="a")
    with pytest.raises(Conflict):
        let_go(croft, "late-beet.sow", TODAY, tick_id="a")
    assert rows(croft)["late-beet.sow"].done == TODAY


def test_a_day_to_come_is_no_day_on_which_something_was_done(croft: Book) -> None:
    before = rows(croft)
    with pytest.raises(BadInput):
        tick(croft, "late-beet.sow", TODAY, on=TODAY + 1)
    assert rows(croft) == before


@pytest.mark.parametrize("key", ["", "x", "nobody.sow", "a.b.c", "..", "-.morning", "nobody.kill+pork.cut"])
def test_a_job_of_nothing_that_was_put_down_is_not_found(croft: Book, key: str) -> None:
    with pytest.raises(NotFound):
        tick(croft, key, TODAY)


def test_a_tick_on_an_entry_struck_meanwhile_is_still_taken_down(croft: Book) -> None:
    with croft.writing() as session:
        store.strike(session, "late-beet")
        croft.replan(session, {"late-beet"}, TODAY)
    came = tick(croft, "late-beet.sow", TODAY, tick_id="a")
    assert came.row is None
    assert came.flags
    with croft.reading() as session:
        assert store.tick(session, "a") is not None


def test_measures_remark_and_person_are_kept(croft: Book) -> None:
    said = Words({"kg": 3.5}, (), "slugs", "", 1)
    tick(croft, "early-beet.thin", TODAY, tick_id="a", words=said)
    with croft.reading() as session:
        found = store.tick(session, "a")
    assert found is not None
    assert (found.tick.measures, found.remark, found.person) == ({"kg": 3.5}, "slugs", 1)


def test_a_stranger_can_not_have_done_it(croft: Book) -> None:
    with pytest.raises(BadInput):
        tick(croft, "late-beet.sow", TODAY, words=Words(person=99))


def test_let_go_and_taken_back(croft: Book) -> None:
    before = rows(croft)
    let_go(croft, "late-beet.sow", TODAY, tick_id="a", reason="too wet")
    assert rows(croft)["late-beet.sow"].fate == "let go"
    undo(croft, "a", TODAY, tick_id="b")
    assert rows(croft) == before


def test_what_was_taken_back_stays_so(croft: Book) -> None:
    tick(croft, "late-beet.sow", TODAY, tick_id="a")
    undo(croft, "a", TODAY, tick_id="b")
    undo(croft, "a", TODAY, tick_id="b")  # the same, sent again
    with pytest.raises(Conflict):
        undo(croft, "a", TODAY, tick_id="c")
    with pytest.raises(Conflict):
        undo(croft, "b", TODAY, tick_id="d")
    with pytest.raises(NotFound):
        undo(croft, "never", TODAY)


# ── Moving ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_job_is_moved_freely_inside_its_window(croft: Book) -> None:
    came = move(croft, "late-beet.sow", day("2027-09-20"), TODAY, tick_id="a")
    assert not isinstance(came, Risk)
    assert best(croft, "late-beet.sow") == day("2027-09-20")
    assert best(croft, "late-beet.thin") == day("2027-10-18")


def test_outside_it_what_it_risks_is_said_first(croft: Book) -> None:
    before = rows(croft)
    came = move(croft, "early-beet.thin", day("2027-10-20"), TODAY, tick_id="a")
    assert isinstance(came, Risk)
    assert "small roots" in came.says
    assert rows(croft) == before
    move(croft, "early-beet.thin", day("2027-10-20"), TODAY, tick_id="a", knowing=True)
    assert best(croft, "early-beet.thin") == day("2027-10-20")


def test_past_a_legal_day_it_is_refused_even_knowing(croft: Book) -> None:
    before = rows(croft)
    with pytest.raises(Refused):
        move(croft, "two-pigs.report", day("2027-09-22"), TODAY, knowing=True)
    assert rows(croft) == before
    move(croft, "two-pigs.report", day("2027-09-21"), TODAY)
    assert best(croft, "two-pigs.report") == day("2027-09-21")


def test_a_firm_day_is_not_moved_and_a_past_day_is_none(croft: Book) -> None:
    with pytest.raises(Conflict):
        move(croft, "two-pigs.vet", day("2027-09-25"), TODAY)
    with pytest.raises(BadInput):
        move(croft, "late-beet.sow", TODAY - 1, TODAY)


def test_a_done_job_is_not_moved(croft: Book) -> None:
    tick(croft, "late-beet.sow", TODAY)
    with pytest.raises(Conflict):
        move(croft, "late-beet.sow", TODAY + 2, TODAY)


# ── The law ───────────────────────────────────────────────────────────────────────────────────────────────────────


def test_inside_a_bar_of_law_a_move_is_refused_and_a_doing_is_taken_down_and_flagged(croft: Book) -> None:
    tick(croft, "two-pigs.worm", TODAY, on=TODAY, words=Words({"withdrawal_days": 28}))
    last = TODAY + 28
    held = rows(croft)["two-pigs.kill"]
    assert held.opens is not None
    assert held.opens > last
    with pytest.raises(Refused):
        move(croft, "two-pigs.kill", last, TODAY, knowing=True)
    came = tick(croft, "two-pigs.kill", TODAY, tick_id="k")
    assert rows(croft)["two-pigs.kill"].done == TODAY
    assert any("withdrawal" in flag for flag in came.flags)


def test_a_figure_not_said_holds_the_job_without_a_day(croft: Book) -> None:
    tick(croft, "two-pigs.worm", TODAY)
    assert rows(croft)["two-pigs.kill"].opens is None
    tick(croft, "two-pigs.worm", TODAY, tick_id="again", words=Words({"withdrawal_days": 0}))
    assert rows(croft)["two-pigs.kill"].opens is not None


# ── Rounds ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_round_is_one_tick_and_moves_nothing(croft: Book) -> None:
    before = rows(croft)
    with croft.reading() as session:
        morning, evening = walks(croft, session, TODAY)
    assert (morning.minutes, evening.minutes) == (15, 5)
    walked = tick_round(croft, morning.key, "r", TODAY)
    assert walked.done
    assert tick_round(croft, morning.key, "r", TODAY).times == 1
    with croft.reading() as session:
        kept = store.tick(session, "r")
        assert kept is not None
        assert kept.tick.key == "two-pigs.feed.20270915"
    assert rows(croft) == before
    undo(croft, "r", TODAY, tick_id="s")
    with croft.reading() as session:
        assert [walk.done for walk in walks(croft, session, TODAY)] == [False, False]


def test_tomorrow_s_round_is_not_walked_yet(croft: Book) -> None:
    with pytest.raises(Conflict):
        tick_round(croft, "-.morning.20270916", "r", TODAY)
    for key in ("-.noon.20270915", "-.morning.20279915", "-.morning", "-.morning.5"):
        with pytest.raises(NotFound):
            tick_round(croft, key, "r", TODAY)


# ── The projection ────────────────────────────────────────────────────────────────────────────────────────────────


def test_what_ticks_leave_behind_is_what_planning_anew_gives(croft: Book) -> None:
    tick(croft, "late-beet.sow", TODAY, tick_id="a")
    tick(croft, "early-beet.thin", TODAY, tick_id="b")
    tick(croft, "two-pigs.worm", TODAY, tick_id="c", words=Words({"withdrawal_days": 10}))
    undo(croft, "a", TODAY, tick_id="d")
    let_go(croft, "late-beet.sow", TODAY, tick_id="e")
    with croft.reading() as session:
        kept = [store.rows_for_entry(session, one.id) for one in store.entries(session)]
    with croft.writing() as session:
        store.drop_projection(session)
        croft.replan(session, None, TODAY)
    with croft.reading() as session:
        assert [store.rows_for_entry(session, one.id) for one in store.entries(session)] == kept


def _strike_and_stumble(croft: Book, session: Session) -> None:
    store.strike(session, "late-beet")
    croft.replan(session, {"late-beet"}, TODAY)
    store.strike(session, "no such entry")


def test_an_error_in_a_write_leaves_memory_and_records_as_they_were(croft: Book) -> None:
    before = rows(croft)
    with pytest.raises(NotFound), croft.writing() as session:
        _strike_and_stumble(croft, session)
    assert rows(croft) == before
    with croft.reading() as session:
        assert "late-beet.sow" in {task.key for task in croft.planned(session, TODAY).tasks}


def test_a_change_made_by_another_program_is_seen(croft: Book, tmp_path: Path) -> None:
    with store.writing(croft.engine) as session:  # not through the book, as the command would from another process
        store.strike(session, "late-beet")
    assert "late-beet.sow" not in rows(croft)
