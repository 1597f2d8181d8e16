"""What a phone may keep while it has no signal, and how each is done once it arrives: as its own page would do it.

A kind that is not in `_ACTS` is never kept: its form is sent the ordinary way, or not at all.
"""

import re
from collections.abc import Callable
from datetime import datetime
from html import unescape
from typing import NamedTuple

from fastapi import Request
from starlette.responses import Response

from app.errors import BadInput, Conflict, NotFound
from app.rules.spans import Day
from app.services.book import Book
from app.services.jobs import asks_of
from app.services.larder.larder import mark, unsay
from app.services.larder.many import still_here, throw_many
from app.services.moving import Risk, move
from app.services.outbox import Act, Operation, Said
from app.services.rounds import is_walk, tick_round
from app.services.ticking import Outcome, let_go, tick, undo
from app.services.weather.weather import type_reading
from app.web import words
from app.web.depends import who_says
from app.web.fields import in_units
from app.web.job_forms import PREFIX
from app.web.larder.forms import KILLED
from app.web.larder.page import batch_href
from app.web.larder.words import put
from app.web.news import TICK, told
from app.web.routes import drying, evening, larder_batch, larder_many, seed, today
from app.web.routes.tick import read_words
from app.web.rows import date_of
from app.web.typed import Typed
from app.web.weather.typed import read_reading, scale


class Sent(NamedTuple):
    """One operation on its way: who asks, the book, its fields, the day and the moment of it."""

    request: Request
    book: Book
    form: Typed
    id: str
    day: Day
    at: datetime

    @property
    def today(self) -> Day:
        """The day it is."""
        return self.book.today().toordinal()


def acts(request: Request, book: Book) -> Act:
    """What does an operation."""

    def act(one: Operation, day: Day, at: datetime) -> Said:
        for path, does in _ACTS:
            found = path.fullmatch(one.path)
            if found is not None:
                several: dict[str, list[str]] = {}
                for name, value in (*one.fields, ("id", one.id)):
                    several.setdefault(name, []).append(value.replace("\x00", ""))
                form = Typed({name: values[-1] for name, values in several.items()}, several)
                return does(Sent(request, book, form, one.id, day, at), *found.groups())
        raise NotFound("That is nothing that a phone can keep and send later; do it on its own page.")

    return act


# ── Jobs ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _tick(sent: Sent) -> Said:
    book, form, key = sent.book, sent.form, sent.form.raw("key")
    if is_walk(key):
        tick_round(book, key, sent.id, sent.today, who_says(sent.request))
        return Said("The round is walked.")
    asks = asks_of(book, key) if any(name.startswith(PREFIX) for name in form.values) else ()
    said = read_words(sent.request, form, in_units(asks, book.imperial))
    on = form.day("on")
    form.check()
    shown = form.window("shown")
    came = tick(
        book, key, sent.today, on=sent.day if on is None else on, tick_id=sent.id, shown=shown, words=said, at=sent.at
    )
    return _came(came)


def _came(came: Outcome) -> Said:
    parts = [told(came).text]
    if came.replanned is not None:
        span = words.between(date_of(came.replanned.opens), date_of(came.replanned.closes), date_of(came.today))
        parts.append(f"Its days had moved since the phone saw it, to {span}.")
    kind = "first" if came.first is not None else "done" if came.fresh else "before"
    return Said(" ".join(parts), kind, f"?{TICK}={came.tick_id}")  # type: ignore[arg-type]  # one of the three


def _undo(sent: Sent) -> Said:
    try:
        person = who_says(sent.request)
        came = undo(sent.book, sent.form.raw("answers"), sent.today, tick_id=sent.id, person=person, at=sent.at)
    except (NotFound, Conflict) as error:
        return Said(str(error), "before")
    return Said("The round is taken back.") if is_walk(sent.form.raw("key")) else _came(came)


def _let_go(sent: Sent) -> Said:
    reason = sent.form.text("reason")
    sent.form.check()
    shown = sent.form.window("shown")
    key = sent.form.raw("key")
    person = who_says(sent.request)
    came = let_go(sent.book, key, sent.today, tick_id=sent.id, shown=shown, reason=reason, person=person, at=sent.at)
    return _came(came)


