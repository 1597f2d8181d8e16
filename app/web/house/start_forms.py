"""The three screens of the first run: what each asks, and how it is read. Nothing is kept until the last is sent."""

from collections.abc import Iterable, Mapping
from datetime import date
from urllib.parse import quote

from app.rules.terms import NATIONS, TRADES
from app.services.setup import ASPECTS, Estimate, House, Offered, Where, climates, usual_zone
from app.web import pages
from app.web.parts import Choice, Field, Form, Frame, Link, Pair
from app.web.told import NATIONS as NAMES
from app.web.typed import Typed
from app.web.words import day, trade

WHERE = ("name", "nation", "latitude", "longitude", "height_m", "climate", "aspect", "frost_hollow")
HOUSE = ("last_frost", "first_frost", "mouths", "units", "timezone")
NATION_CHOICES = tuple(
    Choice(name, NAMES[name].capitalize() if name == "elsewhere" else NAMES[name]) for name in NATIONS
)
UNIT_CHOICES = (Choice("metric", "Kilograms and metres"), Choice("imperial", "Pounds and feet"))


OWN = Choice("own", "The monthly means we typed")
ASPECT_CHOICES = tuple(Choice(name, "Flat" if name == "flat" else f"To the {name}") for name in ASPECTS)


def read_where(form: Typed, *, own_months: bool = False) -> Where:
    """The first screen, read; ``own_months`` lets the household's own monthly means be chosen.

    Raises: BadInput with a sentence per field.
    """
    name = form.text("name", "The holding wants a name; its own, or one for now.", longest=80)
    nation = form.choice("nation", NATIONS, "Please choose one; “Elsewhere” will do.")
    latitude = form.degrees("latitude", 90, "The latitude is wanted: how far north, such as 54.7.")
    longitude = form.degrees("longitude", 180, "The longitude is wanted: west is below nought, such as −3.1.")
    height = form.number("height_m", -450, 9000, "m", "The height is wanted; near enough will do.")
    known = [ident for ident, _ in climates()] + ([OWN.value] if own_months else [])
    climate = form.choice("climate", known, "Please choose the one most like yours.")
    aspect = form.choice("aspect", ASPECTS)
    form.check()
    hollow = form.raw("frost_hollow") == "yes"
    return Where(name, nation, latitude or 0.0, longitude or 0.0, height or 0.0, climate, aspect, hollow)


def read_house(form: Typed, estimated: Estimate, latitude: float) -> House:
    """The second screen, read; frost dates left as they were offered stay estimates.

    Of one season the last frost comes before the first: in the south that season runs over the turn of the year.

    Raises: BadInput with a sentence per field.
    """
    last = frost(form, "last_frost", estimated.last_frost)
    first = frost(form, "first_frost", estimated.first_frost)
    if last is not None or first is not None:
        _in_order(form, estimated, latitude)
    mouths = form.number("mouths", 0, 1000, needed="How many eat here? Half ones count.")
    units = form.choice("units", [choice.value for choice in UNIT_CHOICES]) or "metric"
    zone = form.zone("timezone")
    vet = form.text("vet", longest=120)
    form.check()
    return House(last, first, mouths or 0.0, units, zone, vet)


def _in_order(form: Typed, estimated: Estimate, latitude: float) -> None:
    """Take down that the frosts are the wrong way round, where both are known."""
    typed = [form.day(name) for name in ("last_frost", "first_frost")]
    if form.errors:
        return
    known = [date.fromordinal(day) if day else guess for day, guess in zip(typed, estimated, strict=True)]
    last, first = ((on.month, on.day) if on else None for on in known)
    if last is None or first is None:
        return
    if latitude < 0:  # a season that begins in July
        last, first = (((month + 5) % 12, day) for month, day in (last, first))
    if last >= first:
        name = "first_frost" if typed[1] is not None else "last_frost"
        form.fault(name, "The last frost of spring comes before the first of autumn; these are the other way round.")


def frost(form: Typed, name: str, estimated: date | None) -> str | None:
    """A frost date as a day of the year, None where it is left to the estimate."""
    typed = form.day(name)
    if typed is None:
        return None
    on = date.fromordinal(typed)
    if estimated is not None and (on.month, on.day) == (estimated.month, estimated.day):
        return None
    return f"--{on.month:02}-{28 if (on.month, on.day) == (2, 29) else on.day:02}"


def where_page(frame: Frame, typed: Mapping[str, str], errors: Mapping[str, str], sentence: str = "") -> pages.Start:
    """The first screen."""
    return pages.Start(
        frame=frame,
        step=1,
        heading="Where is it?",
        lead="Dates hang on frost, daylight and the law of the place.",
        form=Form("/start/1", "On", error=sentence),
        parts=(pages.Part("The place", place_fields(typed, errors)),),
        back=None,
    )


