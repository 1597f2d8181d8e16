"""Labels for jars and packs, on common sheets of A4."""

from collections.abc import Collection, Iterable, Sequence
from datetime import date
from functools import lru_cache
from typing import NamedTuple

import segno
from markupsafe import Markup

from app.services.larder.larder import BatchRow
from app.web import pages
from app.web.larder.page import left_of, name_of
from app.web.larder.units import much
from app.web.parts import NO_LINE, Choice, Field, Form, Frame
from app.web.words import figure, short

MOST_BATCHES, MOST_LABELS, MOST_COPIES = 200, 390, 65
EACH = "each"
_JARS = ("jars", "packs", "bottles", "pieces", "heads", "boxes", "tubs")
_SMALL = ("40", "65")
_PRINT = "Print on A4 at its full size (100 %, no fitting to the page)."
_CODE = "The code opens the batch on a phone that is let in; the number tells one jar from another."
_ALONE = (
    "The number tells one jar from another. The code opens nothing on a phone yet: serve the house first (see Phones),"
    " then lay the labels out again."
)


class Size(NamedTuple):
    """Labels on a sheet of A4: how many across and down, and each one's width and height.

    Source: the sizes that several makers print on common A4 label sheets; common practice.
    """

    across: int
    down: int
    wide_mm: float
    high_mm: float


SIZES = {
    "21": Size(3, 7, 63.5, 38.1), "24": Size(3, 8, 63.5, 33.9), "40": Size(4, 10, 45.7, 25.4),
    "65": Size(5, 13, 38.1, 21.2),
}  # fmt: skip
NO_LABEL = pages.BatchLabel("", "", "", "", "", NO_LINE)


class Wish(NamedTuple):
    """What is to be printed: the size, of each batch so many or "each" (one for each jar), and labels gone already."""

    size: str
    copies: str
    gone: int


def read_wish(size: str, copies: str, gone: str) -> Wish:
    """What was chosen in the address; what is none of the choices is the usual one."""
    chosen = size if size in SIZES else "21"
    many = copies if copies == EACH else str(min(max(int(copies), 1), MOST_COPIES)) if copies.isdecimal() else "1"
    left_out = int(gone) if gone.isdecimal() and len(gone) < 4 else 0
    return Wish(chosen, many, min(left_out, int(chosen) - 1))


def labels_page(
    frame: Frame,
    there: Iterable[BatchRow],
    chosen: Sequence[BatchRow],
    wish: Wish,
    base: str,
    imperial: bool = False,
    served: bool = True,
) -> pages.BatchLabels:
    """Labels of the chosen batches, sheet by sheet, and the choice itself; ``served`` when phones find the house."""
    labels = [NO_LABEL] * wish.gone + [one for row in chosen for one in _labels(row, wish, base, imperial)]
    per = int(wish.size)
    some = labels[:MOST_LABELS] if chosen else []
    size = SIZES[wish.size]
    return pages.BatchLabels(
        frame=frame,
        size=wish.size,
        sheets=tuple(tuple(some[at : at + per]) for at in range(0, len(some), per)),
        choose=_choose(there, {row.id for row in chosen}, wish, imperial),
        note=f"{_PRINT} {_CODE if served else _ALONE}",
        fits=f"{wish.size} to the sheet, {figure(size.wide_mm, 1)} × {figure(size.high_mm, 1)} mm each",
    )  # fmt: skip


def _choose(there: Iterable[BatchRow], chosen: Collection[str], wish: Wish, imperial: bool) -> Form:
    sizes = tuple(
        Choice(name, f"{name} to the sheet", f"{figure(one.wide_mm, 1)} × {figure(one.high_mm, 1)} mm")
        for name, one in SIZES.items()
    )
    batches = tuple(
        Choice(
            row.id,
            name_of(row),
            f"{row.number} · {left_of(row, imperial)} · made {short(date.fromordinal(row.made_on))}",
        )
        for row in there
    )
    copies = (Choice("1", "One of each batch"), Choice(EACH, "One for each jar or pack"), Choice("2", "Two of each"),
              Choice("4", "Four of each"))  # fmt: skip
    fields = (
        Field("size", "Label sheet", "choice", wish.size, choices=sizes),
        Field("copies", "How many", "list", wish.copies, choices=copies, required=True),
        Field("gone", "Labels gone from the first sheet already", "count", str(wish.gone) if wish.gone else ""),
        Field("batch", "Of which batches", "several", choices=batches, values=tuple(chosen)),
    )
    return Form("/larder/labels", "Lay out the labels", fields, method="get")


def _labels(row: BatchRow, wish: Wish, base: str, imperial: bool) -> list[pages.BatchLabel]:
    """A batch's labels, the same so many times; or one for each jar, told apart as "2 of 9"."""
    made = short(date.fromordinal(row.made_on))
    of = "use by" if row.basis == "safety" else "best by"
    use = f"{of} {short(date.fromordinal(row.keeps_until))}" if row.keeps_until is not None else ""
    code = _code(f"{base}/larder/{row.number}", wish.size)  # short, so that its squares are wide enough for a jar
    weight = (
        much(row.pack_kg, "kg", imperial) if row.pack_kg else left_of(row, imperial) if row.left is not None else ""
    )
    if wish.copies != EACH:
        return [pages.BatchLabel(row.number, name_of(row), made, use, weight, code)] * int(wish.copies)
    jars = max(1, round(row.left or 1)) if row.unit in _JARS else 1
    each = much(row.pack_kg, "kg", imperial) if row.pack_kg else "" if row.unit in _JARS else weight
    return [
        pages.BatchLabel(
            f"{row.number} · {n} of {jars}" if jars > 1 else row.number, name_of(row), made, use, each, code
        )
        for n in range(1, min(jars, MOST_LABELS) + 1)
    ]


@lru_cache(maxsize=1024)  # each takes some 20 ms to make, and the same labels are laid out again and again
def _code(address: str, size: str) -> Markup:
    """A code that a phone reads; on the smallest labels with less in it to spare, so that its squares stay wide."""
    made = segno.make(address, error="l" if size in _SMALL else "m", boost_error=False)
    return Markup(made.svg_inline(border=2, dark="#000", light="#fff", svgclass=None, lineclass=None, omitsize=True))
