"""Our own ways: what goes differently here than the sheets say."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.services import own_ways
from app.web.depends import TheBook, TheForm, page
from app.web.parts import Form, Status
from app.web.typed import Typed
from app.web.ways_page import read_way, ways_page
from app.web.words import counted

router = APIRouter()


@router.get("/garden/ways")
def ways(request: Request, book: TheBook) -> Response:
    """What is told, and the form for one sheet when it was chosen."""
    typed = dict(request.query_params)
    return _drawn(request, book, typed, {}, 200, _status(typed))


@router.post("/garden/ways")
def tell(request: Request, book: TheBook, form: TheForm) -> Response:
    """A way told, or what is wrong with it."""
    today = book.today().toordinal()
    try:
        done = own_ways.tell(book, read_way(form), today)
    except BadInput as error:
        return _drawn(request, book, form.values, error.fields, 422, None)
    return RedirectResponse(f"/garden/ways?told={done.way.id}&jobs={done.jobs}&entries={done.entries}", 303)


@router.post("/garden/ways/{way_id}/strike")
def strike(book: TheBook, way_id: int) -> Response:
    """It goes as the sheet says after all."""
    own_ways.put_back(book, way_id, book.today().toordinal(), struck=True)
    return RedirectResponse(f"/garden/ways?struck={way_id}", 303)


@router.post("/garden/ways/{way_id}/back")
def back(book: TheBook, way_id: int) -> Response:
    """It was struck out by mistake."""
    own_ways.put_back(book, way_id, book.today().toordinal(), struck=False)
    return RedirectResponse("/garden/ways?back=yes", 303)


def _status(typed: Mapping[str, str]) -> Status | None:
    if typed.get("told", "").isdecimal():
        form = Typed(typed)
        jobs, entries = (round(form.number(name, 0, 10**6) or 0) for name in ("jobs", "entries"))
        many = f"{counted(jobs, 'job')} of {counted(entries, 'entry', 'entries')}"
        moved = f"{many[:1].upper()}{many[1:]} are dated anew." if jobs else "No date moves by it now."
        return Status(f"It is told. {moved}", Form(f"/garden/ways/{typed['told']}/strike", "Take back", quiet=True))
    if typed.get("struck", "").isdecimal():
        undo = Form(f"/garden/ways/{typed['struck']}/back", "Bring it back", quiet=True)
        return Status("It is struck out: that goes as the sheet says again.", undo)
    return Status("It is back.") if typed.get("back") == "yes" else None


def _drawn(
    request: Request, book: TheBook, typed: Mapping[str, str], errors: Mapping[str, str], code: int,
    status: Status | None,
) -> Response:  # fmt: skip
    today = book.today().toordinal()
    sheet = book.library.sheets.get(typed.get("sheet", ""))
    if sheet is None and typed.get("sheet"):
        raise NotFound(f"There is no sheet called {typed['sheet'][:60]!r}.")
    with book.reading() as session:
        book.holding(session)
        known = own_ways.known_ways(book, session, today)
        laid = list(book.live(session, today).laid.values())
    entries = [one.entry for one in laid if sheet is not None and one.entry.sheet == sheet.id and not one.entry.struck]
    sheets = list(book.library.sheets.values())
    shown = ways_page(request, known, sheets, sheet, entries, typed, errors, status)
    return page(request, shown, code)
