"""Moments made ready: each becomes a function from the run to a day, once for a sheet."""

from collections.abc import Callable

from app.rules.almanac import Yearly
from app.rules.computed import days_of
from app.rules.moment import EntryDate, Mark, Moment, Said, StepDay, TickDay, Warmth, Work, YearDay
from app.rules.place import Place, word_of
from app.rules.run import Run
from app.rules.spans import NOTHING, Day, Span, add, whole_days

DayOf = Callable[[Run], Day | None]
SpreadOf = Callable[[Run], tuple[Day, Day, Day] | None]


def day_of(moment: Moment, place: Place) -> DayOf:
    """Make a moment ready: a function that gives its best day, or None while it can't be told.

    Source: the table of moments in DEVELOPERS.md.
    """
    match moment:
        case EntryDate():
            return _entry_date(moment, place)
        case StepDay():
            return _step_day(moment, place)
        case TickDay():
            return _tick_day(moment, place)
        case YearDay() | Mark():
            return _yearly(moment, place)
        case Said():
            return _said(moment, place)
        case _:
            spread = spread_of(moment, place)
            return lambda run: found[1] if (found := spread(run)) else None


def spread_of(moment: Moment, place: Place) -> SpreadOf:
    """Make a moment ready with its spread: the earliest, best and latest day.

    Source: warmth gives the 10, 50 and 90 % days, a computation its own least and most.
    """
    match moment:
        case Warmth():
            return _warmth(moment, place)
        case Work():
            return _work(moment, place)
        case Said():
            told, otherwise = told_day(moment, place), spread_of(moment.otherwise, place)
            by = moment.by

            def said(run: Run) -> tuple[Day, Day, Day] | None:
                day = told(run)
                found = (day, day, day) if day is not None else otherwise(run)
                return _moved(found, by) if found else None

            return said
        case _:
            one = day_of(moment, place)
            return lambda run: (day, day, day) if (day := one(run)) is not None else None


def is_wide(moment: Moment) -> bool:
    """Whether a moment brings a spread of its own.

    Source: none; the kinds that are reckoned in a spread.
    """
    return isinstance(moment, Warmth | Work) or (isinstance(moment, Said) and is_wide(moment.otherwise))


def _moved(spread: tuple[Day, Day, Day], by: Span) -> tuple[Day, Day, Day]:
    return spread if by == NOTHING else (add(spread[0], by), add(spread[1], by), add(spread[2], by))


def _shifted(by: Span) -> Callable[[Day], Day]:
    if not by.months:
        return by.days.__add__
    return lambda day: add(day, by)


def _entry_date(moment: EntryDate, place: Place) -> DayOf:
    fact, shift, step = moment.fact, _shifted(moment.by), place.step
    ask = place.sheet.facts.get(fact)
    may_be_unsaid = ask is not None and ask.optional

    def day(run: Run) -> Day | None:
        value = run.facts.get(fact)
        if value is None:
            if not may_be_unsaid:
                run.lack(step, fact)
            return None
        return shift(int(value))

    return day


def _step_day(moment: StepDay, place: Place) -> DayOf:
    slot, shift, which = place.slot[moment.step], _shifted(moment.by), moment.which

    def day(run: Run) -> Day | None:
        days = run.first if which == "first" else run.latest if which == "last" else run.day
        found = days[slot]
        return None if found is None else shift(found)

    return day


def _tick_day(moment: TickDay, place: Place) -> DayOf:
    find, shift, name = word_of(moment.step, place), _shifted(moment.by), moment.days.rpartition(".")[2]

    def day(run: Run) -> Day | None:
        word = find(run)
        if word is None or word.done is None:
            return None
        if not name:
            return shift(word.done.on)
        figure = word.measures.get(name)
        return None if figure is None else shift(word.done.on + whole_days(float(figure)))

    return day


def told_day(moment: Said, place: Place) -> DayOf:
    """The day that somebody outside gave, or None until it has been taken down.

    Source: none; reads ticks only, so that it can't go in a circle.
    """
    find, name = word_of(moment.step, place), moment.ask

    def day(run: Run) -> Day | None:
        word = find(run)
        told = word.measures.get(name) if word is not None and word.done is not None else None
        return int(told) if isinstance(told, int) else None

    return day


def _said(moment: Said, place: Place) -> DayOf:
    told, otherwise, shift = told_day(moment, place), day_of(moment.otherwise, place), _shifted(moment.by)

    def day(run: Run) -> Day | None:
        found = told(run)
        if found is None:
            found = otherwise(run)
        return None if found is None else shift(found)

    return day


def yearly_of(moment: Moment) -> Yearly | None:
    """The yearly day in a moment, if it is one."""
    if isinstance(moment, YearDay):
        return Yearly("", 0, moment.month, moment.day)
    return Yearly(moment.name, moment.value) if isinstance(moment, Mark) else None


def since_of(moment: YearDay | Mark, place: Place) -> DayOf:
    """The day on or after which (or on or before which) a yearly day is sought; the entry's date when not said."""
    return day_of(moment.since or moment.before or EntryDate("date"), place)


def _yearly(moment: YearDay | Mark, place: Place) -> DayOf:
    found = nth_of(moment, place)
    return lambda run: found(run, 0)


def nth_of(moment: YearDay | Mark, place: Place) -> Callable[[Run, int], Day | None]:
    """A yearly day's occurrence: the first sought, or the ``skip``-th after it.

    Source: none; "wait for next season" needs those after the first.
    """
    yearly, since, shift = yearly_of(moment), since_of(moment, place), _shifted(moment.by)
    before = moment.before is not None
    other = moment.otherwise if isinstance(moment, Mark) else None
    otherwise = day_of(other, place) if other else None
    assert yearly is not None

    def day(run: Run, skip: int) -> Day | None:
        start = since(run)
        if start is None:
            return None
        search = yearly.on_or_before if before else yearly.on_or_after
        found = search(run.almanac, start)
        if found is None and otherwise is not None:
            return otherwise(run)
        if found is None:
            run.lack(place.step, "", f"there is no {yearly.name} here")
            return None
        days = found[1] if not skip else yearly.in_year(run.almanac, found[0] + skip)
        return None if days is None else shift(days)

    return day


def _warmth(moment: Warmth, place: Place) -> SpreadOf:
    since, by, total, base = day_of(moment.since, place), moment.by, moment.total, moment.base

    def spread(run: Run) -> tuple[Day, Day, Day] | None:
        start = since(run)
        if start is None:
            return None
        found = run.almanac.warmth(total, base, start)
        if found is None:
            run.lack(place.step, "", f"{total:g} degree-days above {base:g} °C do not come here in a year")
            return None
        if run.notes is not None:
            since_then = f"{total:g} degree-days above {base:g} °C since then"
            because = run.almanac.why_warmth(total, base, start)
            run.note("warmth", f"{since_then}; {because}" if because else since_then, found.best)
        return _moved((found.low, found.best, found.high), by)

    return spread


def _work(moment: Work, place: Place) -> SpreadOf:
    start_of, reckon, by = (
        day_of(moment.before or moment.since or EntryDate("date"), place),
        days_of(moment, place),
        moment.by,
    )
    back = moment.before is not None

    def spread(run: Run) -> tuple[Day, Day, Day] | None:
        start = start_of(run)
        answer = None if start is None else reckon(run, start)
        if start is None or answer is None:
            return None
        low, best, high = answer[:3]
        found = (start - high, start - best, start - low) if back else (start + low, start + best, start + high)
        return _moved(found, by)

    return spread
