"""A data folder and its records, anew for each test."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine

from app.records import store
from app.settings import Settings, read_settings

NOW = datetime(2027, 3, 10, 7, 15, tzinfo=UTC)


@pytest.fixture
def place(tmp_path: Path) -> Settings:
    return read_settings({"TWELVEMONTH_DATA": str(tmp_path / "data")})


@pytest.fixture
def engine(place: Settings) -> Iterator[Engine]:
    opened = store.open_database(place, now=NOW)
    yield opened
    opened.dispose()
