"""Phones: let in by a code, listed, shown the door."""

from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Path, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, Refused
from app.services.book import Book
from app.services.devices import Devices, devices, person_there
from app.services.household import household
from app.services.letting_in import LettingIn
from app.settings import House
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.house.phones_page import let_in_page, phones_page
from app.web.parts import Status

router = APIRouter()

KEPT_FOR = 400 * 86400
"""How long a phone is remembered without being used: as long as browsers keep a cookie (RFC 6265bis, 5.5)."""
LONGEST_CODE = 100


@router.get("/phones")
def phones(request: Request, book: TheBook) -> Response:
    """Who is let in."""
    said = "It is shown the door: it is not answered from now on." if "out" in request.query_params else ""
    return _drawn(request, book, status=Status(said) if said else None)


@router.post("/phones")
def invite(request: Request, book: TheBook, form: TheForm) -> Response:
    """A code for one more. It stands on the page itself, since it is shown only here."""
    try:
        name = form.text("phone", "What is it called? A name tells it from the others.", longest=60)
        person = form.number("person", 1, 10**9)
        form.check()
        if person is not None:
            with book.reading() as session:
                person_there(session, int(person))
    except BadInput as error:
        return _drawn(request, book, form.values, error.fields)
    if request.app.state.house is not None:
        _letting_in(request).invite(name, None if person is None else int(person))
    return RedirectResponse("/phones", 303)


@router.post("/phones/{phone}/out")
def out(request: Request, phone: Annotated[int, Path(ge=1, lt=2**63)]) -> Response:
    """A phone is shown the door."""
    known: Devices = request.app.state.devices
    known.show_out(phone)
    return RedirectResponse("/phones?out=yes", 303)


@router.get("/let-in")
def ask(request: Request) -> Response:
    """All that an unknown caller sees. Looking changes nothing: cameras and previews look before anybody taps."""
    if request.app.state.house is None or not getattr(request.state, "stranger", False):
        return RedirectResponse("/today", 303)
    return _asked(request, request.query_params.get("code", "")[:LONGEST_CODE], "", 200)


@router.post("/let-in")
def let_in(request: Request, form: TheForm) -> Response:
    """A phone with its code."""
    house: House | None = request.app.state.house
    if house is None:
        return RedirectResponse("/today", 303)
    try:
        caller = request.client.host if request.client else ""
        found = _letting_in(request).answer(form.raw("code")[:LONGEST_CODE], caller)
    except Refused as error:
        return _asked(request, "", str(error), 422)
    known: Devices = request.app.state.devices
    answer = RedirectResponse("/today", 303)
    answer.set_cookie(
        house.cookie, known.let_in(found.name, found.person), max_age=KEPT_FOR, path="/", secure=house.secure,
        httponly=True, samesite="lax",
    )  # fmt: skip
    return answer


def _asked(request: Request, code: str, error: str, status: int) -> Response:
    answer = page(request, let_in_page(frame(request, "Let this phone in", bare=True), code, error), status)
    answer.headers["Cache-Control"] = "no-store"
    answer.headers["Referrer-Policy"] = "same-origin"
    return answer


def _letting_in(request: Request) -> LettingIn:
    found: LettingIn = request.app.state.letting_in
    return found


def _drawn(
    request: Request,
    book: Book,
    typed: dict[str, str] | None = None,
    errors: dict[str, str] | None = None,
    status: Status | None = None,
) -> Response:
    house: House | None = request.app.state.house
    today = book.today()
    with book.reading() as session:
        zone = ZoneInfo(book.holding(session).timezone)
        found = devices(session)
        people = [(one.id, one.name) for one in household(book, session, today.toordinal()).people]
    shown = phones_page(
        frame(request, "Phones", "phones", status), house, found, people, _letting_in(request).standing(), today, zone,
        typed or {}, errors or {},
    )  # fmt: skip
    answer = page(request, shown, 422 if errors else 200)
    answer.headers["Cache-Control"] = "no-store"
    return answer
