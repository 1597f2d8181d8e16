"""The closed seasons of each nation, to the day, as they are printed; both days named are closed."""

import tomllib

import pytest

from app.sheets.library import ROOT

SEASONS = [
    ("england", "hedges", "--03-01", "--08-31", "The Management of Hedgerows (England) Regulations 2024"),
    ("northern-ireland", "hedges", "--03-01", "--08-31", "CAFRE, by agriland.co.uk"),
    ("ireland", "hedges", "--03-01", "--08-31", "Wildlife Act 1976, section 40"),
    ("northern-ireland", "burning", "--04-15", "--08-31", "Department of Agriculture, minister's notice, 2014"),
    (
        "scotland",
        "burning",
        "--04-16",
        "--09-30",
        "Hill Farming Act 1946, section 23: burnt from 1 October to 15 April",
    ),
    ("scotland", "burning-2024", "--04-01", "--09-14", "the Act of 2024: burnt from 15 September to 31 March"),
]


@pytest.mark.published
@pytest.mark.parametrize(("nation", "bar", "first", "last", "source"), SEASONS)
def test_a_closed_season_begins_and_ends_on_the_day_that_is_printed(
    nation: str, bar: str, first: str, last: str, source: str
) -> None:
    law = tomllib.loads((ROOT / "law" / f"{nation}.toml").read_text(encoding="utf-8"))
    (found,) = (one for one in law["bar"] if one["id"] == bar)
    assert (found["from"]["day"], found["to"]["day"]) == (first, last), source