def place_fields(typed: Mapping[str, str], errors: Mapping[str, str], *, own_months: bool = False) -> tuple[Field, ...]:
    """The questions about where it is and how it lies."""

    def ask(name: str, label: str, kind: str = "text", **more: object) -> Field:
        return Field(name, label, kind, typed.get(name, ""), error=errors.get(name, ""), required=True, **more)  # type: ignore[arg-type]

    degrees = "from any map; a tenth of a degree is near enough"
    weather = tuple(Choice(ident, name) for ident, name in climates()) + ((OWN,) if own_months else ())
    law = "For closed seasons and legal limits."
    return (
        ask("name", "What the holding is called"),
        ask("nation", "Nation", "choice", choices=NATION_CHOICES, help=law),
        ask("latitude", "Latitude", "number", unit="°", help=degrees),
        ask("longitude", "Longitude", "number", unit="°", help="west of Greenwich is below nought: −3.1"),
        ask("height_m", "Height above the sea", "number", unit="m"),
        ask("climate", "Whose weather is most like yours?", "choice", choices=weather,
            help="Where its height is known, its warmth is carried to yours."),
        Field("aspect", "Which way does it slope?", "choice", typed.get("aspect", ""), error=errors.get("aspect", ""),
              choices=ASPECT_CHOICES),
        Field("frost_hollow", "It lies in a frost hollow", "tick", typed.get("frost_hollow", ""),
              help="Where cold air runs together on still nights and stays."),
    )  # fmt: skip


def house_page(
    frame: Frame, where: Where, estimated: Estimate, typed: Mapping[str, str], errors: Mapping[str, str]
) -> pages.Start:
    """The second screen, the estimate offered."""
    kept = tuple(Pair(name, typed.get(name, "")) for name in WHERE)
    query = "&".join(f"{pair.name}={_quoted(pair.value)}" for pair in kept)
    return pages.Start(
        frame=frame,
        step=2,
        heading="When does it freeze, and who eats?",
        lead="The dates are worked out from where you are. Put them right if you know better.",
        form=Form("/start/2", "On", hidden=kept),
        parts=(
            pages.Part("Frost", frost_fields(estimated, typed, errors), frost_note(estimated)),
            pages.Part("The table", table_fields(where.nation, typed, errors)),
        ),
        back=Link("Back", f"/start?{query}"),
    )


def frost_fields(estimated: Estimate, typed: Mapping[str, str], errors: Mapping[str, str]) -> tuple[Field, ...]:
    """The two frosts, in the middle year: as typed, else as estimated."""
    return tuple(
        Field(
            name,
            label,
            "date",
            typed.get(name, guess.isoformat() if guess else ""),
            error=errors.get(name, ""),
            help="" if guess else "by the weather of the place it never comes in half the years",
        )
        for name, label, guess in (
            ("last_frost", "Last frost of spring", estimated.last_frost),
            ("first_frost", "First frost of autumn", estimated.first_frost),
        )
    )


def frost_note(estimated: Estimate) -> str:
    """What the estimate is worth."""
    known = [day(on, on) for on in (estimated.last_frost, estimated.first_frost) if on is not None]
    said = f"Estimated: {' and '.join(known)}. " if known else ""
    return (
        f"{said}Half of all years are later, half earlier; a hollow is weeks behind a slope. Only day and month count."
    )


def table_fields(nation: str, typed: Mapping[str, str], errors: Mapping[str, str]) -> tuple[Field, ...]:
    """Who eats, in what it is weighed, by which clock."""
    return (
        Field("mouths", "Mouths to feed", "number", typed.get("mouths", ""),
              error=errors.get("mouths", ""), required=True),
        Field("units", "Weights and lengths in", "choice", typed.get("units", "metric"), choices=UNIT_CHOICES),
        Field("timezone", "Time zone", value=typed.get("timezone", usual_zone(nation)),
              error=errors.get("timezone", ""), required=True),
    )  # fmt: skip


def things_page(
    frame: Frame, offered: Iterable[Offered], typed: Mapping[str, str], ticked: Iterable[str], sentence: str = ""
) -> pages.Start:
    """The third screen: tick what there is."""
    chosen = tuple(ticked)
    every = list(offered)
    parts = []
    for name in TRADES:
        choices = tuple(Choice(one.sheet, one.title, one.about) for one in every if one.trade == name)
        if choices:
            boxes = Field(
                "have", "Tick what there is, or is to be", "several", choices=choices, values=chosen, id=f"have-{name}"
            )
            parts.append(pages.Part(trade(name), (boxes,), trade=name))
    kept = tuple(Pair(name, typed.get(name, "")) for name in (*WHERE, *HOUSE))
    note = "Each gets a likely date: a sowing its next season, a wall or a gutter a year since it was done."
    return pages.Start(
        frame=frame,
        step=3,
        heading="What is there already?",
        lead="Tick what you have or mean to have. Dates can be put right afterwards, one thing at a time.",
        form=Form("/start/3", "Fill my year", hidden=kept, note=note, error=sentence),
        parts=tuple(parts),
        back=None,
    )


def _quoted(text: str) -> str:
    return quote(text, safe="")
