"""Serving the pages: one process, one socket, the data folder held, and a clean end."""

import io
import logging
import signal
import socket
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import FrameType

import segno
import uvicorn
from fastapi import FastAPI

from app.errors import DataFolderError, TwelvemonthError
from app.main import create_app
from app.records.database import hold
from app.services.demo import start
from app.services.letting_in import Invitation
from app.settings import House, Settings

Say = Callable[[str], None]
_EVERYWHERE = ("0.0.0.0", "::")
_HERE = ("127.0.0.1", "::1", "localhost")
PORT = 8000
_TRIED = 20


def serve(
    settings: Settings, *, host: str, port: int | None, today: date | None, say: Say, house: bool = False
) -> None:
    """Serve a data folder until SIGTERM or SIGINT: this machine alone, or with ``house`` every phone that is let in.

    Without a ``port`` it is 8000, or the next that is free.

    Raises: DataFolderError when the folder can't be used or is served already; TwelvemonthError when the port is
    taken or the address is not this machine's.
    """
    host = _EVERYWHERE[0] if house and host in _HERE else host
    with _stoppable(), _listening(host, port) as listener, hold(settings.data):
        served = _house(host, listener)
        app = create_app(settings, today=today, hosts=_names(host), house=served)
        _run(app, listener, host, f"Twelvemonth keeps {settings.data}", say)


def serve_demo(settings: Settings, *, host: str, port: int | None, today: date | None, say: Say) -> None:
    """Serve the made-up holding from a folder of its own, which is gone when it stops.

    Raises: as `serve`.
    """
    with _stoppable(), _listening(host, port) as listener, _passing_folder() as folder:
        served = _house(host, listener)
        app = create_app(replace(settings, data=folder), today=today, hosts=_names(host), made_up=True, house=served)
        start(app.state.book, settings.demo_data)
        _run(app, listener, host, "A made-up holding; nothing of it is kept", say)


def _run(app: FastAPI, listener: socket.socket, host: str, says: str, say: Say) -> None:
    port = listener.getsockname()[1]
    house: House | None = app.state.house
    say(says)
    if host in _EVERYWHERE:
        host = "localhost"
    say(f"Open http://{f'[{host}]' if ':' in host else host}:{port}/ in a browser; stop with Ctrl-C")
    if house is not None:
        _tell_house(house, app.state.letting_in.invite("The first phone", None), say)
    config = uvicorn.Config(
        app, log_level=logging.WARNING, access_log=False, server_header=False, workers=1, proxy_headers=False
    )
    uvicorn.Server(config).run(sockets=[listener])


def _tell_house(house: House, invitation: Invitation, say: Say) -> None:
    """Where phones find it, with a code for the first, so that a machine without a screen can let one in."""
    address = f"{house.addresses[0]}/let-in"
    say(f"In the house it is {' or '.join(house.addresses)}: only phones that are let in are answered.")
    say(f"To let one in within ten minutes, point its camera at this, or open {address} and type {invitation.digits}:")
    square = io.StringIO()
    segno.make(f"{address}?code={invitation.long}", error="l").terminal(square, compact=True)
    say(square.getvalue().rstrip("\n"))
    say("More codes are made under Phones. Use a network you trust, and never open this port to the internet.")


def _house(host: str, listener: socket.socket) -> House | None:
    """How the house reaches it; None when only this machine does."""
    if host in _HERE:
        return None
    port = listener.getsockname()[1]
    named = [] if host in _EVERYWHERE else [host]
    found = named or [*_own_numbers(), f"{socket.gethostname().removesuffix('.local')}.local"]
    return House(tuple(f"http://{f'[{one}]' if ':' in one else one}:{port}" for one in found))


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


def _names(host: str) -> tuple[str, ...]:
    """The names under which this machine is asked for, when it is reached from the network."""
    if host in _HERE:
        return ()
    name = socket.gethostname()
    return (host, name, f"{name}.local")
