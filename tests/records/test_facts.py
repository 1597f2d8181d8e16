"""Entries, amendments and ticks go in and come back as the rules read them; a tick counts once."""

import sqlite3
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine, select
from sqlalchemy.exc import StatementError

from app.errors import Conflict, NotFound
from app.records import store
from app.records.tables import TABLES
from app.records.values import from_json, moment_text, read_moment, to_json
from app.rules.facts import Amendment, Window
from app.settings import Settings
from tests.records.sample import NOW, day, fill, leek, tick

WEST = timezone(timedelta(hours=-9.5))


def test_an_entry_comes_back_as_it_was_put_down(engine: Engine) -> None:
    entry = leek(place="Leek bed", ends=day("2027-12-01"))
    with store.writing(engine) as session:
        store.add_entry(session, entry, now=NOW)
    with store.reading(engine) as session:
        assert store.entries(session) == [entry]
        assert store.entry(session, "leek") == entry
        assert store.entries(session, ["other"]) == []


def test_a_date_among_the_facts_is_kept_as_a_date(place: Settings, engine: Engine) -> None:
    fill(engine)
    with sqlite3.connect(place.database) as read:
        (facts,) = read.execute("SELECT facts FROM entry WHERE id = 'leek'").fetchone()
        (told,) = read.execute("SELECT told FROM entry WHERE id = 'leek'").fetchone()
    assert '"date": {"date": "2027-03-10"}' in facts
    assert told == "2027-03-09"


value = st.one_of(
    st.booleans(), st.integers(-(2**53), 2**53), st.floats(allow_nan=False, allow_infinity=False), st.text()
)


@given(st.dictionaries(st.text(), value), st.dictionaries(st.text(), st.integers(1, 3652059)))
def test_facts_of_every_kind_come_back(values: dict[str, object], days: dict[str, int]) -> None:
    facts = {**values, **days}
    assert from_json(to_json(facts, days)) == facts  # type: ignore[arg-type]


