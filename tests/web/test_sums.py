"""How much to sow, asked on its page."""

import re

import pytest
from fastapi import FastAPI

from app.records import store
from app.services.larder import lot_words
from app.services.larder.lot_words import NewLot
from tests.web.holding import TODAY, app, client, plain

ASK = {"sheet": "carrot", "basis": "metres", "amount": "30", "germination": "65", "first": "2028-04-15"}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """A holding with a bed of 6 m by 1 m; asking changes nothing, so that one serves all."""
    found = app(tmp_path_factory.mktemp("sums"))
    with found.state.book.writing() as session:
        store.put_bed(session, store.BedRow(name="Long bed", length_m=6.0, width_m=1.0))
    return found


def asked(made: FastAPI, **change: str) -> tuple[int, str]:
    answer = client(made).get("/garden/sums", params=ASK | change)
    return answer.status_code, plain(answer.text).replace("\u202f", " ")


def test_thirty_metres_of_carrot(made: FastAPI) -> None:
    """600 plants at 5 cm and an eighth, 75; two seeds a place over 0.65 and 0.7: 2968, at 825 a gram 3.6 g. Arithmetic.

    Yield: 100 lb from 100 ft (Home Vegetable Gardening in Kentucky), 1.488 kg a metre, so 45 kg.
    """
    code, text = asked(made)
    assert code == 200
    for said in ("600, and 75 spare", "2 968, 3.6 g", "about 45 kg", "Last useful sowing:"):
        assert said in text, said


def test_for_four_mouths_the_range_and_its_source(made: FastAPI) -> None:
    """Kentucky: 15 to 25 ft each, fresh and stored; for four 60 to 100 ft, 18.3 to 30.5 m."""
    code, text = asked(made, basis="mouths", amount="4", use="both")
    assert code == 200
    assert "24.4 m (18.3 m to 30.5 m by appetite)" in text
    assert "Home Vegetable Gardening in Kentucky" in text


def test_the_way_on_is_filled_in(made: FastAPI) -> None:
    text = client(made).get("/garden/sums", params=ASK).text
    href = re.search(r'href="(/add/carrot\?[^"]+)"', text)
    assert href
    form = client(made).get(href.group(1).replace("&amp;", "&")).text
    assert 'value="2028-04-15"' in form
    turns = re.search(r"In (\w+) sowings, each is ([\d.]+) m of row", plain(text))
    assert turns, "the sheet sows a row every three weeks, so that each is a share of the thirty metres"
    assert {"four": 7.5, "five": 6, "six": 5}[turns.group(1)] == float(turns.group(2))
    assert re.search(rf'name="row_m" value="{turns.group(2)}(\.0)?"', form)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"amount": "0"}, "more than 0 is wanted"),
        ({"amount": "-4"}, "It should be between 0"),
        ({"amount": ""}, "How many?"),
        ({"amount": "lots"}, "A number is wanted"),
        ({"amount": "1e99"}, "A number is wanted"),
        ({"amount": "nan"}, "A number is wanted"),
        ({"germination": "130"}, "It should be between 1 and 100 %"),
        ({"germination": "0"}, "It should be between 1 and 100 %"),
        ({"sheet": "bricks"}, "There is no such crop"),
        ({"sheet": ""}, "Choose a crop."),
        ({"sheet": "muck"}, "says no spacing"),
        ({"basis": "acres"}, "not one of the answers"),
        ({"use": "raw"}, "not one of the answers"),
        ({"bed": "99"}, "not one of the answers"),
        ({"first": "2028-02-31"}, "There is no such day"),
        ({"sheet": "basil", "basis": "mouths"}, "ask by metres or plants"),
        ({"sheet": "garlic", "basis": "mouths", "use": "fresh"}, "choose the other"),
    ],
)
def test_nonsense_gets_a_sentence_and_is_kept(made: FastAPI, change: dict[str, str], sentence: str) -> None:
    code, text = asked(made, **change)
    assert code == 422
    assert sentence in text
    if change.get("amount"):
        assert f'value="{change["amount"]}"' in text


def test_every_crop_has_an_answer(made: FastAPI) -> None:
    crops = re.findall(r'<option value="([\w-]+)"', client(made).get("/garden/sums").text)
    assert len(crops) > 50
    for crop in crops:
        answer = client(made).get("/garden/sums", params={"sheet": crop, "basis": "plants", "amount": "12"})
        assert answer.status_code == 200, crop
        assert "12, and two spare" in plain(answer.text) or "12, and 2 spare" in plain(answer.text), crop


def test_lettuce_in_high_summer_is_warned_of_and_beans_in_cold_ground(made: FastAPI) -> None:
    """French beans came up from 15 °C (Vegetable Seed Germination, University of California 1954); March is colder."""
    _, text = asked(made, sheet="french-bean-dwarf", germination="", first="2028-03-10")
    assert "from 15 to 35 °C only: wait for warmer soil" in text
    assert "before its time here" in text


def test_a_bed_of_ours_is_asked_whether_it_fits(made: FastAPI) -> None:
    """A bed of 6 m by 1 m takes four rows 25 cm apart, 24 m: 30 m do not fit, 20 m do. Arithmetic."""
    for amount, said in (("30", "it does not all fit"), ("20", "it fits")):
        _, text = asked(made, amount=amount, bed="1")
        assert f"{said}: Long bed takes four rows of 6 m" in text


def test_seed_of_ours_that_was_tested_is_reckoned_with(tmp_path_factory: pytest.TempPathFactory) -> None:
    """5 g at 825 a gram are 4125 seeds; 16 of 20 came up: 80 %, so 675 places of two over 0.8 and 0.7 are 2411."""
    made = app(tmp_path_factory.mktemp("tin"))
    book = made.state.book
    ident = lot_words.put_lot(
        book, NewLot(what="carrot seed", made_on=TODAY - 30, amount=5.0, unit="g", sheet="carrot"), TODAY
    )
    lot_words.put_test(book, ident, 16, 20, TODAY, TODAY)
    _, text = asked(made, germination="")
    assert "your own test, 16 of 20" in text
    assert "2 411" in text
    assert "4 125 seeds, enough" in text
