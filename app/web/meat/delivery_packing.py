"""A delivery that has come as a page: what waits, ticked off cut by cut, and what was packed."""

from collections.abc import Sequence
from datetime import date
from urllib.parse import quote

from app.rules.sheet import Sheet
from app.services.larder.larder import BatchRow
from app.services.meat.delivery import Cut
from app.services.meat.delivery_put import SHEET, Packing
from app.web import pages
from app.web.forms import Wrong
from app.web.larder.forms import KILLED
from app.web.larder.page import batch_href
from app.web.larder.units import much
from app.web.links import entry_href
from app.web.meat.delivery_page import called
from app.web.meat.packing_forms import pack_fields, place_fields
from app.web.parts import Frame, Link, Pair
from app.web.rows import job_href
from app.web.words import away, listed, weekday


def packing_link(sheet: Sheet | None, entry_id: str) -> tuple[Link, ...]:
    """The way from a delivery's entry, or a job of it, to where its cuts are ticked off; nothing for other sheets."""
    known = sheet is not None and sheet.id == SHEET
    return (Link("Its packing, cut by cut", f"/meat/delivery/{quote(entry_id, safe='')}"),) if known else ()


def packing_page(
    frame: Frame, found: Packing, freezers: Sequence[str], imperial: bool, wrong: Wrong, today: date, ident: str
) -> pages.DeliveryPacking:
    """A delivery that has come, or comes: what waits, and what was packed."""
    waiting = found.waiting
    on = date.fromordinal(found.on)
    killed = KILLED.get(found.killed, "").lower()
    how = f" · {'bought' if found.killed == 'bought' else f'killed {killed}'}" if killed else ""
    begun = [cut for cut in found.cuts if cut.way == "cure"]
    return pages.DeliveryPacking(
        frame=frame,
        name=found.entry.name,
        sub=f"{'Comes' if on > today else 'Came'} {weekday(on, today)}{how}",
        due=_waiting_due(found, imperial, today),
        warnings=tuple(said for said in (_warm(found), _too_late(found, today)) if said),
        action=f"/meat/delivery/{found.entry.id}/pack",
        hidden=(Pair("id", ident),),
        error=wrong.errors.get("", ""),
        rows=() if on > today else tuple(_pack_row(cut, found, imperial, wrong, today) for cut in waiting),
        fields=place_fields(found, freezers, wrong, today) if waiting and on <= today else (),
        packed=tuple(
            Pair(cut.line.name.capitalize(), _left(row, imperial), batch_href(row.id))
            for cut in found.cuts if (row := found.batches.get(cut.line.name))
        ),
        cures=tuple(_cure(cut, found, today) for cut in begun if cut.cure in found.cures),
        other=listed(cut.line.name for cut in found.cuts if cut.way == "other"),
        links=(
            Link("It came warm", job_href(f"{found.entry.id}.take-in")),
            Link("Its jobs and dates", entry_href(found.entry.id)),
            Link("Labels", "/larder/labels"), Link("Back to meat", "/meat"),
        ),
        nothing="" if waiting else _nothing(found),
    )  # fmt: skip


def _nothing(found: Packing) -> str:
    """What is to be said when nothing waits to be packed; what goes into the cure may wait still."""
    wait = {cut.cure for cut in found.cuts if cut.way == "cure"}
    left = any(task.step in wait and task.done is None for task in found.laid.tasks)
    return "All that was to be packed is packed." if left else "All of it is dealt with."


def _warm(found: Packing) -> str:
    if all(task.step != "warm" for task in found.laid.tasks):
        return ""
    return "It came warm: cook it today, send it back, or throw it away. It is not cured, minced or frozen."


def _cure(cut: Cut, found: Packing, today: date) -> Pair:
    """The job that puts a cut into the cure, and once that is done, its cure."""
    job = next((task for task in found.laid.tasks if task.step == cut.cure and task.done is None), None)
    if job is None or job.closes is None:
        return Pair(cut.line.name.capitalize(), "its cure", entry_href(found.cures[cut.cure]))
    by = _until(job.closes, today)
    return Pair(cut.line.name.capitalize(), f"into the cure {by[:1].lower()}{by[1:]}", job_href(job.key))


def _waiting_due(found: Packing, imperial: bool, today: date) -> tuple[Pair, ...]:
    by_day: dict[int, list[Cut]] = {}
    for cut in found.waiting:
        by_day.setdefault(cut.fridge_days, []).append(cut)
    return tuple(
        Pair(_until(found.on + days, today), listed(called(cut, imperial) for cut in by_day[days]))
        for days in sorted(by_day)
    )


def _until(last: int, today: date) -> str:
    on = date.fromordinal(last)
    if on < today:
        return f"Its days were over {away(on, today)}"
    return "Today" if on == today else f"By {weekday(on, today)}"


def _too_late(found: Packing, today: date) -> str:
    late = [cut for cut in found.waiting if found.on + cut.fridge_days < today.toordinal()]
    if not late:
        return ""
    return (
        f"{listed(cut.line.name for cut in late).capitalize()}: past the days that raw meat keeps in the fridge. If it"
        " lies there still, throw it out. If it was frozen in time, say on which day."
    )


def _pack_row(cut: Cut, found: Packing, imperial: bool, wrong: Wrong, today: date) -> pages.PackRow:
    pick, kg, packs = pack_fields(cut, imperial, wrong)
    last = found.on + cut.fridge_days
    by = _until(last, today)
    into = "to eat fresh, into the fridge" if cut.way == "fresh" else ""
    return pages.PackRow(cut.line.name.capitalize(), by, last <= today.toordinal(), pick, kg, packs, into)


def _left(row: BatchRow, imperial: bool) -> str:
    return f"{row.number}: {much(row.left or 0, row.unit, imperial)} left, {row.place}"
