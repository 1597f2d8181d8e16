"""What is asked of a cure, and read back."""

from collections.abc import Mapping
from datetime import date

from app.rules.terms import Ask, Value
from app.services.meat.cure import CUTS, WAYS, Asked, Jurisdiction
from app.web import fields, pages
from app.web.parts import Choice, Field
from app.web.typed import Typed

LAWS: Mapping[Jurisdiction, str] = {
    "gb": "Great Britain", "eu": "European Union, Northern Ireland with it", "us": "United States",
}  # fmt: skip
SCALES = ("0.01", "0.1", "1", "5")
_KG = Ask("kg", "kg", "Weight, boned and trimmed", low=0.2, high=30)
_THICK = Ask("thickness_mm", "mm", "Greatest thickness")
_WATER = Ask("water_l", "l", "Water, for a brine", high=60, optional=True)
PIECE = ("cut", "kg", "thickness_mm", "shape", "skin")
SALT = ("nitrite_percent", "nitrate", "salt_percent", "sugar_percent", "scale_g", "jurisdiction", "nitrite_ppm")
WHEN = ("way", "date", "water_l", "name")
USUAL = {"shape": "flat", "salt_percent": "2.5", "sugar_percent": "1"}


def cure_groups(
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    known: Mapping[str, Value],
    law: Jurisdiction | None,
    imperial: bool,
    today: date,
) -> tuple[pages.CureGroup, ...]:
    """The questions: as typed, else as known of the entry, else as usual."""
    usual = {**USUAL, "jurisdiction": law or "", "date": today.isoformat(), **_told(known, imperial)}
    value = {name: typed.get(name, usual.get(name, "")) for name in (*PIECE, *SALT, *WHEN)}
    made = {one.name: one for one in _fields(value, errors, imperial)}
    heads = (("The piece", PIECE), ("The salt, and the law", SALT), ("Which way, and when", WHEN))
    return tuple(pages.CureGroup(head, tuple(made[name] for name in names)) for head, names in heads)


def read_cure(form: Typed, imperial: bool) -> Asked:
    """A cure as it was typed.

    Raises: BadInput with a sentence per field.
    """
    cut = form.choice("cut", CUTS, "Which piece is it?")
    way = form.choice("way", tuple(WAYS), "How is it to be cured?")
    brine = bool(way) and WAYS[way].brine
    measures = form.asked(fields.in_units((_KG, _THICK, _WATER), imperial))
    if brine and not measures.get("water_l"):
        form.fault("water_l", "How much water is the brine made with? The cure is weighed to meat and water together.")
    skin = form.choice("skin", ("skin on", "skinned"), "Is its skin on?")
    shape = form.choice("shape", ("flat", "round")) or "flat"
    strength = form.number("nitrite_percent", 0, 100, "%", needed="Read it on the packet: the per cent of sodium"
                           " nitrite. Salts differ more than tenfold, so none is assumed; with plain salt alone no"
                           " recipe is reckoned here.")  # fmt: skip
    nitrate = form.choice(
        "nitrate", ("yes", "no"), "The packet says so: sodium or potassium nitrate, saltpetre, E 251, E 252."
    )
    salt, sugar = _share(form, "salt_percent", "2.5"), _share(form, "sugar_percent", "1")
    law = form.choice("jurisdiction", tuple(LAWS), "Whose law applies?")
    ppm = form.number("nitrite_ppm", 0, 10_000, "ppm")
    scale = form.choice("scale_g", SCALES, "What is the least your finest scales show?")
    on = form.day("date", "On which day does it go in?")
    name = form.text("name", longest=80)
    form.check()
    kg, thick = (_figure(measures.get(one)) for one in ("kg", "thickness_mm"))
    water = _figure(measures.get("water_l")) if brine else None
    return Asked(
        way, cut, kg or 0.0, thick or 0.0, shape, skin, strength or 0.0, nitrate == "yes", ppm, salt, sugar,  # type: ignore[arg-type]  # choices read above
        law, on or 0, float(scale or 1), water, name,  # type: ignore[arg-type]  # as above
    )  # fmt: skip


def _share(form: Typed, name: str, usual: str) -> float:
    value = form.number(name, 0, 100, "%") if form.raw(name) else float(usual)
    return value if value is not None else 0.0


def _figure(value: Value | None) -> float | None:
    return float(value) if isinstance(value, int | float) else None


def _told(known: Mapping[str, Value], imperial: bool) -> dict[str, str]:
    """What is known of an entry as it stands in the boxes."""
    asks = {ask.name: ask for ask in fields.in_units((_KG, _THICK, _WATER), imperial)}
    found = {name: fields.told(asks.get(name, Ask(name, "text")), value) for name, value in known.items()}
    day = known.get("date")
    if isinstance(day, int):
        found["date"] = date.fromordinal(day).isoformat()
    return {name: value for name, value in found.items() if value}


def _fields(value: Mapping[str, str], errors: Mapping[str, str], imperial: bool) -> tuple[Field, ...]:
    def choice(name: str, label: str, options: Mapping[str, str], help: str = "") -> Field:
        choices = tuple(Choice(key, text) for key, text in options.items())
        return Field(name, label, "choice", value[name], help=help, error=errors.get(name, ""), choices=choices,
                     required=True)  # fmt: skip

    def number(name: str, label: str, unit: str, help: str = "", required: bool = True) -> Field:
        return Field(name, label, "number", value[name], unit, help, errors.get(name, ""), required=required)

    measured = [fields.field(ask, value[ask.name], errors.get(ask.name, ""))
                for ask in fields.in_units((_KG, _THICK, _WATER), imperial)]  # fmt: skip
    same = {one: one.capitalize() for one in ("flat", "round", "skin on", "skinned", *CUTS)}
    return (
        choice("cut", "Piece", {one: same[one] for one in CUTS}),
        *measured,
        choice("shape", "Shape", {one: same[one] for one in ("flat", "round")}, "Rolled and tied is round."),
        choice("skin", "Skin", {one: same[one] for one in ("skin on", "skinned")}),
        number("nitrite_percent", "Nitrite in your curing salt", "%",
               "As its packet prints it: 0.4 to 0.6, or 5.67 to 6.25. Never guessed."),
        choice("nitrate", "Has it nitrate too?", {"no": "No", "yes": "Yes"}),
        number("salt_percent", "Salt", "%", "2 to 3 is usual, what is in the curing salt counted in."),
        number("sugar_percent", "Sugar", "%", "1 to 1.5 is usual."),
        choice("scale_g", "Your finest scales show", {one: f"{one} g" for one in SCALES}),
        choice("jurisdiction", "Whose law applies", {str(law): said for law, said in LAWS.items()}),
        number("nitrite_ppm", "Nitrite aimed at", "ppm",
               "Left empty, 150, in the European Union 120; less where the law has less.",
               required=False),
        choice("way", "Cured as", {one: way.title for one, way in WAYS.items()}),
        Field("date", "Into the cure on", "date", value["date"], error=errors.get("date", ""), required=True),
        Field("name", "What you call it", "text", value["name"], error=errors.get("name", "")),
    )  # fmt: skip
