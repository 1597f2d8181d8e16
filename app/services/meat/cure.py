"""A cure reckoned from the scales to the slice, before it is put down: grams, law, days, salt by depth."""

from collections.abc import Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange, Refused
from app.records import store
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Task
from app.rules.terms import Value
from app.services import entries
from app.services.book import Book
from app.services.meat.cure_asked import Asked
from app.services.meat.cure_depths import Depth, depths_of
from app.services.meat.cure_ways import CURED_AT, CUTS, WAYS, Way, sheet_for, stays, way_of
from app.services.preview import Draft, Looked, sheet_of
from app.sheets.cure_law import nitrite_limit
from app.trade.meat.depth import Salted
from app.trade.meat.even import Even, even_estimate
from app.trade.meat.nitrite import weight_that_cures_g
from app.trade.meat.nitrite_law import JURISDICTION_OF, JURISDICTIONS, Jurisdiction
from app.trade.meat.pickle import DryHam, dry_ham_days, soak_minutes
from app.trade.meat.recipe import Recipe, dry_cure, on_scales

__all__ = ["CUTS", "JURISDICTIONS", "WAYS", "Asked", "Cure", "Depth", "Jurisdiction", "Salted", "Way", "way_of"]

_RESTED = ("smoke", "hang", "even", "boil", "slice")
"""What the rest ends with, whichever the sheet has first."""
_IN_THE_COLD = ("smoke", "hang", "even")
"""What is barred while flies are about; of a ham "even" is when it is hung."""
_FAR_OFF = "That day lies outside the three years that are planned here: reckon it anew when it is nearer."
_FIELDS = {
    "A strength": "nitrite_percent", "Salt": "salt_percent", "Sugar": "sugar_percent", "Nitrate": "nitrate",
    "A nitrite target": "nitrite_ppm", "A weight": "kg", "Water": "water_l", "A step of scales in g": "scale_g",
    "A thickness": "thickness_mm",
}  # fmt: skip

_LIMITS = (
    ("kg", "kg", "bone it, cut it in two, or freeze it."),
    ("thickness_mm", "mm thick", "measure the thickest part. What is thicker is split, boned, or frozen."),
)


class Cure(NamedTuple):
    """The answer. ``exact`` is the recipe to 0.01 g, ``weighed`` the same as the scales can show it.

    ``uncovered`` says why there are no dates at all, ``barred`` why it may not be smoked or hung when it is ready;
    ``out`` and ``rested`` are the jobs by which the cure and the rest end. ``even`` is None where no estimate holds (a
    leg, a brine), and ``depths`` are then empty; ``soak_minutes`` are of a brine. ``names`` are those of every entry,
    for the others it clashes with.
    """

    asked: Asked
    sheet: Sheet
    draft: Draft
    exact: Recipe
    weighed: Recipe
    base_g: float
    looked: Looked
    out: Task | None
    rested: Task | None
    uncovered: str
    barred: str
    even: Even | None
    depths: tuple[Depth, ...]
    dry_ham: DryHam | None
    soak_minutes: int | None
    names: Mapping[str, str]


def usual_jurisdiction(book: Book, session: Session) -> Jurisdiction | None:
    """Whose law the holding's nation is under; None where that is not known here.

    Raises: MissingFact while the first run is not done.
    """
    return JURISDICTION_OF.get(book.holding(session).nation or "")


def reckon(book: Book, session: Session, asked: Asked, today: Day, entry: str = "") -> Cure:
    """All that follows from a cure, nothing saved; of an ``entry`` that is put down already, its own sheet.

    Raises: BadInput with a sentence per field: what no rule covers, and what the law refuses, which is then named.
    """
    way = WAYS[asked.way]
    found = entries.find(book, session, entry, today) if entry else None
    if found is not None:
        stays(found.sheet, asked.way, asked.cut)
        asked = asked._replace(on=_begun(book, session, entry, today) or asked.on)
    sheet = sheet_of(book, found.sheet if found is not None else sheet_for(asked.way, asked.cut))
    base = weight_that_cures_g(asked.kg * 1000, skin_on=asked.skin == "skin on") + (asked.water_l or 0) * 1000
    exact, weighed = _recipes(asked, way, base, today)
    draft = _draft(sheet, asked, way, weighed)
    if found is not None:
        draft = _added(draft, found, store.entry_note(session, entry))
    looked = _looked(book, session, draft, today, entry)
    tasks = {task.step: task for task in reversed(looked.laid.tasks) if task.best is not None}
    reasons = {lack.step: lack.reason for lack in looked.lacks if lack.reason}
    out = tasks.get("out")
    rested = min((tasks[step] for step in _RESTED if step in tasks), key=lambda task: task.best or 0, default=None)
    modelled = "shape" in sheet.facts and not way.brine
    covered = out is not None and modelled
    return Cure(
        asked, sheet, draft, exact, weighed, base, looked, out, rested if out is not None else None,
        (reasons.get("out") or _FAR_OFF) if out is None else "",
        next((reasons[step] for step in _IN_THE_COLD if step in reasons), "") if out is not None else "",
        _estimate(asked) if modelled else None,
        depths_of(asked, out, rested) if covered else (),
        dry_ham_days(asked.kg) if way.product == "dry-cured ham" else None,
        soak_minutes(out.best - asked.on) if way.brine and out is not None and out.best is not None else None,
        {laid.entry.id: laid.entry.name for laid in list(book.live(session, today).laid.values())},
    )  # fmt: skip


