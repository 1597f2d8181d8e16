"""What stands in a bed and when: read from an entry's planned and done jobs, or from the room its sheet claims."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from app.rules.crop import Crop
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Fate, Laid, Task
from app.trade.garden.fit import ground_m2, trays_for
from app.trade.garden.rotation import GREEN_MANURES

UNDER_COVER = frozenset({"under cover", "sill", "windowsill", "propagator", "frame", "tunnel", "greenhouse"})
"""Where a sheet's steps raise plants before they are planted out."""
BEGINS = ("sow", "plant")
"""The acts by which a bed is taken."""
_GONE = frozenset({Fate.LOST, Fate.PASSED_OVER, Fate.LET_GO, Fate.NO_ROOM})
_POTTED = frozenset({"pot", "pot-on"})


class Stand(NamedTuple):
    """What stands in a bed, from its first sowing or planting there until it is cleared; for ever without ``last``.

    ``what`` is the crop in a word, ``group`` its turn in the rotation, ``begun`` whether it stands there already;
    ``ground_m2`` what it takes of the bed, None where no figure says so.
    """

    entry: str
    name: str
    sheet: str
    what: str
    group: str
    species: str
    family: str
    place: str
    first: Day
    last: Day | None
    begun: bool
    ground_m2: float | None
    crop: Crop | None

    def holds(self, day: Day) -> bool:
        """Whether it stands there on a day."""
        return self.first <= day and (self.last is None or day <= self.last)

    def meets(self, first: Day, last: Day | None) -> bool:
        """Whether it stands there on any day of a stretch."""
        return (last is None or self.first <= last) and (self.last is None or first <= self.last)


class Tray(NamedTuple):
    """Trays of an entry under cover, from its sowing there until it is planted out."""

    entry: str
    name: str
    first: Day
    last: Day
    trays: int


def stand_of(laid: Laid, sheet: Sheet) -> Stand | None:
    """Where and how long an entry stands; None for what never takes a bed.

    Source: none; the bars that its sheet lays on its place, else its jobs there.
    """
    entry = laid.entry
    if sheet.trade != "garden" or entry.struck or not entry.place:
        return None
    stretch = _by_jobs(laid, sheet)
    if stretch is None:
        return None
    first, last, begun = stretch
    if entry.ends is not None:
        last = entry.ends if last is None else min(last, entry.ends)
    group, species = _group(entry, sheet)
    ground = ground_of(entry, sheet.crop)
    over = ground * _times_over(laid, sheet) if ground is not None else None
    return Stand(
        entry.id, entry.name, sheet.id, crop_word(sheet), group, species, sheet.family, entry.place, first,
        None if last is None else max(first, last), begun, over, sheet.crop,
    )  # fmt: skip


def _by_jobs(laid: Laid, sheet: Sheet) -> tuple[Day, Day | None, bool] | None:
    """First day, last day, and whether it has begun: from its jobs in the bed, or the room it claims there."""
    steps = {step.id: step for step in sheet.steps}
    here = [(steps[task.step], task) for task in laid.tasks if task.step in steps and not steps[task.step].place]
    begins = [task for step, task in here if step.act in BEGINS and _day(task) is not None and task.fate not in _GONE]
    if not begins:
        return None
    first = min(day for task in begins if (day := _day(task)) is not None)
    begun = any(task.done is not None for task in begins)
    if sheet.crop is not None and sheet.crop.rotation == "permanent" and not _cleared(here):
        return first, None, begun  # its clearing lies beyond what is planned
    return first, max([first, *_ends(laid, here)]), begun


def _times_over(laid: Laid, sheet: Sheet) -> int:
    """How many of an entry's sowings stand in the bed at one time, where it is sown in turn."""
    steps = {step.id: step for step in sheet.steps}
    turns: dict[int, list[Day]] = {}
    sown: set[int] = set()
    for task in laid.tasks:
        step, day = steps.get(task.step), _day(task)
        if step is None or step.place or not task.label or day is None or task.fate in _GONE:
            continue
        turns.setdefault(task.label[0], []).append(day)
        if step.act in BEGINS:
            sown.add(task.label[0])
    stretches = [(min(days), max(days)) for turn, days in turns.items() if turn in sown]
    return max((sum(first <= day <= last for first, last in stretches) for day, _ in stretches), default=1)


def _ends(laid: Laid, here: Sequence[tuple[Step, Task]]) -> list[Day]:
    """The days on which a bed may be clear: its clearing, else the end of the room it claims, else its last job."""
    room = [bar.last for bar in laid.bars if bar.kind == "room" and bar.on == "place" and bar.last is not None]
    return (
        _cleared(here)
        or room
        or [day for _, task in here if task.fate not in _GONE and (day := _day(task)) is not None]
    )


