"""Salt by depth on the days that count: when a piece comes out of the cure, and when its rest is over."""

from typing import NamedTuple

from app.rules.spans import Day
from app.rules.tasks import Task
from app.services.meat.cure_asked import Asked
from app.trade.meat.depth import Salted, middle_percent, salt_by_depth
from app.trade.meat.even import QUICK_1E10, SLOW_1E10, USUAL_1E10


class Depth(NamedTuple):
    """Salt by depth on a day, ``usual`` between ``slow`` and ``quick``; per cent in ``middle`` and ``face``."""

    day: Day
    usual: tuple[Salted, ...]
    slow: tuple[Salted, ...]
    quick: tuple[Salted, ...]
    middle: float
    face: float


def depths_of(asked: Asked, out: Task | None, rested: Task | None) -> tuple[Depth, ...]:
    """Salt by depth on the day it comes out, and on the day its rest is over."""
    days = [task.best for task in (out, rested) if task is not None and task.best is not None]
    return tuple(_depth(asked, day) for day in dict.fromkeys(days) if day > asked.on)


def _depth(asked: Asked, day: Day) -> Depth:
    curves = [
        salt_by_depth(asked.thickness_mm, asked.skin, asked.shape, asked.salt_percent, day - asked.on, speed)
        for speed in (USUAL_1E10, SLOW_1E10, QUICK_1E10)
    ]
    usual = curves[0]
    return Depth(day, usual, curves[1], curves[2], middle_percent(usual, asked.skin), usual[0].percent)
