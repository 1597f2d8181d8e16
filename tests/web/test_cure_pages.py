"""A cure from the scales to the slice: reckoned without saving, refused by name, put down once, weighed again."""

import re
from collections.abc import Iterator
from datetime import date
from html import unescape

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from tests.services.croft import HOUSE, WHERE, Ticking, settings

ON = date(2027, 11, 10)
TODAY = ON.toordinal()
BELLY = {
    "cut": "belly", "way": "smoked", "kg": "2", "thickness_mm": "40", "shape": "flat", "skin": "skinned",
    "nitrite_percent": "6.25", "nitrate": "no", "salt_percent": "2.5", "sugar_percent": "1", "scale_g": "0.01",
    "jurisdiction": "gb", "nitrite_ppm": "", "date": "2027-11-10", "water_l": "", "name": "",
}  # fmt: skip
IDENT = "0" * 31 + "a"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path_factory.mktemp("cure")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


def asked(client: TestClient, code: int = 200, **more: str) -> str:
    answer = client.get("/meat/cure", params={**BELLY, **more})
    assert answer.status_code == code, answer.text
    return unescape(answer.text).replace("\xa0", " ")


def entries(client: TestClient) -> int:
    return len(set(re.findall(r'/entry/([^"?/#]+)', client.get("/entries").text)))


def test_the_law_of_the_holding_stands_in_the_form_and_the_strength_does_not(client: TestClient) -> None:
    text = client.get("/meat/cure").text
    assert 'value="gb" checked' in text
    assert re.search(r'name="nitrite_percent" value=""', text)
    assert "Nitrite is poison in grams" in text


@pytest.mark.published
def test_two_kilos_are_weighed_dated_and_drawn_and_nothing_is_saved(client: TestClient) -> None:
    """FSIS Handbook, p. 15: 2.40 and 22.75 g a kilo at 150 ppm and 2.5 %; 7 days an inch, 2 to spare, 4 of rest."""
    before = entries(client)
    text = asked(client)
    for said in ("4.80 g", "45.50 g", "20.00 g", "150 ppm", "SI 2007/1778", "24 November, after 14 days",
                 "28 November", "local food-safety authority"):  # fmt: skip
        assert said in text, said
    assert '<svg class="curve"' in text
    assert "% salt at the face" in text
    assert entries(client) == before


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"nitrite_percent": "62.5"}, "Was 6.25 % meant?"),
        ({"nitrite_percent": ""}, "none is assumed"),
        ({"nitrite_percent": "99"}, "Pure nitrite is never used at home"),
        ({"nitrite_percent": "0.4"}, "alone brings 3.73 %"),
        ({"salt_percent": "1"}, "Less does not hold it"),
        ({"sugar_percent": "-1"}, "between 0 and 100"),
        ({"thickness_mm": "0"}, "measure the thickest part"),
        ({"thickness_mm": "-4"}, "less than nothing"),
        ({"kg": "0"}, "between 0.2 and 30 kg"),
        ({"kg": "lots"}, "A number is wanted"),
        ({"nitrate": "yes"}, "never for bacon"),
        ({"nitrate": ""}, "saltpetre"),
        ({"nitrite_ppm": "210"}, "above 200 ppm"),
        ({"nitrite_ppm": "0", "scale_g": "1"}, "With plain salt alone"),
        ({"nitrite_ppm": "160", "jurisdiction": "eu"}, "Regulation 2023/2108"),
        ({"nitrite_ppm": "130", "jurisdiction": "us", "way": "brined", "water_l": "1"}, "9 CFR 424.22"),
        ({"way": "brined"}, "How much water"),
        ({"way": "larder", "cut": "loin"}, "No rule is known here for a loin"),
        ({"way": "nothing"}, "not one of the answers"),
        ({"scale_g": "1"}, "is too little for these scales"),
        ({"jurisdiction": ""}, "Whose law applies?"),
        ({"date": "soon"}, "is not a date"),
        ({"way": "boiled", "cut": "leg", "kg": "20", "water_l": "5"}, "cut it in two"),
    ],
)  # fmt: skip
def test_what_can_not_be_is_a_plain_sentence_and_what_was_typed_is_kept(
    client: TestClient, more: dict[str, str], says: str
) -> None:
    text = asked(client, 422, **more)
    assert says in text
    assert 'class="error"' in text
    assert "Put it down" not in text
    assert all(f'value="{value}"' in text for value in more.values() if value and value not in ("nothing",))


