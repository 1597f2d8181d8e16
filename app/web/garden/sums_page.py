"""How much to sow as a page: one form, the answer in a few figures, its arithmetic behind."""

from collections.abc import Mapping, Sequence
from datetime import date
from urllib.parse import urlencode

from fastapi import Request

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.garden.ground import Bed
from app.services.garden.sums import BASES, USES, Asked, Sums
from app.sheets.garden_tables import needs_source, ups_source
from app.sheets.values import Publication
from app.units import from_metric
from app.web import fields, pages, told
from app.web.frames import frame
from app.web.parts import Choice, Field, Form, Link, Pair
from app.web.typed import Typed
from app.web.words import between, counted, day, figure, listed

BASIS = {"mouths": "mouths to feed", "metres": "metres of row", "plants": "plants"}
USE = {"both": "fresh and to keep", "fresh": "fresh", "stored": "to keep"}
NO_BED = "none"


def sums_page(
    request: Request,
    sheets: Sequence[Sheet],
    beds: Sequence[Bed],
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    found: Sums | None,
    asked: Asked | None,
    imperial: bool,
    mouths: float,
    today: date,
) -> pages.Sums:
    """The page, with the answer once something was asked."""
    says = _Says(found, asked, imperial, today) if found is not None and asked is not None else None
    return pages.Sums(
        frame=frame(request, "How much to sow", "garden"),
        form=_form(sheets, beds, typed, errors, mouths),
        heading=says.heading() if says else "",
        answer=says.answer() if says else (),
        why=says.why() if says else (),
        warnings=found.warnings if found is not None else (),
        dates_heading=says.dates_heading() if says else "",
        dates=says.dates() if says else (),
        dates_note=says.dates_note() if says else "",
        add=says.add() if says else None,
        empty="" if says or errors else "Say what it is, and how many are to eat of it.",
    )


def _form(
    sheets: Sequence[Sheet], beds: Sequence[Bed], typed: Mapping[str, str], errors: Mapping[str, str], mouths: float
) -> Form:
    def error(name: str) -> str:
        return errors.get(name, "")

    usual = {"basis": "mouths", "amount": f"{mouths:g}", "use": "both"}
    value = {name: typed.get(name, usual.get(name, "")) for name in
             ("sheet", "basis", "amount", "use", "germination", "bed", "first")}  # fmt: skip
    crops = tuple(Choice(one.id, one.title) for one in sheets)
    asked = [
        Field("sheet", "Crop", "choice", value["sheet"], choices=crops, required=True, error=error("sheet")),
        Field("amount", "For", "number", value["amount"], required=True, error=error("amount")),
        Field("basis", "of", "choice", value["basis"], required=True, error=error("basis"),
              choices=tuple(Choice(one, BASIS[one]) for one in BASES)),
        Field("use", "To eat", "choice", value["use"], error=error("use"),
              choices=tuple(Choice(one, USE[one]) for one in USES[::-1])),
        Field("germination", "Of a hundred seeds come up", "number", value["germination"], "%",
              "From your own test, or what is said of it; left empty, what seed for sale must reach.",
              error("germination")),
        Field("first", "First sown on", "date", value["first"], error=error("first"),
              help="Left empty, when its time here begins."),
    ]  # fmt: skip
    if beds:
        choices = (*(Choice(str(bed.id), bed.name) for bed in beds), Choice(NO_BED, "no bed of ours"))
        asked.append(Field("bed", "Into", "choice", value["bed"] or NO_BED, choices=choices, error=error("bed")))
    return Form("/garden/sums", "Reckon it", tuple(asked), method="get")


def read_asked(form: Typed, beds: Sequence[Bed]) -> Asked:
    """What was typed.

    Raises: BadInput with a sentence per field.
    """
    sheet = form.text("sheet", "Choose a crop.", 80)
    basis = form.choice("basis", BASES, "Choose of what.")
    amount = form.number("amount", 0, 100_000, needed="How many?")
    if amount == 0:
        form.fault("amount", "For nothing there is nothing to sow; more than 0 is wanted.")
    use = form.choice("use", USES)
    germination = form.number("germination", 1, 100, "%")
    first = form.day("first")
    ident = form.choice("bed", (NO_BED, *(str(bed.id) for bed in beds))) if beds else ""
    form.check()
    bed = next((one for one in beds if str(one.id) == ident), None)
    return Asked(sheet, basis, amount or 0.0, use or "both", germination, bed, first)  # type: ignore[arg-type]


