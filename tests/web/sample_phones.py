"""Invented phones, as their pages are drawn."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from app.services.devices import Device
from app.services.letting_in import Invitation
from app.settings import House
from app.web import pages
from app.web.house.https_page import https_page
from app.web.house.phones_page import let_in_page, phones_page
from app.web.parts import Frame
from tests.web.sample_jobs import frame

_AT = datetime(2027, 9, 15, 9, 0, tzinfo=UTC)


def phones() -> pages.Phones:
    """Two phones, and a code that holds."""
    return phones_page(
        frame("Phones", "phones"), House(("http://192.168.1.20:8000", "http://holding.local:8000")),
        (
            Device(1, "Kitchen phone", 1, "Mari", _AT, date(2027, 9, 14)),
            Device(2, "Old tablet", None, "", _AT, _AT.date()),
        ),
        ((1, "Mari"), (2, "Tove")), Invitation("042971", "invented-long-code", _AT, "Tove’s phone", 2),
        date(2027, 9, 15), ZoneInfo("Europe/London"), {}, {},
    )  # fmt: skip


def let_in() -> pages.LetIn:
    """What an unknown caller sees after a wrong code."""
    return let_in_page(Frame("Let this phone in", bare=True), "", "That code does not hold.")


def https() -> pages.Https:
    """A house that is served over https, with an invented print."""
    house = House(("https://192.168.1.20:8000",), secure=True, first_steps="http://192.168.1.20:8001")
    return https_page(frame("https in the house", "phones"), house, ":".join(["4F", "0A", "C3", "19"] * 8))
