"""Why a date is what it is, in sentences: the moments of a step described, and the links of its reckoning."""

from collections.abc import Iterable
from datetime import date

from app.rules.moment import EntryDate, Mark, Moment, Said, StepDay, TickDay, Warmth, Work, YearDay
from app.rules.sheet import Sheet
from app.rules.spans import Day, Span, words
from app.rules.step import Step
from app.rules.tasks import Fate, Reason, Task

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July",
    "August", "September", "October", "November", "December",
)  # fmt: skip

FATES: dict[Fate, str] = {
    Fate.NO_ROOM: "Its window closes before it could begin: there is no room for it this season.",
    Fate.SQUEEZED: "There is less time than there should be; still worth doing.",
    Fate.OUTSIDE: "Moved by the household to a day outside its window.",
    Fate.UNLAWFUL: "The time in which the law allows it is over.",
    Fate.BARRED: "A bar holds it.",
    Fate.PASSED_OVER: "Not owed: something later answered it, or it closed before it was put down here.",
    Fate.LOST: "Its time went by, and what hangs on it with it.",
    Fate.LET_GO: "Let go: not this year.",
    Fate.ALONE: "Taken down as done, though it no longer follows from the facts.",
}


def said(day: Day) -> str:
    """A day as a person says it: "10 March 2027"."""
    on = date.fromordinal(day)
    return f"{on.day} {_MONTHS[on.month - 1]} {on.year}"


def describe(moment: Moment, sheet: Sheet) -> str:
    """A moment in words: "8 weeks before the last frost (over in 90 years of 100), after the entry's date"."""
    return _with_span(_named(moment, sheet), moment.by)


def _named(moment: Moment, sheet: Sheet) -> str:
    match moment:
        case EntryDate(fact=fact):
            ask = sheet.facts.get(fact)
            return f"‘{ask.label}’" if ask is not None and ask.label else f"its {fact.replace('_', ' ')}"
        case StepDay(step=step, which=which):
            return f"{'the ' + which + ' ' if which else ''}‘{_title(step, sheet)}’"
        case TickDay(step=step, days=days):
            until = f" and the {days.rpartition('.')[2].replace('_', ' ')} written down" if days else ""
            return f"the day ‘{_title(step, sheet)}’ was done{until}"
        case YearDay(month=month, day=day):
            return f"{day} {_MONTHS[month - 1]}{_bounds(moment, sheet)}"
        case Mark():
            return _mark(moment, sheet)
        case Said(step=step):
            return f"the day given at ‘{_title(step, sheet)}’; until then {describe(moment.otherwise, sheet)}"
        case Warmth(total=total, base=base):
            return f"{total:g} degree-days above {base:g} °C since {describe(moment.since, sheet)}"
        case Work(name=name):
            return f"{name.replace('_', ' ')}{_bounds(moment, sheet)}"


def _mark(mark: Mark, sheet: Sheet) -> str:
    names = {
        "last frost": f"the last frost (over in {mark.value:g} years of 100)",
        "first frost": f"the first frost (come in {mark.value:g} years of 100)",
        "soil above": f"soil at 10 cm above {mark.value:g} °C",
        "soil below": f"soil at 10 cm below {mark.value:g} °C",
        "day longer than": f"days longer than {mark.value:g} hours",
        "day shorter than": f"days shorter than {mark.value:g} hours",
    }
    return names[mark.name] + _bounds(mark, sheet)


def _bounds(moment: YearDay | Mark | Work, sheet: Sheet) -> str:
    if moment.before is not None:
        return f", before {describe(moment.before, sheet)}"
    since = moment.since
    if since is None or since == EntryDate("date"):
        return ""
    return f", after {describe(since, sheet)}"


def _with_span(name: str, by: Span) -> str:
    if not by.months and not by.days:
        return name
    way = "before" if (by.months or by.days) < 0 else "after"
    return f"{words(by)} {way} {name}"


def _title(step: str, sheet: Sheet) -> str:
    return next((each.title for each in sheet.steps if each.id == step), step)


def why(task: Task, step: Step, sheet: Sheet) -> list[Reason]:
    """The links of a task's date in the order of its reckoning, told in words; ``task`` is one laid to explain.

    Source: each step's own, given with the first link.
    """
    own = [Reason("your own way", each) for each in (sheet.own or {}).get(step.id, ())]
    return [*_reckoning(task.reasons, step, sheet), *own, *_ends(task, step, sheet), *_outcome(task, step)]


def _reckoning(reasons: Iterable[Reason], step: Step, sheet: Sheet) -> list[Reason]:
    found = []
    for reason in reasons:
        if reason.rule == "reckoned":
            found.append(Reason("reckoned from", describe(step.start, sheet), reason.day, step.source))
        elif reason.rule == "not before":
            befores = "; ".join(dict.fromkeys(f"‘{_title(after.step, sheet)}’" for after in step.after))
            found.append(Reason("not before", f"what must come first: {befores}", reason.day))
        else:
            found.append(reason)
    if not any(reason.rule == "reckoned from" for reason in found):
        found.insert(0, Reason("reckoned from", describe(step.start, sheet), None, step.source))
    return found


def _ends(task: Task, step: Step, sheet: Sheet) -> list[Reason]:
    found = []
    for name, end, day in (("opens", step.opens, task.opens), ("closes", step.closes, task.closes)):
        if end is None or day is None:
            continue
        if isinstance(end, Span):
            way = "before" if (end.months or end.days) < 0 else "after"
            found.append(Reason(name, f"{words(end)} {way} the best day", day))
        else:
            found.append(Reason(name, describe(end, sheet), day))
    return found


def _outcome(task: Task, step: Step) -> list[Reason]:
    found = [Reason("as it stands", FATES[task.fate], None)] if task.fate in FATES else []
    if step.loses:
        found.append(Reason("if missed", step.loses, None))
    if task.done is not None:
        found.append(Reason("done", "ticked by the household", task.done))
    return found
