"""Temperatures at which meat is safe to eat, by country; looked up, never worked out in between."""

from typing import Literal, NamedTuple

from app.errors import OutOfRange

Rule = Literal["uk", "us"]
Dish = Literal[
    "beef or lamb, whole cut", "pork, whole cut", "rolled joint", "minced", "poultry", "offal", "ham, raw",
    "cooked ham, heated again", "leftovers",
]  # fmt: skip


class Cook(NamedTuple):
    """At least ``core_c`` in the middle, held for ``hold_s`` seconds; and a line to show."""

    core_c: float
    hold_s: int
    says: str


UK_HOLDS: tuple[tuple[float, int], ...] = ((60, 2700), (65, 600), (70, 120), (75, 30), (80, 6))
"""Equals of 70 °C for two minutes, in seconds. Source: Food Standards Agency's table, as reproduced in courses."""

O157_HOLDS: dict[float, int] = {60: 5580, 65: 840}
"""Below 70 °C the longer hold that kills E. coli O157, in seconds: it matters where what was outside is inside, as in
mince and rolled joints. Source: a note after the Advisory Committee on the Microbiological Safety of Food."""

_UK = Cook(70, 120, "70 °C for two minutes in the middle, or an equal of the table; juices run clear.")
_SEARED = Cook(
    0, 0, "A whole cut may be pink inside when it is seared all over; the old, the pregnant and the ill: 70 °C."
)
_US: dict[Dish, Cook] = {
    "beef or lamb, whole cut": Cook(62.8, 180, "145 °F (62.8 °C), and three minutes' rest."),
    "pork, whole cut": Cook(62.8, 180, "145 °F (62.8 °C), and three minutes' rest."),
    "minced": Cook(71.1, 0, "160 °F (71.1 °C)."),
    "poultry": Cook(73.9, 0, "165 °F (73.9 °C)."),
    "leftovers": Cook(73.9, 0, "165 °F (73.9 °C)."),
    "offal": Cook(71.1, 0, "160 °F (71.1 °C)."),
    "ham, raw": Cook(62.8, 180, "145 °F (62.8 °C), and three minutes' rest."),
    "cooked ham, heated again": Cook(73.9, 0, "165 °F (73.9 °C); 140 °F for one of an inspected plant, in its pack."),
    "rolled joint": Cook(71.1, 0, "160 °F (71.1 °C): what was outside is inside now."),
}


def safe_core(rule: Rule, dish: Dish) -> Cook:
    """What the middle must reach.

    Source: United States: USDA chart (offal and rolled joints by its figure for what is cut up or mixed, the stricter).
    United Kingdom: Food Standards Agency (whole cuts of beef and lamb pink inside when seared; offal from memory).
    """
    if rule == "us":
        return _US[dish]
    return _SEARED if dish == "beef or lamb, whole cut" else _UK


def uk_hold_s(core_c: float, *, o157: bool = False) -> int:
    """Seconds to hold a middle of ``core_c``: the row of the table at or next below it; longer against E. coli O157.

    Valid: 60 °C and more. Source: `UK_HOLDS`, `O157_HOLDS`; each row is as long as, or longer than, the formula behind
    it. Raises: OutOfRange below that.
    """
    rows = [max(seconds, O157_HOLDS.get(c, 0)) if o157 else seconds for c, seconds in UK_HOLDS if c <= core_c]
    if not rows or core_c > 110:
        raise OutOfRange("A core of °C", core_c, "60 to 110 °C", "Cook on: below 60 °C no time makes it safe here.")
    return rows[-1]
