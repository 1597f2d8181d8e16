"""The bottling look-up as a page: one form, the minutes first, where they come from behind."""

from collections.abc import Mapping
from urllib.parse import urlencode

from app.rules.terms import Ask
from app.services.preserving.bottling import GAUGES, Asked, Bottled, NotBottled, Row, choices
from app.sheets.library import Library
from app.units import from_metric
from app.web import fields, pages, told
from app.web.parts import Choice, Field, Form, Frame, Link, Pair
from app.web.typed import Typed
from app.web.words import SP, amount, counted, figure

JAR = Ask("jar", "ml", "Size of the jar", default=500, low=1, high=20_000)
GAUGE = {"none": "a pan of boiling water", "dial": "a canner with a dial", "weighted": "a canner with a weight"}
FREEZER = Link("Freeze it instead", "/add/frozen-produce")
BLANCH = Link("Blanching times", "/preserving/sums#blanch")
LINKS = (
    Link("Preserving", "/preserving"),
    Link("Kitchen sums", "/preserving/sums"),
    Link("A glut", "/preserving/glut"),
    Link("Larder", "/larder"),
)
_JARS = (
    "UK jars of 500 ml and 1 litre hold more than the pint (473 ml) and the quart (946 ml) that were tested: 500 ml"
    " takes the quart’s time, and 1 litre is in no table."
)


def height_ask(altitude_m: float) -> Ask:
    """The question for the height, the holding's own the usual answer."""
    return Ask("altitude", "m", "Height of your kitchen above the sea", default=altitude_m, low=-10, high=3000)


def bottling_page(
    frame: Frame,
    library: Library,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    asked: Asked | None,
    found: Bottled | None,
    no: NotBottled | None,
    doubt_min: int,
    altitude_m: float,
    imperial: bool,
) -> pages.Bottling:
    """The page, with the answer once something was asked."""
    says = _Says(found, asked, imperial) if found is not None and asked is not None else None
    return pages.Bottling(
        frame=frame,
        form=_form(typed, errors, altitude_m, imperial),
        heading=says.heading() if says else "Not for the shelf" if no else "",
        refused=f"{no.why} Freeze it, or eat it within three days from the fridge." if no else "",
        answer=says.answer() if says else (),
        warnings=says.warnings() if says else (),
        why=says.why() if says else (f"{no.source} ({no.basis}).",) if no else (),
        beside=says.beside() if says else (),
        cautions=told.cautions(library, ("botulism", "hot-jars")),
        ways=says.ways() if says else (FREEZER, BLANCH) if no or errors else (),
        doubt=_doubt(doubt_min),
        links=LINKS,
        empty=""
        if says or no or errors
        else "Say what goes into the jar. What is in no tested table is for the freezer.",
    )


def _form(typed: Mapping[str, str], errors: Mapping[str, str], altitude_m: float, imperial: bool) -> Form:
    jar, height, kg = fields.in_units((JAR, height_ask(altitude_m), _KG), imperial)
    foods = tuple(Choice(key, f"{text[:1].upper()}{text[1:]}") for key, text in choices())
    gauges = tuple(Choice(one, GAUGE[one]) for one in GAUGES)
    asked = (
        Field("what", "What, and how it is packed", "list", typed.get("what", ""), required=True,
              error=errors.get("what", ""), choices=foods),
        fields.field(jar, typed.get("jar"), errors.get("jar", "")),
        fields.field(height, typed.get("altitude"), errors.get("altitude", "")),
        Field("gauge", "Boiled in", "choice", typed.get("gauge") or "none", choices=gauges,
              error=errors.get("gauge", "")),
        fields.field(kg, typed.get("kg"), errors.get("kg", "")),
        Field("half", "Take 500 ml for a pint, as one canner’s manual does and USDA does not", "tick",
              typed.get("half", "")),
    )  # fmt: skip
    return Form("/preserving/bottling", "Look it up", asked, method="get", note=_JARS)


_KG = Ask("kg", "kg", "How much of it you have", low=0.05, high=5000, optional=True)


def read_asked(form: Typed, altitude_m: float, imperial: bool) -> Asked:
    """What was typed.

    Raises: BadInput with a sentence per field.
    """
    what = form.choice("what", [key for key, _ in choices()], "Choose what goes into the jar.")
    gauge = form.choice("gauge", GAUGES) or "none"
    got = form.asked(fields.in_units((JAR, height_ask(altitude_m), _KG), imperial))
    form.check()
    kg = got.get("kg")
    return Asked(
        what, float(got.get("jar", 500)), float(got.get("altitude", altitude_m)),
        next(one for one in GAUGES if one == gauge), form.raw("half") == "yes", float(kg) if kg is not None else None,
    )  # fmt: skip


def _doubt(minutes: int) -> tuple[str, ...]:
    return (
        "Unsealed, bulging, leaking, spurting, frothing, mouldy or smelling: never taste it, nor boil it to eat"
        " it. Bag it and bin it; one that leaks is first boiled under water for half an hour, and everything washed.",
        "A jar of vegetables or tomatoes with none of these signs, but not certainly done by the table: destroy it, or"
        f" at the least boil what is in it {minutes} minutes at this height before anybody tastes it.",
        "A jar that did not seal: a new lid and the whole time again within 24 hours, or the fridge and three days.",
        "USDA Agriculture Information Bulletin 539, 1994. Where your local food-safety authority says more, go by it.",
    )


