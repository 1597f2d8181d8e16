"""A phone's box: each operation counts once, in order, and what can't be taken down is said; nothing is lost.

Sources: RFC 9110, 15.5 (client errors); RFC 8259 (JSON). Days are counted by hand on the made-up holding.
"""

import json
from collections.abc import Iterator, Mapping
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from app.records import store
from app.records.tables import TABLES
from app.services.book import Book
from app.services.ticking import Words, tick
from app.services.weather.weather import Reading, reading_of
from tests.web.holding import NOW, TODAY, TestClient, app, day, rows


@pytest.fixture
def web(tmp_path: Path) -> Iterator[TestClient]:
    with TestClient(app(tmp_path), base_url="http://localhost", headers={"Origin": "http://localhost"}) as client:
        yield client


def book_of(web: TestClient) -> Book:
    found: Book = web.app.state.book  # type: ignore[attr-defined]  # Starlette's client knows only that it is an app
    return found


def op(
    number: int, path: str = "/tick", on: str = "2027-09-15", *, sure: bool = False, **fields: str
) -> dict[str, Any]:
    """An operation as the script makes it; its moment is an hour before the server's now."""
    made = f"{on}T07:00:00+00:00"
    pairs = [[name.replace("__", "."), value] for name, value in fields.items()]
    return {"id": f"{number:032x}", "path": path, "fields": pairs, "on": on, "made_at": made, "sure": sure}


def send(web: TestClient, *ops: Mapping[str, Any]) -> list[dict[str, Any]]:
    answer = web.post("/outbox", json={"ops": list(ops)})
    assert answer.status_code == 200, answer.text
    found: list[dict[str, Any]] = answer.json()["answers"]
    assert [one["id"] for one in found] == [one["id"] for one in ops]
    return found


def came(answers: list[dict[str, Any]]) -> list[str]:
    return [one["came"] for one in answers]


def ticks(web: TestClient) -> list[tuple[str, str, str]]:
    table = TABLES["tick"]
    with store.reading(book_of(web).engine) as session:
        found = session.execute(
            select(table.c.id, table.c.kind, table.c.on_day).where(table.c.tied_to == "", table.c.id != "sown")
        )
        return sorted((ident, kind, str(on)) for ident, kind, on in found)


def test_each_counts_once_however_often_and_in_whatever_parts_it_comes(web: TestClient) -> None:
    ops = [op(1, key="late-beet.sow", on="2027-09-14"), op(2, "/letgo", key="early-beet.thin", reason="slugs")]
    assert came(send(web, *ops)) == ["done", "done"]
    first = ticks(web)
    assert [one[1:] for one in first] == [("done", "2027-09-14"), ("let go", "2027-09-15")]
    assert came(send(web, *ops)) == ["before", "before"]
    assert came(send(web, ops[1], ops[1], ops[0])) == ["before"] * 3
    assert ticks(web) == first
    # Sown on the 14th, so thinned four weeks later.
    assert rows(book_of(web))["late-beet.thin"].best == day("2027-10-12")


def test_an_answer_that_was_lost_on_the_way_of_the_page_itself_changes_nothing(web: TestClient) -> None:
    one = op(1, key="late-beet.sow")
    web.post("/tick", data={"key": "late-beet.sow", "id": one["id"]})
    first = ticks(web)
    assert came(send(web, one)) == ["before"]
    assert ticks(web) == first


def test_the_same_id_with_another_body_is_refused_and_the_first_is_kept(web: TestClient) -> None:
    send(web, op(1, key="late-beet.sow"))
    (answer,) = send(web, op(1, key="early-beet.thin"))
    assert (answer["came"], answer["code"]) == ("refused", 409)
    assert "something else" in answer["says"]
    assert len(ticks(web)) == 1


