"""What every request passes before a router sees it: who is asked for, who asks, and how much is sent.

Source: OWASP Cross-Site Request Forgery Prevention Cheat Sheet (Origin, then Fetch Metadata, then Referer); W3C
Content Security Policy Level 3; W3C Fetch Metadata Request Headers; RFC 9110, 15.5.9 (408) and 15.5.14 (413).
"""

import asyncio
from collections.abc import Awaitable, Callable, Collection
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BODY = 1024 * 1024
LARGER = {"/weather/record": 17 * 1024 * 1024}
"""Where more may be sent: a century of daily weather with a station's name on every line."""
STALLED = 30.0
"""Seconds for which nothing may come of what was begun: a phone out of reach behind the barn never sends the rest."""
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self';"
        " form-action 'self'; manifest-src 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=()",
}

Say = Callable[[Request, int, str, str], Response]
"""Makes the page for a refusal: code, heading, sentence."""
Unforeseen = Callable[[Request, Exception], Response]
"""Makes the page for what nobody foresaw, and logs it."""


class Guard:
    """Refuses names that are not ours, writes from elsewhere and bodies beyond measure; adds every answer's headers."""

    def __init__(self, app: ASGIApp, say: Say, unforeseen: Unforeseen, hosts: Collection[str] = ()) -> None:
        self.app = app
        self.say = say
        self.unforeseen = unforeseen
        self.hosts = frozenset({"localhost", *(host.lower() for host in hosts)})

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request or hand it on."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request = Request(scope, receive)
        sender = _with_headers(send)
        refused = self._refused(request)
        body: bytes | None = None
        if refused is None and scope["method"] not in SAFE:
            try:
                body, refused = await self._read(request)
            except (ClientDisconnect, asyncio.CancelledError):
                return  # who sent it hung up, or the house is being left: nobody is answered, and nothing was done
        if refused is not None:
            await refused(scope, receive, sender)
            return
        begun = False

        async def noting(message: Message) -> None:
            nonlocal begun
            begun = True
            await sender(message)

        try:
            await self.app(scope, receive if body is None else _again(body, receive), noting)
        except Exception as error:
            answer = self.unforeseen(request, error)
            if begun:
                raise
            await answer(scope, receive, sender)

    async def _read(self, request: Request) -> tuple[bytes | None, Response | None]:
        """What was sent, or why it is not taken."""
        most = LARGER.get(request.url.path, LARGEST_BODY)
        try:
            body = await _body(request, most)
        except TimeoutError:
            sentence = "Only a part of what was sent came through, so nothing was changed. Send it again."
            refused = self.say(request, 408, "That did not come through", sentence)
        else:
            if body is not None:
                return body, None
            sentence = f"What was sent is larger than {most // 1024 // 1024} MB, and was not read."
            refused = self.say(request, 413, "That is too much at once", sentence)
        refused.headers["Connection"] = "close"  # what is still on its way is no request
        return None, refused

    def _refused(self, request: Request) -> Response | None:
        host = request.headers.get("host", "")
        request.state.stranger = True  # whoever is refused here is told nothing of the holding
        if not self._is_ours(host):
            return self.say(
                request, 400, "Not this house", "Twelvemonth does not answer under that name. Use the address it gave."
            )
        if request.method not in SAFE and not from_here(request.headers, host):
            return self.say(
                request, 403, "Not from this page", "That was sent from a page elsewhere, so nothing was changed."
            )
        request.state.stranger = False
        return None

    def _is_ours(self, host: str) -> bool:
        """A number can't be made to point elsewhere, as a name can; so only names are asked for."""
        try:
            name = (urlsplit(f"//{host}").hostname or "").lower()
            urlsplit(f"//{host}").port  # noqa: B018 - raises ValueError for a port that is none
        except ValueError:
            return False
        if name in self.hosts:
            return True
        try:
            ip_address(name)
        except ValueError:
            return False
        return True


def from_here(headers: Headers, host: str) -> bool:
    """Whether a write comes from a page of ours. Over plain http browsers send Origin, but no Sec-Fetch-Site."""
    origin = headers.get("origin")
    if origin is not None:
        return _is_at(origin, host)
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    return _is_at(headers.get("referer", ""), host)


def _is_at(address: str, host: str) -> bool:
    try:
        return urlsplit(address).netloc.lower() == host.lower()
    except ValueError:
        return False


async def _body(request: Request, most: int) -> bytes | None:
    """The whole body, or None when it is larger than we take; then no more of it is read.

    Raises: TimeoutError when no more of it comes; ClientDisconnect when whoever sends it is gone.
    """
    length = request.headers.get("content-length", "0")
    if not length.isdecimal() or int(length) > most:
        return None
    parts, size = [], 0
    clock = asyncio.get_running_loop().time
    async with asyncio.timeout(STALLED) as patience:
        async for part in request.stream():
            size += len(part)
            if size > most:
                return None
            parts.append(part)
            patience.reschedule(clock() + STALLED)
    return b"".join(parts)


def _again(body: bytes, receive: Receive) -> Receive:
    """A receive that gives the body that was read already, then what comes after it."""
    sent = False

    async def once() -> Message:
        nonlocal sent
        if sent:
            return await receive()
        sent = True
        return {"type": "http.request", "body": body, "more_body": False}

    return once


def _with_headers(send: Send) -> Callable[[Message], Awaitable[None]]:
    async def sender(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("Cache-Control", "private, no-cache")
        await send(message)

    return sender
