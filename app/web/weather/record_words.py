"""What is said of a file of weather and of what is on record."""

from collections.abc import Sequence

from app.services.weather.files import Looked, Readings, Taken
from app.services.weather.weather import OnRecord
from app.web.words import MONTHS, SP, between, counted, listed

FEW_YEARS = 10
MOST_MONTHS = 6


def big(n: int) -> str:
    """A large number with its thousands apart: "10 957"."""
    return f"{n:,}".replace(",", SP)


def rows_words(heads: Sequence[str], rows: int) -> str:
    """How large a file is."""
    return f"{big(rows)} rows, {counted(len(heads), 'column')}. Nothing of it is kept yet."


def read_words(read: Readings) -> tuple[str, ...]:
    """What would be taken in."""
    if not read.days:
        return ("No day in it can be read as it stands.",)
    first, last = read.days[0].day, read.days[-1].day
    said = [f"{big(len(read.days))} days can be taken in, {between(first, last, None)}."]
    if read.repeated:
        said.append(f"{counted(read.repeated, 'row stands', 'rows stand').capitalize()} there twice, and count once.")
    if read.empty:
        said.append(f"{counted(read.empty, 'row holds', 'rows hold').capitalize()} no figure.")
    return tuple(said)


def gaps(read: Readings) -> tuple[str, ...]:
    """What is missing, and what a short record is worth."""
    said = []
    if read.missing_months:
        said.append(f"{_months(read.missing_months)} {'is' if len(read.missing_months) == 1 else 'are'} missing.")
    if read.missing_days:
        said.append(f"{counted(read.missing_days, 'single day is', 'single days are').capitalize()} missing besides.")
    if read.days:
        said += worth(len(read.days) / 365.25)
    return tuple(said)


def _months(months: Sequence[tuple[int, int]]) -> str:
    named = [f"{MONTHS[month - 1]} {year}" for year, month in months[:MOST_MONTHS]]
    more = len(months) - MOST_MONTHS
    return listed([*named, f"{counted(more, 'other month', 'other months')}"] if more > 0 else named)


def worth(years: float) -> list[str]:
    """What a record of so many years can't tell; chances want ten (common practice; thirty are a climate's normal)."""
    if years < 0.75:
        return ["That is less than a year: too short for chances of frost. It says how this year goes."]
    if years < 1.75:
        return ["That is one year: too short for chances of frost. It is used for what one year can tell."]
    if years < FEW_YEARS:
        return [f"That is about {counted(round(years), 'year')}: chances of frost in one year of ten want ten or more."]
    return []


def shape_words(looked: Looked) -> tuple[str, ...]:
    """What is said of a file that has no row for each day."""
    shape = looked.found.shape
    if shape == "monthly":
        if len(looked.months) == 12:
            return ("It has a row for each month, not for each day. It can serve as your twelve monthly means.",)
        if looked.found.doubts:
            return ("It has a row for each month, not for each day.",)
        return (
            "It has a row for each month, not for each day, and not every month has both temperatures;"
            " so neither days nor twelve monthly means can be had of it.",
        )
    if shape == "several":
        return ("It has many rows for one day. A file with one row for each day is wanted.",)
    return ()


def taken_words(taken: Taken) -> str:
    """What came of a file."""
    parts = [f"{big(taken.new)} {'day is' if taken.new == 1 else 'days are'} taken in, and every date follows."]
    if taken.filled:
        parts.append(f"On {counted(taken.filled, 'day')} that was on record, what had not been read is filled in.")
    if taken.stayed:
        parts.append(f"{counted(taken.stayed, 'day was', 'days were').capitalize()} on record already, and stayed.")
    if taken.left_out:
        parts.append(f"{counted(taken.left_out, 'row was', 'rows were').capitalize()} left out.")
    return " ".join(parts)


def has_words(record: OnRecord) -> tuple[str, ...]:
    """What is on record."""
    if record.first is None or record.last is None:
        return ("No day’s temperature is on record yet. The season rests on monthly means till then.",)
    said = [f"{big(record.days)} days, {between(record.first, record.last, None)}."]
    if record.by_hand >= record.days:
        said.append("All of them were put down by hand.")
    elif record.by_hand:
        said.append(f"{counted(record.by_hand, 'of them was', 'of them were').capitalize()} typed by hand.")
    if record.missing_months:
        verb = "is" if len(record.missing_months) == 1 else "are"
        said.append(f"{_months(record.missing_months)} {verb} missing.")
    return (*said, *worth(record.years))
