"""The answers of the kitchen's sums in words."""

from typing import NamedTuple

from app.rules.terms import Ask
from app.services.preserving.kitchen_sums import Blanched, Chutney, Crock, Honey, Jam, Kept, Vinegar
from app.web import fields, told
from app.web.parts import Link, Pair
from app.web.words import SP, counted, figure

HEADINGS = {
    "jam": "Jam and jelly",
    "vinegar": "Vinegar for a pickle",
    "chutney": "Chutney",
    "crock": "Salt for a crock",
    "blanch": "Scalding for the freezer",
    "store": "Kept raw",
    "honey": "Honey, dry enough",
}
LINKS = (
    Link("Preserving", "/preserving"),
    Link("Bottling times", "/preserving/bottling"),
    Link("The dryer, and powder", "/preserving/drying"),
    Link("Larder", "/larder"),
)
NOTES = (
    "Apples and pears give off ethylene: keep them from carrots, which turn bitter, and from cabbage, potatoes and"
    " squash. Onions keep from whatever takes their smell.",
    "Looked through every fortnight, apples every week, and what rots taken out (common practice). Below 0 °C roots"
    " freeze; potatoes and squash are hurt sooner.",
    "Months by the table, in a store as cold and damp as it says; a British shed is warmer and keeps for less.",
)
_LAW = (
    "Jam that is sold has a least amount of fruit by law, 350 g to the kilo of most in England; ask Trading Standards."
)


class Told(NamedTuple):
    """One answer in words."""

    answer: str = ""
    facts: tuple[Pair, ...] = ()
    warnings: tuple[str, ...] = ()
    why: tuple[str, ...] = ()


