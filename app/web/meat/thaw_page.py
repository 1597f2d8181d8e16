"""Out of the freezer as a page: the day first, then what holds once it is thawed, then how long one takes to freeze."""

from collections.abc import Mapping, Sequence
from datetime import date

from app.rules.spans import Day
from app.rules.tasks import Laid
from app.services.larder.larder import BatchRow
from app.services.meat.thawing import SCOTLAND, Freezing, Meal, Out
from app.sheets.library import Library
from app.web import pages, told
from app.web.meat.thaw_forms import RULES, freezing_form, put_form, thaw_form
from app.web.parts import Caution, Frame, Link, Pair
from app.web.words import SP, counted, figure, weekday, window

LINKS = (Link("How long meat keeps, and how hot", "/meat/keeping"), Link("Back from the table", "/meat/table"),
         Link("Larder", "/larder"))  # fmt: skip
FLAT_MM = 50
"""A pack as flat as this is as good as it gets."""
COLD_WATER = (
    "Cold water is the only quick way: in a leakproof bag, the water changed every half hour, {}, and then it is cooked"
    " at once."
)
METRIC_HOURS = "a little over two hours a kilo (a bird a little over one)"
IMPERIAL_HOURS = "about an hour a pound (a bird half an hour)"


def thaw_page(
    frame: Frame, library: Library, typed: Mapping[str, str], errors: Mapping[str, str], batches: Sequence[BatchRow],
    nation: str, imperial: bool, today: date, meal: Meal | None, out: Out | None, frozen: Freezing | None,
) -> pages.Thaw:  # fmt: skip
    """The page."""
    says = _Says(today, imperial)
    return pages.Thaw(
        frame=frame,
        form=thaw_form(typed, errors, batches, nation, imperial, today),
        heading=says.heading(meal, out) if meal is not None and out is not None else "",
        warnings=says.warnings(out) if out is not None else (),
        answer=says.answer(meal, out) if meal is not None and out is not None else (),
        dates=says.dates(library, out.laid) if out is not None else (),
        why=says.why(meal, out, nation) if meal is not None and out is not None else (),
        cautions=_cautions(library, out.laid) if out is not None else (),
        put=put_form(typed) if out is not None else None,
        freezing=freezing_form(typed, errors, imperial),
        frozen=_frozen(frozen) if frozen is not None else (),
        frozen_why=_frozen_why() if frozen is not None else (),
        links=LINKS,
    )


class _Says:
    """The answer in words."""

    def __init__(self, today: date, imperial: bool) -> None:
        self.today, self.imperial = today, imperial

    def _day(self, on: Day) -> str:
        return weekday(date.fromordinal(on), self.today)

    def heading(self, meal: Meal, out: Out) -> str:
        return f"Out of the freezer on {self._day(out.out)}, in the morning"

    def warnings(self, out: Out) -> tuple[str, ...]:
        if out.late_by:
            fridge = f"Taken out today, the fridge has it thawed by {self._day(out.soonest)}."
            water = COLD_WATER.format(IMPERIAL_HOURS if self.imperial else METRIC_HOURS)
            return (f"That was {counted(out.late_by, 'day')} ago. {water} {fridge}",)
        return ()

    def answer(self, meal: Meal, out: Out) -> tuple[Pair, ...]:
        after = out.after
        last = "the same day" if not after.days else f"{self._day(out.last)}, kept in the fridge"
        where = "in cold water" if out.late_by else "on the bottom shelf of the fridge"
        return (
            Pair("thawed", f"{self._day(out.thawed)}, {where}"),
            Pair("cooked by", "at once" if out.late_by else last),
            Pair("frozen again raw", "it may be, and is the worse for it" if after.refreeze_raw else "never"),
            Pair("cooked to", out.cook.says),
        )

    def dates(self, library: Library, laid: Laid) -> tuple[Pair, ...]:
        sheet = library.sheets[laid.entry.sheet]
        dated = [(t.opens, t.best, t.closes, t.step) for t in laid.tasks]
        lines = sorted((o, b, c, step) for o, b, c, step in dated if o is not None and b is not None and c is not None)
        return tuple(
            Pair(self._window(o, b, c), (known.title if (known := told.step_of(sheet, step)) else step))
            for o, b, c, step in lines
        )

    def _window(self, *days: Day) -> str:
        opens, best, closes = (date.fromordinal(one) for one in days)
        return window(opens, best, closes, self.today)

    def why(self, meal: Meal, out: Out, nation: str) -> tuple[str, ...]:
        days = [f"{out.why}: 24 hours for 4 to 5 lb, the slow end (The Big Thaw, US Department of Agriculture)."]
        days.append(f"By the rules of the {RULES[meal.rule]}: {out.after.says}")
        if nation == "scotland":
            days.append(SCOTLAND)
        if meal.fridge_days is not None:
            days.append("Days it lay in the fridge before it was frozen are not given back by freezing.")
        days.append("Your own food-safety authority comes before this page.")
        return tuple(days)


def _cautions(library: Library, laid: Laid) -> tuple[Caution, ...]:
    sheet = library.sheets[laid.entry.sheet]
    more = next((step.cautions for step in sheet.steps if step.id == "meal"), ())
    return told.cautions(library, (*sheet.cautions, *more))


def _frozen(found: Freezing) -> tuple[Pair, ...]:
    quick, slow = found.hours
    within = "within the day" if slow <= 24 else "it may take more than a day" if quick <= 24 else "more than a day"
    flatter = "Pack it flatter, 50 mm or less, or freeze" if found.thickness_mm > FLAT_MM else "Spread it out; freeze"
    advice = "" if slow <= 24 else f"{flatter} less at once."
    pairs = (
        Pair("hard to the middle after", f"{figure(quick, 0)} to {figure(slow, 0)}{SP}hours"),
        Pair("that is", within),
        Pair("better", advice),
    )
    return tuple(pair for pair in pairs if pair.value)


def _frozen_why() -> tuple[str, ...]:
    return (
        "Plank’s equation for lean meat (Encyclopaedia of Food Sciences and Nutrition), from 4 °C until the middle has"
        " −18 °C.",
        "How well air takes the heat off is from memory: 5 to 8 W/m²K in still air, 10 to 25 with a fan; a tenth to a"
        " seventh before it freezes and a fifth to a third after are common practice.",
    )
