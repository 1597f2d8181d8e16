"""A cure as a page: grams first, the law, the days, salt by depth; then the dates, and a way to put it down."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from markupsafe import Markup

from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.book import Book
from app.services.meat.cure import WAYS, Cure, Depth
from app.sheets.library import Library
from app.web import fields, pages, told
from app.web.forms import fresh
from app.web.links import entry_href
from app.web.meat.cure_drawing import depth_picture
from app.web.parts import NO_LINE, Form, Frame, Link, Pair
from app.web.previewed import preview_new
from app.web.words import SP, counted, day, figure, listed, minutes

FINE_G = 0.01
NO_DATES = "No dates are given."
RULE = "Seven days an inch of thickness, five at least, and two to spare: the trade’s rule for hams, used for bacon."
ESTIMATE = (
    "Salt spreads as heat does (Fick’s law): at 3 to 7 × 10⁻¹⁰ m²/s in pork (Hansen and others, Meat Science 80, 2008),"
    " and the middle has nine tenths of its share after so many days. It never shortens the rule; it says when the rest"
    " may end."
)
_ENDS = {"smoke": "first night of smoke", "hang": "hung", "even": "hung", "boil": "boiled", "slice": "sliced"}


def cure_page(
    frame: Frame,
    groups: tuple[pages.CureGroup, ...],
    cure: Cure | None,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    book: Book,
    entry: str = "",
    conflict: str = "",
) -> pages.Cure:
    """The page; the answer once something was asked and nothing was wrong with it."""
    today = book.today()
    hidden = (Pair("entry", entry),) if entry else ()
    answer = _Says(cure, book.imperial, today).answer() if cure is not None else None
    return pages.Cure(
        frame=frame,
        lead="Weigh the piece, measure it at its thickest, read the packet. Nothing is saved until you put it down.",
        groups=groups,
        hidden=hidden,
        error=conflict or ("Please look again: nothing was reckoned." if errors else ""),
        answer=answer,
        put=_put(cure, typed, entry) if cure is not None else None,
        cautions=told.cautions(book.library, _cautions(book.library, cure)),
        back=Link("Back to its page", entry_href(entry))
        if entry
        else Link("Other ways, without reckoning", "/add?trade=meat"),
    )


def _cautions(library: Library, cure: Cure | None) -> tuple[str, ...]:
    return ("nitrite", *cure.sheet.cautions) if cure is not None else ("nitrite", "cure-is-raw")


def _put(cure: Cure, typed: Mapping[str, str], entry: str) -> Form:
    kept = tuple(Pair(name, value) for name, value in typed.items() if name not in ("id", "seen", "entry", "confirm"))
    hidden = (*kept, Pair("entry", entry), Pair("seen", cure.looked.seen), *fresh())
    said = "What is done all the same is taken down on its page." if cure.uncovered else ""
    return Form("/meat/cure", "Weigh it out for this cure" if entry else "Put it down", hidden=hidden, note=said,
                quiet=bool(cure.uncovered))  # fmt: skip


class _Says:
    """The answer in words."""

    def __init__(self, cure: Cure, imperial: bool, today: date) -> None:
        self.cure, self.asked, self.imperial, self.today = cure, cure.asked, imperial, today

    def answer(self) -> pages.CureAnswer:
        """All of it."""
        cure = self.cure
        return pages.CureAnswer(
            heading=self._heading(),
            grams=self._grams(),
            grams_note=self._grams_note(),
            law=cure.weighed.says,
            days=() if cure.uncovered else tuple(pair for pair in self._days() if pair.value),
            refused=self._refused(),
            why=self._why(),
            picture=self._picture(),
            picture_says=tuple(self._told(depth, n) for n, depth in enumerate(cure.depths)),
            key=self._key(),
            preview=self._preview(),
        )

    def _heading(self) -> str:
        asked = self.asked
        return f"{asked.cut.capitalize()}, {self._in(asked.kg, 'kg')}: {WAYS[asked.way].title.lower()}"

    def _in(self, value: float, kind: str) -> str:
        return told.answer(fields.in_units([Ask("", kind)], self.imperial)[0], round(value, 3))

    def _day(self, on: Day | None) -> str:
        return day(date.fromordinal(on), self.today) if on is not None else ""

    def _grams(self) -> tuple[Pair, ...]:
        """Grams always: a scale in ounces is too coarse for nitrite."""
        exact, weighed, asked = self.cure.exact, self.cure.weighed, self.asked
        pairs = (
            (f"curing salt of {figure(asked.nitrite_percent)}{SP}%", exact.curing_salt_g, weighed.curing_salt_g),
            ("plain salt", exact.salt_g, weighed.salt_g),
            ("sugar", exact.sugar_g, weighed.sugar_g),
        )
        said = [Pair(name, self._on_scales(one, shown)) for name, one, shown in pairs]
        said.append(Pair("nitrite going in", f"{figure(weighed.ppm, 0)}{SP}ppm (mg to the kg)"))
        return tuple(said)

    def _on_scales(self, exact: float, shown: float) -> str:
        text = f"{exact:.2f}{SP}g"
        if self.asked.scale_g <= FINE_G:
            return f"{shown:.2f}{SP}g"
        if abs(exact - shown) < FINE_G / 2:
            return text
        return f"{figure(shown)}{SP}g on your scales; {text} exactly"

    def _grams_note(self) -> str:
        base = figure(self.cure.base_g, 0)
        parts = ["nine tenths of the piece (skin takes up none)" if self.asked.skin == "skin on" else "the piece"]
        parts += ["its water"] if self.asked.water_l else []
        return f"Reckoned on {base}{SP}g: {listed(parts)}. Curing salt is rounded down, never up. All of it goes on."

    def _days(self) -> tuple[Pair, ...]:
        out, rested, even = self.cure.out, self.cure.rested, self.cure.even
        best = out.best if out is not None and out.best is not None else 0
        named = _ENDS.get(rested.step, "ready") if rested is not None else ""
        spread = ""
        if even is not None:
            early, late = (self._day(self.asked.on + round(one)) for one in (even.quick_days, even.slow_days))
            spread = f"about {self._day(self.asked.on + round(even.usual_days))}; between {early} and {late}"
        salted = f"{self._day(best)}, after {counted(best - self.asked.on, 'day')}"
        last = self._day(out.closes) if out is not None else ""
        return (
            Pair("into the cure", self._day(self.asked.on)),
            Pair("out of the cure", salted),
            Pair("out at the latest", last),
            Pair("soaked after it", self._soak()),
            Pair("even to the middle", spread),
            Pair(named, self._day(rested.best) if rested is not None else ""),
            Pair("the rule for a dry ham", self._dry_ham()),
        )

    def _soak(self) -> str:
        minutes_long = self.cure.soak_minutes
        return f"{minutes(minutes_long)} in cold water, two for every day in the brine" if minutes_long else ""

    def _dry_ham(self) -> str:
        ham = self.cure.dry_ham
        if ham is None:
            return ""
        return (
            f"three days and one a kilo: {counted(ham.salt, 'day')} in salt, then {counted(ham.rest, 'day')} of rest"
            " (EU category 08.3.4.2); shorter than the rule by weight that is used here"
        )

    def _refused(self) -> tuple[str, ...]:
        cure = self.cure
        if cure.uncovered:
            return (f"{NO_DATES} {cure.uncovered}",)
        if cure.barred:
            return (f"No day for smoke, or for hanging outside: {_lower(_advice(cure.barred))}",)
        return ()

    def _preview(self) -> pages.Preview | None:
        """The dates; what bars smoke and hanging is said above already."""
        if self.cure.uncovered:
            return None
        found = preview_new(self.cure.sheet, self.cure.looked, self.today, self.cure.names)
        barred = self.cure.barred
        return replace(found, bars=tuple(one for one in found.bars if not barred or barred not in one))

    def _why(self) -> tuple[str, ...]:
        cure, asked = self.cure, self.asked
        said = [
            f"Curing salt: {figure(cure.exact.ppm)} × {figure(cure.base_g, 0)} ÷ (1{SP}000{SP}000 ×"
            f" {figure(asked.nitrite_percent / 100, 4)})"
            " (Processing Inspectors’ Calculations Handbook, FSIS, 1995, as curers quote it).",
            f"Plain salt: {figure(asked.salt_percent)}{SP}% of it, less the salt in the curing salt; sugar"
            f" {figure(asked.sugar_percent)}{SP}%.",
        ]
        if cure.even is not None:
            said += [RULE, ESTIMATE]
        elif not cure.uncovered:
            said.append(
                "Days by weight, as its sheet says; no estimate of salt to the middle holds for a leg or a brine."
            )
        if cure.barred:
            said.append(cure.barred)
        if asked.shape == "round":
            said.append(
                "The estimate is of a round piece where its skin is off; the dates are of a flat one, the slower."
            )
        return tuple(said)

    def _picture(self) -> Markup:
        cure = self.cure
        if not cure.depths:
            return NO_LINE
        ends = "face, skin" if self.asked.skin == "skin on" else "face, face"
        words = "Salt by depth. " + " ".join(
            f"{pair.name}: {pair.value}." for pair in map(self._told, cure.depths, (0, 1))
        )
        return depth_picture(cure.depths, self.asked.thickness_mm, self.asked.salt_percent, ends, words)

    def _told(self, depth: Depth, n: int) -> Pair:
        place = "under the skin" if self.asked.skin == "skin on" else "in the middle"
        name = ("out of the cure", "rest over")[min(n, 1)]
        salt = f"{figure(depth.face, 1)}{SP}% salt at the face, {figure(depth.middle, 1)}{SP}% {place}"
        return Pair(f"{name}, {self._day(depth.day)}", salt)

    def _key(self) -> tuple[tuple[str, str], ...]:
        if not self.cure.depths:
            return ()
        named = [f"{('out of the cure', 'rest over')[n]}" for n in range(len(self.cure.depths))]
        lines = tuple((f"salt d{n}", text) for n, text in enumerate(named))
        return (*lines, ("even", f"even, {figure(self.asked.salt_percent)}{SP}%"))


def _advice(reason: str) -> str:
    """What to do, of a reason that begins with the rule."""
    return reason.partition("). ")[2] or reason


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
