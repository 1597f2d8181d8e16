"""The power is off: a page to act by."""

from datetime import date

from app.services.larder.power import FRIDGE_HOURS, FULL_HOURS, HALF_HOURS, Hold, Power
from app.sheets.library import Library
from app.web import pages, told
from app.web.forms import fresh
from app.web.larder.page import LOCAL, left_of, name_of, until
from app.web.larder.units import much
from app.web.parts import Choice, Field, Form, Frame, Link, Pair
from app.web.words import SP, counted, figure

LEAD = (
    f"Keep the doors shut. A full freezer holds for {FULL_HOURS:g} hours, one half full for {HALF_HOURS:g}, a fridge"
    f" for {FRIDGE_HOURS:g} (FoodSafety.gov).",
    "When that time is up, feel every pack in the order below, what spoils first being first.",
)
_STATES = {"hard or icy": "Hard, or ice in it", "soft but cold": "Soft, but cold", "warm": "Warm"}


def power_page(
    frame: Frame, found: Power, library: Library, error: str, today: date, imperial: bool = False
) -> pages.LarderPower:
    """What holds how long, what to look at first, and one tap for what was spoiled."""
    rows = (*found.fridge, *found.first)
    choices = tuple(
        Choice(row.id, f"{name_of(row)} {row.number}",
               f"{left_of(row, imperial)} · {row.place or row.store} · {until(row, today)}")
        for row in rows
    )  # fmt: skip
    more = f" There are {counted(found.more, 'batch', 'batches')} more under Count a shelf." if found.more else ""
    boxes = Field("batch", "Look at these first", "several", choices=choices, error=error)
    return pages.LarderPower(
        frame=frame,
        lead=LEAD,
        freezers=tuple(Pair(one.name.capitalize(), _holds(one, imperial)) for one in found.freezers)
        or (Pair("Your freezer", "Put it down under Kit, and how full it is is told here.", "/kit"),),
        states=tuple(Pair(_STATES[state], verdict.says) for state, verdict in found.verdicts),
        states_note=f"{found.refreeze.says} {told.source(library, found.refreeze.source)}.",
        spoiled=Form("/larder/spoiled", "These were spoiled, and are thrown out", (boxes,), fresh(),
                     note=f"All that is left of each batch that is ticked is put down as thrown.{more}"),
        nothing="" if rows else "Nothing lies in freezer or fridge by the book.",
        notes=(LOCAL,),
        cautions=told.cautions(library, ("thawed-freezer", "kitchen-scraps")),
        links=(Link("Put the power cut down, with its jobs", "/add/power-cut"), Link("Back to the larder", "/larder")),
    )  # fmt: skip


def _holds(one: Hold, imperial: bool) -> str:
    if one.full_percent is None or one.litres is None:
        return one.says
    full = f"about {figure(one.full_percent, 0)}{SP}% full by the book ({much(round(one.kg, 1), 'kg', imperial)})"
    return f"{full}: {one.says}" if one.hours is None else f"{full}: holds {one.hours:g} hours at least, kept shut"
