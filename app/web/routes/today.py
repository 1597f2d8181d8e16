"""Today, for the yard; and the weather told in one tap."""

from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.today import WEATHER, today
from app.services.weather.told import AHEAD, tell
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.news import news
from app.web.parts import Status
from app.web.typed import read_day
from app.web.weather.words import told_status
from app.web.yard import BYS, By, today_page

router = APIRouter()

COOKIE = "today_by"
A_YEAR_S = 365 * 24 * 3600


@router.get("/today")
def show(request: Request, book: TheBook, by: str = "") -> Response:
    """Today, by place or by urgency: what was chosen last on this device stays."""
    answer = _page(request, book, by)
    if by in BYS:
        answer.set_cookie(COOKIE, by, max_age=A_YEAR_S, httponly=True, samesite="lax", path="/today")
    return answer


@router.post("/today/weather")
def weather(request: Request, book: TheBook, form: TheForm) -> Response:
    """The weather of a day, told in one tap: ``say`` is "frost yes" or "frost no"."""
    what, _, holds = form.raw("say").partition(" ")
    now = book.today().toordinal()
    day = form.day("day", "Say which day.")
    try:
        form.check()
        if holds not in ("yes", "no"):
            raise BadInput({"what": "That is not one of the kinds of weather that can be told."})
        tell(book, day or now, what, holds == "yes", now)
    except BadInput as wrong:
        said = Status(" ".join(wrong.fields.values()), alert=True)
        return _page(request, book, "", said=said, code=422)
    return RedirectResponse(f"/today?{urlencode({'told': form.raw('day')})}", 303)


def _page(request: Request, book: Book, by: str, *, said: Status | None = None, code: int = 200) -> Response:
    chosen = by or request.cookies.get(COOKIE, "")
    view: By = chosen if chosen in BYS else "place"
    now = book.today().toordinal()
    with book.reading() as session:
        found = today(book, session, now)
        said = said or news(book, session, request)
    told = request.query_params.get("told", "")
    if told and said is None:
        try:
            day = read_day(told)
        except ValueError:
            day = 0
        if now <= day <= now + AHEAD:
            put_off = sum(one.why in WEATHER and one.why != "frost" for one in found.not_today)
            said = told_status(found.weather[day - now], now, put_off)
    shown = today_page(frame(request, "Today", "today", said), found, view, book.imperial)
    return page(request, shown, code)
