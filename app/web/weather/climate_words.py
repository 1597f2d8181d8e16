"""Our weather in sentences: the frosts, the light and the sums of the year, and how this year stands beside it."""

from datetime import date

from app.rules.spans import Day
from app.services.weather.climate import Days, SoFar, UsualYear
from app.web.rows import date_of
from app.web.weather.climate_drawing import degrees, freezes, middle_of
from app.web.words import MONTHS, SP, count, counted, figure, light, listed, short


def picture_words(usual: UsualYear) -> str:
    """What the picture shows, for who cannot see it; its figures are the table."""
    warmest = max(usual.months, key=lambda month: month.max_c)
    coldest = min(usual.months, key=lambda month: month.min_c)
    return (
        f"The year’s daylight, warmth, frost and rain. Warmest in {MONTHS[warmest.month - 1]}, "
        f"{degrees(warmest.max_c)} by day; coldest in {MONTHS[coldest.month - 1]}, {degrees(coldest.min_c)} by night. "
        "All its figures stand below."
    )


def frost_words(usual: UsualYear, today: date) -> str:
    """The frost dates in sentences; a place without frost is told as one."""
    if not freezes(usual):
        return "Frost does not come here in nine years of ten."
    told = [_last_words(usual.last_frost, today), _first_words(usual.first_frost, today)]
    last, first = usual.last_frost[1], usual.first_frost[1]
    if last is not None and first is not None and first > last:
        told.append(f"In a middling year {counted(first - last - 1, 'day')} lie between them.")
    return " ".join(one for one in told if one)


def _last_words(days: Days, today: date) -> str:
    early, middle, late = (None if day is None else short(date_of(day), today) for day in days)
    if late is None:
        return "In nine years of ten there is no frost in spring."
    if middle is None:
        return f"In more than half of the years there is no frost; in nine of ten the last is over by {late}."
    if early is None:
        return (
            f"The last frost is over by {middle} in half the years, by {late} in nine of ten; in more than one of ten "
            "there is none."
        )
    return f"The last frost is over by {early} in one year of ten, by {middle} in half, by {late} in nine of ten."


def _first_words(days: Days, today: date) -> str:
    early, middle, late = (None if day is None else short(date_of(day), today) for day in days)
    if early is None:
        return "In nine years of ten no frost comes in autumn."
    if middle is None:
        return f"The first has come by {early} in one year of ten; in more than half there is none."
    if late is None:
        return (
            f"The first has come by {early} in one year of ten, by {middle} in half; in more than one of ten there is "
            "none."
        )
    return f"The first has come by {early} in one year of ten, by {middle} in half, by {late} in nine of ten."


def light_words(usual: UsualYear) -> str:
    """The longest day and the shortest; midnight sun and polar night are told as such."""
    hours = usual.daylight_hours
    said = []
    for end, name in ((max, "longest"), (min, "shortest")):
        at = middle_of(hours, end)
        month = MONTHS[date_of(usual.first + at).month - 1]
        said += [f"{light(hours[at])} at the {name}, in {month}"] if 0 < hours[at] < 24 else []
    said = [f"The sun is up {listed(said)}."] if said else []
    bright, dark = sum(one >= 24 for one in hours), sum(one <= 0 for one in hours)
    said += [f"On {counted(bright, 'day')} it does not set."] if bright else []
    said += [f"On {counted(dark, 'day')} it does not rise."] if dark else []
    return " ".join(said)


def _on(day: Day) -> str:
    on = date_of(day)
    return f"{on.day}{SP}{MONTHS[on.month - 1]}"


def sum_words(usual: UsualYear) -> str:
    """When more water is drawn than falls, and how much chill the winter brings."""
    months = usual.months
    cold = (10, 11, 12, 1, 2, 3) if usual.north else (4, 5, 6, 7, 8, 9)
    chill = sum(month.chill_h for month in months if month.month in cold)
    season = f"{MONTHS[cold[0] - 1]} to {MONTHS[cold[-1] - 1]}"
    dry = [MONTHS[month.month - 1] for month in months if month.short_mm is not None and month.short_mm > 0]
    when = "every month" if len(dry) == len(months) else listed(dry)
    drinks = f"Grass would drink more than falls in {when}." if dry else ""
    if chill < 10:
        return f"{drinks} Fruit that wants a winter has none: there are no hours of chill.".strip()
    return f"{drinks} From {season} fruit has {figure(round(chill, -1), 0)} hours of chill.".strip()


def warmth_words(so_far: SoFar) -> str:
    """How this year's warmth stands, in days."""
    ahead = so_far.ahead_days
    if ahead is None:
        if so_far.now > so_far.usual.middle[-1]:
            return "More warmth has come than an ordinary year brings altogether."
        return "So early in the year, warmth says little yet."
    if ahead == 0:
        return "Warmth stands where it does in an ordinary year."
    way = "ahead of" if ahead > 0 else "behind"
    return f"Warmth is {counted(abs(ahead), 'day')} {way} an ordinary year."


def nights_words(so_far: SoFar) -> str:
    """How this year's nights compare, in degrees."""
    apart = round(so_far.apart, 1)
    if abs(apart) < 0.1:
        return "Nights have been as cold as usual, taken together."
    return f"Nights have been {degrees(abs(apart))} {'milder' if apart > 0 else 'colder'} than usual, taken together."


def rain_words(so_far: SoFar) -> str:
    """How this year's rain compares, in mm."""
    more = round(so_far.now) - round(so_far.usual.middle[so_far.at])
    if more == 0:
        return "As much rain has fallen as in an ordinary year."
    return f"{figure(abs(more), 0)}{SP}mm {'more' if more > 0 else 'less'} rain has fallen than in an ordinary year."


def sums(so_far: SoFar, unit: str) -> str:
    """A sum by its last day: this year, the ordinary one, and what eight years in ten have."""
    usual, at = so_far.usual, so_far.at
    now, middle = figure(round(so_far.now), 0), figure(round(usual.middle[at]), 0)
    said = f"By {_on(so_far.last)}: {now}{SP}{unit}; ordinarily {middle}"
    if usual.low:
        low, high = figure(round(usual.low[at]), 0), figure(round(usual.high[at]), 0)
        said += f", in eight years of ten {low} to {high}"
    return f"{said}.{_missing(so_far)}"


def _missing(so_far: SoFar) -> str:
    if not so_far.missing:
        return ""
    stand = "is not known; the usual day stands" if so_far.missing == 1 else "are not known; usual days stand"
    return f" {counted(so_far.missing, 'day').capitalize()} {stand} for {'it' if so_far.missing == 1 else 'them'}."


def nights_detail(so_far: SoFar) -> str:
    """The coldest night, and how many were rarely so cold."""
    day, value = so_far.least
    known = len(so_far.values) - so_far.missing
    said = f"The coldest was {degrees(value)} on {_on(day)}."
    if so_far.rare:
        nights = counted(so_far.rare, "night")
        were = "was" if so_far.rare == 1 else "were"
        said += f" {nights.capitalize()} of {count(known)} {were} colder than nine years in ten have then."
    if so_far.missing:
        said += f" {counted(so_far.missing, 'night').capitalize()} {'is' if so_far.missing == 1 else 'are'} not known."
    return said
