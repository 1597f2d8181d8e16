"""Phones as a page: who is let in, a code for one more, and what an unknown caller sees."""

from collections.abc import Mapping, Sequence
from datetime import date
from urllib.parse import quote
from zoneinfo import ZoneInfo

import segno
from markupsafe import Markup

from app.services.devices import Device
from app.services.letting_in import Invitation
from app.settings import House
from app.web import pages
from app.web.parts import Choice, Field, Form, Frame, Link, Pair, Undoing
from app.web.words import away, clock, day

NOT_SERVED = (
    "Only this computer is answered now. Start it with “twelvemonth serve --house”, and phones on the same network can"
    " be let in here."
)
NOTES = (
    "Use a network you trust. Without https everybody on the Wi-Fi can read and change what goes over it; never open"
    " this port to the internet.",
    "A phone that is lost is shown the door here. What it had not sent yet stays on it, and can be sent when it is let"
    " in again.",
)


def phones_page(
    frame: Frame,
    house: House | None,
    devices: Sequence[Device],
    people: Sequence[tuple[int, str]],
    invitation: Invitation | None,
    today: date,
    zone: ZoneInfo,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
) -> pages.Phones:
    """The page; ``people`` are ids and names."""
    served = house is not None and bool(house.addresses)
    return pages.Phones(
        frame=frame,
        addresses=tuple(Link(address, address) for address in house.addresses) if house else (),
        qr=_square(house.addresses[0]) if house and served else Markup(""),
        not_served="" if served else NOT_SERVED,
        invited=_invited(house, invitation, zone) if house and served and invitation else None,
        phones=tuple(_phone(one, today) for one in devices),
        invite=_invite_form(people, typed, errors) if served else None,
        notes=NOTES,
    )


def let_in_page(frame: Frame, code: str, error: str) -> pages.LetIn:
    """What an unknown caller sees; ``code`` came in the address that a camera read."""
    if code and not error:
        hidden = (Pair("code", code),)
        note = "The code was read by the camera. It holds once, for this phone alone."
        return pages.LetIn(frame, Form("/let-in", "Let this phone in", hidden=hidden), note)
    field = Field(
        "code", "Code", "count", help="Six digits, made on the computer that serves the house, under Phones.",
        error=error, required=True,
    )  # fmt: skip
    return pages.LetIn(frame, Form("/let-in", "Let this phone in", (field,)), "")


def _invited(house: House, one: Invitation, zone: ZoneInfo) -> pages.Invited:
    address = f"{house.addresses[0]}/let-in"
    at = one.until.astimezone(zone)
    digits = f"{one.digits[:3]} {one.digits[3:]}" if one.digits else ""
    spent = "" if digits else " Its digits were guessed at too often, and can’t be typed any more: use the square."
    return pages.Invited(
        one.name, _square(f"{address}?code={quote(one.long)}"), address, digits,
        f"It holds once, until {clock(at.hour * 60 + at.minute)}.{spent}",
    )  # fmt: skip


def _invite_form(people: Sequence[tuple[int, str]], typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    fields = (
        Field("phone", "What to call it", value=typed.get("phone", ""), error=errors.get("phone", ""), required=True,
              help="It tells one from another."),
        Field("person", "Whose it is", "list", typed.get("person", ""), error=errors.get("person", ""),
              choices=tuple(Choice(str(ident), name) for ident, name in people),
              help="What is ticked on it is put down as said by them."),
    )  # fmt: skip
    return Form("/phones", "Make a code", fields)


def _phone(one: Device, today: date) -> Undoing:
    whose = f"{one.person} · " if one.person else ""
    seen = f"{whose}last seen {away(one.seen, today)} · let in on {day(one.let_in.date(), today)}"
    return Undoing(one.name, seen, Form(f"/phones/{one.id}/out", "Show it the door", quiet=True))


def _square(text: str) -> Markup:
    """A QR code (ISO/IEC 18004), black on white in any light."""
    made = segno.make(text, error="m").svg_inline(
        border=2, dark="#000", light="#fff", svgclass=None, lineclass=None, omitsize=True
    )
    return Markup(made)
