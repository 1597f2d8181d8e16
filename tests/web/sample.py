"""Pages filled by hand with invented jobs, people and places, so that every template can be drawn and looked at.

All of it is made up, and none of it comes out of the rules: dates and amounts are for looking at, not to be relied on.
"""

import itertools
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import segno
from markupsafe import Markup

from app.web import chain, drawing, pages, words
from app.web.parts import (
    Caution,
    Choice,
    DayMark,
    Field,
    Fold,
    Follow,
    Form,
    Frame,
    Group,
    Link,
    Moved,
    Pair,
    Reasoned,
    Row,
    Scale,
    Status,
    Undoing,
)

ROOT = Path(__file__).resolve().parents[2]
TODAY = date(2027, 9, 15)
FIRST, LAST = date(2027, 9, 1), date(2027, 9, 30)
MONTH = drawing.Stretch(FIRST.toordinal(), LAST.toordinal(), TODAY.toordinal())
HOLDING = "Carrock Side"
TRADES = ("garden", "livestock", "meat", "preserving", "upkeep")


def sep(n: int) -> date:
    """A day counted from the last of August: 1 is 1 September, 31 is 1 October."""
    return FIRST + timedelta(days=n - 1)


def frame(title: str, here: str = "", **more: object) -> Frame:
    return Frame(title, HOLDING, here, "/2027/09", TODAY.isoformat(), made_up=True, **more)  # type: ignore[arg-type]


# title, sub, trade, opens, best, closes (September days), minutes, done on
Told = tuple[str, str, str, int, int, int, int, int | None]

JOBS: dict[str, list[Told]] = {
    "Can’t wait": [
        (
            "Sieve and jam the damsons",
            "Kitchen · 14 kg picked Saturday, softening",
            "preserving",
            13,
            14,
            17,
            180,
            None,
        ),
        ("Turn the belly in the cure", "Curing fridge · day 9 of 13", "meat", 14, 15, 15, 5, None),
        ("Book the abattoir for the pigs", "Pigs · eight weeks ahead", "livestock", 1, 8, 16, 10, None),
        ("Pull and burn the blighted haulm", "Potato bed · found on Sunday", "garden", 12, 12, 16, 90, None),
    ],
    "Time for it now": [
        (
            "Second coat of limewash, north gable",
            "Byre · damp and dull days; before frost",
            "upkeep",
            6,
            17,
            28,
            150,
            None,
        ),
        ("Pullets to the laying house", "Orchard · 17 weeks old; no housing order", "livestock", 13, 17, 21, 45, None),
        (
            "Lift the maincrop potatoes",
            "Potato bed · a dry day; two weeks after the haulm",
            "garden",
            10,
            20,
            30,
            240,
            None,
        ),
        ("Plant the Japanese onion sets", "Long bed 3", "garden", 10, 18, 30, 40, None),
        ("Order the winter’s layers’ pellets", "Feed store · 300 kg", "livestock", 8, 16, 24, 10, None),
        ("Clean and oil the shears", "Tool shed", "upkeep", 1, 18, 30, 30, None),
        ("Bottle the second picking of plums", "Kitchen · 11 kg", "preserving", 12, 16, 20, 150, None),
        ("Turn the compost into the empty bay", "Yard", "garden", 5, 16, 30, 60, None),
        ("Check the bacon’s weight", "Curing fridge · to lose 12 %", "meat", 14, 18, 22, 5, None),
        ("Sow green manure after the peas", "Long bed 1 · 9 m", "garden", 1, 15, 22, 25, None),
        ("Worm count of the ewes", "Low field · before the ram", "livestock", 10, 20, 28, 40, None),
        ("Dig in the last of the lime", "Brassica bed", "garden", 12, 20, 40, 60, None),
        ("Label and shelve the pickles", "Larder · 22 jars", "preserving", 11, 15, 30, 20, None),
        ("Scythe the orchard", "Orchard · dry grass", "upkeep", 8, 18, 30, 120, None),
    ],
    "Still to come": [
        ("Cut the leek seed heads", "Leek bed · when the capsules show black", "garden", 18, 24, 36, 40, None),
        ("Salt down the white cabbage", "Larder · 2.25 % salt by weight", "preserving", 20, 24, 34, 75, None),
        ("Rinse, dry and hang the belly", "Curing fridge · 13 days in the cure", "meat", 18, 19, 20, 20, None),
        ("Half lamb from the butcher", "Kitchen · 9 kg, 22 meals; joint, pack, freeze", "meat", 24, 24, 24, 120, None),
        ("Clear the gutters", "House and byre · a look now; clear again in December", "upkeep", 22, 30, 50, 60, None),
        ("Ram to the ewes’ field fence: walk it", "Low field", "livestock", 20, 25, 30, 90, None),
        ("Lift the beetroot for the clamp", "Long bed 4 · before hard frost", "garden", 20, 30, 45, 120, None),
        ("Cold-smoke the loin, first night", "Smokehouse · below 25 °C", "meat", 22, 25, 30, 40, None),
        ("Sweep the parlour chimney", "House · the sweep, 10 in the morning", "upkeep", 27, 27, 27, 15, None),
        ("Cure the squash in the tunnel", "Tunnel · ten days warm and dry", "garden", 18, 22, 30, 60, None),
        ("Press the windfalls", "Byre · 60 kg in the crates", "preserving", 19, 25, 33, 240, None),
        ("Hay: count what is in the barn", "Barn", "livestock", 20, 28, 40, 20, None),
        ("Plant garlic", "Long bed 2 · 120 cloves", "garden", 28, 36, 60, 75, None),
        ("Paint the yard gate, second face", "Yard · 10 °C or more and dry", "upkeep", 16, 22, 30, 90, None),
        ("Joint out of the freezer for Sunday", "Kitchen · 3 kg: by Thursday", "meat", 23, 23, 23, 5, None),
        ("Sort the stored onions", "Loft · take out the soft ones", "garden", 25, 30, 45, 30, None),
        ("Fit the chimney cowl", "House · two people", "upkeep", 20, 26, 45, 60, None),
        ("Clean ground for the weaned lambs", "Top field · rested since May", "livestock", 18, 25, 35, 45, None),
        ("Dry the second tray of apple rings", "Dryer · six hours", "preserving", 16, 20, 30, 45, None),
        ("Take pelargonium cuttings in", "Porch · before frost", "garden", 18, 26, 35, 30, None),
    ],
    "Done": [
        ("Lift and dry the maincrop onions", "Long bed 2 · necks down, before rain", "garden", 3, 9, 16, 90, 8),
        ("Sow corn salad under cover", "Tunnel · soil 14 °C, falling", "garden", 1, 8, 20, 25, 8),
        ("Blackberries into the freezer", "Kitchen · 6 kg", "preserving", 2, 5, 10, 60, 6),
        ("Muck out the pigs’ ark", "Orchard", "livestock", 1, 4, 10, 60, 4),
    ],
}

