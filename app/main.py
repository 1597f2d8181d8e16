"""The only place where the parts are joined: settings, book, templates, routers, guard."""

from collections.abc import AsyncIterator, Callable, Collection
from contextlib import asynccontextmanager
from datetime import UTC, date, datetime
from importlib import import_module
from pkgutil import iter_modules

from fastapi import APIRouter, FastAPI
from fastapi.responses import PlainTextResponse
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.routing import BaseRoute, Route

from app.services.book import Book
from app.services.devices import Devices
from app.services.letting_in import LettingIn
from app.settings import House, Settings
from app.web import routes, wrong
from app.web.door import CALENDAR_TRIES_A_MINUTE, Door, Outside, Rate
from app.web.guard import Guard
from app.web.kept import Kept
from app.web.routes import https
from app.web.static import Static
from app.web.templating import environment


def utc_now() -> datetime:
    """The clock of the machine."""
    return datetime.now(UTC)


def create_app(
    settings: Settings,
    now: Callable[[], datetime] = utc_now,
    *,
    today: date | None = None,
    hosts: Collection[str] = (),
    made_up: bool = False,
    house: House | None = None,
) -> FastAPI:
    """The program as an application: ``today`` stands still for tests, ``hosts`` are names it answers under besides;
    ``house`` says how it is reached, when phones are to be let in.

    Raises: DataFolderError when the records can't be used; KnowledgeError when the program's own sheets are wrong.
    """
    book = Book(settings, now=now, today=today)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        book.close()

    static = Static(settings.static)
    app = FastAPI(
        title="Twelvemonth",
        openapi_url=None,
        lifespan=lifespan,
        redirect_slashes=False,
        middleware=[
            Middleware(Guard, say=wrong.say, unforeseen=wrong.unforeseen, hosts=hosts),
            Middleware(Door, say=wrong.say, foreseen=wrong.foreseen),
            Middleware(GZipMiddleware, minimum_size=600, compresslevel=5),
        ],
        routes=[Route("/static/{name}", static.answer), Route("/healthz", lambda _: PlainTextResponse("ready\n"))],
    )
    app.state.book = book
    app.state.made_up = made_up
    app.state.static = static
    app.state.house = house
    app.state.devices = Devices(book)
    app.state.letting_in = LettingIn(book.now)
    app.state.kept = Kept()
    app.state.calendar_tries = Rate(CALENDAR_TRIES_A_MINUTE)
    app.state.templates = environment(settings.templates, static.address)
    wrong.install(app)
    app.include_router(every_route())
    return app


def every_route() -> APIRouter:
    """The routes of all modules of `app.web.routes`, whatever the modules are called."""
    found: list[BaseRoute] = []
    for module in iter_modules(routes.__path__):
        found += import_module(f"{routes.__name__}.{module.name}").router.routes
    whole = APIRouter()
    whole.routes.extend(sorted(found, key=takes_any_word))
    return whole


def takes_any_word(route: BaseRoute) -> list[bool]:
    """Which parts of an address a route takes as they come: "/larder/add" is asked before "/larder/{batch_id}"."""
    return [part.startswith("{") for part in route.path.split("/")] if isinstance(route, Route) else []


def create_first_steps(served: FastAPI, hosts: Collection[str] = ()) -> FastAPI:
    """What stands at a plain address beside a house that is served over https: how to trust it, and nothing else."""
    static: Static = served.state.static
    app = FastAPI(
        title="Twelvemonth",
        openapi_url=None,
        redirect_slashes=False,
        middleware=[Middleware(Guard, say=wrong.say, unforeseen=wrong.unforeseen, hosts=hosts), Middleware(Outside)],
        routes=[Route("/static/{name}", static.answer)],
    )
    for name in ("book", "house", "static", "templates"):
        setattr(app.state, name, getattr(served.state, name))
    app.state.made_up = False
    wrong.install(app)
    app.include_router(https.first_steps)
    return app
