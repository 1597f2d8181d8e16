"""The larder's pages filled by hand; batches are made up."""

from datetime import date

from app.services.larder.csv_in import Looked, Read
from app.services.larder.kit_uses import KitUse
from app.services.larder.larder import BatchRow, KitRow, Larder
from app.services.larder.lasting import Meals, RunsOut
from app.services.larder.lots import Lot, LotFact
from app.services.larder.power import Hold, Power
from app.sheets.larder_tables import larder_tables
from app.sheets.library import load
from app.trade.meat.power_cut import after_the_cut
from app.web import pages
from app.web.forms import Wrong
from app.web.larder.count import count_page
from app.web.larder.forms import add_form
from app.web.larder.kit import kit_page
from app.web.larder.labels import Wish, labels_page
from app.web.larder.page import batch_page, larder_page
from app.web.larder.power import power_page
from app.web.larder.taking_in import in_page, looked_page
from app.web.parts import Field, Form, Pair
from tests.web.sample_jobs import frame

TODAY = date(2027, 9, 15)
ON = TODAY.toordinal()
JAM = BatchRow(
    "jam", "26-014", "shelf", "plum jam", "", "", "", "", "", ON - 380, 9.0, "jars", 4.0, False, False, ON + 10,
    "quality", "as it was put down", "", "pantry <top>", "",
)  # fmt: skip
CHOPS = JAM._replace(
    id="pigs.pack#0", number="27-003", store="freezer", what="pork chops", unit="kg", killed="home", trade="meat",
    keeps_until=ON + 90, entry="pigs", key="pigs.pack", short=True,
)  # fmt: skip
KALE = JAM._replace(
    id="kale.pick#0", number="27-041", store="fridge", what="kale", unit="kg", left=0.4, keeps_until=ON - 2, gone=True,
    trade="garden", entry="kale", key="kale.pick", place="fridge",
)  # fmt: skip


def larder() -> pages.Larder:
    """With something of everything."""
    sums = (("shelf", "plum jam", "jars", 1, 4.0), ("freezer", "pork chops", "kg", 2, 7.5))
    chest = KitRow(name="chest", kind="freezer", litres=300)
    found = Larder(
        (JAM, CHOPS), (RunsOut("plum jam", "jars", 4.0, 0.5, ON + 56),), (Meals("pork chops", 7.5, 250, 7),), sums,
        (chest,), 7.5, 286.6, (KALE,),
    )  # fmt: skip
    return larder_page(frame("Larder", "larder"), found, 4, TODAY)


def batch() -> pages.Batch:
    """A batch of which much was said."""
    facts = (
        LotFact("a", CHOPS.id, "used", ON - 3, 2.0, {}, "Sunday"),
        LotFact("b", CHOPS.id, "counted", ON - 2, None, {"back": 0.5}, ""),
        LotFact("c", CHOPS.id, "counted", ON - 1, 4.0, {"was": 5.0}, "count put right"),
    )
    one = Lot(CHOPS.id, "lot", "pork chops", "", "", "pigs", "pigs.pack", ON - 30, 9.0, "kg", None, "", "", facts, 4.0)
    wrong = Wrong("take", {"amount": "many"}, {"amount": "A number is wanted, such as 2.5."})
    return batch_page(frame("Batch", "larder"), CHOPS, one, "Killed at home: for the household alone.", wrong, TODAY)


def adding() -> pages.LarderAdd:
    """The form."""
    return pages.LarderAdd(frame("Put a batch in the larder", "larder"), add_form(Wrong(), TODAY))


def labels() -> pages.BatchLabels:
    """Two jars of each, the first two places on the sheet being empty."""
    return labels_page(
        frame("Labels", "larder"), [JAM, CHOPS], [JAM, CHOPS], Wish("24", "2", 2), "http://invented.example"
    )


def kit() -> pages.Kit:
    """A freezer, a dryer that two want, a smoker that is gone."""
    things = [
        KitRow(id=1, name="chest", kind="freezer", litres=300),
        KitRow(id=2, name="trays", kind="dryer", trays=6, watts=500),
        KitRow(id=3, name="barrel", kind="smoker", ends=date(2027, 1, 1)),
    ]  # fmt: skip
    uses = (KitUse("dryer", "apples.dry", "Dry the apples", "Bramleys", ON + 16, ON + 18),
            KitUse("canner", "beans.can", "Bottle the beans", "Beans", ON + 3, ON + 3))  # fmt: skip
    clashes = ("Dryer, 1 to 3 October: two batches want it.",)
    return kit_page(frame("Kit and room", "kit"), things, uses, clashes, Wrong(), TODAY)


def counting() -> pages.LarderCount:
    """A shelf, with a box that can't be read."""
    places = [("shelf", "pantry <top>", 1), ("freezer", "chest", 1)]
    wrong = Wrong("count", {"n-jam": "lots"}, {"n-jam": "A number is wanted, such as 2.5."})
    return count_page(frame("Count a shelf", "larder"), places, [JAM], "shelf", None, wrong, TODAY)


def power() -> pages.LarderPower:
    """Two freezers, one of them nearly empty."""
    holds = (Hold("chest", 300, 150, 89.3, 24.0, ""), Hold("tall", 100, 5, 8.9, None, "Nothing is published."))
    verdicts = (("hard or icy", after_the_cut("hard or icy")), ("warm", after_the_cut("warm")))
    found = Power(holds, (), (CHOPS,), 3, verdicts, larder_tables().refreeze[0])  # type: ignore[arg-type]  # two of the states
    return power_page(frame("The power is off", "larder"), found, load(), "", TODAY)


def taking_in() -> pages.LarderIn:
    """A table that could not be read."""
    return in_page(frame("Take in a table", "larder"), "a,b", "The first line should name the columns.")


def looked() -> pages.LarderLooked:
    """A table with a row that can be read, and one that can't."""
    row = Read("in1", "=pears", ON - 9, None, 4.0, "jars", "shelf", "", "")
    return looked_page(
        frame("What was understood", "larder"), "what,made", Looked((row,), ((3, "It has no name."),), 1, ("26-001",))
    )


def search() -> pages.SearchPage:
    """Something found."""
    box = Form("/search", "Find", (Field("q", "Search everything", "search", "jam"),), method="get", quiet=True)
    groups = (pages.LarderPlace("In the larder", (Pair("26-014", "Plum jam", "/larder/jam"),)),)
    return pages.SearchPage(frame("Search"), box, groups, "")