FOLDS: list[tuple[str, str, str, str, list[Told]]] = [
    (
        "Time for it now",
        "Pick the runner beans",
        "Bean row · every three days until frost",
        "garden",
        [
            ("Pick the runner beans", "Bean row", "garden", d - 1, d, d + 2, 30, d if d < 14 else None)
            for d in range(2, 30, 3)
        ],
    ),
    (
        "Time for it now",
        "Tomatoes",
        "Tunnel · three jobs at every picking",
        "garden",
        [
            (title, "Tunnel", "garden", d - 2, d, d + 3, m, d if d < 12 else None)
            for d in range(3, 31, 5)
            for title, m in (
                ("Pick the tomatoes", 40),
                ("Pulp and dry a tray", 30),
                ("Save seed from the best truss", 20),
            )
        ],
    ),
    (
        "Still to come",
        "Turn the stored apples",
        "Loft · every week",
        "preserving",
        [("Turn the stored apples", "Loft", "preserving", d - 2, d, d + 3, 15, None) for d in (17, 24, 30)],
    ),
    (
        "Still to come",
        "House before winter",
        "House · six jobs",
        "upkeep",
        [
            (title, "House", "upkeep", 16 + i, 24 + i, 40 + i, 35, None)
            for i, title in enumerate(
                (
                    "Look at the render",
                    "Touch up the plinth",
                    "Ease the back door",
                    "Lag the yard pipe",
                    "Check the slates",
                    "Oil the hinges",
                )
            )
        ],
    ),
]


def told_row(told: Told, n: int, stretch: drawing.Stretch = MONTH, heading: str = "", place: bool = True) -> Row:
    """A row of the month from what is told of a job."""
    title, sub, trade, opens, best, closes, minutes, done = told
    key = f"{title.split()[0].lower().strip('’')}-{n}.{trade}.{n}"
    a, b, c = sep(opens), sep(best), sep(closes)
    return Row(
        key=key,
        anchor=words.anchor(key),
        trade=trade,
        title=title,
        href=f"/job/{key}",
        sub=sub if place else sub.split(" · ", 1)[-1],
        minutes=words.minutes(minutes),
        when=words.window(a, b, c, TODAY),
        until=f"by {c.day}" if c.month == 9 else f"{c.day} Oct",
        line=drawing.line(
            stretch, a.toordinal(), c.toordinal(), [b.toordinal()], None if done is None else sep(done).toordinal()
        ),
        can="tick" if done is None else "undo",
        tick_id=f"5f0c7a1e-{n:03d}",
        shown=f"{a}/{b}/{c}",
        undoes="" if done is None else f"0d1b-{n:03d}",
        pressing=words.left(c, TODAY) if heading == "Can’t wait" else "",
        state="" if done is None else f"done on the {words.ordinal(sep(done).day)}",
        past=done is not None,
        number=str(n) if done is None else "",
    )


def month_groups(trade: str = "") -> tuple[Group, ...]:
    """September in its groups, folded by crop and place, with what is barred until something is said."""
    printed = itertools.count(1)
    inside = itertools.count(101)
    groups = []
    for heading, jobs in JOBS.items():
        items: list[Row | Fold] = [told_row(told, next(printed), heading=heading) for told in jobs]
        for where, title, sub, fold_trade, inner in FOLDS:
            if where == heading:
                rows = [replace(told_row(told, next(inside)), number="") for told in inner]
                items.append(folded(title, sub, fold_trade, inner, rows, str(next(printed))))
        kept = tuple(i for i in items if not trade or i.trade == trade)
        note = {"Can’t wait": "4 jobs, 4 h 45", "Done": "4 jobs"}.get(heading, "")
        groups.append(Group(f"g{len(groups)}" if heading != "Done" else "done", heading, kept, note, heading == "Done"))
    barred = Row(
        key="ewes.sell",
        anchor="t-ewes_sell",
        trade="livestock",
        title="Sell the cull ewes",
        href="/job/ewes.sell",
        sub="Low field · wormed on 26 August, 28 days",
        when="not before the 23rd",
        line=drawing.line(MONTH, barred=(sep(-5).toordinal(), sep(22).toordinal())),
        can="",
    )
    open_ended = Row(
        key="pigs.kill",
        anchor="t-pigs_kill",
        trade="livestock",
        title="Pigs to the abattoir",
        href="/job/pigs.kill",
        sub="Pigs · dosed on the 9th, and the withdrawal days were not written down",
        when="not until the withdrawal days are said",
        line=drawing.line(MONTH, barred=(sep(9).toordinal(), None)),
        can="",
    )
    waiting = Group("waiting", "Not until something is said", (barred, open_ended))
    return (*groups[:3], waiting, groups[3])


