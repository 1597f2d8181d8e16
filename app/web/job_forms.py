"""The three forms of a job: done, another day, not this year."""

from collections.abc import Mapping, Sequence

from app.rules.spans import Day
from app.rules.state import State
from app.rules.terms import Ask
from app.services.job import JobView
from app.services.moving import Risk
from app.web import fields
from app.web.parts import Choice, Field, Form, Pair
from app.web.rows import date_of, next_id, shown
from app.web.typed import Typed

PREFIX = "m."
"""Before the names of measures in a form."""


class Back:
    """What came back with a form: what was typed, and what was wrong, for the one form of the three it was."""

    def __init__(self, typed: Typed | None, errors: Mapping[str, str], which: str, risk: Risk | None) -> None:
        self.typed, self.errors, self.which, self.risk = typed, errors, which, risk

    def value(self, which: str, name: str, usual: str = "") -> str:
        """What a field holds."""
        return self.typed.raw(name) if self.typed is not None and which == self.which else usual

    def error(self, which: str, name: str) -> str:
        """What is wrong with a field."""
        return self.errors.get(name, "") if which == self.which else ""


class JobForms:
    """The three forms of a job."""

    def __init__(
        self,
        view: JobView,
        today: Day,
        people: tuple[Choice, ...],
        entries: Sequence[Choice],
        back: Back,
        imperial: bool,
    ) -> None:
        self.view, self.today, self.people, self.entries, self.back = view, today, people, entries, back
        self.imperial = imperial
        r = view.job.row
        self.hidden = (
            Pair("key", r.key),
            Pair("id", next_id(r.key, view.job.said.times)),
            Pair("shown", shown(r.opens, r.best, r.closes)),
        )

    def tick(self) -> Form | None:
        """Done: the day, what is asked, a remark, who. A job that is done already takes what was not said yet."""
        job = self.view.job
        if job.state is State.LET_GO or (job.state is State.DONE and not self.asks()):
            return None
        now = date_of(self.today if job.row.done is None else job.row.done).isoformat()
        on = Field(
            "on", "Done on", "date", self.back.value("tick", "on", now), required=True,
            error=self.back.error("tick", "on"), high=date_of(self.today).isoformat(),
        )  # fmt: skip
        remark = Field(
            "remark", "Remark", "lines", self.back.value("tick", "remark"), error=self.back.error("tick", "remark")
        )
        asked = [self._asked(ask) for ask in self.asks()]
        return Form(
            "/tick", "Done" if job.row.done is None else "Add this", (on, *asked, remark, *self._who()), self.hidden
        )

    def asks(self) -> tuple[Ask, ...]:
        """What is asked when it is ticked."""
        return fields.in_units(self.view.step.asks, self.imperial) if self.view.step is not None else ()

    def _asked(self, ask: Ask) -> Field:
        typed = self.back.typed.raw(PREFIX + ask.name) if self.back.typed and self.back.which == "tick" else None
        error = self.back.error("tick", PREFIX + ask.name)
        free = ask._replace(optional=True, default=None)
        return fields.field(free, typed, error, entries=self.entries, prefix=PREFIX)

    def _who(self) -> tuple[Field, ...]:
        if not self.people:
            return ()
        value, error = self.back.value("tick", "person"), self.back.error("tick", "person")
        return (Field("person", "Who", "choice", value, choices=self.people, error=error),)

    def move(self) -> Form | None:
        """To another day; with what it risks once that was asked."""
        job, step = self.view.job, self.view.step
        r = job.row
        if not job.open or r.closes is None or r.best is None or (step is not None and step.firm):
            return None
        if r.legal and self.today > r.closes:
            return None
        risk = self.back.risk
        usual = date_of(max(self.today, r.best)).isoformat()
        on = Field(
            "on", "To", "date", self.back.value("move", "on", usual), required=True, id="move-on",
            error=self.back.error("move", "on"), low=date_of(self.today).isoformat(),
            high=date_of(r.closes).isoformat() if r.legal else "",
        )  # fmt: skip
        if risk is None:
            return Form("/move", "Move it", (on,), self.hidden, quiet=True)
        sure = Field("confirm", "Move it there all the same", "tick")
        hidden = (*self.hidden, Pair("risked", str(risk.to)))
        return Form("/move", "Move it", (on, sure), hidden, error=risk.says, quiet=True)

    def let_go(self) -> Form | None:
        """Not this year, with a reason."""
        if not self.view.job.open:
            return None
        reason = Field(
            "reason", "Why", "text", self.back.value("letgo", "reason"), id="letgo-reason",
            error=self.back.error("letgo", "reason"),
        )  # fmt: skip
        return Form("/letgo", "Not this year", (reason,), self.hidden, quiet=True)
