"""A crop's figures as sentences, each with what it rests on."""

from collections.abc import Iterator, Sequence

from app.rules.crop import Crop, CropWater, Crossing, Frosts, Growth, Ripeness, SeedTest, Sowing, Spacing, Sprouting
from app.rules.terms import Source
from app.services.book import Book
from app.web import told
from app.web.pages import SheetFigure
from app.web.words import counted, figure

_GROUNDS = {"anywhere": "goes anywhere in the rotation", "permanent": "stands for years, outside the rotation"}
_CLEANED = {"dry": "threshed dry", "wet": "rinsed", "ferment": "fermented and rinsed"}


def crop_figures(book: Book, crop: Crop | None) -> tuple[SheetFigure, ...]:
    """Every group of figures that the sheet has, in a sentence each."""
    if crop is None:
        return ()
    return tuple(
        SheetFigure(name, said, told.source(book.library, source)) for name, said, source in said_of(crop) if said
    )


def said_of(crop: Crop) -> Iterator[tuple[str, str, Source]]:
    """Each group's name, its figures in words, and its source."""
    ground = _GROUNDS.get(crop.rotation, f"{crop.rotation} in the rotation")
    yield "the crop", f"{crop.life}, {crop.frost}; {ground}", crop.source
    if crop.frosts:
        yield "frost", _frosts(crop.frosts), crop.frosts.source
    if crop.sprouting:
        yield "coming up", _sprouting(crop.sprouting), crop.sprouting.source
    if crop.growth:
        yield "growing", _growth(crop.growth), crop.growth.source
    if crop.spacing:
        yield "spacing", _spacing(crop.spacing), crop.spacing.source
    if crop.sowing:
        yield "sowing", _sowing(crop.sowing), crop.sowing.source
    if crop.water:
        yield "water", _water(crop.water), crop.water.source
    if crop.yields and crop.yields.kg_a_m:
        yield "yield", f"{figure(crop.yields.kg_a_m)} kg a metre of row", crop.yields.source
    if crop.keeping and crop.keeping.years:
        yield "its seed lives", counted_years(crop.keeping.years), crop.keeping.source
    if crop.crossing:
        yield "crossing", _crossing(crop.crossing), crop.crossing.source
    if crop.ripeness:
        yield "ripe seed", _ripeness(crop.ripeness), crop.ripeness.source
    if crop.test:
        yield "seed test", _test(crop.test), crop.test.source


def counted_years(years: float) -> str:
    """A number of years, in words that suit one and a half."""
    return counted(int(years), "year") if years == int(years) else f"{figure(years)} years"


def _joined(parts: Sequence[str], by: str = "; ") -> str:
    return by.join(part for part in parts if part)


def _span(low: float | None, high: float | None, unit: str) -> str:
    """A range with its unit; "" when neither end is known."""
    ends = [figure(one) for one in (low, high) if one is not None]
    return f"{' to '.join(dict.fromkeys(ends))} {unit}" if ends else ""


def _frosts(one: Frosts) -> str:
    harmed = f"harmed from {figure(one.harmed_from_c)} °C" if one.harmed_from_c is not None else ""
    return _joined([harmed, f"killed at {figure(one.killed_at_c)} °C" if one.killed_at_c is not None else ""], ", ")


def _sprouting(one: Sprouting) -> str:
    days = ((10, one.days_10c), (15, one.days_15c), (20, one.days_20c))
    up = [f"{figure(count)} days at {at} °C" for at, count in days if count is not None]
    best = _span(one.best_low_c, one.best_high_c, "°C")
    return _joined(
        [
            f"soil of {figure(one.least_c)} °C at least" if one.least_c is not None else "",
            f"best at {best}" if best else "",
            f"none above {figure(one.most_c)} °C" if one.most_c is not None else "",
            f"up in {', '.join(up)}" if up else "",
            f"{figure(one.theta_cday)} degree-days above {figure(one.base_c)} °C"
            if one.theta_cday is not None and one.base_c is not None
            else "",
        ]
    )


def _growth(one: Growth) -> str:
    days = _span(one.low_days, one.high_days, "days")
    base = f"no growth below {figure(one.base_c)} °C" if one.base_c is not None else ""
    return _joined([f"{days} from sowing or planting" if days else "", base])


def _spacing(one: Spacing) -> str:
    plants = f"{figure(one.plant_cm)} cm in the row" if one.plant_cm is not None else ""
    return _joined([plants, f"rows {figure(one.row_cm)} cm" if one.row_cm is not None else ""], ", ")


def weeks(count: int) -> str:
    """Weeks from the last frost: "8 weeks before"."""
    side = "before" if count < 0 else "after"
    return f"{counted(abs(count), 'week')} {side}" if count else "at"


def _sowing(one: Sowing) -> str:
    indoors = -one.indoors_weeks if one.indoors_weeks is not None else None
    cover = _weeks(indoors, one.indoors_to_weeks)
    ground = _weeks(one.open_from_weeks, one.open_to_weeks)
    return _joined(
        [
            f"{figure(one.seeds_a_gram)} seeds a gram" if one.seeds_a_gram else "",
            f"{figure(one.seeds_each)} for each plant" if one.seeds_each else "",
            f"again every {one.again_days} days" if one.again_days else "",
            f"under cover {cover} the last frost" if cover else "",
            f"planted out {weeks(one.plant_out_weeks)} it" if one.plant_out_weeks is not None else "",
            f"in the open {ground} the last frost" if ground else "",
        ]
    )


def _weeks(first: int | None, last: int | None) -> str:
    if first is None or last is None:
        return f"from {weeks(first)}" if first is not None else ""
    return f"from {weeks(first)} until {weeks(last)}"


def _water(one: CropWater) -> str:
    factors = [figure(kc) for kc in (one.kc_start, one.kc_mid, one.kc_end) if kc is not None]
    roots = _span(one.root_low_m, one.root_high_m, "m")
    return _joined(
        [
            f"{', '.join(factors)} times what grass draws, at first, in the middle and at the end" if factors else "",
            f"roots {roots} deep" if roots else "",
            f"wanting water when {figure(100 * one.depletion)} % of the store is gone" if one.depletion else "",
        ]
    )


def _crossing(one: Crossing) -> str:
    by = "" if one.pollination in ("", "none") else f"pollinated by: {one.pollination}"
    apart = f"{figure(one.apart_m)} m from another" if one.apart_m else ""
    return _joined([by, apart, f"{counted(one.plants, 'plant')} at least" if one.plants else ""])


def _ripeness(one: Ripeness) -> str:
    ferment = _span(one.ferment_low_days, one.ferment_high_days, "days")
    dry = _span(one.dry_low_days, one.dry_high_days, "days")
    return _joined(
        [
            one.cue,
            f"{one.months.replace('-', ' to ')} in the north" if one.months else "",
            _CLEANED.get(one.cleaning, ""),
            f"in the jar {ferment}" if ferment else "",
            f"drying {dry}" if dry else "",
        ]
    )


def _test(one: SeedTest) -> str:
    states = "must come up of what is sold in the United States"
    least = f"{figure(one.least_percent)} % {states}" if one.least_percent else ""
    union = f"{figure(one.least_percent_eu)} % in the European Union" if one.least_percent_eu else ""
    days = [str(day) for day in (one.first_days, one.final_days) if day is not None]
    return _joined([_joined([least, union], ", "), f"counted on day {' and '.join(days)}" if days else ""])
