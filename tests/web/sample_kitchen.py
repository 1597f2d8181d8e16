"""The bottling look-up and the kitchen's sums, filled by hand; invented, as `tests.web.sample` says."""

from app.web import pages
from app.web.parts import Caution, Choice, Field, Form, Frame, Link, Pair

FRAME = Frame("Kitchen sums", "Overfell Garth", "larder", "/2027/09", made_up=True)


def bottling() -> pages.Bottling:
    """An answer with acid, a custom told beside it, and its sources."""
    choices = tuple(Choice(f"w{n}", f"Food {n}") for n in range(7))
    form = Form(
        "/preserving/bottling", "Look it up",
        (
            Field("what", "What, and how it is packed", "list", "w1", choices=choices, required=True),
            Field("jar", "Size of the jar", "number", "1000", "ml", error="A jar of 1000 is too large for the table."),
            Field("half", "Take 500 ml for a pint", "tick", "yes"),
        ),
        method="get", note="UK jars of 500 ml hold more than a pint.",
    )  # fmt: skip
    return pages.Bottling(
        FRAME, form, "Tomatoes, crushed, hot, in 500 ml jars: 45 minutes in boiling water", "",
        (Pair("minutes", "45, counted from when it boils again"), Pair("acid in each jar", "16 ml lemon juice")),
        ("The acid goes into every jar.",), ("A published table; no other is mixed into it.",),
        ("British custom, slow water bath: 30 minutes.",), (Caution("Botulism needs no smell.", "a source"),),
        (Link("Put it down with these figures", "/add/bottled-tomatoes"), Link("Freeze it instead", "/add/frozen")),
        ("Unsealed or frothing: never taste it.", "A jar that did not seal: the fridge."),
        (Link("Kitchen sums", "/preserving/sums"),), "",
    )  # fmt: skip


def sums() -> pages.KitchenSums:
    """One sum answered, one whose form could not be read, and the table of stores."""
    form = Form("/preserving/sums#jam", "Reckon it", (Field("jam-fruit", "Fruit", "number", "1", "kg"),), method="get")
    wrong = Form(
        "/preserving/sums#crock", "Reckon it",
        (Field("crock-salt", "Salt", "number", "1", "%", error="Salt of 1 % is outside what the rule covers."),),
        method="get",
    )  # fmt: skip
    return pages.KitchenSums(
        FRAME, "Each sum is answered for a usual case.", (Link("Jam and jelly", "#jam"), Link("Salt", "#crock")),
        (
            pages.KitchenSum("jam", "Jam and jelly", "1.69 kg, set at 104.4 °C", (Pair("jars", "three full jars"),),
                             ("Below 60 % sugar it is for the fridge.",), form, ("What is dissolved stays.",), False),
            pages.KitchenSum("crock", "Salt for a crock", "", (), (), wrong, (), True),
        ),
        (Caution("Boiling sugar scalds.", "common practice"),), "Your food-safety authority goes first.",
        (pages.StoreLine("Carrots", "0 °C", "98 %", "5 to 9 months", ""),
         pages.StoreLine("Onions", "0 °C", "65 %", "1 to 8 months", "24 to 32 °C in moving air")),
        ("Apples turn carrots bitter.",), (Link("Bottling times", "/preserving/bottling"),),
    )  # fmt: skip
