"""The garden's pages filled by hand; beds, crops and figures are made up."""

from datetime import date

from app.web import pages
from app.web.drawing import Stretch
from app.web.garden import bed_drawing
from app.web.garden.bed_drawing import Item, Owed
from app.web.parts import Choice, Field, Form, Link, Pair, Undoing
from tests.web.sample_jobs import frame

FIRST, LAST = date(2026, 9, 1).toordinal(), date(2028, 9, 30).toordinal()
STRETCH = Stretch(FIRST, LAST, date(2027, 9, 15).toordinal())
MONTHS = ((0.0, "Sep"), (16.0, "2027"), (48.0, "Sep"), (64.0, "2028"))


def _items() -> list[Item]:
    return [
        Item("Beans, tall", date(2027, 5, 20).toordinal(), date(2027, 9, 30).toordinal(), False),
        Item("Garlic", date(2027, 10, 12).toordinal(), date(2028, 7, 20).toordinal(), True),
        Item("Mint <the old one>", date(2020, 5, 1).toordinal(), None, False),
    ]


def _bed_form(action: str) -> Form:
    return Form(
        action,
        "Put it down",
        (
            Field("name", "What it is called", required=True),
            Field("length_m", "Length", "number", "0", "m", error="It should be between 0.1 and 1000 m."),
            Field("cover", "Under", "choice", "open", choices=(Choice("open", "The open"), Choice("sill", "A sill"))),
        ),
    )


def beds() -> pages.Beds:
    """Two beds and a sill."""
    row = pages.BedRow(
        "Long bed",
        "/garden/bed/1",
        "6 × 1.2 m · loam",
        "Beans, tall, until 30 September",
        "free 1–11 October",
        "Beans, tall: wants water, 12 litres a metre",
        "Garlic: Long bed had onions in 2026: the onion family should be kept off it until 2030.",
        bed_drawing.year(STRETCH, _items(), "Long bed: Beans, tall, 20 May – 30 September 2027."),
    )
    bare = pages.BedRow(
        "Top bed", "/garden/bed/2", "3 × 1 m", "Nothing stands here", "free from now on", "", "",
        bed_drawing.year(STRETCH, [], "Top bed: nothing stands here."),
    )  # fmt: skip
    roots = (pages.Turn("roots", "parsnips and carrots"),)
    turns = (
        pages.Turns(
            "Long bed", "/garden/bed/1", ((), roots, roots, (pages.Turn("salad leaves", ""),)), "potatoes", "muck"
        ),
        pages.Turns("Top bed", "/garden/bed/2", ((), (), (), ()), "anything", ""),
    )
    return pages.Beds(
        frame=frame("Garden", "garden"),
        sub="Two beds, 10 m²; one wants water",
        beds=(row, bare),
        months=MONTHS,
        years=("2024", "2025", "2026", "2027"),
        next_year="2028",
        turns=turns,
        cover="Room for four trays under cover; six are wanted on 3 May: stagger them, or sow fewer.",
        trays=(pages.Standing("Leeks", "/entry/leeks", "25 March – 26 June", "three trays"),),
        unmeasured=(Link("gate bed", "/garden?name=gate%20bed#add"),),
        add=_bed_form("/garden"),
        open=True,
    )


def bed() -> pages.Bed:
    """A bed with everything on it."""
    days = [Owed(n * 1.1 % 40, 30, 4 if n % 9 == 0 else 0, 10 if n % 20 == 0 else 0) for n in range(60)]
    water = pages.Water(
        "water-beans",
        "Ten days dry: the beans want 12 litres a metre.",
        True,
        "34 litres for all of it: slowly, at the foot, in the evening.",
        "Warmth was read on 20, rain on 20 of 60 days; the rest is an average year of this place.",
        bed_drawing.water(days, "Water owed to the soil since 17 July: 27 mm today."),
        ((10.0, "Aug"), (60.0, "Sep")),
        (Pair("owed to the soil", "27 mm"), Pair("soil", "loam (FAO-56, Table 19)")),
        (pages.WaterDay("14 Sep", "0", "", "2.8", "27", "read"),),
    )
    return pages.Bed(
        frame=frame("Long bed", "garden"),
        name="Long bed",
        sub="6 × 1.2 m · loam · 7.2 m²",
        warnings=("Clubroot was found here in 2019.",),
        cover="",
        line=bed_drawing.year(STRETCH, _items(), "Long bed: Beans, tall."),
        months=MONTHS,
        standing=(
            pages.Standing("Beans, tall", "/entry/beans", "20 May – 30 September"),
            pages.Standing("Garlic", "/entry/garlic", "12 October – 20 July 2028", "planned"),
            pages.Standing("Leeks", "/entry/leeks", "1 June 2026 – 2 April", past=True),
        ),
        free="Free 1–11 October.",
        water=(water,),
        no_water="",
        next="In 2028 it is the turn of the potato family.",
        feeding=("Before the potato family it wants muck.", "No lime before potatoes."),
        feeds=(Link("Muck", "/add/muck"),),
        fits=(pages.Fits("leeks", "160", "4", "24"),),
        fits_note="Of groups whose turn it is; nine crops more should wait.",
        said=(Undoing("Muck, 40 kg, on 3 March", "from the top heap", Form("/garden/bed/1/said/a/back", "Take back")),),
        forms=(pages.BedForm("Change the bed itself", _bed_form("/garden/bed/1"), True, "What stands follows."),),
        add=Link("Put something down here", "/add?trade=garden"),
    )
