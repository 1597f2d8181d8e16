"""The box of a phone that had no signal: many small writes at once, each counted once by its own id."""

import json
import re
from datetime import date, datetime
from typing import Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import JSONResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.outbox import MOST, Answer, Operation, take_in
from app.web import words
from app.web.box_acts import acts
from app.web.depends import TheBook

router = APIRouter()

_IDENT = re.compile(r"[0-9a-f]{32}")
_LONGEST = 20_000
_MOST_FIELDS = 2000


async def _body(request: Request) -> bytes:
    return await request.body()


@router.post("/outbox")
def take(request: Request, book: TheBook, body: bytes = Depends(_body)) -> Response:
    """What came of each of ``{"ops": [{"id", "path", "fields": [[name, value]], "on", "made_at", "sure"}]}``."""
    try:
        operations = read(body)
    except ValueError as error:
        return _refused(400, str(error))
    if len(operations) > MOST:
        return _refused(422, f"More than {MOST} at once can’t be taken in; send them in parts. Nothing was taken down.")
    try:
        answers = take_in(book, operations, acts(request, book))
    except BadInput as error:
        return _refused(422, str(error))
    return JSONResponse({"answers": [_told(book.today(), *pair) for pair in zip(operations, answers, strict=True)]})


def _told(today: date, one: Operation, answer: Answer) -> dict[str, Any]:
    told: dict[str, Any] = answer._asdict()
    if answer.came == "asked":
        said = "It gives no day" if one.on is None else f"It says {_day(date.fromordinal(one.on))}"
        told |= {"says": f"{said}; when was it?", "day": today.isoformat()}
    return told


def _day(on: date) -> str:
    return f"{on.day} {words.MONTHS[on.month - 1][:3]} {on.year}"


def _refused(code: int, sentence: str) -> Response:
    return JSONResponse({"says": sentence}, code)


# ── Reading ───────────────────────────────────────────────────────────────────────────────────────────────────────


def read(body: bytes) -> list[Operation]:
    """The operations of a body.

    Raises: ValueError with a sentence.
    """
    wrong = "What the phone sent can’t be read. Nothing was taken down."
    try:
        found = json.loads(body)
    except (ValueError, RecursionError):
        raise ValueError(wrong) from None
    given = found.get("ops") if isinstance(found, dict) else None
    if not isinstance(given, list):
        raise ValueError(wrong)
    if len(given) > MOST:
        return [Operation("", "", (), None, None)] * len(given)
    operations = [_operation(one) for one in given]
    if None in operations:
        raise ValueError(wrong)
    return [one for one in operations if one is not None]


def _operation(one: object) -> Operation | None:
    if not isinstance(one, dict):
        return None
    ident, path, fields = one.get("id"), one.get("path"), one.get("fields")
    if not (isinstance(ident, str) and _IDENT.fullmatch(ident) and isinstance(path, str) and len(path) < 400):
        return None
    if not isinstance(fields, list) or len(fields) > _MOST_FIELDS:
        return None
    pairs = []
    for pair in fields:
        if not (isinstance(pair, list) and len(pair) == 2 and all(isinstance(text, str) for text in pair)):
            return None
        pairs.append((_clean(pair[0]), _clean(pair[1])))
    return Operation(
        ident, _clean(path), tuple(pairs), _on(one.get("on")), _moment(one.get("made_at")), one.get("sure") is True
    )


def _clean(text: str) -> str:
    """A text without halves of letters, which nothing could be written down with."""
    return text[:_LONGEST].encode("utf-8", "ignore").decode()


def _on(text: object) -> int | None:
    try:
        return date.fromisoformat(str(text)[:10]).toordinal()
    except ValueError:
        return None


def _moment(text: object) -> datetime | None:
    try:
        found = datetime.fromisoformat(str(text)[:40])
    except ValueError:
        return None
    return found if found.tzinfo is not None else None
