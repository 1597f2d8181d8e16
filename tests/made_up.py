"""The made-up holding in a data folder: filled once for a day, and copied for whoever wants one of his own."""

import shutil
import tempfile
from datetime import date, datetime
from functools import cache
from pathlib import Path

from app.services.book import Book
from app.services.demo.demo import start
from app.settings import read_settings


@cache
def _filled(today: str) -> tempfile.TemporaryDirectory[str]:
    """Filled through the doors that a household uses, at nine in the morning; gone when the run ends."""
    folder = tempfile.TemporaryDirectory(prefix="made-up-")
    settings = read_settings({}, Path(folder.name))
    at = datetime.fromisoformat(f"{today}T09:00:00+00:00")
    book = Book(settings, now=lambda: at, today=date.fromisoformat(today))
    start(book, settings.demo_data)
    book.close()
    return folder


def put(folder: Path, today: str) -> None:
    """Put the made-up holding as of a day into a data folder that is not there, or is empty."""
    shutil.copytree(_filled(today).name, folder, dirs_exist_ok=True)
