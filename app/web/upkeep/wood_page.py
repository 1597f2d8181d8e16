"""Firewood as a page: the stacks and when they are dry, what a meter says, how much a winter asks."""

from collections.abc import Mapping
from datetime import date

from app.services.upkeep.wood import WOODS, Meter, Need, Pile, Winterful, Wooded
from app.web import pages
from app.web.drawing import Stretch, line
from app.web.forms import field
from app.web.garden.page import months, two_years
from app.web.links import entry_href
from app.web.pages.upkeep import PileLine
from app.web.parts import NO_LINE, Choice, Form, Frame, Link, Pair
from app.web.rows import job_href
from app.web.typed import Typed
from app.web.upkeep.words import on
from app.web.words import SP, day, figure

BASES = {"dry": "By the dry wood, as most pin meters read", "wet": "By the whole, as ‘20 % and ready’ is meant"}


def wood_page(
    frame: Frame,
    found: Wooded,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    read: Meter | None,
    wanted: Winterful | None,
    today: date,
) -> pages.UpkeepWood:
    """The page."""
    stretch = two_years(today)
    return pages.UpkeepWood(
        frame=frame,
        sub=f"{figure(found.in_all_m3, 1)}{SP}m³ stacked, {figure(found.ready_m3, 1)}{SP}m³ of it ready to burn."
        if found.piles
        else "",
        piles=tuple(_pile(one, stretch, today) for one in found.piles),
        months=months(stretch),
        meter=_meter_form(typed, errors),
        meter_says=_meter_says(read),
        meter_facts=(
            Pair("By the whole", f"{figure(read.wet_percent, 1)}{SP}%"),
            Pair("By the dry wood", f"{figure(read.dry_percent, 1)}{SP}%"),
            Pair("Heat in it", f"{figure(read.kwh_kg, 1)}{SP}kWh a kilogram"),
        )
        if read is not None
        else (),
        need=_need_form(typed, errors),
        need_says=_need_says(wanted, found),
        need_facts=(
            Pair("Heat", f"{figure(wanted.kwh, 0)}{SP}kWh in the room"),
            Pair("Stacked", f"{figure(wanted.fuel.stacked_m3, 1)}{SP}m³"),
            Pair("Tipped loose", f"{figure(wanted.fuel.loose_m3, 1)}{SP}m³"),
            Pair("By weight", f"{figure(wanted.fuel.kg, 0)}{SP}kg as burnt"),
        )
        if wanted is not None
        else (),
        add=Link("Put a stack down", "/add/firewood"),
        notes=(
            "Dry is 20 % of water by the whole: 25 on a meter that reads by the dry wood. Split a log and read inside.",
            "When a stack is ready is reckoned by wood, splitting, roof and the months that dry; a meter tells.",
        ),
        empty="" if found.piles else "No stack is put down. Put one down on the day it is split and stacked, and its"
        " day follows.",
    )  # fmt: skip


def _pile(one: Pile, stretch: Stretch, today: date) -> PileLine:
    task = one.ready
    if one.is_ready:
        dry = "ready to burn"
    elif one.never:
        dry = "so stacked, it does not get dry: split it, and put a roof over it"
    elif task is None or task.best is None:
        dry = "not known"
    else:
        dry = f"dry by about {day(on(task.best), today)}"
    now = f"about {figure(one.now_percent, 0)}{SP}% today, by reckoning" if one.now_percent is not None else ""
    if one.read is not None:
        now = f"read {figure(one.read[0], 0)}{SP}% by the whole on {day(on(one.read[1]), today)}"
    stacked = f"stacked {day(on(one.stacked), today)}" if one.stacked is not None else ""
    parts = (f"{figure(one.m3, 1)}{SP}m³", one.wood, stacked)
    drawn = line(stretch, task.opens, task.closes, (task.best,)) if task is not None and task.best else NO_LINE
    return PileLine(
        one.element.entry.name,
        entry_href(one.element.entry.id),
        " · ".join(part for part in parts if part),
        _upper(dry),
        _upper(now),
        Link("Measure it", job_href(task.key)) if task is not None else None,
        drawn,
        _upper(dry) if one.never else "",
    )


def _upper(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _meter_form(typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    fields = (
        field("percent", "The meter reads", typed, errors, kind="number", unit="%", required=True),
        field("basis", "It reads", typed, errors, "dry", kind="choice",
              choices=tuple(Choice(one, text) for one, text in BASES.items())),
    )  # fmt: skip
    return Form("/upkeep/wood", "Is it dry?", fields, method="get")


def _need_form(typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    fields = (
        field("kilowatts", "The stove gives", typed, errors, kind="number", unit="kW", required=True),
        field("hours", "Hours a day", typed, errors, "5", kind="number", required=True),
        field("days", "Days it is lit", typed, errors, "150", kind="count", required=True),
        field("wood", "Wood", typed, errors, WOODS[0], kind="list",
              choices=tuple(Choice(one, one.capitalize()) for one in WOODS)),
        field("efficiency", "Of the heat comes into the room", typed, errors, "75", kind="number", unit="%",
              help="A stove some 75, an open fire some 20."),
    )  # fmt: skip
    return Form("/upkeep/wood", "How much wood?", fields, method="get", quiet=True)


def read_meter(form: Typed) -> tuple[float, str]:
    """A reading as typed.

    Raises: BadInput with a sentence per field.
    """
    basis = form.choice("basis", BASES) or "dry"
    percent = form.number("percent", 0, 80 if basis == "wet" else 400, "%", "What does the meter read?")
    form.check()
    return percent or 0.0, basis


def read_need(form: Typed) -> Need:
    """How a winter is heated, as typed.

    Raises: BadInput with a sentence per field.
    """
    kilowatts = form.number("kilowatts", 0.5, 60, "kW", "How much does the stove give?")
    hours = form.number("hours", 0, 24, "hours", "How many hours a day?")
    days = form.number("days", 0, 366, "days", "How many days?")
    wood = form.choice("wood", WOODS, "Which wood?")
    efficiency = form.number("efficiency", 5, 95, "%")
    form.check()
    return Need(kilowatts or 0.0, hours or 0.0, days or 0.0, wood, efficiency_percent=efficiency or 75.0)


def _meter_says(read: Meter | None) -> str:
    if read is None:
        return ""
    wet = f"{figure(read.wet_percent, 1)}{SP}% of it is water"
    return f"Dry: {wet}. It can be burned." if read.ready else f"Not dry: {wet}; 20{SP}% or less is wanted."


def _need_says(wanted: Winterful | None, found: Wooded) -> str:
    if wanted is None:
        return ""
    need = wanted.fuel.stacked_m3
    says = f"A winter asks {figure(need, 1)}{SP}m³, stacked."
    if not found.piles:
        return says
    lacks = need - found.in_all_m3
    return f"{says} {figure(lacks, 1)}{SP}m³ more than is stacked." if lacks > 0.05 else f"{says} So much is stacked."
