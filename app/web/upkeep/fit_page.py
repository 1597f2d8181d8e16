"""Fit to paint as a page: three readings, yes or no with every reason; the days to expect in each month."""

from collections.abc import Mapping
from datetime import date

from app.rules.terms import Ask
from app.services.book import Book
from app.services.upkeep.fit import LIMEWASH, ON, FitMonths, Fitness, JobFit, Readings
from app.sheets.upkeep_tables import limits
from app.web import pages
from app.web.fields import in_units
from app.web.forms import field
from app.web.pages.upkeep import Checked, JobLine
from app.web.parts import Choice, Field, Form, Frame, Pair
from app.web.typed import Typed
from app.web.upkeep.drawing import fit_by_month
from app.web.upkeep.words import of_words, task_href, window_words
from app.web.words import MONTHS, SP, counted, figure, listed

AIR = Ask("air", "c", "Air", low=-40, high=60, optional=True)
SURFACE = Ask("surface", "c", "Surface", low=-40, high=90, optional=True)
TONIGHT = Ask("tonight", "c", "Tonight’s lowest", low=-40, high=40, optional=True)
USUAL = "water-borne paint"
COATINGS = tuple(limits())


def fit_page(
    book: Book,
    frame: Frame,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    answer: Fitness | None,
    months: FitMonths,
    today: date,
) -> pages.UpkeepFit:
    """The page, with the answer once the readings were typed."""
    told = tuple(Pair(MONTHS[n], counted(round(one), "day")) for n, one in enumerate(months.days))
    words = "Days to expect: " + listed(f"{pair.name} {pair.value}" for pair in told) + "."
    return pages.UpkeepFit(
        frame=frame,
        form=_form(typed, errors, book.imperial),
        answer=_answer(answer),
        fit=answer is not None and answer.fit,
        checks=_checks(answer),
        facts=_facts(answer),
        months_heading=f"{months.coating.capitalize()} on {months.on}: days to expect here",
        months=fit_by_month(months.days, words) if months.days else fit_by_month((), ""),
        told=told,
        choose=Form(
            "/upkeep/fit", "Show", (_coating(months.coating, {}), _on(months.on, {})), method="get", quiet=True
        ),
        jobs=tuple(_job(book, one, today) for one in months.jobs),
        notes=(
            "The tin’s own figures rule over these. Limewash wants the opposite of paint: damp, dull and mild, and no"
            " frost for weeks.",
            "A month’s days are reckoned from the place’s rain, warmth and daylight, four hours of work in each; in a"
            " fit month six days of ten can really be used.",
            *(["The reasons are told in °C, as tins have it."] if book.imperial else []),
        ),
        no_months="" if months.days else "On how many days it rains here is not known, so no month’s days can be told,"
        " and coats keep to the painting season alone. Ten years of rain on record under Our weather tell it.",
    )  # fmt: skip


def read_fit(form: Typed, imperial: bool) -> Readings:
    """The readings as typed.

    Raises: BadInput with a sentence per field.
    """
    found = form.asked(in_units((AIR, SURFACE, TONIGHT), imperial))
    if not form.raw("air"):
        form.fault("air", "How warm is the air?")
    humidity = form.number("humidity", 1, 100, "%", "How damp is the air?")
    coating = form.choice("coating", (*COATINGS, LIMEWASH), "Which coating is it?")
    hours = form.number("dry", 0, 240, "hours")
    wall = form.choice("rain", ("yes", "no"))
    form.check()
    surface, tonight = found.get("surface"), found.get("tonight")
    return Readings(
        float(str(found["air"])), humidity or 0.0, None if surface is None else float(str(surface)), coating,
        wall != "no", hours, None if tonight is None else float(str(tonight)),
    )  # fmt: skip


def _form(typed: Mapping[str, str], errors: Mapping[str, str], imperial: bool) -> Form:
    degrees = "°F" if imperial else "°C"
    fields = (
        field("air", "Air", typed, errors, kind="number", unit=degrees, required=True),
        field("humidity", "Humidity", typed, errors, kind="number", unit="%", required=True),
        field("surface", "Surface", typed, errors, kind="number", unit=degrees,
              help="Left empty, it is taken to be 2 °C colder than the air."),
        _coating(typed.get("coating", USUAL), errors, "reading-coating", (*COATINGS, LIMEWASH)),
        field("rain", "It has been dry for a day", typed, errors, "yes", kind="choice",
              choices=(Choice("yes", "Yes"), Choice("no", "No"))),
        field("dry", "Dry ahead, by the forecast", typed, errors, kind="number", unit="hours"),
        field("tonight", "Tonight’s lowest", typed, errors, kind="number", unit=degrees),
    )  # fmt: skip
    return Form("/upkeep/fit", "Is it fit now?", fields, method="get")


def _coating(value: str, errors: Mapping[str, str], ident: str = "", coatings: tuple[str, ...] = COATINGS) -> Field:
    choices = tuple(Choice(one, one.capitalize()) for one in coatings)
    return field("coating", "Coating", {"coating": value}, errors, kind="list", choices=choices, id=ident)


def _on(value: str, errors: Mapping[str, str]) -> Field:
    return field("on", "On", {"on": value}, errors, kind="choice", choices=tuple(Choice(o, o.capitalize()) for o in ON))


def _checks(answer: Fitness | None) -> tuple[Checked, ...]:
    """What was looked at, what does not hold first."""
    looked = sorted(answer.checks if answer is not None else (), key=lambda each: each.holds)
    return tuple(Checked(one.holds, f"{one.says[:1].upper()}{one.says[1:]}") for one in looked)


def _facts(answer: Fitness | None) -> tuple[Pair, ...]:
    if answer is None:
        return ()
    dew, above = figure(answer.dew_point_c, 1), figure(answer.margin_c, 1)
    return (Pair("Dew point", f"{dew}{SP}°C"), Pair("Surface above it", f"{above}{SP}°C"))


def _answer(found: Fitness | None) -> str:
    if found is None:
        return ""
    wrong = sum(not one.holds for one in found.checks)
    return "Yes. It is fit now." if found.fit else f"No. {counted(wrong, 'reason').capitalize()} against it."


def _job(book: Book, one: JobFit, today: date) -> JobLine:
    takes = counted(one.takes_days, "day")
    has = f"{MONTHS[one.month - 1]} gives {figure(one.fit_days, 0)} fit days here, and it takes {takes}"
    if one.fits:
        says = f"{has}."
    elif one.other is None:
        says = f"{has}; no month has enough. Take it in parts, or under a sheet."
    else:
        says = f"{has}: too few. {MONTHS[one.other - 1]} has {figure(one.other_days, 0)}; move it there."
    return JobLine(
        one.title, task_href(book, one.task, one.element.entry.id), of_words(one.element),
        window_words(one.task, today), says=says, trouble=not one.fits,
    )  # fmt: skip
