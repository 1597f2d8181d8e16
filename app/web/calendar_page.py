"""The calendar's page: who reads it, and a new link with its code to point a camera at."""

from collections.abc import Mapping, Sequence
from datetime import date

import segno
from markupsafe import Markup

from app.rules.terms import TRADES
from app.services.feeds import Given, Made, Options
from app.web import pages
from app.web.parts import Choice, Field, Form, Frame, Link
from app.web.words import away, day, listed, trade

CAUTION = (
    "Whoever has the address can read these jobs, and nothing else. A calendar that is kept elsewhere, on somebody’s"
    " server, can’t reach this house; for that one take the file, which does not change. A calendar may be a day"
    " behind: go by these pages where hours matter, with meat, jars and animals."
)


def calendar_page(
    frame: Frame, given: Sequence[Given], today: date, new: pages.NewLink | None, form: Form
) -> pages.Calendar:
    """The page."""
    return pages.Calendar(
        frame=frame,
        new=new,
        links=tuple(_shared(one, today) for one in given),
        form=form,
        caution=CAUTION,
        file=Link("Take the year as a file", "/calendar.ics"),
    )


def new_link(made: Made, base: str) -> pages.NewLink:
    """A link just made, with its address for this once."""
    address = f"{base}/calendar/{made.secret}.ics"
    picture = segno.make(address, error="m").svg_inline(
        border=2, dark="#000", light="#fff", svgclass=None, lineclass=None, omitsize=True
    )
    webcal = f"webcal:{address.partition(':')[2]}"
    return pages.NewLink(f"A link for {made.name}", address, webcal, Markup(picture), address)


def link_form(typed: Mapping[str, str], ticked: Sequence[str], errors: Mapping[str, str]) -> Form:
    """What a new link is to give."""
    fields = (
        Field("name", "Whose it is", value=typed.get("name", ""), error=errors.get("name", ""), required=True),
        Field(
            "trades",
            "Trades",
            "several",
            choices=tuple(Choice(name, trade(name)) for name in TRADES),
            values=tuple(ticked),
            help="none ticked: all of them",
        ),
        Field(
            "which",
            "Which jobs",
            "choice",
            typed.get("which", "open"),
            choices=(Choice("open", "Still to do"), Choice("all", "Done ones too")),
        ),
        Field(
            "as",
            "As",
            "choice",
            typed.get("as", "events"),
            choices=(
                Choice("events", "Days in the calendar", "each job on its best day"),
                Choice("todos", "To-dos", "from the first day to the last; not every calendar shows them"),
            ),
        ),
        Field("alarm", "Ring at eight on the day before a window closes", "tick", typed.get("alarm", "")),
    )
    return Form("/calendar", "Make a link", fields)


def _shared(one: Given, today: date) -> pages.Shared:
    read = f"last read {away(one.read, today)}" if one.read is not None else "never read yet"
    made = f"made on {day(one.made.date(), today)}"
    return pages.Shared(
        one.name, _what(one.options), made, read, Form(f"/calendar/{one.id}/revoke", "Stop it", quiet=True),
        Form(f"/calendar/{one.id}/renew", "New address", quiet=True),
    )  # fmt: skip


def _what(options: Options) -> str:
    parts = [
        listed(trade(name) for name in options.trades) or "All trades",
        "done jobs too" if options.done else "open jobs",
        "as to-dos" if options.todos else "",
        "rings at eight on the day before the last" if options.alarm else "",
    ]
    return " · ".join(part for part in parts if part)
