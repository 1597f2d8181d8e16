"""What is being kept, as a page: answers first, then the way to plan a glut."""

from datetime import date
from urllib.parse import urlencode

from app.rules.state import State
from app.services.preserving.preserving import Coming, Preserving, UnderWay
from app.web import pages, told
from app.web.links import entry_href
from app.web.parts import Frame, Link, Pair
from app.web.preserving.drying_page import answer_of
from app.web.preserving.glut_page import asked_form
from app.web.rows import job_href
from app.web.weights import weight
from app.web.words import counted, day


def preserving_page(frame: Frame, found: Preserving, imperial: bool, zone: str, today: date) -> pages.Preserving:
    """The page."""
    groups = (
        ("dryer", "In the dryer", found.dryer),
        ("working", "On its way", found.working),
        ("jars", "Jars to look at", found.packed),
    )
    some = any(batches for _, _, batches in groups)
    return pages.Preserving(
        frame=frame,
        sub=_sub(found, today),
        groups=tuple(
            pages.BatchGroup(ident, heading, tuple(_batch(one, imperial, zone, today) for one in batches))
            for ident, heading, batches in groups
            if batches
        ),
        coming=tuple(_coming(one, imperial, today) for one in found.coming),
        form=asked_form({}, {}, imperial, today),
        links=(
            Link("Bottling times", "/preserving/bottling"), Link("Sums", "/preserving/sums"),
            Link("The dryer, and powder", "/preserving/drying"), Link("Put a batch down", "/add?trade=preserving"),
            Link("Kit", "/kit"), Link("Larder", "/larder"),
        ),
        empty="" if some else "Nothing is in the dryer, in a crock or waiting to be looked at.",
    )  # fmt: skip


def _sub(found: Preserving, today: date) -> str:
    parts = []
    if found.dryer_free is not None:
        parts.append(f"The dryer is free from {day(date.fromordinal(found.dryer_free), today)}")
    elif found.room.dryers:
        parts.append("The dryer is free")
    if found.room.free_l is not None:
        parts.append(f"about {found.room.free_l:.0f}\u00a0litres of freezer are free")
    return "; ".join(parts)


def _batch(one: UnderWay, imperial: bool, zone: str, today: date) -> pages.BatchOnItsWay:
    step = told.step_of(one.sheet, one.next.step)
    return pages.BatchOnItsWay(
        name=told.name(one.entry.name),
        href=entry_href(one.entry.id),
        sub=answer_of(one.drying, imperial, zone, today) if one.drying is not None else "",
        next=Link(step.title if step is not None else one.next.step, job_href(one.next.key)),
        when=told.days(one.next.opens, one.next.best, one.next.closes, today),
        trouble=one.state in (State.LATE, State.CLOSING),
    )


def _coming(one: Coming, imperial: bool, today: date) -> Pair:
    said = f"{counted(one.pickings, 'picking')} within a fortnight, next {day(date.fromordinal(one.first), today)}"
    query = {"crop": one.crop, "on": date.fromordinal(one.first).isoformat()}
    if one.picked_kg:
        said = f"{said}; {weight(one.picked_kg, imperial)} in the last two weeks"
    return Pair(f"{one.crop[:1].upper()}{one.crop[1:]}", said, f"/preserving/glut?{urlencode(query)}")