def folded(title: str, sub: str, trade: str, inner: list[Told], rows: list[Row], number: str) -> Fold:
    """Rows folded into one."""
    open_ = [t for t in inner if t[7] is None]
    done = len(inner) - len(open_)
    a, c = sep(min(t[3] for t in open_)), sep(max(t[5] for t in open_))
    return Fold(
        anchor=f"f-{rows[0].anchor}",
        trade=trade,
        title=title,
        count=words.counted(len(inner), "job") + (f", {words.count(done)} done" if done else ""),
        rows=tuple(rows),
        sub=sub,
        minutes=words.minutes(sum(t[6] for t in open_)),
        when=words.between(a, c, TODAY),
        until=f"by {min(min(sep(t[5]) for t in open_), LAST).day}",
        line=drawing.line(MONTH, a.toordinal(), c.toordinal(), [sep(t[4]).toordinal() for t in open_]),
        number=number,
    )


def scale(stretch: drawing.Stretch, curves: bool = True) -> Scale:
    """The head of a column of windows."""
    marks = []
    for day in range(stretch.first, stretch.last + 1):
        on = date.fromordinal(day)
        marks.append(DayMark(on.day, drawing.middle(stretch, day), on.weekday() > 4, day == stretch.today))
    count = len(marks)
    light = [13.6 - 2.05 * i / count for i in range(count)]
    frost = [1 + 20 * (i / count) ** 3 for i in range(count)]
    pane = drawing.pane(light, frost) if curves else drawing.Pane("", "")
    said = "Daylight falls from 13 h 36 to 11 h 33 through the month. Frost: 1 year in 5 by the 30th."
    return Scale(tuple(marks), pane.daylight, pane.frost, said if curves else "The days around its window.")


def summary() -> pages.Summary:
    return pages.Summary(
        wanted="41 h",
        given="29 h to give after the rounds",
        hours=drawing.against(41 * 60, 29 * 60),
        out_of_time="seven jobs",
        out_of_time_rest=", two this week",
        carried="three",
        carried_from="carried from August",
        daylight="13 h 36 → 11 h 33",
        frost="1 year in 20 by the 30th",
        unfit="It does not all fit: 12 h too much.",
        unfit_link=Link("See what could wait", "/2027/09#g2"),
    )


def trade_links(base: str, here: str = "") -> tuple[Link, ...]:
    counts = {"garden": "48", "livestock": "11", "meat": "7", "preserving": "12", "upkeep": "16"}
    every = Link("All", base, not here, "94")
    return (every, *(Link(words.trade(t), f"{base}?trade={t}", t == here, counts[t], t) for t in TRADES))


VIEWS = (Link("List", "/2027/09", True), Link("Grid", "/2027/09?as=grid"))


def month() -> pages.Month:
    return pages.Month(
        frame=frame("September 2027", "month"),
        year="2027",
        name="September",
        last=Link("August", "/2027/08"),
        next=Link("October", "/2027/10"),
        this=None,
        summary=summary(),
        scale=scale(MONTH),
        groups=month_groups(),
        trades=trade_links("/2027/09"),
        folds=(
            Link("by crop", "/2027/09", True),
            Link("by entry", "/2027/09?by=entry"),
            Link("by place", "/2027/09?by=place"),
            Link("all rows", "/2027/09?by=none"),
        ),
        views=VIEWS,
        count="94 jobs in 52 lines, folded",
        evening=Link("What got done", "/evening"),
    )


def month_grid() -> pages.MonthGrid:
    jobs = [t for group in JOBS.values() for t in group]
    start = date(2027, 8, 30)
    weeks = []
    for w in range(5):
        days = []
        for d in range(7):
            on = start + timedelta(days=7 * w + d)
            inside = on.month == 9
            best = [grid_job(t) for t in jobs if inside and sep(t[4]) == on]
            closing = [grid_job(t) for t in jobs if inside and sep(t[5]) == on and t[4] != t[5] and t[7] is None]
            more = Link("and two more", f"/2027/09?day={on.day}") if len(closing) > 5 else None
            said = words.weekday(on, TODAY)
            days.append(pages.GridDay(on.day, said, inside, on == TODAY, tuple(best[:4]), tuple(closing[:4]), more))
        wanted = (6, 11, 13, 9, 5)[w]
        given = f"wanted of {words.hours(7 * 60)}"
        light = words.light(13.5 - 0.45 * w)
        weeks.append(pages.GridWeek(f"week {35 + w}", words.hours(wanted * 60), given, wanted > 7, light, tuple(days)))
    return pages.MonthGrid(
        frame=frame("September 2027, grid", "month"),
        year="2027",
        name="September",
        last=Link("August", "/2027/08?as=grid"),
        next=Link("October", "/2027/10?as=grid"),
        this=None,
        views=(Link("List", "/2027/09"), Link("Grid", "/2027/09?as=grid", True)),
        trades=trade_links("/2027/09"),
        weekdays=words.WEEKDAYS,
        weeks=tuple(weeks),
        note="A job stands on its best day; below the dots are those whose last day it is.",
    )


def grid_job(told: Told) -> pages.GridJob:
    pressing = told in JOBS["Can’t wait"]
    return pages.GridJob(told[0], "/job/x", told[2], told[7] is not None, pressing, words.minutes(told[6]))


