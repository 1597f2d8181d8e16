"""The law of the land: closed seasons that no entry lays, one file for each nation."""

from app.errors import Fault
from app.rules.sheet import BarRule
from app.rules.terms import NATIONS
from app.sheets.bars import bar
from app.sheets.read import listed, placed
from app.sheets.values import Doc, Known, Reading, Table


def read_law(doc: Doc, file: str, known: Known) -> tuple[tuple[BarRule, ...], list[Fault]]:
    """The bars of one nation's file, and all that is wrong with it."""
    reading = Reading(file, known)
    head = Table(doc, reading)
    nation = head.choice("nation", NATIONS, "elsewhere", needed=True)
    bars = [bar(placed(table, "bar", name), name, nation or "elsewhere") for name, table in listed(head, "bar").items()]
    head.close()
    return tuple(bars), reading.faults
