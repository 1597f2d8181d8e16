"""Calendar links: what a reader gets, when it changes, and that a stopped one is gone."""

import re
from datetime import date, timedelta
from pathlib import Path

import ics
import pytest
import vobject

from app.errors import NotFound
from app.records import store
from app.services import entries, feed_links, feeds, secret
from app.services.book import Book
from app.services.feed_links import Options
from app.services.household import go_away
from app.services.ticking import Words, tick, undo
from tests.feed.sample import unfolded, value
from tests.feed.sound import faults
from tests.services.croft import TODAY, Clock, croft, draft, windows

BASE = "http://192.0.2.7:8000"


def written(book: Book, options: Options = Options()) -> bytes:  # noqa: B008
    with book.reading() as session:
        return feeds.write(book, session, options, base=BASE).body


def events(data: bytes) -> dict[str, list[str]]:
    """The lines of every event or to-do by its identifier."""
    text = "\n".join(unfolded(data))
    found = {}
    for block in re.findall(r"BEGIN:(?:VEVENT|VTODO)\n.*?END:(?:VEVENT|VTODO)", text, flags=re.S):
        lines = block.split("\n")
        found[value(lines, "UID")[0]] = lines
    return found


def by_summary(data: bytes, words: str) -> dict[str, list[str]]:
    return {uid: lines for uid, lines in events(data).items() if words in value(lines, "SUMMARY")[0]}


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def book(tmp_path: Path, clock: Clock) -> Book:
    made = croft(tmp_path, "gutters", "rendered-wall", clock=clock)
    entries.put_down(made, draft(date="2027-03-20"), TODAY)
    return made


@pytest.mark.parametrize("todos", [False, True])
def test_two_readers_take_it_in(book: Book, todos: bool) -> None:
    text = written(book, Options(done=True, todos=todos, alarm=True)).decode()
    vobject.readOne(text).validate(raiseException=True)
    assert faults(text.encode()) == []
    read = ics.Calendar(text)
    assert len(read.todos if todos else read.events) == len(events(text.encode())) > 10


def test_every_open_job_of_the_coming_year_stands_in_it_once(book: Book) -> None:
    found = events(written(book))
    with book.reading() as session:
        tasks = [
            task
            for task in book.planned(session, TODAY).tasks
            if task.done is None and task.opens is not None and task.closes is not None and task.fate.value == ""
            and task.closes >= TODAY and task.opens <= TODAY + feeds.AHEAD_DAYS
        ]  # fmt: skip
    urls = {value(lines, "URL")[0] for lines in found.values()}
    assert len(urls) == len(found)
    assert {f"{BASE}/job/{task.key}" for task in tasks} <= urls


@pytest.mark.published
def test_the_same_facts_give_the_same_bytes_later(book: Book, clock: Clock) -> None:
    # RFC 5545, 3.8.7.2: a stamp is when the job was revised, and not when the calendar was written.
    before = written(book)
    clock.at += timedelta(minutes=90)
    assert written(book) == before


@pytest.mark.published
def test_a_job_that_moves_keeps_its_identifier_and_counts_on(book: Book, clock: Clock) -> None:
    # RFC 5545, 3.8.4.7 (UID), 3.8.7.4 (SEQUENCE rises with a revision), 3.8.7.3 (LAST-MODIFIED).
    [(uid, before)] = by_summary(written(book), "Look for seedlings").items()
    clock.at += timedelta(hours=1)
    entries.change(book, "leek-seed", draft(date="2027-04-20"), TODAY)
    [(same, after)] = by_summary(written(book), "Look for seedlings").items()
    assert same == uid
    assert value(after, "DTSTART") != value(before, "DTSTART")
    assert int(value(after, "SEQUENCE")[0]) > int(value(before, "SEQUENCE")[0])
    assert value(after, "LAST-MODIFIED") == value(after, "DTSTAMP") == ["20270310T090000Z"]
    assert value(before, "LAST-MODIFIED") == ["20270310T080000Z"]


def test_a_ticked_job_leaves_the_open_calendar_and_is_marked_in_the_other(book: Book) -> None:
    key = "gutters.spring" if "gutters.spring" in windows(book, "gutters") else next(iter(windows(book, "gutters")))
    url = f"{BASE}/job/{key}"
    said = tick(book, key, TODAY, tick_id="one")
    assert all(value(lines, "URL") != [url] for lines in events(written(book)).values())
    every = [lines for lines in events(written(book, Options(done=True))).values() if value(lines, "URL") == [url]]
    assert len(every) == 1
    assert value(every[0], "SUMMARY")[0].startswith("✓ ")
    assert "DTSTART;VALUE=DATE:20270310" in every[0]
    undo(book, said.tick_id, TODAY)
    assert any(value(lines, "URL") == [url] for lines in events(written(book)).values())


@pytest.mark.published
def test_what_is_gone_is_called_off_for_a_while(book: Book, clock: Clock) -> None:
    # RFC 5545, 3.8.1.11: CANCELLED.
    before = by_summary(written(book), "Look for seedlings")
    clock.at += timedelta(hours=1)
    entries.strike(book, "leek-seed", TODAY)
    after = by_summary(written(book), "Look for seedlings")
    assert after.keys() == before.keys()
    for uid, lines in after.items():
        assert value(lines, "STATUS") == ["CANCELLED"]
        assert int(value(lines, "SEQUENCE")[0]) > int(value(before[uid], "SEQUENCE")[0])
        assert value(lines, "CATEGORIES") == ["Garden"]


