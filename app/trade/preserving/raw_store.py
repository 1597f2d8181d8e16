"""How long raw produce keeps at another warmth, and when it is cured."""

from math import ceil, floor

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


def raw_months(book_months: float, book_c: float, store_c: float, q10: float, chill_c: float) -> float:
    """Months it keeps: ``L * Q10 ** -((T - T_book) / 10)``, and never more than the book's.

    Valid: from the crop's chilling limit to 20 °C; Q10 of 2 to 3.
    Source: apples at 50 °F go 2 to 3 times as fast as at 32 °F, Iowa State University Extension.
    Raises: OutOfRange beyond that: colder than the limit a crop is hurt and keeps less, not more.
    """
    if book_months <= 0:
        raise OutOfRange("A life in months", book_months, "more than 0")
    if not 2 <= q10 <= 3:
        raise OutOfRange("A Q10", q10, "2 to 3")
    if not chill_c <= store_c <= 20:
        advice = "Below that the cold hurts it, and it rots sooner." if store_c < chill_c else "Find a cooler place."
        raise OutOfRange("A store", store_c, f"{chill_c:g} to 20 °C", advice)
    return float(min(book_months, book_months * q10 ** (-(store_c - book_c) / 10)))


@work
def raw_keeping_days(book_months: float, book_c: float, store_c: float, chill_c: float) -> Reckoned:
    """Days until "eat first": least at a Q10 of 3, best at 2.5, most at 2; a month has 30 days.

    Valid: as `raw_months`.
    Source: `raw_months`; the figures stand on the sheet.
    Raises: OutOfRange as there.
    """
    lives = sorted(raw_months(book_months, book_c, store_c, q10, chill_c) for q10 in (3.0, 2.5, 2.0))
    low, best, high = (floor(30 * life) for life in lives)
    because = f"{book_months:g} months at {book_c:g} °C are about {lives[1]:.1f} at {store_c:g} °C"
    return Reckoned(low, best, high, (because,))


def cured_kg(fresh_kg: float) -> tuple[float, float]:
    """What onions or garlic weigh when cured, least and most: 3 to 5 % less.

    Valid: weights above 0.
    Source: notes on curing onions, agriculturistmusa.com: 3 to 5 % of the weight lost, neck tight, skins rustling.
    Raises: OutOfRange beyond that.
    """
    if fresh_kg <= 0:
        raise OutOfRange("A weight", fresh_kg, "more than 0 kg")
    return fresh_kg * 0.95, fresh_kg * 0.97


@work
def cooling_days(from_c: float, to_c: float, c_a_day: float) -> Reckoned:
    """Days to cool a cured store: ``(from - to) / rate``, nearest day; potatoes 0.28 °C (0.5 °F) a day.

    Valid: 0 to 25 °C, downwards, 0.1 to 2 °C a day.
    Source: University of Nebraska CropWatch, potato storage.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= to_c <= from_c <= 25:
        raise OutOfRange("A store", to_c, f"0 to {from_c:g} °C")
    if not 0.1 <= c_a_day <= 2:
        raise OutOfRange("Cooling in °C a day", c_a_day, "0.1 to 2")
    exact = (from_c - to_c) / c_a_day
    because = f"from {from_c:g} to {to_c:g} °C, {c_a_day:g} °C a day"
    return Reckoned(floor(exact), round(exact), ceil(exact), (because,))
