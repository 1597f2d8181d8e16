"""Invented pages about what there is, filled by hand to be drawn and looked at."""

from datetime import date

import segno
from markupsafe import Markup

from app.web import drawing, pages, words
from app.web.house.calendar_page import KINDS
from app.web.parts import (
    Caution,
    Choice,
    Field,
    Follow,
    Form,
    Frame,
    Link,
    Moved,
    Pair,
    Undoing,
)
from tests.web.sample_jobs import HOLDING, TODAY, TRADES, frame, trade_links


def search(action: str) -> Form:
    return Form(action, "Find", (Field("q", "Name or place", "search"),), method="get", quiet=True)


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
            drawing.line(stretch, a.toordinal(), c.toordinal(), (b.toordinal(),)),
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
        border=2, dark="#000", light="#fff", svgclass=None, lineclass=None, omitsize=True
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
        kinds=KINDS,
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
        figures=(pages.SheetFigure("frost", "harmed from −4 °C, killed at −7 °C", "common practice"),),
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
