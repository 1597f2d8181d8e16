"""Invented pages about what is to be done, filled by hand to be drawn and looked at."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from app.web import chain, drawing, pages, words
from app.web.parts import (
    Caution,
    Choice,
    Field,
    Follow,
    Form,
    Group,
    Link,
    Moved,
    Pair,
    Reasoned,
    Row,
    Status,
    Undoing,
)
from tests.web.sample_jobs import (
    JOBS,
    MONTH,
    TODAY,
    Told,
    frame,
    month_groups,
    scale,
    sep,
    summary,
    told_row,
    trade_links,
)

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
        frame=frame("Today", "today", status=Status("Done: morning round.", Form("/undo", "Take back", quiet=True))),
        weekday="Wednesday",
        day="15 September",
        sun="6.41 – 19.24",
        light="12 h 43 of daylight",
        rounds=(done_round, round_row("Evening round", "Water, feed the pigs, shut up at dusk", "evening", False)),
        round_sheet=Link("Round sheet", "/round"),
        found=Link("Found…", "/found"),
        weather=day_weather("2027-09-15", "Today", "wet", "wind"),
        frost=Group("frost", "Before tonight’s frost", rows(["Second coat of limewash, north gable"], place=True)),
        urgent=Group("urgent", "Can’t wait", rows(list(jobs)[:4], "Can’t wait", place=True)),
        indoors=Group("indoors", "Under cover, while it is wet", asking(rows(["Bottle the second picking of plums"]))),
        views=(Link("By place", "/today?by=place", True), Link("By urgency", "/today?by=urgency")),
        places=(
            Group("orchard", "Orchard", rows(["Pullets to the laying house", "Scythe the orchard"])),
            Group("kitchen", "Kitchen", rows(["Lift and dry the maincrop onions"])),
        ),
        not_today=(
            pages.NotToday("Lift the maincrop potatoes", "/job/x", "wants a dry day", "last day"),
            pages.NotToday("Sell the cull ewes", "/job/ewes.sell", "not before the 23rd"),
            pages.NotToday("Fit the chimney cowl", "/job/x", "needs two; Mari is away until the 21st"),
        ),
        ahead=(
            pages.DayAhead(
                "Tomorrow, Thursday 16 September",
                (pages.Coming("Pick the pears: Conference", "/job/x", "garden", "best then"),),
                day_weather("2027-09-16", "Tomorrow", "dry"),
                Link("and four more", "/2027/09"),
            ),
            pages.DayAhead("Saturday 18 September", (), None),
        ),
        done=None,
        minutes="9 h 10",
        evening=Link("What got done", "/evening"),
    )


def day_weather(day: str, name: str, *holds: str) -> pages.DayWeather:
    kinds = ("dry", "showers", "wet", "frost", "wind")
    return pages.DayWeather(
        day,
        name,
        tuple(
            pages.Tap(f"{kind} {'no' if kind in holds else 'yes'}", kind.capitalize(), f"{name}: {kind}", kind in holds)
            for kind in kinds
        ),
    )


def asking(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """The rows, each with a number to be typed beside its tick, mistyped; and what else it asks."""
    ask = Field("m.jars", "Jars", "count", "4 ½", error="A whole number is wanted.")
    return tuple(
        replace(row, ask=replace(ask, id=f"{row.anchor}-n"), asks="kept, and where they stand") for row in rows
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
        lines=tuple(evening_line(n, told) for n, told in enumerate(jobs[:6])),
        more=tuple(evening_line(n, told) for n, told in enumerate(jobs[6:8], 6)),
        on=Field("on", "Done on", "date", "2027-09-15", high="2027-09-15", required=True),
        who=Field("person", "Who", "list", "1", choices=(Choice("1", "Mari"), Choice("2", "Ned"))),
        error="",
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


def evening_line(n: int, told: Told) -> pages.EveningLine:
    unit = ("kg", "")[n % 2]
    label = ("Weight", "Eggs of the week")[n % 2]
    wrong = "A number is wanted." if n == 2 else ""
    ask = Field(f"m.{n}", label, "number" if unit else "count", "1o" if wrong else "", unit, "", wrong, id=f"e{n}-n")
    return pages.EveningLine(n, f"job.{n}", f"job.{n}~0", "", told[2], told[0], told[1], n == 2, ask if n < 4 else None)


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
        line=drawing.line(stretch, sep(6).toordinal(), sep(28).toordinal(), (sep(17).toordinal(),)),
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
        clock="from 19.00, for 9 h, looked at every 4 h",
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
            drawing.line(stretch, a.toordinal(), c.toordinal(), (b.toordinal(),), d and d.toordinal()),
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


def ticked() -> pages.Ticked:
    row = told_row((*JOBS["Can’t wait"][0][:7], 15), 1)
    moved = told_row((*JOBS["Still to come"][2][:3], 19, 20, 22, 20, None), 23)
    undo = Form("/undo", "Take back", hidden=(Pair("answers", "5f0c"), Pair("id", "77")), quiet=True)
    return pages.Ticked(row, Status("Done: sieve and jam the damsons. One job moves.", undo), summary(), (moved,))
