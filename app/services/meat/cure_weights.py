"""What a cure has weighed, from green to sliced: the curve, the weight wanted, and the day it should be there."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.records import store
from app.rules.facts import Tick
from app.rules.keys import split_key
from app.rules.spans import Day
from app.rules.tasks import Task
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.services.meat.cure_ways import CURED_AT
from app.services.what_there_is import Whole
from app.trade.meat.nitrite import ingoing_ppm, weight_that_cures_g
from app.trade.meat.nitrite_law import CAUTION_PPM
from app.trade.meat.smoke import hours_owed
from app.trade.meat.weight_loss import loss_days, loss_percent, salt_after_percent, target_kg

_WEIGHED_AT = ("rub", "brine", "out", "smell", "dry", "smoke", "even", "hang", "weigh")
"""Steps at which the piece itself is weighed; what was packed or thrown away is another weight."""
_DRIED = "ready"
_SLIP_PPM = 0.5
USUAL_LOSS_A_DAY = 1.0
"""Per cent of the green weight, in a fridge. Source: common practice."""


class Weighing(NamedTuple):
    """A weight on a day, and what it had lost of the green weight by then, in per cent."""

    on: Day
    kg: float
    loss_percent: float


class Weights(NamedTuple):
    """The curve. ``target_kg`` None where nothing is to be lost; ``expected`` the day it will be there, ``reached`` the
    day it was; ``why`` says what the day rests on, or why there is none. ``salt_percent`` is what it comes to by then,
    nothing having dripped; ``smoke_owed_h`` the hours of smoke still usual, None before the first. ``used_ppm`` is the
    nitrite that went in by what was ticked, None where nobody said."""

    green_kg: float
    loss_percent: float | None
    target_kg: float | None
    weighed: tuple[Weighing, ...]
    expected: Day | None
    reached: Day | None
    why: str
    salt_percent: float | None = None
    smoke_owed_h: float | None = None
    used_ppm: float | None = None

    @property
    def too_much_used(self) -> bool:
        """Whether more nitrite went in than any home cure may have."""
        return self.used_ppm is not None and self.used_ppm > CAUTION_PPM + _SLIP_PPM


class Weighed(NamedTuple):
    """What was weighed out for a cure, in grams; ``ppm`` and ``salt_percent`` on what takes up cure."""

    cure_g: float
    salt_g: float
    sugar_g: float
    nitrite_percent: float
    ppm: float
    salt_percent: float
    too_much: bool


def weights_of(session: Session, whole: Whole, today: Day) -> Weights | None:
    """The weights of a cure; None for what is none, or has no weight.

    Raises: nothing.
    """
    entry, sheet = whole.entry, whole.sheet
    green, begun = entry.facts.get("kg"), entry.facts.get("date")
    if sheet is None or sheet.kind != "cure" or not isinstance(green, int | float) or not isinstance(begun, int):
        return None
    loss = _number(
        entry.facts, "loss_percent", sheet.facts["loss_percent"].default if "loss_percent" in sheet.facts else None
    )
    ticks = in_force(store.ticks(session, [entry.id]))
    weighed = _weighings(ticks, float(green), dried=_DRIED if loss is not None else "")
    rows = tuple(weighed) if weighed and weighed[0].on <= begun else (Weighing(begun, float(green), 0.0), *weighed)
    used = _used_ppm(entry.facts, ticks)
    if loss is None:
        return Weights(float(green), None, None, rows, None, None, "", used_ppm=used)
    wanted = target_kg(float(green), loss)
    reached = next((one.on for one in rows if one.kg <= wanted), None)
    expected, why = (None, "") if reached is not None else _expected(whole, rows, loss, ticks)
    found = weighed_of(entry.facts)
    salt = salt_after_percent(found.salt_percent, loss) if found is not None else None
    return Weights(float(green), loss, wanted, rows, expected, reached, why, salt, _smoke_owed(ticks), used)


def weighed_of(facts: Mapping[str, Value]) -> Weighed | None:
    """What is to be weighed out for an entry by its facts; None where that was not reckoned."""
    names = ("cure_g", "salt_g", "sugar_g", "nitrite_percent", "kg")
    found = [_number(facts, name) for name in names]
    if any(one is None for one in found):
        return None
    cure, salt, sugar, strength, kg = (one or 0.0 for one in found)
    base = _base_g(facts, kg)
    ppm = ingoing_ppm(cure, strength / 100, base)
    share = 100 * (salt + cure * (1 - strength / 100)) / base
    return Weighed(cure, salt, sugar, strength, ppm, share, ppm > CAUTION_PPM + _SLIP_PPM)


def _base_g(facts: Mapping[str, Value], kg: float) -> float:
    """What takes up cure, in grams: the piece without its skin, in a brine with the water."""
    piece = weight_that_cures_g(kg * 1000, skin_on=facts.get("skin", "skin on") == "skin on")
    return piece + (_number(facts, "water_l") or 0.0) * 1000


def _used_ppm(facts: Mapping[str, Value], ticks: Iterable[Tick]) -> float | None:
    """Nitrite that went in by what was ticked: the curing salt used, on the weight that was said then or before."""
    for tick in ticks:
        said = {**facts, **tick.measures} if tick.kind == "done" and split_key(tick.key).step in CURED_AT else {}
        kg, strength = _number(said, "kg"), _number(said, "nitrite_percent")
        used = _number(tick.measures, "cure_g")
        if kg and strength and used is not None:
            return ingoing_ppm(used, strength / 100, _base_g(said, kg))
    return None


def _weighings(ticks: Iterable[Tick], green_kg: float, dried: str) -> list[Weighing]:
    """In the order of their days; of one day the last said."""
    by_day: dict[Day, Weighing] = {}
    for tick in sorted(ticks, key=lambda one: (one.on, one.at)):
        kg = tick.measures.get("kg")
        step = split_key(tick.key).step
        if tick.kind == "done" and step in (*_WEIGHED_AT, dried) and isinstance(kg, int | float) and kg > 0:
            by_day[tick.on] = Weighing(tick.on, float(kg), loss_percent(green_kg, float(kg)))
    return list(by_day.values())


def _expected(whole: Whole, rows: tuple[Weighing, ...], loss: float, ticks: Iterable[Tick]) -> tuple[Day | None, str]:
    """Where the sheet dates what is dried, that day; else from the weighings since it came out of the cure."""
    dried = next((task for task in whole.laid.tasks if task.step == _DRIED), None)
    if dried is not None:
        return _planned(dried), ""
    out = next((t.on for t in ticks if t.kind == "done" and split_key(t.key).step == "out"), None)
    if out is None:
        return None, "The day is told once it is out of the cure."
    since = [(one.on - out, one.kg) for one in rows if one.on >= out]
    try:
        found = loss_days(rows[0].kg / (1 - rows[0].loss_percent / 100), loss, USUAL_LOSS_A_DAY, since)
    except OutOfRange as error:
        return None, str(error)
    return out + found.best, "; ".join(found.because)


def _smoke_owed(ticks: Iterable[Tick]) -> float | None:
    smoked = [t for t in ticks if t.kind == "done" and split_key(t.key).step == "smoke"]
    hours = [float(h) for t in smoked if isinstance(h := t.measures.get("hours"), int | float)]
    enough = any(t.measures.get("enough") is True for t in smoked)
    return None if not hours or enough else hours_owed(hours)


def _planned(task: Task) -> Day | None:
    return task.done if task.done is not None else task.best


def _number(facts: Mapping[str, Value], name: str, usual: object = None) -> float | None:
    value = facts.get(name, usual)
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
