"""Kit as a page: what there is, when it is in use, and the form that puts it down or right."""

from collections.abc import Iterable, Sequence
from datetime import date

from app.rules.spans import Day
from app.services.larder.kit_claims import KINDS
from app.services.larder.kit_uses import KitUse
from app.services.larder.larder import KIT_KINDS, KitRow
from app.web import pages
from app.web.forms import Wrong, field
from app.web.links import entry_href
from app.web.parts import Choice, Form, Frame, Pair
from app.web.rows import job_href
from app.web.typed import LONGEST_NOTE, Typed
from app.web.words import amount, between, counted, day

WAY_OUT = "Move one of the two on its own page, or do them one after the other."


def kit_form(wrong: Wrong, row: KitRow | None = None) -> Form:
    """A freezer, a dryer, a smoker: a new one, or what is so of one that is there."""
    which = "kit" if row is None or row.id is None else f"kit-{row.id}"
    typed, errors = wrong.of(which)
    known = row or KitRow(name="", kind="")
    kinds = tuple(Choice(kind, kind.capitalize()) for kind in KIT_KINDS)
    fields = (
        field("kind", "What it is", typed, errors, known.kind, kind="list", choices=kinds, required=True,
              id=f"{which}-k"),
        field("name", "What you call it", typed, errors, known.name, required=True, id=f"{which}-n"),
        field("litres", "It holds, if a freezer, fridge or pan", typed, errors, _plain(known.litres), kind="number",
              unit="l", id=f"{which}-l"),
        field("trays", "Trays, if a dryer", typed, errors, _plain(known.trays), kind="count", id=f"{which}-t"),
        field("tray_m2", "One tray", typed, errors, _plain(known.tray_m2), kind="number", unit="m²", id=f"{which}-m"),
        field("watts", "It draws", typed, errors, _plain(known.watts), kind="number", unit="W", id=f"{which}-w"),
        field("ends", "Gone since", typed, errors, known.ends.isoformat() if known.ends else "", kind="date",
              help="Sold, broken or lent for good: it is planned with no longer.", id=f"{which}-e") if row else None,
        field("note", "Note", typed, errors, known.note, id=f"{which}-o"),
    )  # fmt: skip
    asked = tuple(one for one in fields if one is not None)
    if row is None or row.id is None:
        return Form("/kit", "Put it down", asked)
    return Form("/kit", "Put it right", asked, (Pair("kit", str(row.id)),), quiet=True)


def read_kit(form: Typed, ident: int | None) -> KitRow:
    """A piece of kit as it was typed; ``ident`` is that of the one that is put right.

    Raises: BadInput.
    """
    kind = form.choice("kind", KIT_KINDS, "What is it?")
    name = form.text("name", "A name tells it from the others.", 60)
    litres = form.number("litres", 1, 10_000, "l")
    trays = form.number("trays", 1, 500)
    if trays is not None and trays != round(trays):
        form.fault("trays", "A whole number is wanted.")
    tray_m2, watts = form.number("tray_m2", 0.01, 20, "m²"), form.number("watts", 1, 20_000, "W")
    ends, note = form.day("ends"), form.text("note", longest=LONGEST_NOTE)
    form.check()
    return KitRow(
        id=ident, name=name, kind=kind, litres=litres, trays=None if trays is None else round(trays), tray_m2=tray_m2,
        watts=watts, ends=None if ends is None else date.fromordinal(ends), note=note,
    )  # fmt: skip


def kit_page(
    frame: Frame, things: Sequence[KitRow], uses: Iterable[KitUse], clashes: tuple[str, ...], wrong: Wrong, today: date
) -> pages.Kit:
    """Kit, and when it is in use."""
    wanted = [use._replace(kit=KINDS.get(use.kit, use.kit)) for use in uses]
    shown = [_thing(row, wanted, wrong, today) for row in things]
    there = tuple(one for one in shown if not one.ended)
    kinds = {row.kind for row in things if row.ends is None or row.ends >= today}
    lacking = sorted({use.kit for use in wanted if use.kit in KIT_KINDS} - kinds)
    lacks = tuple(f"No {kind} is put down, and jobs of the next four months want one." for kind in lacking)
    return pages.Kit(
        frame=frame,
        things=there,
        ended=tuple(one for one in shown if one.ended),
        uses=tuple(_use(use, today, f"{use.kit}: ") for use in wanted if use.kit not in kinds),
        clashes=(*clashes, *lacks),
        way_out=WAY_OUT if clashes else "",
        add=kit_form(wrong),
        open=wrong.which == "kit",
    )


def _thing(row: KitRow, uses: Iterable[KitUse], wrong: Wrong, today: date) -> pages.KitThing:
    anchor = f"kit-{row.id}"
    ended = f"gone since {day(row.ends, today)}" if row.ends is not None and row.ends < today else ""
    mine = () if ended else tuple(_use(use, today) for use in uses if use.kit in (row.kind, row.name))
    holds = f"{_holds(row)} · until {day(row.ends, today)}" if row.ends is not None and not ended else _holds(row)
    return pages.KitThing(row.name, holds, anchor, kit_form(wrong, row), wrong.which == anchor, mine, ended)


def _use(use: KitUse, today: date, before: str = "") -> Pair:
    when = between_days(use.first, use.last, today)
    if not use.key:
        return Pair(when, f"{before}{use.name}", entry_href(use.entry))
    return Pair(when, f"{before}{use.title}: {use.name}", job_href(use.key))


def between_days(first: Day, last: Day, today: date) -> str:
    """Two days as a stretch."""
    return between(date.fromordinal(first), date.fromordinal(last), today)


def _holds(row: KitRow) -> str:
    parts = (
        row.kind,
        amount(row.litres, "l") if row.litres else "",
        counted(row.trays, "tray") if row.trays else "",
        f"{amount(row.tray_m2, 'm2')} each" if row.tray_m2 else "",
        amount(row.watts, "W") if row.watts else "",
        row.note,
    )
    return " · ".join(part for part in parts if part)


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:.10g}"
