"""What got done, in words: six likely jobs on one screen, and the numbers of the printed month."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from app.rules.spans import Day
from app.services.evening import FIRST, Evening, Numbers
from app.services.jobs import Job
from app.web import pages, words
from app.web.forms import fresh
from app.web.parts import Choice, Field, Form, Frame, Pair
from app.web.rows import about, date_of, job_href, next_id, shown
from app.web.typed import Typed
from app.web.yard_rows import one_number, yard_row

MOST_LINES = 60


@dataclass(frozen=True, slots=True)
class Back:
    """What came back with the page: what was typed, and what was wrong with it."""

    typed: Typed | None = None
    errors: Mapping[str, str] = field(default_factory=dict)
    numbers: Numbers | None = None
    numbers_typed: str = ""
    numbers_error: str = ""

    def value(self, name: str, usual: str = "") -> str:
        """What a field holds."""
        return usual if self.typed is None else self.typed.raw(name)


NOTHING = Back()


@dataclass(frozen=True, slots=True)
class Sender:
    """Who is at the page: the people there are, and whose phone it is."""

    people: tuple[Choice, ...]
    person: int | None


def evening_page(
    frame: Frame, found: Evening, day: Day, month: str, printed: str, sender: Sender, imperial: bool, back: Back
) -> pages.Evening:
    """What got done."""
    lines = _sent_lines(found, imperial, back) if back.typed is not None else _lines(found.likely, imperial)
    return pages.Evening(
        frame=frame,
        day=words.weekday(date_of(day), date_of(day)),
        lines=lines[:FIRST],
        more=lines[FIRST:],
        on=Field(
            "on", "Done on", "date", back.value("on", date_of(day).isoformat()), error=back.errors.get("on", ""),
            high=date_of(day).isoformat(), required=True,
        ),
        who=_who(sender, back, "person"),
        error=back.errors.get("", "") or back.errors.get("id", ""),
        done=tuple(yard_row(job, day, imperial, who=found.by.get(job.row.key, "")) for job in found.done),
        numbers=_numbers(day, month, sender, back),
        printed=printed,
        heard=tuple(Pair(str(one.number), one.title, job_href(one.key)) for one in back.numbers.heard)
        if back.numbers
        else (),
        empty="Nothing is likely to have been done today, the round apart.",
        more_open=any(one.ticked or (one.ask is not None and one.ask.error) for one in lines[FIRST:]),
    )  # fmt: skip


def _who(sender: Sender, back: Back, ident: str) -> Field | None:
    if not sender.people:
        return None
    usual = str(sender.person) if sender.person is not None else ""
    value = back.value("person", usual)
    return Field("person", "Who", "list", value, choices=sender.people, error=back.errors.get("person", ""), id=ident)


def _lines(jobs: list[Job], imperial: bool) -> tuple[pages.EveningLine, ...]:
    return tuple(_line(job, n, imperial, NOTHING) for n, job in enumerate(jobs[:MOST_LINES]))


def _sent_lines(found: Evening, imperial: bool, back: Back) -> tuple[pages.EveningLine, ...]:
    """The lines as they were sent, in their order, so that what was ticked and typed stands where it stood."""
    by_key = {job.row.key: job for job in found.likely}
    keys = [back.value(f"key.{n}") for n in range(MOST_LINES)]
    return tuple(_line(by_key[key], n, imperial, back) for n, key in enumerate(keys) if key in by_key)


def _line(job: Job, n: int, imperial: bool, back: Back) -> pages.EveningLine:
    r = job.row
    name = f"m.{n}"
    typed = back.value(name) if back.typed is not None else None
    ask = one_number(job.asks, imperial, f"e{n}", name, typed=typed, error=back.errors.get(name, ""))
    return pages.EveningLine(
        n, r.key, next_id(r.key, job.said.times), shown(r.opens, r.best, r.closes), r.trade, r.title,
        about(job, note=False), back.value(f"did.{n}") == "yes", ask, job_href(r.key),
    )  # fmt: skip


def _numbers(day: Day, month: str, sender: Sender, back: Back) -> Form:
    today = date_of(day).isoformat()
    numbers = Field(
        "numbers", "Numbers", "text", back.numbers_typed,
        help="With a space between, and what was weighed after a =: 3 7=14.2 12",
        error=back.numbers_error, required=True,
    )  # fmt: skip
    on = Field("on", "Done on", "date", today, high=today, required=True, id="numbers-on")
    who = _who(sender, NOTHING, "numbers-person")
    fields = (numbers, on, *((who,) if who else ()))
    return Form("/evening", "Tick these", fields, (Pair("month", month), *fresh()))
