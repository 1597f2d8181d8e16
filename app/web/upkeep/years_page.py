"""The long view and ready for winter as pages."""

from datetime import date

from app.services.book import Book
from app.services.upkeep.winter import Spring, Winter, WinterJob
from app.services.upkeep.years import Big, LongView, Year
from app.web import pages
from app.web.links import entry_href
from app.web.pages.upkeep import JobLine, YearAsks
from app.web.parts import Frame, Pair
from app.web.rows import job_href
from app.web.upkeep.drawing import YearBar, hours_by_year
from app.web.upkeep.drawing import window_bar as bar
from app.web.upkeep.words import of_words, on, task_href, window_words
from app.web.words import count, counted, day, figure, hours, left, listed, month

MOST_UNPRICED = 4


def years_page(book: Book, frame: Frame, found: LongView, today: date) -> pages.UpkeepYears:
    """Fifteen years: the picture, then each year with what comes seldom."""
    years = found.years
    most = max((one.hours for one in years), default=0.0) or 1.0
    bars = [YearBar(one.year, one.hours, one.seldom_h) for one in years]
    words = "Hours of upkeep by year: " + "; ".join(f"{one.year}, {figure(one.hours, 0)}" for one in years) + "."
    heavy = max(years, key=lambda one: one.hours, default=None)
    sub = f"About {hours(found.yearly_h * 60)} every year, whatever is painted"
    if heavy is not None and heavy.hours > found.yearly_h * 1.15:
        sub += f"; most in {heavy.year}, {hours(heavy.hours * 60)}"
    money = any(one.cost is not None for one in years)
    return pages.UpkeepYears(
        frame=frame,
        sub=f"{sub}." if found.elements else "",
        picture=hours_by_year(bars, words),
        years=tuple(_year(book, one, most, money, today) for one in years) if found.elements else (),
        notes=(
            f"{years[0].year if years else today.year} is what is left of it, and all that is late.",
            "Hours are those of the sheets. Money is what your own prices make of what the jobs use up: put them down"
            " under How much. What nobody gave a price is not counted.",
            "Dates so far ahead follow from usual lives of coatings; a look each spring moves them.",
        ),
        empty="" if found.elements else "Nothing is put down to be kept up, so the years are empty.",
    )


def _year(book: Book, one: Year, most: float, money: bool, today: date) -> YearAsks:
    says = f"{counted(one.jobs, 'job')}, {hours(one.hours * 60)}" if one.jobs else "nothing"
    cost = ""
    if money:
        lacking = listed((*one.unpriced[:MOST_UNPRICED], *(["more"] if len(one.unpriced) > MOST_UNPRICED else [])))
        cost = f"costs {figure(one.cost, 0)} by your prices" if one.cost is not None else "its cost is not known"
        cost += f"; without {lacking}" if one.cost is not None and lacking else ""
    return YearAsks(
        str(one.year), says, cost, bar(one.hours / most), tuple(_big(book, each, today) for each in one.big)
    )


def _big(book: Book, one: Big, today: date) -> JobLine:
    best = on(one.best)
    when = "late" if one.closes < today.toordinal() else month(best, date(best.year, 1, 1))
    href = entry_href(one.entry) if book.is_far(one.best) else job_href(one.key)
    return JobLine(one.title, href, one.name, when, hours=hours(one.hours * 60) if one.hours else "")


def winter_page(book: Book, frame: Frame, found: Winter, today: date) -> pages.UpkeepWinter:
    """What must be sound before the frost, late first."""
    late = [one for one in found.jobs if one.late]
    jobs = [one for one in found.jobs if not one.late]
    return pages.UpkeepWinter(
        frame=frame,
        answer=_answer(found, len(late), len(jobs), today),
        late=tuple(_job(book, one, today) for one in late),
        jobs=tuple(_job(book, one, today) for one in jobs),
        spring=tuple(_spring(book, one, today) for one in found.spring),
        done=tuple(
            Pair(day(on(one.on), today), f"{one.title}, {one.element.entry.name}", entry_href(one.element.entry.id))
            for one in found.done
        ),
        notes=(
            "The frost is the early one: one year in ten it has come by that day. Weeks before it are what mortar,"
            " paint and fitters ask.",
            "Heights, gas, oil, flues and wiring: only what a householder may do; the rest is for whoever is licensed.",
        ),
        empty="" if found.frost is not None else "Here it does not freeze in one year of ten, so nothing must be"
        " ready before a frost.",
    )  # fmt: skip


def _answer(found: Winter, late: int, jobs: int, today: date) -> str:
    if found.frost is None:
        return ""
    frost = on(found.frost)
    when = f"One year in ten the first frost has come by {day(frost, today)}"
    if not late and not jobs:
        return f"{when}. All that is put down is ready."
    asked = f"{counted(late + jobs, 'job')} to do before it"
    of_them = "" if not late else ", late" if not jobs else f", {count(late)} of them late"
    return f"{when}: {asked}{of_them}."


def _job(book: Book, one: WinterJob, today: date) -> JobLine:
    by = on(one.by)
    says = f"{one.why[:1].upper()}{one.why[1:]}."
    if one.after_frost and one.task.opens is not None and one.task.opens > today.toordinal():
        says += f" Its own time begins only on {day(on(one.task.opens), today)}: an early frost comes before it."
    return JobLine(
        one.title, task_href(book, one.task, one.element.entry.id), of_words(one.element), f"by {day(by, today)}",
        left(by, today) if one.late and by < today else "late" if one.late else "", says,
    )  # fmt: skip


def _spring(book: Book, one: Spring, today: date) -> JobLine:
    return JobLine(
        one.title, task_href(book, one.task, one.element.entry.id), of_words(one.element),
        window_words(one.task, today),
    )  # fmt: skip
