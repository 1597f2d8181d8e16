"""What got done: the evening's ticks on one screen with one save, or by the numbers on the printed month."""

import re
from collections.abc import Mapping
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.rules.terms import Value
from app.services.book import Book
from app.services.evening import (
    Doing,
    Numbers,
    asks_of_number,
    evening,
    heard_before,
    number_id,
    read_numbers,
    tick_all,
    tick_numbers,
)
from app.services.jobs import asks_of
from app.services.month import month_days
from app.web import words
from app.web.depends import TheBook, TheForm, page, who_says
from app.web.evening_page import MOST_LINES, NOTHING, Back, Sender, evening_page
from app.web.fields import in_units
from app.web.frames import frame
from app.web.news import news
from app.web.parts import Choice, Status
from app.web.rows import NO_NUMBERS, date_of
from app.web.typed import Typed

router = APIRouter()

_FORM_ID = re.compile(r"[0-9A-Za-z-]{1,64}")


@router.get("/evening")
def show(request: Request, book: TheBook, month: str = "", sent: str = "", heard: str = "", did: str = "") -> Response:
    """The likely jobs, what is ticked already, and a field for numbers."""
    back = NOTHING
    if heard and _FORM_ID.fullmatch(sent):
        back = Back(numbers=_heard(book, sent, heard))
    count = int(did) if did.isascii() and did.isdecimal() and len(did) < 4 else 0
    return _page(request, book, month or f"{book.today():%Y-%m}", back, did=count)


@router.post("/evening/done")
def done(request: Request, book: TheBook, form: TheForm) -> Response:
    """The ticked jobs, with their numbers: all are saved, or none."""
    today = book.today().toordinal()
    on = form.day("on")
    doings = [one for n in range(MOST_LINES) if (one := _doing(book, form, n)) is not None]
    try:
        person = form.person(who_says(request))
        form.check()
        came = tick_all(book, doings, today if on is None else on, today, person)
    except BadInput as wrong:
        return _page(request, book, f"{book.today():%Y-%m}", Back(form, wrong.fields))
    if came.before:
        says = f"Ticked before, and left as it was: {words.listed(came.before)}."
        return _page(request, book, f"{book.today():%Y-%m}", NOTHING, did=came.saved, more=says)
    return RedirectResponse(f"/evening?did={came.saved}", 303)


@router.post("/evening")
def by_numbers(request: Request, book: TheBook, form: TheForm) -> Response:
    """The numbers crossed off on paper."""
    month = form.raw("month") or f"{book.today():%Y-%m}"
    today = book.today().toordinal()
    name = printed(month, today)
    typed, sent = form.raw("numbers"), form.raw("id")
    sent = sent if _FORM_ID.fullmatch(sent) else ""
    on = form.day("on")
    try:
        person = form.person(who_says(request))
        form.check()
        wanted = read_numbers(typed)
        measures = _measures(book, month, wanted, sent, today)
        came = tick_numbers(book, month, wanted, today if on is None else on, today, person, sent, measures)
    except BadInput as wrong:
        return _page(request, book, month, Back(numbers_typed=typed, numbers_error=" ".join(wrong.fields.values())))
    if came.unknown or not sent:
        unknown = words.listed([str(number) for number in came.unknown])
        error = f"There is no open job numbered {unknown} on the page for {name}." if came.unknown else ""
        return _page(request, book, month, Back(None, {}, came, " ".join(map(str, came.unknown)), error))
    heard = " ".join(str(one.number) for one in came.heard)
    return RedirectResponse(f"/evening?{urlencode({'month': month, 'sent': sent, 'heard': heard})}", 303)


def _measures(book: Book, month: str, wanted: Mapping[int, str], sent: str, today: int) -> dict[int, dict[str, Value]]:
    """What was weighed or counted, by printed number; all are read before any job is ticked.

    Raises: BadInput with a sentence.
    """
    found = {}
    for number, amount in wanted.items():
        if not amount or (sent and heard_before(book, number_id(sent, number), number) is not None):
            continue
        asked = asks_of_number(book, month, number, today)
        if asked is None:
            continue  # there is no such open job, which is said of it
        asks = in_units(asked, book.imperial)
        if len(asks) != 1 or asks[0].kind in NO_NUMBERS:
            says = f"Number {number} asks for no number, or for several: tick it by itself. Nothing was ticked."
            raise BadInput({"numbers": says})
        form = Typed({asks[0].name: amount})
        found[number] = form.asked((asks[0]._replace(optional=True, default=None),))
        if form.errors:
            says = " ".join(form.errors.values())
            raise BadInput({"numbers": f"Number {number}: {says} Nothing was ticked."})
    return found


def printed(month: str, today: int) -> str:
    """The printed page by name: "September 2027".

    Raises: NotFound.
    """
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}", month):
        raise NotFound("There is no such month.")
    first, _ = month_days(int(month[:4]), int(month[5:]), today)
    return f"{words.MONTHS[date_of(first).month - 1]} {month[:4]}"


def _doing(book: Book, form: Typed, n: int) -> Doing | None:
    """A line of the page as it was sent; None when it was not ticked. A number that was typed says that it was done."""
    key, name = form.raw(f"key.{n}"), f"m.{n}"
    if not key or not (form.raw(f"did.{n}") == "yes" or form.raw(name)):
        return None
    measures = {}
    if form.raw(name):
        asks = in_units(asks_of(book, key), book.imperial)
        if len(asks) == 1:
            found = form.asked((asks[0]._replace(name=name),))
            measures = {asks[0].name: found[name]} if name in found else {}
    return Doing(key, form.raw(f"id.{n}"), form.window(f"shown.{n}"), measures)


def _heard(book: Book, sent: str, heard: str) -> Numbers:
    numbers = [int(part) for part in heard.split()[:40] if part.isascii() and part.isdecimal() and len(part) < 5]
    found = (heard_before(book, number_id(sent, number), number) for number in numbers)
    return Numbers(tuple(one for one in found if one is not None), ())


def _page(request: Request, book: Book, month: str, back: Back, *, did: int = 0, more: str = "") -> Response:
    today = book.today().toordinal()
    name = printed(month, today)
    with book.reading() as session:
        found = evening(book, session, today)
        said = news(book, session, request)
        people = tuple(Choice(str(one.id), one.name) for one in book.house(session).people)
    count = len(back.numbers.heard) if back.numbers is not None else did
    if count or more:
        lead = f"{words.counted(count, 'job').capitalize()} ticked." if count else ""
        said = Status(f"{lead} {more}".strip(), alert=bool(more))
    sender = Sender(people, who_says(request))
    here = frame(request, "What got done", "today", said)
    shown = evening_page(here, found, today, month, name, sender, book.imperial, back)
    wrong = back.numbers_error or back.errors
    return page(request, shown, 422 if wrong else 200)
