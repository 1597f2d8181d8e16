"""What flowers together as a page: by species, with its days drawn and what would cross."""

from collections.abc import Mapping
from datetime import date

from app.rules.sheet import Sheet
from app.services.garden.flowering import AHEAD_DAYS, Crossing, Flowering, Meets, Neighbour, species_named
from app.web import pages
from app.web.drawing import Stretch, line
from app.web.forms import Wrong
from app.web.garden.page import months
from app.web.garden.seed_forms import near_form
from app.web.garden.seed_words import on
from app.web.links import entry_href
from app.web.parts import Form, Frame, Undoing
from app.web.words import between, figure

PARTED = "Let one of them flower alone, cut the other’s flowers off, or bag or cage the seed plants."


def crossing_page(
    frame: Frame, found: Crossing, sheets: Mapping[str, Sheet], wrong: Wrong, today: date, imperial: bool
) -> pages.Crossing:
    """The page; what was refused stands beside its field."""
    stretch = Stretch(today.replace(day=1).toordinal(), today.toordinal() + AHEAD_DAYS, today.toordinal())
    kinds: dict[str, list[Flowering]] = {}
    for one in found.flowers:
        kinds.setdefault(one.species, []).append(one)
    return pages.Crossing(
        frame=frame,
        sub="Vegetables of one species cross, whatever the kitchen calls them; those of two do not.",
        species=tuple(
            pages.Species(latin, tuple(_line(one, found, stretch, today, imperial) for one in some))
            for latin, some in kinds.items()
        ),
        months=months(stretch),
        near=tuple(_near(one, today, imperial) for one in found.neighbours),
        add=near_form(species_named(sheets.values()), wrong, imperial),
        open=wrong.which == "near",
        empty="" if found.flowers else "Nothing that is put down here will flower in the next year and a half.",
    )


def _line(one: Flowering, found: Crossing, stretch: Stretch, today: date, imperial: bool) -> pages.FlowerLine:
    meets = found.meetings.get(one.entry, ())
    about = between(on(one.first), on(one.last), today)
    if one.for_seed:
        far = _far(one.apart_m, imperial)
        about += f" · kept for seed: {far} from another" + ("" if one.apart_known else ", for want of a figure")
    said = tuple(_meets(each, today, imperial) for each in meets)
    return pages.FlowerLine(
        one.name,
        entry_href(one.entry),
        about,
        (*said, PARTED) if said else (),
        line(stretch, one.first, one.last, ()),
    )


def _meets(one: Meets, today: date, imperial: bool) -> str:
    where = f", {_far(one.distance_m, imperial)} off" if one.distance_m else ", here"
    if one.first is None or one.last is None:
        return f"Crosses with {one.other}{where}, at any time."
    return f"Crosses with {one.other}{where}: both in flower {between(on(one.first), on(one.last), today)}."


def _far(metres: float, imperial: bool) -> str:
    return f"{figure(metres / 0.3048, 0)}\u00a0ft" if imperial else f"{figure(metres, 0)}\u00a0m"


def _near(one: Neighbour, today: date, imperial: bool) -> Undoing:
    when = "in flower at times not known"
    if one.first is not None and one.last is not None:
        first, last = on(one.first), on(one.last)
        when = f"in flower {first.day} {first:%B} to {last.day} {last:%B}, every year"
    elif one.first is not None or one.last is not None:
        edge = on(one.first if one.first is not None else one.last or 0)
        when = f"in flower {'from' if one.first is not None else 'until'} {edge.day} {edge:%B}, every year"
    back = Form(f"/garden/seed/crossing/{one.id}/gone", "Not any more", quiet=True)
    name = f"{one.what}, {one.species}" if one.what else one.species
    note = f" {one.note}" if one.note else ""
    return Undoing(f"{name}: {_far(one.distance_m, imperial)} off, {when}.{note}", "", back)
