"""What was said in former seasons comes back at the same job, with what came of it."""

from pathlib import Path

from app.records import store
from app.services import ticking
from app.services.book import Book
from app.services.job import job_view
from app.services.remembered import remembered_of
from app.services.ticking import Words
from tests.web.holding import TODAY, app, book, client, day, entry, plain

LAST_YEAR = entry("old-beet", "test-beet", "2026-04-20")
THIS_YEAR = entry("new-beet", "test-beet", "2027-09-01")


def holding(folder: Path) -> Book:
    return book(folder, (LAST_YEAR, THIS_YEAR, entry("a-pen", "test-pen", "2026-05-01", "Orchard")))


def say(made: Book, key: str, on: str, remark: str = "", **measures: float) -> str:
    done = ticking.tick(made, key, TODAY, on=day(on), words=Words(measures, remark=remark))
    return done.tick_id


def at(made: Book, key: str) -> list[tuple[int, str, float | None, str]]:
    with made.reading() as session:
        found = job_view(made, session, key, TODAY).remembered
    return [(one.on, one.text, one.kg, one.then_text) for one in found]


def test_a_remark_comes_back_next_year_with_the_kilos(tmp_path: Path) -> None:
    """Sown on 20 April 2026, 14 rows, nine given away; thinned with 3 kg. In 2027 that is said at the sowing."""
    made = holding(tmp_path)
    say(made, "old-beet.sow", "2026-04-20", "sowed 14, gave away 9")
    say(made, "old-beet.thin", "2026-05-25", kg=3.0)
    assert at(made, "new-beet.sow") == [(day("2026-04-20"), "sowed 14, gave away 9", 3.0, "")]
    assert at(made, "new-beet.thin") == [], "that was said at another job"


def test_without_kilos_the_next_word_is_what_came_of_it(tmp_path: Path) -> None:
    made = holding(tmp_path)
    say(made, "old-beet.sow", "2026-04-20", "too thick")
    say(made, "old-beet.lift", "2026-08-01", "all small")
    assert at(made, "new-beet.sow") == [(day("2026-04-20"), "too thick", None, "all small")]


def test_what_was_taken_back_or_said_lately_is_not_remembered(tmp_path: Path) -> None:
    made = holding(tmp_path)
    sown = say(made, "old-beet.sow", "2026-04-20", "a slip of the thumb")
    ticking.undo(made, sown, TODAY)
    say(made, "new-beet.sow", "2027-09-01", "said this season")
    assert at(made, "new-beet.sow") == []
    assert at(made, "old-beet.sow") == []


def test_a_note_comes_back_with_the_first_job_and_with_a_new_entry(tmp_path: Path) -> None:
    made = holding(tmp_path)
    with made.writing() as session:
        store.change_entry(session, LAST_YEAR, note="the east end stays wet")
    say(made, "old-beet.thin", "2026-05-25", kg=2.5)
    assert at(made, "new-beet.sow") == [(day("2026-04-20"), "the east end stays wet", 2.5, "")]
    assert at(made, "new-beet.thin") == []
    with made.reading() as session:
        pen = remembered_of(made, session, made.library.sheets["test-pen"], TODAY)
        beet = remembered_of(made, session, made.library.sheets["test-beet"], TODAY)
    assert pen == []
    assert [one.text for one in beet] == ["the east end stays wet"]


def test_only_the_latest_few_are_shown(tmp_path: Path) -> None:
    made = holding(tmp_path)
    for n in range(9):
        say(made, f"old-beet.{'thin' if n else 'sow'}", f"2026-05-{n + 1:02d}", f"word {n}")
    with made.reading() as session:
        found = remembered_of(made, session, made.library.sheets["test-beet"], TODAY)
    assert [one.text for one in found] == [f"word {n}" for n in range(8, 2, -1)]


def test_the_pages_say_it(tmp_path: Path) -> None:
    made = app(tmp_path, (LAST_YEAR, THIS_YEAR))
    say(made.state.book, "old-beet.sow", "2026-04-20", "sowed 14, gave away 9")
    say(made.state.book, "old-beet.thin", "2026-05-25", kg=3.0)
    for page, lead in (("/job/new-beet.sow", ""), ("/add/test-beet", "Sow the beet: ")):
        text = plain(client(made).get(page).text)
        assert "What was said before" in text
        assert f"2026</a> {lead}sowed 14, gave away 9 <small>Old beet: 3 kg came of it" in text
    assert "What was said before" not in client(made).get("/add/test-pen").text
