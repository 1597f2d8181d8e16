"""Twelve monthly means as a page."""

from collections.abc import Mapping, Sequence

from app.services.weather.weather import Months, Reading
from app.web import pages
from app.web.parts import Choice, Field, Form, Frame
from app.web.weather.typed import Scale, boxed
from app.web.words import MONTHS

HERE = "/weather/months"
KINDS = (("min", "lowest"), ("max", "highest"), ("rain", "rain"))


def months_page(
    frame: Frame,
    known: Months,
    places: Sequence[tuple[str, str]],
    in_: Scale,
    typed: Mapping[str, str] | None = None,
    errors: Mapping[str, str] | None = None,
) -> pages.WeatherMonths:
    """The page; what was ``typed`` stands, else what is kept."""
    typed, errors = typed or {}, errors or {}
    wrong = "Please look again: nothing was changed." if errors else ""
    choices = tuple(Choice(ident, name) for ident, name in places)
    use = Field("normals", "Reckon from", "list", choices=choices, required=True)
    return pages.WeatherMonths(
        frame=frame,
        lead=_lead(known),
        form=Form(HERE, "Keep, and reckon from these", error=wrong, note="Every date follows."),
        units=(in_.sign("min"), in_.sign("rain")),
        months=tuple(_month(n, name, known.rows, in_, typed, errors) for n, name in enumerate(MONTHS, 1)),
        sure=Field("sure", "They are right as they stand", "tick", error=errors["sure"]) if "sure" in errors else None,
        other=Form(f"{HERE}/use", "Reckon from that instead", (use,), quiet=True) if known.used else None,
    )


def _lead(known: Months) -> str:
    what = "The mean lowest and highest temperature of each month, and its rain where that is known."
    if known.used:
        return f"{what} The season here rests on these, wherever no days are on record."
    if known.rows:
        return f"{what} These are kept, and not used."
    return f"{what} From a weather station near you, over as many years as it gives."


def _month(
    n: int, name: str, rows: Sequence[Reading], in_: Scale, typed: Mapping[str, str], errors: Mapping[str, str]
) -> pages.MonthTyped:
    known = rows[n - 1] if len(rows) == 12 else Reading()
    values = dict(zip(("min", "max", "rain"), known, strict=True))
    fields = tuple(
        Field(
            f"{kind}_{n}",
            f"{name}, {word} in {in_.sign(kind)}",
            "number",
            typed.get(f"{kind}_{n}", boxed(values[kind], in_.unit(kind))),
            error=errors.get(f"{kind}_{n}", ""),
        )
        for kind, word in KINDS
    )
    return pages.MonthTyped(name, fields, " ".join(field.error for field in fields if field.error))
