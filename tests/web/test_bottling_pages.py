"""The bottling look-up, asked on its page."""

import pytest
from fastapi import FastAPI

from app.sheets.bottling_tables import bottling_rows
from tests.web.holding import app, client, plain

ASK = {"what": "tomatoes|crushed, hot", "jar": "500", "altitude": "150", "gauge": "none"}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """A holding; looking up changes nothing, so that one serves all."""
    return app(tmp_path_factory.mktemp("bottling"))


def asked(made: FastAPI, **change: str) -> tuple[int, str]:
    answer = client(made).get("/preserving/bottling", params=ASK | change)
    return answer.status_code, plain(answer.text).replace("\u202f", " ").replace("\u00a0", " ")


@pytest.mark.published
@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({}, "45 minutes in boiling water"),  # half a litre takes the quart's time
        ({"jar": "473"}, "35 minutes in boiling water"),
        ({"half": "yes"}, "35 minutes in boiling water"),
        ({"jar": "946", "altitude": "310"}, "50 minutes in boiling water"),
        ({"jar": "946", "altitude": "304.8"}, "45 minutes in boiling water"),
        ({"jar": "946", "altitude": "1900"}, "60 minutes in boiling water"),
        ({"what": "rhubarb|stewed, hot", "jar": "473", "altitude": "1500"}, "20 minutes in boiling water"),
        ({"what": "snap beans|hot or raw", "altitude": "500", "gauge": "dial"}, "25 minutes at 11 psi"),
        ({"what": "snap beans|hot or raw", "altitude": "500", "gauge": "weighted"}, "25 minutes at 15 psi"),
        ({"what": "snap beans|hot or raw", "altitude": "500", "gauge": "dial"}, "11 psi (76 kPa)"),  # NIST SP 811
        ({"jar": "946"}, "30 ml bottled lemon juice, or 2.5 g citric acid, or 60 ml vinegar of 5 %"),
        ({"kg": "6.6", "jar": "500"}, "ten full jars"),
        ({"kg": "6.6", "jar": "500"}, "lemon juice for all 10: 160 ml"),
        ({"altitude": "610"}, "boil what is in it 12 minutes"),  # 2001 ft
        ({"what": "berry syrup|hot", "jar": "350"}, "10 minutes in boiling water"),
    ],
)
def test_the_table_is_looked_up(made: FastAPI, change: dict[str, str], said: str) -> None:
    """USDA Complete Guide to Home Canning, guides 2, 3 and 4; AIB 539, rev. 1994; MSU Extension, 1997. Jars: 1.32 kg
    a litre, MSU 01600830.
    """
    code, text = asked(made, **change)
    assert code == 200
    assert said in text


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"altitude": "-50"}, "It should be between −10 and 3 000 m"),
        ({"altitude": "9000"}, "It should be between −10 and 3 000 m"),
        ({"altitude": "high"}, "A number is wanted"),
        ({"jar": "1000"}, "up to 946 ml). Use smaller jars"),
        ({"jar": "0"}, "It should be between 1 and 20 000 ml"),
        ({"jar": "a quart"}, "A number is wanted"),
        ({"what": "berry syrup|hot", "jar": "500"}, "larger ones were not tested"),
        ({"what": "snap beans|hot or raw"}, "only in a canner with a gauge"),
        ({"what": "snap beans|hot or raw", "gauge": "dial", "altitude": "2500"}, "-10 to 2438 m"),
        ({"what": ""}, "Choose what goes into the jar."),
        ({"what": "garlic|in oil"}, "not one of the answers"),
        ({"what": "tomatoes|slow water bath at 88 °C, whole"}, "not one of the answers"),
        ({"kg": "-1"}, "It should be between"),
        ({"gauge": "whistle"}, "not one of the answers"),
    ],
)
def test_nonsense_gets_a_sentence_and_is_kept(made: FastAPI, change: dict[str, str], sentence: str) -> None:
    code, text = asked(made, **change)
    assert code == 422
    assert sentence in text
    assert "Freeze it instead" in text
    assert not [said for said in ("altitude", "jar", "kg") if said in change and f'value="{change[said]}"' not in text]


@pytest.mark.published
@pytest.mark.parametrize("what", ["elderberries and their juice", "plain vegetables in boiling water"])
def test_what_is_in_no_table_is_refused_and_offered_the_freezer(made: FastAPI, what: str) -> None:
    """University of Maine Cooperative Extension, 2020; USDA AIB 539, rev. 1994."""
    code, text = asked(made, what=what)
    assert code == 200
    assert "Not for the shelf" in text
    assert 'href="/add/frozen-produce"' in text
    assert "minutes in boiling water" not in text


def test_the_holdings_height_is_the_usual_answer_and_customs_stand_apart(made: FastAPI) -> None:
    text = plain(client(made).get("/preserving/bottling").text)
    assert 'name="altitude" value="' in text
    _, text = asked(made, what="plums|hot or raw")
    assert "British custom (MAFF Bulletin 21" in text
    assert "30 minutes in boiling water" not in text


def test_the_way_on_carries_the_figures(made: FastAPI) -> None:
    _, text = asked(made, what="pears|hot", kg="5")
    assert "/add/bottled-fruit?altitude_m=150&jar_ml=500&kg=5&fruit=pears" in text.replace("&amp;", "&")


def test_a_sheet_named_by_a_row_boils_as_long_as_the_row(made: FastAPI) -> None:
    """The knowledge stands twice, on the sheet and in the table: they may not part."""
    sheets = made.state.book.library.sheets
    named = [row for row in bottling_rows() if row.sheet]
    assert len(named) >= 12
    for row in named:
        step = next(one for one in sheets[row.sheet].steps if one.id == "process")
        given = step.start.given
        assert given["pint_minutes"].value == row.pint, row
        assert given["quart_minutes"].value == (row.quart or row.pint), row