class _Says:
    """The answer in words."""

    def __init__(self, found: Sums, asked: Asked, imperial: bool, today: date) -> None:
        self.found, self.asked, self.imperial, self.today = found, asked, imperial, today

    def _in(self, value: float, kind: str, digits: int = 1) -> str:
        ask = fields.in_units([Ask("", kind)], self.imperial)[0]
        return told.answer(ask, round(value, digits))

    def _day(self, on: Day) -> str:
        return day(date.fromordinal(on), self.today)

    def heading(self) -> str:
        """What was asked: "Carrot for four mouths, fresh and to keep"."""
        amount = self.asked.amount
        whole = int(amount) if amount == int(amount) else amount
        noun = {"mouths": ("mouth", "mouths"), "metres": ("metre", "metres"), "plants": ("plant", "plants")}
        many = (
            counted(whole, *noun[self.asked.basis])
            if isinstance(whole, int)
            else f"{figure(amount)} {noun[self.asked.basis][1]}"
        )
        tail = f", {USE[self.asked.use]}" if self.asked.basis == "mouths" else ""
        return f"{self.found.sheet.title.partition(',')[0]} for {many}{tail}"

    def answer(self) -> tuple[Pair, ...]:
        """The figures."""
        f = self.found
        low, high = f.row_range_m
        span = f" ({self._in(low, 'm')} to {self._in(high, 'm')} by appetite)" if high - low > 0.05 else ""
        seeds = figure(f.seeds, 0) if f.seeds else ""
        if f.grams:
            seeds += f", {self._in(f.grams, 'g', 1 if f.grams >= 1 else 2)}"
        return tuple(
            pair
            for pair in (
                Pair("row", self._in(f.row_m, "m") + span),
                Pair("plants", f"{figure(f.plants, 0)}, and {figure(f.spares, 0)} spare"),
                Pair("seed", seeds),
                Pair("in the tin", self._tin()),
                Pair("to expect", f"about {self._in(f.kg, 'kg', 0 if f.kg >= 10 else 1)}" if f.kg else ""),
                Pair("ground", self._ground()),
                Pair("sown", self._when()),
                Pair("up", self._up()),
            )
            if pair.value
        )

    def _tin(self) -> str:
        there, wanted = self.found.tin_seeds, self.found.seeds
        if not there or not wanted:
            return ""
        enough = "enough" if there >= wanted else f"{figure(wanted - there, 0)} short"
        return f"{figure(there, 0)} seeds, {enough}"

    def _ground(self) -> str:
        f, bed = self.found, self.asked.bed
        if f.wanted_m2 is None:
            return ""
        wanted = self._in(f.wanted_m2, "m2")
        if f.fits is None or bed is None:
            return wanted
        room = f"{bed.name} takes {counted(f.fits.rows, 'row')} of {self._in(bed.length_m, 'm')}"
        if f.fits.row_m >= f.row_m - 1e-6:
            return f"{wanted}; it fits: {room}"
        most = f"{self._in(f.fits.row_m, 'm')} or {figure(f.fits.plants, 0)} plants in all"
        return f"{wanted}; it does not all fit: {room}, {most}"

    def _when(self) -> str:
        time = self.found.time
        if time is None:
            return ""
        span = between(date.fromordinal(time.first), date.fromordinal(time.last), self.today)
        return f"{span}, {'under cover' if time.indoors else 'in the open'}"

    def _up(self) -> str:
        up, soil = self.found.up, self.found.soil_c
        if up is None or soil is None:
            return ""
        return f"in {up.days:.0f} to {up.late_days:.0f} days, in soil of {soil:.0f} °C on {self._day(self.found.first)}"

    def why(self) -> tuple[str, ...]:
        """The arithmetic."""
        f, asked = self.found, self.asked
        spacing, sown = f.crop.spacing, f.crop.sowing
        plant_cm = spacing.plant_cm if spacing is not None else None
        lines = []
        if asked.basis == "mouths" and f.need is not None:
            source = _named(needs_source()) if f.need.basis == "published" else "common practice"
            lines.append(f"A person eats {self._need()} a year: {source}.")
        lines.append(
            f"Plants stand {self._in(plant_cm or 0, 'cm')} apart; an eighth more is raised for gaps "
            "(10 to 15 %, common practice)."
        )
        if f.seeds and sown is not None:
            each = (
                f"{figure(sown.seeds_each)} seeds for each plant; " if sown.seeds_each and sown.seeds_each > 1 else ""
            )
            lines.append(
                f"{each}{figure(f.germination_percent)} of a hundred come up ({f.germination_from}), and 70 % of those "
                "stand in the ground (50 to 80 %, common practice)."
            )
        if f.seeds and sown is not None and sown.seeds_a_gram:
            lines.append(f"A gram holds {figure(sown.seeds_a_gram)} seeds.")
        if f.kg and f.crop.yields is not None:
            own = f", of which this holding gets {figure(f.own_percent)} %" if f.own_percent != 100 else ""
            lines.append(f"A metre gives {self._in(f.crop.yields.kg_a_m or 0, 'kg', 2)}{own}.")
        if f.crop.crossing is not None and f.crop.crossing.plants and f.seeds:
            lines.append(f"To keep seed of it, {f.crop.crossing.plants} plants more are to be left standing.")
        if f.up is not None:
            lines.append(f"How soon it is up: {_named(ups_source())}; outdoors it may take twice as long.")
        return tuple(lines)

    def _need(self) -> str:
        need = self.found.need
        assert need is not None
        parts = [("fresh", need.fresh), ("to keep", need.stored)]
        wanted = {"both": ("fresh", "to keep"), "fresh": ("fresh",), "stored": ("to keep",)}[self.asked.use]

        def span(one: tuple[float, float]) -> str:
            low, high = (self._in(value, "m") if need.unit == "m" else figure(value) for value in one)
            return f"{low} to {high}" if low != high else low

        said = listed(f"{span(one)} {name}" for name, one in parts if name in wanted and any(one))
        return f"{said} of row" if need.unit == "m" else f"{said} plants’ worth"

    def dates_heading(self) -> str:
        """Over the successive sowings."""
        f = self.found
        if len(f.by_heat) > 1:
            return f"So that there is fresh every {counted(f.apart_days or 0, 'day')}"
        if f.dates:
            return f"Again every {counted(f.apart_days or 0, 'day')}"
        return ""

    def dates(self) -> tuple[str, ...]:
        """The sowings."""
        return tuple(self._day(one) for one in self.found.dates)

    def dates_note(self) -> str:
        """The last useful one, and why."""
        f = self.found
        if f.last is None:
            return ""
        note = f"Last useful sowing: {self._day(f.last.day)} ({f.last.why})."
        if f.dates:
            note += f" In {counted(len(f.dates), 'sowing')}, each is {self._in(f.row_m / len(f.dates), 'm')} of row."
        if len(f.by_heat) > 1:
            note += " Reckoned by warmth: wider apart in spring, closer in summer."
        return note

    def add(self) -> Link | None:
        """To put it down with these figures."""
        f, asked = self.found, self.asked
        facts = {"date": date.fromordinal(f.first).isoformat()}
        turns = len(f.dates) if f.in_turn and f.dates else 1
        row_m = f.row_m / turns
        if "row_m" in f.sheet.facts:
            facts["row_m"] = f"{from_metric(row_m, 'ft') if self.imperial else row_m:.1f}"
        for name in ("plants", "sets", "cloves"):
            if name in f.sheet.facts:
                facts[name] = str(round(f.plants / turns) or 1)
        if asked.bed is not None:
            facts["place"] = asked.bed.name
        return Link("Put it down with these figures", f"/add/{f.sheet.id}?{urlencode(facts)}")


def _named(one: Publication) -> str:
    year = f", {one.year}" if one.year else ""
    return f"{one.title}, {one.body}{year} ({one.seen})"