def _cleared(here: Sequence[tuple[Step, Task]]) -> list[Day]:
    return [day for step, task in here if step.id.startswith("clear") and (day := _day(task)) is not None]


def _day(task: Task) -> Day | None:
    return task.done if task.done is not None else task.best


def tray_of(laid: Laid, sheet: Sheet) -> Tray | None:
    """The trays an entry has under cover before it is planted out; None for what is sown where it stands."""
    entry = laid.entry
    if sheet.trade != "garden" or entry.struck:
        return None
    steps = {step.id: step for step in sheet.steps}
    inside = [
        (steps[task.step], day)
        for task in laid.tasks
        if task.step in steps and steps[task.step].place in UNDER_COVER
        and task.fate not in _GONE and (day := _day(task)) is not None
    ]  # fmt: skip
    if not any(step.act == "sow" or step.id == "sow" for step, _ in inside):
        return None
    out = [_day(t) for t in laid.tasks if t.step in steps and steps[t.step].act == "plant" and t.fate not in _GONE]
    days = [day for _, day in inside]
    planted = [day for day in out if day is not None and day >= min(days)]
    potted = any(step.id in _POTTED for step in sheet.steps)
    last = max(min(days), min(planted) - 1 if planted else max(days))
    return Tray(entry.id, entry.name, min(days), last, max(1, trays_for(plants_of(entry, sheet.crop), pots=potted)))


def crop_word(sheet: Sheet) -> str:
    """A crop in a word: "parsnips"; else its sheet's title, small."""
    if sheet.crop is not None and (sheet.crop.many or sheet.crop.name):
        return sheet.crop.many or sheet.crop.name
    title = sheet.title.partition(",")[0]
    return title[:1].lower() + title[1:]


def _group(entry: Entry, sheet: Sheet) -> tuple[str, str]:
    """The rotation's group and the species: the crop's, or of green manure what was sown."""
    sown = str(entry.facts.get("plant", sheet.facts["plant"].default if "plant" in sheet.facts else ""))
    if sheet.id == "green-manure" and sown in GREEN_MANURES:
        return GREEN_MANURES[sown]
    return (sheet.crop.rotation if sheet.crop is not None else ""), sheet.species


def number(entry: Entry, *names: str) -> float:
    """The first of some facts that is said, as a number; 0 for none."""
    for name in names:
        value = entry.facts.get(name)
        if isinstance(value, int | float) and not isinstance(value, bool) and value > 0:
            return float(value)
    return 0.0


def said_or_usual(entry: Entry, sheet: Sheet) -> Entry:
    """An entry with the usual answers where nothing was said."""
    usual = {name: ask.default for name, ask in sheet.facts.items() if ask.default is not None}
    return entry._replace(facts={**usual, **entry.facts})


def plants_of(entry: Entry, crop: Crop | None) -> float:
    """How many plants: as said, else by the metres of row and the space between plants."""
    said = number(entry, "plants", "sets", "cloves")
    spacing = crop.spacing if crop is not None else None
    if said or spacing is None or not spacing.plant_cm:
        return said
    return 100 * number(entry, "row_m") / spacing.plant_cm


def ground_of(entry: Entry, crop: Crop | None) -> float | None:
    """The ground an entry takes in m²: its area, or its rows or plants by the crop's spacing; None where not known."""
    area = number(entry, "area_m2")
    if area:
        return area
    spacing = crop.spacing if crop is not None else None
    if spacing is None or not spacing.row_cm:
        return None
    row_m, plants = number(entry, "row_m"), number(entry, "plants", "sets", "cloves")
    if not row_m and not (plants and spacing.plant_cm):
        return None
    return ground_m2(spacing.row_cm, row_m, plants, spacing.plant_cm or 0.0)


def stands_of(every: Iterable[Laid], sheets: Mapping[str, Sheet]) -> list[Stand]:
    """All that stands or will stand in beds, the earliest first."""
    found = [
        stand_of(_usual(laid, sheets[laid.entry.sheet]), sheets[laid.entry.sheet]) for laid in _known(every, sheets)
    ]
    return sorted((one for one in found if one is not None), key=lambda one: (one.first, one.entry))


def trays_of(every: Iterable[Laid], sheets: Mapping[str, Sheet]) -> list[Tray]:
    """All trays under cover, the earliest first."""
    found = [
        tray_of(_usual(laid, sheets[laid.entry.sheet]), sheets[laid.entry.sheet]) for laid in _known(every, sheets)
    ]
    return sorted((one for one in found if one is not None), key=lambda one: (one.first, one.entry))


def _known(every: Iterable[Laid], sheets: Mapping[str, Sheet]) -> Iterator[Laid]:
    return (laid for laid in every if laid.entry.sheet in sheets)


def _usual(laid: Laid, sheet: Sheet) -> Laid:
    return laid._replace(entry=said_or_usual(laid.entry, sheet))
