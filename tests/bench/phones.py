"""Twenty phones ticking for a minute at a real server: no error, none lost, none doubled; and how long a tap waits."""

import os
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import httpx

from app.main import utc_now
from app.records import store
from app.services.book import Book
from tests.bench import pages

PHONES = 20
SECONDS = 60
PAUSE_S = 1.0
"""A thumb that is quick: a tap a second."""


class Tapped(NamedTuple):
    """What was sent, by its id; what was answered with anything but that it is taken down; how long each waited (s)."""

    sent: dict[str, str]
    wrong: list[str]
    waited: list[float]


def tap(
    address: str, keys: Sequence[str], on: str, *, turns: int, pause_s: float = 0, now: Callable[[], datetime] = utc_now
) -> Tapped:
    """Phones that tap at once, each a job at a time; every third answer is lost, so that the same is sent once more."""
    done = Tapped({}, [], [])

    def phone(n: int) -> None:
        with httpx.Client(base_url=address, headers={"Origin": address}, timeout=60, verify=False) as client:
            for turn in range(turns):
                ident, key = f"{n + 1:016x}{turn:016x}", keys[(7 * n + turn) % len(keys)]
                fields = [["key", key], ["remark", f"phone {n}, tap {turn}"]]
                one = {"id": ident, "path": "/tick", "fields": fields, "on": on, "made_at": f"{now()}"}
                done.sent[ident] = key
                begun = time.perf_counter()
                for _ in range(1 + (turn % 3 == 2)):
                    answer = client.post("/outbox", json={"ops": [one]})
                    came = answer.json()["answers"][0]["came"] if answer.status_code == 200 else ""
                    if came not in ("done", "before"):
                        done.wrong.append(answer.text)
                done.waited.append(time.perf_counter() - begun)
                time.sleep(max(0.0, pause_s - done.waited[-1]))

    threads = [threading.Thread(target=phone, args=(n,)) for n in range(PHONES)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    return done


def amiss(book: Book, tapped: Tapped) -> list[str]:
    """What of all that was tapped was answered wrongly, is lost, or is there more than once."""
    with book.reading() as session:
        kept = {(one.id, one.key) for one in store.ticks(session) if one.id != "sown" and not one.tied_to}
    lost, more = sorted(tapped.sent.items() - kept), sorted(kept - tapped.sent.items())
    return [*tapped.wrong, *(f"lost: {one}" for one in lost), *(f"more than was tapped: {one}" for one in more)]


def ratios() -> Iterator[tuple[str, float, float]]:
    """Name, figure, limit: how many taps went amiss. How long they wait is printed; it hangs on the machine."""
    with tempfile.TemporaryDirectory() as name:
        book: Book = pages.holding(Path(name), pages.ENTRIES).state.book
        today = book.today().toordinal()
        with book.reading() as session:
            keys = [row.key for row in store.open_rows(session, today)][:200]
        book.close()
        with served(Path(name)) as address:
            begun = time.perf_counter()
            found = tap(address, keys, f"{datetime.now(UTC):%Y-%m-%d}", turns=SECONDS, pause_s=PAUSE_S)
        took = time.perf_counter() - begun
        book = pages.create_app(book.settings, today=book.today()).state.book
        wrong = amiss(book, found)
        book.close()
    cuts = statistics.quantiles(found.waited, n=20)
    print(
        f"  {PHONES} phones, {len(found.sent)} taps in {took:.0f} s: half waited {cuts[9] * 1e3:.0f} ms, 19 of 20"
        f" {cuts[18] * 1e3:.0f} ms, the longest {max(found.waited) * 1e3:.0f} ms; amiss: {len(wrong)} {wrong[:3]}"
    )
    yield "phones-20-amiss", len(wrong), 0.0


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The program as it is served, in a process of its own."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "app.cli", "serve", "--port", str(port), "--today", f"{pages.NOW:%Y-%m-%d}"]
    with subprocess.Popen(
        command, env=os.environ | {"TWELVEMONTH_DATA": str(folder)}, stdout=subprocess.DEVNULL
    ) as house:
        address = f"http://127.0.0.1:{port}"
        while True:
            try:
                httpx.get(f"{address}/healthz", timeout=30)
                break
            except httpx.ConnectError:
                time.sleep(0.05)
        yield address
        house.terminate()
