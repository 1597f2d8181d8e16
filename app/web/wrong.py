"""What went wrong, by its class, as a page or as the status line of one: a plain sentence, and never a traceback."""

import logging
from http import HTTPStatus

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import RedirectResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from app.errors import (
    BadInput,
    Conflict,
    DataFolderError,
    MissingFact,
    NotFound,
    OutOfRange,
    Refused,
    TooMany,
    TwelvemonthError,
)
from app.web import pages
from app.web.depends import by_htmx, page
from app.web.frames import frame
from app.web.parts import Link, Status

LOG = logging.getLogger("twelvemonth")

CODES: tuple[tuple[type[TwelvemonthError], int, str], ...] = (
    (NotFound, 404, "There is no such page"),
    (Conflict, 409, "That can’t be done as things stand"),
    (Refused, 409, "That is not advised"),
    (TooMany, 429, "That is too often"),
    (BadInput, 422, "That could not be read"),
    (OutOfRange, 422, "That is out of reach"),
    (MissingFact, 409, "Something is not known yet"),
    (DataFolderError, 503, "The records can’t be used"),
)
_OTHERS = {
    400: ("That could not be read", "What was sent is not a form that this page knows. Nothing was changed."),
    404: ("There is no such page", "Nothing is kept at this address."),
    405: ("That is not done here", "This page can’t be used in that way. Nothing was changed."),
}
_UNFORESEEN = "Something went wrong that was not foreseen. What was put down before is safe; the rest was not saved."


def say(request: Request, code: int, heading: str, sentence: str, kept: str = "") -> Response:
    """A page about what went wrong; a script that asked for a part of a page gets its status line."""
    if by_htmx(request):
        answer: Response = page(request, pages.Ticked(None, Status(sentence, alert=True)), code)
        answer.headers["HX-Reswap"] = "none"
        return answer
    here = frame(request, heading)
    links = (Link("To the month", "/"), Link("Today", "/today")) if here.holding else (Link("To the start", "/"),)
    return page(request, pages.Wrong(here, code, heading, sentence, kept, links), code)


def foreseen(request: Request, error: Exception) -> Response:
    """One of our own errors, by its class."""
    if isinstance(error, MissingFact) and not request.app.state.book.name and not by_htmx(request):
        return RedirectResponse("/start", 303)
    found = next(((code, heading) for kind, code, heading in CODES if isinstance(error, kind)), None)
    if found is None:
        return unforeseen(request, error)
    code, heading = found
    if code == 503:
        LOG.error("%s", error)
    kept = "" if request.method in ("GET", "HEAD") else "Nothing was changed."
    answer = say(request, code, heading, str(error), kept)
    if isinstance(error, TooMany):
        answer.headers["Retry-After"] = str(error.seconds)
    return answer


def by_code(request: Request, error: Exception) -> Response:
    """An error that the web itself raised: no such page, no such method, a body that is no form."""
    code = error.status_code if isinstance(error, HTTPException) else 422
    phrase = HTTPStatus(code).phrase if code in HTTPStatus._value2member_map_ else "That did not work"
    heading, sentence = _OTHERS.get(code, (phrase, "That could not be read. Nothing was changed."))
    answer = say(request, code, heading, sentence)
    if isinstance(error, HTTPException) and error.headers:
        answer.headers.update(error.headers)
    return answer


def unforeseen(request: Request, error: Exception) -> Response:
    """Anything else: logged whole, and said in a sentence."""
    LOG.error("unforeseen at %s %s", request.method, _pattern(request), exc_info=error)
    return say(request, 500, "Something went wrong", _UNFORESEEN)


def _pattern(request: Request) -> str:
    """The address as its router writes it: filled in, it may hold the secret of a calendar."""
    return str(getattr(request.scope.get("route"), "path", "an address of no page"))


def install(app: FastAPI) -> None:
    """Answer every error that is foreseen with a page; `app.web.guard` answers the others."""
    app.add_exception_handler(TwelvemonthError, foreseen)
    app.add_exception_handler(HTTPException, by_code)
    app.add_exception_handler(RequestValidationError, by_code)
