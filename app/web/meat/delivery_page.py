"""A delivery as a page: what follows from it before it is saved."""

from collections.abc import Iterable, Mapping
from datetime import date

from app.rules.terms import Nation
from app.services.meat.delivery import Cut, PlanDay, Told
from app.services.meat.delivery_house import House
from app.sheets.larder_tables import larder_tables, said_in
from app.sheets.library import Library
from app.units import from_metric
from app.web import pages
from app.web.meat.delivery_forms import way_fields
from app.web.parts import Caution, Form, Frame, Link, Pair
from app.web.told import cautions, source
from app.web.words import SP, count, counted, figure, listed, weekday

DAYS_SHOWN = 6
RISK_OF = ("beef", "lamb", "mixed")
PIGS = ("pork", "mixed")
SRM = (
    "Of cattle, sheep and goats killed at home, brain, spinal cord and the other listed parts are taken out, kept apart"
    " and disposed of as the law says; of cattle it is more than a household can do: use an abattoir."
)
BY = (("box", "By the cut"), ("carcase", "By the carcase or side"))


def weight(kg: float, imperial: bool) -> str:
    """Kilos in the household's units: "3.2 kg", "7.1 lb"."""
    return f"{figure(from_metric(kg, 'lb'), 1)}{SP}lb" if imperial else f"{figure(kg, 1 if kg >= 1 else 2)}{SP}kg"


def thickness(mm: float, imperial: bool) -> str:
    """Millimetres in the household's units: "40 mm", "1.6 in"."""
    return f"{figure(from_metric(mm, 'in'), 1)}{SP}in" if imperial else f"{figure(mm)}{SP}mm"


def delivery_page(
    frame: Frame, by: str, form: Form, told: Told | None, house: House, library: Library,
    errors: Mapping[str, str], today: date,
) -> pages.Delivery:  # fmt: skip
    """The form, and under it what follows once it was shown."""
    return pages.Delivery(
        frame=frame,
        tabs=tuple(Link(text, f"/meat/delivery?by={value}", value == by) for value, text in BY),
        form=form,
        told=told_page(told, house, library, errors, today) if told is not None else None,
        back=Link("Back to meat", "/meat"),
    )


def told_page(told: Told, house: House, library: Library, errors: Mapping[str, str], today: date) -> pages.DeliveryTold:
    """What follows from a delivery."""
    big = house.imperial
    makes = {cut.line.name: f"{cut.line.name.capitalize()}, {weight(cut.line.kg, big)}{_makes(cut, big)}"
             for cut in told.cuts}  # fmt: skip
    return pages.DeliveryTold(
        due=_due(told, big, today),
        warnings=_warnings(told, big),
        facts=_facts(told, house, big),
        plan=_plan(told, big, today),
        ways=way_fields(told.cuts, errors, makes),
        cautions=_cautions(told, house.nation, library),
        why=_why(told, big),
    )


def _makes(cut: Cut, imperial: bool) -> str:
    packs = cut.packs
    if cut.way in ("cure", "other"):
        return f", {thickness(cut.line.mm, imperial)}" if cut.line.mm else ""
    if cut.kind.packing == "singly":
        return f": about {counted(packs.packs, 'piece')}, singly"
    return f": {counted(packs.packs, 'pack')} of {weight(packs.pack_kg, imperial)}"


def _counted(told: Told) -> str:
    packs = counted(told.packs, "pack") if told.packs or not told.pieces else ""
    return " and ".join(part for part in (packs, counted(told.pieces, "piece") if told.pieces else "") if part)


def _due(told: Told, imperial: bool, today: date) -> tuple[Pair, ...]:
    return tuple(
        Pair(_by(told.asked.on + due.days, due.days, today), listed(called(cut, imperial) for cut in due.cuts))
        for due in told.due
    )


def called(cut: Cut, imperial: bool) -> str:
    """A cut in a list: its name, its weight, and where it goes other than into the freezer."""
    more = {"cure": " into the cure", "fresh": " to eat"}.get(cut.way, "")
    return f"{cut.line.name} {weight(cut.line.kg, imperial)}{more}"


def _by(on: int, days: int, today: date) -> str:
    when = weekday(date.fromordinal(on), today)
    return f"The same day, {when}" if days <= 0 else f"Within {counted(days, 'day')}, by {when}"


def _warnings(told: Told, imperial: bool) -> tuple[str, ...]:
    asked, found = told.asked, []
    kin = "or cook or cure more of it" if asked.killed == "home" else "share it, or cook or cure more of it"
    if told.over_kg > 0:
        fits = weight(told.fits_kg, imperial)
        found.append(
            f"It does not all go in: {weight(told.freeze_kg, imperial)} take {figure(told.litres, 0)}{SP}litres, and"
            f" {figure(asked.free_l, 0)} are free, which is {fits}. Take it in parts, {kin}."
        )
    if told.late_kg > 0:
        way = (
            "Freeze and bring it in parts" if asked.killed == "home" else "Have the butcher freeze that before it comes"
        )
        found.append(
            f"It can’t all be frozen in time: at {weight(told.kg_a_day, imperial)} a day it takes"
            f" {counted(told.days, 'day')}, and {weight(told.late_kg, imperial)} would wait longer than raw meat keeps."
            f" {way}, {kin}."
        )
    cuts_kg, carcase = told.kg, asked.carcase_kg
    if carcase is not None and not 0.5 * carcase <= cuts_kg <= 1.02 * carcase + 0.5:
        found.append(
            f"Its cuts come to {weight(cuts_kg, imperial)}, and it weighs {weight(carcase, imperial)}: put them right,"
            " or empty their box, and the usual list is offered anew."
        )
    return tuple(found)


