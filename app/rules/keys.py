"""A task's key: entry, step and cycle label, with no date in it, so that links, ticks and calendar UIDs hold.

``leek.sow``, ``salad.pick.3.7``, and for an entry that a task made ``pigs.kill+pork.joint``. These two functions are
the only places that know the form.
"""

from typing import NamedTuple


class Key(NamedTuple):
    """A key taken apart: ``entry`` id, ``step`` id and cycle ``label``."""

    entry: str
    step: str
    label: tuple[int, ...]


def key(entry: str, step: str, label: tuple[int, ...] = ()) -> str:
    """Put a key together.

    >>> key("salad", "pick", (3, 7))
    'salad.pick.3.7'
    """
    return ".".join((entry, step, *map(str, label)))


def split_key(text: str) -> Key:
    """Take a key apart again: ``split_key(key(e, s, l)) == (e, s, l)``.

    Raises: ValueError when the text is no key.
    Source: none; our own form.
    """
    parts = text.split(".")
    at = len(parts)
    while at and parts[at - 1].isdecimal():
        at -= 1
    if at < 2:
        raise ValueError(f"{text!r} is not the key of a task")
    return Key(".".join(parts[: at - 1]), parts[at - 1], tuple(int(part) for part in parts[at:]))


def made_id(maker: str, name: str) -> str:
    """The id of the entry called ``name`` that the task ``maker`` makes."""
    return f"{maker}+{name}"
