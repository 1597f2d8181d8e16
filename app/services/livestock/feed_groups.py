"""The groups that eat: how many of each are alive on a day, how old, until when, and what they take a day."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import HeadFactRow
from app.rules.facts import Entry
from app.rules.made import with_defaults
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.services.book import Book
from app.services.livestock.groups import by_entry, head_of, said_of
from app.services.livestock.winters import Winters
from app.sheets.livestock_keep import Keep, keeps
from app.sheets.livestock_tables import drinks
from app.trade.livestock.budget import Ate, daily
from app.trade.livestock.drinking import HOT_C, litres_each, water_l_a_day
from app.trade.livestock.hay import hay_wanted_kg
from app.trade.livestock.head_counts import Said, after_each, by_day
from app.trade.livestock.lay import lay_rate

HAY = "hay"
GRAZED = "grass, dry matter"
AHEAD_DAYS = 365
"""How far ahead a group without an end is reckoned."""
MOST_AGE_D = 36500


class Eater(NamedTuple):
    """A group: ``born`` its day of birth or hatch, ``first`` the day it came, ``last`` its last one (None: it stays).

    ``told`` is what was said of its count, in order.
    """

    entry: Entry
    sheet: Sheet
    keep: Keep
    born: Day
    first: Day
    last: Day | None
    told: tuple[HeadFactRow, ...]

    def heads(self, first: Day, last: Day) -> list[int]:
        """How many are alive at the end of each day, both ends counted; none before it came and after its end."""
        rows = by_day(_said(self), first, last)
        return [head if self.last is None or day <= self.last else 0 for day, head in enumerate(rows, first)]


def eaters(book: Book, session: Session, today: Day) -> list[Eater]:
    """Every group that is here or comes within a year, in order of its name.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    facts = by_entry(store.head_facts(session))
    found = []
    for laid in live.laid.values():
        keep, sheet = keeps().get(laid.entry.sheet), book.library.sheets.get(laid.entry.sheet)
        if keep is None or sheet is None or laid.entry.struck:
            continue
        one = _eater(laid, sheet, keep, facts.get(laid.entry.id, []), live.facts.ticks.get(laid.entry.id, ()))
        if one is not None and (one.last is None or one.last >= today) and one.first <= today + AHEAD_DAYS:
            found.append(one)
    here = {one.entry.sheet for one in found if one.first <= today}
    return sorted((one for one in found if one.keep.same not in here), key=lambda one: (one.entry.name, one.entry.id))


def needs(one: Eater, first: Day, last: Day, winters: Winters) -> dict[tuple[str, str], list[float]]:
    """What a group takes each day, by thing and unit: feed and bedding in kg, water in litres.

    Hay is as it lies there, a tenth of it trodden; hay and a dry yard's straw are taken in winter alone, as the
    grass of the place has it.
    Source: feed.toml; `hay_wanted_kg`; `litres_each`.
    """
    start = max(first, one.born)
    heads = one.heads(start, last)
    cold = [winters.at(day) is not None for day in range(start, last + 1)]
    pad = [0.0] * (start - first)
    found: dict[tuple[str, str], list[float]] = {}
    for takes in one.keep.takes:
        what, amount = takes.row.what, takes.row.best
        if what == "hay, dry matter":
            what, amount = HAY, hay_wanted_kg(1, amount, 1)
        there = [head if is_cold or not takes.winter else 0 for head, is_cold in zip(heads, cold, strict=True)]
        row = daily([Ate(what, takes.from_d, takes.to_d, amount)], one.born, there, start).get(what, [])
        _add(found, (what, takes.row.unit), [*pad, *row])
    if one.keep.drink:
        water = [_water(one, day, head) for day, head in zip(range(start, last + 1), heads, strict=True)]
        _add(found, ("water", "l"), [*pad, *water])
    return {name: row for name, row in found.items() if any(row)}


def age_weeks(one: Eater, day: Day) -> float:
    """Age in weeks on a day."""
    return max(0, day - one.born) / 7


def _eater(laid: Laid, sheet: Sheet, keep: Keep, told: Sequence[HeadFactRow], ticks: Sequence[object]) -> Eater | None:
    entry = with_defaults(laid.entry, sheet)
    came = entry.facts.get("date")
    if not isinstance(came, int):
        return None
    age = entry.facts.get(keep.age) if keep.age else keep.age_d
    age_d = int(age) if isinstance(age, int | float) and 0 <= age <= MOST_AGE_D else keep.age_d
    ends = [task.done if task.done is not None else task.best for task in laid.tasks if task.step == keep.ends]
    last = min((day - 1 for day in ends if day is not None), default=None)
    if entry.ends is not None:
        last = entry.ends if last is None else min(last, entry.ends)
    return Eater(entry, sheet, keep, came - age_d, came, last, tuple(told))


def _said(one: Eater) -> list[Said]:
    """What was told of the count, headed by the number it came with; a count changed on the entry's own page holds
    from what was told last."""
    head, rows = head_of(one.entry), said_of(one.told)
    if not rows or rows[0].what != "count":
        rows = [Said(one.first, "count", head), *rows]
    left = after_each(rows)[-1]
    return [*rows, Said(rows[-1].on, "count", head)] if left and left != head else rows


def _water(one: Eater, day: Day, head: int) -> float:
    if not head:
        return 0.0
    table = drinks()[one.keep.drink]
    weeks = age_weeks(one, day)
    at = weeks if table.by == "weeks" else 100 * lay_rate(weeks)
    if table.by != "weeks" and at < table.rows[0][0] and weeks < 20:
        table, at = drinks()["pullet"], weeks
    low, high = table.rows[0][0], table.rows[-1][0]
    return water_l_a_day(head, litres_each(min(max(at, low), high), table.rows))


def _add(found: dict[tuple[str, str], list[float]], name: tuple[str, str], row: Sequence[float]) -> None:
    before = found.get(name)
    found[name] = list(row) if before is None else [a + b for a, b in zip(before, row, strict=True)]


def total(rows: Sequence[Mapping[tuple[str, str], Sequence[float]]]) -> dict[tuple[str, str], list[float]]:
    """The needs of several groups over the same days, summed."""
    found: dict[tuple[str, str], list[float]] = {}
    for one in rows:
        for name, row in one.items():
            _add(found, name, row)
    return found


__all__ = ["AHEAD_DAYS", "GRAZED", "HAY", "HOT_C", "Eater", "age_weeks", "eaters", "needs", "total"]