def test_by_trade(book: Book) -> None:
    garden = events(written(book, Options(trades=("garden",))))
    assert {value(lines, "CATEGORIES")[0] for lines in garden.values()} == {"Garden"}
    assert len(garden) < len(events(written(book)))
    assert events(written(book, Options(trades=("livestock",)))) == {}


def test_for_a_person(book: Book) -> None:
    """Jobs are nobody's; a person's calendar leaves out what passes while they are away, and what others did."""
    with book.writing() as session:
        ana, bo = (store.put_person(session, store.PersonRow(name=name)).id for name in ("Invented Ana", "Invented Bo"))
    every = events(written(book))
    first = min(value(lines, "DTSTART")[0] for lines in every.values())
    begin = date.fromisoformat(f"{first[:4]}-{first[4:6]}-{first[6:8]}").toordinal()
    go_away(book, ana or 0, max(begin, TODAY), TODAY + 500, TODAY)
    assert events(written(book, Options(person=bo))) == every
    left = events(written(book, Options(person=ana)))
    assert left.keys() < every.keys(), "what is open already, or stays open, is still hers"
    key = next(iter(windows(book, "gutters")))
    tick(book, key, TODAY, tick_id="one", words=Words(person=bo))
    done = by_summary(written(book, Options(done=True, person=bo)), "✓")
    assert len(done) == 1
    assert "Done by Invented Bo." in value(next(iter(done.values())), "DESCRIPTION")[0]
    assert not by_summary(written(book, Options(done=True, person=ana)), "✓")
    assert by_summary(written(book, Options(done=True)), "✓").keys() == done.keys()
    with book.reading() as session:
        assert feeds.write(book, session, Options(person=ana)).changed_at is None, "an absence has no date of change"


def test_the_description_of_the_calendar_says_its_span(book: Book) -> None:
    about = value(unfolded(written(book)), "DESCRIPTION")[0]
    assert "from 60 days back to 400 days ahead" in about


def test_a_description_says_the_window_why_and_what_can_hurt(book: Book) -> None:
    found = by_summary(written(book), "Look the wall over")
    said = value(next(iter(found.values())), "DESCRIPTION")[0]
    assert said.startswith("From ")
    assert "best " in said
    assert "Reckoned from: " in said
    assert "Take care. Stand the ladder on firm" in said


def test_what_rests_on_a_plan_is_tentative(book: Book) -> None:
    entries.put_down(book, draft("weaners", "2027-03-01"), TODAY)
    with book.reading() as session:
        unsure = {task.key for task in book.planned(session, TODAY).tasks if not task.sure and task.opens is not None}
    assert unsure
    status = {value(lines, "URL")[0]: value(lines, "STATUS")[0] for lines in events(written(book)).values()}
    shown = [key for key in unsure if f"{BASE}/job/{key.replace('+', '%2B')}" in status]
    assert shown
    assert {status[f"{BASE}/job/{key.replace('+', '%2B')}"] for key in shown} == {"TENTATIVE"}


def test_a_timed_step_has_its_clock_times(book: Book) -> None:
    facts = {"kg": 2.0, "thickness_mm": 40.0}
    ident = entries.put_down(book, draft("bacon", "2027-03-10", **facts), TODAY)
    sheet = book.library.sheets["bacon"]
    timed = {step.id for step in sheet.steps if step.timed}
    assert timed, "bacon is smoked by the clock"
    found = [
        lines
        for lines in events(written(book)).values()
        if any(f"/job/{ident}.{step}" in value(lines, "URL")[0] for step in timed)
    ]
    assert found
    for lines in found:
        assert re.fullmatch(r"\d{8}T\d{6}Z", value(lines, "DTSTART")[0])
        assert re.fullmatch(r"\d{8}T\d{6}Z", value(lines, "DTEND")[0])


def test_a_secret_is_kept_as_its_hash_alone(book: Book) -> None:
    made = feed_links.make_link(book, "Ann", Options())
    assert len(made.secret) >= 43  # 32 bytes in base 64 are 43 letters (RFC 4648, 5)
    with book.reading() as session:
        row = store.feed_links(session)[0]
        assert made.secret not in repr((row.secret_hash, row.options, row.name))
        assert row.secret_hash == secret.hashed(made.secret)


def test_a_stopped_or_replaced_link_answers_nothing(book: Book) -> None:
    made = feed_links.make_link(book, "Ann", Options(trades=("garden",), alarm=True))
    assert b"VALARM" in feeds.serve(book, made.secret, BASE).body
    fresh = feed_links.renew(book, made.id)
    with pytest.raises(NotFound):
        feeds.serve(book, made.secret, BASE)
    assert b"VALARM" in feeds.serve(book, fresh.secret, BASE).body
    feed_links.revoke(book, fresh.id)
    with pytest.raises(NotFound):
        feeds.serve(book, fresh.secret, BASE)
    with pytest.raises(NotFound):
        feed_links.revoke(book, fresh.id)
    with pytest.raises(NotFound):
        feeds.serve(book, "never-given-out", BASE)


def test_when_it_was_read_is_kept_by_the_day(book: Book) -> None:
    made = feed_links.make_link(book, "Ann", Options())
    with book.reading() as session:
        assert feed_links.links(session)[0].read is None
        version = store.facts_version(session)
    feeds.serve(book, made.secret, BASE)
    with book.reading() as session:
        assert feed_links.links(session)[0].read == date(2027, 3, 10)
        assert feed_links.links(session)[0].options == Options()
        assert store.facts_version(session) == version
