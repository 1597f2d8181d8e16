"""https in the house: the certificate to trust, and how, for callers who are not let in yet too: it holds no secret."""

import hashlib
from pathlib import Path

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.errors import NotFound
from app.settings import House
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.house.https_page import https_page

router = APIRouter()
first_steps = APIRouter()
"""At the plain address beside a house that is served over https."""

CERTIFICATE = "application/x-x509-ca-cert"
FILE_NAME = "house-certificate.crt"


@router.get("/https")
@first_steps.get("/https")
def https(request: Request, book: TheBook) -> Response:
    """How a phone is told to trust this house, and what that means."""
    house: House | None = request.app.state.house
    found = _certificate(book.settings.house_certificate) if house is not None and house.first_steps else b""
    print_ = hashlib.sha256(found).digest().hex(":").upper() if found else ""
    return page(request, https_page(frame(request, "https in the house", "phones"), house, print_))


@router.api_route("/house-certificate.crt", methods=["GET", "HEAD"])
@first_steps.api_route("/house-certificate.crt", methods=["GET", "HEAD"])
def certificate(book: TheBook) -> Response:
    """The authority of this house, without its key.

    Raises: NotFound where none was made.
    """
    found = _certificate(book.settings.house_certificate)
    if not found:
        raise NotFound("No certificate of this house has been made yet.")
    disposition = f'attachment; filename="{FILE_NAME}"'
    return Response(found, media_type=CERTIFICATE, headers={"Content-Disposition": disposition})


@first_steps.get("/")
@first_steps.get("/let-in")
def begin(request: Request) -> Response:
    """Wherever somebody arrives."""
    return RedirectResponse("/https", 303)


def _certificate(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""
