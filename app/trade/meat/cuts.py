"""What a cut is by its name: its portion, how long it keeps, how it is packed; and the packs it makes for a house."""

import re
from functools import cache
from typing import Literal, NamedTuple

from app.errors import OutOfRange
from app.trade.meat.carcase import CUTS, Beast
from app.trade.meat.portions import PORTION_G

Kind = Literal["pork", "lamb", "beef", "venison", "poultry", "mixed"]
KINDS: tuple[Kind, ...] = ("pork", "lamb", "beef", "venison", "poultry", "mixed")
Packing = Literal["halved", "by the pack", "singly"]
MOST_MEALS_A_ROAST = 1.5
"""A roast is halved, and halved again, while it is more than so many meals. Common practice: a meal, and some cold."""


class CutKind(NamedTuple):
    """``portion`` names its group in `PORTION_G`, ``keeps`` its row of `KEEPING`; ``packing`` how it is packed."""

    portion: str
    keeps: str
    packing: Packing


class CutPacks(NamedTuple):
    """``packs`` of ``pack_kg`` each; a portion of ``portion_g`` a head, raw; ``meals`` for the whole house."""

    packs: int
    pack_kg: float
    portion_g: float
    meals: float


_SPECIES: tuple[tuple[str, str], ...] = (
    ("lamb", "lamb|mutton|hogget|sheep|goat"), ("beef", "beef|veal|ox|cow"), ("pork", "pork|pig|gammon"),
    ("goose", "duck|goose"), ("poultry", "chicken|hen|turkey|poultry|bird|fowl|cockerel"), ("venison", "venison|deer"),
    ("game", "pheasant|partridge|pigeon|grouse|woodcock|snipe"), ("small", "rabbit|hare|squirrel"),
)  # fmt: skip
_CUTS: tuple[tuple[str, str, Packing], ...] = (
    ("sausage|chipolata|burger", "sausages", "by the pack"),
    ("bacon|rasher|gammon steak", "bacon", "by the pack"),
    ("liver|kidney|heart|tongue|offal|giblet|sweetbread|tripe|pluck", "offal", "by the pack"),
    ("mince|minced|trimming|trim", "mince", "by the pack"),
    ("spare rib|rib rack|ribs", "ribs", "by the pack"),
    ("stew|stewing|dice|diced|shin|neck|casserole|cubed|oxtail|skirt|stock", "stew", "by the pack"),
    ("chop|cutlet", "chop", "singly"),
    ("steak|escalope", "steak", "singly"),
)
_ROAST: dict[str, str] = {"pork": "pork joint", "lamb": "beef or lamb joint", "beef": "beef or lamb joint"}
_CHOP: dict[str, str] = {"pork": "pork chop", "lamb": "lamb chop"}
_ON_THE_BONE = "leg|shank|rack|rib|shoulder|knuckle|hock|saddle"
_BONELESS = "boneless|boned|rolled|belly|hand|fillet|tenderloin|brisket|topside|silverside|rump|round|sirloin"
_JOINTS = "loin|chuck|blade|joint|roast|haunch|ham|collar|chump|gigot|flank"
_PIECES = "leg|thigh|wing|breast|drumstick|piece|quarter"
_PLAIN = "chops, steaks and joints"
_COUNT = re.compile(r"(\d{1,3})\s*[x×]?\s*[a-z]", re.I)
BEAST_OF: dict[Kind, Beast] = {"pork": "pig", "lamb": "lamb", "beef": "beef"}
"""Whose carcase has a usual cut list."""