class Words:
    """The answers, in the household's units."""

    def __init__(self, imperial: bool) -> None:
        self.imperial = imperial

    def _in(self, value: float, kind: str, digits: int = 1) -> str:
        return told.answer(fields.in_units([Ask("", kind)], self.imperial)[0], round(value, digits))

    def jam(self, found: Jam, final_percent: float, jar_ml: float) -> Told:
        """What a pan gives, and where it sets."""
        water = "measured in the pan" if found.measured else "by your height; weather moves it by up to 0.9 °C"
        warnings = []
        if final_percent < 60:
            warnings.append("Below 60 % sugar it is no jam for the shelf: the fridge, and a few weeks, or the freezer.")
        if found.fruit_g_a_kg < 350:
            warnings.append(f"Only {figure(found.fruit_g_a_kg, 0)} g of fruit in the kilo. {_LAW}")
        return Told(
            f"Makes {self._in(found.made_kg, 'kg', 2)}, and sets at {self._in(found.set_c, 'c')}",
            (
                Pair("jars", f"{counted(found.jars, 'full jar')} of {figure(jar_ml, 0)}{SP}ml"),
                Pair("boils off", f"{self._in(found.off_kg, 'kg', 2)} of water"),
                Pair("water boils at", f"{self._in(found.boils_c, 'c')}, {water}"),
                Pair("fruit in a kilo", f"{figure(found.fruit_g_a_kg, 0)}{SP}g"),
                Pair("keeps", "a year sealed and cool, a month in the fridge once open: for quality (common practice)"),
            ),
            tuple(warnings),
            (
                "Jam = (sugar + fruit × its own sugar) ÷ the sugar wanted in the jam: what is dissolved stays in the"
                " pan.",
                "It sets 4.4 °C (8 °F) above boiling water: Michigan State University Extension 01600890, 1997. The"
                " usual 104.5 °C is that at the sea, and too hot on a hill.",
                "Boiling water by height: the standard atmosphere and IAPWS-IF97. Better to put the thermometer into"
                " boiling water that day.",
                "Sugar weight for weight with fruit for jam, three quarters of the juice for jelly; 60 to 68 % when"
                " done. A litre of jam weighs about 1.35 kg (common practice).",
                _LAW,
            ),
        )

    def vinegar(self, found: Vinegar) -> Told:
        """How sour it is."""
        said = "too thin for a shelf: the fridge" if found.refused else "enough for a shelf, by a tested recipe"
        most = found.most_water_ml
        return Told(
            f"{figure(found.percent)}{SP}% acid: {said}",
            (Pair("water it bears", f"{figure(most, 0)}{SP}ml in all, for 5{SP}%"),) if most else (),
            (found.refused,) if found.refused else (),
            (
                "Acid after mixing = vinegar × its acid ÷ (vinegar + water).",
                "5 % on the label, and never thinner than the tested recipe says: USDA guide 6, from memory. What the"
                " vegetables themselves water down is the recipe’s affair, so keep its proportions.",
                "Vinegar of your own making is of unknown strength, and for the table only: Penn State Extension.",
            ),
        )

    def chutney(self, found: Chutney) -> Told:
        """The least of vinegar and sugar."""
        return Told(
            f"At least {self._in(found.vinegar_ml / 1000, 'l', 2)} of 5{SP}% vinegar and"
            f" {self._in(found.sugar_g / 1000, 'kg', 2)} of sugar",
            (
                Pair("boiled in the jar", "10 minutes to 305 m, 15 to 1829 m, 20 above"),
                Pair("matures", "6 to 8 weeks, by custom 4 to 12"),
                Pair("keeps", "a year sealed, four weeks in the fridge once open: for quality"),
            ),
            (),
            (
                "A cup of vinegar and a cup of sugar to five cups of chopped produce: a reading of the NCHFP’s"
                " recipes, 2011.",
                "That is a floor for judging a recipe by, and no recipe: onions, garlic and peppers are not added to"
                " one.",
            ),
        )

    def crock(self, found: Crock, percent: float) -> Told:
        """Salt, and days."""
        days = found.days
        facts = [
            Pair("usual for cabbage", f"{figure(found.low_g, 0)} to {figure(found.high_g, 0)}{SP}g"),
            Pair("in the water", f"{figure(found.a_litre_g, 0)}{SP}g to the litre of it, if all the salt goes there"
                 if found.a_litre_g else ""),
            Pair("sour in", f"{days[0]} to {days[2]} days, about {days[1]}: cabbage" if days else ""),
            Pair("keeps", "several months in the fridge, for quality"),
        ]  # fmt: skip
        return Told(
            f"{figure(found.salt_g, 0)}{SP}g of salt",
            tuple(one for one in facts if one.value),
            (found.no_days,) if found.no_days else (),
            (
                f"{figure(percent)} % of everything in the crock, its water too: vegetables drink the brine until"
                " both are as salt.",
                "Cabbage 2.25 to 2.5 %: Pederson and Albury, New York State Agricultural Experiment Station, from"
                " memory; less"
                " than 2 % lets the wrong things grow. Weighed and not spooned: the ¾ cup of an old recipe for 25 lb"
                " comes to 2 %, its spoons to 2.5 %.",
                "Days: 21 to 28 at 21 to 24 °C, 35 to 42 at 16 to 18 °C, Michigan State University Extension"
                " 01600078, 1997; the line between is ours.",
                "Bubbling stops and it is sour. White film is skimmed; pink, slime, fur or a foul smell: thrown away"
                " untasted.",
            ),
        )

    def blanch(self, found: Blanched) -> Told:
        """Minutes, water, and days of freezing."""
        minutes = found.minutes
        answer = f"{figure(minutes)}{SP}minutes, and as long in ice water" if minutes else "Not scalded"
        facts = [Pair("water", f"{self._in(found.water_l, 'l', 0)} at the boil, a load at a time" if minutes else "")]
        if found.days is not None and found.day_kg is not None:
            low, high = (self._in(one, "kg") for one in found.day_kg)
            days = f"{found.days[0]} to {found.days[2]} days" if found.days[0] != found.days[2] else (
                counted(found.days[0], "day"))  # fmt: skip
            facts.append(Pair("into the freezer", f"{days}: it hardens {low} to {high} a day"))
        facts.append(Pair("keeps", "8 to 12 months at −18 °C for quality; safe while it stays frozen"))
        return Told(
            f"{found.row.crop[:1].upper()}{found.row.crop[1:]}: {answer[:1].lower()}{answer[1:]}",
            tuple(one for one in facts if one.value),
            ("Too short is worse than none: it wakes what it should stop. Cook it before you eat it.",)
            if minutes
            else (),
            (
                f"{found.row.source} ({found.row.basis}); counted from when it boils again, a minute more from 1524 m"
                " (5000 ft): Utah State University Extension. Cobs are chilled twice as long.",
                "8 litres to the kilo, 16 for leaves. A freezer hardens 32 to 48 g a litre in a day: USDA, Canning,"
                " Freezing, Storing Garden Produce.",
            ),
        )

    def store(self, found: Kept, store_c: float) -> Told:
        """Months in this store."""
        row = found.row
        crop = f"{row.crop[:1].upper()}{row.crop[1:]}"
        facts = [
            Pair("eat first", f"after {counted(found.days, 'day')}"),
            Pair("by the table", f"{months(row.least_months, row.most_months)} at {self._in(row.store_c, 'c')}"
                 f" and {figure(row.humidity_percent)}{SP}% humidity"),
            Pair("first of all", row.cure),
            Pair("cured when", " to ".join(self._in(one, "kg", 2) for one in found.cured_kg) if found.cured_kg else ""),
            Pair("no colder than", self._in(row.chill_c, "c")),
        ]  # fmt: skip
        return Told(
            f"{crop}: {months(found.least_months, found.most_months)} at {self._in(store_c, 'c')}",
            tuple(one for one in facts if one.value),
            (),
            (
                f"{row.source} ({row.basis}).",
                "Warmer, it goes two to three times as fast for every 10 °C (apples: Iowa State University"
                " Extension); the"
                " day to eat it first is reckoned at 2.5, from the middle of the table’s months. Never longer than"
                " the table.",
                "The day is one of quality: what is sound is eaten, what is soft or mouldy is thrown out.",
            ),
        )

    def honey(self, found: Honey) -> Told:
        """Whether it keeps."""
        most = f"{figure(found.most_percent)}{SP}%"
        said = f"within the {most} it may have" if found.dry else f"above the {most} it may have"
        warning = "Too wet: it ferments. Back into a warm dry room in shallow trays, or eat it soon, or bake with it."
        return Told(
            f"{figure(found.percent, 1)}{SP}% water: {said}",
            (Pair("keeps", "below 18 % for years, sealed; wetter, use it within two (common practice)"),),
            () if found.dry else (warning,),
            (
                "Water = (−0.2681 − log₁₀(index − 1)) ÷ 0.002243, read at 20 °C: Wedmore’s table, from memory.",
                "Blossom 20 %, heather 23, for baking 23, heather for baking 25: Directive 2001/110/EC, annex II, kept"
                " in the law of the United Kingdom. Selling it has rules of its own.",
                "Never for a child under twelve months.",
            ),
        )


def firm(text: str) -> str:
    """A sentence whose figures stay with their units at a line's end."""
    return text.replace(" °C", f"{SP}°C").replace(" %", f"{SP}%")


def months(low: float, high: float) -> str:
    """A stretch of months, in weeks where it is short: "5 to 9 months", "10 to 14 days", "3 to 5 weeks"."""
    if high < 0.5:
        return _span(low * 30, high * 30, "day")
    if high < 2:
        return _span(low * 30 / 7, high * 30 / 7, "week")
    if low < 1:
        return f"{_span(low * 30 / 7, low * 30 / 7, 'week')} to {_span(high, high, 'month', 1)}"
    return _span(low, high, "month", 1)


def _span(low: float, high: float, noun: str, digits: int = 0) -> str:
    first, last = figure(low, digits), figure(high, digits)
    one = f"{last}{SP}{noun}{'' if last == '1' else 's'}"
    return one if first == last else f"{first}{SP}to{SP}{last}{SP}{noun}s"
