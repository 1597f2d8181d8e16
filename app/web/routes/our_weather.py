"""Our weather: the place's year, and this one against it."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.services.counted import version_of
from app.services.weather.climate import our_weather
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.kept import Kept
from app.web.weather.climate_page import weather_page

router = APIRouter()


@router.get("/weather")
def show(request: Request, book: TheBook) -> Response:
    """The place's year in one picture. The page rests on no query, so that one drawing serves until a fact changes."""
    today = book.today().toordinal()
    kept: Kept = request.app.state.kept
    with book.reading() as session:
        state, name = (version_of(session), today), ("weather", book.season(session))
        before = kept.get(state, name)
        if before is not None:
            return HTMLResponse(before)
        found = our_weather(book, session, today)
    answer = page(request, weather_page(frame(request, "Our weather", "weather"), found))
    kept.put(state, name, bytes(answer.body).decode())
    return answer
