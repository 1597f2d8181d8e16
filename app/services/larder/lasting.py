"""How long the larder lasts: what runs out when, what is to be eaten faster, how many meals are left."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.packs import Stock
from app.rules.spans import Day
from app.sheets.larder_tables import named
from app.trade.preserving.glut import jars_a_week

LOOK_BACK_DAYS = 365
LEAST_DAYS = 14
"""A rate is told of what was used over so many days at least."""
PORTION_G: Mapping[str, float] = {
    "sausage": 130, "mince": 125, "minced": 125, "bacon": 55, "stew": 150, "rib": 400, "chop": 250, "joint": 190,
    "pork": 190, "lamb": 190, "beef": 190, "chicken": 190, "ham": 190,
}  # fmt: skip
"""Raw grams a head and meal, for an adult. Source: common practice, within published portion guides."""
NO_MEAL = ("lard", "dripping", "stock", "broth", "bones", "trotter")
"""What is named after an animal and is no meal by itself; common practice."""


class RunsOut(NamedTuple):
    """Of a kind of thing: what is left, how much went a week, and the day by which it is gone at that rate.

    Where some would be past its day by then: ``wanted_a_week``, to have eaten what keeps until ``by`` in time.
    """

    what: str
    unit: str
    left: float
    a_week: float
    on: Day
    wanted_a_week: float | None = None
    by: Day | None = None


class Meals(NamedTuple):
    """Meals left of a kind, for all mouths of the holding."""

    what: str
    kg: float
    portion_g: float
    meals: int


def meals_left(kilos: Mapping[str, float], mouths: float) -> list[Meals]:
    """Meals left by kind: kilos x 1000 / (grams a head x mouths), told of what has a portion on the list."""
    if mouths <= 0:
        return []
    found = [
        Meals(what, kg, grams, int(round(kg * 1000 / (grams * mouths), 6)))
        for what, kg in kilos.items()
        if kg > 0 and (grams := _portion(what))
    ]
    return sorted(found, key=lambda one: (-one.meals, one.what))


def runs_out(session: Session, stock: Iterable[Stock], today: Day) -> list[RunsOut]:
    """What was used within a year, what is left of it, and until when that lasts: what runs out first comes first."""
    there: dict[tuple[str, str], float] = {}
    since: dict[tuple[str, str], Day] = {}
    for one in stock:
        if one.store != "seed tin":
            kind = one.what, one.unit
            there[kind] = there.get(kind, 0.0) + one.left
            since[kind] = min(since.get(kind, one.made_on), one.made_on)
    found: dict[tuple[str, str], RunsOut] = {}
    for what, unit, used, first, last in store.used_since(session, today - LOOK_BACK_DAYS):
        left = there.get((what, unit), 0.0)
        if used > 0 and left > 0:
            without = max(0, since[what, unit] - last - 1)  # eaten up, and none there until the next was made
            a_day = used / max(LEAST_DAYS, today - first + 1 - without)
            found[what, unit] = RunsOut(what, unit, left, 7 * a_day, today + int(min(left / a_day, 36500)))
    faster = _in_time(session, found, today)
    return sorted((found | faster).values(), key=lambda one: (one.on, one.what))


def _in_time(session: Session, found: Mapping[tuple[str, str], RunsOut], today: Day) -> dict[tuple[str, str], RunsOut]:
    """Those of which some would be past its day: the most a week that any day asks for, the first to expire first."""
    sums: dict[tuple[str, str], float] = {}
    most: dict[tuple[str, str], RunsOut] = {}
    for what, unit, until, left in store.left_by_day(session, {what for what, _ in found}):
        kind, one = (what, unit), found.get((what, unit))
        if one is None or until < today:
            continue
        sums[kind] = sums.get(kind, 0.0) + left
        wanted = jars_a_week(sums[kind], until - today)
        if wanted > max(one.a_week, most.get(kind, one).wanted_a_week or 0.0):
            most[kind] = one._replace(wanted_a_week=wanted, by=until)
    return most


def _portion(what: str) -> float:
    if named(what, NO_MEAL):
        return 0.0
    return next((grams for name, grams in PORTION_G.items() if named(what, (name,))), 0.0)
