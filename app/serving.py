"""Serving the pages: one process, one socket, the data folder held, and a clean end."""

import logging
import signal
import socket
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import FrameType

import uvicorn
from fastapi import FastAPI

from app.errors import DataFolderError, TwelvemonthError
from app.main import create_app
from app.records.database import hold
from app.services.demo import start
from app.settings import Settings

Say = Callable[[str], None]
_EVERYWHERE = ("0.0.0.0", "::")


def serve(settings: Settings, *, host: str, port: int, today: date | None, say: Say) -> None:
    """Serve a data folder until SIGTERM or SIGINT.

    Raises: DataFolderError when the folder can't be used or is served already; TwelvemonthError when the port is
    taken or the address is not this machine's.
    """
    with _stoppable(), _listening(host, port) as listener, hold(settings.data):
        app = create_app(settings, today=today, hosts=_names(host))
        _run(app, listener, host, f"Twelvemonth keeps {settings.data}", say)


def serve_demo(settings: Settings, *, host: str, port: int, today: date | None, say: Say) -> None:
    """Serve the made-up holding from a folder of its own, which is gone when it stops.

    Raises: as `serve`.
    """
    with _stoppable(), _listening(host, port) as listener, _passing_folder() as folder:
        app = create_app(replace(settings, data=folder), today=today, hosts=_names(host), made_up=True)
        start(app.state.book, settings.demo_data)
        _run(app, listener, host, "A made-up holding; nothing of it is kept", say)


def _run(app: FastAPI, listener: socket.socket, host: str, says: str, say: Say) -> None:
    port = listener.getsockname()[1]
    shown = f"[{host}]" if ":" in host else host
    say(says)
    if host in _EVERYWHERE:
        shown = "localhost"
    if host not in ("127.0.0.1", "::1", "localhost"):
        say("It can be reached from your network: whoever knows the address can read it and tick.")
    say(f"Open http://{shown}:{port}/ in a browser; stop with Ctrl-C")
    config = uvicorn.Config(app, log_level=logging.WARNING, access_log=False, server_header=False, workers=1)
    uvicorn.Server(config).run(sockets=[listener])


@contextmanager
def _listening(host: str, port: int) -> Iterator[socket.socket]:
    """A socket that listens, opened first of all, so that a port in use is said before anything is touched."""
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
    if host in ("127.0.0.1", "::1", "localhost"):
        return ()
    name = socket.gethostname()
    return (host, name, f"{name}.local")
