"""A cure's page and its entry's, filled by hand; the piece is made up, and so are its weights."""

from dataclasses import replace
from datetime import date

from app.services.meat.cure import Depth
from app.services.meat.cure_weights import Weighing, Weights
from app.trade.meat.depth import middle_percent, salt_by_depth
from app.web import pages
from app.web.meat.cure_drawing import depth_picture, weight_picture
from app.web.meat.cure_forms import cure_groups
from app.web.parts import Caution, Field, Form, Link, Pair
from tests.web.sample_jobs import frame
from tests.web.sample_work import entry

TODAY = date(2027, 9, 15)
ON = TODAY.toordinal()
TYPED = {"cut": "belly", "kg": "2.7", "thickness_mm": "42", "nitrite_percent": "62.5", "skin": "skin on"}


def _depth(days: int) -> Depth:
    slow, usual, quick = (salt_by_depth(42, "skin on", "flat", 2.5, days, speed) for speed in (3, 5, 7))
    return Depth(ON + days, usual, slow, quick, middle_percent(usual, "skin on"), usual[0].percent)


def asking() -> pages.Cure:
    """Before anything was reckoned, with something wrong."""
    errors = {"nitrite_percent": "A strength of 62.5 is outside what the rule covers. Was 6.25 % meant?"}
    return pages.Cure(
        frame("A cure, reckoned", "larder"), "Nothing is saved until you put it down.",
        cure_groups(TYPED, errors, {}, "gb", False, TODAY), (), "Please look again: nothing was reckoned.", None,
        None, (Caution("Nitrite is poison in grams.", "common practice"),), Link("Other ways", "/add?trade=meat"),
    )  # fmt: skip


def reckoned() -> pages.Cure:
    """With an answer."""
    depths = (_depth(14), _depth(18))
    answer = pages.CureAnswer(
        "Belly, 2.7 kg: bacon, cold-smoked",
        (Pair("curing salt of 6.25 %", "5.83 g"), Pair("plain salt", "55.28 g"), Pair("nitrite going in", "150 ppm")),
        "Reckoned on 2 430 g: nine tenths of the piece, since skin takes up none.",
        ("Weigh the curing salt on scales that show 0.01 g.",),
        (Pair("out of the cure", "29 September, after 14 days"), Pair("even to the middle", "about 27 September")),
        ("No day for smoke or hanging outside. Flies are about and nights are warm.",),
        ("Curing salt: 150 × 2 430 ÷ (1 000 000 × 0.0625).",),
        depth_picture(depths, 42, 2.5, "face, skin", "Salt by depth: 2.9 % at the face, 2.1 % under the skin."),
        (Pair("out of the cure, 29 September", "2.9 % salt at the face, 2.1 % under the skin"),),
        (("salt d0", "out of the cure"), ("salt d1", "rest over"), ("even", "even, 2.5 %")),
        None,
    )
    put = Form("/meat/cure", "Put it down", hidden=(Pair("id", "0" * 32),))
    return replace(asking(), error="", answer=answer, put=put)


def entry_page() -> pages.Entry:
    """A cure under way, weighed four times."""
    rows = tuple(
        Weighing(ON - 30 + day, kg, 100 * (1 - kg / 2.7)) for day, kg in ((0, 2.7), (14, 2.65), (20, 2.6), (30, 2.56))
    )
    weights = Weights(2.7, 7, 2.511, rows, ON + 13, None, "2.6 kg, then 2.56 kg after ten days")
    box = Field("on", "Done on", "date", TODAY.isoformat(), required=True, id="on-smoke")
    kept = pages.CureKept(
        (Pair("curing salt of 6.25 %", "5.83 g"),), "", Link("Reckon it anew", "/meat/cure?entry=it"),
        (Pair("15 September", "2.56 kg, 5.2 % lost"),), weight_picture(weights, ON, "Weight by day."),
        ("7 % lighter is 2.51 kg, about 28 September.",),
        (("Cold-smoke for a night", Form("/tick", "It was done", (box,), quiet=True)),),
    )  # fmt: skip
    return replace(entry(), trade="meat", kind="cure", cure=kept)
