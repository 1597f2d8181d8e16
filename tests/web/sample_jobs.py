"""Invented jobs of an invented September, as rows, folds and groups: made up, and none of it comes out of the rules."""

import itertools
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from app.web import drawing, pages, words
from app.web.parts import (
    DayMark,
    Fold,
    Frame,
    Group,
    Link,
    Row,
    Scale,
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
    return Frame(title, HOLDING, here, "/2027/09", made_up=True, **more)  # type: ignore[arg-type]


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
            stretch, a.toordinal(), c.toordinal(), (b.toordinal(),), None if done is None else sep(done).toordinal()
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
                rows = [replace(told_row(told, next(inside)), number="", sub="") for told in inner]
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
        line=drawing.line(MONTH, a.toordinal(), c.toordinal(), tuple(sep(t[4]).toordinal() for t in open_)),
        number=number,
    )


def scale(stretch: drawing.Stretch, curves: bool = True) -> Scale:
    """The head of a column of windows."""
    marks = []
    for day in range(stretch.first, stretch.last + 1):
        on = date.fromordinal(day)
        marks.append(
            DayMark(on.day, drawing.middle(stretch, day), on.weekday() > 4, day == stretch.today, on.day % 7 == 1)
        )
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
