"""What a glut can become: gluts.toml."""

from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, Literal, NamedTuple

Kind = Literal["dry", "powder", "bottle", "freeze", "pan", "crock", "raw"]


class GlutCrop(NamedTuple):
    """A crop by its name; ``dry``, ``raw`` and ``blanch`` name rows of stores.toml, "" where there is none.

    ``unscalded``: a vegetable that is frozen as it is.
    """

    name: str
    says: tuple[str, ...]
    group: str
    dry: str = ""
    raw: str = ""
    blanch: str = ""
    unscalded: bool = False


class GlutWay(NamedTuple):
    """One way of keeping a crop, by a sheet.

    ``months`` it keeps, least and most, with the ``basis`` of that. ``hours`` of a load of the dryer: least, usual and
    most; ``kg_a_m2`` of tray; ``made_kg`` of a kilo; ``kg_a_litre`` of freezer, jar or crock; ``kwh_kg`` least and
    most.
    """

    id: str
    kind: Kind
    title: str
    sheet: str
    months: tuple[int, int]
    basis: str
    source: str
    crops: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    all: bool = False
    of: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    food: str = ""
    pack: str = ""
    kg_a_m2: float = 0.0
    hours: tuple[float, float, float] = (0.0, 0.0, 0.0)
    condition_days: int = 0
    made_kg: float = 1.0
    kg_a_litre: float = 0.0
    pan_kg: float = 0.0
    kwh_kg: tuple[float, float] = (0.0, 0.0)


@cache
def glut_crops() -> tuple[GlutCrop, ...]:
    """Every crop of the table, by name."""
    found = [GlutCrop(**{**one, "says": tuple(one["says"])}) for one in _doc()["crop"]]
    return tuple(sorted(found, key=lambda one: one.name.casefold()))


@cache
def glut_ways() -> tuple[GlutWay, ...]:
    """Every way, as it stands in the file."""
    return tuple(GlutWay(**{name: _fixed(value) for name, value in one.items()}) for one in _doc()["way"])


def crop_called(words: str) -> GlutCrop | None:
    """The crop that somebody means: by the longest name that ends what was said, or what stands before a comma."""
    names = {name.casefold(): crop for crop in glut_crops() for name in (crop.name, *crop.says)}
    for part in (words, words.partition(",")[0]):
        said = " ".join(part.casefold().split())
        ends = [name for name in names if said == name or said.endswith(f" {name}")]
        if ends:
            return names[max(ends, key=len)]
    return None


def ways_of_keeping(crop: GlutCrop | None) -> tuple[GlutWay, ...]:
    """The ways there are for a crop, of each kind and sheet's group the narrowest; for an unknown one the general."""
    kept: dict[tuple[str, str], tuple[int, GlutWay]] = {}
    for way in glut_ways():
        width = _width(way, crop)
        key = (way.kind, way.sheet if way.kind == "pan" else "")
        if width and (key not in kept or width < kept[key][0]):
            kept[key] = (width, way)
    return tuple(way for _, way in kept.values())


def _width(way: GlutWay, crop: GlutCrop | None) -> int:
    """How wide a way is meant: 1 for this crop, 2 for its group, 3 for anything, 0 when it is not for it."""
    if crop is not None and crop.name in way.crops:
        return 1
    if crop is not None and crop.group in way.groups and (way.kind not in ("dry", "powder") or crop.dry):
        return 2
    return 3 if way.all else 0


def _fixed(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(value)
    return tuple(value.items()) if isinstance(value, dict) else value


def _doc() -> dict[str, Any]:
    return loads(files("app.sheets").joinpath("gluts.toml").read_text(encoding="utf-8"))
