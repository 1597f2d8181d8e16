"""A group of animals as a page: how many, what is barred, what happened, the single ones, what follows."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from app.rules.terms import Ask
from app.services.livestock.animals import SERVED, AnimalRow, called, kind_of
from app.services.livestock.groups import Group, date_of
from app.services.livestock.heads import HeadFactRow, history
from app.services.livestock.held import Held, Still
from app.services.livestock.held_ones import HeldOnes
from app.services.livestock.orders import InForce
from app.services.livestock.put import Elsewhere
from app.services.livestock.registers import Dosed
from app.services.livestock.singles import is_meant
from app.services.livestock.weights import Weights
from app.sheets.library import Library
from app.web import pages, told
from app.web.fields import in_units
from app.web.forms import Wrong
from app.web.links import entry_href, sheet_href
from app.web.livestock.forms import animal_form, gone_form, one_tap, paper_form, served_form, tell_form
from app.web.livestock.page import alive_says, next_job
from app.web.livestock.words import SAID, because, capital, held_says, href, on, ones_say, order_says, until
from app.web.pages.livestock import AnimalLine
from app.web.parts import Form, Frame, Link, Pair, Undoing
from app.web.rows import job_href
from app.web.words import count, listed

_KG = Ask("kg", "kg")


class Seen(NamedTuple):
    """What the page tells of."""

    group: Group
    others: Sequence[Group]
    held: Sequence[Held]
    ones: Sequence[HeldOnes]
    still: Still
    orders: Sequence[InForce]
    animals: Sequence[AnimalRow]
    treated: Sequence[Dosed]
    elsewhere: Sequence[Elsewhere]
    weights: Weights


def group_page(
    frame: Frame, seen: Seen, library: Library, wrong: Wrong, today: date, *, edit: str = "", imperial: bool = False
) -> pages.LivestockGroup:  # fmt: skip
    """The page."""
    group = seen.group
    here = href(group.entry.id)
    tell, more = tell_form(here, group, seen.others, wrong, today)
    chosen = next((one for one in seen.animals if one.id == edit), None)
    sheet = group.sheet
    alive = alive_says(group)
    return pages.LivestockGroup(
        frame=frame,
        name=told.name(group.entry.name),
        sub=_sub(group, today),
        held=_held(seen, today),
        warnings=_warnings(seen),
        alive=f"{alive.capitalize()} alive" if group.alive else "All are gone",
        elsewhere=tuple(_elsewhere(here, one, today) for one in seen.elsewhere),
        tell=tell,
        tell_more=more,
        tell_open=wrong.which == "tell",
        dead=Link("A dead one: what the law asks", f"/found/dead-animal?for={group.entry.id}"),
        history=tuple(reversed([_told(here, row, left, today) for row, left in history(group)])),
        next=tuple(next_job(task, library, sheet, today) for task in group.next),
        weights=_weights(seen.weights, today, imperial),
        weigh=Link("Weigh them", job_href(seen.weights.key)) if seen.weights.key else None,
        treated=_treated(seen.treated, today),
        animals=tuple(_animal(here, group, one, seen.ones, wrong, today) for one in seen.animals),
        animals_note=_animals_note(group, seen.animals),
        animal=animal_form(here, group, chosen, wrong, today),
        animal_heading=f"Change {called(chosen)}" if chosen is not None else "Add one",
        animal_open=chosen is not None or wrong.which == "animal",
        paper=_paper(here, group, wrong),
        paper_open=wrong.which == "paper",
        links=(
            Link("All that follows", entry_href(group.entry.id)),
            Link("Treat them", f"/livestock/medicine/treat?group={group.entry.id}"),
            Link("How it’s done", sheet_href(sheet.id)),
            Link("All animals", "/livestock"),
        ),
        cautions=told.cautions(library, (*sheet.cautions, "fallen-stock")),
    )


def _sub(group: Group, today: date) -> str:
    at = date_of(group.entry)
    since = f"{'from' if at > today.toordinal() else 'since'} {on(at, today)}"
    return " · ".join(part for part in (group.sheet.title, group.entry.place, since) if part)


def _held(seen: Seen, today: date) -> tuple[str, ...]:
    found = []
    if seen.held:
        of = because(seen.held)
        found.append(f"{held_says(seen.held, seen.group.species, today)}{f' {of}.' if of else ''}")
    found += [order_says(one, today) for one in seen.orders if seen.group.species in one.species]
    found += [f"{listed(one.names)}: {ones_say(one, today)} ({one.by.name}.)" for one in seen.ones]
    if seen.held or seen.ones:
        found.append("One that suffers may be killed at any time; it is not eaten.")
    last = seen.still.until.get(seen.group.species)
    if last is not None:
        found.append(f"The holding stands still: none may leave but to slaughter {until(last, today)}.")
    return tuple(found)


def _warnings(seen: Seen) -> tuple[str, ...]:
    here = [one for one in seen.animals if one.gone_on is None]
    if len(here) > seen.group.alive:
        return (f"{count(len(here)).capitalize()} single ones stand here, and {count(seen.group.alive)} are counted:"
                " say of the others that they are gone, or count them.",)  # fmt: skip
    return ()


def _elsewhere(here: str, one: Elsewhere, today: date) -> Undoing:
    form = Form(f"{here}/count-in", "Take off the count", hidden=(Pair("source", one.source),), quiet=True)
    words = f"{SAID.get(one.kind, one.kind)}: {count(one.number)}, told on another page and not yet taken off."
    return Undoing(words, on(one.on, today), form)


def _told(here: str, row: HeadFactRow, left: int, today: date) -> Undoing:
    said = f"{SAID.get(row.kind, row.kind)} {row.number}" if row.kind != "counted" else f"Counted {row.number}"
    after = f"; then {left}" if row.kind not in ("began", "came", "counted") else ""
    parts = [row.note, f"holding {row.other}" if row.other else "", f"tags {row.tags}" if row.tags else "",
             f"paper {row.paper}" if row.paper else ""]  # fmt: skip
    words = f"{said}{after}. {'. '.join(part for part in parts if part)}".strip()
    undo = None
    if row.kind not in ("began", "came"):
        undo = Form(f"{here}/take-back", "Take back", hidden=(Pair("fact", row.id),), quiet=True)
    return Undoing(words, on(row.on_day.toordinal(), today), undo)


def _weights(weights: Weights, today: date, imperial: bool) -> tuple[Pair, ...]:
    ask = in_units([_KG], imperial)[0]
    found = [Pair(on(at, today), told.answer(ask, kg)) for at, kg in weights.weighed]
    if weights.gain_kg is not None:
        found.append(Pair("gain a day", told.answer(ask, round(weights.gain_kg, 2))))
    return tuple(found)


def _treated(rows: Sequence[Dosed], today: date) -> tuple[Pair, ...]:
    found = []
    for one in rows:
        whom = f", {one.animals}" if one.animals else ""
        clear = (
            f"all clear from {on(one.clear, today)}"
            if one.clear is not None
            else "no figure: not clear until it is said"
        )
        vet = ", the vet’s own figure" if one.vet else ""
        found.append(Pair(on(one.on, today), f"{one.product or 'a medicine'}{whom}; {clear}{vet}", job_href(one.key)))
    return tuple(found)


def _animal(
    here: str, group: Group, row: AnimalRow, ones: Sequence[HeldOnes], wrong: Wrong, today: date
) -> AnimalLine:  # fmt: skip
    days = {"born": row.born, "marked": row.marked_on}
    parts = [
        kind_of(group.species, row.sex) or row.sex or "",
        *(f"{name} {on(at.toordinal(), today)}" for name, at in days.items() if at is not None),
        f"of {row.dam}" if row.dam else "", f"by {row.sire}" if row.sire else "", row.note,
    ]  # fmt: skip
    gone = ""
    forms: tuple[Form, ...]
    if row.gone_on is not None:
        gone = f"{SAID.get(row.gone_why, 'Gone')} on {on(row.gone_on.toordinal(), today)}"
        forms = (one_tap(here, "here", row, "Here after all"),)
    else:
        served = (served_form(here, row, wrong, today),) if group.species in SERVED else ()
        forms = (gone_form(here, row, wrong, today), *served, one_tap(here, "strike", row, "Put down by mistake"))
    mine = [ones_say(one, today) for one in ones if any(is_meant(row, name) for name in one.names)]
    return AnimalLine(
        called(row), " · ".join(part for part in parts if part), "on the cull list" if row.cull else "", gone,
        Link("Change", f"{here}?animal={row.id}#one-h"), forms, "" if gone else capital(" ".join(mine)),
    )  # fmt: skip


def _animals_note(group: Group, rows: Sequence[AnimalRow]) -> str:
    here = [one for one in rows if one.gone_on is None]
    if not here:
        return "No animal stands here by itself yet. Tags, mothers and cull lists are kept here where they matter."
    return f"{count(len(here)).capitalize()} of {count(group.alive)} stand here by tag or name."


def _paper(here: str, group: Group, wrong: Wrong) -> Form | None:
    if not any(step.id == "come" for step in group.sheet.steps):
        return None
    first = next((one for one in group.facts if one.kind in ("began", "came")), None)
    tags, other, paper = (first.tags, first.other, first.paper) if first is not None else ("", "", "")
    return paper_form(here, Pair("paper", paper), tags, other, wrong)
