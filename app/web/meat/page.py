"""The page of meat: what must be dealt with first, then deliveries, cures, what is in the freezer."""

from datetime import date

from app.services.meat.delivery_overview import Meat, Open
from app.web import pages
from app.web.larder.page import batch_href
from app.web.larder.units import much
from app.web.links import entry_href
from app.web.meat.delivery_page import weight
from app.web.pages.meat import MeatLine
from app.web.parts import Frame, Link, Pair
from app.web.rows import job_href
from app.web.words import SP, counted, figure, left, listed, weekday

PUT = (
    Link("A delivery", "/meat/delivery"), Link("A carcase or a side", "/meat/delivery?by=carcase"),
    Link("A cure", "/meat/cure"), Link("The freezer was off", "/found/power-cut"),
)  # fmt: skip
MORE = (
    Link("Back from the table", "/meat/table"), Link("Thawing", "/meat/thaw"),
    Link("How long it keeps", "/meat/keeping"), Link("Larder", "/larder"), Link("Kit", "/kit"),
)  # fmt: skip


def meat_page(frame: Frame, found: Meat, mouths: float, imperial: bool, today: date) -> pages.Meat:
    """The page."""
    return pages.Meat(
        frame=frame,
        first=_first(found, imperial, today),
        open=tuple(_open(one, imperial, today) for one in found.open),
        cures=tuple(
            MeatLine(one.name, entry_href(one.entry), one.title, _by(one.by, today), job_href(one.key),
                     one.by is not None and one.by < today.toordinal())
            for one in found.cures
        ),
        frozen=tuple(
            Pair(one.what.capitalize(), f"{weight(one.kg, imperial)}, {_meals(one.meals)}")
            for one in found.frozen
        ),
        frozen_note=f"Meals for {figure(mouths)}{SP}mouths, by what is left.",
        use=tuple(
            Pair(row.number, f"{row.what.capitalize()}, {much(row.left or 0, row.unit, imperial)}, "
                 f"{_by(row.keeps_until, today)}", batch_href(row.id, row.store))
            for row in found.first
        ),
        put=PUT,
        more=MORE,
        empty="" if found.open or found.cures or found.frozen else "There is no meat to deal with.",
    )  # fmt: skip


def _meals(number: int) -> str:
    return counted(number, "meal") if number else "less than a meal"


def _first(found: Meat, imperial: bool, today: date) -> Pair | None:
    """What must be dealt with in how many days: of a delivery the cuts that spoil first, else its next job."""
    here = [one for one in found.open if one.by is not None and (one.by - today.toordinal()) <= 7]
    come = [one for one in here if one.waiting and one.on <= today.toordinal()]
    if come:
        one = min(come, key=lambda each: each.on + each.waiting[0].fridge_days)
        days = one.waiting[0].fridge_days
        cuts = [cut for cut in one.waiting if cut.fridge_days == days]
        what = listed(f"{cut.line.name} {weight(cut.line.kg, imperial)}" for cut in cuts)
        return Pair(
            _left(one.on + days, today), f"{what[:1].upper()}{what[1:]}, of {one.name}", f"/meat/delivery/{one.entry}"
        )
    if not here or here[0].by is None:
        return None
    return Pair(_left(here[0].by, today), f"{here[0].title}: {here[0].name}", job_href(here[0].key))


def _left(by: int, today: date) -> str:
    return left(date.fromordinal(by), today).capitalize()


def _open(one: Open, imperial: bool, today: date) -> MeatLine:
    href = f"/meat/delivery/{one.entry}" if one.by_cut else entry_href(one.entry)
    kg = weight(sum(cut.line.kg for cut in one.waiting), imperial)
    waits = f" · {kg} still to be packed" if one.waiting and one.on <= today.toordinal() else ""
    comes = f"comes {weekday(date.fromordinal(one.on), today)} · " if one.on > today.toordinal() else ""
    return MeatLine(one.name, href, f"{comes}{one.title}{waits}", _by(one.by, today), job_href(one.key),
                    _late(one.by, today))  # fmt: skip


def _by(by: int | None, today: date) -> str:
    return f"by {weekday(date.fromordinal(by), today)}" if by is not None else ""


def _late(by: int | None, today: date) -> bool:
    return by is not None and by < today.toordinal() + 2
