"""How a step comes round, what must come before it, and on which answers it hangs."""

from collections.abc import Mapping
from typing import Literal, cast

from app.rules.moment import Given, Mark, Moment, Work, YearDay
from app.rules.spans import NOTHING, Span, length_in_days
from app.rules.step import After, Again, When
from app.sheets.facts import misfit
from app.sheets.givens import asked, named
from app.sheets.moments import computed, inner, step_name, which
from app.sheets.values import Table, meant, shown


def again(table: Table, start: Moment | None) -> Again | None:
    """How a step comes round; ``start`` is what it is reckoned from, None when that can't be read or is not there."""
    value = table.take("again")
    if value is None:
        return None
    if value == "yearly":
        if start is not None and not isinstance(start, YearDay | Mark):
            table.fault("again", "'yearly' needs a 'from' that is a day or a mark, whose year names the cycle")
        return Again("yearly")
    if not isinstance(value, Mapping):
        table.fault("again", f'found {shown(value)}, expected "yearly" or {{ every = "P3W", .. }}')
        return None
    below = table.below("again", value)
    found = _every(table, below)
    below.close()
    return found


def _every(table: Table, below: Table) -> Again:
    counts = below.texts("counts")
    for name in counts:
        if name not in below.reading.asks or name == below.step:
            what = "is the step itself" if name == below.step else f"is no step{meant(name, below.reading.asks)}"
            below.fault("counts", f"'{name}' {what}")
    stop = below.text("stop")
    own = below.reading.asks.get(below.step, {})
    if stop and (stop not in own or own[stop].kind != "yes or no"):
        below.fault("stop", f"'{stop}' must be a measure of this step that is asked as yes or no{meant(stop, own)}")
    if below.has("last") and table.has("from"):
        below.fault("last", "found both last and the step's from; with last it is reckoned from the last doing")
    return Again(
        "every",
        _interval(below),
        inner(below, "until"),
        inner(below, "last"),
        cast(Literal["tick", "plan"], below.choice("counted", ("tick", "plan"), "tick")),
        stop,
        below.whole("most", 1) or 0,
        counts,
    )


def _interval(table: Table) -> Span | Work:
    value = table.take("every")
    if value is None:
        table.fault("every", "is missing; expected a duration such as 'P3W', or { work = .., given = .. }")
    elif isinstance(value, Mapping):
        below = table.below("every", value)
        found = computed(below, None, None, NOTHING)
        below.close()
        return found or NOTHING
    else:
        length = table.span("every")
        if isinstance(value, str) and length_in_days(length) < 1 and not _faulted(table, "every"):
            table.fault("every", f"found {shown(value)}, expected a duration of a day or more")
        return length
    return NOTHING


def _faulted(table: Table, key: str) -> bool:
    return any(fault.step == table.step and fault.key == table.at(key) for fault in table.reading.faults)


def after(table: Table) -> tuple[After, ...]:
    """What must come first."""
    return tuple(_after(one) for one in table.tables("after"))


def _after(table: Table) -> After:
    name, side = step_name(table, "step"), which(table)
    work = None
    if table.has("work"):
        work = computed(table, None, None, NOTHING)
        if table.has("by"):
            table.fault("by", "found both by and work; expected one of them")
    length = table.span("by")
    table.close()
    return After(name, length, side, work)


def when(table: Table) -> When | None:
    """On which answers a step hangs."""
    below = table.table("when")
    if below is None:
        return None
    otherwise = below.flag("else")
    tests = [test for key in below.doc if key != "else" and (test := _test(below, key))]
    if not below.doc.keys() - {"else"}:
        below.fault("", 'names no answer; expected such as { "look.found" = ["hollow"] }')
    return When(tuple(tests), otherwise)


def _test(table: Table, key: str) -> tuple[Given, tuple[str | int | float | bool, ...]] | None:
    value = table.take(key)
    if isinstance(value, Mapping):
        table.fault(key, f'put the whole name in quotes: "{key}.{next(iter(value), "")}"')
        return None
    found = named(table, key, key)
    if found is None:
        return None
    if found.of != "fact" and found.step == table.step:
        table.fault(key, "is asked when this step is ticked, too late to say whether there is one")
        return None
    values = tuple(value) if isinstance(value, list) else (value,)
    ask = asked(table.reading, found)
    wrong = next((why for one in values if ask and (why := misfit(ask, one))), "")
    if wrong or not values:
        table.fault(key, wrong or "names no answer")
        return None
    return found, values
