"""What has just happened, told once: after a plain form the next page names the tick, and says what came of it."""

from datetime import date
from urllib.parse import parse_qsl, urlencode

from fastapi import Request
from sqlalchemy.orm import Session

from app.services.book import Book
from app.services.ticking import First, Outcome, outcome
from app.web import words
from app.web.links import parted
from app.web.parts import Form, Pair, Status
from app.web.rows import date_of, next_id

TICK, MOVED = "said", "moved"


def news(book: Book, session: Session, request: Request) -> Status | None:
    """The status line of a page that follows a tick."""
    tick_id = request.query_params.get(TICK, "")
    if not tick_id:
        return None
    found = outcome(book, session, tick_id)
    moved = request.query_params.get(MOVED, "0")
    return None if found is None else told(found, int(moved) if moved.isdecimal() and len(moved) < 5 else 0)


def told(found: Outcome, moved: int = 0) -> Status:
    """What came of a tick, in a sentence or two, with the way to take it back."""
    lead = {"done": "Done", "let go": "Not this year", "moved": "Moved", "undone": "Taken back"}[found.kind]
    name = f"{found.title}: {found.entry_name}" if found.entry_name else found.title
    if found.first is not None:
        return Status(f"{name}: {first_said(found.first, date_of(found.today))}")
    parts = [f"{lead}: {name}."]
    if found.kind == "moved":
        parts = [f"{name} is moved to {words.day(date_of(found.on), date_of(found.today))}."]
    if moved:
        parts.append(f"{words.counted(moved, 'other job').capitalize()} {'moves' if moved == 1 else 'move'} with it.")
    if found.tied:
        parts.append(f"Taken as done before it: {words.listed(found.tied)}.")
    parts += found.flags
    undo = None
    if found.kind != "undone" and found.stands:
        undo = Form(
            "/undo",
            "Take back",
            hidden=(
                Pair("key", found.key),
                Pair("answers", found.tick_id),
                Pair("id", next_id(found.key, found.times)),
            ),
            quiet=True,
        )
    return Status(" ".join(parts), undo, alert=bool(found.flags))


def first_said(first: First, today: date) -> str:
    """Who had done it already: "Ana did it at 9.40"."""
    who = first.by or "Somebody"
    when = f"at {words.clock(first.at.hour * 60 + first.at.minute)}"
    if first.at.date() != today:
        when = f"on {words.day(first.at.date(), today)}, {when}"
    on = "" if first.on == first.at.date().toordinal() else f", as done on {words.day(date_of(first.on), today)}"
    return f"{who} {'did it' if not on else 'ticked it'} {when}{on}."


def back(request: Request, tick_id: str, moved: int = 0, fallback: str = "/today") -> str:
    """The page that a form came from, told which tick to speak of."""
    parts = parted(request.headers.get("referer", ""))
    path = parts.path if parts.path.startswith("/") and not parts.path.startswith("//") else ""
    if not path or path in ("/tick", "/undo", "/move", "/letgo"):
        path, parts = fallback, parted("")
    kept = [(name, value) for name, value in parse_qsl(parts.query) if name not in (TICK, MOVED)]
    kept.append((TICK, tick_id))
    if moved:
        kept.append((MOVED, str(moved)))
    return f"{path}?{urlencode(kept)}"