def test_an_id_is_never_used_twice_not_even_a_struck_ones(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.add_entry(session, leek(), now=NOW)
        store.strike(session, "leek")
        assert store.free_id(session, "Leek") == "leek-2"
        assert store.free_id(session, "  Fir. Gate + post! ") == "fir-gate-post"
        assert store.free_id(session, "…") == "entry"
        with pytest.raises(Conflict):
            store.add_entry(session, leek(name="Other leeks"), now=NOW)
    with store.reading(engine) as session:
        assert [(entry.name, entry.struck) for entry in store.entries(session)] == [("Leeks", True)]


def test_a_change_keeps_the_day_it_was_told(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.add_entry(session, leek(), now=NOW)
        store.change_entry(session, leek(name="Old leeks", told=1, sheet="other"), note="moved")
    with store.reading(engine) as session:
        assert store.entry(session, "leek") == leek(name="Old leeks")
        assert store.entry_note(session, "leek") == "moved"


def test_an_unknown_entry_is_told(engine: Engine) -> None:
    for act in (store.entry, store.strike):
        with pytest.raises(NotFound), store.writing(engine) as session:
            act(session, "nothing")
    with pytest.raises(NotFound), store.writing(engine) as session:
        store.change_entry(session, leek())


def test_an_entry_that_a_tick_made_is_not_kept_but_what_was_added_to_it_is(engine: Engine) -> None:
    with pytest.raises(ValueError, match="worked out"), store.writing(engine) as session:
        store.add_entry(session, leek(made_by="pigs.kill"), now=NOW)
    first = Amendment(
        "pigs.kill+pork", {"meal": day("2027-12-20"), "kg": 60}, "Pork", "cellar", day("2028-01-01"), True
    )
    with store.writing(engine) as session:
        store.amend(session, first, dates=("meal",))
        store.amend(session, first._replace(name="The pork"), dates=("meal",))
    with store.reading(engine) as session:
        assert store.amendments(session) == [first._replace(name="The pork")]


def test_a_tick_comes_back_with_what_was_shown_and_said(engine: Engine) -> None:
    said = tick(
        shown=Window(day("2027-03-01"), day("2027-03-05"), day("2027-03-20")), measures={"day": 740000, "ok": True}
    )
    with store.writing(engine) as session:
        assert store.add_tick(session, said, dates=("day",), remark="wet", reason="") is True
    with store.reading(engine) as session:
        assert store.ticks(session) == [said]
        assert store.told(session, key="leek.sow") == [store.Told(said, "wet", "", None)]
        assert store.tick(session, "t1") == store.Told(said, "wet", "", None)
        assert store.tick(session, "t9") is None


def test_a_tick_sent_twice_counts_once_and_changes_nothing(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.add_tick(session, tick(), remark="wet")
        before = store.facts_version(session)
    with store.writing(engine) as session:
        again = tick(at="2027-03-10T19:00:00.000Z", shown=Window(1, 2, 3))
        assert store.add_tick(session, again, remark="wet", person=None) is False
    with store.reading(engine) as session:
        assert store.ticks(session) == [tick()]
        assert store.facts_version(session) == before


@pytest.mark.parametrize(
    "other",
    [{"on": 740001}, {"kind": "let go"}, {"measures": {"kg": 2.5}}, {"key": "leek.plant"}],
)
def test_the_same_id_with_something_else_said_is_a_conflict(engine: Engine, other: dict[str, object]) -> None:
    with store.writing(engine) as session:
        store.add_tick(session, tick())
    with pytest.raises(Conflict), store.writing(engine) as session:
        store.add_tick(session, tick(**other))
    with store.reading(engine) as session:
        assert store.ticks(session) == [tick()]


def test_a_tick_on_an_entry_that_is_not_there_is_taken_down(engine: Engine) -> None:
    with store.writing(engine) as session:
        assert store.add_tick(session, tick(key="pigs.kill+pork.joint.2"))
        row = session.execute(select(TABLES["tick"].c.entry, TABLES["tick"].c.step)).one()
        assert tuple(row) == ("pigs.kill+pork", "joint")
        assert len(store.ticks(session, ["pigs.kill+pork"])) == 1


def test_ticks_come_in_the_order_in_which_they_were_said(engine: Engine) -> None:
    moments = ["2027-03-10T07:15:00Z", "2027-03-10T07:15:00.5Z", "2027-03-10T09:00:00+02:00", "2027-03-09T23:00:00Z"]
    with store.writing(engine) as session:
        for number, at in enumerate(moments):
            store.add_tick(session, tick(f"t{number}", at=at))
    with store.reading(engine) as session:
        said = store.ticks(session)
    assert [t.id for t in said] == ["t3", "t2", "t0", "t1"]
    assert [t.at for t in said] == sorted(t.at for t in said)


def test_ticks_of_one_millisecond_come_in_the_order_of_their_ids(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.add_tick(session, tick("b", at="2027-03-10T07:15:00.000100Z"))
        store.add_tick(session, tick("a", at="2027-03-10T07:15:00.000900Z"))
    with store.reading(engine) as session:
        assert [t.id for t in store.ticks(session)] == ["a", "b"]


def test_an_undo_and_what_it_answers_are_found_by_day(engine: Engine) -> None:
    with store.writing(engine) as session:
        store.add_tick(session, tick())
        store.add_tick(session, tick("t2", kind="undone", answers="t1", on=day("2027-03-12"), measures={}))
        store.add_tick(session, tick("t3", on=day("2027-03-14"), tied_to="t1"))
        on = day("2027-03-10")
        assert {said.tick.id for said in store.ticks_on(session, on, on)} == {"t1", "t2"}
        assert [t.id for t in store.tied(session, "t1")] == ["t3"]


@given(st.integers(0, 4 * 10**15).map(lambda us: datetime(1970, 1, 1, tzinfo=WEST) + timedelta(microseconds=us)))
def test_a_moment_keeps_its_milliseconds(at: datetime) -> None:
    text = moment_text(at)
    assert len(text) == 24
    assert abs(read_moment(text) - at) < timedelta(milliseconds=1)
    assert moment_text(read_moment(text)) == text


def test_a_moment_without_its_zone_is_refused(engine: Engine) -> None:
    naive = NOW.replace(tzinfo=None)
    with pytest.raises(StatementError, match="time zone"), store.writing(engine) as session:
        store.add_entry(session, leek(), now=naive)
    with pytest.raises(ValueError, match="time zone"), store.writing(engine) as session:
        store.add_tick(session, tick(at="2027-03-10T07:15:00"))


def test_people_who_leave_keep_their_ticks(engine: Engine) -> None:
    fill(engine)
    with store.writing(engine) as session:
        (person,) = store.people(session)
        assert person.id
        store.person_leaves(session, person.id, day("2027-09-01"))
    with store.reading(engine) as session:
        assert store.people(session) == []
        assert [p.name for p in store.people(session, left=True)] == ["'Tess, of the yard"]
        assert store.told(session, key="leek.sow")[-1].person == person.id


def test_who_is_away_on_some_days(engine: Engine) -> None:
    fill(engine)
    with store.writing(engine) as session:
        for first, last, found in [("21", "31", 1), ("22", "31", 0), ("01", "14", 1), ("01", "13", 0)]:
            assert len(store.absences(session, day(f"2027-08-{first}"), day(f"2027-08-{last}"))) == found
        (absence,) = store.absences(session)
        assert absence.id
        store.remove_absence(session, absence.id)
        assert store.absences(session) == []


def test_a_calendar_link_that_was_taken_back_is_none(engine: Engine) -> None:
    fill(engine)
    with store.writing(engine) as session:
        link = store.feed_link(session, "0" * 64)
        assert link
        assert link.id
        store.revoke_feed_link(session, link.id, NOW)
        assert store.feed_link(session, "0" * 64) is None
        with pytest.raises(NotFound):
            store.revoke_feed_link(session, link.id, NOW)


def test_every_change_of_facts_is_counted(engine: Engine) -> None:
    acts = [
        lambda s: store.add_entry(s, leek(), now=NOW),
        lambda s: store.change_entry(s, leek(place="x")),
        lambda s: store.strike(s, "leek"),
        lambda s: store.amend(s, Amendment("a.b+c")),
        lambda s: store.add_tick(s, tick()),
        lambda s: store.put_person(s, store.PersonRow(name="Tess")),
    ]
    for number, act in enumerate(acts, 1):
        with store.writing(engine) as session:
            act(session)
            assert store.facts_version(session) == number