@pytest.mark.common_practice
def test_what_would_rest_too_long_gets_no_dates_and_what_to_do(client: TestClient) -> None:
    """100 mm with its skin: 41 days of rest, 14 are the most; split it, bone it, skin it or freeze it."""
    text = asked(client, thickness_mm="100", skin="skin on")
    assert "No dates are given" in text
    assert re.search("Skin it, or split it, before it goes into the cure, bone it .* or freeze it", text)
    assert "Out of the cure" not in text
    assert "These dates would follow" not in text
    thicker = asked(client, thickness_mm="160", skin="skinned")
    assert "No dates are given" in thicker


@pytest.mark.common_practice
def test_june_says_before_saving_that_there_is_no_night_of_smoke(client: TestClient) -> None:
    """Fly season in England: late April to October."""
    text = asked(client, date="2028-06-01")
    assert "No day for smoke, or for hanging outside: flies are about and nights are warm" in text
    assert "leave it unsmoked" in text
    assert "15 June 2028, after 14 days" in text
    hung = asked(client, way="larder", date="2028-06-01")
    assert "dry it in a curing fridge, or freeze it" in hung


@pytest.mark.common_practice
def test_once_put_down_june_is_still_without_smoke_and_says_what_to_do(client: TestClient) -> None:
    """Fly season in England: late April to October."""
    data = {**BELLY, "date": "2028-06-01", "id": "4" * 32}
    href = str(client.post("/meat/cure", data=data, follow_redirects=False).headers["location"]).partition("?")[0]
    text = unescape(client.get(href).text)
    assert re.search("Cold-smoke for a night’ can’t be dated: .*leave it unsmoked, dry it in a curing fridge", text)
    assert "Done all the same?" in text


@pytest.mark.parametrize("day", ["2199-12-31", "2032-05-01", "1900-01-01"])
def test_a_day_far_off_gets_no_dates_and_no_fault(client: TestClient, day: str) -> None:
    text = asked(client, date=day)
    assert "three years that are planned here" in text or day == "1900-01-01"
    assert "4.80 g" in text


@pytest.mark.published
def test_brine_and_ham_by_weight(client: TestClient) -> None:
    """F4: 2 kg of meat in 1 kg of water take 7.20 g at 150 ppm; 15 days for a belly of up to 10 lb (USDA); EU
    category 08.3.4.2: 7 kg are ten days in salt and a week."""
    brine = asked(client, way="brined", water_l="1")
    assert "7.20 g" in brine
    assert "after 15 days" in brine
    assert "30 min in cold water" in brine
    ham = asked(client, way="ham", cut="leg", kg="7", thickness_mm="150", skin="skin on", salt_percent="3")
    assert "ten days in salt, then seven days of rest" in ham


def test_put_down_twice_it_is_there_once_and_its_job_says_the_grams(client: TestClient) -> None:
    before = entries(client)
    form = {**BELLY, "id": IDENT}
    first, second = (client.post("/meat/cure", data=form, follow_redirects=False) for _ in range(2))
    assert first.status_code == second.status_code == 303
    href = str(first.headers["location"]).partition("?")[0]
    assert str(second.headers["location"]).startswith(href)
    assert entries(client) == before + 1
    job = client.get(f"/job/{href.rpartition('/')[2]}.rub").text.replace("\xa0", " ")
    for said in ("curing salt of 6.25 %", "4.80 g", "45.50 g", "20.00 g"):
        assert said in job
    bad = client.post("/meat/cure", data={**form, "nitrite_percent": "62.5", "id": "1" * 32})
    assert (bad.status_code, "Was 6.25 % meant?" in bad.text) == (422, True)
    assert entries(client) == before + 1
    stale = client.post("/meat/cure", data={**form, "seen": "other", "id": "2" * 32})
    assert (stale.status_code, "look at them once more" in stale.text) == (409, True)


@pytest.mark.published
def test_too_much_curing_salt_is_taken_down_and_said_to_be_not_for_eating(client: TestClient) -> None:
    """20 g of 6.25 % on 2 kg are 625 ppm; 21 CFR 172.170: 200 for meat cured at home."""
    put = client.post("/meat/cure", data={**BELLY, "id": "9" * 32}, follow_redirects=False)
    href = str(put.headers["location"]).partition("?")[0]
    key = f"{href.rpartition('/')[2]}.rub"
    client.post("/tick", data={"key": key, "on": ON.isoformat(), "m.kg": "2", "m.cure_g": "20"})
    text = client.get(href).text.replace("\xa0", " ")
    assert "By what was ticked 625 ppm of nitrite went in" in text


