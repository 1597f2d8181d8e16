"""The cuts of a delivery as lines: typed, or offered by a carcase's usual list; kept as one fact of its entry."""

import re
from collections.abc import Iterable, Sequence
from typing import Literal, NamedTuple, cast

from app.trade.meat.carcase import YIELDS, cut_list
from app.trade.meat.cuts import BEAST_OF, KINDS, CutKind, Kind
from app.trade.meat.keeping import KEEPING
from app.units import understood

__all__ = [
    "CARCASES", "KINDS", "WAYS", "CutLine", "Kind", "Way", "curable", "fridge_days", "offered", "read_lines", "slug",
    "total_kg", "usual_way", "written",
]  # fmt: skip

CARCASES: tuple[Kind, ...] = tuple(BEAST_OF)
"""Whose usual cut list is offered."""
Way = Literal["freeze", "cure", "fresh", "other"]
WAYS: tuple[Way, ...] = ("freeze", "cure", "fresh", "other")
MOST_LINES = 60
LEAST_KG, MOST_KG = 0.02, 600.0
THIN_MM, THICK_MM = 5.0, 250.0
_WEIGHT = re.compile(r"(?<![\w.,])([-−]?\d+(?:[.,]\d+)?)\s*(kg|kilos?|g|grams?|lbs?|pounds?|oz|ounces?)\b", re.I)
_THICK = re.compile(r"(?<![\w.,])([-−]?\d+(?:[.,]\d+)?)\s*(mm|cm|in|inch|inches)\b(?:\s*thick)?", re.I)
_WAY = re.compile(r"[,;]\s*(freeze|cure|eat fresh|fresh|other)\s*(?=,|$)|\s(freeze|cure|eat fresh)\s*$", re.I)
_TIMES = re.compile(r"(\d{1,3})\s*[x×]\s*$")
_NOT_CURED = re.compile(
    r"lamb|mutton|beef|veal|venison|chicken|duck|goose|turkey|bird|rabbit|chop|steak|minced?|diced?|sausage"
)
_WASTE = re.compile(r"\b(bones?|head|feet|trotters|skin|back ?fat|lard)\b", re.I)


class CutLine(NamedTuple):
    """A cut that came: its weight in kg, its greatest thickness in mm where it was said, and what becomes of it."""

    name: str
    kg: float
    mm: float | None = None
    way: Way | None = None


def read_lines(text: str) -> tuple[tuple[CutLine, ...], tuple[str, ...]]:
    """What was typed, a cut to a line (or parted by semicolons), and a sentence for each line that can't be so."""
    lines = [line.strip() for line in re.split(r"[\n;]", text) if line.strip()]
    if not lines:
        return (), ("Say what came, a cut to a line, such as “belly 3.2 kg, 40 mm”.",)
    if len(lines) > MOST_LINES:
        return (), (f"That is {len(lines)} lines; up to {MOST_LINES} cuts go into one delivery.",)
    found: list[CutLine] = []
    faults: list[str] = []
    for number, line in enumerate(lines, 1):
        try:
            found.append(_read(line))
        except ValueError as error:
            faults.append(f"Line {number}, “{line[:50]}”: {error}")
    return _told_apart(found), tuple(faults)


def offered(of: Kind, kg: float) -> tuple[CutLine, ...]:
    """The usual cuts of a carcase or a side as they are packed, to be corrected, and what is left of it.

    A list that comes to the whole carcase has its bone, fat and trimmings taken off: halfway between the yields.
    A kind of meat without a list gives none. Raises: OutOfRange for a weight that is none.
    """
    beast = BEAST_OF.get(of)
    if beast is None:
        return ()
    cuts = cut_list(beast, kg)
    if any(_WASTE.search(cut.what) for cut, _ in cuts):
        return tuple(CutLine(cut.what, round(some, 1)) for cut, some in cuts)
    share = sum(YIELDS[beast].packed) / 200
    packed = tuple(CutLine(cut.what, round(some * share, 1)) for cut, some in cuts)
    return (*packed, CutLine("bone, fat and trimmings", round(kg * (1 - share), 1)))


