"""The pages about what there is, as a browser sends them: what was typed is kept, and said beside its field."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from httpx import Response

from app.main import create_app
from app.services import entries
from app.services.book import Book
from tests.services.croft import ON, TODAY, Clock, draft, settings

PLACE = {
    "name": "Invented Croft", "nation": "wales", "latitude": "52.1", "longitude": "3.5 W", "height_m": "290",
    "climate": "braemar",
}  # fmt: skip
TABLE = {"last_frost": "", "first_frost": "2027-10-09", "mouths": "4", "units": "metric", "timezone": "Europe/London"}
HERE = "http://localhost:8000"


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as client:
        yield client


@pytest.fixture
def client(fresh: TestClient) -> TestClient:
    things = ["gutters", "rendered-wall", "smoke-alarms"]
    answer = fresh.post("/start/3", data={**PLACE, **TABLE, "have": things})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    return fresh


def text(answer: Response) -> str:
    body = re.sub(r"<svg.*?</svg>|<head>.*?</head>", " ", answer.text, flags=re.S)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", body))).strip()


def field(answer: Response, name: str) -> str:
    """What stands in a field."""
    found = re.search(rf'<input[^>]*name="{name}"[^>]*value="([^"]*)"', answer.text)
    return unescape(found[1]) if found else ""


def error(answer: Response, name: str) -> str:
    """The sentence that is tied to a field."""
    found = re.search(rf'<p class="error" id="{name}-e">(.*?)</p>', answer.text)
    return unescape(found[1]) if found else ""


def seen(answer: Response) -> str:
    return field(answer, "seen")


# ── First run ─────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("path", ["/", "/entries", "/add", "/found", "/household", "/calendar", "/add/gutters"])
def test_everything_leads_to_the_first_run(fresh: TestClient, path: str) -> None:
    answer = fresh.get(path)
    assert (answer.status_code, answer.headers["location"]) == (303, "/start")


def test_three_screens_and_the_year_is_filled(fresh: TestClient) -> None:
    assert "Where is it?" in text(fresh.get("/start"))
    second = fresh.post("/start/1", data=PLACE)
    assert "When does it freeze" in text(second)
    assert field(second, "longitude") == "3.5 W"
    assert re.fullmatch(r"2028-\d\d-\d\d", field(second, "last_frost")), "the place's own estimate is offered"
    third = fresh.post("/start/2", data={**PLACE, **TABLE})
    assert "What is there already?" in text(third)
    assert field(third, "mouths") == "4"
    assert fresh.post("/start/3", data={**PLACE, **TABLE, "have": ["leek-seed", "gutters"]}).status_code == 303
    assert "Leek, for the table and for seed" in text(fresh.get("/entries"))
    assert fresh.get("/start").headers["location"] == "/"


def test_a_first_screen_that_can_not_be_read_comes_back_as_typed(fresh: TestClient) -> None:
    answer = fresh.post("/start/1", data={**PLACE, "latitude": "91", "longitude": "west", "nation": ""})
    assert answer.status_code == 422
    assert error(answer, "latitude") == "It should be between −90 and 90."
    assert error(answer, "longitude").startswith("Degrees are wanted as a number")
    assert "“Elsewhere” will do" in text(answer)
    assert field(answer, "longitude") == "west"
    assert field(answer, "name") == "Invented Croft"


def test_a_second_screen_that_can_not_be_read_comes_back_as_typed(fresh: TestClient) -> None:
    answer = fresh.post("/start/2", data={**PLACE, **TABLE, "first_frost": "31/2/2027", "timezone": "Moon"})
    assert answer.status_code == 422
    assert error(answer, "first_frost") == "There is no such day as 31/2/2027."
    assert error(answer, "timezone").startswith("No time zone is called 'Moon'")
    assert field(answer, "first_frost") == "31/2/2027"


def test_what_was_changed_on_the_way_is_asked_again(fresh: TestClient) -> None:
    assert fresh.post("/start/3", data={**PLACE, "latitude": "", **TABLE}).status_code == 422
    assert fresh.post("/start/3", data={**PLACE, **TABLE, "mouths": "many"}).status_code == 422
    assert fresh.get("/start").status_code == 200, "nothing was kept"


def test_a_second_first_run_is_refused(client: TestClient) -> None:
    answer = client.post("/start/3", data={**PLACE, **TABLE})
    assert answer.status_code == 409
    assert "set up already" in text(answer)


# ── Adding, changing ──────────────────────────────────────────────────────────────────────────────────────────────


def test_dates_are_shown_before_anything_is_saved(client: TestClient) -> None:
    shown = client.post("/add/leek-seed", data={"date": "2027-03-01", "name": "Long leeks", "plants": "120"})
    assert shown.status_code == 200
    assert "These dates would follow" in text(shown)
    assert field(shown, "name") == "Long leeks"
    assert "Long leeks" not in text(client.get("/entries"))
    form = {"date": "2027-03-01", "name": "Long leeks", "plants": "120", "seen": seen(shown), "confirm": "yes"}
    put = client.post("/add/leek-seed", data=form)
    assert put.status_code == 303
    page = client.get(put.headers["location"])
    assert "Long leeks" in text(page)
    assert "done on 1 March" in text(page).replace("\u00a0", " ")
    assert 'class="chain"' in page.text


def test_dates_that_have_changed_meanwhile_are_shown_again(client: TestClient) -> None:
    answer = client.post("/add/leek-seed", data={"date": "2027-03-01", "seen": "old", "confirm": "yes"})
    assert answer.status_code == 409
    assert "look at them once more" in text(answer)
    assert "These dates would follow" in text(answer)
    assert field(answer, "date") == "2027-03-01"


@pytest.mark.parametrize(
    ("sheet", "data", "name", "sentence"),
    [
        ("leek-seed", {"date": "yesterday"}, "date", "'yesterday' is not a date; 12 March 2027 is written 2027-03-12."),
        ("leek-seed", {"date": "2027-02-30"}, "date", "There is no such day as 2027-02-30."),
        ("leek-seed", {"date": "0027-03-01"}, "date", "The year 27 is out of reach; years from 1900 to 2199 will do."),
        ("leek-seed", {"date": ""}, "date", "This is wanted before any date can be given."),
        ("leek-seed", {"date": "2027-03-01", "plants": "some"}, "plants", "A number is wanted, between 10 and"),
        ("leek-seed", {"date": "2027-03-01", "plants": "80.5"}, "plants", "A whole number is wanted."),
        ("meat-box", {"date": "2027-03-01", "kg": "-3"}, "kg", "It should be between 0.5 and 500 kg."),
        ("meat-box", {"date": "2027-03-01", "kg": "1e9999"}, "kg", "A number is wanted, between 0.5 and 500 kg."),
        ("meat-box", {"date": "2027-03-01", "kg": "5 miles"}, "kg", "A number is wanted, between 0.5 and 500 kg."),
    ],
)
def test_what_can_not_be_read_is_said_beside_its_field(
    client: TestClient, sheet: str, data: dict[str, str], name: str, sentence: str
) -> None:
    answer = client.post(f"/add/{sheet}", data={**data, "note": "kept as typed", "confirm": "yes"})
    assert answer.status_code == 422
    assert error(answer, name).replace("\u202f", " ").startswith(sentence)
    assert field(answer, name) == data[name]
    assert "kept as typed" in answer.text
    assert "Nothing is put down" not in text(client.get("/entries"))


def test_pounds_are_understood(client: TestClient) -> None:
    # 10 lb = 4.535 923 7 kg (international pound, 1959)
    shown = client.post("/add/meat-box", data={"date": "2027-03-20", "kg": "10 lb"})
    form = {"date": "2027-03-20", "kg": "10 lb", "seen": seen(shown), "confirm": "yes"}
    page = client.get(client.post("/add/meat-box", data=form).headers["location"])
    assert "4.54 kg" in text(page).replace("\u00a0", " ")


def test_a_sheet_that_is_not_there_is_no_page(client: TestClient) -> None:
    for path in ("/add/no-such", "/found/no-such", "/sheet/no-such", "/entry/no-such", "/entry/a.b+c"):
        assert client.get(path).status_code == 404
    assert client.post("/add/no-such", data={"date": "2027-03-01"}).status_code == 404
    assert client.post("/entry/no-such/change", data={"date": "2027-03-01"}).status_code == 404
    assert client.post("/entry/no-such/strike").status_code == 404


def test_a_change_shows_was_and_now_before_it_is_made(client: TestClient) -> None:
    shown = client.post("/add/leek-seed", data={"date": "2027-03-01"})
    client.post("/add/leek-seed", data={"date": "2027-03-01", "seen": seen(shown), "confirm": "yes"})
    form = {"date": "2027-03-08", "name": "Long leeks", "plants": "80"}
    answer = client.post("/entry/leek-seed/change", data=form)
    assert answer.status_code == 200
    assert "was now" in text(answer)
    assert "Look for seedlings" in text(answer)
    assert "Long leeks" not in text(client.get("/entries"))
    put = client.post("/entry/leek-seed/change", data={**form, "seen": seen(answer), "confirm": "yes"})
    assert put.headers["location"] == "/entry/leek-seed?put=changed"
    page = text(client.get("/entry/leek-seed?put=changed"))
    assert "It is changed" in page
    assert "Long leeks" in page
    assert "done on 8 March" in page.replace("\u00a0", " ")


def test_a_change_that_can_not_be_read_changes_nothing(client: TestClient) -> None:
    answer = client.post("/entry/gutters/change", data={"date": "2026-09-01", "run_m": "-5", "confirm": "yes"})
    assert answer.status_code == 422
    assert error(answer, "run_m") == "It should be between 1 and 2 000 m.".replace("2 000", "2\u202f000")
    assert "30 m" in text(client.get("/entry/gutters")).replace("\u00a0", " ")


def test_what_if_it_began_later_saves_nothing(client: TestClient) -> None:
    before = text(client.get("/entry/gutters"))
    answer = client.get("/entry/gutters?later=14")
    assert "If it began 14 days later" in text(answer).replace("\u00a0", " ")
    assert "Nothing is saved by looking." in text(answer)
    assert text(client.get("/entry/gutters")) == before
    wrong = client.get("/entry/gutters?later=soon")
    assert wrong.status_code == 422
    assert error(wrong, "later").startswith("A number is wanted")


def test_an_entry_is_ended_struck_out_and_brought_back(client: TestClient) -> None:
    wrong = client.post("/entry/gutters/end", data={"on": "2025-01-01"})
    assert wrong.status_code == 422
    assert "before it began" in error(wrong, "on")
    assert field(wrong, "on") == "2025-01-01"
    assert client.post("/entry/gutters/end", data={"on": "2027-06-01"}).status_code == 303
    assert "Ends on 1 June." in text(client.get("/entry/gutters")).replace("\u00a0", " ")
    assert client.post("/entry/gutters/strike").status_code == 303
    assert client.post("/entry/gutters/strike").status_code == 409
    assert "Struck out" in text(client.get("/entry/gutters"))
    assert "Gutters" not in text(client.get("/entries"))
    assert "Gutters" in text(client.get("/entries?over=yes"))
    assert client.post("/entry/gutters/back").status_code == 303
    assert "Gutters" in text(client.get("/entries"))


def test_what_is_wanted_is_asked_for(client: TestClient) -> None:
    book: Book = client.app.state.book  # type: ignore[attr-defined]
    entries.put_down(book, draft("meat-box", "2027-03-12"), TODAY)  # as an older record may lack what is now asked
    page = client.get("/entry/meat-box")
    assert "waits for ‘Weight’: say it here." in text(page)
    assert 'href="/entry/meat-box/change#kg"' in page.text


def test_found_begins_today_in_two_taps(client: TestClient) -> None:
    offered = client.get("/found")
    assert 'href="/found/potato-blight"' in offered.text
    shown = client.get("/found/potato-blight")
    assert field(shown, "date") == "2027-03-10"
    assert 'name="confirm" value="yes"' in shown.text
    names = set(re.findall(r'<(?:input|textarea|select)[^>]*name="(\w+)"', shown.text))
    form = {name: field(shown, name) for name in names}
    put = client.post("/found/potato-blight", data={**form, "confirm": "yes"})
    assert put.status_code == 303
    assert "Cut every top to the ground" in text(client.get(put.headers["location"]))


def test_the_list_is_searched(client: TestClient) -> None:
    assert "Gutters" in text(client.get("/entries?q=hoppers"))
    assert "Nothing there has “zebra” in it." in text(client.get("/entries?q=zebra"))
    assert "No sheet has “zebra” in it." in text(client.get("/add?q=zebra"))


def test_what_is_typed_is_never_markup(client: TestClient) -> None:
    name = "<script>alert(1)</script>"
    shown = client.post("/add/gutters", data={"date": "2027-03-01", "name": name, "place": name})
    form = {"date": "2027-03-01", "name": name, "place": name, "seen": seen(shown), "confirm": "yes"}
    page = client.get(client.post("/add/gutters", data=form).headers["location"])
    assert name not in page.text
    assert name in unescape(page.text)


def test_a_sheets_page_tells_every_step_with_its_source(client: TestClient) -> None:
    for sheet in client.app.state.book.library.sheets.values():  # type: ignore[attr-defined]
        answer = client.get(f"/sheet/{sheet.id}")
        assert answer.status_code == 200, sheet.id
        said = text(answer)
        for step in sheet.steps:
            assert step.title in said
            assert f'id="{step.id}"' in answer.text
        assert answer.text.count('<p class="source">') == len(sheet.steps)


def test_every_sheets_form_can_be_shown(client: TestClient) -> None:
    for sheet in client.app.state.book.library.sheets.values():  # type: ignore[attr-defined]
        assert client.get(f"/{'found' if sheet.found else 'add'}/{sheet.id}").status_code == 200, sheet.id


# ── Household ─────────────────────────────────────────────────────────────────────────────────────────────────────


def test_people_hours_and_absences(client: TestClient) -> None:
    assert client.post("/household/people", data={"person_name": "Invented Ann"}).status_code == 303
    page = client.get("/household")
    person = re.search(r"/household/people/(\d+)/hours", page.text)
    assert person
    at = f"/household/people/{person[1]}"
    wrong = client.post(f"{at}/hours", data={"monday": "25", "tuesday": "two"})
    assert wrong.status_code == 422
    assert error(wrong, f"p{person[1]}-monday") == "It should be between 0 and 24 h."
    assert client.post(f"{at}/hours", data={"monday": "1.5", "saturday": "6"}).status_code == 303
    assert "7½ h in a week" in text(client.get("/household")).replace("\u00a0", " ")
    late = client.post(f"{at}/away", data={"from": "2027-09-14", "to": "2027-09-10"})
    assert late.status_code == 422
    assert error(late, f"p{person[1]}-to").startswith("That is before the first day")
    assert client.post(f"{at}/away", data={"from": "2027-09-14", "to": "2027-09-21"}).status_code == 303
    page = client.get("/household")
    assert "Away 14–21 September" in text(page).replace("\u00a0", " ")
    back = re.search(r'action="(/household/away/\d+/back)"', page.text)
    assert back
    assert client.post(back[1]).status_code == 303
    assert client.post(back[1]).status_code == 404
    assert client.post(f"{at}/leave").status_code == 303
    assert "Invented Ann" not in text(client.get("/household"))


def test_the_place_is_put_right(client: TestClient) -> None:
    assert field(client.get("/household"), "first_frost") == "2027-10-09"
    wrong = client.post("/household", data={**PLACE, **TABLE, "mouths": "-1"})
    assert wrong.status_code == 422
    assert error(wrong, "mouths") == "It should be between 0 and 1000."
    assert client.post("/household", data={**PLACE, **TABLE, "name": "Renamed"}).status_code == 303
    assert "Renamed" in client.get("/entries").text


def test_own_figures_stand_beside_those_that_came(tmp_path: Path) -> None:
    folder = tmp_path / "sheets"
    folder.mkdir(parents=True)
    own = 'changes = "leek-seed"\n\n[[step]]\nid = "plant"\nminutes = 240\n'
    (folder / "mine.toml").write_text(own, encoding="utf-8")
    app = create_app(settings(tmp_path), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as client:
        client.post("/start/3", data={**PLACE, **TABLE, "have": ["leek-seed"]})
        for path in ("/sheet/leek-seed", "/entry/leek-seed"):
            page = text(client.get(path))
            assert "Your own figures" in page
            assert "240; the sheet says " in page
        assert "Changed for this holding." in text(client.get("/sheet/leek-seed"))


def test_the_lie_of_the_place_is_kept_and_moves_the_frosts(client: TestClient) -> None:
    lie = {"aspect": "north", "frost_hollow": "yes"}
    assert client.post("/household", data={**PLACE, **TABLE, **lie}).status_code == 303
    page = client.get("/household").text
    assert re.search(r'value="north" checked', page)
    assert re.search(r'name="frost_hollow" value="yes" checked', page)
    book: Book = client.app.state.book  # type: ignore[attr-defined]
    with book.reading() as session:
        hollow = book.season(session).mark("last frost", 50, 2027)
    client.post("/household", data={**PLACE, **TABLE})
    assert "checked" not in re.search(r"<input[^>]*frost_hollow[^>]*>", client.get("/household").text)[0]  # type: ignore[index]
    with book.reading() as session:
        open_slope = book.season(session).mark("last frost", 50, 2027)
    assert hollow is not None
    assert open_slope is not None
    assert hollow > open_slope, "cold air gathers in a hollow: its last frost is later (common practice)"
    answer = client.post("/household", data={**PLACE, **TABLE, "aspect": "upward"})
    assert answer.status_code == 422
    assert "one of these" in error(answer, "aspect")


@pytest.mark.parametrize(
    ("latitude", "last", "first", "fine"),
    [
        ("52.1", "2027-05-12", "2027-10-09", True),
        ("52.1", "2027-10-09", "2027-05-12", False),
        ("52.1", "2027-05-12", "2027-05-12", False),
        ("-38", "2027-10-05", "2027-05-01", True),
        ("-38", "2027-05-01", "2027-10-05", False),
    ],
)
def test_the_last_frost_comes_before_the_first_of_one_season(
    client: TestClient, latitude: str, last: str, first: str, fine: bool
) -> None:
    typed = {**PLACE, **TABLE, "latitude": latitude, "longitude": "0", "last_frost": last, "first_frost": first}
    answer = client.post("/household", data=typed)
    assert (answer.status_code == 303) == fine
    if not fine:
        assert "other way round" in error(answer, "first_frost")
        assert field(answer, "first_frost") == first


def test_a_latitude_of_95_gets_a_sentence(client: TestClient) -> None:
    answer = client.post("/household", data={**PLACE, **TABLE, "latitude": "95"})
    assert answer.status_code == 422
    assert error(answer, "latitude") == "It should be between −90 and 90."
    assert field(answer, "latitude") == "95"


def test_frosts_left_as_they_were_offered_stay_estimates_when_the_place_is_changed(client: TestClient) -> None:
    client.post("/household", data={**PLACE, **TABLE, "first_frost": ""})
    page = client.get("/household")
    offered = {name: field(page, name) for name in ("last_frost", "first_frost")}
    assert all(offered.values())
    client.post("/household", data={**PLACE, **TABLE, **offered, "climate": "north-yorkshire", "height_m": "50"})
    book: Book = client.app.state.book  # type: ignore[attr-defined]
    with book.reading() as session:
        row = book.holding(session)
        assert (row.last_frost_50, row.first_frost_50) == (None, None)
    after = client.get("/household")
    assert field(after, "last_frost") < offered["last_frost"], "lower down it freezes less late"
    offered = {name: field(after, name) for name in offered}
    south = {**PLACE, **TABLE, **offered, "latitude": "-38", "longitude": "145"}
    assert client.post("/household", data=south).status_code == 303
