"""The calendar's page: who reads it, and a new link with its code to point a camera at."""

from collections.abc import Mapping, Sequence
from datetime import date

import segno
from markupsafe import Markup

from app.rules.terms import TRADES
from app.services.feed_links import Given, Made, Options
from app.web import pages
from app.web.parts import Choice, Field, Form, Frame, Link
from app.web.words import away, day, listed, trade

CAUTION = (
    "Whoever has the address can read these jobs, and nothing else. A calendar that is kept elsewhere, on somebody’s"
    " server, can’t reach this house; for that one take the file, which does not change. A calendar may be a day"
    " behind: go by these pages where hours matter, with meat, jars and animals."
)

NOT_SERVED = (
    "Only this computer can read it now. Start it with “twelvemonth serve --house”, and make the link then, so that"
    " phones can."
)
KINDS: tuple[pages.KindSteps, ...] = (
    pages.KindSteps(
        "A phone whose own calendar takes subscriptions",
        (
            "Point its camera at the square, or tap the link on the phone. Else look in the settings of the calendar"
            " for “subscribed calendar” or “add from an address”, and paste it.",
            "If it offers to take the alerts out, say no where you want them to ring.",
            "It reads over the house’s own network, within a day; away from home it shows what it read last.",
        ),
    ),
    pages.KindSteps(
        "A phone whose calendar is kept in a cloud",
        (
            "Such a calendar reads addresses from its own servers, wherever they stand, and those can’t reach this"
            " house: it would stay empty.",
            "Get a small program that subscribes to iCalendar (ICS, webcal) addresses on the phone itself, and give it"
            " the address. Or take the file below; it does not change.",
        ),
    ),
    pages.KindSteps(
        "A calendar program on a computer",
        (
            "Make a new calendar “on the network”, of the kind iCalendar or ICS, and paste the address.",
            "To-dos are shown by such programs; the calendars of phones mostly pass them by.",
        ),
    ),
)


def calendar_page(
    frame: Frame,
    given: Sequence[Given],
    people: Sequence[tuple[int, str]],
    today: date,
    new: pages.NewLink | None,
    form: Form,
    served: bool,
) -> pages.Calendar:
    """The page; ``people`` are ids and names, ``served`` is whether phones can reach the house at all."""
    names = dict(people)
    return pages.Calendar(
        frame=frame,
        new=new,
        links=tuple(_shared(one, names, today) for one in given),
        form=form,
        caution=CAUTION if served else f"{NOT_SERVED} {CAUTION}",
        kinds=KINDS,
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


def link_form(
    people: Sequence[tuple[int, str]], typed: Mapping[str, str], ticked: Sequence[str], errors: Mapping[str, str]
) -> Form:
    """What a new link is to give."""
    fields = (
        Field("name", "Whose it is", value=typed.get("name", ""), error=errors.get("name", ""), required=True),
        Field(
            "person",
            "For whom",
            "list",
            typed.get("person", ""),
            choices=tuple(Choice(str(ident), name) for ident, name in people),
            error=errors.get("person", ""),
            help="leaves out what opens and closes while they are away, and what others did",
        ),
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


def _shared(one: Given, names: Mapping[int, str], today: date) -> pages.Shared:
    read = f"last read {away(one.read, today)}" if one.read is not None else "never read yet"
    made = f"made on {day(one.made.date(), today)}"
    return pages.Shared(
        one.name, _what(one.options, names), made, read, Form(f"/calendar/{one.id}/revoke", "Stop it", quiet=True),
        Form(f"/calendar/{one.id}/renew", "New address", quiet=True),
    )  # fmt: skip


def _what(options: Options, names: Mapping[int, str]) -> str:
    person = names.get(options.person or 0, "")
    parts = [
        f"for {person}" if person else "",
        listed(trade(name) for name in options.trades) or "All trades",
        "done jobs too" if options.done else "open jobs",
        "as to-dos" if options.todos else "",
        "rings at eight on the day before the last" if options.alarm else "",
    ]
    said = " · ".join(part for part in parts if part)
    return f"{said[:1].upper()}{said[1:]}"
