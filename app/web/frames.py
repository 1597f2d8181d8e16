"""What every page gets: its title, the holding's name, the month that Month leads to."""

from fastapi import Request

from app.services.book import Book
from app.web.parts import Frame, Status


def frame(
    request: Request,
    title: str,
    here: str = "",
    status: Status | None = None,
    *,
    month_href: str = "/",
    bare: bool = False,
) -> Frame:
    """The frame of a page; to a caller who is not let in it names nothing."""
    book: Book = request.app.state.book
    stranger = getattr(request.state, "stranger", False)
    return Frame(
        title=title,
        holding="" if stranger else book.name,
        here=here,
        month_href=month_href,
        status=status,
        made_up=request.app.state.made_up and not stranger,
        bare=bare or stranger or not book.name,
    )
