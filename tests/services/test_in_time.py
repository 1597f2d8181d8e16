"""How it's done is told in the order of the work: as gardeners' handbooks have it."""

from pathlib import Path

import pytest

from app.services.in_time import in_time
from tests.services.croft import TODAY, croft

ORDERS = {
    "broad-bean": ["sow", "up", "sticks", "pinch", "pick", "pull", "thresh", "tin"],
    "parsnip": ["warm", "sow", "up", "thin", "lift", "choose", "sand", "stake", "flower", "cut", "thresh", "tin"],
    "tomato": ["sow", "up", "pot", "harden", "plant", "pick", "ferment", "rinse", "tin"],
    "apple": ["plant", "water", "buds", "blossom", "thin", "pick", "look"],
    "potato": ["chit", "plant", "earth", "haulm", "lift", "store", "sort"],
}


@pytest.mark.common_practice
def test_the_steps_of_a_crop_are_told_from_sowing_to_store(tmp_path: Path) -> None:
    """Also where the sheet is made of patterns, the one for seed first; meat stays as its file has it."""
    book = croft(tmp_path)
    sheets = book.library.sheets
    with book.reading() as session:
        told = {name: [step.id for step in in_time(book, session, sheets[name], TODAY)] for name in [*ORDERS, "bacon"]}
    book.close()
    for name, order in ORDERS.items():
        assert [step for step in told[name] if step in order] == order
    assert told["bacon"] == list(sheets["bacon"].order)
    for name, steps in told.items():
        assert sorted(steps) == sorted(step.id for step in sheets[name].steps)
