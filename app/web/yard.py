"""Today and the evening in words: for the yard, big and few."""

from app.rules.spans import Day
from app.services.evening import Evening, Numbers
from app.services.jobs import Job
from app.services.rounds import Walk
from app.services.today import NotToday, Today
from app.web import pages, words
from app.web.parts import Field, Form, Frame, Group, Link, Pair, Row
from app.web.rows import about, date_of, job_href, next_id, row, shown

NO_PLACE = "Elsewhere"


def today_page(frame: Frame, found: Today) -> pages.Today:
    """Today."""
    on = date_of(found.day)
    asked = [*found.urgent, *found.best, *found.later]
    groups = places(found.best, found.day)
    if found.later:
        rows = tuple(row(job, None, found.day, about(job)) for job in found.later)
        note = words.counted(len(rows), "job")
        groups = (*groups, Group("later", "Its time has come, but there is no hurry", rows, note, folded=True))
    urgent = tuple(row(job, None, found.day, about(job)) for job in found.urgent)
    return pages.Today(
        frame=frame,
        weekday=words.WEEKDAYS[on.weekday()],
        day=words.day(on, on),
        sun=_sun(found),
        light=_light(found),
        rounds=tuple(walk_row(walk) for walk in found.walks),
        round_sheet=Link("For whoever minds the place", "/round") if found.walks else None,
        urgent=Group("urgent", "Can’t wait", urgent) if urgent else None,
        places=groups,
        not_today=tuple(
            pages.NotToday(_name(one.job), job_href(one.job.row.key), why_not(one, found.day))
            for one in found.not_today
        ),
        minutes=words.minutes(found.minutes),
        evening=Link("What got done", "/evening"),
        empty=_empty(found) if not asked else "",
    )


def places(jobs: list[Job], today: Day) -> tuple[Group, ...]:
    """Jobs by place, those of no place last; most pressing first within each."""
    by_place: dict[str, list[Job]] = {}
    for job in jobs:
        by_place.setdefault(job.row.place, []).append(job)
    order = sorted(by_place, key=lambda place: (place == "", place.casefold()))
    made = []
    for n, place in enumerate(order):
        here = sorted(by_place[place], key=lambda job: (job.row.closes or 0, job.row.best or 0, job.row.key))
        rows = tuple(row(job, None, today, about(job, place=False)) for job in here)
        minutes = words.minutes(sum(job.row.minutes for job in here))
        made.append(Group(f"place-{n}", place or NO_PLACE, rows, minutes))
    return tuple(made)


def _name(job: Job) -> str:
    r = job.row
    return r.title if r.title == r.entry_name or not r.entry_name else f"{r.title}: {r.entry_name}"


def why_not(one: NotToday, today: Day) -> str:
    """Why a job is not for today."""
    if one.why == "people":
        return f"needs {words.count(one.job.needs.people)}, and not all are here"
    if one.why == "frost":
        return "a frost is likely tonight"
    if one.first is not None:
        return f"not before {words.short(date_of(one.first), date_of(today))}"
    return one.job.held.says if one.job.held is not None and one.job.held.says else "until something is said"


def _sun(found: Today) -> str:
    rises, sets = found.sun.rises, found.sun.sets
    if rises is None or sets is None:
        return found.sun.outcome.capitalize()
    return f"{words.clock(rises.hour * 60 + rises.minute)} – {words.clock(sets.hour * 60 + sets.minute)}"


def _light(found: Today) -> str:
    change = found.daylight_change_min
    said = f"{words.light(found.daylight_hours)} of daylight"
    if not change:
        return said
    return f"{said}, {abs(change)}{words.SP}min {'more' if change > 0 else 'less'} than yesterday"


def _empty(found: Today) -> str:
    return "The round, and then nothing that must be done today." if found.walks else "Nothing must be done today."


def walk_row(walk: Walk) -> Row:
    """A round as a row: one tick."""
    names = list(dict.fromkeys(line.entry_name for line in walk.lines))
    day = shown(walk.day, walk.day, walk.day)
    return Row(
        key=walk.key,
        anchor=words.anchor(walk.key),
        trade=walk.lines[0].trade,
        title=f"{walk.part.capitalize()} round",
        href=f"/round?from={date_of(walk.day)}",
        sub=words.listed(names if len(names) <= 5 else [*names[:4], f"{words.count(len(names) - 4)} more"]),
        minutes=words.minutes(walk.minutes),
        can="undo" if walk.done else "tick",
        tick_id=next_id(walk.key, walk.times),
        shown=day,
        undoes=walk.tick_id,
        state="done" if walk.done else "",
        past=walk.done,
    )


def evening_page(
    frame: Frame, found: Evening, day: Day, month: str, printed: str, numbers: Numbers | None, typed: str, error: str
) -> pages.Evening:
    """What got done."""
    heard = tuple(Pair(str(one.number), one.title, job_href(one.key)) for one in numbers.heard) if numbers else ()
    field = Field("numbers", "Numbers", "text", typed, help="With a space between: 3 7 12", error=error, required=True)
    on = Field("on", "Done on", "date", date_of(day).isoformat(), high=date_of(day).isoformat(), required=True)
    return pages.Evening(
        frame=frame,
        day=words.weekday(date_of(day), date_of(day)),
        rows=tuple(row(job, None, day, about(job)) for job in found.likely),
        done=tuple(row(job, None, day, about(job, note=False)) for job in found.done),
        numbers=Form("/evening", "Tick these", (field, on), (Pair("month", month),)),
        printed=printed,
        heard=heard,
        empty="Nothing is likely to have been done today, the round apart.",
    )
