"""The pages of meat on its way to the table, filled by hand; all of it is made up."""

from app.web import pages
from app.web.chain import Item, lay
from app.web.parts import NO_LINE, Caution, Choice, Field, Follow, Form, Link, Pair
from tests.web.sample_jobs import TODAY, frame

ON = TODAY.toordinal()
CAUTION = Caution("Never on the worktop.", "an invented authority")
LINKS = (Link("Larder", "/larder"),)


def thaw() -> pages.Thaw:
    """A joint reckoned, too late, and a pack on its way in."""
    form = Form(
        "/meat/thaw",
        "Reckon it",
        (
            Field("kind", "What it is", "list", "mince", choices=(Choice("mince", "Mince"),), required=True),
            Field("kg", "Weight", "number", "14", "kg", error="It should be between 0.05 and 30 kg."),
            Field("day", "To be eaten on", "date", "2027-09-19", required=True),
        ),
        method="get",
    )
    return pages.Thaw(
        frame("Out of the freezer", "meat"), form, "Out of the freezer on Friday", ("That was two days ago.",),
        (Pair("thawed", "Sunday"), Pair("frozen again raw", "never")), (Pair("Friday", "Take it out <b>"),),
        ("2.3 kg at 1.8 kg a day.",), (CAUTION,), Form("/meat/thaw", "Put it down", hidden=(Pair("id", "a1"),)),
        Form("/meat/thaw#freezing-h", "Reckon it", (Field("thickness_mm", "Thickness", "number", unit="mm"),),
             method="get", quiet=True),
        (Pair("hard to the middle after", "20 to 40 hours"),), ("Plank’s equation.",), LINKS,
    )  # fmt: skip


def table_back() -> pages.TableBack:
    """A ham of which one way in is too late."""
    items = [
        Item("0.come", "Take the pigs in", "", ON - 40, ON - 40, ON - 40),
        Item("1.cut", "Cut it up", "", ON + 60, ON + 64, ON + 70),
        Item("2.boil", "Simmer it", "", ON + 100, ON + 101, ON + 101),
    ]
    steps = (
        Follow(
            "Take the pigs in", "/sheet/weaners#come", "6 August", NO_LINE, "1", note="its time is past", trouble=True
        ),
        Follow("Cut it up", "/sheet/pork-cut-up#cut", "14 – 24 November"),
    )
    form = Form(
        "/meat/table",
        "Work it back",
        (
            Field("what", "On the table", "list", "ham", choices=(Choice("ham", "Ham"),), required=True),
            Field("day", "On", "date", "2027-12-25", required=True, error="That day has passed."),
        ),
        method="get",
    )
    return pages.TableBack(
        frame("Back from the table", "meat"), form, "Boiled ham on Saturday 25 December",
        ("Buy weaners and raise them: too late.",),
        (pages.WayInLine("Two <pigs>", "Weaners; a carcase", "Monday 20 December", "in time", "/z"),),
        (
            pages.WayInLine("Buy weaners", "Weaners", "Friday 6 August", "40 days too late", "/x", True, True),
            pages.WayInLine("Buy the piece", "A ham in brine", "Monday 1 November", "in 47 days", "/y"),
            pages.WayInLine("A box", "A box of meat", "", "can’t be dated: no box", "", True),
        ),
        "Buy weaners", ("The curing shelf holds one lot. With <loin>: 3–9 March.",),
        lay(items, ON - 60, ON + 110, ON), "Three jobs.", "15 September, today", steps, (CAUTION,),
        Form("/meat/table", "Put it down", hidden=(Pair("id", "a2"),), note="It is put down."), ("A note.",), LINKS,
    )  # fmt: skip


def keeping() -> pages.Keeping:
    """A line of each table."""
    line = pages.KeepLine("mince", "1 to 2 days", "3 to 4 months", "an invented chart")
    return pages.Keeping(
        frame("How long meat keeps", "meat"), "Fridge at 5 °C.", (line,), (line,), (Pair("mince", "one day"),),
        (pages.CookLine("minced", "70 °C for two minutes", "160 °F"),), (Pair("75 °C", "30 seconds"),),
        (Pair("pork", "2 to 7 days"),), (Pair("−18 °C", "20 days"),), ("A note.",), (CAUTION,), LINKS,
    )  # fmt: skip
