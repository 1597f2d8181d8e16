"""Kinds of frozen meat: what holds of each once it is thawed, how it is cooked, and which it is by its name."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from app.trade.meat.after_thaw import Sort
from app.trade.meat.cooking import Dish

_PACKS, _BIRD, _BIRD_PIECES = "packs-to-thaw", "bird-to-thaw", "bird-pieces-to-thaw"


class Kind(NamedTuple):
    """A kind of frozen meat: which days hold once it is thawed, its row of the keeping table, how it is cooked; and the
    sheet that its meal follows."""

    sort: Sort
    keeping: str
    dish: Dish
    sheet: str = "joint-to-thaw"


KINDS: Mapping[str, Kind] = {
    "beef or lamb joint": Kind("joint", "beef or lamb joint", "beef or lamb, whole cut"),
    "pork joint": Kind("joint", "pork joint", "pork, whole cut"),
    "rolled joint": Kind("joint", "chops, steaks and joints", "rolled joint"),
    "beef or lamb steaks or chops": Kind("joint", "chops, steaks and joints", "beef or lamb, whole cut", _PACKS),
    "pork chops": Kind("joint", "pork chop", "pork, whole cut", _PACKS),
    "mince": Kind("quick", "mince", "minced", _PACKS),
    "stewing meat": Kind("quick", "stewing meat", "minced", _PACKS),
    "sausages": Kind("quick", "raw sausage", "minced", _PACKS),
    "offal": Kind("quick", "offal", "offal", _PACKS),
    "whole bird": Kind("quick", "poultry, whole", "poultry", _BIRD),
    "bird pieces": Kind("quick", "poultry, in pieces", "poultry", _BIRD_PIECES),
    "duck or goose": Kind("quick", "duck or goose", "poultry", _BIRD),
    "venison": Kind("joint", "venison", "pork, whole cut"),
    "game birds": Kind("quick", "game birds", "poultry", _BIRD_PIECES),
    "raw cured ham": Kind("joint", "cured ham, raw", "ham, raw"),
}
"""Whole game is cooked as pork and poultry are: through, since its own rules let nothing be pink for certain."""


_BIRDS = "chicken|turkey|bird|poultry|hen"
_NAMED: tuple[tuple[str, str], ...] = (
    ("boiled|cooked|left over|stock|chops and joints", ""),
    (f"(?:{_BIRDS}).*(?:pieces?|thigh|leg|wing|breast|drumstick|mince)", "bird pieces"),
    ("sausage", "sausages"), ("minced?", "mince"), ("stew|diced", "stewing meat"),
    ("offal|giblet|liver|kidney|heart", "offal"), ("goose|geese|duck", "duck or goose"),
    ("game bird|pheasant|partridge|pigeon", "game birds"), (_BIRDS, "whole bird"), ("venison|deer", "venison"),
    ("rolled", "rolled joint"), (".*(?:lamb|mutton|beef|veal).*(?:chop|cutlet|steak)", "beef or lamb steaks or chops"),
    ("chop|(?:pork|gammon).*steak", "pork chops"), ("hams?\\b", "raw cured ham"), ("pork", "pork joint"),
    ("beef|lamb|mutton|veal", "beef or lamb joint"),
)  # fmt: skip
"""Kinds by words in a batch's name, the first that fits; a steak of who knows what fits none, since
pork is never pink."""


def kind_named(name: str) -> str:
    """What kind of frozen meat a name most likely means; "" when it does not say, or the meat is cooked.

    Source: the words are common practice.
    """
    return next((kind for words, kind in _NAMED if re.search(rf"\b(?:{words})", name.casefold())), "")
