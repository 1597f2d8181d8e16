"""What the made-up household did lately, day by day: a repair that stands where it waits, whenever it is looked at."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from app.rules.facts import Tick
from app.rules.spans import Day
from app.services.demo.year import Saying


def done_lately(told: Iterable[Mapping[str, Any]], day: Callable[[Any], Day]) -> list[Saying]:
    """Ticks that hang on the day of the demonstration: each with its ``entry``, ``step``, ``on`` and ``measures``.

    Their cycle is the year of the first of an entry, as a look and the repair that it asks for have one.
    Source: none; a demonstration.
    """
    years: dict[str, int] = {}
    found = []
    for one in told:
        on = day(one["on"])
        year = years.setdefault(one["entry"], date.fromordinal(on).year)
        key = f"{one['entry']}.{one['step']}.{year}"
        at = f"{date.fromordinal(on).isoformat()}T15:00:00.000Z"
        tick = Tick(f"demo-lately-{one['entry']}-{one['step']}", key, "done", on, at, one.get("measures", {}))
        found.append(Saying(tick, one.get("remark", "")))
    return found
