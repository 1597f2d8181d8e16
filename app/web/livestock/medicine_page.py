"""The medicine cupboard, one bottle of it, and a treatment, as pages."""

from collections.abc import Mapping, Sequence
from datetime import date

from app.services.livestock.animals import AnimalRow
from app.services.livestock.groups import Group
from app.services.livestock.medicine import COMMODITIES, Bottle, MedicineRow, figure
from app.services.livestock.registers import Dosed
from app.services.livestock.treat import over_by
from app.sheets.library import Library
from app.web import pages, told
from app.web.forms import Wrong
from app.web.livestock.medicine_forms import bottle_form, finish_form, treat_form
from app.web.livestock.page import bottle_says
from app.web.livestock.words import capital, on
from app.web.pages.livestock import BottleLine
from app.web.parts import Frame, Link, Pair
from app.web.rows import job_href
from app.web.words import SP, amount

CAUTIONS = ("medicines", "casualty", "law-changes")
TREAT = Link("Treat a group", "/livestock/medicine/treat")
LINKS = (
    Link("Medicine book", "/livestock/register/medicine"), Link("All animals", "/livestock"),
)  # fmt: skip
_UNIT = {"meat": "days", "milk": "hours", "eggs": "days"}


def medicine_page(
    frame: Frame, bottles: Sequence[Bottle], library: Library, wrong: Wrong, today: date
) -> pages.LivestockMedicine:  # fmt: skip
    """The cupboard."""
    form, groups = bottle_form(None, wrong, today)
    return pages.LivestockMedicine(
        frame=frame,
        here=tuple(_line(one, today) for one in bottles if one.row.finished_on is None),
        finished=tuple(_line(one, today) for one in bottles if one.row.finished_on is not None),
        treat=TREAT,
        form=form,
        groups=groups,
        open=wrong.which == "bottle" or not bottles,
        links=(TREAT, *LINKS),
        cautions=told.cautions(library, CAUTIONS),
        empty="" if bottles else "The cupboard is empty.",
    )


def bottle_page(
    frame: Frame, bottle: Bottle, given: Sequence[Dosed], library: Library, wrong: Wrong, today: date
) -> pages.LivestockBottle:  # fmt: skip
    """One medicine."""
    form, groups = bottle_form(bottle.row, wrong, today)
    return pages.LivestockBottle(
        frame=frame,
        name=bottle.row.name,
        says=capital(bottle_says(bottle, today)),
        trouble=bottle.past,
        form=form,
        groups=groups,
        finish=finish_form(bottle.row, wrong, today),
        given=tuple(Pair(on(one.on, today), _given(one), job_href(one.key)) for one in given),
        links=(Link("Treat with it", _treat(bottle.row)), Link("The cupboard", "/livestock/medicine"), *LINKS),
        cautions=told.cautions(library, CAUTIONS),
    )  # fmt: skip


def treat_page(
    frame: Frame, groups: Sequence[Group], group: Group | None, bottles: Sequence[MedicineRow],
    bottle: MedicineRow | None, animals: Sequence[AnimalRow], library: Library, wrong: Wrong, today: date,
) -> pages.LivestockTreat:  # fmt: skip
    """A treatment."""
    form, parts = treat_form(groups, group, bottles, bottle, animals, wrong, today)
    over = over_by(bottle, today.toordinal()) if bottle is not None else ""
    nothing = "There is no group to be treated; put one down first." if not groups else ""
    return pages.LivestockTreat(
        frame=frame,
        form=form,
        groups=parts,
        warnings=tuple(text for text in (over, nothing) if text),
        links=(Link("The cupboard", "/livestock/medicine"), *LINKS),
        cautions=told.cautions(library, CAUTIONS[:1]),
    )


def figures_of(row: MedicineRow) -> tuple[Pair, ...]:
    """The withdrawal periods that stand on a medicine: the label's, and beside it the vet's own."""
    found = []
    for of in COMMODITIES:
        label, vets = figure(row, of, vet=False), figure(row, of, vet=True)
        says = (
            f"{label:g}{SP}{_UNIT[of]}" if label is not None else "no figure on the label: not clear until the vet says"
        )
        own = f"; the vet’s own, off the label: {vets:g}{SP}{_UNIT[of]}" if vets is not None else ""
        found.append(Pair(of, f"{says}{own}"))
    return tuple(found)


def _line(one: Bottle, today: date) -> BottleLine:
    row = one.row
    left = f"{amount(row.amount_left, row.unit or '')} left" if row.amount_left is not None else ""
    parts = (f"batch {row.batch}" if row.batch else "", left, row.supplier, row.note)
    return BottleLine(
        row.name, f"/livestock/medicine/bottle/{row.id}", " · ".join(part for part in parts if part),
        capital(bottle_says(one, today)), figures_of(row), one.past,
        Link("Treat with it", _treat(row)) if row.finished_on is None else None,
    )  # fmt: skip


def _given(one: Dosed) -> str:
    return f"{one.animals or one.group}{f', {one.given}' if one.given else ''}"


def _treat(row: MedicineRow) -> str:
    return f"/livestock/medicine/treat?medicine={row.id}"


def by_id(rows: Sequence[MedicineRow]) -> Mapping[str, MedicineRow]:
    """Medicines by their ids."""
    return {row.id: row for row in rows}
