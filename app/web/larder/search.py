"""The search across everything as a page."""

from datetime import date

from app.services.search import Everything
from app.web import pages
from app.web.larder.page import batch_href, left_of, name_of
from app.web.links import entry_href
from app.web.parts import Field, Form, Frame, Pair
from app.web.rows import job_href
from app.web.words import day

LONGEST = 200


def search_page(frame: Frame, words: str, found: Everything, today: date, imperial: bool = False) -> pages.SearchPage:
    """What was found for some words, in groups; the box stands above it."""
    every = (
        pages.LarderPlace("In the larder", tuple(
            Pair(row.number, f"{name_of(row)}: {'none left' if row.gone else left_of(row, imperial)}{_in(row.place)}",
                 batch_href(row.id, row.store))
            for row in found.batches)),
        pages.LarderPlace("What there is", tuple(
            Pair(one.place or "entry", one.title, entry_href(one.entry)) for one in found.entries if not one.key)),
        pages.LarderPlace("Jobs to come", tuple(
            Pair(_on(one.best, today), one.title, job_href(one.key)) for one in found.entries if one.key)),
        pages.LarderPlace("Remarked of jobs", tuple(
            Pair(_on(one.on, today), f"{one.says} – {one.title}: {one.entry}" if one.title else one.says,
                 job_href(one.of) if one.title else "")
            for one in found.remarks)),
        pages.LarderPlace("Noted of batches", tuple(
            Pair(_on(one.on, today), f"{one.says} – {one.title}, batch {one.entry}", batch_href(one.of))
            for one in found.said)),
        pages.LarderPlace("How it’s done", tuple(
            Pair("sheet", title, f"/sheet/{ident}") for ident, title in found.sheets)),
    )  # fmt: skip
    groups = tuple(group for group in every if group.things)
    box = Form("/search", "Find", (Field("q", "Search everything", "search", words),), method="get", quiet=True)
    nothing = "Nothing here has all of those words: try fewer of them." if words.strip() and not groups else ""
    return pages.SearchPage(frame, box, groups, nothing)


def _in(place: str) -> str:
    return f", {place}" if place else ""


def _on(number: int | None, today: date) -> str:
    return "no day yet" if number is None else day(date.fromordinal(number), today)
