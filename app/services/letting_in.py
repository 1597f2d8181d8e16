"""Letting a phone in: a code that holds once and for ten minutes, kept in memory and never written down.

Source: OWASP Authentication and Session Management Cheat Sheets (one-time codes of few tries; 128 bits or more where a
code is not typed; comparison in constant time); NIST SP 800-63B, 5.1.3 (six digits with a limit of tries).
"""

import hmac
import secrets
from collections import Counter
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Lock
from typing import NamedTuple

from app.errors import Refused, TooMany

HOLDS = timedelta(minutes=10)
TRIES = 5
"""Wrong answers after which a caller can't let itself in by this code's digits any more."""
TRIES_OF_ALL = 20
"""Wrong answers that the digits outlive, whoever gave them; a million codes leave one chance in 50 000. The long form,
of 192 bits, can't be guessed and outlives them all: so a guest can use up the digits, but not the square."""
WRONG_A_MINUTE = 20
"""Wrong answers that are listened to within a minute, of one caller."""
MOST_WRONG = 1000
"""Wrong answers within a minute, of all callers, of which it is known who gave them."""
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
        self._tries = Counter[str]()
        self._wrong: list[tuple[datetime, str]] = []

    def invite(self, name: str, person: int | None) -> Invitation:
        """A new code for a phone of that name and person."""
        digits = f"{secrets.randbelow(10**6):06}"
        made = Invitation(digits, secrets.token_urlsafe(_LONG_BYTES), self._now() + HOLDS, name, person)
        with self._lock:
            self._open, self._tries = made, Counter()
        return made

    def standing(self) -> Invitation | None:
        """The code that holds now; its ``digits`` are "" once they were guessed at too often."""
        with self._lock:
            found = self._holds()
            return found._replace(digits="") if found and self._tries.total() >= TRIES_OF_ALL else found

    def answer(self, code: str, caller: str) -> Invitation:
        """The invitation that a code belongs to; it holds no longer. ``caller`` is the address of who gives it.

        Raises: TooMany after too many wrong codes within a minute; Refused for one that is wrong, used or too old.
        """
        now = self._now()
        with self._lock:
            found = self._holds()
            by_digits, by_square = _same(code, found) if found else (False, False)
            left = self._tries[caller] < TRIES and self._tries.total() < TRIES_OF_ALL
            if not by_square:
                self._listen(now, caller)
            if found and (by_square or (by_digits and left)):
                self._open = None
                return found
            self._wrong.append((now, caller))
            if left:
                self._tries[caller] += 1
        raise Refused(
            "That code does not hold: it was mistyped, used already, tried too often, or is older than ten minutes."
            " Point the camera at the square, or ask for a new one on the computer that serves the house, under Phones."
        )

    def _holds(self) -> Invitation | None:
        return self._open if self._open is not None and self._now() < self._open.until else None

    def _listen(self, now: datetime, caller: str) -> None:
        self._wrong = [one for one in self._wrong if now - one[0] < timedelta(minutes=1)]
        by_caller = sum(who == caller for _, who in self._wrong)
        if by_caller >= WRONG_A_MINUTE or len(self._wrong) >= MOST_WRONG:
            raise TooMany("Too many wrong codes: wait a minute, then ask for a new one.", 60)


def _same(code: str, found: Invitation) -> tuple[bool, bool]:
    """Whether a code is the digits, and whether it is the long form; both are always compared."""
    typed = "".join(code.split()).encode()
    return hmac.compare_digest(typed, found.digits.encode()), hmac.compare_digest(typed, found.long.encode())
