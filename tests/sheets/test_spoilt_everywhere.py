"""Every key of every example spoilt in turn: never a traceback, and never passed over."""

import tomllib
from collections.abc import Iterator
from copy import deepcopy
from datetime import date, time
from typing import Any

import pytest

from app.errors import Fault, KnowledgeError
from app.rules.sheet import Sheet
from app.sheets.across import across
from app.sheets.law import read_law
from app.sheets.merge import overlay
from app.sheets.read import read
from app.sheets.values import Known
from tests.sheets.examples import CURE, KNOWN, SKIRRET, TOMATO, WALL, WEANERS

ODD: list[Any] = [
    "",
    "x",
    "P1W",
    "date",
    0,
    -3,
    2.5,
    True,
    date(2027, 3, 1),
    time(18, 0),
    [],
    ["x"],
    [{}],
    {},
    {"x": 1},
]
DOCS = {text.split('"')[1]: tomllib.loads(text) for text in (TOMATO, WALL, WEANERS, CURE, SKIRRET)}
FREE = ("facts", "asks", "given", "else", "when")
"""Tables whose keys are the author's own names."""


def paths(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if path:
        yield path
    if isinstance(value, dict):
        for key, below in value.items():
            yield from paths(below, (*path, key))
    if isinstance(value, list):
        for at, below in enumerate(value):
            yield from paths(below, (*path, at))


def holder(doc: Any, path: tuple[Any, ...]) -> Any:
    for part in path[:-1]:
        doc = doc[part]
    return doc


@pytest.mark.parametrize("name", DOCS)
def test_whatever_stands_under_a_key_is_read_or_refused(name: str) -> None:
    for path in paths(DOCS[name]):
        for odd in ODD:
            doc = deepcopy(DOCS[name])
            holder(doc, path)[path[-1]] = odd
            found = read(doc, "x.toml", KNOWN)
            assert isinstance(found, Sheet) or (found and all(isinstance(one, Fault) for one in found)), (path, odd)
            if isinstance(found, Sheet):
                across({found.id: found}, DOCS)


@pytest.mark.parametrize("name", DOCS)
def test_a_key_left_out_is_read_or_refused(name: str) -> None:
    for path in paths(DOCS[name]):
        doc = deepcopy(DOCS[name])
        del holder(doc, path)[path[-1]]
        found = read(doc, "x.toml", KNOWN)
        assert isinstance(found, Sheet) or found, path


@pytest.mark.parametrize("name", DOCS)
def test_every_misspelt_key_is_refused_by_its_name(name: str) -> None:
    tried = 0
    for path in paths(DOCS[name]):
        key = path[-1]
        if isinstance(key, int) or (len(path) > 1 and path[-2] in FREE and "from" not in path):
            continue
        doc = deepcopy(DOCS[name])
        table = holder(doc, path)
        table[f"{key}x"] = table.pop(key)
        found = read(doc, "x.toml", KNOWN)
        assert isinstance(found, list), path
        assert any(f"{key}x" in f"{fault.key} {fault.reason}" for fault in found), (path, found)
        tried += 1
    assert tried > 20


def test_odd_changes_and_odd_law_are_refused_and_never_raise() -> None:
    for odd in ODD:
        for own in ({"step": odd}, {"facts": odd}, {"step": [{"id": odd, "opens": odd}]}, {"facts": {"row_m": odd}}):
            try:
                doc, _ = overlay(DOCS["tomato"], {"changes": "tomato", **own}, "x.toml")
                assert read(doc, "x.toml")
            except KnowledgeError as error:
                assert error.faults  # noqa: PT017 (either outcome is right)
        for law in ({"nation": odd}, {"nation": "england", "bar": odd}, {"nation": "england", "bar": [{"id": odd}]}):
            bars, faults = read_law(law, "x.toml", Known())
            assert faults or not bars
        likes = ({"like": odd}, {"like": "tomato", "drop": odd}, {"like": "tomato", "step": odd, "facts": odd})
        for like in likes:
            assert read({"sheet": "y", **like}, "x.toml", Known(docs=DOCS))
