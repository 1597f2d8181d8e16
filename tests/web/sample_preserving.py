"""The pages of keeping filled by hand; invented, as `tests.web.sample` says."""

from app.web import pages
from app.web.parts import Caution, Choice, Field, Form, Link, Pair
from app.web.preserving.drying_drawing import drying_curve
from tests.web.sample_jobs import frame

LINKS = (Link("Bottling times", "/preserving/bottling"), Link("Kit", "/kit"))
CURVE = tuple((float(hour), 0.3 + 4.2 * 0.78**hour) for hour in range(15))
WORDS = "A load falls from 4.5 kg to 274 g after 14 hours; weighed after 5 hours 1.6 kg."


def asked(wrong: bool = False) -> Form:
    """How much of what."""
    fields = (
        Field("crop", "A glut of", value="tomatoes & <all>", required=True),
        Field("kg", "How much", "number", "20" if not wrong else "heaps", "kg",
              error="A number is wanted, between 0.2 and 500 kg." if wrong else "", required=True),
        Field("on", "On", "date", "2027-09-15"),
        Field("jar_ml", "Jars of", "list", "500", choices=(Choice("500", "500 ml"), Choice("1000", "1000 ml"))),
    )  # fmt: skip
    return Form("/preserving/glut", "Show the ways", fields, method="get")


def preserving() -> pages.Preserving:
    """With something at every stage."""
    batch = pages.BatchOnItsWay(
        "Tomatoes, dried", "/entry/tomatoes", "A load is dry at 274 g: about 5 h more, today at about 19.30.",
        Link("Weigh a load", "/job/tomatoes.weigh.2"), "on 15 Sep", True,
    )  # fmt: skip
    groups = tuple(pages.BatchGroup(ident, heading, (batch,)) for ident, heading in (("dryer", "In the dryer"),))
    coming = (Pair("Runner beans", "two pickings within a fortnight, next 17 September; 6.2 kg", "/preserving/glut"),)
    return pages.Preserving(frame("Preserving", "preserving"), "The dryer is free from 17 September", groups, coming,
                            asked(), LINKS, "")  # fmt: skip


def glut() -> pages.Glut:
    """Two ways side by side, one refused, and what would be put down."""
    facts = (
        Pair("makes", "30 jars of 500 ml"),
        Pair("hands-on", "8 h"),
        Pair("waiting", "4 h"),
        Pair("fuel", "10 kWh"),
    )
    card = pages.GlutWayCard(
        "bottle", "Bottle them, crushed, with acid in each jar", Link("Its sheet", "/sheet/bottled-tomatoes"), facts,
        ("Short of 18 jars.", "The dryer is taken by ‘Apples <rings>’: 15–17 September. Begin it on 18 September."),
        ("45 minutes at a full boil.",), "",
        Field("kg-bottle", "Keep so much this way", "number", "12", "kg", error="That shares out 25 kg."),
    )  # fmt: skip
    not_this = pages.GlutWayCard(
        "jam", "Make jam of it", Link("Jam", "/sheet/jam"), (), (), (), "500 is too much.", None
    )
    entry = pages.GlutEntry("Tomatoes, bottled: 12 kg", (Pair("Fill", "on 15 Sep"),), ("Short of 18 jars.",))
    share = Form("/preserving/glut", "Show first", hidden=(Pair("id", "a" * 32),), quiet=True)
    return pages.Glut(
        frame("A glut", "preserving"), asked(wrong=True), "20 kg of tomatoes, on 15 September",
        ("On 15–17 September there are 14 h of hands after the rounds.",), (card, not_this), share,
        Field("later", "Begin what meets another on the day its kit is free", "tick", "yes"), (entry,),
        "8 kg of it is not shared out.", "Put it down", "", (Caution("No taste tells.", "an authority"),), LINKS,
    )  # fmt: skip


def drying() -> pages.Drying:
    """A load weighed once, and a weighing that was refused."""
    fields = (
        Field("kg", "A load weighs now", "number", "-1", "kg", error="That is less than nothing.", required=True),
    )
    return pages.Drying(
        "A load is dry at 274 g: about 5 h more.", (Pair("water now", "71 %"), Pair("to be", "10 % or less")), "",
        drying_curve(CURVE, [(5.0, 1.6)], 0.43, WORDS, ("274 g", "14 h")), WORDS, (Pair("after 5 h", "1.6 kg"),),
        ("The solids stay.",), Form("/preserving/drying/tomatoes", "Put the weight down", fields, quiet=True), True,
    )  # fmt: skip


def drying_batch() -> pages.DryingBatch:
    """One batch alone."""
    return pages.DryingBatch(frame("Tomatoes", "preserving"), "Tomatoes", drying(), Link("To the batch", "/entry/t"))


def drying_sums() -> pages.DryingSums:
    """Both answers."""
    powder = Form(
        "/preserving/drying", "Bring it back", (Field("powder", "Powder", "number", "100", "g"),), method="get"
    )
    return pages.DryingSums(
        frame("The dryer", "preserving"), asked(), "2.5 kg of courgette", (Pair("dry at", "145 g"),),
        ("No batch of yours of it was weighed yet.",), ("The solids stay.",), Link("Put it down", "/add"),
        powder, "100 g of powder", (Pair("paste", "add 262 g of water"),), (Caution("It is not sterile."),), LINKS,
    )  # fmt: skip
