"""When to sow again, so that there is always some: so many days apart, or by heat, until the last useful sowing."""

from collections.abc import Callable

from app.errors import OutOfRange

Ripe = Callable[[int], int | None]
"""The day on which what is sown on a day is ripe; None where it never is. Sown later, it is never ripe sooner."""

MOST_SOWINGS = 60


def sowings_apart(first: int, apart_days: int, last: int) -> list[int]:
    """Sowings at a fixed interval, from the first to the last useful day, both of them counted.

    Source: common practice; the interval stands on the crop's sheet.
    Raises: OutOfRange for an interval of no days.
    """
    if apart_days < 1:
        raise OutOfRange("Days between sowings", apart_days, "1 or more")
    return list(range(first, last + 1, apart_days))[:MOST_SOWINGS]


def sowings_by_heat(ripe: Ripe, first: int, apart_days: int, last: int) -> list[int]:
    """Sowings whose harvests lie ``apart_days`` apart: s_k is the last day with ``ripe(s_k) <= ripe(first) + k apart``.

    In spring they lie wider apart than the harvests, in late summer closer; no two fall on one day.
    Source: the definition, sum of warmth from s_k to h_0 + k gap = G.
    Raises: OutOfRange for an interval of no days.
    """
    if apart_days < 1:
        raise OutOfRange("Days between harvests", apart_days, "1 or more")
    begun = ripe(first)
    found = [first] if begun is not None and first <= last else []
    while found and begun is not None and len(found) < MOST_SOWINGS:
        begun += apart_days
        following = last_sowing(ripe, found[-1], last, begun)
        if following is None or following <= found[-1]:
            following = found[-1] + 1
            at = ripe(following)
            if following > last or at is None:
                break
            begun = at
        if following == last and (ripe(last) or 0) < begun:
            break  # the season ends before so late a harvest is wanted
        found.append(following)
    return found


def last_sowing(ripe: Ripe, first: int, last: int, end: int) -> int | None:
    """The last day from ``first`` to ``last`` on which what is sown is ripe by ``end``; None where none is.

    Source: bisection, since what is sown later is never ripe sooner.
    """

    def in_time(day: int) -> bool:
        found = ripe(day)
        return found is not None and found <= end

    if first > last or not in_time(first):
        return None
    low, high = first, last
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if in_time(middle) else (low, middle - 1)
    return low
