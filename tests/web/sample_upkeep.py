"""Upkeep's pages, filled by hand with invented walls, weather and wood."""

from markupsafe import Markup

from app.web import pages
from app.web.drawing import Stretch, line
from app.web.pages.upkeep import (
    Bought,
    BuildingPart,
    Checked,
    ElementLine,
    JobLine,
    LawLine,
    PileLine,
    WaitLine,
    YearAsks,
)
from app.web.parts import Caution, Field, Form, Link, Pair
from app.web.upkeep.drawing import Drawn, Lane, YearBar, building, fit_by_month, hours_by_year, window_bar
from tests.web.sample_jobs import TODAY, frame

NOW = TODAY.toordinal()
YEAR = Stretch(NOW - 40, NOW + 500, NOW)
YEARS = Stretch(NOW - 200, NOW + 15 * 365, NOW)
MARKS = ((0.0, "2027"), (20.0, "2030"), (40.0, "2033"))


def _line(opens: int, closes: int) -> Markup:
    return line(YEAR, NOW + opens, NOW + closes, (NOW + (opens + closes) // 2,))


def there() -> pages.Upkeep:
    lanes = [
        Lane("West wall", (Drawn(NOW + 700, NOW + 720, NOW + 800), Drawn(NOW + 3600, NOW + 3620, NOW + 3700))),
        Lane("Gutters", (Drawn(NOW + 40, NOW + 60, NOW + 90),)),
    ]
    elements = (
        ElementLine(
            "West wall", "/entry/wall", "masonry paint on render · 46 m² · severe", "Last painted 20 June 2023",
            "Found chalking, below the sill on 3 May 2027", Link("Look the wall over, and tap it", "/job/x"),
            "from 3 · best 20 · by 28 May", _line(30, 60), "two days left", Link("Look at it", "/job/y"),
            Link("How much", "/upkeep/amounts?what=masonry"), "",
        ),
        ElementLine(
            "Byre, north gable", "/entry/byre", "limewash · 38 m²", "Last limewashed about 2021", "",
            Link("Brush on the first coat", "/job/z"), "about April 2030", _line(100, 140),
            misfit="Limewash wants something that drinks; on hard cement render it dusts off.",
        ),
    )  # fmt: skip
    part = BuildingPart(
        "b0", "House", "two things", elements, building(YEARS, lanes, "House, the years to come."),
        (Pair("West wall", "paint the wall in June 2029"), Pair("Gutters", "clear the gutters in November")),
    )  # fmt: skip
    wait = WaitLine(
        "First coat on the patch, thinned by a tenth: not before 3 October", "/job/w",
        "West wall · Patch the render: done on 5 September, ten days of 28 days gone", _line(-10, 18),
    )  # fmt: skip
    return pages.Upkeep(
        frame("Upkeep", "upkeep"),
        "Two things to keep up; one job is asked now",
        (JobLine("Look the wall over", "/job/x", "West wall, house", "by 17 April", "two days left"),),
        (wait,),
        (part,),
        MARKS,
        MARKS,
        Form("/upkeep", "Put it down", (Field("done", "Last done", error="2031 has not come yet."),)),
        True,
        Link("More can be said of it", "/add"),
        ("A window is drawn as a line.",),
    )


def years() -> pages.UpkeepYears:
    bars = [YearBar(2027 + n, 40 + 17 * (n % 4), 12 * (n % 4)) for n in range(15)]
    big = (JobLine("Paint the wall, two coats", "/job/p", "West wall", "June", hours="21 h"),)
    return pages.UpkeepYears(
        frame("Fifteen years of upkeep", "upkeep"),
        "About 41 h every year, whatever is painted; most in 2030, 91 h.",
        hours_by_year(bars, "Hours of upkeep by year."),
        tuple(
            YearAsks(str(one.year), f"41 jobs, {one.hours:.0f} h", "90 by your prices", window_bar(0.5),
                     big if one.big_hours else ())
            for one in bars
        ),
        ("Hours are those of the sheets.",),
    )  # fmt: skip


def winter() -> pages.UpkeepWinter:
    late = JobLine(
        "Look at the lagging and mend it", "/job/l", "Yard taps, yard", "by 1 September", "14 days late",
        "A burst pipe is found in the thaw.",
    )  # fmt: skip
    job = JobLine(
        "Clear gutters, hoppers and gullies", "/job/g", "Gutters, house", "by 28 November",
        says="Water over the edge into the wall. Its own time begins only on 31 October.",
    )  # fmt: skip
    return pages.UpkeepWinter(
        frame("Ready for winter", "upkeep"),
        "One year in ten the first frost has come by 28 September: two jobs to do before it, one job of them late.",
        (late,), (job,), (job,), (Pair("Have the chimney swept, kitchen", "3 September", "/entry/c"),),
        ("The frost is the early one.",),
    )  # fmt: skip


def fit() -> pages.UpkeepFit:
    days = (0, 0.4, 2, 5, 9, 8, 7, 6, 6, 3, 0.5, 0)
    return pages.UpkeepFit(
        frame("Fit to paint?", "upkeep"),
        Form("/upkeep/fit", "Is it fit now?", (Field("air", "Air", "number", "10", "°C"),), method="get"),
        "No. One reason against it.",
        False,
        (
            Checked(False, "Surface 2.4 °C above the dew point of 7.6 °C; 3 is wanted"),
            Checked(True, "Humidity 85 %; 85 at most"),
        ),
        (Pair("Dew point", "7.6 °C"),),
        "Water-borne paint on a wall: days to expect here",
        fit_by_month(days, "Days to expect."),
        (Pair("May", "nine days"),),
        Form("/upkeep/fit", "Show", (Field("on", "On"),), method="get"),
        (JobLine("Paint the wall", "/job/p", "West wall, house", "about June 2029",
                 says="June gives 8 fit days here, and it takes six days: too few.", trouble=True),),
        ("The tin’s own figures rule over these.",),
    )  # fmt: skip


def amounts() -> pages.UpkeepAmounts:
    return pages.UpkeepAmounts(
        frame("How much to buy", "upkeep"),
        Form("/upkeep/amounts", "Reckon it", (Field("area", "Area", "number", "80", "m²"),), method="get"),
        "22 litres of masonry paint.",
        (Bought("Masonry paint", "22 litres, 22 to 35 as the wall drinks", "three tins of 10 l", "162 in all"),),
        (Pair("Reckoned", "80 m², 2 coats"),),
        (Link("3 months", "/upkeep/amounts?months=3#list", True),),
        "For the jobs of the next six months",
        (
            Bought("Biocide", "4.6 litres", "one tin of 5 l", "19", "order it now", (Link("Wash it", "/job/b"),),
                   "/upkeep/amounts?pack=biocide#packs", True),
        ),
        "19 by your prices, for what has one",
        Form("/upkeep/amounts", "Keep it", (Field("what", "What", id="pack-what"),), quiet=True),
        True,
        (Pair("Biocide", "5 l, 19, comes in seven days"),),
        (Caution("Lime burns.", "common practice"),),
    )  # fmt: skip


def wood() -> pages.UpkeepWood:
    pile = PileLine(
        "Oak by the byre", "/entry/oak", "4 m³ · oak · stacked 3 March 2026", "Dry by about 4 June 2028",
        "About 31 % today, by reckoning", Link("Measure it", "/job/m"), _line(200, 300),
    )  # fmt: skip
    return pages.UpkeepWood(
        frame("Firewood", "upkeep"), "4 m³ stacked, 0 m³ of it ready to burn.", (pile,), MARKS,
        Form("/upkeep/wood", "Is it dry?", (Field("percent", "The meter reads", "number", unit="%"),), method="get"),
        "Dry: 20 % of it is water. It can be burned.", (Pair("By the whole", "20 %"),),
        Form("/upkeep/wood", "How much?", (Field("kilowatts", "The stove gives", "number", unit="kW"),), method="get"),
        "A winter asks 6.1 m³, stacked.", (Pair("Stacked", "6.1 m³"),), Link("Put a stack down", "/add/firewood"),
        ("A meter tells.",),
    )  # fmt: skip


def law() -> pages.UpkeepLaw:
    season = LawLine(
        "Closed season for hedges on farm land.", "", (), (), "Cutting hedges, 1 March to 31 August",
        "in force since 23 May 2024", "last checked 25 November 2026", "An invented regulation",
    )  # fmt: skip
    rule = LawLine(
        "Wiring of rented homes is inspected.", "binds landlords", (Link("Wiring", "/sheet/electrics"),),
        (Link("House wiring", "/entry/w"),), "Every five years at the longest", "", "last checked 25 November 2026",
        "An invented order", "This quarter, April to June: 5.2 m³ felled. That is past the allowance.", True,
    )  # fmt: skip
    return pages.UpkeepLaw(
        frame("The law on upkeep", "upkeep"), "As it holds in England. Check your local rules.", (season,), (rule,),
        ("Byelaws may ask for more.",), Link("Say which nation you are in", "/household"),
    )  # fmt: skip
