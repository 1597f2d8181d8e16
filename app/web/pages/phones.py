"""Phones, and the page on which one is let in."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Form, Frame, Link, Undoing


@dataclass(frozen=True, slots=True)
class Invited:
    """A code that holds now."""

    name: str  # whose phone it is for
    qr: Markup  # the address with the code in it
    address: str  # what to open where no camera can: "http://192.168.1.20:8000/let-in"
    digits: str  # "123 456"
    until: str  # "until 14.35, and once"


@dataclass(frozen=True, slots=True)
class Phones(Page):
    """`phones.html`: who is let in, and letting another in."""

    template = "phones.html"

    frame: Frame
    addresses: tuple[Link, ...]  # under which the house is served
    qr: Markup  # the first of them, for a camera
    not_served: str  # how to serve the house, where it is not
    invited: Invited | None
    phones: tuple[Undoing, ...]  # a name, when it was last seen, and the door
    invite: Form | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LetIn(Page):
    """`let_in.html`: all that an unknown caller sees."""

    template = "let_in.html"

    frame: Frame
    form: Form
    note: str


@dataclass(frozen=True, slots=True)
class KindSteps:
    """How something is done on one kind of phone."""

    kind: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Https(Page):
    """`https.html`: the certificate of the house, and how to trust it."""

    template = "https.html"

    frame: Frame
    why: str
    state: str  # why there is no certificate to fetch; "" where there is
    certificate: Link | None
    print_: str  # its SHA-256: "4F:0A:…"
    compare: str
    kinds: tuple[KindSteps, ...]
    means: tuple[str, ...]  # what trusting it means
    onward: tuple[Link, ...]