def test_a_cure_already_there_is_weighed_out_for_it(client: TestClient) -> None:
    added = client.post("/add/back-bacon", data={"confirm": "yes", "date": "2027-11-10", "kg": "3",
                                                 "thickness_mm": "60"}, follow_redirects=False)  # fmt: skip
    href = str(added.headers["location"]).partition("?")[0]
    ident = href.rpartition("/")[2]
    assert "The cure was not reckoned here" in client.get(href).text
    assert f"/meat/cure?entry={ident}" in client.get(f"/job/{ident}.rub").text
    form = client.get(f"/meat/cure?entry={ident}").text
    assert 'value="60"' in form
    before = entries(client)
    data = {**BELLY, "cut": "loin", "kg": "3", "thickness_mm": "60", "entry": ident}
    for _ in range(2):
        assert client.post("/meat/cure", data=data, follow_redirects=False).headers["location"].startswith(href)
    other = client.post("/meat/cure", data={**data, "way": "brined", "water_l": "2"}, follow_redirects=False)
    assert (other.status_code, "reckon a new one" in other.text) == (422, True), "its dates are those of its own sheet"
    text = client.get(href).text.replace("\xa0", " ")
    assert "7.20 g" in text
    assert text.count("Weighed for 150 ppm") == 1
    assert entries(client) == before


@pytest.mark.common_practice
def test_each_weighing_draws_the_curve_on_and_puts_the_day_right(client: TestClient) -> None:
    """2 kg less 30 % are 1.4 kg: 30 days at 1 % a day; after 0.2 kg in a week, 0.3 kg more are 11 days; arithmetic."""
    data = {"confirm": "yes", "date": "2027-09-20", "kg": "2", "thickness_mm": "40", "skin": "skinned"}
    added = client.post("/add/belly-air-dried", data=data, follow_redirects=False)
    href = str(added.headers["location"]).partition("?")[0]
    ident = href.rpartition("/")[2]

    def tick(step: str, on: str, **measures: str) -> str:
        sent = {"key": f"{ident}.{step}", "on": on, **{f"m.{name}": value for name, value in measures.items()}}
        assert client.post("/tick", data=sent, follow_redirects=False).status_code == 303
        return client.get(href).text.replace("\xa0", " ")

    tick("rub", "2027-09-20", kg="2")
    tick("out", "2027-10-04", kg="1.97")
    hung = tick("hang", "2027-10-08", kg="1.95")
    assert "30 % lighter is 1.4 kg, about 7 November" in hung
    tick("weigh.1", "2027-10-15", kg="1.9")
    text = tick("weigh.2", "2027-10-22", kg="1.7")
    assert "about 2 November" in text
    assert text.count("<circle") == 5
    assert 'aria-label="Weight by day: 20 September 2 kg' in text
    assert "15 % lost" in text


@pytest.mark.common_practice
def test_bacon_is_weighed_between_its_nights_of_smoke(client: TestClient) -> None:
    """2 kg less 7 % are 1.86 kg; two nights of eight hours leave eight; 2.5 % salt in 93 % of the weight is 2.7 %."""
    data = {**BELLY, "date": "2027-10-10", "id": "5" * 32}
    href = str(client.post("/meat/cure", data=data, follow_redirects=False).headers["location"]).partition("?")[0]
    ident = href.rpartition("/")[2]
    done = (
        ("rub", "10-10", {}), ("out", "10-24", {"m.kg": "1.96"}),
        ("smoke.1", "11-01", {"m.hours": "8", "m.kg": "1.9"}), ("smoke.2", "11-02", {"m.hours": "8", "m.kg": "1.89"}),
    )  # fmt: skip
    for step, on, more in done:
        client.post("/tick", data={"key": f"{ident}.{step}", "on": f"2027-{on}", **more})
    text = client.get(href).text.replace("\xa0", " ")
    assert "7 % lighter is 1.86 kg, about 5 November" in text
    assert "2.7 % by then" in text
    assert "Of the usual 24 hours of smoke, 8 are still to come" in text


def test_what_has_no_day_is_taken_down_all_the_same(client: TestClient) -> None:
    data = {**BELLY, "thickness_mm": "100", "skin": "skin on", "id": "3" * 32, "date": "2027-10-01"}
    href = str(client.post("/meat/cure", data=data, follow_redirects=False).headers["location"]).partition("?")[0]
    text = client.get(href).text
    assert "Done all the same?" in text
    key = re.search(r'name="key" value="([^"]+\.out)"', text)
    assert key is not None
    client.post("/tick", data={"key": key[1], "on": "2027-11-05", "id": "done-all-the-same", "m.kg": "1.9"})
    text = client.get(href).text.replace("\xa0", " ")
    assert "done on 5 November" in text
    assert "1.9 kg, 5 % lost" in text
