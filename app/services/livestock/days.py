"""Appointments with somebody outside: what is booked, what must be booked by when, and what hangs from the day."""

from collections.abc import Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.rules.live import Live
from app.rules.moment import Said, StepDay
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Bar, Fate, Laid, Task
from app.services.book import Book
from app.services.jobs import Job, jobs_named
from app.services.larder.larder import larder
from app.services.livestock.carcases import Carcase, carcase
from app.services.livestock.groups import Group, find_group
from app.services.livestock.held_ones import HeldOnes, held_ones, number_held
from app.services.project import said_of
from app.services.ticking import Words, tick, undo
from app.trade.meat.freezer import room_litres

COMES = {"ram-hired": ("hire", "come", "the ram")}
"""Sheets on which somebody comes without a step that says so: the step that books, the day, who it is."""
AHEAD_DAYS, BACK_DAYS = 400, 14
FARTHEST_DAYS = 3 * 366


class Freezer(NamedTuple):
    """Room for what comes back: litres wanted and free (None where no freezer is put down)."""

    wanted: float
    free: float | None


class Appointment(NamedTuple):
    """A day with somebody outside: its entry, who, the day (None while the law holds it until something is said),
    whether it is booked, and the step that books it.

    ``hangs`` are the jobs before and after it, in order; ``held`` the bars in which the day falls, ``ones`` single
    animals that are held on it and can't go, ``all_held`` where no others are left; ``none_left`` names the group that
    it is for where that is over; ``back`` what it makes, by name, with the sheet that it follows.
    """

    laid: Laid
    sheet: Sheet
    who: str
    day: Day | None
    booked: bool
    book_key: str
    book_by: Day | None
    asks_day: bool
    day_key: str
    hangs: tuple[Job, ...]
    held: tuple[Bar, ...]
    ones: tuple[HeldOnes, ...]
    all_held: bool
    none_left: str
    carcase: Carcase | None
    freezer: Freezer | None
    back: tuple[tuple[str, str], ...]


class Days(NamedTuple):
    """What must be booked, first the most pressing; what is booked, in order of its day."""

    to_book: tuple[Appointment, ...]
    booked: tuple[Appointment, ...]


