"""Appointments as a page: what must be booked, what is booked, and what hangs from each day."""

from collections.abc import Mapping
from datetime import date

from app.rules.spans import Day
from app.rules.tasks import Bar
from app.services.livestock.days import Appointment, Days
from app.services.livestock.held_ones import HeldOnes
from app.sheets.library import Library
from app.web import pages, told
from app.web.links import entry_href
from app.web.livestock.husbandry_links import ways
from app.web.livestock.words import ones_say
from app.web.pages.husbandry import DayAhead
from app.web.parts import Field, Follow, Form, Frame, Link, Pair
from app.web.rows import date_of, job_href
from app.web.rows import told as told_of
from app.web.rows import when as when_of
from app.web.weights import weight
from app.web.words import SP, anchor, counted, day, figure, left, listed, weekday

PUT = (
    Link("Pigs to the abattoir", "/add/abattoir-pigs"), Link("Sheep", "/add/abattoir-sheep"),
    Link("Cattle", "/add/abattoir-cattle"), Link("Goats", "/add/abattoir-goats"), Link("The shearer", "/add/shearer"),
    Link("The scanner", "/add/scanner"), Link("The vet", "/add/vet-visit"), Link("A ram, hired", "/add/ram-hired"),
)  # fmt: skip
CAUTIONS = ("medicines", "bulls-and-mothers", "law-changes")
NOTES = (
    "Abattoirs are booked eight to ten weeks ahead in autumn, longer before Christmas (common practice).",
    "Withdrawal is read from what was put down; read the medicine book too, and check your local rules.",
)


def days_page(
    frame: Frame, found: Days, library: Library, imperial: bool, today: date,
    wrong: tuple[str, Mapping[str, str], Mapping[str, str]], ident: str,
) -> pages.LivestockDays:  # fmt: skip
    """The page; ``wrong`` is the booking that was refused, what was typed, and why."""
    kills = any(one.carcase is not None for one in (*found.to_book, *found.booked))
    names = ("slaughter", *CAUTIONS) if kills else CAUTIONS
    shown = [
        _day(one, library, imperial, today, wrong, f"{ident}{n}")
        for n, one in enumerate((*found.to_book, *found.booked))
    ]
    split = len(found.to_book)
    return pages.LivestockDays(
        frame, _first(found, today), tuple(shown[:split]), tuple(shown[split:]), PUT, ways("/livestock/days"),
        told.cautions(library, names) if found.to_book or found.booked else (), NOTES,
        "" if shown else "No day with anybody outside is put down for the coming year.",
    )  # fmt: skip


def _first(found: Days, today: date) -> Pair | None:
    if found.to_book and found.to_book[0].book_by is not None:
        one = found.to_book[0]
        by = date_of(one.book_by or 0)
        return Pair(left(by, today).capitalize(), f"Book {one.who}: {one.laid.entry.name}", f"#{anchor(one.day_key)}")
    if found.booked:
        one = found.booked[0]
        on = weekday(date_of(one.day), today) if one.day else "Held"
        return Pair(on, f"{one.who.capitalize()}: {one.laid.entry.name}", f"#{anchor(one.day_key)}")
    return None


def _day(
    one: Appointment, library: Library, imperial: bool, today: date,
    wrong: tuple[str, Mapping[str, str], Mapping[str, str]], ident: str,
) -> DayAhead:  # fmt: skip
    which, typed, errors = wrong
    mine = which == one.book_key and bool(which)
    return DayAhead(
        id=anchor(one.day_key),
        name=one.laid.entry.name,
        href=entry_href(one.laid.entry.id),
        who=one.who.removeprefix("the ").capitalize(),
        when=_when(one, today),
        by=_by(one, today),
        trouble=not one.booked and one.book_by is not None and one.book_by < today.toordinal() + 7,
        held=(
            *((f"None of ‘{one.none_left}’ is left: strike this day out on its own page.",) if one.none_left else ()),
            *(_held(bar, library, today) for bar in one.held),
            *(_stays(ones, one.all_held, today) for ones in one.ones),
        ),
        facts=tuple(_facts(one, imperial)),
        short=_room(one),
        hangs=tuple(
            Follow(job.row.title, job_href(job.row.key), when_of(job, today) if job.open else told_of(job, today),
                   past=not job.open, note=told_of(job, today) if job.open else "")
            for job in one.hangs
        ),
        form=_form(one, typed if mine else {}, errors if mine else {}, today, ident) if one.book_key else None,
        open=mine or not one.booked,
    )  # fmt: skip


