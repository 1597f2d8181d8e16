"""The pages of livestock, filled by hand; all of it is made up."""

from app.web import pages
from app.web.drawing import Stretch, line
from app.web.pages.livestock import (
    AnimalLine,
    BottleLine,
    GroupLine,
    GroupPart,
    NextJob,
    RegisterTable,
    StandstillTable,
    StillRow,
)
from app.web.parts import Caution, Choice, Field, Form, Link, Pair, Undoing
from tests.web.sample_jobs import TODAY, frame

ON = TODAY.toordinal()
CAUTION = Caution("Ask your vet.", "an invented authority")
LINKS = (Link("Medicine cupboard", "/livestock/medicine"),)
HREF = "/livestock/hens"
NEXT = NextJob(
    "Clean <the house>",
    "/job/hens.clean",
    "from 13 · best 17 · by 21 Sep",
    line(Stretch(ON - 7, ON + 84, ON), ON, ON + 8, (ON + 3,)),
    trouble=True,
)
FIELD = Field("number", "How many", "count", "twelve", error="Only seven were there then.", required=True)


def livestock() -> pages.Livestock:
    """Two groups, one of them barred, a standstill running, a medicine that is over."""
    held = "Nothing of theirs is eaten or sold until Sunday 19 September."
    hens = GroupLine("The old <hens>", HREF, "seven of nine", "Laying hens · orchard · since May", held, NEXT)
    eggs = GroupLine("Eggs under the broody", "/livestock/eggs", "twelve", "Hens’ eggs to hatch")
    rows = (
        StillRow("Pigs", ("6 days", "20 days"), "from Monday 4 October", trouble=True),
        StillRow("Sheep", ("6 days", "6 days"), "free"),
    )
    still = StandstillTable(
        ("of which", "after cattle come", "after pigs come", "may leave"),
        rows,
        ("Pigs came on 13 September.",),
        "England: an invented licence",
    )
    return pages.Livestock(
        frame("Livestock", "livestock"),
        (Pair("The old hens", held, HREF), Pair("Standstill", "No pigs.", "#still-h")),
        (Pair("Drench", "expired on 1 September", "/livestock/medicine"),),
        (GroupPart("Hens", (hens,)),),
        (eggs,),
        "Two groups more are over.",
        Form(
            "/livestock",
            "Put them down",
            (Field("sheet", "What they are", "list", choices=(Choice("a", "Hens"),)), FIELD),
            (Pair("id", "a1"),),
            note="Their jobs follow.",
        ),
        (Field("tags", "Tags"),),
        still,
        LINKS,
        (CAUTION,),
        "",
    )


def group() -> pages.LivestockGroup:
    """A group of which one was taken, with single animals."""
    undo = Form(f"{HREF}/take-back", "Take back", hidden=(Pair("fact", "f1"),), quiet=True)
    gone = Form(f"{HREF}/gone", "It is gone", (Field("why", "What became of it", "list", id="why-1"),), quiet=True)
    ones = (
        AnimalLine("Ada (UK 1)", "ewe · born 1 April", "on the cull list", "", Link("Change", HREF), (gone, undo)),
        AnimalLine("=Bea", "wether", gone="Sold on 3 June", forms=(undo,)),
    )
    return pages.LivestockGroup(
        frame("The old hens", "livestock"),
        "The old <hens>",
        "Laying hens",
        ("Nothing of theirs is eaten.",),
        ("Nine single ones stand here.",),
        "Seven of nine alive",
        (Undoing("Died: one", "3 June", undo),),
        Form(f"{HREF}/tell", "Put it down", (FIELD,), (Pair("id", "a2"),)),
        (Field("paper", "Licence"),),
        True,
        Link("A dead one", "/found/dead-animal"),
        (Undoing("Taken 2; then 7.", "1 March", undo), Undoing("Began with 9.", "May")),
        (NEXT,),
        (Pair("3 June", "34 kg"),),
        Link("Weigh them", "/job/hens.weigh"),
        (Pair("2 June", "Drench", "/job/x.dose"),),
        ones,
        "Two animals.",
        Form(f"{HREF}/animal", "Add it", (Field("tag", "Tag"),), quiet=True),
        "Add one",
        False,
        Form(f"{HREF}/paper", "Keep", (Field("other", "From", id="paper-other"),), quiet=True),
        False,
        LINKS,
        (CAUTION,),
    )


def medicine() -> pages.LivestockMedicine:
    """The cupboard: one is over, one is finished."""
    figures = (Pair("meat", "28 days"), Pair("eggs", "no figure on the label: the vet must say"))
    one = BottleLine(
        "Drench <10 %>",
        "/livestock/medicine/bottle/m",
        "batch 7",
        "Expired on 1 September",
        figures,
        True,
        Link("Treat with it", "/livestock/medicine/treat?medicine=m"),
    )
    form = Form("/livestock/medicine", "Put it in the cupboard", hidden=(Pair("id", "a3"),))
    groups = (
        ("What it is", (Field("name", "Medicine", required=True),)),
        ("Only if the vet set a figure", (Field("vet_meat_days", "Meat", "number", unit="days"),)),
    )
    return pages.LivestockMedicine(
        frame("Medicine cupboard", "livestock"),
        (one,),
        (one,),
        Link("Treat a group", "/livestock/medicine/treat"),
        form,
        groups,
        True,
        LINKS,
        (CAUTION,),
        "",
    )


def bottle() -> pages.LivestockBottle:
    """One medicine."""
    form = Form("/livestock/medicine/bottle/m", "Keep")
    return pages.LivestockBottle(
        frame("Drench", "livestock"),
        "Drench",
        "Good until 3 October",
        False,
        form,
        (("What it is", (FIELD,)),),
        Form("/livestock/medicine/bottle/m/finish", "It is finished", (Field("how", "How"),), quiet=True),
        (Pair("3 June", "Ada"),),
        LINKS,
        (CAUTION,),
    )


def treat() -> pages.LivestockTreat:
    """A treatment."""
    whom = (Field("group", "To whom", "list", choices=(Choice("hens", "Hens"),), required=True), FIELD)
    return pages.LivestockTreat(
        frame("Treat a group", "livestock"),
        Form("/livestock/medicine/treat", "Write it in the book", note="Ask the vet."),
        (("Whom", whom),),
        ("It had expired.",),
        LINKS,
        (CAUTION,),
    )


def register() -> pages.LivestockRegister:
    """A register of two tables."""
    tables = (
        RegisterTable("Given", ("date", "to whom"), (("3 June", "The <hens>"),), ""),
        RegisterTable("Bought", ("bought on",), (), "Nothing was bought."),
    )
    return pages.LivestockRegister(
        frame("Medicine book", "livestock"),
        "Medicine book",
        "High Croft",
        tables,
        ("Kept five years.",),
        Link("As a table (CSV)", "/livestock/register/medicine.csv"),
        LINKS,
    )


def taking_in() -> pages.LivestockIn:
    """A table that was looked at, with a row that can't be read."""
    form = Form("/livestock/in", "Look at it", (Field("text", "Or paste it here", "lines", "tag\n1"),))
    return pages.LivestockIn(
        frame("Animals from a table", "livestock"),
        form,
        "",
        (Pair("tag", "wanted"),),
        ("One animal can be taken in.",),
        (Pair("line 2", "born: '2027-02-31' is no day."),),
        ("tag",),
        (("=1",),),
        Form("/livestock/in/take", "Take in one animal", hidden=(Pair("text", "tag\n1"),)),
    )
