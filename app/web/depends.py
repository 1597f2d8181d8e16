"""What routers are given: the book, and the way to draw a page."""

from typing import Annotated

from fastapi import Depends, Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment

from app.services.book import Book
from app.settings import House
from app.web.pages import Page
from app.web.templating import draw
from app.web.typed import Typed


def book(request: Request) -> Book:
    """The book of this process."""
    found: Book = request.app.state.book
    return found


TheBook = Annotated[Book, Depends(book)]
"""For a router: ``def month(book: TheBook) -> ...``."""


async def posted(request: Request) -> Typed:
    """The fields of the form that was sent, of each name the last; files are no fields."""
    form = await request.form(max_files=0, max_fields=2000)
    several: dict[str, list[str]] = {}
    for name, value in form.multi_items():
        if isinstance(value, str):
            several.setdefault(name, []).append(value.replace("\x00", ""))
    return Typed({name: values[-1] for name, values in several.items()}, several)


TheForm = Annotated[Typed, Depends(posted)]
"""For a router: ``def tick(form: TheForm) -> ...``."""


def page(request: Request, shown: Page, code: int = 200) -> HTMLResponse:
    """A page drawn."""
    made: Environment = request.app.state.templates
    return HTMLResponse(draw(made, shown), code)


def who_says(request: Request) -> int | None:
    """Whose phone it is that says something; None on a machine that is nobody's."""
    device = getattr(request.state, "device", None)
    return device.person_id if device is not None else None


def house_base(request: Request) -> str:
    """The address under which a phone finds the house, where it is served; else the one this reader came by."""
    house: House | None = request.app.state.house
    if house is not None and house.addresses:
        return house.addresses[0]  # a phone knows no localhost
    return asked_base(request)


def asked_base(request: Request) -> str:
    """The address under which this reader found the house."""
    return f"{request.url.scheme}://{request.url.netloc}"


def by_htmx(request: Request) -> bool:
    """Whether a script asks for a part of a page."""
    return request.headers.get("hx-request") == "true"