def today() -> pages.Today:
    jobs = {t[0]: t for group in JOBS.values() for t in group}

    def rows(titles: Iterable[str], heading: str = "", place: bool = False) -> tuple[Row, ...]:
        return tuple(told_row(jobs[t], i + hash_free(t), heading=heading, place=place) for i, t in enumerate(titles))

    done_round = round_row("Morning round", "Let out, feed, water, eggs · done at 7.10", "morning", True)
    return pages.Today(
        frame=frame("Today", "today"),
        weekday="Wednesday",
        day="15 September",
        sun="6.41 – 19.24",
        light="12 h 43 of daylight",
        rounds=(done_round, round_row("Evening round", "Water, feed the pigs, shut up at dusk", "evening", False)),
        round_sheet=Link("For whoever minds the place", "/round"),
        urgent=Group("urgent", "Can’t wait", rows(list(jobs)[:4], "Can’t wait", place=True)),
        places=(
            Group("orchard", "Orchard", rows(["Pullets to the laying house", "Scythe the orchard"])),
            Group(
                "kitchen", "Kitchen", rows(["Bottle the second picking of plums", "Lift and dry the maincrop onions"])
            ),
            Group("byre", "Byre", rows(["Second coat of limewash, north gable"])),
        ),
        not_today=(
            pages.NotToday("Lift the maincrop potatoes", "/job/x", "wants a dry day"),
            pages.NotToday("Sell the cull ewes", "/job/ewes.sell", "not before the 23rd"),
            pages.NotToday("Fit the chimney cowl", "/job/x", "needs two; Mari is away until the 21st"),
        ),
        minutes="9 h 10",
        evening=Link("What got done", "/evening"),
    )


def hash_free(text: str) -> int:
    """A number for a title that is the same in every run."""
    return 200 + sum(map(ord, text)) % 700


def round_row(title: str, sub: str, step: str, done: bool) -> Row:
    key = f"flock.{step}.{TODAY.toordinal()}"
    can = "undo" if done else "tick"
    return Row(
        key,
        words.anchor(key),
        "livestock",
        title,
        "/round",
        sub,
        "25 min",
        can=can,
        tick_id=f"r-{step}",
        shown=f"{TODAY}/{TODAY}/{TODAY}",
        undoes="r-0" if done else "",
        past=done,
    )


def evening() -> pages.Evening:
    jobs = [t for group in JOBS.values() for t in group]
    return pages.Evening(
        frame=frame("What got done", "today", status=Status("Two jobs ticked: 3 and 7.")),
        day="Wednesday 15 September",
        rows=tuple(told_row(t, 300 + i) for i, t in enumerate(jobs[:6])),
        done=tuple(told_row(t, 320 + i) for i, t in enumerate(JOBS["Done"][:1])),
        numbers=Form(
            "/evening",
            "Tick these",
            (
                Field(
                    "numbers",
                    "Numbers",
                    value="3 7 99",
                    error="There is no 99 on the page for September 2027. 3 and 7 are ticked.",
                ),
            ),
            (Pair("month", "2027-09"),),
        ),
        printed="September 2027",
        heard=(Pair("3", "Book the abattoir for the pigs"), Pair("7", "Lift the maincrop potatoes")),
    )


def job() -> pages.Job:
    stretch = drawing.Stretch(date(2027, 9, 1).toordinal(), date(2027, 9, 30).toordinal(), TODAY.toordinal())
    hidden = (Pair("key", "byre-wall.coat2.1"), Pair("id", "77e1"), Pair("shown", "2027-09-06/2027-09-17/2027-09-28"))
    return pages.Job(
        frame=frame("Second coat of limewash"),
        key="byre-wall.coat2.1",
        title="Second coat of limewash",
        trade="upkeep",
        entry=Link("Byre, north gable", "/entry/byre-wall"),
        place="Byre",
        when="6–28 September, best on the 17th",
        pressing="",
        state="moved from the 20th",
        note="on a damp and dull day, within a fortnight of the first",
        line=drawing.line(stretch, sep(6).toordinal(), sep(28).toordinal(), [sep(17).toordinal()]),
        scale=scale(stretch, curves=False),
        loses="the first coat chalks, and frost lifts both",
        tick=Form(
            "/tick",
            "Done",
            (
                Field("on", "Done on", "date", "2027-09-15", high="2027-09-15", required=True),
                Field(
                    "m.kg", "Lime putty used", "number", "a bit", "kg", error="A number is wanted, such as 14 or 14.5."
                ),
                Field(
                    "m.found",
                    "What was found",
                    "choice",
                    "",
                    choices=tuple(Choice(c, c.capitalize()) for c in ("sound", "chalking", "flaking", "hollow")),
                ),
                Field("remark", "Remark", "lines"),
                Field(
                    "person",
                    "Who",
                    "choice",
                    "bryn",
                    choices=(Choice("mari", "Mari"), Choice("bryn", "Bryn"), Choice("tove", "Tove")),
                ),
            ),
            hidden,
        ),
        barred="",
        move=Form(
            "/move",
            "Move it",
            (Field("on", "To", "date", "2027-09-20", id="move-on", required=True),),
            hidden,
            quiet=True,
        ),
        move_risk="Freely between the 6th and the 28th. Later than that, frost may reach it before it has cured.",
        let_go=Form(
            "/letgo", "Not this year", (Field("reason", "Why", "text", id="letgo-reason"),), hidden, quiet=True
        ),
        said=(
            Undoing(
                "Moved to 17 September by Mari.",
                "2 September, 20.14",
                Form("/undo", "Take back", hidden=(Pair("answers", "0d1b"),), quiet=True),
            ),
        ),
        why=(
            Reasoned("reckoned from", "first coat, done on 30 August", "30 August", "your tick"),
            Reasoned("after it", "at least seven days, so that it has carbonated", "6 September", "common practice"),
            Reasoned("best", "on the day you moved it to", "17 September", "your word"),
            Reasoned(
                "closes",
                "the first frost comes by then in 1 year of 10, less two weeks",
                "28 September",
                "a handbook of lime, table 4 (invented here)",
            ),
        ),
        changed=(Pair("days between coats", "7; the sheet says 5"),),
        cautions=(
            Caution(
                "Lime burns eyes and skin. Wear goggles and gloves; have clean water by. Follow the maker’s sheet.",
                "common practice",
            ),
        ),
        needs=("8 °C or more", "no frost for a fortnight", "two people on the ladder"),
        uses=(Pair("lime putty", "14 kg"), Pair("tallow", "200 g")),
        makes=(),
        minutes="2 h 30",
        follows=(
            Follow("Look at the gable", "/job/x", "April 2028"),
            Follow("Next coat of limewash", "/job/y", "August – September 2030", note="not sure yet"),
        ),
        how=Link("How limewash is done", "/sheet/limewash#coat2"),
    )


