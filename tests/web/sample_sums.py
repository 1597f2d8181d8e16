"""Our own ways, how much to sow, and the table, filled by hand; invented, as `tests.web.sample` says."""

from markupsafe import Markup

from app.web import pages
from app.web.parts import Choice, Field, Form, Frame, Link, Pair

FRAME = Frame("The table", "Overfell Garth", "garden", "/2027/09", made_up=True)


def ways() -> pages.Ways:
    """Two ways told, and the form for another."""
    strike = Form("/garden/ways/1/strike", "Strike it out", quiet=True)
    apples = (
        pages.WayLine("Pick the apples: 3 weeks later here (north wall)", "told on 3 March 2027 · two entries", strike),
        pages.WayLine("Pick the apples: keeps 192 days with Bramley", "told on 4 March 2027 · one entry", strike),
    )
    form = Form(
        "/garden/ways",
        "That is how it goes here",
        (
            Field(
                "step", "Which job", "choice", "pick", choices=(Choice("pick", "Pick"), Choice("all", "All its jobs"))
            ),
            Field("amount", "How much", "number", "many", error="A number is wanted, between 0 and 36500."),
            Field("scope", "For whom", "choice", "holding", choices=(Choice("holding", "The whole holding"),)),
        ),
        (Pair("sheet", "apple"),),
        note="What the law says, and what makes food safe, stays as it is.",
    )
    choose = Form(
        "/garden/ways", "Show its jobs", (Field("sheet", "What is it about?", "choice", "apple", id="which",
        choices=tuple(Choice(f"s{n}", f"Crop {n}") for n in range(6))),), method="get", quiet=True,
    )  # fmt: skip
    groups = (pages.WayGroup("Apple", "/sheet/apple", "garden", apples),)
    return pages.Ways(
        FRAME, groups, "", choose, "Apple: what goes differently here?", form, Link("Back to Bramley", "/entry/apple")
    )


def sums() -> pages.Sums:
    """An answer with a warning, successive sowings and the arithmetic."""
    form = Form("/garden/sums", "Reckon it", (Field("amount", "For", "number", "4", required=True),), method="get")
    answer = (Pair("row", "24.4 m (18.3 m to 30.5 m by appetite)"), Pair("plants", "488, and 61 spare"))
    return pages.Sums(
        FRAME, form, "Carrot for four mouths, fresh and to keep", answer, ("A gram holds 825 seeds.",),
        ("That is before its time here; its weeks stand below.",), "Again every 21 days",
        ("28 March", "18 April", "9 May"), "Last useful sowing: 18 July (the last week in which it is sown).",
        Link("Put it down with these figures", "/add/carrot?row_m=4.1"), "",
    )  # fmt: skip


def table() -> pages.TheTable:
    """Two crops, a gap, and what was weighed."""
    line = Markup(
        '<svg class="tableline" aria-hidden="true"><line class="g" x1="5%" x2="40%" y1="50%" y2="50%"/>'
        '<line class="p" x1="30%" x2="45%" y1="50%" y2="50%"/><line class="k" x1="45%" x2="70%" y1="50%" y2="50%"/>'
        '<line class="x" x1="70%" x2="90%" y1="50%" y2="50%"/></svg>'
    )
    bars = Markup('<svg class="weeks" aria-hidden="true"><rect x="50%" width="1.6%" y="8%" height="92%"/></svg>')
    crops = tuple(
        pages.TableCrop(name, f"/entry/{name.lower()}", line, "stands 1 April – 9 November; in store till 3 April",
                        "12 kg of the 27 kg eaten in a year")
        for name in ("Beetroot", "Kale")
    )  # fmt: skip
    gap = pages.Gap(
        "21 April – 31 May", "Little to pick and little in store.",
        (Link("Radishes", "/add/radish", count="sow 14 March – 13 June; picked 7 May – 30 August"),),
    )  # fmt: skip
    tally = pages.Tally("Beetroot", "/sheet/beetroot", "18.3 kg", "27 kg", bars, "12 July: 2 kg; 2 August: 2 kg")
    months = tuple(pages.TableMonth(name, "", at * 8.3) for at, name in enumerate(("Sep", "Oct", "Nov", "Dec")))
    return pages.TheTable(
        FRAME,
        "Growing, picked and kept.",
        months,
        crops,
        line,
        (gap,),
        "",
        "What was weighed in 2027",
        (tally,),
        "",
        "",
    )
