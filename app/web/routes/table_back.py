"""Back from the table: what shall be on it and when, worked back to the first act."""

from collections.abc import Mapping, Sequence

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.rules.terms import Ask, Value
from app.rules.ways_in import Goal
from app.services.book import Book
from app.services.meat import from_table
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.links import entry_href
from app.web.meat.table_back_forms import as_usual, read_table, table_form
from app.web.meat.table_back_page import Answer, first_open, query_of, table_back_page, way_id
from app.web.typed import Typed

router = APIRouter()


@router.get("/meat/table")
def show(request: Request, book: TheBook) -> Response:
    """The form, and the ways in."""
    return _shown(request, book, dict(request.query_params), {})


@router.post("/meat/table")
def put(request: Request, book: TheBook, form: TheForm) -> Response:
    """A way in put down: its first entry, begun in time, or today when it is too late for that."""
    today = book.today().toordinal()
    try:
        goal = _goal(book, form.raw("what"))
        with book.reading() as session:
            asks, _ = from_table.asked_of(book, session, goal)
            on, facts = read_table(form, asks, book.imperial)
            found = from_table.work_back(book, session, goal, on, facts, today)
        way = next((one for one in found if way_id(one) == form.raw("way")), None)
        if way is None or way.back.start is None:
            raise BadInput({"what": "There is no such way in that can be dated; choose one of these."})
        begin = max(way.back.start, today) if not goal.meal else way.back.start
        ident = from_table.put_down(book, way, goal, begin, facts, form.raw("id"), today)
        return RedirectResponse(f"{entry_href(ident)}?put=new", 303)
    except BadInput as error:
        return _shown(request, book, form.values, error.fields)


def _goal(book: Book, ident: str) -> Goal:
    try:
        return from_table.goal_of(book, ident)
    except NotFound as error:
        sentence = "There is nothing of that name; choose one of these." if ident else "What shall be on the table?"
        raise BadInput({"what": sentence}) from error


def _shown(request: Request, book: Book, typed: Mapping[str, str], errors: Mapping[str, str]) -> Response:
    today = book.today()
    goal: Goal | None = None
    asks: Sequence[Ask] = ()
    answer = Answer()
    with book.reading() as session:
        book.holding(session)
        try:
            if typed.get("what") or typed.get("day"):
                goal = _goal(book, typed.get("what", ""))
                asks, usual = from_table.asked_of(book, session, goal)
                typed = as_usual(typed, asks, usual, book.imperial)
                if "day" in typed and not errors and not _unsaid(typed, asks, usual):
                    answer = _answer(book, session, goal, typed, asks)
        except BadInput as error:
            errors = {**error.fields, **errors}
    form = table_form(book.library, from_table.offered(book), typed, errors, asks, book.imperial, today)
    query = query_of(goal, typed) if goal is not None else {}
    shown = table_back_page(
        frame(request, "Back from the table", "meat"), book.library, form, goal, answer, query, today
    )
    return page(request, shown, 422 if errors else 200)


def _answer(book: Book, session: Session, goal: Goal, typed: Mapping[str, str], asks: Sequence[Ask]) -> Answer:
    """The ways in, and of the one that is shown what clashes with it."""
    today = book.today().toordinal()
    on, facts = read_table(Typed(typed), asks, book.imperial)
    found = from_table.work_back(book, session, goal, on, facts, today)
    here = from_table.from_what_is_here(book, session, goal, found, facts, today)
    chosen = next((at for at, one in enumerate(found) if way_id(one) == typed.get("way")), first_open(found))
    start = found[chosen].back.start if chosen >= 0 else None
    if start is None:
        return Answer(on, found, here, chosen=chosen)
    begin = start if goal.meal else max(start, today)
    return Answer(on, found, here, from_table.clashes_of(book, session, found[chosen], begin, facts, today), chosen)


def _unsaid(typed: Mapping[str, str], asks: Sequence[Ask], usual: Mapping[str, Value]) -> bool:
    """Whether something has just been chosen about which more must be asked, and nothing was answered yet."""
    wanted = [ask for ask in asks if ask.default is None and not ask.optional and ask.name not in usual]
    return bool(wanted) and not any(name.startswith("f-") and name[2:] in {a.name for a in wanted} for name in typed)
