"""What animals there are, as a page: what is barred first, then the groups with what is next."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Task
from app.services.livestock.groups import STANDS_STILL, Group, Herd, date_of
from app.services.livestock.held import Held, Still
from app.services.livestock.held_ones import HeldOnes
from app.services.livestock.medicine import Bottle
from app.services.livestock.orders import InForce
from app.services.livestock.put import Elsewhere
from app.sheets.library import Library
from app.web import pages, told
from app.web.drawing import Stretch, line
from app.web.forms import Wrong, field, fresh
from app.web.links import entry_href
from app.web.livestock.words import (
    HOLDING,
    SAID,
    because,
    capital,
    held_says,
    href,
    on,
    ones_say,
    order_says,
    species,
    until,
)
from app.web.pages.livestock import GroupLine, GroupPart, NextJob, StandstillTable, StillRow
from app.web.parts import NO_LINE, Choice, Field, Form, Frame, Link, Pair
from app.web.rows import job_href
from app.web.words import count, counted, listed, short

AHEAD_DAYS = 84
"""How far the lines of windows reach: twelve weeks."""
LINKS = (
    Link("Medicine cupboard", "/livestock/medicine"), Link("Treat a group", "/livestock/medicine/treat"),
    Link("Medicine book", "/livestock/register/medicine"), Link("Movements", "/livestock/register/movements"),
    Link("Appointments", "/livestock/days"), Link("Feed, water, bedding", "/livestock/feed"),
    Link("What to expect", "/livestock/expect"), Link("Grass and hay", "/livestock/grass"),
    Link("Animals from a table", "/livestock/in"), Link("Birds must be housed", "/found/housing-order"),
    Link("A disease zone", "/found/movement-order"),
)  # fmt: skip
CAUTIONS = ("notifiable-disease", "zoonoses", "kitchen-scraps", "law-changes")


class Seen(NamedTuple):
    """What the page tells of."""

    herd: Herd
    held: Sequence[Held]
    ones: Sequence[HeldOnes]
    still: Still
    orders: Sequence[InForce]
    bottles: Sequence[Bottle]
    sheets: Sequence[Sheet]
    elsewhere: Mapping[str, Sequence[Elsewhere]]


def livestock_page(
    frame: Frame, seen: Seen, library: Library, wrong: Wrong, today: date
) -> pages.Livestock:  # fmt: skip
    """The page."""
    by_group: dict[str, list[Held]] = {}
    for one in seen.held:
        by_group.setdefault(one.group.id, []).append(one)
    add, more = _add_form(seen.sheets, wrong, today)
    return pages.Livestock(
        frame=frame,
        held=(*_held(by_group, seen.herd, today), *_ones(seen.ones, today), *_still_says(seen.still, today),
              *(Pair(one.entry.name, order_says(one, today), entry_href(one.entry.id)) for one in seen.orders)),
        warnings=_bottles(seen.bottles, today),
        parts=_parts(seen, by_group, library, today),
        coming=tuple(_line(one, by_group.get(one.entry.id, ()), (), library, today) for one in seen.herd.coming),
        over=f"{counted(seen.herd.over, 'group')} more {'is' if seen.herd.over == 1 else 'are'} over."
        if seen.herd.over else "",
        add=add,
        more_add=more,
        standstill=standstill_table(seen.still, today),
        links=LINKS,
        cautions=told.cautions(library, CAUTIONS),
        empty="" if seen.herd.here or seen.herd.coming else "No animals are put down here.",
    )  # fmt: skip


def next_job(task: Task, library: Library, sheet: Sheet, today: date) -> NextJob:
    """A job of a group as a line."""
    now = today.toordinal()
    step = told.step_of(sheet, task.step)
    drawn = NO_LINE
    if task.opens is not None and task.best is not None:
        drawn = line(Stretch(now - 7, now + AHEAD_DAYS, now), task.opens, task.closes, (task.best,), task.done)
    late = task.closes is not None and task.closes < now
    title = step.title if step is not None else task.step
    return NextJob(title, job_href(task.key), told.days(task.opens, task.best, task.closes, today), drawn, late)


def standstill_table(still: Still, today: date) -> StandstillTable:
    """What may move when, of the nation, from what really arrived."""
    name = told.NATIONS.get(still.nation or "", still.nation or "")
    says = ""
    if still.nation is None:
        says = "Which nation the holding lies in is not said, so no legal date is given. Set it on the Household page."
    elif not still.known:
        says = f"For {name} no standstill is told here. Ask your authority."
    elif not still.rows:
        says = f"{name} has no standstill of whole holdings; one may be ordered at any time: ask before anything moves."
    if says:
        return StandstillTable((), (), (says,), "")
    after = [("after cattle, sheep or goats come", ("cattle", "sheep", "goat")), ("after pigs come", ("pig",))]
    rows = []
    for held in STANDS_STILL:
        days = [max((d for came, other, d, _ in still.rows if came in names and other == held), default=0)
                for _, names in after]  # fmt: skip
        last = still.until.get(held)
        free = "free" if last is None else f"from {short(date.fromordinal(last + 1), today)}"
        rows.append(StillRow(species(held), tuple(f"{d} days" if d else "–" for d in days), free, last is not None))
    law = {row[3].source: row[3] for row in still.rows}
    source = "; ".join(f"{text}, last checked {on(one.checked, today)}" for text, one in law.items())
    told_of = (
        *(f"{entry.name} came on {on(date_of(entry), today)}." for entry, _ in still.arrivals if still.until),
        "The day they come is day 0. To slaughter they may go throughout. Poultry and deer neither hold nor are held."
        " Some ways are exempt: check your local rules.",
    )
    return StandstillTable(
        ("of which", *(head for head, _ in after), "may leave"), tuple(rows), told_of, f"{name}: {source}"
    )


def _held(by_group: dict[str, list[Held]], herd: Herd, today: date) -> tuple[Pair, ...]:
    found = []
    species_of = {one.entry.id: one.species for one in (*herd.here, *herd.coming)}
    for rows in by_group.values():
        of = because(rows)
        says = held_says(rows, species_of[rows[0].group.id], today)
        found.append(Pair(rows[0].group.name, f"{says}{f' ({of}.)' if of else ''}", href(rows[0].group.id)))
    return tuple(found)


def _ones(ones: Sequence[HeldOnes], today: date) -> tuple[Pair, ...]:
    return tuple(
        Pair(listed(one.names), f"{capital(ones_say(one, today))} ({one.group.entry.name}.)", href(one.group.entry.id))
        for one in ones
    )


def _still_says(still: Still, today: date) -> tuple[Pair, ...]:
    ends: dict[Day, list[str]] = {}
    for name, last in still.until.items():
        ends.setdefault(last, []).append(species(name).lower())
    return tuple(
        Pair("Standstill", f"No {listed(names, 'or')} may leave but to slaughter {until(last, today)}.", "#still-h")
        for last, names in sorted(ends.items())
    )


def _bottles(bottles: Iterable[Bottle], today: date) -> tuple[Pair, ...]:
    return tuple(
        Pair(one.row.name, bottle_says(one, today), "/livestock/medicine") for one in bottles if one.past
    )  # fmt: skip


def bottle_says(one: Bottle, today: date) -> str:
    """Until when a medicine may be used."""
    if one.row.finished_on is not None:
        how = f": {one.row.finished_how}" if one.row.finished_how else ""
        return f"finished on {on(one.row.finished_on.toordinal(), today)}{how}"
    if one.until is None:
        return "no expiry date is said"
    when = on(one.until, today)
    if one.past:
        what = "expired on" if one.why == "expires" else "open too long: it was good until"
        return f"{what} {when}; use it no more, and take it back to the vet"
    return f"good until {when}{', once opened' if one.why == 'opened' else ''}"


def _parts(seen: Seen, held: dict[str, list[Held]], library: Library, today: date) -> tuple[GroupPart, ...]:
    parts: dict[str, list[GroupLine]] = {}
    for one in seen.herd.here:
        told_of = seen.elsewhere.get(one.entry.id, ())
        parts.setdefault(one.species, []).append(_line(one, held.get(one.entry.id, ()), told_of, library, today))
    return tuple(GroupPart(species(name), tuple(lines)) for name, lines in parts.items())


def _line(
    group: Group, held: Sequence[Held], told_of: Sequence[Elsewhere], library: Library, today: date
) -> GroupLine:  # fmt: skip
    at = date_of(group.entry)
    since = f"{'from' if at > today.toordinal() else 'since'} {on(at, today)}"
    sub = " · ".join(part for part in (group.sheet.title, group.entry.place, since) if part)
    says = ""
    if held:
        says = held_says(held, group.species, today)
    following = next_job(group.next[0], library, group.sheet, today) if group.next else None
    return GroupLine(
        group.entry.name, href(group.entry.id), alive_says(group), sub, says, following, elsewhere_says(told_of)
    )


def elsewhere_says(rows: Sequence[Elsewhere]) -> str:
    """What was told of a group on other pages, and is not yet taken off its count."""
    kinds: dict[str, int] = {}
    for one in rows:
        kinds[one.kind] = kinds.get(one.kind, 0) + one.number
    told_of = listed(f"{SAID.get(kind, kind).lower()}: {count(number)}" for kind, number in kinds.items())
    return f"Told on another page, {told_of}; not yet taken off the count" if told_of else ""


def alive_says(group: Group) -> str:
    """How many are alive, and of how many that began."""
    began = group.facts[0].number if group.facts else group.alive
    of = f" of {count(began)}" if began > group.alive else ""
    return f"{count(group.alive)}{of}" if "head" in group.sheet.facts else "one"


def _add_form(sheets: Sequence[Sheet], wrong: Wrong, today: date) -> tuple[Form, tuple[Field, ...]]:
    typed, errors = wrong.of("add")
    choices = tuple(Choice(one.id, one.title) for one in sheets)
    fields = (
        field("sheet", "What they are", typed, errors, kind="list", choices=choices, required=True),
        field("head", "How many", typed, errors, kind="count", help="Left out, the sheet’s usual number."),
        field("on", "They come, came or were served on", typed, errors, today.isoformat(), kind="date", required=True),
        field("name", "What you call them", typed, errors),
    )
    more = (
        field("place", "Where", typed, errors),
        field("other", f"From: {HOLDING.lower()}", typed, errors),
        field("tags", "Tags or marks on the paper", typed, errors),
        field("paper", "Licence or notice number", typed, errors),
    )
    note = "Their jobs follow from that day, and a standstill where the law has one."
    return Form("/livestock", "Put them down", fields, fresh(), error=errors.get("", ""), note=note), more