CHAIN: list[tuple[str, str, date, date, date, date | None]] = [
    ("sow", "Sow under cover", date(2027, 3, 6), date(2027, 3, 12), date(2027, 3, 20), date(2027, 3, 12)),
    ("prick", "Prick out", date(2027, 4, 10), date(2027, 4, 16), date(2027, 4, 26), date(2027, 4, 18)),
    ("plant", "Plant out", date(2027, 5, 26), date(2027, 6, 3), date(2027, 6, 20), date(2027, 6, 5)),
    ("mark", "Mark 24 to stand for seed", date(2027, 9, 27), date(2027, 10, 4), date(2027, 10, 12), None),
    ("lift", "Lift for the kitchen", date(2027, 10, 14), date(2027, 12, 12), date(2028, 2, 22), None),
    (
        "flower",
        "In flower: no other leeks in flower near",
        date(2028, 6, 28),
        date(2028, 7, 24),
        date(2028, 8, 20),
        None,
    ),
    ("cut", "Cut the heads", date(2028, 9, 14), date(2028, 9, 24), date(2028, 10, 6), None),
    ("thresh", "Dry, thresh, winnow", date(2028, 10, 8), date(2028, 10, 20), date(2028, 11, 6), None),
    ("label", "Label; sow by March 2030", date(2028, 11, 6), date(2028, 11, 11), date(2028, 11, 18), None),
]


def entry() -> pages.Entry:
    stretch = drawing.Stretch(date(2027, 2, 20).toordinal(), date(2028, 12, 31).toordinal(), TODAY.toordinal())
    items = [
        chain.Item(s, title, f"/job/leek.{s}", a.toordinal(), b.toordinal(), c.toordinal(), d and d.toordinal())
        for s, title, a, b, c, d in CHAIN
    ]
    steps = tuple(
        Follow(
            title,
            f"/job/leek.{s}",
            f"done on {words.day(d, TODAY)}" if d else words.window(a, b, c, TODAY),
            drawing.line(stretch, a.toordinal(), c.toordinal(), [b.toordinal()], d and d.toordinal()),
            past=d is not None,
            note="no room before the gales" if s == "cut" else "",
            trouble=s == "cut",
        )
        for s, title, a, b, c, d in CHAIN
    )
    return pages.Entry(
        frame=frame("Leek for the table and for seed", "entries"),
        name="Leek for the table and for seed",
        trade="garden",
        kind="sowing",
        place="Leek bed, 9 m",
        sub="Sown 12 March 2027 · 180 plants · own seed since 2019",
        made_by=None,
        chain=chain.lay(items, stretch.first, stretch.last, TODAY.toordinal()),
        chain_words="Nine jobs from March 2027 to November 2028; three are done. They are listed below.",
        today="15 September, today",
        steps=steps,
        older=None,
        facts=(
            Pair("sown on", "12 March 2027"),
            Pair("row", "9 m"),
            Pair("to stand for seed", "24"),
            Pair("place", "Leek bed"),
        ),
        change=Link("Change these", "/entry/leek/change"),
        later=Form(
            "/entry/leek",
            "Show me",
            (Field("later", "Begun later by", "count", "14", "days", required=True),),
            method="get",
        ),
        later_heading="If it had begun two weeks later",
        moves=(
            Moved("Prick out", "10–26 April", "24 April – 10 May"),
            Moved("Lift for the kitchen", "from 14 October", "from 3 November", "/job/leek.lift"),
            Moved("Cut the heads", "14 September – 6 October 2028", "the same", note="seed is unchanged"),
        ),
        bars=("No other leek may flower within 1 600 m while this one does: 28 June – 20 August 2028.",),
        clashes=(),
        lacks=(),
        changed=(Pair("weeks to plant out", "11; the sheet says 12"),),
        made=(),
        end=Form(
            "/entry/leek/end", "End it", (Field("on", "Last day", "date", "2027-09-15", id="end-on"),), quiet=True
        ),
        strike=Form("/entry/leek/strike", "Strike it out", note="Its ticks are kept.", quiet=True),
        ended="",
        how=Link("How leek seed is saved", "/sheet/leek-seed"),
    )


def search(action: str) -> Form:
    return Form(action, "Find", (Field("q", "Find", "search"),), method="get", quiet=True)


def entries() -> pages.Entries:
    told = {
        "garden": [
            (
                "Leek for the table and for seed",
                "sowing · Leek bed · since 12 March",
                "Mark 24 to stand for seed",
                "from 27 Sep · best 4 · by 12 Oct",
                "",
            ),
            (
                "Maincrop potatoes",
                "planting · Potato bed · since 14 April",
                "Pull and burn the blighted haulm",
                "from 12 · best 12 · by 16 Sep",
                "one day left",
            ),
        ],
        "livestock": [
            (
                "Orchard flock",
                "flock · Orchard · 24 hens",
                "Pullets to the laying house",
                "from 13 · best 17 · by 21 Sep",
                "",
            )
        ],
        "meat": [
            (
                "Belly, dry cure",
                "cure · Curing fridge · since 6 September",
                "Turn the belly in the cure",
                "from 14 · best 15 · by 16 Sep",
                "",
            )
        ],
        "preserving": [
            (
                "Damsons 2027",
                "batch · Kitchen · 14 kg",
                "Sieve and jam",
                "from 13 · best 14 · by 17 Sep",
                "two days left",
            )
        ],
        "upkeep": [
            ("Byre, north gable", "wall · 38 m² · lime", "Second coat of limewash", "from 6 · best 17 · by 28 Sep", "")
        ],
    }
    return pages.Entries(
        frame=frame("What there is", "entries"),
        count="31 things, each with what follows next",
        search=search("/entries"),
        trades=trade_links("/entries"),
        groups=tuple(
            pages.EntryGroup(t, tuple(pages.EntryLine(e[0], "/entry/x", *e[1:]) for e in told[t])) for t in TRADES
        ),
        ended=Link("Show what is over, too", "/entries?over=yes"),
    )