def days(book: Book, session: Session, today: Day) -> Days:
    """Every day to come with somebody outside.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    free = larder(book, session, today).litres_free
    found = [
        one
        for laid in live.laid.values()
        if (sheet := book.library.sheets.get(laid.entry.sheet)) is not None and sheet.trade == "livestock"
        and not laid.entry.struck
        for one in _of(book, session, laid, sheet, free, today)
    ]  # fmt: skip
    to_book = sorted(
        (one for one in found if not one.booked), key=lambda one: (one.book_by or one.day or 0, one.day or 0)
    )
    return Days(tuple(to_book), tuple(sorted((one for one in found if one.booked), key=lambda one: one.day or 0)))


def booked_for(book: Book, book_key: str, day: Day, today: Day, ident: str) -> None:
    """The day was given: the booking is done, and all that hangs from it moves to that day. Given anew, the later
    one holds; the same sent twice is nothing new.

    Raises: NotFound when there is no such booking; BadInput for a day that can't be.
    """
    with book.reading() as session:
        if store.tick(session, ident) is not None:
            return
        found = days(book, session, today)
        one = next((one for one in (*found.to_book, *found.booked) if one.book_key == book_key), None)
        if one is None:
            raise NotFound("There is no such booking any more.")
        row = store.task_row(session, book_key)
        before = said_of(row.extra).stands if row is not None else ""
    if one.asks_day and day < today:
        raise BadInput({"day": "That day is past. Take down a day to come, or tick the job itself."})
    if one.asks_day and day > today + FARTHEST_DAYS:
        raise BadInput({"day": "That is more than three years off. Is the year right?"})
    if one.booked and before:
        undo(book, before, today, tick_id=f"{ident}-undo")
    words = Words({"day": day}, ("day",)) if one.asks_day else Words()
    tick(book, book_key, today, tick_id=ident, words=words)


def _of(book: Book, session: Session, laid: Laid, sheet: Sheet, free: float | None, today: Day) -> list[Appointment]:
    found = []
    steps = {step.id: step for step in sheet.steps}
    for step in sheet.steps:
        who, booking = _who(sheet, step)
        if not who:
            continue
        tasks = [task for task in laid.tasks if task.step == step.id and task.done is None]
        task = next((task for task in tasks if _near(task, today)), None)
        if task is None:
            continue
        booked_by = next(
            (one for one in laid.tasks if one.step == booking and one.label == task.label[: len(one.label)]), None
        )
        found.append(_one(book, session, laid, sheet, steps, step, who, task, booked_by, free, today))
    return found


def _one(
    book: Book, session: Session, laid: Laid, sheet: Sheet, steps: dict[str, Step], step: Step, who: str, task: Task,
    booking: Task | None, free: float | None, today: Day,
) -> Appointment:  # fmt: skip
    day, live, group = task.best, book.live(session, today), _group(book, session, laid, today)
    slaughter = step.act == "slaughter"
    ones = _ones(session, live, group, day or today) if slaughter else []
    kills = carcase(book, live, laid, today) if slaughter else None
    room = Freezer(room_litres(kills.packed_kg), free) if kills is not None else None
    acts = ("slaughter",) if slaughter else ((step.act,) if step.act else ())
    bars = live.bars()
    held = [bar for act in acts for bar in bars.on(act, laid.entry, sheet.species, day or today) if bar.kind == "law"]
    back = [
        (make.name, book.library.sheets[make.sheet].title)
        for one in (step, *(steps[name] for name in _hang(sheet, step.id)))
        for make in one.makes
        if make.kind == "entry" and make.sheet in book.library.sheets
    ]
    booked_ask = steps[booking.step] if booking is not None else None
    return Appointment(
        laid, sheet, who, day, booking is not None and booking.done is not None,
        booking.key if booking is not None else "", booking.closes if booking is not None else None,
        booked_ask is not None and any(ask.name == "day" for ask in booked_ask.asks), task.key,
        tuple(_hanging(book, session, laid, sheet, step, booking, today)), tuple(held),
        tuple(ones), group is not None and bool(ones) and number_held(ones) >= group.alive, _none_left(group), kills,
        room, tuple(back),
    )  # fmt: skip


def _group(book: Book, session: Session, laid: Laid, today: Day) -> Group | None:
    """The group that an appointment is for, or is one of its own jobs."""
    try:
        return find_group(book, session, str(laid.entry.facts.get("for") or laid.entry.id), today)
    except NotFound:
        return None


def _ones(session: Session, live: Live, group: Group | None, day: Day) -> list[HeldOnes]:
    """Single animals of the group that are inside a withdrawal period on the day: they stay, and the others may go."""
    return [one for one in held_ones(session, live, [group], day) if one.meat] if group is not None else []


def _none_left(group: Group | None) -> str:
    return group.entry.name if group is not None and not group.alive else ""


def _who(sheet: Sheet, step: Step) -> tuple[str, str]:
    """Who it is with and which step books it; "" for a step that is no appointment."""
    if sheet.id in COMES:
        booking, comes, who = COMES[sheet.id]
        return (who, booking) if step.id == comes else ("", "")
    if not step.appointment:
        return "", ""
    return step.appointment, step.start.step if isinstance(step.start, Said) else ""


def _near(task: Task, today: Day) -> bool:
    """Whether a day lies ahead, or can't be told while the law holds it."""
    if task.best is None:
        return task.fate is Fate.BARRED
    return today - BACK_DAYS <= task.best <= today + AHEAD_DAYS


def _hang(sheet: Sheet, name: str) -> set[str]:
    """The steps that are reckoned from a step, and from those in turn; not the round."""
    found = {name}
    for _ in sheet.steps:
        more = {
            step.id
            for step in sheet.steps
            if isinstance(step.start, StepDay) and step.start.step in found and step.round is None
        }
        if more <= found:
            break
        found |= more
    return found - {name}


def _hanging(
    book: Book, session: Session, laid: Laid, sheet: Sheet, step: Step, booking: Task | None, today: Day
) -> Sequence[Job]:
    """The jobs that hang from the day, in order, the day itself among them; the booking is shown by its own form."""
    names = {step.id, *_hang(sheet, step.id)} - ({booking.step} if booking is not None else set())
    keys = [task.key for task in laid.tasks if task.step in names]
    jobs = jobs_named(book, session, keys, today)
    return [job for job in jobs if job.open or job.row.done is not None][:24]
