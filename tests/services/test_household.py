"""People, hours, absences, the place: facts that are kept, and days in the wrong order that are not."""

from pathlib import Path

import pytest

from app.errors import BadInput, NotFound
from app.records import store
from app.services import entries, household
from app.services.household import DAYS, Place
from tests.services.croft import HOUSE, TODAY, WHERE, croft, day, draft, windows


def test_hours_are_kept_by_weekday(tmp_path: Path) -> None:
    book = croft(tmp_path)
    who = household.add_person(book, "Invented Ann", TODAY)
    household.keep_hours(book, who, {**dict.fromkeys(DAYS, 60), "saturday": 300}, TODAY)
    with book.reading() as session:
        view = household.household(book, session, TODAY)
    assert view.people[0].minutes == (60, 60, 60, 60, 60, 300, 60)
    assert view.minutes == 660


def test_the_rounds_are_counted_out_of_the_week(tmp_path: Path) -> None:
    book = croft(tmp_path)
    entries.put_down(book, draft("laying-hens", "2027-03-01", head=6), TODAY)
    with book.reading() as session:
        view = household.household(book, session, TODAY)
        a_day = sum(one.minutes_a_day for one in store.standing_rows(session, TODAY, TODAY))
    assert a_day > 0
    assert view.round_minutes == 7 * a_day


def test_absences_lie_in_order_and_only_once(tmp_path: Path) -> None:
    book = croft(tmp_path)
    who = household.add_person(book, "Invented Ann", TODAY)
    with pytest.raises(BadInput, match="before the first day, 14 September 2027"):
        household.go_away(book, who, day("2027-09-14"), day("2027-09-10"), TODAY)
    household.go_away(book, who, day("2027-09-14"), day("2027-09-21"), TODAY)
    with pytest.raises(BadInput, match="14 September 2027 to 21 September 2027 already"):
        household.go_away(book, who, day("2027-09-20"), day("2027-09-25"), TODAY)
    with book.reading() as session:
        away = household.household(book, session, TODAY).people[0].away
    assert [(one.first.toordinal(), one.last.toordinal()) for one in away] == [(day("2027-09-14"), day("2027-09-21"))]
    household.stay_after_all(book, away[0].id, TODAY)
    with pytest.raises(NotFound, match="already taken back"):
        household.stay_after_all(book, away[0].id, TODAY)


def test_two_of_one_name_are_refused(tmp_path: Path) -> None:
    book = croft(tmp_path)
    household.add_person(book, "Invented Ann", TODAY)
    with pytest.raises(BadInput, match="already"):
        household.add_person(book, "invented ann", TODAY)


def test_who_leaves_is_off_the_list(tmp_path: Path) -> None:
    book = croft(tmp_path)
    who = household.add_person(book, "Invented Ann", TODAY)
    household.leave(book, who, TODAY)
    with book.reading() as session:
        assert household.household(book, session, TODAY).people == ()
        assert [row.name for row in store.people(session, left=True)] == ["Invented Ann"]
    with pytest.raises(NotFound):
        household.keep_hours(book, who, dict.fromkeys(DAYS, 0), TODAY)


def test_a_place_put_right_moves_every_date(tmp_path: Path) -> None:
    book = croft(tmp_path)
    ident = entries.put_down(book, draft(date="2027-03-20"), TODAY)
    before = windows(book, ident)
    household.keep_holding(book, Place(WHERE, HOUSE._replace(last_frost="--06-15")), TODAY)
    after = windows(book, ident)
    assert after != before
    household.keep_holding(book, Place(WHERE, HOUSE), TODAY)
    assert windows(book, ident) == before


def test_another_nation_has_another_law(tmp_path: Path) -> None:
    book = croft(tmp_path, "hedge")
    with book.reading() as session:
        english = {(bar.by, bar.says) for bar in book.live(session, TODAY).planner.land(TODAY, TODAY + 400)}
    household.keep_holding(book, Place(WHERE._replace(nation="ireland"), HOUSE), TODAY)
    with book.reading() as session:
        irish = {(bar.by, bar.says) for bar in book.live(session, TODAY).planner.land(TODAY, TODAY + 400)}
    assert english != irish
    household.keep_holding(book, Place(WHERE._replace(nation=""), HOUSE), TODAY)
    with book.reading() as session:
        assert book.live(session, TODAY).planner.land(TODAY, TODAY + 400) == []


def test_the_calendars_identifiers_outlive_a_change_of_the_place(tmp_path: Path) -> None:
    book = croft(tmp_path)
    with book.reading() as session:
        made = book.holding(session).created_at
    household.keep_holding(book, Place(WHERE._replace(name="Renamed"), HOUSE), TODAY)
    with book.reading() as session:
        assert book.holding(session).created_at == made
        assert book.holding(session).name == "Renamed"
