"""What speaks for and against a sowing in a bed, before it is put down: sentences of advice, none of which forbids."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from app.rules.spans import Day
from app.rules.why import said
from app.services.garden.ground import INDOORS, Bed, Fact, Kind, fed, grown_in, in_bed, sick, taken_m2, year_of_growth
from app.services.garden.stands import Stand, Tray
from app.trade.garden.feeding import Fed, Quarrel, too_soon
from app.trade.garden.fit import Room, fits, room_for
from app.trade.garden.rotation import DISEASES, REST_YEARS, Found, Grown, clashes

FAMILIES: Mapping[str, str] = {
    "potatoes": "the potato family",
    "legumes": "peas and beans",
    "brassicas": "the cabbage family",
    "onions": "the onion family",
    "roots": "roots",
    "anywhere": "what may stand anywhere",
    "permanent": "what stays for years",
}
"""The groups of the rotation as they are said."""
MILDER = {"tunnel": "a tunnel", "frame": "a frame"}
"""Covers that hold off a little frost; a sill and a propagator stand in a house."""
HOLDS_OFF = "2 to 3 °C"
"""How much frost a tunnel or a frame holds off on a still night; common practice."""


class Garden(NamedTuple):
    """All that is known of the beds, for looking at one of them: ``spread`` pairs a place with what fed it."""

    beds: Sequence[Bed]
    facts: Sequence[Fact]
    stands: Sequence[Stand]
    trays: Sequence[Tray]
    kinds: Mapping[str, Kind]
    spread: Sequence[tuple[str, Fed]] = ()
    southern: bool = False


class Wanted(NamedTuple):
    """A sowing that is looked at: where it would stand, and its trays under cover with the last day to begin them."""

    stand: Stand | None
    tray: Tray | None = None
    latest: Day | None = None
    row_m: float = 0.0
    plants: float = 0.0


def advice(garden: Garden, bed: Bed | None, wanted: Wanted) -> tuple[str, ...]:
    """What to say of a sowing in a bed, the gravest first.

    Source: `app.trade.garden.rotation`, `app.trade.garden.fit` and `app.trade.garden.feeding`.
    """
    stand = wanted.stand
    found: list[str] = []
    if bed is not None and stand is not None:
        found += rotation(garden, bed, stand)
        found += room(garden, bed, stand)
        found += what_fits(bed, stand, wanted)
        found += feeding(garden, bed, stand)
        found += cover(bed, stand)
    if wanted.tray is not None:
        found += under_cover(garden, wanted.tray, wanted.latest)
    return tuple(_first(sentence) for sentence in found)


# ── Rotation ──────────────────────────────────────────────────────────────────────────────────────────────────────


def rotation(garden: Garden, bed: Bed, stand: Stand) -> list[str]:
    """The clashes of a rotation in sentences, with the beds that have none."""
    year = year_of_growth(stand.first, garden.southern)
    found = against(garden, bed, stand, year)
    sentences = [_clash(bed, stand, one, year) for one in found]
    if any(one.kind in ("disease", "group") for one in found):
        free = [other.name for other in garden.beds if other.id != bed.id and _would_do(garden, other, stand, year)]
        if free:
            sentences.append(f"By rotation it could stand in: {', '.join(free[:4])}.")
    return sentences


def against(garden: Garden, bed: Bed, stand: Stand, year: int) -> list[Found]:
    """The clashes themselves; of the same group only the latest is said."""
    before = history(garden, bed, stand.entry)
    found = clashes(stand.group, stand.species, year, before, sick(bed, garden.facts, garden.southern))
    kinds: set[str] = set()
    return [one for one in found if not (one.kind in kinds or kinds.add(one.kind))]  # type: ignore[func-returns-value]


def history(garden: Garden, bed: Bed, without: str = "") -> list[Grown]:
    """What a bed has had and is to have, ``without`` one entry."""
    return grown_in(bed, garden.stands, garden.facts, garden.kinds, garden.southern, without)


def _would_do(garden: Garden, other: Bed, stand: Stand, year: int) -> bool:
    if other.ends is not None and other.ends < stand.first:
        return False
    if other.cover in INDOORS or against(garden, other, stand, year):
        return False
    return not any(one.meets(stand.first, stand.last) for one in in_bed(other, garden.stands))


def _clash(bed: Bed, stand: Stand, found: Found, year: int) -> str:
    group = FAMILIES.get(stand.group, stand.group)
    if found.kind == "disease":
        years = DISEASES[found.what].years
        return (
            f"{_first(found.what)} was found in {bed.name} in {found.year}: keep {group} out of it until"
            f" {found.year + years + 1}; it lasts up to {years} years in the ground."
        )
    when = "this year" if found.year >= year else f"in {found.year}"
    if found.kind == "group":
        return f"{bed.name} had {found.what} {when}: {group} should be kept off it until {found.year + REST_YEARS + 1}."
    if found.kind == "species":
        return f"{bed.name} had {found.what} {when}, which is the same species: another bed is better."
    return f"{bed.name} had {found.what} {when}: it may stand anywhere, but better not twice running."


# ── Room ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def room(garden: Garden, bed: Bed, stand: Stand) -> list[str]:
    """Whether the bed is free, or has ground left beside what stands there."""
    if bed.ends is not None and bed.ends < stand.first:
        return [f"{bed.name} is no bed any more since {said(bed.ends)}."]
    others = [one for one in in_bed(bed, garden.stands) if one.entry != stand.entry]
    there = [one for one in others if one.meets(stand.first, stand.last)]
    if not there:
        return []
    taken = taken_m2(there, stand.first, stand.last)
    names = _listed([one.name for one in there[:4]])
    until = max((one.last for one in there if one.last is not None), default=None)
    for_ever = any(one.last is None for one in there)
    days = "for good" if for_ever or until is None else f"until {said(until)}"
    if taken is None or stand.ground_m2 is None:
        return [f"{bed.name} is not free: taken by {names} {days}. Whether both fit is not known."]
    left, wants = bed.area_m2 - taken, stand.ground_m2
    if wants <= left + 0.05:
        of = f"{_m2(left)} of {_m2(bed.area_m2)} m² are free"
        return [f"It would share {bed.name} with {names} {days}; {of}, and this wants {_m2(wants)}."]
    return [
        f"{bed.name} is not free: taken by {names} {days}, {_m2(taken)} of its {_m2(bed.area_m2)} m²;"
        f" this wants {_m2(wants)}."
    ]


def what_fits(bed: Bed, stand: Stand, wanted: Wanted) -> list[str]:
    """What the bed holds of it at its spacing, and whether that is enough."""
    spacing = stand.crop.spacing if stand.crop is not None else None
    if spacing is None or not spacing.plant_cm or not spacing.row_cm or bed.area_m2 <= 0:
        return []
    found = fits(bed.length_m, bed.width_m, spacing.plant_cm, spacing.row_cm)
    rows = "one row" if found.rows == 1 else f"{found.rows} rows"
    holds = (
        f"{bed.name} holds {rows} of {_m(bed.length_m)} m, {found.plants} plants {_m(spacing.plant_cm)} cm apart,"
        f" rows {_m(spacing.row_cm)} cm."
    )
    if wanted.row_m > found.row_m + 0.05:
        row_m = f"{_m(found.row_m)} m of row, and {_m(wanted.row_m)} m are wanted"
        return [f"{holds} That is {row_m}: sow fewer, or use a second bed."]
    if not wanted.row_m and wanted.plants > found.plants:
        return [f"{holds} {wanted.plants:.0f} are wanted: plant fewer, or use a second bed."]
    return [holds]


def feeding(garden: Garden, bed: Bed, stand: Stand) -> list[str]:
    """What was spread too lately for it."""
    return [_too_soon(one) for one in too_soon(stand.group, stand.first, fed(bed, garden.facts, garden.spread))]


def _too_soon(one: Quarrel) -> str:
    if one.kind == "muck before roots":
        return f"Muck was spread there on {said(one.fed.day)}: roots fork in it within the year."
    return f"It was limed on {said(one.fed.day)}: potatoes are scabby in limed ground within the year."


def cover(bed: Bed, stand: Stand) -> list[str]:
    """What a cover does to the dates, which are for open ground."""
    if bed.cover not in MILDER or stand.crop is None or stand.crop.frost == "hardy":
        return []
    under = f"Under {MILDER[bed.cover]} about {HOLDS_OFF} of frost are held off"
    return [f"{under}: planting a week or two sooner is safe there, with fleece at hand."]


# ── Under cover ───────────────────────────────────────────────────────────────────────────────────────────────────


def under_cover(garden: Garden, tray: Tray, latest: Day | None) -> list[str]:
    """Whether its trays find room under cover; where not, in which batches they would, or how many fewer to sow."""
    places = [bed for bed in garden.beds if bed.trays is not None and (bed.ends is None or bed.ends >= tray.first)]
    if not places:
        return []
    room_there = sum(bed.trays or 0 for bed in places)
    taken = [(one.first, one.last, one.trays) for one in garden.trays if one.entry != tray.entry]
    last = max(tray.first, latest if latest is not None else tray.first)
    found = room_for(room_there, taken, tray.trays, tray.first, tray.last - tray.first + 1, last)
    return [] if found.now >= tray.trays else [_stagger(found, tray.trays, room_there, last)]


def _stagger(found: Room, trays: int, room_there: int, last: Day) -> str:
    there = f"room for {_count(found.now)} on that day, of {_count(room_there)} in all"
    lead = f"{_first(_trays(trays))} under cover, and {there}"
    if not found.batches:
        return f"{lead}: none is free by {said(last)}. Sow fewer, sow outdoors, or clear something."
    batches = _listed([f"{_count(batch.trays)} on {said(batch.day)}" for batch in found.batches])
    if found.too_many:
        return f"{lead}: sow {batches}, and {_count(found.too_many)} fewer."
    return f"{lead}: sow {batches}."


_WORDS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _count(n: int) -> str:
    return _WORDS[n] if 0 <= n < len(_WORDS) else str(n)


def _trays(n: int) -> str:
    return f"{_count(n)} tray{'' if n == 1 else 's'}"


def _listed(things: Sequence[str]) -> str:
    return things[0] if len(things) == 1 else f"{', '.join(things[:-1])} and {things[-1]}"


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _m(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _m2(value: float) -> str:
    return _m(max(0.0, value))
