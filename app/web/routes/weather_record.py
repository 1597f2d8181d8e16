"""Taking in a file of daily weather: chosen or pasted, looked at, taken in, taken out again."""

from threading import Thread
from typing import Annotated, NamedTuple

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse
from starlette.datastructures import UploadFile
from starlette.responses import Response

from app.errors import BadInput, TwelvemonthError
from app.services.book import Book
from app.services.weather import files
from app.services.weather.files import Looked, Taken
from app.services.weather.weather import Reading as MonthReading
from app.services.weather.weather import on_record, type_months
from app.web import pages
from app.web.depends import TheBook, TheForm, by_htmx, page
from app.web.frames import frame
from app.web.parts import Link, Status
from app.web.typed import Typed
from app.web.weather.record_page import HERE, file_page, read_how, record_page, seen, taken_status
from app.web.weather.record_words import big
from app.web.weather.typed import scale

router = APIRouter()

LARGEST_PART = 16 * 1024 * 1024


class Sent(NamedTuple):
    """What was sent in the first step: a file, or text that was pasted."""

    name: str
    content: bytes
    text: str


async def sent(request: Request) -> Sent:
    """The file and the text of the first step."""
    form = await request.form(max_files=1, max_fields=20, max_part_size=LARGEST_PART)
    file, text = form.get("file"), form.get("text")
    content = await file.read() if isinstance(file, UploadFile) else b""
    name = (file.filename or "") if isinstance(file, UploadFile) else ""
    return Sent(name, content, text if isinstance(text, str) else "")


class Progress:
    """How far a file is taken in; what came of it once that is over."""

    def __init__(self) -> None:
        self.done, self.of, self.words = 0, 1, "Beginning"
        self.taken: Taken | None = None
        self.error = ""

    def hear(self, done: int, of: int, words: str) -> None:
        """So much of so much is done: reading is the first half, writing and planning the second."""
        self.done, self.of, self.words = done, of, words


@router.get("/weather/record")
def show(request: Request, book: TheBook) -> Response:
    """Choose a file, or paste it."""
    return _first(request, book, status=_news(request))


@router.post("/weather/record")
def put_by(request: Request, book: TheBook, given: Annotated[Sent, Depends(sent)]) -> Response:
    """Keep what was sent for the step between."""
    pasted = not given.content and bool(given.text.strip())
    try:
        if not given.content and not pasted:
            raise BadInput({"file": "Choose a file, or paste what is in it below."})
        text = given.text if pasted else files.read_bytes(given.content)
        word = files.put_by(book, "Pasted" if pasted else given.name, text)
    except BadInput as error:
        return _first(request, book, text=given.text, error=str(error), pasted=pasted)
    return RedirectResponse(f"{HERE}/{word}", 303)


@router.post("/weather/record/out")
def out(book: TheBook, form: TheForm) -> Response:
    """Take a file out again."""
    text = form.raw("file")
    gone = files.take_out(book, int(text) if text.isdecimal() and len(text) < 16 else 0)
    return RedirectResponse(f"{HERE}?out={gone}", 303)


@router.get("/weather/record/{word}")
def look(request: Request, book: TheBook, word: str) -> Response:
    """What was understood of a file, by what was chosen."""
    name, text = files.fetch(book, word)
    return _second(request, book, word, _looked(book, name, text, Typed(dict(request.query_params))))


@router.post("/weather/record/{word}")
def take(request: Request, book: TheBook, form: TheForm, word: str) -> Response:
    """Take it in, unless something must be said first."""
    name, text = files.fetch(book, word)
    looked = _looked(book, name, text, form)
    over = form.raw("over") == "yes"
    again = form.raw("seen") not in ("", seen(looked.found.how.columns))
    ready = looked.read is not None and looked.read.days and not again
    if by_htmx(request) and ready:
        return _begin(request, book, word, looked, over)
    try:
        if again:
            raise BadInput({"file": "Other columns were chosen: please look once more, then take it in."})
        if len(looked.months) == 12:
            return _take_months(book, word, looked)
        taken = files.take_in(book, looked, over=over)
    except BadInput as error:
        sentence = str(error) if not looked.found.doubts else ""
        if by_htmx(request):
            return page(request, pages.WeatherTaking("", 0, 1, "", sentence or "Something must be said first."))
        return _second(request, book, word, looked, sentence, over, code=422)
    files.let_go(book, word)
    return RedirectResponse(_address(taken), 303)


