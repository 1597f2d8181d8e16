"""The medicine book and the movement record, to print and as tables; animals in from a table."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse
from starlette.datastructures import UploadFile
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.livestock import taking_in as livestock_in
from app.services.livestock.groups import herd
from app.services.livestock.registers import bought, csv_of, medicine_book, movements
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong
from app.web.frames import frame
from app.web.livestock.register_page import (
    BOUGHT,
    DOSES,
    MOVES,
    bought_rows,
    in_page,
    medicine_register,
    medicine_rows,
    movement_register,
    movement_rows,
)

router = APIRouter()

MOST_FILE = 2 * 1024 * 1024


@router.get("/livestock/register/medicine")
def medicines(request: Request, book: TheBook) -> Response:
    """The medicine book."""
    today = book.today()
    with book.reading() as session:
        doses, bottles = medicine_book(book, session, today.toordinal()), bought(session)
    here = frame(request, "Medicine book", "livestock")
    return page(request, medicine_register(here, book.name, doses, bottles, today))


@router.get("/livestock/register/medicine.csv")
def medicines_csv(book: TheBook) -> Response:
    """What was given, as a table."""
    today = book.today()
    with book.reading() as session:
        rows = medicine_rows(medicine_book(book, session, today.toordinal()), plain=True)
    return _table(csv_of(DOSES, rows), "medicine-book")


@router.get("/livestock/register/bought.csv")
def bought_csv(book: TheBook) -> Response:
    """What was bought and finished, as a table."""
    with book.reading() as session:
        rows = bought_rows(bought(session), plain=True)
    return _table(csv_of(BOUGHT, rows), "medicines-bought")


@router.get("/livestock/register/movements")
def moves(request: Request, book: TheBook) -> Response:
    """The movement record."""
    today = book.today()
    with book.reading() as session:
        rows = movements(book, session, today.toordinal())
    return page(request, movement_register(frame(request, "Movement record", "livestock"), book.name, rows, today))


@router.get("/livestock/register/movements.csv")
def moves_csv(book: TheBook) -> Response:
    """The same as a table."""
    today = book.today()
    with book.reading() as session:
        rows = movement_rows(movements(book, session, today.toordinal()), plain=True)
    return _table(csv_of(MOVES, rows), "movements")


async def sent(request: Request) -> tuple[str | None, str]:
    """The text that was pasted, else the file's (None for a file that is no text), and the group that was chosen."""
    form = await request.form(max_files=1, max_fields=20)
    file, text, group = form.get("file"), form.get("text"), form.get("group")
    usual = group if isinstance(group, str) else ""
    if isinstance(text, str) and text.strip():
        return text, usual
    if not isinstance(file, UploadFile):
        return "", usual
    try:
        return (await file.read(MOST_FILE)).decode("utf-8-sig"), usual
    except UnicodeDecodeError:
        return None, usual


@router.get("/livestock/in")
def choose(request: Request, book: TheBook) -> Response:
    """Choose a file, or paste it."""
    return _in(request, book, "", "")


@router.post("/livestock/in")
def look(request: Request, book: TheBook, given: Annotated[tuple[str | None, str], Depends(sent)]) -> Response:
    """What was understood; nothing is changed."""
    text, usual = given
    if not text:
        said = "That is no text in UTF-8: save it as CSV." if text is None else "Choose a file, or paste what is in it."
        return _in(request, book, "", usual, said)
    return _in(request, book, text, usual)


@router.post("/livestock/in/take")
def take(request: Request, book: TheBook, form: TheForm) -> Response:
    """Take in what can be read; the same table once more changes nothing."""
    text, usual = form.raw("text"), form.raw("group")
    try:
        many = livestock_in.take_in(book, text, usual, book.today().toordinal())
    except BadInput as error:
        return _in(request, book, text, usual, str(error))
    return RedirectResponse(f"/livestock?put=in&many={many}", 303)


def _in(request: Request, book: Book, text: str, usual: str, error: str = "") -> Response:
    now = book.today().toordinal()
    looked = None
    with book.reading() as session:
        found = herd(book, session, now)
        if text and not error:
            try:
                looked = livestock_in.look(book, session, text, usual, now)
            except BadInput as fault:
                error = str(fault)
    wrong = Wrong("in", {"group": usual}, {"text": error}) if error else Wrong()
    here = frame(request, "Animals from a table", "livestock")
    shown = in_page(here, (*found.here, *found.coming), wrong, looked, text, usual)
    return page(request, shown, 422 if error else 200)


def _table(content: bytes, name: str) -> Response:
    head = {"Content-Disposition": f'attachment; filename="{name}.csv"'}
    return Response(content, media_type="text/csv; charset=utf-8", headers=head)
