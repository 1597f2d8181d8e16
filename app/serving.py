"""Serving the pages: one process, one socket, the data folder held, and a clean end."""

import io
import logging
import signal
import socket
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, nullcontext, suppress
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import FrameType
from typing import NamedTuple

import segno
import uvicorn
from fastapi import FastAPI

from app.errors import DataFolderError, TwelvemonthError
from app.main import create_app, create_first_steps
from app.records.database import hold
from app.services.demo.demo import start
from app.services.letting_in import Invitation
from app.serving_https import Tls, aside
from app.settings import House, Settings

Say = Callable[[str], None]
_EVERYWHERE = ("0.0.0.0", "::")
_HERE = ("127.0.0.1", "::1", "localhost")
PORT = 8000
_TRIED = 20
LEAVING = 5
"""Seconds for which what is being answered is waited for at the end: a phone that fell silent does not hold it up."""


class Way(NamedTuple):
    """How the house is reached: ``https`` with a certificate of its own, or ``behind`` a server in front of it.

    ``names`` are those under which it is asked for besides its own; ``proxy`` is the address of the server in front,
    whose word is taken for who calls (X-Forwarded-For) and whether over https (X-Forwarded-Proto).
    """

    https: bool = False
    behind: bool = False
    names: tuple[str, ...] = ()
    proxy: str = "127.0.0.1"


PLAIN = Way()


def serve(
    settings: Settings,
    *,
    host: str,
    port: int | None,
    today: date | None,
    say: Say,
    house: bool = False,
    way: Way = PLAIN,
) -> None:
    """Serve a data folder until SIGTERM or SIGINT: this machine alone, or with ``house`` every phone that is let in.

    Without a ``port`` it is 8000, or the next that is free.

    Raises: DataFolderError when the folder can't be used or is served already; TwelvemonthError when the port is
    taken or the address is not this machine's.
    """
    host = _EVERYWHERE[0] if house and host in _HERE and not way.behind else host
    with ExitStack() as kept_open:
        kept_open.enter_context(_stoppable())
        listener = kept_open.enter_context(_listening(host, port))
        kept_open.enter_context(hold(settings.data))
        served = _house(host, listener, way)
        tls = Tls(settings.https, lambda: _certified(host, way)) if way.https and served else None
        plain = kept_open.enter_context(_listening(host, None)) if tls else None
        if served and plain:
            served = served._replace(first_steps=_addresses("http", host, plain, way)[0])
        app = create_app(settings, today=today, hosts=_names(host, way), house=served)
        if plain:
            kept_open.enter_context(aside(create_first_steps(app, _names(host, way)), plain))
        _run(app, listener, host, f"Twelvemonth keeps {settings.data}", say, way, tls)


def serve_demo(settings: Settings, *, host: str, port: int | None, today: date | None, say: Say) -> None:
    """Serve the made-up holding from a folder of its own, which is gone when it stops.

    Raises: as `serve`.
    """
    with _stoppable(), _listening(host, port) as listener, _passing_folder() as folder:
        served = _house(host, listener)
        app = create_app(replace(settings, data=folder), today=today, hosts=_names(host), made_up=True, house=served)
        start(app.state.book, settings.demo_data)
        _run(app, listener, host, "A made-up holding; nothing of it is kept", say)


def _run(
    app: FastAPI,
    listener: socket.socket,
    host: str,
    says: str,
    say: Say,
    way: Way = PLAIN,
    tls: Tls | None = None,
) -> None:
    house: House | None = app.state.house
    say(says)
    if house is None or not house.behind:
        here = "localhost" if host in _EVERYWHERE else host
        say(f"Open {_address('https' if tls else 'http', here, listener)}/ in a browser; stop with Ctrl-C")
    if house is not None:
        _tell_house(house, app.state.letting_in.invite("The first phone", None), tls, say)
    config = configured(app, way, tls)
    config.load()
    with tls.renewing(config.ssl) if tls and config.ssl else nullcontext():
        uvicorn.Server(config).run(sockets=[listener])


def configured(app: FastAPI, way: Way = PLAIN, tls: Tls | None = None) -> uvicorn.Config:
    """How the server is run. Requests are not logged: their addresses hold the secrets of calendars."""
    return uvicorn.Config(
        app,
        log_level=logging.WARNING,
        access_log=False,
        server_header=False,
        workers=1,
        timeout_graceful_shutdown=LEAVING,
        proxy_headers=way.behind,
        forwarded_allow_ips=way.proxy,
        ssl_certfile=tls.certified.pem if tls else None,
    )