def test_one_that_is_refused_stops_no_other(web: TestClient) -> None:
    found = send(
        web, op(1, key="nobody.sow"), op(2, "/away", key="x"),
        op(3, key="late-beet.sow"), op(4, "/evening", numbers="one"),
        op(5, "/household", name="x"), op(6, key="late-beet.thin", m__kg="lots"),
    )  # fmt: skip
    assert came(found) == ["refused", "refused", "done", "refused", "refused", "refused"]
    assert all(one["says"] for one in found)
    assert [one[0][-1] for one in ticks(web)] == ["3"]
    # A refused one is not remembered: put right, it is taken.
    assert came(send(web, op(6, key="late-beet.thin", m__kg="2"))) == ["done"]


def test_a_failure_nobody_foresaw_stays_on_the_phone_and_stops_no_other(
    web: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = Book.replan_ticks

    def failing(self: Book, session: Any, said: Any, today: int) -> frozenset[str]:
        found = whole(self, session, said, today)
        if said[0].key == "early-beet.thin":
            raise RuntimeError("made up")
        return found

    monkeypatch.setattr(Book, "replan_ticks", failing)
    ops = [op(1, key="late-beet.sow"), op(2, key="early-beet.thin"), op(3, key="late-beet.thin")]
    found = send(web, *ops)
    assert came(found) == ["done", "later", "done"]
    assert [one[0][-1] for one in ticks(web)] == ["1", "3"]
    monkeypatch.undo()
    before = rows(book_of(web))
    assert came(send(web, *ops)) == ["before", "done", "before"]
    assert rows(book_of(web)) != before


@pytest.mark.parametrize(
    ("on", "says"),
    [
        ("2031-05-02", "It says 2 May 2031; when was it?"),
        ("2026-09-15", "It says 15 Sep 2026; when was it?"),
        ("2027-09-18", "It says 18 Sep 2027; when was it?"),
        ("2027-09-12", "It says 12 Sep 2027; when was it?"),
        ("soon", "It gives no day; when was it?"),
    ],
)
def test_a_clock_that_is_wrong_is_asked_and_not_trusted(web: TestClient, on: str, says: str) -> None:
    (answer,) = send(web, op(1, key="late-beet.sow", on=on))
    assert (answer["came"], answer["says"], answer["day"]) == ("asked", says, "2027-09-15")
    assert ticks(web) == []
    assert came(send(web, op(1, key="late-beet.sow", on="2027-09-10", sure=True))) == ["done"]
    assert ticks(web)[0][2] == "2027-09-10"


def test_a_day_given_that_has_not_come_is_asked_for_again(web: TestClient) -> None:
    assert came(send(web, op(1, key="late-beet.sow", on="2027-09-17", sure=True))) == ["asked"]


def test_within_two_days_the_phone_is_believed_and_tomorrow_there_is_today_here(web: TestClient) -> None:
    assert came(send(web, op(1, key="late-beet.sow", on="2027-09-16"))) == ["done"]
    assert came(send(web, op(2, key="early-beet.thin", on="2027-09-13"))) == ["done"]
    assert [one[2] for one in ticks(web)] == ["2027-09-15", "2027-09-13"]


def test_two_phones_with_the_same_job_are_both_told_who_was_first(web: TestClient) -> None:
    book = book_of(web)
    with book.reading() as session:
        person = book.house(session).people[0]
    tick(book, "late-beet.sow", TODAY, tick_id="a", words=Words(person=person.id), at=NOW - timedelta(minutes=20))
    (answer,) = send(web, op(1, key="late-beet.sow"))
    assert answer["came"] == "first"
    # 7.40 UTC is 8.40 in a British summer.
    assert f"{person.name} did it at 8.40." in answer["says"]
    assert [one[0] for one in ticks(web)] == ["a"]
    assert came(send(web, op(1, key="late-beet.sow"))) == ["first"]
    # The page's own way tells the same.
    page = web.post("/tick", data={"key": "late-beet.sow", "id": "z"}, headers={"HX-Request": "true"})
    assert f"{person.name} did it at 8.40." in page.text
    # What says more about it is taken down beside it.
    assert came(send(web, op(2, key="late-beet.sow", remark="in drills"))) == ["done"]


def test_a_job_that_moved_or_was_struck_meanwhile_is_taken_down_and_explained(web: TestClient) -> None:
    (answer,) = send(web, op(1, key="late-beet.thin", shown="2027-01-01/2027-01-02/2027-01-03"))
    assert answer["came"] == "done"
    assert "Its days had moved since the phone saw it" in answer["says"]
    web.post("/entry/early-beet/strike")
    (answer,) = send(web, op(2, key="early-beet.thin"))
    assert answer["came"] == "done"
    assert "no longer follows" in answer["says"]
    assert len(ticks(web)) == 2


def test_an_undo_follows_its_tick_in_one_piece_and_of_what_never_came_is_no_trouble(web: TestClient) -> None:
    before = rows(book_of(web))
    answers = f"{1:032x}"
    ops = [op(1, key="late-beet.sow"), op(2, "/undo", key="late-beet.sow", answers=answers)]
    assert came(send(web, *ops)) == ["done", "done"]
    assert rows(book_of(web)) == before
    assert came(send(web, op(3, "/undo", key="late-beet.sow", answers=answers))) == ["before"]
    assert came(send(web, op(4, "/undo", key="late-beet.sow", answers="f" * 32))) == ["before"]
    assert came(send(web, *ops)) == ["before", "before"]


def test_jobs_of_one_entry_follow_each_other_in_one_piece_as_they_do_one_by_one(
    web: TestClient, tmp_path: Path
) -> None:
    ops = [op(1, key="late-beet.sow", on="2027-09-14"), op(2, key="late-beet.thin"), op(3, key="late-beet.lift")]
    send(web, *ops)
    (tmp_path / "other").mkdir()
    with TestClient(
        app(tmp_path / "other"), base_url="http://localhost", headers={"Origin": "http://localhost"}
    ) as one:
        for each in ops:
            send(one, each)
        assert rows(book_of(one)) == rows(book_of(web))
        assert ticks(one) == ticks(web)


def test_readings_counts_and_what_is_taken_from_the_larder_count_once(web: TestClient) -> None:
    put = {"what": "jam", "made_on": "2027-08-20", "amount": "9", "unit": "jars", "place": "shelf"}
    where = web.post("/larder/add", data=put, follow_redirects=False).headers["location"].partition("?")[0]
    ops = [
        op(1, f"{where}/take", kind="used", amount="2"),
        op(2, f"{where}/back", amount="1"),
        op(3, "/weather/reading", day="2027-09-15", min_c="4", max_c="15", rain_mm=""),
        op(4, "/evening", numbers=""),
        op(5, f"{where}/take", kind="used", amount="lots"),
    ]
    for again in ("done", "before"):
        found = send(web, *ops)
        assert came(found) == [again, again, again, "refused", "refused"]
        assert "number" in found[4]["says"].lower()
        assert "8\u00a0jars" in web.get(where).text
    with book_of(web).reading() as session:
        assert reading_of(session, TODAY) == Reading(4.0, 15.0, None)


def test_the_weather_where_a_thing_lies_and_a_job_moved_are_kept_too(web: TestClient) -> None:
    put = {"what": "jam", "made_on": "2027-08-20", "amount": "9", "unit": "jars", "place": "shelf"}
    where = web.post("/larder/add", data=put, follow_redirects=False).headers["location"].partition("?")[0]
    web.post(f"{where}/take", data={"kind": "used", "amount": "2", "id": "b" * 32})
    ops = [
        op(1, "/today/weather", day="2027-09-15", say="wet yes"),
        op(2, f"{where}/mark", place="freezer", killed=""),
        op(3, f"{where}/unsay", fact="b" * 32),
        op(4, "/move") | {"fields": [["key", "late-beet.sow"], ["on", "2027-09-20"]]},
        op(5, "/move") | {"fields": [["key", "late-beet.sow"], ["on", "2027-10-20"]]},
        op(6, "/today/weather", day="2027-09-15", say="hail yes"),
    ]
    for again in ("done", "before"):
        found = send(web, *ops)
        assert came(found) == [again, again, again, again, "refused", "refused"]
    # Sown by 27 September: later is a risk, which is asked on the job's own page and not taken unasked.
    assert "It was not moved. Its last day is 27 September" in found[4]["says"]
    page = web.get(where).text
    assert "9\u00a0jars" in page
    assert "freezer" in page.lower()
    assert [one[1:] for one in ticks(web)] == [("moved", "2027-09-20")]
    assert 'aria-pressed="true" aria-label="Today: wet"' in web.get("/today").text


def test_a_reading_that_was_kept_does_not_overwrite_a_later_one(web: TestClient) -> None:
    web.post("/weather/reading", data={"day": "2027-09-15", "min_c": "6", "max_c": "15"})
    (answer,) = send(web, op(1, "/weather/reading", day="2027-09-15", min_c="4", max_c="15", rain_mm=""))
    assert answer["came"] == "refused"
    assert "typed last" in answer["says"]


def test_the_same_put_back_by_a_plain_form_counts_once(web: TestClient) -> None:
    put = {"what": "jam", "made_on": "2027-08-20", "amount": "9", "unit": "jars"}
    where = web.post("/larder/add", data=put, follow_redirects=False).headers["location"].partition("?")[0]
    for _ in range(2):
        answer = web.post(f"{where}/back", data={"amount": "1", "id": "a" * 32}, follow_redirects=False)
        assert answer.status_code == 303
    assert "10\u00a0jars" in web.get(where).text


@pytest.mark.parametrize(
    "body",
    [
        b"", b"{", b"[]", b"null", b'{"ops": 3}', b'{"ops": [3]}', b'{"ops": [{}]}', b"\xff\xfe", b"[" * 100_000,
        json.dumps({"ops": [{"id": "A" * 32, "path": "/tick", "fields": []}]}).encode(),
        json.dumps({"ops": [{"id": "a" * 32, "path": "/tick", "fields": [["key"]]}]}).encode(),
        json.dumps({"ops": [{"id": "a" * 32, "path": 3, "fields": []}]}).encode(),
    ],
)  # fmt: skip
def test_what_can_t_be_read_is_said_and_changes_nothing(web: TestClient, body: bytes) -> None:
    answer = web.post("/outbox", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 400
    assert "Nothing was taken down" in answer.json()["says"]


def test_odd_texts_bring_nothing_down(web: TestClient) -> None:
    body = b'{"ops": [{"id": "%s", "path": "/tick", "on": "2027-09-15", "fields": [["key", "\\ud800"]]}]}'
    assert web.post("/outbox", content=body % (b"a" * 32)).json()["answers"][0]["came"] == "asked"
    assert came(send(web, op(1, key="late-beet.sow", remark="\U0001f414 \x00 hens"))) == ["done"]
    assert came(send(web, op(2, key="\x00"), op(3, "/larder/\x00/take", amount="1"))) == ["refused", "refused"]


def test_501_at_once_are_too_many_and_none_is_taken_down(web: TestClient) -> None:
    answer = web.post("/outbox", json={"ops": [op(n, key="late-beet.sow") for n in range(501)]})
    assert answer.status_code == 422
    assert ticks(web) == []
    assert send(web) == []


def test_from_elsewhere_nothing_is_taken(web: TestClient) -> None:
    body = {"ops": [op(1, key="late-beet.sow")]}
    assert web.post("/outbox", json=body, headers={"Origin": "http://elsewhere"}).status_code == 403
    assert web.get("/outbox").status_code == 405
