"""Our weather in a table: each month's figures, and the year's."""

from app.services.weather.climate import MonthOfYear, UsualYear
from app.web import pages
from app.web.words import figure, light

COLUMNS = (
    ("by day", "°C"),
    ("by night", "°C"),
    ("frost nights", ""),
    ("daylight", ""),
    ("rain", "mm"),
    ("water short", "mm"),
    ("dry days", ""),
    ("three dry on end", "times"),
    ("warmth over 5 °C", "°C days"),
    ("over 10 °C", "°C days"),
    ("chill", "h"),
)
_NO = "–"


def known_columns(usual: UsualYear) -> tuple[int, ...]:
    """Which of the columns have anything in them: rain, or how often it falls, may not be known."""
    rows = [cells(month) for month in usual.months]
    return tuple(at for at in range(len(COLUMNS)) if any(row[at].text != _NO for row in rows))


def cells(month: MonthOfYear) -> tuple[pages.Cell, ...]:
    """The figures of a month, one for each of `COLUMNS`."""
    return (
        pages.Cell(tenth(month.max_c)),
        pages.Cell(tenth(month.min_c)),
        _whole(month.frost_nights),
        pages.Cell(light(month.day_hours)),
        _whole(month.rain_mm),
        _whole(None if month.short_mm is None else max(0.0, month.short_mm)),
        _whole(month.dry_days),
        _whole(month.dry_windows),
        _whole(month.warmth_5),
        _whole(month.warmth_10),
        _whole(month.chill_h),
    )


def tenth(value: float) -> str:
    """A temperature to the tenth, always with its tenth: "14.0", "−0.4"."""
    return f"{round(value, 1) + 0.0:.1f}".replace("-", "−")


def _whole(value: float | None) -> pages.Cell:
    """A figure to the whole, "–" where nothing is known, softly where it is none."""
    if value is None:
        return pages.Cell(_NO, dull=True)
    text = figure(round(value), 0)
    return pages.Cell("0" if text == "−0" else text, dull=round(value) == 0)


def year_cells(usual: UsualYear) -> tuple[pages.Cell, ...]:
    """The same for the year: means of temperatures, sums of the rest."""
    months = usual.months
    mean = [sum(one) / len(one) for one in (usual.max_c, usual.min_c)]
    rain = [month.rain_mm for month in months if month.rain_mm is not None]
    short = [max(0.0, month.short_mm) for month in months if month.short_mm is not None]
    dry = [month.dry_days for month in months if month.dry_days is not None]
    spells = [month.dry_windows for month in months if month.dry_windows is not None]
    return (
        *(pages.Cell(tenth(one)) for one in mean),
        _whole(sum(month.frost_nights for month in months)),
        pages.Cell(""),
        *(_whole(sum(row) if len(row) == len(months) else None) for row in (rain, short, dry, spells)),
        *(_whole(sum(row)) for row in zip(*((m.warmth_5, m.warmth_10, m.chill_h) for m in months), strict=True)),
    )
