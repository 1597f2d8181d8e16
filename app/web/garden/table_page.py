"""The table as a page: a line a crop through the year, the hungry gap under it, kilos beside what was expected."""

from collections.abc import Iterable, Sequence
from datetime import date

from fastapi import Request
from markupsafe import Markup

from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.garden.stands import crop_word
from app.services.garden.table import LEAST_FRESH, LEAST_IN_ALL, CropYear, Gap, Sow, Store, Table
from app.services.garden.tallies import Tally
from app.web import fields, pages, told
from app.web.drawing import Stretch, at, middle
from app.web.frames import frame
from app.web.links import entry_href, sheet_href
from app.web.parts import Link
from app.web.words import MONTHS, between, count, day, listed

Days = tuple[Day, Day]


def table_page(
    request: Request, found: Table, counted: Sequence[Tally], year: int, today: date, imperial: bool
) -> pages.TheTable:
    """The page."""
    stretch = Stretch(found.first, found.last, today.toordinal())
    return pages.TheTable(
        frame=frame(request, "The table", "garden"),
        lead="Growing, picked and kept, from this month on: the store is eaten evenly through the year.",
        months=_months(stretch),
        crops=tuple(_crop(one, stretch, today, imperial) for one in found.crops),
        gap_line=_bands(stretch, [(gap.first, gap.last) for gap in found.gaps]),
        gaps=tuple(_gap(gap, today) for gap in found.gaps),
        no_gap="" if found.gaps or not found.crops else "There is something to pick or in store all the year.",
        tallies_heading=f"What was weighed in {year}",
        tallies=tuple(_tally(one, year, imperial) for one in counted),
        no_tallies="" if counted else "Nothing has been weighed yet. A picking ticked off with its weight counts here.",
        empty="" if found.crops else "Nothing for the kitchen is put down yet.",
    )


