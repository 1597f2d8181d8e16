"""The beds as a page: each in a line with its year, the table of the rotation, the room under cover, and a new one."""

from collections.abc import Iterable, Mapping
from datetime import date
from urllib.parse import quote

from markupsafe import Markup

from app.rules.spans import Day
from app.services.garden.bed_advice import FAMILIES
from app.services.garden.beds import BedLine, Cover, Grown, Overview
from app.services.garden.ground import INDOORS, Bed, Gap
from app.services.garden.stands import Stand
from app.services.garden.watering import Account
from app.web import pages
from app.web.drawing import Stretch, at
from app.web.garden.bed_drawing import Item, year
from app.web.garden.bed_forms import bed_form
from app.web.links import entry_href
from app.web.parts import Frame, Link
from app.web.words import MONTHS, SP, between, count, counted, day, figure, listed

SHORT = {
    "potatoes": "potatoes",
    "legumes": "peas and beans",
    "brassicas": "cabbages",
    "onions": "onions",
    "roots": "roots",
}
"""The groups of the rotation in a narrow place."""
COVER_WORDS = {"open": "", "tunnel": "tunnel", "frame": "frame", "propagator": "propagator", "sill": "sill"}


def garden_page(
    frame: Frame, found: Overview, today: date, imperial: bool, typed: Mapping[str, str], errors: Mapping[str, str]
) -> pages.Beds:
    """The page; what was refused stands beside its field."""
    stretch = two_years(today)
    area = sum(line.bed.area_m2 for line in found.lines)
    thirsty = sum(any(one.wants for one in line.water) for line in found.lines)
    sub = f"{counted(len(found.lines), 'bed').capitalize()}, {figure(area, 0)}{SP}m²"
    sub += f"; {count(thirsty)} {'wants' if thirsty == 1 else 'want'} water" if thirsty else ""
    return pages.Beds(
        frame=frame,
        sub=sub if found.lines else "",
        beds=tuple(_row(line, stretch, today, imperial) for line in found.lines),
        months=months(stretch),
        years=tuple(_year(n, found) for n, _ in found.lines[0].years) if found.lines else (),
        next_year=_year(found.year + 1, found),
        turns=tuple(_turns(line) for line in found.lines if line.bed.cover not in INDOORS),
        cover=_cover(found.cover, today),
        trays=tuple(
            pages.Standing(
                one.name,
                entry_href(one.entry),
                between(_on(one.first), _on(one.last), today),
                counted(one.trays, "tray"),
            )
            for one in (found.cover.trays if found.cover is not None else ())
        ),
        unmeasured=tuple(Link(name, f"/garden?name={quote(name)}#add") for name in found.unmeasured),
        add=bed_form("/garden", "Put it down", imperial, typed, errors),
        open=bool(errors) or not found.lines or bool(typed.get("name")),
        empty="No bed is put down yet. With its length and width known, a sowing says before it is put down whether"
        " the bed is free, rested and long enough." if not found.lines else "",
    )  # fmt: skip


def _year(year: int, found: Overview) -> str:
    """A growing year's name: "2027"; in the south, where it runs over New Year, "2026/27"."""
    return f"{year - 1}/{year % 100:02d}" if found.southern else str(year)


def bed_href(bed: Bed) -> str:
    """A bed's page."""
    return f"/garden/bed/{bed.id}"


