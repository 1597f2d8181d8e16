"""Today in words: for the yard, big and few."""

from typing import Literal

from app.rules.spans import Day
from app.services.ahead import Ahead
from app.services.jobs import Job
from app.services.today import Today
from app.services.weather.told import Told
from app.web import pages, words
from app.web.parts import Frame, Group, Link
from app.web.rows import date_of, job_href, pressing
from app.web.weather.words import day_name, weather_of, why_not
from app.web.yard_rows import walk_row, yard_row

NO_PLACE = "Elsewhere"

By = Literal["place", "urgency"]
BYS: dict[By, str] = {"place": "By place", "urgency": "By urgency"}
WHAT = {"appointment": "arranged", "best": "best then", "opens": "opens"}


def today_page(frame: Frame, found: Today, by: By, imperial: bool) -> pages.Today:
    """Today."""
    on = date_of(found.day)
    make = _Maker(found, imperial)
    lists = make.by_place() if by == "place" else make.by_urgency()
    asked = [*found.before_frost, *found.urgent, *found.dry_work, *found.best, *found.later]
    return pages.Today(
        frame=frame,
        weekday=words.WEEKDAYS[on.weekday()],
        day=words.day(on, on),
        sun=_sun(found),
        light=_light(found),
        rounds=tuple(walk_row(walk) for walk in found.walks),
        round_sheet=Link("Round sheet", "/round") if found.walks else None,
        found=Link("Found…", "/found"),
        weather=weather_of(found.weather[0], found.day),
        frost=make.group("frost", "Before tonight’s frost", found.before_frost),
        urgent=make.group("urgent", "Can’t wait", found.urgent),
        indoors=make.group("indoors", "Under cover, while it is wet", found.dry_work, "the shortest first"),
        views=tuple(Link(text, f"/today?by={name}", name == by) for name, text in BYS.items()),
        places=(*lists, *make.later()),
        not_today=tuple(
            pages.NotToday(name_of(one.job), job_href(one.job.row.key), why_not(one, on), pressing(one.job, on))
            for one in found.not_today
        ),
        ahead=tuple(_ahead(one, found.weather, found.day) for one in found.ahead),
        done=make.done(),
        minutes=words.minutes(found.minutes),
        evening=Link("What got done", "/evening"),
        empty=_empty(found) if not asked else "",
    )


class _Maker:
    """The groups of rows."""

    def __init__(self, found: Today, imperial: bool) -> None:
        self.found, self.imperial = found, imperial

    def group(self, ident: str, heading: str, jobs: list[Job], note: str = "", *, place: bool = True) -> Group | None:
        """Jobs under a heading; none where there are none."""
        rows = tuple(yard_row(job, self.found.day, self.imperial, place=place) for job in jobs)
        return Group(ident, heading, rows, note) if rows else None

    def by_place(self) -> tuple[Group, ...]:
        """What is best done now by place, that of no place last; most pressing first within each."""
        by_place: dict[str, list[Job]] = {}
        for job in self.found.best:
            by_place.setdefault(job.row.place, []).append(job)
        order = sorted(by_place, key=lambda place: (place == "", place.casefold()))
        made = []
        for n, name in enumerate(order):
            here = sorted(by_place[name], key=_urgency)
            minutes = words.minutes(sum(job.row.minutes for job in here))
            made.append(self.group(f"place-{n}", name or NO_PLACE, here, minutes, place=False))
        return tuple(one for one in made if one is not None)

    def by_urgency(self) -> tuple[Group, ...]:
        """The same with what is best done first at the head."""
        jobs = sorted(self.found.best, key=_urgency)
        now = [job for job in jobs if (job.row.best or 0) <= self.found.day]
        soon = [job for job in jobs if (job.row.best or 0) > self.found.day]
        made = (self.group("now", "Best done today", now), self.group("soon", "Best in the next three days", soon))
        return tuple(one for one in made if one is not None)

    def later(self) -> tuple[Group, ...]:
        """What is open without hurry, folded."""
        jobs = self.found.later
        if not jobs:
            return ()
        rows = tuple(yard_row(job, self.found.day, self.imperial) for job in jobs)
        note = words.counted(len(rows), "job")
        return (Group("later", "Its time has come, but there is no hurry", rows, note, folded=True),)

    def done(self) -> Group | None:
        """What was done today, with who did it."""
        found = self.found
        rows = tuple(yard_row(job, found.day, self.imperial, who=found.by.get(job.row.key, "")) for job in found.done)
        return Group("done", "Done today", rows) if rows else None


def name_of(job: Job) -> str:
    """A job with the entry it belongs to."""
    r = job.row
    return r.title if r.title == r.entry_name or not r.entry_name else f"{r.title}: {r.entry_name}"


def _urgency(job: Job) -> tuple[Day, Day, str]:
    return job.row.closes or 0, job.row.best or 0, job.row.key


def _ahead(one: Ahead, weather: tuple[Told, ...], today: Day) -> pages.DayAhead:
    on, now = date_of(one.day), date_of(today)
    name = day_name(one.day, today)
    full = words.weekday(on, now)
    told = next((each for each in weather if each.day == one.day), None)
    lines = tuple(
        pages.Coming(
            line.row.title if not line.row.entry_name else f"{line.row.title}: {line.row.entry_name}",
            job_href(line.row.key), line.row.trade, WHAT[line.kind],
        )
        for line in one.lines
    )  # fmt: skip
    more = Link(f"and {words.count(one.more)} more", f"/{on.year}/{on.month:02d}") if one.more else None
    return pages.DayAhead(
        full if name in full else f"{name}, {full}", lines, weather_of(told, today) if told else None, more
    )


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
