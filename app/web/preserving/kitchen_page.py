"""The kitchen's sums as a page: each with its answer first, its form beneath, and its rule behind why."""

from collections.abc import Mapping
from dataclasses import dataclass

from app.errors import BadInput
from app.rules.terms import Value
from app.services.book import Book
from app.services.preserving import kitchen_sums
from app.services.preserving.kitchen_sums import RawStore, raw_stores
from app.web import pages, told
from app.web.parts import Form, Frame, Link, Pair
from app.web.preserving.kitchen_asks import SUMS, Place, form_of, read
from app.web.preserving.kitchen_words import HEADINGS, LINKS, NOTES, Told, Words, firm, months
from app.web.typed import Typed
from app.web.words import SP, figure

CAUTIONS = ("botulism", "tested-recipe", "ferments", "hot-jars")


@dataclass(frozen=True, slots=True)
class Sent:
    """What was sent: of which sum, and its fields."""

    which: str
    typed: Mapping[str, str]


def kitchen_page(frame: Frame, book: Book, sent: Sent, place: Place, imperial: bool) -> tuple[pages.KitchenSums, bool]:
    """The page, and whether anything that was typed could not be read."""
    made = [_sum(book, which, sent, place, imperial) for which in SUMS]
    shown = pages.KitchenSums(
        frame=frame,
        lead="Each sum is answered for a usual case until you type your own.",
        jump=tuple(Link(HEADINGS[which], f"#{which}") for which in SUMS),
        sums=tuple(one for one, _ in made),
        cautions=told.cautions(book.library, CAUTIONS),
        note="Where your local food-safety authority says otherwise, go by it.",
        stores=tuple(_line(row) for row in raw_stores().values()),
        stores_notes=tuple(firm(one) for one in NOTES),
        links=LINKS,
    )
    return shown, any(bad for _, bad in made)


def _sum(book: Book, which: str, sent: Sent, place: Place, imperial: bool) -> tuple[pages.KitchenSum, bool]:
    mine = sent.which == which
    typed = sent.typed if mine else {}
    errors: Mapping[str, str] = {}
    answer = Told()
    try:
        got = read(which, Typed(typed), place, imperial)
        answer = _told(book, which, got, Words(imperial))
    except BadInput as error:
        errors = {
            name if name.startswith(f"{which}-") else f"{which}-{name}": said for name, said in error.fields.items()
        }
    form: Form = form_of(which, typed, errors, place, imperial)
    shown = pages.KitchenSum(
        which,
        HEADINGS[which],
        answer.answer,
        tuple(Pair(one.name, firm(one.value)) for one in answer.facts),
        tuple(firm(one) for one in answer.warnings),
        form,
        tuple(firm(one) for one in answer.why),
        mine or bool(errors),
    )
    return shown, bool(errors)


def _told(book: Book, which: str, got: Mapping[str, Value], words: Words) -> Told:
    def number(name: str) -> float:
        return float(got.get(name, 0))

    def perhaps(name: str) -> float | None:
        return float(got[name]) if name in got else None

    match which:
        case "jam":
            found = kitchen_sums.jam(
                number("fruit"), number("sugar"), number("water"), number("solids"), number("final"),
                number("altitude"), perhaps("boils"), number("jar"),
            )  # fmt: skip
            return words.jam(found, number("final"), number("jar"))
        case "vinegar":
            return words.vinegar(kitchen_sums.vinegar(number("vinegar"), number("percent"), number("water")))
        case "chutney":
            return words.chutney(kitchen_sums.chutney(number("produce")))
        case "crock":
            made = kitchen_sums.crock(book, number("vegetables"), number("brine"), number("salt"), number("room"))
            return words.crock(made, number("salt"))
        case "blanch":
            return words.blanch(
                kitchen_sums.blanch(str(got["crop"]), number("kg"), number("altitude"), perhaps("freezer"))
            )
        case "honey":
            return words.honey(kitchen_sums.honey(number("index"), str(got["kind"])))
        case _:
            return words.store(kitchen_sums.kept(str(got["crop"]), number("store"), perhaps("kg")), number("store"))


def _line(row: RawStore) -> pages.StoreLine:
    return pages.StoreLine(
        f"{row.crop[:1].upper()}{row.crop[1:]}",
        f"{figure(row.store_c)}{SP}°C",
        f"{figure(row.humidity_percent)}{SP}%",
        months(row.least_months, row.most_months),
        firm(row.cure),
    )
