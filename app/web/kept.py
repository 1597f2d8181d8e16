"""Pages drawn lately, kept until a fact changes or the day does: a month is looked at more often than it is changed."""

from collections.abc import Hashable

MOST = 24


class Kept:
    """The texts of a few pages, all for one state of the facts; with another state it begins anew."""

    def __init__(self) -> None:
        self._state: Hashable = None
        self._texts: dict[Hashable, str] = {}

    def forget(self) -> None:
        """Let go of all, when something other than a fact was changed that pages show."""
        self._texts = {}

    def get(self, state: Hashable, name: Hashable) -> str | None:
        """A page as it was drawn for this state; None when it was not."""
        return self._texts.get(name) if state == self._state else None

    def put(self, state: Hashable, name: Hashable, text: str) -> None:
        """Keep a page."""
        if state != self._state or len(self._texts) >= MOST:
            self._state, self._texts = state, {}
        self._texts[name] = text
