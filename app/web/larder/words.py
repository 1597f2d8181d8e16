"""What is said once after something was put down in the larder."""

from urllib.parse import quote

from fastapi import Request

from app.web.parts import Form, Status
from app.web.words import count, counted

SAID = {
    "add": "It is in the larder.",
    "full": "It is in the larder. By the book that is more than the freezers have room for: count what lies there, or"
    " put their litres right under Kit.",
    "take": "That is put down.",
    "short": "That is put down. By the book there was less than that: count what is left.",
    "count": "What you found stands.",
    "back": "It is back.",
    "mark": "That is put right.",
    "right": "That is put right.",
    "later": "That is put right. It is later than the day of safety that was told: your local food-safety authority’s"
    " word goes before both.",
    "moved": "That is put right. Its day is reckoned anew, from the move.",
    "unsay": "That is taken back.",
    "struck": "It is struck out.",
    "here": "It is counted as here again.",
    "spoil": "Thrown out, and put down. None of it goes to pigs or hens.",
    "home": "That is put down, though it was advised against: what was killed at home is for the household alone.",
}


def status(request: Request, undo: Form | None = None) -> Status | None:
    """The sentence that an address asks for: ``put``, and how ``many`` it was; ``undo`` beside it."""
    put, many = request.query_params.get("put", ""), request.query_params.get("many", "")
    number = int(many) if many.isdecimal() and len(many) < 7 else 0
    if put == "thrown":
        what = counted(number, "batch", "batches").capitalize()
        return Status(f"{what} put down as thrown out. None of it goes to pigs or hens.")
    if put == "counted":
        other = request.query_params.get("other", "0")
        wrong = int(other) if other.isdecimal() and len(other) < 7 else 0
        said = f"{counted(number, 'batch', 'batches').capitalize()} counted"
        return Status(f"{said}: all as the book had it." if not wrong else f"{said}, {count(wrong)} put right.")
    if put == "in":
        return Status(f"{counted(number, 'batch', 'batches').capitalize()} taken in.")
    return Status(SAID[put], undo) if put in SAID else None


def put(href: str, what: str, **more: int | str) -> str:
    """An address that says what was put down."""
    rest = "".join(f"&{name}={value}" for name, value in more.items())
    return f"{href}?put={quote(what)}{rest}"
