"""The household's own ways told, struck out and kept; only whom they concern is planned again."""

from datetime import date
from pathlib import Path

import pytest

from app.errors import BadInput, NotFound
from app.records import store
from app.rules.spans import Span
from app.services import own_ways
from app.services.own_ways import NewWay
from tests.web.holding import TODAY, book, day, entry, rows


def later(days: float = 21, **more: object) -> NewWay:
    return NewWay(**{"scope": "holding", "sheet": "test-beet", "what": "days", "amount": days, "step": "thin"} | more)  # type: ignore[arg-type]


def test_three_weeks_later_moves_every_beet_that_is_not_thinned(tmp_path: Path) -> None:
    """Sown 16 August, thinned four weeks on, 13 September; three weeks later is 4 October, lifted eight weeks on."""
    made = book(tmp_path)
    before = rows(made)
    told = own_ways.tell(made, later(), TODAY)
    after = rows(made)
    assert before["early-beet.thin"].best == day("2027-09-13")
    assert after["early-beet.thin"].best == day("2027-10-04")
    assert after["early-beet.lift"].best == day("2027-11-29")
    assert {key: row for key, row in after.items() if "pig" in key} == {k: r for k, r in before.items() if "pig" in k}
    assert (told.entries, told.jobs) == (2, 4)
    with made.reading() as session:
        known = own_ways.known_ways(made, session, TODAY)
    assert [(one.way.amount, one.concerns, one.sheet.title) for one in known if one.sheet] == [(21, 2, "Beet")]


def test_struck_out_all_is_as_it_was_and_back_again(tmp_path: Path) -> None:
    made = book(tmp_path)
    before = rows(made)
    told = own_ways.tell(made, later(), TODAY)
    moved = rows(made)
    own_ways.put_back(made, told.way.id, TODAY, struck=True)
    assert rows(made) == before
    own_ways.put_back(made, told.way.id, TODAY, struck=False)
    assert rows(made) == moved
    with pytest.raises(NotFound):
        own_ways.put_back(made, 99, TODAY, struck=True)


def test_a_plan_made_anew_is_the_same(tmp_path: Path) -> None:
    made = book(tmp_path)
    own_ways.tell(made, later(), TODAY)
    own_ways.tell(made, later(-7, scope="entry", entry="late-beet", step="lift"), TODAY)
    said = rows(made)
    with made.writing() as session:
        store.drop_projection(session)
    made.forget()
    with made.writing() as session:
        made.replan(session, None, TODAY)
    assert rows(made) == said


def test_what_cannot_be_is_said_beside_its_field(tmp_path: Path) -> None:
    made = book(tmp_path)
    before = rows(made)
    for wrong, field in (
        (later(0), "amount"),
        (later(None), "amount"),  # type: ignore[arg-type]
        (later(4000), "amount"),
        (later(scope="variety"), "variety"),
        (later(scope="entry", entry="two-pigs"), "entry"),
        (later(step="sow"), "step"),
        (later(step="nothing"), "step"),
        (later(sheet="test-pen", step="report"), "step"),
        (later(sheet="test-pen", step="vet"), "step"),
        (later(what="keeps_days", step="thin"), "step"),
        (later(None, what="keeps_days", step="thin", until_month=3, scope="entry", entry="gone"), "entry"),  # type: ignore[arg-type]
    ):
        with pytest.raises(BadInput) as caught:
            own_ways.tell(made, wrong, TODAY)
        assert list(caught.value.fields) == [field], wrong
    with pytest.raises(NotFound):
        own_ways.tell(made, later(sheet="no-such"), TODAY)
    assert rows(made) == before


def test_what_may_be_shifted_is_neither_law_nor_agreed_nor_daily(tmp_path: Path) -> None:
    made = book(tmp_path)
    pen = made.library.sheets["test-pen"]
    assert [step.id for step in own_ways.may_shift(pen)] == ["worm", "kill"]
    assert own_ways.may_keep(pen) == []


def test_bramley_keeps_till_the_end_of_march(tmp_path: Path) -> None:
    """Picked on some day of September or October, it keeps until 31 March; another variety as the sheet says."""
    trees = [
        entry("bramley", "apple", "2025-11-20")._replace(facts={"date": day("2025-11-20"), "variety": "Bramley"}),
        entry("cox", "apple", "2025-11-20")._replace(facts={"date": day("2025-11-20"), "variety": "Cox"}),
    ]
    made = book(tmp_path, trees)
    keeps = next(step.id for step in own_ways.may_keep(made.library.sheets["apple"]))
    way = NewWay("variety", "apple", "keeps_days", None, keeps, variety="bramley", until_month=3)
    told = own_ways.tell(made, way, TODAY)
    with made.reading() as session:
        live = made.live(session, TODAY)
        picked = min(t.best for t in live.laid["bramley"].tasks if t.step == keeps and t.best)
        sheets = {name: live.planner.sheet_of(live.laid[name].entry) for name in ("bramley", "cox")}
    until = date.fromordinal(picked + int(told.way.amount))
    assert (until.month, until.day) == (3, 31)
    spans = {
        name: next(step.makes[0].keeps for step in sheet.steps if step.id == keeps)
        for name, sheet in sheets.items()
        if sheet
    }
    assert spans["bramley"] == Span(0, int(told.way.amount))
    assert spans["cox"] != spans["bramley"]
    assert told.jobs == 0, "how long it keeps moves no day"
