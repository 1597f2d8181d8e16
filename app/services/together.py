"""Several writes in one transaction, whose share of the projection is written once."""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from threading import local

from sqlalchemy.orm import Session

from app.rules.facts import Tick
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.touch import root


class Spoilt(Exception):
    """A write failed after the plan in memory had taken it in: all that was written together must go back."""


class Together(local):
    """What this thread writes together: the session, ticks not planned yet, entries laid again but not projected."""

    session: Session | None = None
    ticks: tuple[Tick, ...] = ()
    before: Live | None = None
    touched: frozenset[str] = frozenset()
    today: Day = 0

    def begin(self, session: Session) -> None:
        """From here on, writes of this thread go into one session."""
        self.clear()
        self.session = session

    def end(self) -> None:
        """No longer."""
        self.clear()
        self.session = None

    def clear(self) -> None:
        """Nothing is put off."""
        self.ticks, self.before, self.touched = (), None, frozenset()

    def put_off_ticks(self, ticks: Iterable[Tick], today: Day) -> None:
        """Keep for later what was said of jobs."""
        self.ticks += tuple(ticks)
        self.today = today

    def put_off(self, before: Live, touched: frozenset[str], today: Day) -> None:
        """Keep for later what was laid again; ``before`` is the plan that the projection was written from."""
        self.before = self.before or before
        self.touched |= touched
        self.today = today

    def concerns(self, entry: str) -> bool:
        """Whether something of an entry, or of one made by it, is put off."""
        names = {*self.touched, *(split_key(tick.key).entry for tick in self.ticks)}
        return any(root(name) == root(entry) for name in names)

    @property
    def waits(self) -> bool:
        """Whether anything is put off."""
        return bool(self.ticks or self.touched)

    @contextmanager
    def apart(self, session: Session, planned: Callable[[], object]) -> Iterator[Session]:
        """One of the writes: an error takes back what it wrote and nothing else.

        Raises: Spoilt in place of the error when ``planned`` says that the plan has gone on meanwhile.
        """
        was = planned()
        try:
            with session.begin_nested():
                yield session
        except Exception as error:
            if planned() != was:
                raise Spoilt from error
            raise
