"""What goes into the projection and comes out of it, as plain tuples; days are day numbers (see `app.rules.spans`)."""

from typing import NamedTuple

from app.rules.spans import Day


class TaskRow(NamedTuple):
    """A job as planned, with all that a page needs to show it, in the order of the table's columns.

    ``label`` is the cycle as text ("3.7"); ``cautions`` are ids with a space between; ``extra`` is text that records
    keep as it is (JSON, for a page's own needs).
    """

    key: str
    entry: str
    step: str
    label: str
    sheet: str
    trade: str
    title: str
    entry_name: str
    place: str
    opens: Day | None
    best: Day | None
    closes: Day | None
    done: Day | None
    fate: str
    missed: str
    minutes: int
    sure: bool
    legal: bool = False
    act: str = ""
    cautions: str = ""
    extra: str = ""


class StandingRow(NamedTuple):
    """A daily round of an entry; ``part`` is morning or evening, ``last`` None as long as it is here."""

    entry: str
    step: str
    first: Day
    last: Day | None
    minutes_a_day: int
    part: str
    sheet: str
    trade: str
    title: str
    entry_name: str
    place: str


class ClashRow(NamedTuple):
    """Two claims on one thing at one time."""

    on_what: str
    subject: str
    one: str
    other: str
    first: Day
    last: Day
    says: str


class LackRow(NamedTuple):
    """Why a step could not be dated."""

    entry: str
    step: str
    fact: str
    reason: str


class FeedRow(NamedTuple):
    """A job with its stamp: ``changed_at`` is ISO 8601 in UTC, ``sequence`` never goes back."""

    task: TaskRow
    sequence: int
    changed_at: str


class GoneRow(NamedTuple):
    """A job that no longer follows from the facts, as a calendar saw it last."""

    key: str
    sequence: int
    changed_at: str
    gone_at: str
    summary: str
    opens: Day | None
    closes: Day | None


class Found(NamedTuple):
    """Something a search found: an entry (``key`` is "") or a job."""

    entry: str
    key: str
    title: str
    place: str
    best: Day | None


class Measure(NamedTuple):
    """How much there is on record."""

    entries: int
    ticks: int
    tasks: int


class BatchRow(NamedTuple):
    """Something kept, with what is left of it, in the order of the table's columns.

    ``number`` is what stands on its label ("26-014"); ``store`` shelf, freezer, store, fridge or seed tin;
    ``basis`` says whether the day it keeps until is one of quality or of safety, ``source`` what that rests on;
    ``killed`` is "" unless it is meat and somebody said; ``pack_kg`` what one pack weighs, of what is counted in packs.
    """

    id: str
    number: str
    store: str
    what: str
    variety: str
    sheet: str
    trade: str
    entry: str
    key: str
    made_on: Day
    amount: float | None
    unit: str
    left: float | None
    short: bool
    gone: bool
    keeps_until: Day | None
    basis: str
    source: str
    killed: str
    place: str
    note: str
    pack_kg: float | None = None
