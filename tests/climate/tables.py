"""Reading the tables of tests/published, and the places that the season tests use."""

import csv
from pathlib import Path

from app.sheets.places import places
from app.trade.climate.normals_season import NormalsSeason

PUBLISHED = Path(__file__).parent.parent / "published"


def table(name: str) -> list[dict[str, str]]:
    """The rows of a table, its comment lines left out."""
    lines = (PUBLISHED / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def season(place: str, latitude_deg: float = 53.0, **more: object) -> NormalsSeason:
    """The season of one of the places that come with the program."""
    return NormalsSeason(latitude_deg, places().normals[place], places().scatter, **more)  # type: ignore[arg-type]
