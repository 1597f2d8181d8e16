"""Add, and Found…: one page that offers sheets."""

from collections.abc import Sequence
from itertools import groupby
from urllib.parse import quote

from app.rules.terms import TRADES
from app.services.choose import Choosable
from app.web import pages
from app.web.parts import Field, Form, Frame, Link, Pair
from app.web.words import count, trade


def choose_page(
    frame: Frame, offered: Sequence[Choosable], words: str, of_trade: str, *, found: bool, place: str = ""
) -> pages.Add:
    """The page; what is found begins today, with one tap more; ``place`` is where it is to stand, if that is known."""
    action = "/found" if found else "/add"
    groups = tuple(
        pages.SheetGroup(name, tuple(_line(one, action, place) for one in some))
        for name, some in groupby(offered, key=lambda one: one.sheet.trade)
    )
    nothing = f"No sheet has “{words}” in it." if words else "There is nothing to choose from here."
    return pages.Add(
        frame=frame,
        heading="Found…" if found else "Add",
        lead="What have you seen? The work begins today." if found else "What is there now that was not there before?",
        search=search(action, words, of_trade, place),
        trades=trade_links(action, of_trade) if not found else (),
        groups=groups,
        empty=f"{nothing} A sheet of your own can be written; the README says how.",
    )


def search(action: str, words: str, of_trade: str = "", place: str = "") -> Form:
    """A box to search in."""
    box = Field("q", "Name or place" if action == "/entries" else "Name", "search", words)
    hidden = tuple(Pair(name, value) for name, value in (("trade", of_trade), ("place", place)) if value)
    return Form(action, "Find", (box,), hidden, method="get", quiet=True)


def trade_links(action: str, of_trade: str) -> tuple[Link, ...]:
    """All trades, then each."""
    each = (Link(trade(name), f"{action}?trade={name}", name == of_trade, trade=name) for name in TRADES)
    return (Link("All", action, not of_trade), *each)


def _line(one: Choosable, action: str, place: str) -> pages.SheetLine:
    have = f"you have {count(one.have)}" if one.have and action == "/add" else ""
    there = f"?place={quote(place)}" if place else ""
    return pages.SheetLine(one.sheet.title, f"{action}/{one.sheet.id}{there}", one.sheet.about, have)