def _held(bar: Bar, library: Library, today: date) -> str:
    """A bar of law in which the day falls, with its source."""
    says = f"{bar.says.rstrip('.')}{_until(bar.last, today)}."
    return f"{says} {told.source(library, bar.source)}; check your local rules."


def _stays(ones: HeldOnes, all_held: bool, today: date) -> str:
    """Single animals that can't go on that day."""
    others = "There are no others: take a later day." if all_held else "The others may go."
    return f"{listed(ones.names)}: {ones_say(ones, today)} {others}"


def _when(one: Appointment, today: date) -> str:
    if one.day is None:
        return "no day while it is held"
    on = date_of(one.day)
    return weekday(on, today) if one.booked else f"hoped for about {day(on, today)}"


def _by(one: Appointment, today: date) -> str:
    if one.booked:
        return "booked"
    if one.book_by is None:
        return ""
    by = date_of(one.book_by)
    late = f", {left(by, today)}" if one.book_by < today.toordinal() else ""
    return f"book by {day(by, today)}{late}"


def _until(last: Day | None, today: date) -> str:
    if last is None:
        return ", until its days are written down"
    return f", until {day(date_of(last), today)}"


def _facts(one: Appointment, imperial: bool) -> list[Pair]:
    found = []
    if one.carcase is not None:
        low, best, high = one.carcase.carcase_kg
        live = weight(one.carcase.live_kg, imperial)
        found.append(Pair("live", f"{live}, {counted(one.carcase.head, 'head', 'head')}"))
        found.append(Pair("carcase", f"about {weight(best, imperial)}"
                          f" ({weight(low, imperial)} to {weight(high, imperial)})"))  # fmt: skip
        found.append(Pair("packed", f"about {weight(one.carcase.packed_kg, imperial)}"))
    if one.freezer is not None:
        free = f", {figure(one.freezer.free, 0)}{SP}l are free" if one.freezer.free is not None else ""
        found.append(Pair("freezer", f"{figure(one.freezer.wanted, 0)}{SP}l wanted{free}"))
    found += [Pair("comes back as", f"{name}, on the sheet ‘{title}’") for name, title in one.back]
    return found


def _room(one: Appointment) -> str:
    if one.freezer is None:
        return ""
    if one.freezer.free is None:
        return "Put down your freezer under Kit, and its free room is told here."
    short = one.freezer.wanted - one.freezer.free
    if short <= 0:
        return ""
    return f"Short of {figure(short, 0)}{SP}l of freezer: eat, cure, share, or find room before that day."


def _form(one: Appointment, typed: Mapping[str, str], errors: Mapping[str, str], today: date, ident: str) -> Form:
    fields: tuple[Field, ...] = ()
    if one.asks_day:
        usual = date_of(one.day).isoformat() if one.day is not None and one.day >= today.toordinal() else ""
        fields = (
            Field("day", "Day given", "date", typed.get("day", usual), error=errors.get("day", ""), required=True,
                  low=today.isoformat(), id=f"day-{anchor(one.day_key)}"),
        )  # fmt: skip
    hidden = (Pair("key", one.book_key), Pair("id", typed.get("id", "") or ident))
    said = "Booked for another day" if one.booked else "It is booked"
    return Form("/livestock/days", said, fields, hidden, quiet=one.booked)
