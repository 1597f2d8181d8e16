"""The computations that a sheet may name: one decorator, one look-up."""

import importlib
import pkgutil
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, TypeVar

_WORKS: dict[str, Callable[..., Any]] = {}
Function = TypeVar("Function", bound=Callable[..., Any])


def work(function: Function) -> Function:
    """Let a sheet name this function: ``{ work = "cure_days", given = { thickness_mm = "entry.thickness_mm" } }``.

    Parameters are facts and measures, named with their unit, plus at most ``season`` (the place's `Season`), ``on``
    (the day number it is reckoned from) and ``job`` (the `Job` it serves). It returns whole days, or a `Reckoned`, or
    None where the world has no answer, and raises `OutOfRange` beyond what its source covers. It never returns a date
    and never sees the plan.
    """
    name = function.__name__
    if name in _WORKS and _WORKS[name].__module__ != function.__module__:
        raise ValueError(f"two computations are called {name}: in {function.__module__} and {_WORKS[name].__module__}")
    _WORKS[name] = function
    return function


@cache
def works() -> Mapping[str, Callable[..., Any]]:
    """Every computation by name, all trades' modules loaded."""
    import app.trade

    for module in pkgutil.walk_packages(app.trade.__path__, "app.trade."):
        importlib.import_module(module.name)
    return dict(_WORKS)
