"""The kitchen's sums: jam and its set, vinegar, chutney, a crock of salt, blanching, and how long raw crops keep."""

from collections.abc import Callable
from typing import NamedTuple, TypeVar

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange, Refused
from app.records import store
from app.rules.moment import Work
from app.services.book import Book
from app.sheets.store_tables import Blanch, RawStore, blanching, raw_stores
from app.trade.preserving.boiling import boiling_c, sets_at_c
from app.trade.preserving.freezing import blanch_minutes, day_load_kg, freezer_load_days
from app.trade.preserving.honey import honey_kinds, honey_most_percent, honey_water_percent
from app.trade.preserving.jam import boils_off_kg, fruit_g_a_kg, jam_kg
from app.trade.preserving.kraut import kraut_days
from app.trade.preserving.pickle import acid_percent, chutney_floor, crock_salt_g, most_water_ml, shelf_acid_percent
from app.trade.preserving.raw_store import cured_kg, raw_keeping_days, raw_months

__all__ = [
    "Blanch",
    "Blanched",
    "Chutney",
    "Crock",
    "Honey",
    "Jam",
    "Kept",
    "RawStore",
    "Vinegar",
    "blanching",
    "honey_kinds",
    "raw_stores",
]

JAM_KG_A_LITRE = 1.35
"""Common practice: jam of 65 % sugar; a litre weighs some 1.3 to 1.4 kg."""
CURED_BY_WEIGHT = ("onions", "garlic")
_WATER_L_A_KG, _LEAFY_L_A_KG = 8.0, 16.0
"""A gallon to the pound, two for leaves: Utah State University Extension."""
_LEAFY = ("spinach", "chard", "kale")
Found = TypeVar("Found")


class Jam(NamedTuple):
    """What a pan gives: kilos, what it boils off, where it sets, jars, and grams of fruit in a kilo of it."""

    made_kg: float
    off_kg: float
    boils_c: float
    set_c: float
    jars: int
    fruit_g_a_kg: float
    measured: bool


class Vinegar(NamedTuple):
    """Acid after mixing in %; ``refused`` says why it is too little for a shelf; the water it would bear in ml."""

    percent: float
    refused: str
    most_water_ml: float | None


class Chutney(NamedTuple):
    """The least vinegar of 5 % and sugar to so much chopped produce."""

    vinegar_ml: float
    sugar_g: float


class Crock(NamedTuple):
    """Salt for a ferment; ``a_litre_g`` in each litre of water if all of it goes in there; days, or why none."""

    salt_g: float
    low_g: float
    high_g: float
    a_litre_g: float | None
    days: tuple[int, int, int] | None
    no_days: str


class Blanched(NamedTuple):
    """Minutes at this height, the water it takes, and days to freeze it; the latter only where a freezer is known."""

    row: Blanch
    minutes: float
    water_l: float
    day_kg: tuple[float, float] | None
    days: tuple[int, int, int] | None


class Kept(NamedTuple):
    """A crop in a store of this warmth: months from the table's least and most, at a factor of 3, 2.5 and 2 in 10 °C.

    ``days`` to "eat first" are of the best; ``cured_kg`` is what onions or garlic weigh when they are cured.
    """

    row: RawStore
    least_months: float
    best_months: float
    most_months: float
    days: int
    cured_kg: tuple[float, float] | None


class Honey(NamedTuple):
    """Water in honey, and the most that its kind may have."""

    percent: float
    most_percent: float
    dry: bool


def jam(
    fruit_kg: float, sugar_kg: float, water_kg: float, fruit_percent: float, final_percent: float,
    altitude_m: float, boils_c: float | None, jar_ml: float,
) -> Jam:  # fmt: skip
    """Jam or jelly; ``boils_c`` is water in the pan that day, else it is told by the height.

    Raises: BadInput with a sentence per field.
    """
    fields = {"Fruit": "fruit", "Sugar": "sugar", "A fruit's sugar in %": "solids", "A jam's sugar in %": "final",
              "An altitude": "altitude", "Boiling water": "boils", "The jam": "water"}  # fmt: skip
    made = _asked(lambda: jam_kg(fruit_kg, sugar_kg, fruit_percent, final_percent), fields)
    off = _asked(lambda: boils_off_kg(fruit_kg, sugar_kg, water_kg, made), fields)
    water = boils_c if boils_c is not None else _asked(lambda: boiling_c(altitude_m), fields)
    sets = _asked(lambda: sets_at_c(water), fields)
    jars = int(made / (JAM_KG_A_LITRE * jar_ml / 1000) + 1e-9)
    return Jam(made, off, water, sets, jars, fruit_g_a_kg(fruit_kg, made), boils_c is not None)


