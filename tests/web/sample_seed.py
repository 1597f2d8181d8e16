"""Invented pages of the seed tin, filled by hand to be drawn and looked at."""

from datetime import date

from app.web import drawing, pages
from app.web.parts import Choice, Field, Form, Link, Pair, Undoing
from tests.web.sample_jobs import frame

YEARS = drawing.Stretch(
    date(2025, 1, 1).toordinal(), date(2030, 12, 31).toordinal(), date(2027, 9, 15).toordinal()
)  # fmt: skip


def life(made: date, until: date) -> pages.SeedLine:
    return pages.SeedLine(
        "September 2025", "/garden/seed/a.tin%230", "Invented Long · from 24 plants · seed tin",
        "38 g, some 16 300 seeds",
        "18 months old; was to be sown by 15 March", "past its day: try it before you trust it",
        "5 of 20 came up, 20 January: of so few, it may be 11 to 47 in a hundred.",
        "An F1 kind: what it gives is mixed.",
        drawing.line(YEARS, made.toordinal(), until.toordinal(), ()),
    )  # fmt: skip


def seed_tin() -> pages.SeedTin:
    sown = pages.Generation("Parsnips of 2026", "/entry/a", "10 April 2026", "1 July", "September")
    return pages.SeedTin(
        frame=frame("Seed tin", "garden"),
        sub="Two lots; one lot past its day",
        warnings=(Link("Long row, sown 1 March, should be up.", "/job/a.up"),),
        kinds=(
            pages.SeedKind(
                "Parsnip", "Not enough: 1 440 seeds wanted.", True, (life(date(2025, 9, 15), date(2027, 3, 15)),)
            ),
        ),
        years=((0.0, "2025"), (50.0, "2028")),
        lineages=(pages.SeedLineage("Parsnip seed keeps 18 months", "One generation stands.", True, (sown,)),),
        store="16 °C and 55 %: 61 °F and 55 % make 116, above the hundred that keeps seed well.",
        store_note="Harrington’s rules of thumb.",
        store_form=Form(
            "/garden/seed/tin", "Keep", (Field("c", "Warmth in the tin", "number", "16", "°C"),), quiet=True
        ),
        add=Form("/garden/seed", "Put it in the tin", (Field("variety", "Variety"),), (Pair("id", "0" * 32),)),
        open=False,
        open_store=False,
        gone=(Link("Leek, October 2023", "/garden/seed/b"),),
        links=(Link("What flowers together, here and next door", "/garden/seed/crossing"),),
        empty="",
    )


def seed_jar() -> pages.SeedJar:
    form = Form(
        "/garden/seed/a/take", "Put it down", (Field("amount", "How much", "number", unit="g", id="take-amount"),)
    )
    back = Form("/garden/seed/a/back", "Take back", hidden=(Pair("fact", "f"),), quiet=True)
    return pages.SeedJar(
        frame=frame("Seed", "garden"),
        name="Parsnip ‘Invented Long’, September 2025",
        sub="38 g, some 16 300 seeds",
        facts=(Pair("harvested", "15 September 2025"), Pair("how it’s done", "Parsnip", "/sheet/parsnip-seed")),
        warnings=("Past its day: try it before you trust it.",),
        take=form,
        count=Form("/garden/seed/a/count", "Put it right", (Field("amount", "How much", "number", id="count-amount"),)),
        test=Form(
            "/garden/seed/a/test", "Put down the test", (Field("up", "Came up", "count", "26", error="26 of 20."),)
        ),
        open="test",
        said=(Undoing("Given away: 4 g. To Ana.", "1 February", back),),
        links=(Link("Its label", "/garden/seed/a/label"),),
        strike=Form("/garden/seed/a/strike", "Strike it out", quiet=True),
    )


def seed_labels() -> pages.SeedLabels:
    one = pages.Label(
        "Parsnip", "Invented Long", True, "15 September 2025", "from 24 plants · Long row", "38 g, some 16 300 seeds",
        "15 March 2027", "Invented Croft",
    )  # fmt: skip
    copies = Form("/garden/seed/a/label", "Show so many", (Field("copies", "Labels", "count", "2"),), method="get")
    return pages.SeedLabels(
        frame("Label", "garden"), "A label for parsnip", (one, one), copies, Link("Back", "/garden/seed")
    )


def crossing() -> pages.Crossing:
    line = drawing.line(YEARS, YEARS.first + 900, YEARS.first + 950, ())
    flowers = pages.FlowerLine(
        "Parsnips", "/entry/a", "19 June – 31 July · kept for seed", ("Crosses with wild ones.", "Part them."), line
    )
    kinds = (Choice("Pastinaca sativa", "Pastinaca sativa: parsnip"), Choice("other", "Something else"))
    gone = Form("/garden/seed/crossing/1/gone", "Not any more", quiet=True)
    return pages.Crossing(
        frame=frame("What flowers together", "garden"),
        sub="Vegetables of one species cross.",
        species=(pages.Species("Pastinaca sativa", (flowers,)),),
        months=((10.0, "Apr"),),
        near=(Undoing("wild ones, Pastinaca sativa: 120 m off.", "", gone),),
        add=Form("/garden/seed/crossing", "Put it down", (Field("species", "Of the kind", "choice", choices=kinds),)),
        open=True,
        empty="",
    )