SHEETS = {
    "garden": [
        ("Leek, for the table", "Sown in spring, stands the winter.", "you have one"),
        ("Parsnip, kept for seed", "Stands a winter and flowers in its second year.", ""),
        ("Tomato, with its seed", "Eight weeks before the last frost.", ""),
        ("Garlic", "In by the end of November.", ""),
    ],
    "livestock": [
        ("Laying hens", "A flock, with its morning and evening round.", "you have two"),
        ("Weaners", "From eight weeks to pork.", ""),
    ],
    "meat": [
        ("Belly, dry-cured", "Salted by weight, rested, smoked or not.", "you have one"),
        ("Box of cuts", "To portion, pack and freeze.", ""),
    ],
    "preserving": [("Plums, bottled", "In syrup, in a water bath.", "")],
    "upkeep": [
        ("Gutters", "Looked at in autumn, cleared after leaf fall.", "you have one"),
        ("Limewashed wall", "A coat every few years, by what the look finds.", ""),
    ],
}


def add() -> pages.Add:
    return pages.Add(
        frame=frame("Add", "add"),
        heading="Add",
        lead="What is there now that was not there before?",
        search=search("/add"),
        trades=trade_links("/add"),
        groups=tuple(
            pages.SheetGroup(t, tuple(pages.SheetLine(s[0], "/add/x", s[1], s[2]) for s in SHEETS[t])) for t in TRADES
        ),
    )


def found() -> pages.Add:
    things = {
        "garden": [
            ("Blight on the potatoes", "Brown blotches with a pale edge, after warm wet days."),
            ("Rust on the leeks", "Orange pustules."),
        ],
        "livestock": [
            ("A hen that is not well", "Hunched, apart, not eating."),
            ("Fox about", "Feathers, or tracks at the fence."),
        ],
        "upkeep": [("A leak", "A wet patch that grows."), ("Power cut", "The freezer has begun to count hours.")],
    }
    return pages.Add(
        frame=frame("Found…", "found"),
        heading="Found…",
        lead="What have you seen? The work begins today.",
        search=search("/found"),
        trades=(),
        groups=tuple(
            pages.SheetGroup(t, tuple(pages.SheetLine(name, "/add/x?found=yes", about) for name, about in rows))
            for t, rows in things.items()
        ),
    )


def entry_form() -> pages.EntryForm:
    stretch = drawing.Stretch(date(2028, 2, 1).toordinal(), date(2029, 1, 31).toordinal(), None)
    dated = [
        ("Sow under cover", date(2028, 3, 4), date(2028, 3, 12), date(2028, 4, 2), "", False),
        ("Prick out", date(2028, 4, 10), date(2028, 4, 18), date(2028, 4, 30), "", False),
        ("Plant out", date(2028, 5, 26), date(2028, 6, 4), date(2028, 6, 24), "12 weeks after sowing", False),
        (
            "Lift for the kitchen",
            date(2028, 10, 14),
            date(2028, 12, 1),
            date(2029, 1, 31),
            "no bed free until 20 June",
            True,
        ),
    ]
    rows = tuple(
        pages.DateLine(
            t,
            words.window(a, b, c, TODAY),
            drawing.line(stretch, a.toordinal(), c.toordinal(), [b.toordinal()]),
            note,
            bad,
        )
        for t, a, b, c, note, bad in dated
    )
    months = tuple(
        (drawing.at(stretch, date(2028 + (m > 12), m - 12 * (m > 12), 1).toordinal()), words.MONTHS[(m - 1) % 12][:3])
        for m in range(2, 14)
    )
    return pages.EntryForm(
        frame=frame("Add: leek, for the table", "add"),
        heading="Leek, for the table",
        trade="garden",
        about="Sown in spring, planted out in early summer, stands the winter.",
        form=Form(
            "/add/leek",
            "Show the dates again",
            (
                Field("name", "What you call it", value="Leeks in the long bed"),
                Field("date", "To be sown on", "date", "2028-03-12", required=True),
                Field("place", "Where", value="Long bed 1"),
                Field("row_m", "Row", "number", "nine", "m", error="A number is wanted, between 0.1 and 500 m."),
                Field("plants", "Plants", "count", "180", help="about 20 to the metre"),
                Field("own_seed", "Own seed", "choice", "yes", choices=(Choice("yes", "Yes"), Choice("no", "No"))),
            ),
        ),
        preview=pages.Preview(
            heading="These dates would follow",
            dates=rows,
            months=months,
            moves=(),
            clashes=("Leek for the table and for seed flowers from 28 June to 20 August 2028; these do not.",),
            bars=("Long bed 1 is taken by the broad beans until 20 June.",),
            more="and a look for rust every three weeks until lifting",
            seen="b4c1d9",
            confirm="Put it down",
        ),
        cautions=(),
        back=Link("Choose something else", "/add"),
        how=Link("How it’s done", "/sheet/leek"),
    )


