"""One step of a sheet, read and checked by itself."""

from typing import cast

from app.rules.moment import Mark, Moment, Said, Warmth, Work, YearDay
from app.rules.spans import NOTHING, Span, length_in_days, words
from app.rules.step import Again, Step
from app.rules.terms import ACTS, NATIONS, Missed, Nation
from app.sheets.jobs import daily_round, labour, makes, needs, timed, uses
from app.sheets.moments import ENTRY, inner
from app.sheets.repeats import after, again, when
from app.sheets.sources import cautions, source
from app.sheets.values import Table, meant

MISSED = ("late", "lost", "wait", "passes")


def step(table: Table, spells: frozenset[str]) -> Step:
    """Read one ``[[step]]``; what can't be read is faulted and left at its default."""
    start = inner(table, "from")
    comes_round = again(table, start)
    opens, closes = _edge(table, "opens"), _edge(table, "closes")
    table.take("id"), table.take("asks")
    found = Step(
        id=table.step,
        title=table.text("title", needed=True),
        start=start or (comes_round.last if comes_round else None) or ENTRY,
        source=source(table),
        note=table.text("note"),
        loses=table.text("loses"),
        act=table.choice("act", ACTS),
        after=after(table),
        opens=opens,
        closes=closes,
        again=comes_round,
        missed=cast(Missed, table.choice("missed", MISSED, "late")),
        when=when(table),
        within=_within(table, spells),
        firm=table.flag("firm"),
        legal=table.flag("legal"),
        nations=cast(tuple[Nation, ...], table.choices("nations", NATIONS, "nation")),
        appointment=table.text("appointment"),
        round=daily_round(table),
        timed=timed(table),
        place=table.text("place"),
        asks=tuple(table.reading.asks.get(table.step, {}).values()),
        uses=uses(table),
        makes=makes(table),
        minutes=labour(table),
        needs=needs(table),
        cautions=cautions(table),
        was=table.texts("was"),
        before_frost=table.flag("before_frost"),
    )
    _whole(table, found, start, comes_round)
    table.close()
    return found


def _edge(table: Table, key: str) -> Span | Moment | None:
    value = table.take(key)
    if isinstance(value, str):
        return table.span(key)
    return inner(table, key)


def _within(table: Table, spells: frozenset[str]) -> str:
    name = table.text("within")
    if name and name not in spells:
        table.fault("within", f"there is no spell '{name}'{meant(name, spells)}")
    return name


def _whole(table: Table, found: Step, start: Moment | None, comes_round: Again | None) -> None:
    """What can only be seen when the step's keys are taken together."""
    if not table.has("from") and not (comes_round and table.has("again") and comes_round.last):
        table.fault("from", "is missing: a step must be reckoned from something")
    if found.legal and not found.nations:
        table.fault("nations", "is missing: a window that is law says where it is law")
    if found.missed == "wait" and not found.within and start is not None and not _has_a_season(found, start):
        table.fault("missed", "'wait' has nothing to wait for; it needs within, again = \"yearly\", or a from that "
                    "is a day or a mark")  # fmt: skip
    if found.before_frost and found.round is not None:
        table.fault("before_frost", "is for work that is done once before a frost; a round is walked every day")
    _window(table, found, start)


def _has_a_season(found: Step, start: Moment) -> bool:
    if isinstance(start, Said):
        return _has_a_season(found, start.otherwise)
    return isinstance(start, YearDay | Mark) or bool(found.again and found.again.kind == "yearly")


def _window(table: Table, found: Step, start: Moment | None) -> None:
    """Refuse a window that closes before it opens, where both ends are durations from the best day."""
    spread = start is None or isinstance(start, Warmth | Work | Said)
    opens = NOTHING if found.opens is None and not spread else found.opens
    closes = NOTHING if found.closes is None and not spread else found.closes
    if not isinstance(opens, Span) or not isinstance(closes, Span) or length_in_days(closes) >= length_in_days(opens):
        return
    key = "closes" if found.closes is not None else "opens"
    table.fault(key, f"the window closes {_side(closes)} and opens {_side(opens)}: it closes before it opens")


def _side(length: Span) -> str:
    days = length_in_days(length)
    if not days:
        return "on the best day"
    return f"{words(length)} {'before' if days < 0 else 'after'} the best day"
