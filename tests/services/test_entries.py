"""Putting down, changing, striking, ending: what was seen is saved, and what happened is a fact."""

from pathlib import Path

import pytest

from app.errors import BadInput, Conflict, NotFound
from app.records import store
from app.services import entries
from app.services.choose import choosable
from app.services.ticking import tick, undo
from app.services.what_there_is import what_there_is, whole
from tests.services.croft import TODAY, croft, day, draft, windows


def test_looking_saves_nothing(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with book.reading() as session:
        version = store.facts_version(session)
        looked = entries.look_new(book, session, draft(), TODAY)
        assert looked.laid.tasks
        assert store.entries(session) == []
        assert store.facts_version(session) == version
        assert not book.planned(session, TODAY).tasks


def test_what_was_seen_is_what_is_saved(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with book.reading() as session:
        looked = entries.look_new(book, session, draft(), TODAY)
    ident = entries.put_down(book, draft(), TODAY, looked.seen)
    seen = {task.key: (task.opens, task.best, task.closes, task.done) for task in looked.laid.tasks}
    assert windows(book, ident) == seen


def test_dates_that_were_not_seen_are_not_saved(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with pytest.raises(Conflict, match="look at them once more"):
        entries.put_down(book, draft(), TODAY, "something else")
    with book.reading() as session:
        assert store.entries(session) == []


def test_a_sowing_whose_day_has_come_is_taken_down_as_sown(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-01"), TODAY)
    assert windows(book, ident)[f"{ident}.sow"][3] == day("2027-03-01")
    with book.reading() as session:
        assert [(one.key, one.kind, one.on) for one in store.ticks(session)] == [
            (f"{ident}.sow", "done", day("2027-03-01"))
        ]


def test_a_sowing_to_come_is_not(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-20"), TODAY)
    assert windows(book, ident)[f"{ident}.sow"][3] is None


def test_a_day_put_right_takes_the_sowing_with_it(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-01"), TODAY)
    entries.change(book, ident, draft(date="2027-02-20"), TODAY)
    assert windows(book, ident)[f"{ident}.sow"][3] == day("2027-02-20")
    entries.change(book, ident, draft(date="2027-03-25"), TODAY)
    assert windows(book, ident)[f"{ident}.sow"][3] is None
    entries.change(book, ident, draft(date="2027-03-05"), TODAY)
    assert windows(book, ident)[f"{ident}.sow"][3] == day("2027-03-05")


def test_a_tick_of_the_households_own_stays_when_the_day_is_put_right(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-20"), TODAY)
    tick(book, f"{ident}.sow", TODAY, on=day("2027-03-09"), tick_id="own")
    entries.change(book, ident, draft(date="2027-03-02"), TODAY)
    assert windows(book, ident)[f"{ident}.sow"][3] == day("2027-03-09")


def test_a_tick_on_the_old_day_goes_with_the_day_that_is_put_right(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-20"), TODAY)
    entries.change(book, ident, draft(date="2027-03-09"), TODAY)
    said = next(one for one in windows(book, ident) if one.endswith(".sow"))
    assert windows(book, ident)[said][3] == day("2027-03-09")
    with book.reading() as session:
        stands = store.ticks(session)[-1].id
    undo(book, stands, TODAY, tick_id="taken-back")
    tick(book, said, TODAY, on=day("2027-03-09"), tick_id="by-hand")
    entries.change(book, ident, draft(date="2027-03-07"), TODAY)
    assert windows(book, ident)[said][3] == day("2027-03-07")


def test_two_of_a_kind_have_ids_of_their_own(tmp_path: Path) -> None:
    book = croft(tmp_path)
    assert [entries.put_down(book, draft(), TODAY) for _ in range(2)] == ["leek-seed", "leek-seed-2"]


def test_a_bed_that_is_taken_is_said_before_it_is_saved(tmp_path: Path) -> None:
    book = croft(tmp_path)
    entries.put_down(book, draft(place="Long bed", date="2027-03-20"), TODAY)
    with book.reading() as session:
        looked = entries.look_new(book, session, draft("leek-seed", "2027-04-01", place="Long bed"), TODAY)
    assert any("Leeks stand here" in bar.says for bar in looked.bars)


def test_two_in_flower_at_once_are_said_before_they_are_saved(tmp_path: Path) -> None:
    book = croft(tmp_path)
    first = entries.put_down(book, draft(), TODAY)
    with book.reading() as session:
        looked = entries.look_new(book, session, draft(date="2027-03-05"), TODAY)
    assert {first} <= {clash.one for clash in looked.clashes} | {clash.other for clash in looked.clashes}


def test_what_would_move_is_what_moves(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-01"), TODAY)
    before = windows(book, ident)
    with book.reading() as session:
        looked = entries.look_later(book, session, ident, 7, TODAY)
        assert windows(book, ident) == before
    entries.change(book, ident, draft(date="2027-03-08"), TODAY)
    after = windows(book, ident)
    moved = {move.key for move in looked.moves if move.now is not None}
    assert moved
    assert moved == {key for key in after if after[key][3] is None and before.get(key) != after[key]}


def test_a_struck_entry_asks_nothing_and_keeps_its_ticks(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(), TODAY)
    before = windows(book, ident)
    entries.strike(book, ident, TODAY)
    assert windows(book, ident) == {}
    with book.reading() as session:
        assert len(store.ticks(session)) == 1
        assert what_there_is(book, session, TODAY).over == 1
        assert what_there_is(book, session, TODAY).shown == ()
    with pytest.raises(Conflict, match="struck out already"):
        entries.strike(book, ident, TODAY)
    with pytest.raises(Conflict, match="bring it back"):
        entries.change(book, ident, draft(), TODAY)
    entries.bring_back(book, ident, TODAY)
    assert windows(book, ident) == before


def test_a_phone_that_still_shows_a_struck_entry_is_heard(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(), TODAY)
    entries.strike(book, ident, TODAY)
    tick(book, f"{ident}.plant", TODAY, tick_id="from-the-yard")
    with book.reading() as session:
        assert store.tick(session, "from-the-yard") is not None
    entries.bring_back(book, ident, TODAY)
    assert windows(book, ident)[f"{ident}.plant"][3] == TODAY


def test_an_ended_entry_asks_nothing_after_its_last_day(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(), TODAY)
    last = day("2027-08-01")
    entries.end(book, ident, last, TODAY)
    assert all(window[0] is None or window[0] <= last for window in windows(book, ident).values())  # type: ignore[operator]
    entries.bring_back(book, ident, TODAY)
    assert any(window[0] is not None and window[0] > last for window in windows(book, ident).values())  # type: ignore[operator]


def test_an_entry_does_not_end_before_it_began(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-01"), TODAY)
    with pytest.raises(BadInput, match="before it began, on 1 March 2027"):
        entries.end(book, ident, day("2027-02-01"), TODAY)


def test_what_was_never_put_down_is_not_found(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with book.reading() as session:
        with pytest.raises(NotFound):
            whole(book, session, "nothing", TODAY)
        with pytest.raises(NotFound, match="job that made it"):
            whole(book, session, "pigs.kill+pork", TODAY)
        with pytest.raises(NotFound, match="no sheet called 'no-such'"):
            entries.look_new(book, session, draft("no-such"), TODAY)
    with pytest.raises(NotFound):
        entries.strike(book, "nothing", TODAY)


def test_the_list_is_searched_by_name_place_and_open_jobs(tmp_path: Path) -> None:
    book = croft(tmp_path, "gutters", "rendered-wall")
    entries.put_down(book, draft(name="Musselburgh", place="Long bed"), TODAY)
    with book.reading() as session:

        def found(words: str) -> list[str]:
            return [thing.entry.id for thing in what_there_is(book, session, TODAY, words=words).shown]

        assert found("mussel") == ["leek-seed"]
        assert found("long BED") == ["leek-seed"]
        assert found("hoppers") == ["gutters"]
        assert found("plant out dibbed") == ["leek-seed"]
        assert found("zebra") == []
        upkeep = what_there_is(book, session, TODAY, trade="upkeep").shown
        assert {thing.entry.id for thing in upkeep} == {"gutters", "rendered-wall"}


def test_found_sheets_stand_apart(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with book.reading() as session:
        seen = {one.sheet.id for one in choosable(book, session, TODAY, found=True)}
        others = {one.sheet.id for one in choosable(book, session, TODAY)}
    assert "potato-blight" in seen
    assert not seen & others
    assert seen | others == set(book.library.sheets)


def test_what_a_job_made_is_amended_and_not_changed(tmp_path: Path) -> None:
    book = croft(tmp_path)
    pigs = entries.put_down(book, draft("weaners", "2026-11-01", name="Two weaners"), TODAY)
    with book.reading() as session:
        made = [laid.entry for laid in book.planned(session, TODAY).laid.values() if laid.entry.made_by]
    assert made, "weaners make a carcase to cut up"
    one = made[0]
    sheet = book.library.sheets[one.sheet]
    kept = {name: value for name, value in one.facts.items() if name in sheet.facts and name != "date"}
    entries.change(book, one.id, draft(one.sheet)._replace(name="The pork", place="Larder", facts=kept), TODAY)
    with book.reading() as session:
        laid = book.planned(session, TODAY).laid[one.id]
        assert (laid.entry.name, laid.entry.place) == ("The pork", "Larder")
        assert laid.entry.facts["date"] == one.facts["date"]
        assert [entry.id for entry in store.entries(session)] == [pigs]
        with pytest.raises(Conflict, match="job that made it"):
            entries.look_later(book, session, one.id, 7, TODAY)
    entries.strike(book, one.id, TODAY)
    assert windows(book, one.id) == {}
    entries.bring_back(book, one.id, TODAY)
    assert windows(book, one.id)
