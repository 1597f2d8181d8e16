"""How much nitrite may go in, by country and product: tables of two countries are never mixed."""

from typing import Literal, NamedTuple

from app.trade.meat.nitrite import as_sodium_nitrite_ppm

Jurisdiction = Literal["gb", "eu", "us"]
"""Great Britain; the European Union with Northern Ireland; the United States."""
JURISDICTIONS: tuple[Jurisdiction, ...] = ("gb", "eu", "us")
Product = Literal["dry-cured bacon", "dry-cured ham", "brined bacon", "brined ham", "minced"]
PRODUCTS: tuple[Product, ...] = ("dry-cured bacon", "dry-cured ham", "brined bacon", "brined ham", "minced")

JURISDICTION_OF: dict[str, Jurisdiction] = {
    "england": "gb", "scotland": "gb", "wales": "gb", "northern ireland": "eu", "ireland": "eu",
}  # fmt: skip
"""Whose law a nation of the program is under; elsewhere has none that is known here. Source: the Windsor Framework
keeps Northern Ireland under the Union's food law."""
_AIM_PPM, _AIM_EU_PPM = 150.0, 120.0
"""Common practice in a cure weighed to the meat; in the Union the general limit, as sodium nitrite."""

CAUTION_PPM = 200.0
"""Beyond this no short cure is reckoned anywhere, whatever a law of factories allows. Source: 21 CFR 172.170."""


class Limit(NamedTuple):
    """Ingoing sodium nitrite in mg/kg: ``most`` by ``law``; above ``usual`` it is said to be much, and why."""

    most: float
    law: str
    usual: float
    note: str = ""


_GB_GENERAL = Limit(
    150, "Great Britain: 150 mg/kg added, as sodium nitrite (SI 2007/1778, schedule 1; Regulation 1333/2008)", 150
)
_GB_DRY = {
    "dry-cured bacon": "175 mg/kg residual in dry-cured bacon",
    "dry-cured ham": "100 mg/kg residual in dry-cured ham",
}
_EU_GENERAL = Limit(
    as_sodium_nitrite_ppm(80),
    "European Union and Northern Ireland since 9 October 2025: 80 mg/kg nitrite ion added, 120 as sodium nitrite"
    " (Regulation 2023/2108)",
    120,
)
_EU_DRY = Limit(
    as_sodium_nitrite_ppm(100),
    "European Union and Northern Ireland: 100 mg/kg nitrite ion added, 150 as sodium nitrite, the lowest told for"
    " dry-cured goods (100 to 105 by product, Regulation 2023/2108; its annex was not read)",
    120,
    "Above 120 ppm it hangs on the line of the annex for this very product: read it, or keep to 120.",
)
_US: dict[Product, Limit] = {
    "dry-cured bacon": Limit(200, "United States: 200 ppm ingoing for dry-cured bacon (9 CFR 424.22)", 200),
    "dry-cured ham": Limit(200, "United States: 200 ppm for meat cured at home (21 CFR 172.170)", 200),
    "brined bacon": Limit(120, "United States: 120 ppm ingoing for brined or pumped bacon (9 CFR 424.22)", 120),
    "brined ham": Limit(200, "United States: 200 ppm ingoing, pumped or in brine (FSIS Handbook, 1995)", 200),
    "minced": Limit(
        156.25, "United States: 156 ppm (a quarter ounce to 100 lb) ingoing for minced meat (FSIS Handbook, 1995)", 156
    ),
}


def nitrite_limit(jurisdiction: Jurisdiction, product: Product) -> Limit:
    """The most nitrite that may go in.

    Great Britain limits what is left in dry-cured bacon and ham at the end, which no sum can foretell: there 200 ppm
    is the program's own bound (`CAUTION_PPM`), and above 150 it is said.
    Valid: the countries and products named; a household whose country is not said gets no recipe.
    Source: as each limit says; read in quotations, so check your country's own text.
    """
    if jurisdiction == "us":
        return _US[product]
    if jurisdiction == "eu":
        return _EU_DRY if product in _GB_DRY else _EU_GENERAL
    if product not in _GB_DRY:
        return _GB_GENERAL
    law = f"Great Britain: {_GB_DRY[product]} (SI 2007/1778), which no sum foretells; 200 ppm is the most reckoned here"
    return Limit(CAUTION_PPM, law, 150, "Above 150 ppm what is left at the end may be more than the law allows.")


def usual_ppm(jurisdiction: Jurisdiction, product: Product) -> float:
    """What a cure aims at where nothing else is said: 150 ppm, in the Union 120, and never beyond the law.

    Source: common practice, and `nitrite_limit`.
    """
    aim = _AIM_EU_PPM if jurisdiction == "eu" else _AIM_PPM
    return min(aim, nitrite_limit(jurisdiction, product).most)
