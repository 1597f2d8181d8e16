"""The pages of meat filled by hand: a side of pork, half of it packed; all of it is made up."""

from datetime import date

from app.rules.facts import Entry
from app.rules.tasks import Laid
from app.services.larder.larder import Meals
from app.services.meat.delivery import Asked, cuts_of, told
from app.services.meat.delivery_house import Freezer, House
from app.services.meat.delivery_lines import read_lines
from app.services.meat.delivery_overview import Cure, Meat, Open
from app.services.meat.delivery_put import Packing
from app.sheets.library import load
from app.web import pages
from app.web.forms import Wrong
from app.web.meat.delivery_forms import delivery_form
from app.web.meat.delivery_packing import packing_page
from app.web.meat.delivery_page import delivery_page
from app.web.meat.page import meat_page
from tests.web.sample_jobs import frame
from tests.web.sample_larder import CHOPS

TODAY = date(2027, 9, 15)
ON = TODAY.toordinal()
TYPED = "belly 3.2 kg, 40 mm\nmince 9 kg\nleg 6 kg\npork chops 40 kg\nliver 0.8 kg\nsausages 2.6 kg, fresh\nhead 4 kg"
LINES = read_lines(TYPED)[0]
HOUSE = House((Freezer("chest", 100), Freezer("barn freezer", 300)), {"chest": 60.0, "barn freezer": 200.0}, 4.0,
              "england", False)  # fmt: skip
ASKED = Asked(ON, "pork", "home", LINES, {}, 100.0, 60.0, 4.0, 4.0)


def delivery() -> pages.Delivery:
    """Shown, with more than the freezer takes, and a thickness that was left out of a line."""
    typed = {"cuts": TYPED, "killed": "home", "of": "pork", "id": "0" * 32}
    errors = {"cuts": "Line 2, “mince”: its weight is wanted too, such as “3.2 kg”."}
    form = delivery_form("box", HOUSE, Wrong("delivery", typed, errors), TODAY, typed)
    return delivery_page(frame("A delivery of meat", "meat"), "box", form, told(ASKED), HOUSE, load(None), {}, TODAY)


def packing() -> pages.DeliveryPacking:
    """Half packed, some of it too late."""
    entry = Entry("delivery-0", "meat-delivery", "A side from <down the dale>", {"date": ON - 2}, ON - 2)
    found = Packing(entry, Laid(entry, ()), ON - 2, "home", "chest", cuts_of(ASKED), {"pork chops": CHOPS},
                    {"belly": "delivery-0.belly+belly"})  # fmt: skip
    wrong = Wrong("pack", {"kg-leg": "much"}, {"kg-leg": "A number is wanted, between 0.02 and 600 kg."})
    return packing_page(frame("A side"), found, ["chest", "barn freezer"], False, wrong, TODAY, "0" * 32)


def meat() -> pages.Meat:
    """With something of everything."""
    waiting = tuple(cut for cut in cuts_of(ASKED) if cut.way == "freeze")
    found = Meat(
        (
            Open("delivery-0", "A side of pork", "meat-delivery", ON, "Pack and freeze what keeps a day", "d.mince",
                 ON + 1, waiting, True),
            Open("lamb", "A lamb", "lamb-cut-up", ON + 8, "Cut it up, and weigh by cut", "lamb.cut", ON + 12),
        ),
        (Cure("belly", "Belly in the cure", "Turn the bag", "belly.turn.3", ON),),
        (Meals("pork chops", 7.5, 250, 7),),
        (CHOPS,),
    )  # fmt: skip
    return meat_page(frame("Meat", "meat"), found, 4.0, False, TODAY)
