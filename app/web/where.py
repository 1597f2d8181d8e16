"""The page that a tick came from, so that the answer is drawn on its scale."""

from typing import NamedTuple
from urllib.parse import parse_qs

from fastapi import Request

from app.errors import NotFound
from app.rules.spans import Day
from app.services.month import month_days
from app.web.drawing import Stretch
from app.web.folding import BYS, By
from app.web.links import parted


class Where(NamedTuple):
    """A page with rows: a month with its days, or one without a scale."""

    month: tuple[Day, Day] | None = None
    by: By = "crop"
    trade: str = ""

    def stretch(self, today: Day) -> Stretch | None:
        """The page's scale of days."""
        if self.month is None:
            return None
        first, last = self.month
        return Stretch(first, last, today if first <= today <= last else None)


def where(request: Request, today: Day) -> Where:
    """The page on which a script pressed the button."""
    parts = parted(request.headers.get("hx-current-url", ""))
    pieces = parts.path.strip("/").split("/")
    if len(pieces) != 2 or not all(piece.isascii() and piece.isdecimal() and len(piece) < 5 for piece in pieces):
        return Where()
    try:
        month = month_days(int(pieces[0]), int(pieces[1]), today)
    except NotFound:
        return Where()
    asked = parse_qs(parts.query)
    by: By = next((each for each in BYS if each == asked.get("by", [""])[0]), "crop")
    return Where(month, by, asked.get("trade", [""])[0])
