"""Our weather as a page: the place's year in a picture, sentences and a table, and this year against it."""

from collections.abc import Sequence
from datetime import date

from app.services.weather.climate import MovedDate, OurWeather, ThisYear, UsualYear
from app.web import pages
from app.web.parts import Frame, Link, Moved, Pair
from app.web.rows import date_of, job_href
from app.web.weather.climate_drawing import freezes, so_far_picture, year_picture
from app.web.weather.climate_table import COLUMNS, cells, known_columns, year_cells
from app.web.weather.climate_words import (
    frost_words,
    light_words,
    nights_detail,
    nights_words,
    picture_words,
    rain_words,
    sum_words,
    sums,
    warmth_words,
)
from app.web.words import MONTHS, SP, count, figure, short

CAUTIONS = (
    "All of this is what is usual here, and no forecast.",
    "The middle frost date is a coin toss. Tender plants go out on the late one, with an eye on the forecast.",
    "In a frost hollow still, clear nights are 2 to 5 °C colder than the thermometer’s screen, and grass can freeze "
    "while the screen shows 4 °C.",
    "Water is reckoned from warmth alone (Hargreaves); near the sea it reads low. Bans on watering are the law of the "
    "place.",
    "Dry days say nothing of wind. Before a ladder or a roof, look at the day itself.",
)
LINKS = (
    Link("Type today’s reading", "/weather/reading"),
    Link("Take in a record", "/weather/record"),
    Link("Type monthly means", "/weather/months"),
    Link("Change the place", "/household"),
)


def weather_page(frame: Frame, found: OurWeather) -> pages.Weather:
    """The page."""
    usual, today = found.usual, date_of(found.today)
    measures, shown = _measures(found.this_year), known_columns(usual)
    return pages.Weather(
        frame=frame,
        lead=_lead(found),
        rests=usual.basis.said,
        links=LINKS,
        picture=year_picture(usual, found.today, picture_words(usual)),
        key=_key(usual),
        says=(
            Pair("Frost", frost_words(usual, today)),
            Pair("Light", light_words(usual)),
            Pair("Water and chill", sum_words(usual)),
        ),
        columns=tuple(COLUMNS[at] for at in shown),
        months=tuple(pages.MonthLine(MONTHS[month.month - 1], _some(cells(month), shown)) for month in usual.months),
        year=pages.MonthLine("The year", _some(year_cells(usual), shown)),
        cautions=CAUTIONS,
        year_heading=f"{_year_name(usual)} so far, against an ordinary year",
        measures=measures,
        invite="" if measures else _invite(found),
        moved=_moved_rows(found.moved, today),
        moved_none=_moved_none(found, bool(measures)),
        moved_more=f"And {count(found.moved_more)} more." if found.moved_more else "",
    )


def _some(row: tuple[pages.Cell, ...], shown: tuple[int, ...]) -> tuple[pages.Cell, ...]:
    return tuple(row[at] for at in shown)


def _lead(found: OurWeather) -> str:
    north = "north" if found.latitude_deg >= 0 else "south"
    return f"{abs(found.latitude_deg):.1f}° {north}, {figure(found.altitude_m, 0)}{SP}m above the sea"


def _year_name(usual: UsualYear) -> str:
    first, last = date_of(usual.first), date_of(usual.last)
    return str(first.year) if first.year == last.year else f"{first.year}–{last.year}"


def _key(usual: UsualYear) -> tuple[tuple[str, str], ...]:
    shade = (("wx", "eight days and nights in ten lie in the shade"),) if usual.nights else ()
    return (
        ("hi", "mean highest"),
        ("lo", "mean lowest"),
        ("soil", "soil at 10 cm"),
        *shade,
        *((("cold", "chance of a frost that night"),) if freezes(usual) else ()),
        *((("rain", "rain"),) if usual.months[0].rain_mm is not None else ()),
        ("thirst", "what short grass drinks"),
        *((("window", "frost dates: early, middle and late year"),) if freezes(usual) else ()),
    )


# ── This year ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _measures(found: ThisYear) -> tuple[pages.Measure, ...]:
    measures = []
    if found.warmth:
        said = warmth_words(found.warmth)
        picture = so_far_picture(found.warmth, said, from_zero=True)
        measures.append(pages.Measure("Warmth", picture, said, sums(found.warmth, "°C days above 5 °C")))
    if found.minima:
        said = nights_words(found.minima)
        picture = so_far_picture(found.minima, said, "°C", from_zero=False)
        measures.append(pages.Measure("Cold nights", picture, said, nights_detail(found.minima)))
    if found.rain:
        said = rain_words(found.rain)
        picture = so_far_picture(found.rain, said, "mm", from_zero=True)
        measures.append(pages.Measure("Rain", picture, said, sums(found.rain, "mm")))
    return tuple(measures)


def _invite(found: OurWeather) -> str:
    if found.typed is None:
        return (
            "Nothing of your own weather is known yet. Type a day’s lowest and highest, or take in a record, and every "
            "date that hangs on warmth follows what this year brings."
        )
    typed = short(date_of(found.typed), date_of(found.today))
    return (
        f"Nothing of this year is known yet; the last day taken down is {typed}. Type a day’s lowest and highest, "
        "and every date that hangs on warmth follows."
    )


def _moved_rows(moved: Sequence[MovedDate], today: date) -> tuple[Moved, ...]:
    """The dates that have moved; a reason that several jobs of an entry share is told once."""
    told: set[tuple[str, str]] = set()
    rows = []
    for one in moved:
        known = (one.entry, one.why) in told
        told.add((one.entry, one.why))
        rows.append(_moved(one._replace(why="") if known else one, today))
    return tuple(rows)


def _moved(one: MovedDate, today: date) -> Moved:
    why = f"{one.why[:1].upper()}{one.why[1:]}." if one.why else ""
    return Moved(
        f"{one.title} · {one.entry}",
        short(date_of(one.was), today),
        short(date_of(one.best), today),
        job_href(one.key),
        why,
    )


def _moved_none(found: OurWeather, told: bool) -> str:
    if not told:
        return ""
    return "No date that hangs on warmth stands otherwise than in an ordinary year."
