"""Serving over https: the house's certificate in use and renewed while it serves, and a plain address beside it.

A phone can't fetch over https what makes it trust https, without being told to pass over a warning; so the certificate,
and how to trust it, also stand at an address of plain http that gives nothing else.
"""

import logging
import ssl
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from socket import socket

import uvicorn
from starlette.types import ASGIApp

from app.certificates import Certified, certify
from app.errors import DataFolderError

LOG = logging.getLogger("twelvemonth")
LOOKED_AT_SECONDS = 3600.0
"""So often it is looked whether the certificate nears its end, or the machine got another address."""


class Tls:
    """The house's certificate; ``names`` gives the names and addresses of this machine as they are when asked.

    Raises: DataFolderError when it can't be kept or read.
    """

    def __init__(self, folder: Path, names: Callable[[], Iterable[str]]) -> None:
        self._folder = folder
        self._names = names
        self.certified = self._certify()

    def _certify(self) -> Certified:
        return certify(self._folder, self._names(), datetime.now(UTC))

    def tell(self, say: Callable[[str], None]) -> None:
        """Say what phones have to trust, and what the certificate does not cover."""
        if self.certified.new_authority:
            say("A certificate of this house was made: each phone has to be told once to trust it.")
        say(f"Its print (SHA-256), to compare with what the phone shows: {self.certified.print_}")
        if self.certified.left_out:
            say(
                f"It may not speak for {', '.join(self.certified.left_out)}: phones would warn there."
                f" Take {self._folder} away to have one made that may; phones must then trust it anew."
            )

    def renew(self, context: ssl.SSLContext) -> None:
        """Make the certificate anew where that is due; connections from now on are answered with it."""
        try:
            before, self.certified = self.certified, self._certify()
        except DataFolderError as error:
            LOG.error("%s", error)
            return
        if self.certified.number != before.number:
            context.load_cert_chain(self.certified.pem)

    @contextmanager
    def renewing(self, context: ssl.SSLContext, every: float = LOOKED_AT_SECONDS) -> Iterator[None]:
        """Look from time to time, as long as the block runs."""
        over = threading.Event()

        def look() -> None:
            while not over.wait(every):
                self.renew(context)

        threading.Thread(target=look, name="certificate", daemon=True).start()
        try:
            yield
        finally:
            over.set()


@contextmanager
def aside(app: ASGIApp, listener: socket) -> Iterator[None]:
    """Serve a second application, over plain http, as long as the block runs."""
    server = uvicorn.Server(
        uvicorn.Config(
            app, log_level=logging.WARNING, access_log=False, server_header=False, proxy_headers=False, lifespan="off"
        )
    )
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, name="first steps", daemon=True)
    thread.start()
    try:
        yield
    finally:
        server.should_exit = True
        thread.join(5)