def put_down(book: Book, cure: Cure, today: Day, ident: str, seen: str = "", entry: str = "") -> str:
    """Put the cure down as an entry of its sheet, once however often it is sent; or weigh it out for an ``entry``.

    Raises: NotFound for an entry that is not there; Conflict for one that is struck, and when ``seen`` is given and the
    dates are others by now.
    """
    if entry:
        entries.change(book, entry, cure.draft, today)
        return entry
    return entries.put_down(book, cure.draft, today, seen, f"{cure.sheet.id}-{ident[:10]}" if ident else "")


def known_of(book: Book, session: Session, entry: str, today: Day) -> Mapping[str, Value]:
    """What is known of an entry that waits to be weighed out, by the names of the form.

    Raises: NotFound.
    """
    found = entries.find(book, session, entry, today)
    smoked = found.facts.get("smoked", True) is not False
    way, cut = way_of(found.sheet, str(found.facts.get("cut", "")), smoked=smoked)
    return {**found.facts, "way": way, "cut": cut, "name": found.name}


def _recipes(asked: Asked, way: Way, base_g: float, today: Day) -> tuple[Recipe, Recipe]:
    """The recipe, exact and as weighed; what is refused is said beside the field that asked for it."""
    limit = nitrite_limit(asked.jurisdiction, way.product, asked.on)
    limit = limit or nitrite_limit(asked.jurisdiction, way.product, today)  # of a day before any that is told
    if limit is None:
        raise BadInput({"date": "No law is told here for that day; ask your local food-safety authority."})
    ppm = asked.nitrite_ppm if asked.nitrite_ppm is not None else limit.usual_ppm()
    try:
        exact = dry_cure(
            asked.kg * 1000, asked.nitrite_percent, ppm, asked.salt_percent, asked.sugar_percent,
            way.product, limit=limit, nitrate_percent=1.0 if asked.nitrate else 0.0, skin_on=asked.skin == "skin on",
            water_g=(asked.water_l or 0.0) * 1000,
        )  # fmt: skip
        return exact, on_scales(exact, asked.scale_g, asked.nitrite_percent, base_g)
    except OutOfRange as error:
        field = _FIELDS.get(error.name, "nitrite_percent")
        said = str(error).partition("). ")[2] if field == "scale_g" else ""  # its advice says all of it
        raise BadInput({field: said or str(error)}) from error
    except Refused as error:
        raise BadInput({"nitrate" if asked.nitrate else "nitrite_ppm": str(error)}) from error


def _begun(book: Book, session: Session, entry: str, today: Day) -> Day | None:
    """The day on which it went into the cure, where that was ticked."""
    laid = book.live(session, today).laid.get(entry)
    tasks = laid.tasks if laid is not None else ()
    return next((task.done for task in tasks if task.step in CURED_AT and task.done is not None), None)


def _draft(sheet: Sheet, asked: Asked, way: Way, weighed: Recipe) -> Draft:
    """The entry as it would be, the facts that its sheet asks.

    Raises: BadInput beyond what the sheet takes.
    """
    facts: dict[str, Value | None] = {
        "date": asked.on, "kg": asked.kg, "thickness_mm": asked.thickness_mm, "skin": asked.skin, "shape": asked.shape,
        "cut": asked.cut, "smoked": way.smoked, "nitrite_percent": asked.nitrite_percent, "water_l": asked.water_l,
        "cure_g": round(weighed.curing_salt_g, 2), "salt_g": round(weighed.salt_g, 2),
        "sugar_g": round(weighed.sugar_g, 2),
    }  # fmt: skip
    kept = {name: value for name, value in facts.items() if value is not None and name in sheet.facts}
    wrong = {}
    for name, unit, advice in _LIMITS:
        ask, value = sheet.facts.get(name), kept.get(name)
        if ask is None or not isinstance(value, int | float):
            continue
        low, high = ask.low or 0, ask.high if ask.high is not None else value
        if not low <= value <= high:
            wrong[name] = f"Cured so, it is {low:g} to {high:g} {unit}: {advice}"
    if wrong:
        raise BadInput(wrong)
    note = f"Weighed for {weighed.ppm:.0f} ppm of nitrite. {weighed.says[0]}"
    return Draft(sheet.id, asked.name, "", kept, note)


def _added(draft: Draft, found: Entry, note: str) -> Draft:
    """What was weighed out for an entry, beside what is known of it; its day, where a job gave it, stays."""
    facts = {**found.facts, **draft.facts}
    if found.made_by:
        facts["date"] = found.facts["date"]
    told = note if draft.note in note else f"{note} {draft.note}".strip()
    return Draft(draft.sheet, draft.name or found.name, found.place, facts, told)


def _looked(book: Book, session: Session, draft: Draft, today: Day, entry: str) -> Looked:
    if not entry:
        return entries.look_new(book, session, draft, today)
    return entries.look_change(book, session, entry, draft, today)


def _estimate(asked: Asked) -> Even:
    try:
        return even_estimate(asked.thickness_mm, asked.skin, asked.shape)
    except OutOfRange as error:
        raise BadInput({"thickness_mm": str(error)}) from error