def change() -> pages.EntryForm:
    return pages.EntryForm(
        frame=frame("Change: leek", "entries"),
        heading="Change: leeks in the long bed",
        trade="garden",
        about="What was ticked stays as it was.",
        form=Form(
            "/entry/leek/change", "Show what moves", (Field("date", "Sown on", "date", "2027-03-26", required=True),)
        ),
        preview=pages.Preview(
            heading="This would move",
            dates=(),
            months=(),
            moves=(
                Moved("Prick out", "10–26 April", "24 April – 10 May"),
                Moved("Plant out", "26 May – 20 June", "9 June – 4 July", note="no room after the 20th", trouble=True),
                Moved("Thin", "", "12–20 May"),
            ),
            clashes=(),
            bars=(),
            more="",
            seen="c1",
            confirm="Change it",
        ),
        cautions=(
            Caution("Sap of the parsnip and its kin burns skin in sunlight: cover your arms.", "common practice"),
        ),
        back=Link("Leave it as it was", "/entry/leek"),
        how=Link("How it’s done", "/sheet/leek"),
    )


NATIONS = tuple(
    Choice(n.lower(), n) for n in ("England", "Scotland", "Wales", "Northern Ireland", "Ireland", "Elsewhere")
)


def start_place() -> pages.Start:
    return pages.Start(
        frame=Frame("Where it is", bare=True),
        step=1,
        heading="Where is it?",
        lead="Dates hang on frost, daylight and the law of the place.",
        form=Form("/start/1", "On"),
        parts=(
            pages.Part(
                "The place",
                (
                    Field("name", "What the holding is called", value="Carrock Side", required=True),
                    Field(
                        "nation",
                        "Nation",
                        "choice",
                        "",
                        choices=NATIONS,
                        help="For closed seasons and legal limits. With none set, no legal date is given.",
                        error="Please choose one; “Elsewhere” will do.",
                    ),
                    Field("lat", "Latitude", "number", "54.7", "°", required=True),
                    Field("lon", "Longitude", "number", "-3.1", "°", required=True),
                    Field("height_m", "Height", "number", "210", "m"),
                ),
            ),
        ),
        back=None,
    )


def start_house() -> pages.Start:
    return pages.Start(
        frame=Frame("Frost and mouths", bare=True),
        step=2,
        heading="When does it freeze, and who eats?",
        lead="Worked out from where you are. Put them right if you know better.",
        form=Form("/start/2", "On"),
        parts=(
            pages.Part(
                "Frost",
                (
                    Field("last_frost", "Last frost of spring, most years", "date", "2027-05-12"),
                    Field("first_frost", "First frost of autumn, most years", "date", "2027-10-08"),
                ),
            ),
            pages.Part(
                "The table",
                (
                    Field("mouths", "Mouths to feed", "count", "4", required=True),
                    Field("units", "Temperatures in", "choice", "c", choices=(Choice("c", "°C"), Choice("f", "°F"))),
                ),
            ),
        ),
        back=Link("Back", "/start/1"),
    )


def start_things() -> pages.Start:
    def part(trade: str) -> pages.Part:
        choices = tuple(Choice(s[0].lower(), s[0], s[1]) for s in SHEETS[trade])
        return pages.Part(
            words.trade(trade), (Field(f"have-{trade}", "Tick what there is", "several", choices=choices),), trade=trade
        )

    return pages.Start(
        frame=Frame("What there is", bare=True),
        step=3,
        heading="What is there already?",
        lead="Tick what you have. Dates can be put right afterwards, one thing at a time.",
        form=Form("/start/3", "Fill my year", note="You will see the month at once."),
        parts=tuple(part(t) for t in TRADES),
        back=Link("Back", "/start/2"),
    )


def household() -> pages.Household:
    def person(name: str, hours: tuple[str, ...], week: str) -> pages.Person:
        slug = name.lower()
        fields = tuple(
            Field(f"h{i}", d[:3], "number", h, "h", id=f"{slug}-h{i}", required=True)
            for i, (d, h) in enumerate(zip(words.WEEKDAYS, hours, strict=True))
        )
        away_fields = (
            Field("from", "From", "date", id=f"{slug}-from", required=True),
            Field("to", "To", "date", id=f"{slug}-to", required=True),
        )
        back = Form("/household/away/1/undo", "Take back", quiet=True)
        away = (Undoing("Away 14–21 September", "", back),) if name == "Mari" else ()
        return pages.Person(
            name,
            Form(f"/household/{slug}/hours", "Keep", fields, quiet=True),
            week,
            away,
            Form(f"/household/{slug}/away", "Put it down", away_fields, quiet=True),
            Form(f"/household/{slug}/leave", "Take off the list", note="What was said stays said.", quiet=True),
        )

    return pages.Household(
        frame=frame("Household", "household"),
        parts=(
            pages.Part(
                "What it is",
                (
                    Field("name", "Called", value=HOLDING, required=True),
                    Field("nation", "Nation", "choice", "england", choices=NATIONS),
                ),
            ),
            pages.Part(
                "Frost",
                (
                    Field("last", "Last frost of spring", "date", "2027-05-12"),
                    Field("first", "First frost of autumn", "date", "2027-10-08"),
                ),
                "Half of all years are later, half earlier.",
            ),
        ),
        holding=Form("/household", "Keep"),
        people=(
            person("Mari", ("1", "1", "1", "1", "1", "4", "3"), "12 h in a week"),
            person("Bryn", ("2", "0", "2", "2", "0", "6", "2"), "14 h in a week"),
        ),
        add=Form("/household/people", "Add", (Field("name", "Name", id="person-name", required=True),), quiet=True),
        total="43 h in a week between four; the rounds take 14 h of them",
        links=(Link("The round, for whoever minds the place", "/round"), Link("Take everything out as files", "/out")),
    )


