"""The calendar: links given out and stopped, and the calendar itself behind its secret.

Source of the conditional request: RFC 9110, 8.8.3 (entity tags, one for each coding), 13.1.2 (If-None-Match compares
weakly and outranks dates), 15.4.5 (what a 304 carries); RFC 9111, 5.2.2 (private, no-cache).
"""

from collections.abc import Mapping, Sequence
from datetime import UTC
from email.utils import format_datetime, parsedate_to_datetime

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, NotFound, TooMany
from app.rules.terms import TRADES
from app.services import feed_links, feeds
from app.services.book import Book
from app.services.devices import person_there
from app.services.feed_links import Options
from app.services.feeds import Served
from app.services.household import household
from app.web.depends import TheBook, TheForm, asked_base, house_base, page
from app.web.door import Rate
from app.web.frames import frame
from app.web.house.calendar_page import calendar_page, link_form, new_link
from app.web.parts import Status

router = APIRouter()

CALENDAR = "text/calendar; charset=utf-8"
FILE_NAME = "twelvemonth.ics"


@router.get("/calendar")
def calendar(request: Request, book: TheBook) -> Response:
    """Who reads it."""
    said = Status("It is stopped: its address answers nothing now.") if "stopped" in request.query_params else None
    return _drawn(request, book, None, status=said)


@router.post("/calendar")
def make(request: Request, book: TheBook, form: TheForm) -> Response:
    """A new link. It is answered with the page itself and not sent on, since its address can be shown only now."""
    trades = form.chosen("trades", TRADES)
    try:
        name = form.text("name", "Whose is it? A name tells it from the others.", longest=60)
        person = form.number("person", 1, 10**9)
        form.check()
        if person is not None:
            with book.reading() as session:
                person_there(session, int(person))
    except BadInput as error:
        return _drawn(request, book, None, form.values, trades, error.fields)
    options = Options(
        trades, form.raw("which") == "all", form.raw("as") == "todos", form.raw("alarm") == "yes",
        None if person is None else int(person),
    )  # fmt: skip
    with book.reading() as session:
        book.holding(session)
    return _drawn(request, book, feed_links.make_link(book, name, options))


@router.post("/calendar/{link}/renew")
def renew(request: Request, book: TheBook, link: int) -> Response:
    """A new address for a link; the old one answers nothing from now on."""
    return _drawn(request, book, feed_links.renew(book, link))


@router.post("/calendar/{link}/revoke")
def revoke(book: TheBook, link: int) -> Response:
    """Stop a link."""
    feed_links.revoke(book, link)
    return RedirectResponse("/calendar?stopped=yes", 303)


@router.api_route("/calendar.ics", methods=["GET", "HEAD"])
def file(request: Request, book: TheBook) -> Response:
    """The year as a file, for a calendar that can't reach this house."""
    with book.reading() as session:
        served = feeds.write(book, session, Options())
    answer = _answer(request, served)
    answer.headers["Content-Disposition"] = f'attachment; filename="{FILE_NAME}"'
    return answer


@router.api_route("/calendar/{secret}.ics", methods=["GET", "HEAD"])
def feed(request: Request, book: TheBook, secret: str) -> Response:
    """The calendar behind a secret. Who tries many that are none has to wait, whatever comes next.

    Raises: NotFound for a secret that is none; TooMany after twenty of them in a minute.
    """
    tries: Rate = request.app.state.calendar_tries
    who = request.client.host if request.client else ""
    wait = tries.left(who)
    if wait:
        raise TooMany("So many calendars are not asked for. Wait a little.", wait)
    try:
        return _answer(request, feeds.serve(book, secret, asked_base(request), read=request.method == "GET"))
    except NotFound:
        tries.wait(who)
        raise


def _answer(request: Request, served: Served) -> Response:
    coded = "gzip" in request.headers.get("accept-encoding", "").lower()
    tag = f'{served.etag[:-1]}-gzip"' if coded else served.etag
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    if served.changed_at is not None:
        headers["Last-Modified"] = format_datetime(served.changed_at.astimezone(UTC), usegmt=True)
    if _known(request, served):
        return Response(status_code=304, headers={**headers, "Vary": "Accept-Encoding"})
    # The charset stands here by itself: given as a media type it would be added a second time.
    return Response(served.body, headers={**headers, "Content-Type": CALENDAR})


def _known(request: Request, served: Served) -> bool:
    """Whether the reader has these bytes already."""
    wanted = request.headers.get("if-none-match")
    if wanted is not None:
        tags = {tag.strip().removeprefix("W/").replace('-gzip"', '"') for tag in wanted.split(",")}
        return "*" in tags or served.etag in tags
    since = request.headers.get("if-modified-since")
    if since is None or served.changed_at is None:
        return False
    try:
        at = parsedate_to_datetime(since)
    except (TypeError, ValueError):
        return False
    return served.changed_at <= (at if at.tzinfo else at.replace(tzinfo=UTC))


def _drawn(
    request: Request,
    book: Book,
    made: feed_links.Made | None,
    typed: Mapping[str, str] | None = None,
    trades: Sequence[str] = (),
    errors: Mapping[str, str] | None = None,
    status: Status | None = None,
) -> Response:
    today = book.today()
    with book.reading() as session:
        book.holding(session)
        given = feed_links.links(session)
        people = [(one.id, one.name) for one in household(book, session, today.toordinal()).people]
    form = link_form(people, typed or {}, trades, errors or {})
    new = new_link(made, house_base(request)) if made is not None else None
    shown = calendar_page(
        frame(request, "Calendar", "calendar", status),
        given,
        people,
        today,
        new,
        form,
        request.app.state.house is not None,
    )
    answer = page(request, shown, 422 if errors else 200)
    if new is not None:
        answer.headers["Cache-Control"] = "no-store"  # the address is shown once and kept nowhere
    return answer
