"""Letting a phone in: a code that holds once and for ten minutes, kept in memory and never written down.

Source: OWASP Authentication and Session Management Cheat Sheets (one-time codes of few tries; 128 bits or more where a
code is not typed; comparison in constant time); NIST SP 800-63B, 5.1.3 (six digits with a limit of tries).
"""

import hmac
import secrets
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Lock
from typing import NamedTuple

from app.errors import Refused, TooMany

HOLDS = timedelta(minutes=10)
TRIES = 5
"""Wrong answers that a code outlives; a million codes and five tries leave one chance in 200 000."""
WRONG_A_MINUTE = 20
_LONG_BYTES = 24


class Invitation(NamedTuple):
    """A code in both its forms: six ``digits`` to type, and the ``long`` one that a camera reads."""

    digits: str
    long: str
    until: datetime
    name: str
    person: int | None


class LettingIn:
    """The code that holds now, if any; making another ends it. ``now`` is the clock."""

    def __init__(self, now: Callable[[], datetime]) -> None:
        self._now = now
        self._lock = Lock()
        self._open: Invitation | None = None
        self._tries = 0
        self._wrong: list[datetime] = []

    def invite(self, name: str, person: int | None) -> Invitation:
        """A new code for a phone of that name and person."""
        digits = f"{secrets.randbelow(10**6):06}"
        made = Invitation(digits, secrets.token_urlsafe(_LONG_BYTES), self._now() + HOLDS, name, person)
        with self._lock:
            self._open, self._tries = made, 0
        return made

    def standing(self) -> Invitation | None:
        """The code that holds now."""
        with self._lock:
            return self._open if self._open is not None and self._now() < self._open.until else None

    def answer(self, code: str) -> Invitation:
        """The invitation that a code belongs to; it holds no longer.

        Raises: TooMany after too many wrong codes within a minute; Refused for one that is wrong, used or too old.
        """
        now = self._now()
        with self._lock:
            self._wrong = [at for at in self._wrong if now - at < timedelta(minutes=1)]
            if len(self._wrong) >= WRONG_A_MINUTE:
                raise TooMany("Too many wrong codes: wait a minute, then ask for a new one.", 60)
            found = self._open
            if found is not None and now < found.until and _same(code, found):
                self._open = None
                return found
            self._wrong.append(now)
            self._tries += 1
            if self._tries >= TRIES:
                self._open = None
        raise Refused(
            "That code does not hold: it was mistyped, used already, tried too often, or is older than ten minutes."
            " Ask for a new one on the computer that serves the house, under Phones."
        )


def _same(code: str, found: Invitation) -> bool:
    typed = "".join(code.split()).encode()
    return hmac.compare_digest(typed, found.digits.encode()) | hmac.compare_digest(typed, found.long.encode())