def calendar() -> pages.Calendar:
    address = "http://192.168.1.20:8000/calendar/Kq3_invented_secret_7dTz.ics"
    picture = segno.make(address, error="m").svg_inline(
        border=2, dark="#000", light="#fff", svgclass=None, lineclass=None
    )
    return pages.Calendar(
        frame=frame("Calendar", "calendar"),
        new=pages.NewLink(
            "A link for Tove’s phone", address, address.replace("http", "webcal"), Markup(picture), address
        ),
        links=(
            pages.Shared(
                "Mari’s phone",
                "All trades · open jobs · rings at 8 in the morning",
                "made on 3 March",
                "last read yesterday",
                Form("/calendar/1/revoke", "Stop it", quiet=True),
            ),
        ),
        form=Form(
            "/calendar",
            "Make a link",
            (
                Field("name", "Whose it is", value="", required=True),
                Field(
                    "trades",
                    "Trades",
                    "several",
                    values=("garden", "meat"),
                    choices=tuple(Choice(t, words.trade(t)) for t in TRADES),
                ),
                Field(
                    "which",
                    "Which jobs",
                    "choice",
                    "open",
                    choices=(Choice("open", "Still to do"), Choice("all", "Done ones too")),
                ),
                Field(
                    "as",
                    "As",
                    "choice",
                    "events",
                    choices=(
                        Choice("events", "Days in the calendar"),
                        Choice("todo", "To-dos", "not every calendar shows them"),
                    ),
                ),
                Field("alarm", "Ring before a window closes", "tick", "yes"),
            ),
        ),
        caution="Whoever has the address can read these jobs, and nothing else. One kept elsewhere can’t reach here.",
        file=Link("Take the year as a file", "/calendar.ics"),
    )


def sheet() -> pages.Sheet:
    return pages.Sheet(
        frame=frame("How it’s done: limewashed wall"),
        title="Limewashed wall",
        trade="upkeep",
        about="A coat every few years, by what the yearly look finds.",
        own="Changed for this holding.",
        facts=(
            Pair("Last washed on", "a date"),
            Pair("Exposure", "sheltered, moderate (usual), severe or very severe"),
            Pair("Area", "m²"),
        ),
        cautions=(Caution("Lime burns eyes and skin.", "common practice"),),
        steps=(
            pages.SheetStep(
                "look",
                "Look at the wall",
                "after the winter",
                (Pair("reckoned from", "10 April"), Pair("again", "every year")),
                (
                    Pair("takes", "15 min"),
                    Pair("asks", "what was found: sound, chalking, flaking, hollow"),
                    Pair("if missed", "it passes; nothing is owed"),
                ),
                (),
                "common practice",
            ),
            pages.SheetStep(
                "coat2",
                "Second coat",
                "on a damp and dull day",
                (
                    Pair("reckoned from", "the first coat"),
                    Pair("after", "the first coat, by a week at least"),
                    Pair("closes", "two weeks before the first frost"),
                ),
                (
                    Pair("takes", "4 min a square metre"),
                    Pair("uses", "lime putty, 0.4 kg a square metre"),
                    Pair("if missed", "it waits for its next season"),
                ),
                (Caution("Two on a ladder job: one holds it.", "common practice"),),
                "from memory: believed in a handbook of lime",
                (Pair("after", "7 days; the sheet says 5"),),
                "The law of nowhere in particular (invented)",
            ),
        ),
        bars=(Pair("No swallows’ nest is disturbed while it is in use.", "the law of England and Wales"),),
        sources=("A handbook of lime, invented for this page, table 4.",),
        add=Link("Put one down", "/add/limewash"),
    )


def round_sheet() -> pages.RoundSheet:
    return pages.RoundSheet(
        frame=frame("The round"),
        days="14–21 September",
        parts=(
            pages.RoundPart(
                "Morning",
                "from first light, 6.41",
                "25 min",
                (
                    pages.RoundLine(
                        "Let out the hens, fill the drinker",
                        "Orchard",
                        "two scoops of pellets",
                        "Count them: there are 24.",
                    ),
                    pages.RoundLine("Gather the eggs", "Laying house", "", "About 15; write the number on the door."),
                    pages.RoundLine("Feed the pigs", "Orchard ark", "3 kg a head", ""),
                ),
            ),
            pages.RoundPart(
                "Evening",
                "at dusk, about 19.30",
                "20 min",
                (
                    pages.RoundLine("Shut up the hens", "Orchard", "", "Count them again."),
                    pages.RoundLine("Water all round", "", "", ""),
                ),
            ),
        ),
        also=(Follow("Turn the belly in the cure", "/job/x", "every day, 5 min"),),
        not_to_eat=("Eggs of the orchard flock: not before 23 September (wormed on the 9th).",),
        call=(Pair("Vet", "written on the barn door"), Pair("Mari", "her own telephone")),
        form=Form(
            "/round",
            "Show",
            (
                Field("from", "From", "date", "2027-09-14", required=True),
                Field("to", "To", "date", "2027-09-21", required=True),
            ),
            method="get",
            quiet=True,
        ),
    )


def wrong() -> pages.Wrong:
    return pages.Wrong(
        frame=frame("No such month"),
        code=404,
        heading="There is no thirteenth month",
        sentence="An address for a month ends in a number from 01 to 12, such as /2027/09.",
        kept="Nothing was changed.",
        links=(Link("This month", "/"), Link("Today", "/today")),
    )


def ticked() -> pages.Ticked:
    row = told_row((*JOBS["Can’t wait"][0][:7], 15), 1)
    moved = told_row(JOBS["Still to come"][2], 77)
    undo = Form("/undo", "Take back", hidden=(Pair("answers", "5f0c"), Pair("id", "77")), quiet=True)
    return pages.Ticked(row, Status("Done: sieve and jam the damsons. One job moves.", undo), summary(), (moved,))


def every() -> dict[str, pages.Page]:
    """Every page, by the name under which its picture is kept."""
    return {
        "month": month(),
        "month-grid": month_grid(),
        "today": today(),
        "evening": evening(),
        "job": job(),
        "entry": entry(),
        "entries": entries(),
        "add": add(),
        "found": found(),
        "add-dates": entry_form(),
        "change": change(),
        "start-1": start_place(),
        "start-2": start_house(),
        "start-3": start_things(),
        "household": household(),
        "calendar": calendar(),
        "sheet": sheet(),
        "round": round_sheet(),
        "error": wrong(),
    }