class _Says:
    """The answer in words."""

    def __init__(self, found: Bottled, asked: Asked, imperial: bool) -> None:
        self.found, self.asked, self.imperial = found, asked, imperial

    def _in(self, value: float, kind: str, digits: int = 1) -> str:
        return told.answer(fields.in_units([Ask("", kind)], self.imperial)[0], round(value, digits))

    def heading(self) -> str:
        """The minutes, with what they are of."""
        f = self.found
        where = "in boiling water" if f.psi is None else f"at {f.psi} psi"
        food = f"{f.row.food[:1].upper()}{f.row.food[1:]}"
        jar = amount(self.asked.jar_ml, "ml")
        return f"{food}, {f.row.pack}, in {jar} jars: {f.minutes}{SP}minutes {where}"

    def answer(self) -> tuple[Pair, ...]:
        """The figures."""
        f = self.found
        counted_from = "when it boils again, jars covered by 3 cm"
        pairs = (
            Pair("minutes", f"{f.minutes}, counted from {counted_from}" if f.psi is None
                 else f"{f.minutes}, counted from the pressure; steam let out for 10 minutes first"),
            Pair("pressure", f"{f.psi} psi ({f.kpa:.0f}{SP}kPa) on the {self.asked.gauge} gauge" if f.psi else ""),
            Pair("acid in each jar", self._acid()),
            Pair("space at the top", self._in(f.row.headspace_mm, "mm", 0)),
            Pair("jars", self._jars()),
            Pair("keeps", "a year at 10 to 21 °C, in the dark: for quality, while the seal holds"),
        )  # fmt: skip
        return tuple(pair for pair in pairs if pair.value)

    def _acid(self) -> str:
        told_of = [
            f"{amount(one.each, one.unit)} {'bottled ' if one.agent == 'lemon juice' else ''}{one.agent}"
            f"{' of 5' + SP + '%' if one.agent == 'vinegar' else ''}"
            for one in self.found.acids
        ]
        if not told_of:
            return ""
        lemon = self.found.acids[0]
        total = f"; lemon juice for all {self.found.jars}: {amount(lemon.all, lemon.unit)}" if lemon.all else ""
        return f"{', or '.join(told_of)}{total}"

    def _jars(self) -> str:
        f = self.found
        if f.jars is None:
            return f"About {self._in(f.jar_kg, 'kg', 2)} fills one"
        left = f", and {self._in(f.left_kg, 'kg', 2)} left over for the freezer or the pot" if f.left_kg > 0.05 else ""
        return f"{counted(f.jars, 'full jar')}{left}"

    def warnings(self) -> tuple[str, ...]:
        """What wants saying beside the figures."""
        f, found = self.found, []
        if f.empty_min:
            found.append(f"Less than 10 minutes: the empty jars are boiled {f.empty_min} minutes first.")
        if self.asked.half_as_pint and 473 < self.asked.jar_ml <= 500:
            found.append("Approximate: you take half a litre for a pint, which is 5.7 % smaller. The table does not.")
        if f.row.acid:
            found.append("The acid goes into every jar before it is filled: bottled lemon juice, not fresh.")
        if f.row.way == "pressure":
            found.append("Only a canner that shows its pressure; many British pressure cookers do not.")
        return tuple(found)

    def why(self) -> tuple[str, ...]:
        """Where the figures come from."""
        f = self.found
        lines = [
            f"{f.row.source} ({f.row.basis}); the United States’ table, and no other is mixed into it.",
            f"Looked up, not reckoned: the band {f.band}, and the tested jar of {amount(f.taken_for_ml, 'ml')}, the"
            " next in size to yours.",
            "It covers nothing else: nothing thicker, no bigger jar, no onion, herb, oil or butter in it.",
        ]
        if f.row.way == "boiling water":
            lines.insert(1, _bands(f.row, f.taken_for_ml))
        return tuple(lines)

    def beside(self) -> tuple[str, ...]:
        """Another country's custom, told and not mixed in."""
        rows = self.found.beside
        if not rows:
            return ()
        customs = "; ".join(f"{one.pack}, {one.pint[0]}{SP}minutes" for one in rows)
        return (
            f"British custom ({rows[0].source}; {rows[0].basis}): {customs}. It heats less, is told here as history,"
            " and is not mixed with these.",
        )

    def ways(self) -> tuple[Link, ...]:
        """Put it down with these figures; the freezer."""
        row = self.found.row
        if not row.sheet:
            return (FREEZER,)
        facts = {"altitude_m": self._typed(self.asked.altitude_m, "m"), "jar_ml": f"{self.asked.jar_ml:g}"}
        if row.sheet == "apple-juice":
            facts.pop("kg", None)
        elif self.asked.kg is not None:
            facts["kg"] = self._typed(self.asked.kg, "kg")
        if row.sheet in ("bottled-fruit", "bottled-soft-fruit") and row.food != "berries":
            facts["fruit"] = row.food
        return (Link("Put it down with these figures", f"/add/{row.sheet}?{urlencode(facts)}"), FREEZER)

    def _typed(self, value: float, kind: str) -> str:
        return f"{from_metric(value, fields.IMPERIAL[kind]):.4g}" if self.imperial else f"{value:g}"


def _bands(row: Row, jar_ml: float) -> str:
    minutes = row.pint if jar_ml <= 473 else row.quart
    told_of = ", ".join(figure(one) for one in minutes)
    return f"The row for {amount(jar_ml, 'ml')}: {told_of} minutes to 305 m, 914 m, 1829 m and above."
