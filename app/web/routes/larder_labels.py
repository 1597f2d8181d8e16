"""Labels to print: which batches, how many of each, on which sheet."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from app.services.larder import larder
from app.web.depends import TheBook, house_base, page
from app.web.frames import frame
from app.web.larder.labels import MOST_BATCHES, labels_page, read_wish

router = APIRouter()


@router.get("/larder/labels")
def labels(
    request: Request,
    book: TheBook,
    batch: Annotated[list[str] | None, Query()] = None,
    size: str = "",
    copies: str = "",
    gone: str = "",
) -> Response:
    """Labels of the batches that were chosen; with none chosen, the choice."""
    ids = dict.fromkeys((batch or [])[:MOST_BATCHES])
    with book.reading() as session:
        imperial = book.holding(session).units == "imperial"
        there = larder.there(session, MOST_BATCHES, newest=True)
        found = {row.id: row for row in larder.some(session, tuple(ids))}
    chosen = [found[ident] for ident in ids if ident in found]
    known = {row.id for row in there}
    every = [*(row for row in chosen if row.id not in known), *there]
    here, wish = frame(request, "Labels", "larder"), read_wish(size, copies, gone)
    served = request.app.state.house is not None
    shown = labels_page(here, every, chosen, wish, house_base(request), imperial, served)
    return page(request, shown)