@router.get("/weather/record/{word}/progress")
def progress(request: Request, word: str) -> Response:
    """How far it is, for a script that asks."""
    known: Progress | None = _taking(request).get(word)
    if known is None or known.error:
        _taking(request).pop(word, None)
        error = known.error if known else "That file is no longer being taken in."
        return page(request, pages.WeatherTaking("", 0, 1, "", error, Link("Back to the file", f"{HERE}/{word}")))
    if known.taken is not None:
        _taking(request).pop(word, None)
        return Response(headers={"HX-Redirect": _address(known.taken)})
    return page(request, pages.WeatherTaking(known.words, known.done, known.of, f"{HERE}/{word}/progress"))


@router.post("/weather/record/{word}/away")
def away(book: TheBook, word: str) -> Response:
    """Put a file away, and keep nothing of it."""
    files.let_go(book, word)
    return RedirectResponse(HERE, 303)


def _looked(book: Book, name: str, text: str, typed: Typed) -> Looked:
    with book.reading() as session:
        latitude = book.holding(session).latitude
    wide = 400
    return files.look(name, text, read_how(typed, wide), latitude, book.today())


def _begin(request: Request, book: Book, word: str, looked: Looked, over: bool) -> Response:
    """Take it in beside, and say how far it is."""
    taking = _taking(request)
    if word not in taking:
        known = taking[word] = Progress()

        def run() -> None:
            try:
                taken = files.take_in(book, looked, over=over, heard=known.hear)
                files.let_go(book, word)
                known.taken = taken
            except TwelvemonthError as error:
                known.error = str(error)
            except Exception:
                known.error = "It could not be taken in; nothing was changed."
                raise

        Thread(target=run, daemon=True).start()
    return page(request, pages.WeatherTaking("Beginning", 0, 3, f"{HERE}/{word}/progress"))


def _taking(request: Request) -> dict[str, Progress]:
    state = request.app.state
    if not hasattr(state, "taking"):
        state.taking = {}
    known: dict[str, Progress] = state.taking
    return known


def _take_months(book: Book, word: str, looked: Looked) -> Response:
    rain = all(one.rain_mm is not None for one in looked.months)
    rows = [
        MonthReading(round(one.min_c, 2), round(one.max_c, 2), round(one.rain_mm or 0.0, 1) if rain else None)
        for one in looked.months
    ]
    type_months(book, rows, book.today().toordinal(), sure=True)
    files.let_go(book, word)
    return RedirectResponse("/weather/months?put=kept", 303)


def _address(taken: Taken) -> str:
    return f"{HERE}?taken={'_'.join(str(one) for one in taken)}"


def _news(request: Request) -> Status | None:
    gone, parts = request.query_params.get("out", ""), request.query_params.get("taken", "").split("_")
    if gone.isdecimal() and len(gone) < 8:
        return Status(f"Taken out again: {big(int(gone))} days. Every date follows.")
    if len(parts) == 5 and all(part.isdecimal() and len(part) < 10 for part in parts):
        return taken_status(Taken(*(int(part) for part in parts)))
    return None


def _first(
    request: Request,
    book: Book,
    *,
    text: str = "",
    error: str = "",
    pasted: bool = False,
    status: Status | None = None,
) -> Response:
    with book.reading() as session:
        book.holding(session)
        record = on_record(session)
    here = frame(request, "Take in a record", "weather", status)
    return page(request, record_page(here, record, book.today(), text, error, pasted), 422 if error else 200)


def _second(
    request: Request, book: Book, word: str, looked: Looked, error: str = "", over: bool = False, code: int = 200
) -> Response:
    here = frame(request, looked.name, "weather")
    return page(request, file_page(here, word, looked, scale(book.imperial), error, over), code)
