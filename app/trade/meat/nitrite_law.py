"""Whose law a cure is under, of what product, and what a limit on nitrite says; the figures are dated data."""

from typing import Literal, NamedTuple

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

CAUTION_PPM = 200.0
"""Beyond this no short cure is reckoned anywhere, whatever a law of factories allows. Source: 21 CFR 172.170."""


class Limit(NamedTuple):
    """Ingoing sodium nitrite in mg/kg: ``most`` by ``law``; above ``usual`` it is said to be much, and why.

    ``aim`` is what a cure is weighed for where nothing else is said; common practice.
    """

    most: float
    law: str
    usual: float
    note: str = ""
    aim: float = 150.0

    def usual_ppm(self) -> float:
        """What a cure aims at where nothing else is said, never beyond the law."""
        return min(self.aim, self.most)