def cut_kind(name: str, of: Kind = "mixed") -> CutKind:
    """What a named cut is; ``of`` is the meat of the whole delivery, where the name does not say.

    A cut of the usual list of a carcase is what it is there. A name that no list has is packed as a
    joint on the bone, and keeps for no longer than stewing meat, to be on the safe side.
    Source: the words are common practice; what follows from them is that of `PORTION_G` and `KEEPING`.
    """
    listed = next((cut for cut in CUTS.get(BEAST_OF.get(of, "pig"), ()) if cut.what == name and of in BEAST_OF), None)
    if listed is not None:
        return CutKind(listed.portion, listed.keeps, _packing(listed.keeps))
    kind = next((found for found, words in _SPECIES if _says(name, words)), str(of))
    if kind in ("poultry", "goose", "game", "small") and not _says(name, _CUTS[2][0]):
        return _bird(name, kind)
    row = next(((cut, packing) for words, cut, packing in _CUTS if _says(name, words)), None)
    if row is not None:
        return _named(row[0], row[1], kind)
    portion = "on the bone" if _says(name, _ON_THE_BONE) and not _says(name, _BONELESS) else "boneless"
    if not _says(name, f"{_ON_THE_BONE}|{_BONELESS}|{_JOINTS}"):
        return CutKind("on the bone", "venison" if kind == "venison" else "stewing meat", "halved")
    return CutKind(portion, "venison" if kind == "venison" else _ROAST.get(kind, _PLAIN), "halved")


def portion_g(portion: str) -> float:
    """Raw grams a head of a group, halfway between low and high.

    Source: `PORTION_G`; the middle is common practice. Raises: KeyError for a group that is not there.
    """
    low, high = PORTION_G[portion]
    return (low + high) / 2


def pieces_said(name: str) -> int | None:
    """How many a cut's name says there are: "12 chops", "2 x leg"; None where it does not say.

    Valid: 1 to 500. Source: how people write a list.
    """
    found = _COUNT.match(name)
    return int(found[1]) if found and 1 <= int(found[1]) <= 500 else None


def cut_packs(kg: float, kind: CutKind, mouths: float, pieces: int | None = None) -> CutPacks:
    """The packs a cut makes: a roast halved into meals, sausages and mince by the meal, chops singly.

    Singly, a pack is a portion: one chop, one steak; ``pieces`` where it was said how many came. Valid: more than 0 kg,
    more than 0 mouths, up to 2000 kg. Source: common practice. Raises: OutOfRange beyond that.
    """
    if not 0 < kg <= 2000:
        raise OutOfRange("A weight", kg, "more than 0, up to 2000 kg")
    if mouths <= 0:
        raise OutOfRange("People", mouths, "more than 0")
    grams = portion_g(kind.portion)
    meal_kg = grams * mouths / 1000
    if kind.packing == "halved":
        packs = pieces or 1
        while kg / packs > MOST_MEALS_A_ROAST * meal_kg and packs < 4096:
            packs *= 2
    elif kind.packing == "singly":
        packs = pieces or max(1, round(kg / (grams / 1000)))
    else:
        packs = max(1, round(kg / meal_kg))
    return CutPacks(packs, kg / packs, grams, kg / meal_kg)


def _packing(keeps: str) -> Packing:
    if "joint" in keeps and "chop" not in keeps:
        return "halved"
    return "singly" if "chop" in keeps else "by the pack"


def _says(name: str, words: str) -> bool:
    return _pattern(words).search(name.casefold()) is not None


@cache
def _pattern(words: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![a-z])(?:{words})(?:s|es|d)?(?![a-z])")


def _bird(name: str, kind: str) -> CutKind:
    if _says(name, "mince|minced|sausage|burger"):
        return CutKind("mince", "mince", "by the pack")
    if kind == "poultry":
        pieces = _says(name, _PIECES)
        return CutKind(
            "on the bone", "poultry, in pieces" if pieces else "poultry, whole", "singly" if pieces else "halved"
        )
    keeps = {"goose": "duck or goose", "game": "game birds"}.get(kind, "rabbit and other small game")
    return CutKind("on the bone", keeps, "by the pack")


def _named(cut: str, packing: Packing, kind: str) -> CutKind:
    game = "venison, minced or stewing"
    if cut == "sausages":
        return CutKind("sausages", "raw sausage", packing)
    if cut == "bacon":
        return CutKind("bacon", "bacon", packing)
    if cut == "offal":
        return CutKind("stew", "offal", packing)
    if cut in ("mince", "stew"):
        keeps = game if kind == "venison" else "mince" if cut == "mince" else "stewing meat"
        return CutKind(cut, keeps, packing)
    if cut == "ribs":
        return CutKind("ribs", _CHOP.get(kind, _PLAIN), packing)
    keeps = "venison" if kind == "venison" else _CHOP.get(kind, _PLAIN)
    return CutKind("on the bone" if cut == "chop" else "boneless", keeps, packing)
