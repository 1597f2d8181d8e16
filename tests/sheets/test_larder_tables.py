"""What the larder goes by: which days are of safety, one table beside another, and what is wrong with a file."""

from tomllib import loads

import pytest

from app.rules.spans import Span
from app.rules.terms import NATIONS
from app.sheets.larder_tables import basis_of, figures_of, larder_tables, named, read_larder, said_in
from app.sheets.read import read
from app.sheets.values import ITSELF


@pytest.mark.published
@pytest.mark.parametrize(
    ("what", "trade", "store", "of"),
    [
        ("pork chops", "meat", "freezer", "quality"),
        ("mince, chilled", "meat", "fridge", "safety"),
        ("minced beef", "", "fridge", "safety"),
        ("cooked beans", "", "fridge", "safety"),
        ("air-dried ham", "meat", "shelf", "safety"),
        ("bottled tomatoes", "preserving", "shelf", "quality"),
        ("kale", "garden", "fridge", "quality"),
        ("champignons", "", "shelf", "quality"),
        ("eggs", "livestock", "shelf", "quality"),
    ],
)
def test_what_a_day_is_of(what: str, trade: str, store: str, of: str) -> None:
    """FoodSafety.gov and FDA, Cold Food Storage Chart: the refrigerator's times are for safety, the freezer's for
    quality. Eggs have a best-before: Business Companion, Selling eggs: dates."""
    assert basis_of(what, trade, store).of == of


@pytest.mark.published
def test_the_figures_of_bacon_stand_side_by_side() -> None:
    """Cold Food Storage Chart: bacon 7 days chilled, a month frozen; common practice: 4 to 6 weeks in the slab."""
    chilled = figures_of("streaky bacon", "fridge")
    assert [(one.basis, one.low, one.high) for one in chilled] == [
        ("published", Span(0, 7), Span(0, 7)), ("common practice", Span(0, 28), Span(0, 42)),
    ]  # fmt: skip
    assert figures_of("bacon", "freezer")[0].low == Span(1, 0)
    assert figures_of("minced beef", "fridge")[0].high == Span(0, 2)
    assert figures_of("plum jam", "shelf") == ()


def test_names_are_whole_words() -> None:
    assert named("Cooked ham, sliced", ("ham",))
    assert named("hams", ("ham",))
    assert not named("champignon", ("ham",))
    assert not named("eggplant", ("egg",))
    for what in ("lamb’s lettuce", "kidney beans", "beef tomatoes"):
        assert (basis_of(what, "", "fridge").of, figures_of(what, "fridge")) == ("quality", ())


def test_every_nation_is_told_of_home_killed_meat_and_of_a_thaw() -> None:
    tables = larder_tables()
    for nation in NATIONS:
        assert "given away" in said_in(tables.home_killed, nation).says
        assert said_in(tables.refreeze, nation).source
    assert said_in(tables.home_killed, "") == said_in(tables.home_killed, "elsewhere")


@pytest.mark.parametrize(
    ("text", "key", "says"),
    [
        ('[[basis]]\nof = "taste"\nsource = "common practice"', "of", "unknown word 'taste'"),
        ('[[basis]]\nof = "safety"', "source", "has no source"),
        ('[[keeps]]\nnamed = ["ham"]\nfigures = [{ meat = "hamm" }]', "figures.meat", "no table has 'hamm'"),
        ('[[keeps]]\nnamed = ["ham"]\nfigures = [{ keeps = ["P1D"], source = "common practice" }]', "figures.keeps",
         "a low and a high"),
        ('[[basis]]\nstore = "freezer"\nof = "quality"\nsource = "common practice"', "basis", "must fit everything"),
    ],
)  # fmt: skip
def test_a_faulty_table_is_told(text: str, key: str, says: str) -> None:
    _, faults = read_larder(loads(text), ITSELF)
    assert [fault.reason for fault in faults if fault.key == key and says in fault.reason], faults


SHEET = """
sheet = "one"
title = "One"
trade = "preserving"
kind = "batch"
[facts]
date = {{ asks = "date" }}
[[step]]
id = "pack"
title = "Pack it"
from = {{ entry = "date" }}
asks = {{ kg = "kg" }}
makes = [{{ lot = "kraut", amount = "pack.kg", unit = "kg", keeps = "P4M", where = "fridge", basis = "{basis}" }}]
source = "common practice"
"""


def test_a_sheet_may_say_what_the_day_is_of() -> None:
    good = read(SHEET.format(basis="quality"))
    assert not isinstance(good, list)
    assert good.steps[0].makes[0].basis == "quality"
    (fault,) = read(SHEET.format(basis="taste"))  # type: ignore[misc]  # it is a list: it has a fault
    assert (fault.step, fault.key) == ("pack", "makes.basis")
