"""An invented croft, set up in an empty data folder on a day that stands still."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from app.services import setup
from app.services.book import Book
from app.services.preview import Draft
from app.services.setup import House, Where
from app.settings import Settings, read_settings

ON = date(2027, 3, 10)
TODAY = ON.toordinal()
WHERE = Where("Invented Croft", "england", 54.2, -2.3, 250.0, "north-yorkshire")
HOUSE = House(None, None, 4.0, "metric", "Europe/London")


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def settings(folder: Path) -> Settings:
    return read_settings({"TWELVEMONTH_DATA": str(folder)})


class Clock:
    """A clock that stands until it is put on."""

    def __init__(self) -> None:
        self.at = datetime(2027, 3, 10, 8, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.at


class Ticking(Clock):
    """A clock on which a second goes by between two looks."""

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


def empty(folder: Path, clock: Clock | None = None, today: date = ON) -> Book:
    return Book(settings(folder), now=clock or Clock(), today=today)


def croft(folder: Path, *sheets: str, clock: Clock | None = None) -> Book:
    book = empty(folder, clock)
    setup.begin(book, WHERE, HOUSE, sheets, TODAY)
    return book


def draft(
    sheet: str = "leek-seed", date: str = "2027-03-01", name: str = "", place: str = "", **facts: object
) -> Draft:
    return Draft(sheet, name, place, {"date": day(date), **facts})  # type: ignore[dict-item]


def windows(book: Book, entry: str) -> dict[str, tuple[object, ...]]:
    """Every job of an entry: from, best, by, done."""
    with book.reading() as session:
        laid = book.planned(session, TODAY).laid[entry]
    return {task.key: (task.opens, task.best, task.closes, task.done) for task in laid.tasks}