def _tell_house(house: House, invitation: Invitation, tls: Tls | None, say: Say) -> None:
    """Where phones find it, with a code for the first, so that a machine without a screen can let one in."""
    address = f"{house.addresses[0]}/let-in"
    say(f"In the house it is {' or '.join(house.addresses)}: only phones that are let in are answered.")
    if tls is not None:
        say(f"A phone is first told to trust this house: open {house.first_steps}/ on it.")
        tls.tell(say)
    say(f"To let one in within ten minutes, point its camera at this, or open {address} and type {invitation.digits}:")
    square = io.StringIO()
    segno.make(f"{address}?code={invitation.long}", error="l").terminal(square, compact=True)
    say(square.getvalue().rstrip("\n"))
    say("More codes are made under Phones. Use a network you trust, and never open this port to the internet.")


def _house(host: str, listener: socket.socket, way: Way = PLAIN) -> House | None:
    """How the house reaches it; None when only this machine does."""
    if way.behind:
        return House(tuple(f"https://{name}" for name in way.names), secure=True, behind=True)
    if host in _HERE:
        return None
    return House(_addresses("https" if way.https else "http", host, listener, way), secure=way.https)


def _addresses(scheme: str, host: str, listener: socket.socket, way: Way) -> tuple[str, ...]:
    named = [] if host in _EVERYWHERE else [host]
    found = named or [*_own_numbers(), f"{socket.gethostname().removesuffix('.local')}.local"]
    return tuple(_address(scheme, one, listener) for one in (*found, *way.names))


def _address(scheme: str, host: str, listener: socket.socket) -> str:
    return f"{scheme}://{f'[{host}]' if ':' in host else host}:{listener.getsockname()[1]}"


def _certified(host: str, way: Way) -> list[str]:
    """The names and addresses that the certificate is to speak for."""
    return ["localhost", "127.0.0.1", "::1", *_names(host, way), *_own_numbers()]


def _own_numbers() -> list[str]:
    """The number under which this machine is on its network, if it is on any. Nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address kept for documentation: RFC 5737
        except OSError:
            return []
        return [str(probe.getsockname()[0])]


@contextmanager
def _listening(host: str, port: int | None) -> Iterator[socket.socket]:
    """A socket that listens, opened first of all, so that a port in use is said before anything is touched."""
    if port is None:
        port = _free_port(host)
    try:
        kind, _, _, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        listener = socket.socket(kind, socket.SOCK_STREAM)
    except OSError as error:
        raise TwelvemonthError(f"{host} is no address of this machine.") from error
    with listener:
        try:
            if sys.platform != "win32":
                listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            listener.bind(address)
            listener.listen(128)
        except PermissionError as error:
            raise TwelvemonthError(f"Port {port} may not be used here; name one above 1023 with --port.") from error
        except OSError as error:
            raise TwelvemonthError(
                f"{host}, port {port} can't be listened on ({error.strerror}). Something else may be running there;"
                " name another with --port."
            ) from error
        yield listener


def _free_port(host: str) -> int:
    """The usual port, or the next that nothing listens on; the first again where all are taken, to say so."""
    for port in range(PORT, PORT + _TRIED):
        with suppress(OSError), socket.create_server((host, port)):
            return port
    return PORT


@contextmanager
def _passing_folder() -> Iterator[Path]:
    try:
        folder = tempfile.TemporaryDirectory(prefix="twelvemonth-demo-", ignore_cleanup_errors=True)
    except OSError as error:
        raise DataFolderError(f"There is nowhere to put the demonstration ({error.strerror}).") from error
    with folder as name:
        yield Path(name)


@contextmanager
def _stoppable() -> Iterator[None]:
    """Both signals end the block as if it had run out; the server raises the one that stopped it once it is done."""

    class Stopped(BaseException):
        """Told to stop."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise Stopped

    before = {number: signal.signal(number, stop) for number in (signal.SIGTERM, signal.SIGINT)}
    try:
        yield
    except Stopped:
        pass
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _names(host: str, way: Way = PLAIN) -> tuple[str, ...]:
    """The names under which this machine is asked for, when it is reached from the network."""
    if way.behind:
        return tuple(name.partition(":")[0] for name in way.names)
    if host in _HERE:
        return ()
    name = socket.gethostname()
    own = (name, f"{name.removesuffix('.local')}.local", *way.names)
    return own if host in _EVERYWHERE else (host, *own)