def _facts(told: Told, house: House, imperial: bool) -> tuple[Pair, ...]:
    asked = told.asked
    meals = f"{counted(told.meals, 'meal')} for {figure(asked.mouths)}{SP}mouths"
    weeks = f"{figure(told.weeks, 1 if told.weeks < 10 else 0)}{SP}weeks at {count(round(asked.meals_a_week))} a week"
    room = f"{figure(told.litres, 0)}{SP}litres of it; {figure(asked.free_l, 0)} are free"
    days = f": {counted(told.days, 'day')} to freeze" if told.days > 1 else ""
    pairs = (
        Pair("makes", f"{_counted(told)}, {meals}" if told.meals or told.packs else ""),
        Pair("lasts", weeks if told.meals else ""),
        Pair("and of bacon", counted(told.cured_meals, "meal") if told.cured_meals else ""),
        Pair("freezer room", room if told.days else ""),
        Pair("in 24 hours", f"{weight(told.kg_a_day, imperial)} without warming the rest{days}" if told.days else ""),
        Pair("usually packed", f"{weight(told.packed[0], imperial)} to {weight(told.packed[1], imperial)} of"
             f" {weight(asked.carcase_kg or told.kg, imperial)}" if told.packed else ""),
        Pair("freezer", "none is put down under Kit yet" if not house.freezers else "", "/kit"),
    )  # fmt: skip
    return tuple(pair for pair in pairs if pair.value)


def _plan(told: Told, imperial: bool, today: date) -> tuple[pages.DeliveryDay, ...]:
    """The first days of it; what takes longer is told in a line."""
    shown = tuple(_plan_day(one, imperial, today) for one in told.plan[:DAYS_SHOWN])
    more = len(told.plan) - DAYS_SHOWN
    rest = (pages.DeliveryDay(f"And so on for {counted(more, 'day')} more", ()),) if more > 0 else ()
    frozen = listed(f"{load.what} {weight(load.kg, imperial)}" for load in told.no_room)
    over = (pages.DeliveryDay("No room in the freezer", (Pair("not frozen", frozen),)),) if frozen else ()
    return (*shown, *rest, *over)


def _plan_day(one: PlanDay, imperial: bool, today: date) -> pages.DeliveryDay:
    frozen = [f"{load.what} {weight(load.kg, imperial)}{' (too late)' if load.late else ''}" for load in one.freeze]
    pairs = (
        Pair("into the cure", _names(one.cure)),
        Pair("freeze", listed(frozen)),
        Pair("eat fresh", _names(one.fresh)),
        Pair("boil or render", _names(one.other)),
    )
    return pages.DeliveryDay(weekday(date.fromordinal(one.on), today), tuple(pair for pair in pairs if pair.value))


def _names(cuts: Iterable[Cut]) -> str:
    return listed(cut.line.name for cut in cuts)


def _cautions(told: Told, nation: Nation, library: Library) -> tuple[Caution, ...]:
    asked = told.asked
    names = ["warm-meat"]
    if any(cut.kind.keeps == "offal" for cut in told.cuts):
        names.append("offal")
    home = asked.killed == "home"
    if home and asked.of in PIGS:
        names.append("trichinella")
    row = said_in(larder_tables().home_killed, nation)
    own = (Caution(row.says, source(library, row.source)),) if home else ()
    risk = (Caution(SRM, "rules on specified risk material, from memory: ask your food authority"),)
    return (*own, *(risk if home and asked.of in RISK_OF else ()), *cautions(library, names))


def _why(told: Told, imperial: bool) -> tuple[str, ...]:
    asked = told.asked
    return (
        "A meal is a portion for each mouth: raw, a head, 190 g boneless, 300 g on the bone, 150 g of mince or stew,"
        " 130 g of sausages. Roasts are halved until a piece is no more than a meal and a half. Common practice.",
        f"Frozen in 24 hours: 2 lb a cubic foot, the lower of 2 to 3 (West Virginia University Extension); a four-star"
        f" freezer of {figure(asked.freezer_l, 0)} litres must manage {weight(told.star_kg, imperial)}, empty.",
        "Room: 0.56 kg a litre, wrapped (common practice). Days in the fridge at 5 °C or less, the lower figure: Cold"
        " Food Storage Chart, FoodSafety.gov. Follow your local food-safety authority.",
    )
