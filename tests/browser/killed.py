"""A house that is killed while a phone sends to it: ``python -m tests.browser.killed <folder> <port> <when> ...``.

A keeper has the program imported and its sheets read, and forks a child that serves a small holding as the command
does. The child kills itself without warning (SIGKILL) at one of `WHEN`, in the midst of the next box that a phone
sends; then the keeper forks another. It says "killed <when>" of each, and after the last one serves until it is left.
"""

import os
import signal
import sys
from datetime import date
from pathlib import Path
from typing import NoReturn

from fastapi import FastAPI
from sqlalchemy import event
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app import serving
from app.main import create_app
from app.services.book import Book
from tests.web.holding import entry, fill, settings

WHEN = ("heard", "writing", "written", "kept")
"""The box has come; the first of it is written; all of it is, but not committed; committed, but not answered."""
TODAY = date(2027, 9, 15)
JOBS = 30


class Killed:
    """A house whose process ends during the next box."""

    def __init__(self, app: FastAPI, when: str) -> None:
        self.app: ASGIApp = app
        self.when = when
        self.box = self.written = False
        engine = app.state.book.engine
        event.listen(engine, "after_cursor_execute", self._executed)
        event.listen(engine, "commit", self._committing)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand a request on."""
        is_box = scope.get("path") == "/outbox"
        self.box = self.box or is_box

        async def hearing() -> Message:
            message = await receive()
            self._now("heard", is_box)
            return message

        async def answering(message: Message) -> None:
            self._now(self.when, is_box)  # at the latest: what was kept before is not written again
            await send(message)

        await self.app(scope, hearing, answering)

    def _executed(self, _connection: object, _cursor: object, statement: str, *_: object) -> None:
        self.written = self.written or (self.box and "INSERT INTO tick" in statement)
        self._now("writing", self.written)

    def _committing(self, _: object) -> None:
        self._now("written", self.written)

    def _now(self, when: str, is_so: bool) -> None:
        if is_so and when == self.when:
            os.kill(os.getpid(), signal.SIGKILL)  # as the power would


def serve(folder: Path, port: int, when: str) -> NoReturn:
    """A child's life: as ``twelvemonth serve``."""
    usual = serving.configured
    if when:
        serving.configured = lambda app, *more: usual(Killed(app, when), *more)  # type: ignore[assignment,arg-type]
    serving.serve(settings(folder), host="127.0.0.1", port=port, today=TODAY, say=lambda _: None)
    os._exit(0)


def rows(book: Book, many: int = JOBS) -> None:
    """Put down rows of beet that are to be sown in the middle of September."""
    fill(book, [entry(f"beet-{n:02}", "test-beet", "2027-09-13") for n in range(many)])


def filled(folder: Path) -> None:
    """Make the holding. All of the program is imported on the way, so that a child is there at once."""
    app = create_app(settings(folder), today=TODAY)
    serving.configured(app).load()
    rows(app.state.book)
    app.state.book.close()


def forked(folder: Path, port: int, when: str) -> int:
    """A child that serves."""
    child = os.fork()
    if not child:
        try:
            serve(folder, port, when)
        finally:
            os._exit(1)
    return child


def main(folder: Path, port: int, *whens: str) -> None:
    """Keep the house until standard input ends."""
    filled(folder)
    for when in whens:
        child = forked(folder, port, when)
        _, status = os.waitpid(child, 0)
        said = f"killed {when}" if os.WTERMSIG(status) == signal.SIGKILL else f"ended {status}"
        sys.stdout.write(f"{said}\n")
        sys.stdout.flush()
    child = forked(folder, port, "")
    sys.stdin.read()
    os.kill(child, signal.SIGTERM)
    os.waitpid(child, 0)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), *sys.argv[3:])
