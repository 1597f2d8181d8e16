"""The weather that is told, in words: its taps, what it puts off and why."""

from datetime import date

from app.rules.spans import Day
from app.services.today import NotToday
from app.services.weather.told import NIGHT_AND_WIND, SKIES, Told
from app.web import pages, words
from app.web.parts import Status
from app.web.rows import date_of
from app.web.words import amount

TEXTS = {"dry": "Dry", "showers": "Showers", "wet": "Wet", "frost": "Frost", "wind": "Wind"}
SAID = {"dry": "dry", "showers": "showers", "wet": "wet", "frost": "frost in the night", "wind": "wind"}


def weather_of(one: Told, today: Day) -> pages.DayWeather:
    """A day's taps."""
    name = day_name(one.day, today)
    taps = tuple(_tap(one, what, name) for what in (*SKIES, *NIGHT_AND_WIND))
    return pages.DayWeather(date_of(one.day).isoformat(), name, taps)


def _tap(one: Told, what: str, name: str) -> pages.Tap:
    on = one.holds(what)
    return pages.Tap(f"{what} {'no' if on else 'yes'}", TEXTS[what], f"{name}: {SAID[what]}", on)


def day_name(day: Day, today: Day) -> str:
    """What a day is called beside today: "Today", "Tomorrow", "Friday"."""
    near = {0: "Today", 1: "Tomorrow"}
    return near.get(day - today) or words.WEEKDAYS[date_of(day).weekday()]


def said_of(one: Told) -> str:
    """What is told of a day: "wet and wind"; "" for nothing."""
    return words.listed(SAID[what] for what in (*SKIES, *NIGHT_AND_WIND) if one.holds(what))


def told_status(one: Told, today: Day, put_off: int) -> Status:
    """What came of a tap."""
    name, said = day_name(one.day, today), said_of(one)
    if not said:
        return Status(f"{name}: no weather is told any more.")
    more = f" {words.counted(put_off, 'job').capitalize()} put off for it." if put_off and one.day == today else ""
    return Status(f"{name}: {said}.{more}")


def why_not(one: NotToday, today: date) -> str:
    """Why a job is not for today."""
    needs = one.job.needs
    match one.why:
        case "people":
            return f"needs {words.count(needs.people)}, and not all are here"
        case "frost":
            return "wants no frost, and one is likely tonight"
        case "no frost":
            return "wants no frost tonight"
        case "warm":
            return f"wants {amount(needs.above_c or 0, 'c')} or more, and there is frost tonight"
        case "dry":
            return "wants a dry day"
        case "still":
            return "wants a still day"
    if one.first is not None:
        return f"not before {words.short(date_of(one.first), today)}"
    return one.job.held.says if one.job.held is not None and one.job.held.says else "until something is said"
