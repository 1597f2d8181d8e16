"""Batches in from a table: sent, looked at, taken in."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse
from starlette.datastructures import UploadFile
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.larder import csv_in
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.larder.taking_in import in_page, looked_page
from app.web.larder.words import put

router = APIRouter()


async def sent(request: Request) -> str | None:
    """The text that was pasted, else the file's; None for a file that is no text."""
    form = await request.form(max_files=1, max_fields=20)
    file, text = form.get("file"), form.get("text")
    if isinstance(text, str) and text.strip():
        return text
    if not isinstance(file, UploadFile):
        return ""
    try:
        return (await file.read()).decode("utf-8-sig")
    except UnicodeDecodeError:
        return None


@router.get("/larder/in")
def choose(request: Request, book: TheBook) -> Response:
    """Choose a file, or paste it."""
    return _first(request, book)


@router.post("/larder/in")
def look(request: Request, book: TheBook, text: Annotated[str | None, Depends(sent)]) -> Response:
    """What was understood; nothing is changed."""
    if not text:
        said = "That is no text in UTF-8: save it as CSV." if text is None else "Choose a file, or paste what is in it."
        return _first(request, book, error=said)
    return _looked(request, book, text)


@router.post("/larder/in/take")
def take(request: Request, book: TheBook, form: TheForm) -> Response:
    """Take in what can be read; the same table once more changes nothing."""
    text = form.raw("text")
    try:
        many = csv_in.take_in(book, text, book.today().toordinal())
    except BadInput as error:
        return _first(request, book, text, str(error))
    return RedirectResponse(put("/larder", "in", many=many), 303)


def _looked(request: Request, book: Book, text: str) -> Response:
    try:
        with book.reading() as session:
            book.holding(session)
            found = csv_in.look(session, text, book.today().toordinal())
    except BadInput as error:
        return _first(request, book, text, next(iter(error.fields.values())))
    return page(request, looked_page(frame(request, "What was understood", "larder"), text, found))


def _first(request: Request, book: Book, text: str = "", error: str = "") -> Response:
    with book.reading() as session:
        book.holding(session)
    here = frame(request, "Take in a table of batches", "larder")
    return page(request, in_page(here, text, error), 422 if error else 200)