def _months(stretch: Stretch) -> tuple[pages.TableMonth, ...]:
    first = date.fromordinal(stretch.first)
    found = []
    for n in range(12):
        index = first.year * 12 + first.month - 1 + n
        on = date(index // 12, index % 12 + 1, 1)
        year = str(on.year) if n == 0 or on.month == 1 else ""
        found.append(pages.TableMonth(MONTHS[on.month - 1][:3], year, at(stretch, on.toordinal())))
    return tuple(found)


def _crop(one: CropYear, stretch: Stretch, today: date, imperial: bool) -> pages.TableCrop:
    name = one.name[:1].upper() + one.name[1:]
    href = entry_href(one.entries[0]) if len(one.entries) == 1 else sheet_href(one.sheet.id)
    return pages.TableCrop(name, href, _line(one, stretch), _says(one, stretch, today), _kilos(one, imperial))


def _kilos(one: CropYear, imperial: bool) -> str:
    """What is expected and what is eaten: "12 kg expected; 27 kg eaten in a year"."""
    parts = (
        f"{_kg(one.expected_kg, imperial)} expected" if one.expected_kg else "",
        f"{_kg(one.need_kg, imperial)} eaten in a year" if one.need_kg else "",
    )
    return "; ".join(part for part in parts if part)


def _says(one: CropYear, year: Stretch, today: date) -> str:
    """The line in words."""
    stores = [_store(store, year, today) for store in one.kept]
    parts = [
        f"stands {listed(_within(days, year, today) for days in one.growing)}" if one.growing else "",
        f"picked {listed(_within(days, year, today) for days in one.picked)}" if one.picked else "",
        f"in store {listed(stores)}" if stores else "",
    ]
    return "; ".join(part for part in parts if part)


def _within(days: Days, year: Stretch, today: date) -> str:
    """A stretch of the year shown, without the ends that are only the year's own."""
    first, last = (date.fromordinal(one) for one in days)
    if days[0] <= year.first:
        return "all the year" if days[1] >= year.last else f"until {day(last, today)}"
    return f"from {day(first, today)} on" if days[1] >= year.last else between(first, last, today)


def _store(store: Store, year: Stretch, today: date) -> str:
    said = _within((store.first, store.last), year, today)
    return f"{said}, eaten by {day(date.fromordinal(store.lasts), today)}" if store.lasts < store.last else said


def _between(days: Days, today: date) -> str:
    return between(date.fromordinal(days[0]), date.fromordinal(days[1]), today)


def _line(one: CropYear, stretch: Stretch) -> Markup:
    """Growing, picked, kept and kept though eaten, each a line of its own kind on one height."""
    parts = [_stroke("g", days, stretch) for days in one.growing]
    for store in one.kept:
        if store.lasts < store.last:
            parts.append(_stroke("x", (store.lasts, store.last), stretch))
        parts.append(_stroke("k", (store.first, store.lasts), stretch))
    parts += [_stroke("p", days, stretch) for days in one.picked]
    return Markup(f'<svg class="tableline" aria-hidden="true">{_today(stretch)}{"".join(parts)}</svg>')


def _stroke(kind: str, days: Days, stretch: Stretch) -> str:
    first, last = at(stretch, days[0]), at(stretch, days[1] + 1)
    return f'<line class="{kind}" x1="{first}%" x2="{max(last, first + 0.6):.1f}%" y1="50%" y2="50%"/>'


def _today(stretch: Stretch) -> str:
    x = middle(stretch, stretch.today or 0)
    return f'<line class="n" x1="{x}%" x2="{x}%" y2="100%"/>'


def _bands(stretch: Stretch, gaps: Iterable[Days]) -> Markup:
    bands = "".join(
        f'<rect x="{at(stretch, first)}%" width="{at(stretch, last + 1) - at(stretch, first):.1f}%" height="100%"/>'
        for first, last in gaps
    )
    return Markup(f'<svg class="tableline gaps" aria-hidden="true">{bands}{_today(stretch)}</svg>')


def _gap(gap: Gap, today: date) -> pages.Gap:
    says = "Little to pick and little in store: fewer than "
    says += f"{count(LEAST_FRESH)} crops picked, and fewer than {count(LEAST_IN_ALL)} with what is kept."
    if gap.sow:
        says += " Sow against it, or buy for these weeks."
    else:
        says += " Nothing on the sheets can still be sown against it; buy for these weeks."
    return pages.Gap(_between((gap.first, gap.last), today), says, tuple(_sow(one, today) for one in gap.sow))


def _sow(one: Sow, today: date) -> Link:
    word = crop_word(one.sheet)
    when = _between((one.since, one.by), today)
    picked = _between((one.first, max(one.first, one.last)), today)
    href = f"/add/{one.sheet.id}?date={date.fromordinal(one.since).isoformat()}"
    return Link(f"{word[:1].upper()}{word[1:]}", href, count=f"sow {when}; picked {picked}")


def _tally(one: Tally, year: int, imperial: bool) -> pages.Tally:
    weeks = [f"{day(date.fromordinal(monday), date(year, 1, 1))}: {_kg(kg, imperial)}" for monday, kg in one.weeks]
    return pages.Tally(
        one.sheet.title.partition(",")[0], sheet_href(one.sheet.id), _kg(one.kg, imperial),
        _kg(one.expected_kg, imperial) if one.expected_kg else "", _weeks(one, year), "; ".join(weeks),
    )  # fmt: skip


def _weeks(one: Tally, year: int) -> Markup:
    """A bar a week through the year, the tallest as high as there is room."""
    stretch = Stretch(date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal())
    most = max((kg for _, kg in one.weeks), default=0.0)
    heights = [(at(stretch, monday), round(92 * kg / most)) for monday, kg in one.weeks]
    bars = "".join(f'<rect x="{x}%" width="1.6%" y="{100 - high}%" height="{high}%"/>' for x, high in heights)
    return Markup(f'<svg class="weeks" aria-hidden="true">{bars}<line x2="100%" y1="100%" y2="100%"/></svg>')


def _kg(value: float, imperial: bool) -> str:
    digits = 0 if value >= 20 else 1
    return told.answer(fields.in_units([Ask("", "kg")], imperial)[0], round(value, digits))