def two_years(today: date) -> Stretch:
    """A year back and a year ahead, in whole months."""
    first = date(today.year - 1, today.month, 1)
    end = date(today.year + 1 + today.month // 12, today.month % 12 + 1, 1)
    return Stretch(first.toordinal(), end.toordinal() - 1, today.toordinal())


def months(stretch: Stretch, every: int = 3) -> tuple[tuple[float, str], ...]:
    """Marks along a scale: every so many months, January by its year."""
    first, last = date.fromordinal(stretch.first), date.fromordinal(stretch.last)
    found = []
    for index in range(first.year * 12 + first.month - 1, last.year * 12 + last.month):
        on = date(index // 12, index % 12 + 1, 1)
        if (on.month - 1) % every == 0 and at(stretch, on.toordinal()) < 96:
            name = MONTHS[on.month - 1][:3]
            found.append((at(stretch, on.toordinal()), str(on.year) if on.month == 1 else name))
    return tuple(found)


def drawn(stands: Iterable[Stand], stretch: Stretch, today: date, name: str) -> Markup:
    """A bed's year as a picture that says itself."""
    here = [one for one in stands if one.meets(stretch.first, stretch.last)]
    items = [Item(one.name, one.first, one.last, not one.begun) for one in here]
    told = "; ".join(f"{one.name} {stretch_words(one, today)}" for one in here)
    return year(stretch, items, f"{name}: {told or 'nothing stands here'}.")


def stretch_words(one: Stand, today: date) -> str:
    """From when until when something stands."""
    if one.last is None:
        return f"since {day(_on(one.first), today)}, and stays"
    return between(_on(one.first), _on(one.last), today)


def size(bed: Bed, imperial: bool) -> str:
    """A bed's length and width: "6 × 1.2 m"."""
    by = 0.3048 if imperial else 1.0
    return f"{figure(bed.length_m / by, 1)}{SP}×{SP}{figure(bed.width_m / by, 1)}{SP}{'ft' if imperial else 'm'}"


def about(bed: Bed, imperial: bool) -> str:
    """A bed in a line: size, cover, soil, room for trays, and its end."""
    parts = (
        size(bed, imperial),
        COVER_WORDS[bed.cover],
        bed.soil or "",
        f"room for {counted(bed.trays, 'tray')}" if bed.trays else "",
    )
    return " · ".join(part for part in parts if part)


def free_words(found: Iterable[Gap], today: date) -> str:
    """When a bed is free, in words."""
    parts = []
    now = today.toordinal()
    for gap in found:
        if gap.last is None:
            parts.append("free from now on" if gap.first <= now else f"free from {day(_on(gap.first), today)} on")
        elif gap.last - gap.first >= 6:
            parts.append(f"free {between(_on(gap.first), _on(gap.last), today)}")
    return listed(parts[:3]) or "not free in the next twelve months"


def litres(value: float) -> str:
    """Litres to water with: whole ones from five up."""
    return f"{figure(value, 0 if value >= 5 else 1)}{SP}litre{'' if 0.95 <= value < 1.05 else 's'}"


def wants_words(one: Account) -> str:
    """How much a crop wants: by the metre of row where its spacing is known, else by the square metre."""
    if one.litres_a_metre is not None:
        return f"{litres(one.litres_a_metre)} a metre"
    return f"{litres(one.owed_mm)} a square metre"


def _row(line: BedLine, stretch: Stretch, today: date, imperial: bool) -> pages.BedRow:
    bed = line.bed
    now = listed(f"{one.name}, {_until(one, today)}" for one in line.now)
    wanting = [one for one in line.water if one.wants]
    indoors = bed.cover in INDOORS
    return pages.BedRow(
        bed.name,
        bed_href(bed),
        about(bed, imperial),
        now or ("For trays" if indoors else "Nothing stands here"),
        "" if indoors else free_words(line.gaps, today),
        listed(f"{one.stand.name}: wants water, {wants_words(one)}" for one in wanting),
        line.clashes[0] if line.clashes else "",
        Markup("") if indoors else drawn(line.stands, stretch, today, bed.name),
    )


def _until(one: Stand, today: date) -> str:
    until = f"until {day(_on(one.last), today)}" if one.last is not None else "for good"
    return until if one.begun else f"not ticked yet, {until}"


def _turns(line: BedLine) -> pages.Turns:
    known = any(grown for _, grown in line.years)
    if not known:
        wants = f"anything; {SHORT[line.wants[0]]}, if all beds go round" if line.wants else "anything"
    else:
        wants = listed([SHORT[group] for group in line.wants[:3]], "or") or "salads, squash or green manure"
    feeds = f"{listed(line.feeds)} before {_before(line)}" if line.feeds and (known or line.next) else ""
    years = tuple(_cells(grown) for _, grown in line.years)
    return pages.Turns(line.bed.name, bed_href(line.bed), years, wants, feeds)


def _cells(grown: Iterable[Grown]) -> tuple[pages.Turn, ...]:
    """What stood in a bed in a year, by group; what has none, by itself."""
    groups: dict[str, list[str]] = {}
    for one in grown:
        crops = groups.setdefault(SHORT.get(one.group, ""), [])
        if (one.what not in crops and one.species) or (not SHORT.get(one.group) and one.what not in crops):
            crops.append(one.what)
    turns = [(group or listed(crops), crops if group else []) for group, crops in groups.items()]
    return tuple(pages.Turn(group, listed(crop for crop in crops if crop != group)) for group, crops in turns)


def _before(line: BedLine) -> str:
    return line.next.name if line.next is not None else FAMILIES.get(line.before, line.before)


def _cover(found: Cover | None, today: date) -> str:
    if found is None:
        return ""
    room = f"Room for {counted(found.room, 'tray')} under cover"
    on = day(_on(found.on), today)
    if not found.most:
        return f"{room}; none is taken in the year ahead."
    if found.most > found.room:
        return f"{room}; {count(found.most)} are wanted on {on}: stagger them, or sow fewer."
    return f"{room}; at the fullest, on {on}, {count(found.most)} {'is' if found.most == 1 else 'are'} taken."


def _on(value: Day) -> date:
    return date.fromordinal(value)
