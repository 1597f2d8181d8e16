"""Dates, minutes and amounts as people say them: plain functions, also the templates' filters.

Every space inside a figure is a no-break space, so that "2 h 30" and "15 September" never part at a line's end.
"""

import math
from collections.abc import Callable, Iterable
from datetime import date

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
TRADE_WORDS = {
    "garden": "Garden",
    "livestock": "Livestock",
    "meat": "Meat",
    "preserving": "Preserving",
    "upkeep": "Upkeep",
}
SP = "\u00a0"


def count(n: int) -> str:
    """A number in words up to twelve, in figures beyond: "two", "13"."""
    return NUMBERS[n] if 0 <= n <= 12 else figure(n)


def counted(n: int, one: str, many: str = "") -> str:
    """A number with its noun: "one job", "two days", "41 jobs"."""
    return f"{count(n)}{SP}{one if n == 1 else many or one + 's'}"


def figure(value: float, decimals: int = 2) -> str:
    """A number without idle noughts, thousands set apart by a thin space: "1.5", "1 100"."""
    text = f"{value:,.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:,.0f}"
    return text.replace(",", "\u202f").replace("-", "−")


def amount(value: float, unit: str = "") -> str:
    """A number with its unit: "1.4 kg", "2.25 %", "9 m"."""
    shown = {"m2": "m²", "c": "°C", "d": "days"}.get(unit, unit)
    return f"{figure(value)}{SP}{shown}" if shown else figure(value)


def minutes(value: float) -> str:
    """Minutes as a person says them: "5 min", "1 h", "2 h 30"; nothing for none."""
    whole = round(value)
    if whole <= 0:
        return ""
    if whole < 60:
        return f"{whole}{SP}min"
    hours, rest = divmod(whole, 60)
    return f"{hours}{SP}h{SP}{rest:02d}" if rest else f"{hours}{SP}h"


def hours(value_min: float) -> str:
    """Minutes told as hours to the nearest half below ten hours, whole above: "2½ h", "41 h"."""
    if value_min < 20:
        return f"{round(value_min)}{SP}min" if value_min else f"0{SP}h"
    halves = math.floor(value_min / 30 + 0.5)
    if halves >= 20 or halves % 2 == 0:
        return f"{math.floor(value_min / 60 + 0.5)}{SP}h"
    return f"{halves // 2 or ''}½{SP}h"


def light(hours_of_light: float) -> str:
    """Hours of daylight as hours and minutes: "13 h 36"."""
    whole = round(hours_of_light * 60)
    return f"{whole // 60}{SP}h{SP}{whole % 60:02d}"


def clock(minutes_after_midnight: int) -> str:
    """A time of day: "6.41", "19.24"."""
    return f"{minutes_after_midnight // 60 % 24}.{minutes_after_midnight % 60:02d}"


def ordinal(n: int) -> str:
    """A day of the month as it is said: "1st", "23rd", "12th"."""
    ending = "th" if 10 <= n % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(n % 10, "th")
    return f"{n}{ending}"


def day(on: date, today: date | None = None) -> str:
    """A date in words, with its year unless it is today's: "15 September", "6 October 2028"."""
    text = f"{on.day}{SP}{MONTHS[on.month - 1]}"
    return text if today and on.year == today.year else f"{text}{SP}{on.year}"


def weekday(on: date, today: date | None = None) -> str:
    """A date with its weekday: "Wednesday 15 September"."""
    return f"{WEEKDAYS[on.weekday()]} {day(on, today)}"


def short(on: date, today: date | None = None) -> str:
    """A date for a narrow place: "15 Sep", "6 Oct 2028"."""
    text = f"{on.day}{SP}{MONTHS[on.month - 1][:3]}"
    return text if today and on.year == today.year else f"{text}{SP}{on.year}"


def month(on: date, today: date | None = None) -> str:
    """A month by name, with its year unless it is today's: "September", "March 2028"."""
    name = MONTHS[on.month - 1]
    return name if today and on.year == today.year else f"{name}{SP}{on.year}"


def between(first: date, last: date, today: date | None = None) -> str:
    """Two days as one stretch: "14–28 May", "28 September – 3 October", with the year where it is not today's."""
    if first == last:
        return day(first, today)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day}–{day(last, today)}"
    start = f"{first.day}{SP}{MONTHS[first.month - 1]}"
    if first.year != last.year:
        start = f"{start}{SP}{first.year}"
    return f"{start} – {day(last, today)}"


def window(opens: date, best: date, closes: date, today: date | None = None) -> str:
    """A window in words, each month named once: "from 13 · best 17 · by 21 Sep"."""
    if opens == best == closes:
        return f"on {short(best, today)}"
    until = short(closes, today)
    middle = str(best.day) if (best.year, best.month) == (closes.year, closes.month) else short(best, closes)
    start = str(opens.day) if (opens.year, opens.month) == (best.year, best.month) else short(opens, best)
    return f"from{SP}{start} · best{SP}{middle} · by{SP}{until}"


def left(closes: date, today: date) -> str:
    """How long is left: "two days left", "last day", "three days late"."""
    days = (closes - today).days
    if days < 0:
        return f"{counted(-days, 'day')} late"
    return f"{counted(days, 'day')} left" if days else "last day"


def away(on: date, today: date) -> str:
    """How far off a day is: "today", "tomorrow", "in nine days", "three weeks ago"."""
    days = (on - today).days
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    if days in near:
        return near[days]
    size = abs(days)
    length = counted(size, "day") if size < 21 else counted(round(size / 7), "week")
    return f"in {length}" if days > 0 else f"{length} ago"


def listed(items: Iterable[str], last: str = "and") -> str:
    """Things in a row: "salt", "salt and jars", "salt, jars and lids"."""
    things = list(items)
    if len(things) < 2:
        return "".join(things)
    return f"{', '.join(things[:-1])} {last} {things[-1]}"


def trade(name: str) -> str:
    """A trade's word on the page: "Garden"."""
    return TRADE_WORDS.get(name, name)


def anchor(key: str) -> str:
    """A task's key as an element's id: letters, digits, hyphen and underscore only, so that a selector can hold it.

    The form is one to one: "." becomes "_", and whatever else is neither letter, digit nor hyphen its code point.
    """
    safe = (c if (c.isascii() and c.isalnum()) or c == "-" else "_" if c == "." else f"__{ord(c):x}_" for c in key)
    return "t-" + "".join(safe)


FILTERS: dict[str, Callable[..., str]] = {
    "amount": amount, "anchor": anchor, "away": away, "between": between, "clock": clock, "count": count,
    "counted": counted, "day": day, "figure": figure, "hours": hours, "left": left, "light": light, "listed": listed,
    "minutes": minutes, "month": month, "ordinal": ordinal, "short": short, "trade": trade, "weekday": weekday,
    "window": window,
}  # fmt: skip
"""What a template may call on a value."""
