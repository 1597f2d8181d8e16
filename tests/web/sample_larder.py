"""The larder's pages filled by hand; batches are made up."""

from datetime import date

from app.services.larder import BatchRow, KitRow, Larder, Meals, RunsOut
from app.services.lots import Lot, LotFact
from app.web import pages
from app.web.larder_forms import add_form
from app.web.larder_page import batch_page, kit_page, labels_page, larder_page
from app.web.parts import Field, Form, Pair
from app.web.seed_forms import Wrong
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


def larder() -> pages.Larder:
    """With something of everything."""
    sums = (("shelf", "plum jam", "jars", 1, 4.0), ("freezer", "pork chops", "kg", 2, 7.5))
    chest = KitRow(name="chest", kind="freezer", litres=300)
    found = Larder(
        (JAM, CHOPS), (RunsOut("plum jam", "jars", 4.0, 0.5, ON + 56),), (Meals("pork chops", 7.5, 250, 7),), sums,
        (chest,), 7.5, 286.6,
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
    wrong = Wrong("take", {"amount": "many"}, {"amount": "A number is wanted, between 0 and 1e+06."})
    return batch_page(frame("Batch", "larder"), CHOPS, one, wrong, TODAY)


def adding() -> pages.LarderAdd:
    """The form."""
    return pages.LarderAdd(frame("Put a batch in the larder", "larder"), add_form(Wrong(), TODAY))


def labels() -> pages.BatchLabels:
    """Two jars of each."""
    return labels_page(frame("Labels", "larder"), [JAM, CHOPS], "24", 2, "http://invented.example")


def kit() -> pages.Kit:
    """A freezer, and a dryer that two want."""
    things = [KitRow(name="chest", kind="freezer", litres=300), KitRow(name="trays", kind="dryer", trays=6, watts=500)]
    uses = (Pair("dryer", "Dry the apples: Bramleys, 1 to 3 October", "/job/apples.dry"),)
    clashes = ("Dryer, 1 to 3 October: two batches want it.",)
    return kit_page(frame("Kit and room", "larder"), things, uses, clashes, Wrong())


def search() -> pages.SearchPage:
    """Something found."""
    box = Form("/search", "Find", (Field("q", "Search everything", "search", "jam"),), method="get", quiet=True)
    groups = (pages.LarderPlace("In the larder", (Pair("26-014", "Plum jam", "/larder/jam"),)),)
    return pages.SearchPage(frame("Search"), box, groups, "")