def written(lines: Iterable[CutLine], between: str = "; ") -> str:
    """Lines as text that `read_lines` reads back the same."""
    return between.join(_line(one) for one in lines)


def usual_way(line: CutLine, kind: CutKind, of: Kind) -> Way:
    """What becomes of a cut of which nobody has said: frozen, but bones, head and fat are boiled or rendered.

    A belly whose thickness was measured is meant for the cure.
    """
    if _WASTE.search(line.name):
        return "other"
    if line.mm is not None and curable(line.name, of) == "belly":
        return "cure"
    return "freeze"


def curable(name: str, of: Kind) -> str:
    """Which cure a pork cut may go into from a delivery: "belly", "loin" or "leg"; "" for every other."""
    said = name.casefold()
    if of not in ("pork", "mixed") or _NOT_CURED.search(said):
        return ""
    return next((cut for cut in ("belly", "loin", "leg") if re.search(rf"\b{cut}s?\b|\bbellies\b", said)), "")


def fridge_days(kind: CutKind) -> int:
    """Days it may wait raw in the fridge, the lower figure; 0 where no table says, as for game."""
    chilled = KEEPING[kind.keeps].chilled
    return chilled[0] if chilled is not None else 0


def slug(name: str) -> str:
    """A cut's name as it stands in an address."""
    return "-".join("".join(c if c.isascii() and c.isalnum() else " " for c in name.casefold()).split()) or "cut"


def total_kg(lines: Sequence[CutLine]) -> float:
    """All of it together."""
    return sum(one.kg for one in lines)


def _read(line: str) -> CutLine:
    way: Way | None = None
    if found := _WAY.search(line):
        said = (found[1] or found[2]).casefold()
        way = "fresh" if said == "eat fresh" else cast(Way, said)
        line = line[: found.start()] + line[found.end() :]
    mm = None
    if thick := _THICK.search(line):
        mm = understood(f"{thick[1]} {thick[2]}", "mm")
        line = line[: thick.start()] + line[thick.end() :]
    weight = _WEIGHT.search(line)
    if weight is None:
        raise ValueError("its weight is wanted too, such as “3.2 kg”.")
    before, after = line[: weight.start()], line[weight.end() :]
    if _WEIGHT.search(after):
        raise ValueError("it has more than one weight: a cut to a line.")
    times = _TIMES.search(before)
    kg = round(understood(f"{weight[1]} {weight[2]}", "kg") * (int(times[1]) if times else 1), 3)
    name = " ".join(f"{before} {after}".split()).strip(" ,:–-×x=")
    if not name:
        raise ValueError("what is it? A name is wanted beside the weight.")
    if len(name) > 60:
        raise ValueError("a shorter name is wanted, up to 60 letters.")
    if not LEAST_KG <= kg <= MOST_KG:
        raise ValueError(f"a weight of {kg:g} kg can’t be; {LEAST_KG:g} to {MOST_KG:g} kg.")
    if mm is not None and not THIN_MM <= mm <= THICK_MM:
        raise ValueError(
            f"a thickness of {mm:g} mm can’t be; measure its thickest place, {THIN_MM:g} to {THICK_MM:g} mm."
        )
    return CutLine(name, kg, mm, way)


def _told_apart(lines: Iterable[CutLine]) -> tuple[CutLine, ...]:
    """Two cuts of one name are two batches: the second is called so."""
    seen: set[str] = set()
    found = []
    for one in lines:
        name, number = one.name, 1
        while slug(name) in seen:
            number += 1
            name = f"{one.name} {number}"
        seen.add(slug(name))
        found.append(one._replace(name=name))
    return tuple(found)


def _line(one: CutLine) -> str:
    parts = [f"{one.name} {one.kg:g} kg"]
    if one.mm is not None:
        parts.append(f"{one.mm:g} mm")
    if one.way is not None:
        parts.append(one.way)
    return ", ".join(parts)
