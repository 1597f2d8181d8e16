"""What routers are given: the book, and the way to draw a page."""

from typing import Annotated

from fastapi import Depends, Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment

from app.services.book import Book
from app.web.pages import Page
from app.web.templating import draw


def book(request: Request) -> Book:
    """The book of this process."""
    found: Book = request.app.state.book
    return found


TheBook = Annotated[Book, Depends(book)]
"""For a router: ``def month(book: TheBook) -> ...``."""


def page(request: Request, shown: Page, code: int = 200) -> HTMLResponse:
    """A page drawn."""
    made: Environment = request.app.state.templates
    return HTMLResponse(draw(made, shown), code)


def by_htmx(request: Request) -> bool:
    """Whether a script asks for a part of a page."""
    return request.headers.get("hx-request") == "true"
