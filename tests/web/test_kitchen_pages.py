"""The kitchen's sums, asked on their page."""

import pytest
from fastapi import FastAPI

from tests.web.holding import app, client, plain

URL = "/preserving/sums"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """A holding; reckoning changes nothing, so that one serves all."""
    return app(tmp_path_factory.mktemp("kitchen"))


def asked(made: FastAPI, which: str, **typed: str) -> tuple[int, str]:
    answer = client(made).get(URL, params={"sum": which} | {f"{which}-{name}": said for name, said in typed.items()})
    return answer.status_code, plain(answer.text).replace("\u202f", " ").replace("\u00a0", " ")


@pytest.mark.published
@pytest.mark.parametrize(
    ("which", "typed", "said"),
    [
        # USDA bulletin: 8 °F above boiling water; IAPWS-IF97 at the sea and at 1828.8 m (6000 ft): 208.98 °F, 98.3 °C
        ("jam", {"altitude": "0"}, "sets at 104.4 °C"),
        ("jam", {"altitude": "1828.8"}, "sets at 98.3 °C"),
        ("jam", {"boils": "99"}, "sets at 103.4 °C"),
        # (1 + 1 x 0.10) / 0.66, by hand
        ("jam", {"final": "66"}, "Makes 1.67 kg"),
        ("jam", {"final": "55"}, "the fridge, and a few weeks"),
        ("jam", {"fruit": "0.45", "final": "75"}, "Only 323 g of fruit"),  # Jam (England) Regulations 2003
        ("vinegar", {"vinegar": "500", "percent": "6", "water": "100"}, "5 % acid: enough for a shelf"),
        ("vinegar", {"vinegar": "500", "percent": "6", "water": "200"}, "4.29 % acid: too thin for a shelf"),
        ("vinegar", {"vinegar": "500", "percent": "6", "water": "0"}, "100 ml in all"),
        # a cup of each to five: 1 litre to 5, and 200 g the cup of 237 ml
        ("chutney", {"produce": "5"}, "At least 1 l of 5 % vinegar and 0.85 kg of sugar"),
        ("crock", {"vegetables": "2", "salt": "2.25"}, "45 g of salt"),
        ("crock", {"vegetables": "2", "salt": "2.4"}, "45 to 50 g"),
        ("crock", {"vegetables": "1", "brine": "1", "salt": "2.5"}, "50 g of salt"),
        ("crock", {"room": "22.5"}, "21 to 28 days"),  # MSU Extension 01600078, 1997
        ("crock", {"room": "17"}, "35 to 42 days"),
        ("crock", {"room": "12"}, "it may not sour"),
        ("blanch", {"crop": "peas, shelled", "altitude": "1600"}, "2.5 minutes"),  # VISTA; Utah State: from 5000 ft
        ("blanch", {"crop": "green beans", "kg": "30", "freezer": "200"}, "4 to 5 days: it hardens 6.4 kg to 9.6 kg"),
        ("blanch", {"crop": "onions"}, "Onions: not scalded"),
        ("store", {"crop": "carrots", "store": "0"}, "5 to 9 months at 0 °C"),  # UMass Extension
        ("store", {"crop": "onions", "kg": "25"}, "23.75 kg to 24.25 kg"),  # 3 to 5 % lost in curing
        ("store", {"crop": "onions", "store": "4"}, "3 weeks to 6.1 months"),  # 1 and 8 months over 3 and 2 to the 0.4
        ("store", {"crop": "acorn squashes", "store": "12.5"}, "none: it is harmed by curing"),
        ("honey", {"index": "1.4915"}, "18 % water: within the 20 %"),  # Wedmore; Directive 2001/110/EC
        ("honey", {"index": "1.4840"}, "21 % water: above the 20 %"),
        ("honey", {"index": "1.4840", "kind": "heather"}, "within the 23 %"),
        ("store", {"crop": "kale", "store": "0"}, "10 to 14 days"),  # University of Wisconsin Extension
    ],
)
def test_each_sum_gives_what_its_source_says(made: FastAPI, which: str, typed: dict[str, str], said: str) -> None:
    code, text = asked(made, which, **typed)
    assert code == 200
    assert said in text


@pytest.mark.parametrize(
    ("which", "typed", "sentence"),
    [
        ("jam", {"altitude": "-50"}, "It should be between −10 and 3 000 m"),
        ("jam", {"altitude": "9000"}, "It should be between −10 and 3 000 m"),
        ("jam", {"fruit": "0"}, "It should be between 0.05 and 100 kg"),
        ("jam", {"sugar": "9"}, "Take less sugar"),
        ("jam", {"solids": "40"}, "5 to 25"),
        ("jam", {"boils": "80"}, "Try the thermometer"),
        ("jam", {"final": "80"}, "50 to 75"),
        ("vinegar", {"percent": "80"}, "1 to 25"),
        ("vinegar", {"water": "-5"}, "That is less than nothing"),
        ("chutney", {"produce": "0"}, "0.2 to 100 litres"),
        ("crock", {"salt": "1.5"}, "2 to 10"),
        ("crock", {"salt": "lots"}, "A number is wanted"),
        ("blanch", {"crop": "bricks"}, "not one of the answers"),
        ("blanch", {"kg": "400", "freezer": "100"}, "Bottle, dry or give away a part"),
        ("blanch", {"freezer": "5"}, "20 to 1000"),
        ("store", {"crop": "pumpkins", "store": "5"}, "it rots sooner"),
        ("honey", {"index": "1.333"}, "Clean the prism"),
        ("honey", {"index": "sweet"}, "A number is wanted"),
        ("store", {"crop": "carrots", "store": "30"}, "Find a cooler place"),
    ],
)
def test_nonsense_gets_a_sentence_and_is_kept(made: FastAPI, which: str, typed: dict[str, str], sentence: str) -> None:
    code, text = asked(made, which, **typed)
    assert code == 422
    assert sentence in text
    assert not [said for name, said in typed.items() if name != "crop" and f'value="{said}"' not in text]


def test_every_sum_is_answered_before_anything_is_typed(made: FastAPI) -> None:
    answer = client(made).get(URL)
    assert answer.status_code == 200
    assert answer.text.count('class="says"') == 7
    assert client(made).get(URL, params={"sum": "nonsense"}).status_code == 200
    assert "follow" in answer.text or "local food-safety authority" in answer.text