def _move(sent: Sent) -> Said:
    to = sent.form.day("on", "Say which day.")
    sent.form.check()
    shown, person = sent.form.window("shown"), who_says(sent.request)
    knowing = sent.form.raw("confirm") == "yes" and sent.form.raw("risked") == str(to)
    came = move(
        sent.book, sent.form.raw("key"), to or sent.today, sent.today, tick_id=sent.id, shown=shown, knowing=knowing,
        person=person,
    )  # fmt: skip
    if isinstance(came, Risk):  # asked on the job's own page: a phone behind the barn can't be asked
        raise BadInput({"on": f"It was not moved. {came.says}"})
    return _came(came)


# ── Readings and the larder ───────────────────────────────────────────────────────────────────────────────────────


def _reading(sent: Sent) -> Said:
    form = sent.form
    on = form.day("day")
    reading = read_reading(form, scale(sent.book.imperial))
    sure = form.raw("sure") == "yes"
    type_reading(sent.book, sent.day if on is None else on, reading, sent.today, sure=sure, at=sent.at)
    return Said("The reading is kept.")


def _spoiled(sent: Sent) -> Said:
    ids = [ident for ident in sent.form.several.get("batch", ()) if ident]
    many = throw_many(sent.book, ids, sent.day, "spoiled", sent.id)
    return Said(f"{words.counted(many, 'batch', 'batches').capitalize()} put down as thrown out.", href="/larder")


def _still_here(sent: Sent, batch: str) -> Said:
    still_here(sent.book, batch, sent.day, sent.id)
    return Said("It is counted as here again.", href="/larder")


def _mark(sent: Sent, batch: str) -> Said:
    place, killed = sent.form.text("place", longest=80), sent.form.choice("killed", KILLED)
    sent.form.check()
    moved = mark(sent.book, batch, sent.day, killed=killed or None, place=place or None, ident=sent.id)
    return Said(href=put(batch_href(batch), "moved" if moved else "mark"))


def _unsay(sent: Sent, batch: str) -> Said:
    unsay(sent.book, batch, sent.form.raw("fact"), sent.day)
    return Said(href=put(batch_href(batch), "unsay"))


_ERROR = re.compile(r'<p class="error"[^>]*>(.*?)</p>', re.DOTALL)


def _as_posted(does: Callable[..., Response]) -> Callable[..., Said]:
    """As the form's own page does it: what it answers with is where to go, or a page with what was wrong."""

    def act(sent: Sent, *where: str) -> Said:
        if not sent.form.raw("on"):
            sent.form.values["on"] = date_of(sent.day).isoformat()
        answer = does(sent.request, sent.book, sent.form, *where)
        if answer.status_code == 303:
            return Said(href=answer.headers.get("location", ""))
        said = [unescape(re.sub(r"<[^>]+>", "", one)).strip() for one in _ERROR.findall(bytes(answer.body).decode())]
        raise BadInput({str(n): one for n, one in enumerate(said)} or {"": "That could not be read."})

    return act


_ACTS: tuple[tuple[re.Pattern[str], Callable[..., Said]], ...] = tuple(
    (re.compile(path), does)
    for path, does in (
        ("/tick", _tick),
        ("/undo", _undo),
        ("/letgo", _let_go),
        ("/move", _move),
        ("/evening", _as_posted(evening.by_numbers)),
        ("/evening/done", _as_posted(evening.done)),
        ("/today/weather", _as_posted(today.weather)),
        ("/weather/reading", _reading),
        ("/larder/count", _as_posted(larder_many.count)),
        ("/larder/spoiled", _spoiled),
        ("/larder/([^/]+)/take", _as_posted(larder_batch.take)),
        ("/larder/([^/]+)/back", _as_posted(larder_batch.put_back)),
        ("/larder/([^/]+)/count", _as_posted(larder_batch.count)),
        ("/larder/([^/]+)/here", _still_here),
        ("/larder/([^/]+)/mark", _mark),
        ("/larder/([^/]+)/unsay", _unsay),
        ("/preserving/drying/([^/]+)", _as_posted(drying.weighed)),
        ("/garden/seed/([^/]+)/take", _as_posted(seed.take)),
        ("/garden/seed/([^/]+)/count", _as_posted(seed.count)),
        ("/garden/seed/([^/]+)/test", _as_posted(seed.test)),
    )
)