def vinegar(vinegar_ml: float, percent: float, water_ml: float) -> Vinegar:
    """How sour it is mixed, and whether for a shelf.

    Raises: BadInput with a sentence per field.
    """
    fields = {"A volume": "vinegar", "A vinegar percentage": "percent"}
    found = _asked(lambda: acid_percent(vinegar_ml, percent, water_ml), fields)
    try:
        shelf_acid_percent(vinegar_ml, percent, water_ml)
        return Vinegar(found, "", most_water_ml(vinegar_ml, percent))
    except Refused as error:
        most = most_water_ml(vinegar_ml, percent) if percent >= 5 else None
        return Vinegar(found, str(error), most)


def chutney(produce_l: float) -> Chutney:
    """The least of vinegar and sugar.

    Raises: BadInput.
    """
    return Chutney(*_asked(lambda: chutney_floor(produce_l), {"Produce": "produce"}))


def crock(book: Book, vegetable_kg: float, water_l: float, percent: float, room_c: float) -> Crock:
    """Salt by weight of all that is in the crock; days by the warmth of the room, as the sheet of sauerkraut has them.

    Raises: BadInput with a sentence per field.
    """
    fields = {"A weight": "vegetables", "A salt percentage": "salt", "Water": "brine"}
    grams = _asked(lambda: crock_salt_g(vegetable_kg, water_l, percent), fields)
    low, high = (crock_salt_g(vegetable_kg, water_l, one) for one in (2.25, 2.5))
    days, why = None, ""
    try:
        found = kraut_days(room_c=room_c, **_kraut_figures(book))
        days = (found.low, found.best, found.high)
    except OutOfRange as error:
        why = str(error)
    return Crock(grams, low, high, grams / water_l if water_l > 0 else None, days, why)


def blanch(crop: str, kg: float, altitude_m: float, freezer_l: float | None) -> Blanched:
    """Minutes in boiling water, and what freezing it asks for.

    Raises: BadInput with a sentence per field.
    """
    row = blanching().get(crop)
    if row is None:
        raise BadInput({"crop": "That crop is in no table here; choose one of these."})
    fields = {"An altitude": "altitude", "A weight": "kg", "A freezer": "freezer", "Days of freezing": "kg"}
    minutes = _asked(lambda: blanch_minutes(row.minutes, max(0.0, altitude_m)), fields)
    water = (_LEAFY_L_A_KG if crop in _LEAFY else _WATER_L_A_KG) * kg if minutes else 0.0
    if freezer_l is None:
        return Blanched(row, minutes, water, None, None)
    load = _asked(lambda: day_load_kg(freezer_l), fields)
    days = _asked(lambda: freezer_load_days(kg, freezer_l), fields)
    return Blanched(row, minutes, water, load, (days.low, days.best, days.high))


def kept(crop: str, store_c: float, kg: float | None) -> Kept:
    """How long a raw crop keeps in this store.

    Raises: BadInput with a sentence per field: colder than the crop bears, warmer than the rule goes.
    """
    row = raw_stores().get(crop)
    if row is None:
        raise BadInput({"crop": "That crop is in no table here; choose one of these."})
    fields = {"A store": "store", "A weight": "kg"}
    middle = (row.least_months + row.most_months) / 2

    def months(book_months: float, q10: float) -> float:
        return _asked(lambda: raw_months(book_months, row.store_c, store_c, q10, row.chill_c), fields)

    least, best, most = months(row.least_months, 3), months(middle, 2.5), months(row.most_months, 2)
    days = _asked(lambda: raw_keeping_days(middle, row.store_c, store_c, row.chill_c), fields)
    cured = _asked(lambda: cured_kg(kg), fields) if kg is not None and crop in CURED_BY_WEIGHT else None
    return Kept(row, min(least, best), best, max(most, best), days.best, cured)


def honey(index: float, kind: str) -> Honey:
    """Whether honey is dry enough.

    Raises: BadInput.
    """
    percent = _asked(lambda: honey_water_percent(index), {"A refractive index": "index"})
    most = honey_most_percent(kind)
    return Honey(percent, most, round(percent, 1) <= most)


def freezer_litres(session: Session) -> float | None:
    """The litres of the holding's largest freezer that the rule of a day's load covers, None where nobody said."""
    sizes = [row.litres for row in store.kit(session) if row.kind == "freezer" and row.litres and row.ends is None]
    return max((one for one in sizes if 20 <= one <= 1000), default=None)


def _kraut_figures(book: Book) -> dict[str, float]:
    """The printed days of sauerkraut, from its sheet, which says where they are printed."""
    step = next(one for one in book.library.sheets["sauerkraut"].steps if one.id == "taste")
    given = step.start.given if isinstance(step.start, Work) else {}
    return {name: float(str(one.value)) for name, one in given.items() if one.of == "value"}


def _asked(call: Callable[[], Found], fields: dict[str, str]) -> Found:
    """What a computation gives; its refusal goes beside the field that it is about."""
    try:
        return call()
    except OutOfRange as error:
        raise BadInput({fields.get(error.name, next(iter(fields.values()))): str(error)}) from error
