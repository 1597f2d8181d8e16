"""Who may come in when the house is served: phones that were let in, and this machine itself.

An unknown caller gets the page on which a code is typed, static files and secret calendars, and nothing else. What
comes in is counted, so that nothing can write without end.
"""

import time
from collections import deque
from collections.abc import Callable
from ipaddress import ip_address

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from app.errors import TooMany
from app.services.devices import Devices, Known
from app.settings import House
from app.web.guard import SAFE

LET_IN = "/let-in"
OPEN = frozenset(
    {LET_IN, "/healthz", "/sw.js", "/manifest.webmanifest", "/favicon.ico", "/https", "/house-certificate.crt"}
)
WRITES_A_MINUTE = 240
"""What one caller may write; a person with both thumbs does not reach it, and an outbox comes in one piece."""

CALENDAR_TRIES_A_MINUTE = 20
"""How many wrong secrets of calendars one caller may try."""

Say = Callable[[Request, int, str, str], Response]
Foreseen = Callable[[Request, Exception], Response]


class Door:
    """Lets in who is known; for the others the page of the code, or a plain refusal."""

    def __init__(self, app: ASGIApp, say: Say, foreseen: Foreseen) -> None:
        self.app = app
        self.say = say
        self.foreseen = foreseen
        self.rate = Rate(WRITES_A_MINUTE)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer an unknown caller, or hand the request on with ``request.state.device`` set where there is one."""
        house: House | None = scope["app"].state.house if scope["type"] == "http" else None
        if house is None:
            await self.app(scope, receive, send)
            return
        request = Request(scope, receive)
        devices: Devices = scope["app"].state.devices
        secret = request.cookies.get(house.cookie, "")
        known = await run_in_threadpool(devices.find, secret) if secret else None
        request.state.device = known
        request.state.stranger = known is None and not is_here(request, house)
        refused = self._refused(request, known)
        await (refused or self.app)(scope, receive, send)

    def _refused(self, request: Request, known: Known | None) -> Response | None:
        path = request.url.path
        if request.state.stranger and not _is_open(path):
            if request.method in SAFE and request.headers.get("hx-request") != "true":
                return RedirectResponse(LET_IN, 303)
            sentence = "It was never let in, or was shown the door. Nothing was changed. Let it in with a new code."
            return self.say(request, 401, "This phone is not known here", sentence)
        if request.method not in SAFE and path != LET_IN:
            who = f"device {known.id}" if known else str(request.client.host if request.client else "")
            wait = self.rate.wait(who)
            if wait:
                return self.foreseen(request, TooMany("That is more than anybody can tap. Wait a little.", wait))
        return None


class Outside:
    """Takes every caller for an unknown one, who is told nothing of the holding."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand the request on."""
        if scope["type"] == "http":
            Request(scope).state.stranger = True
        await self.app(scope, receive, send)


def is_here(request: Request, house: House) -> bool:
    """Whether the caller is this machine itself, which needs no letting in."""
    if house.behind or request.client is None:
        return False
    try:
        return ip_address(request.client.host).is_loopback
    except ValueError:
        return False


def _is_open(path: str) -> bool:
    is_secret_calendar = path.startswith("/calendar/") and path.endswith(".ics")
    return path in OPEN or path.startswith("/static/") or is_secret_calendar


class Rate:
    """How often each caller came within the last minute."""

    def __init__(self, most: int, clock: Callable[[], float] = time.monotonic) -> None:
        self.most = most
        self._clock = clock
        self._came: dict[str, deque[float]] = {}

    def wait(self, who: str) -> int:
        """The seconds that a caller has to wait; 0 where it may come in, and then it is counted."""
        left = self.left(who)
        if not left:
            if len(self._came) > 1000:
                now = self._clock()
                self._came = {name: times for name, times in self._came.items() if times and now - times[-1] < 60}
            self._came.setdefault(who, deque()).append(self._clock())
        return left

    def left(self, who: str) -> int:
        """The seconds that a caller has to wait, without counting it."""
        came = self._came.get(who, deque())
        now = self._clock()
        while came and now - came[0] >= 60:
            came.popleft()
        return max(1, int(60 - (now - came[0]))) if len(came) >= self.most else 0
