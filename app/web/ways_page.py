"""Our own ways as a page and a form: what is told, and one plain form to tell another."""

from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

from fastapi import Request

from app.rules.facts import Entry, Way
from app.rules.own import said
from app.rules.sheet import Sheet
from app.rules.terms import TRADES
from app.services.own_ways import DAYS_A_MONTH, Known, NewWay, may_keep, may_shift
from app.web import pages, told
from app.web.frames import frame
from app.web.links import entry_href, sheet_href
from app.web.parts import Choice, Field, Form, Link, Pair, Status
from app.web.typed import Typed
from app.web.words import MONTHS, counted, day

WHAT = {
    "later": ("It comes later", "by so many days, weeks or months"),
    "sooner": ("It comes sooner", "by so many days, weeks or months"),
    "keeps": ("It keeps so long", "what comes of that job, in all"),
    "takes": ("It takes more or less time", "in per cent of the sheet’s minutes"),
    "yields": ("It gives more or less", "in per cent of what the sheet says"),
}
KINDS = {"keeps": "keeps_days", "takes": "minutes_percent", "yields": "yield_percent"}
UNITS = {"days": 1.0, "weeks": 7.0, "months": DAYS_A_MONTH}
SCOPES = {"entry": "Only this one", "variety": "This variety, wherever it stands", "holding": "The whole holding"}
ALL = "all"


def ways_href(sheet: str = "", step: str = "", entry: str = "") -> str:
    """The page, with the form for a sheet, one of its jobs, one of its entries."""
    asked = {name: value for name, value in (("sheet", sheet), ("step", step), ("entry", entry)) if value}
    return f"/garden/ways{'?' + urlencode(asked) if asked else ''}{'#tell' if asked else ''}"


def ways_page(
    request: Request,
    known: Sequence[Known],
    sheets: Sequence[Sheet],
    sheet: Sheet | None,
    entries: Sequence[Entry],
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    status: Status | None,
) -> pages.Ways:
    """The page; ``sheet`` is the one that the form is for, ``entries`` those of it."""
    entry = next((one for one in entries if one.id == typed.get("entry")), None)
    return pages.Ways(
        frame=frame(request, "Our own ways", "garden", status),
        groups=_groups(known),
        empty="" if known else "So far everything here goes as the sheets say.",
        choose=_choose(sheets, sheet),
        heading=f"{sheet.title}: what goes differently here?" if sheet is not None else "",
        form=_form(sheet, entries, typed, errors) if sheet is not None else None,
        back=Link(f"Back to {entry.name}", entry_href(entry.id)) if entry is not None else None,
    )


def _groups(known: Sequence[Known]) -> tuple[pages.WayGroup, ...]:
    found: dict[str, list[Known]] = {}
    for one in known:
        found.setdefault(one.way.sheet, []).append(one)
    return tuple(
        pages.WayGroup(
            some[0].sheet.title if some[0].sheet is not None else name,
            sheet_href(name),
            some[0].sheet.trade if some[0].sheet is not None else "",
            tuple(_line(one) for one in some),
        )
        for name, some in found.items()
    )


def _line(one: Known) -> pages.WayLine:
    many = counted(one.concerns, "entry", "entries") if one.concerns else "nothing put down now"
    return pages.WayLine(
        in_words(one.way, one.sheet, one.entry),
        f"told on {day(one.told)} · {many}",
        Form(f"/garden/ways/{one.way.id}/strike", "Strike it out", quiet=True),
    )


def in_words(way: Way, sheet: Sheet | None, entry: str = "") -> str:
    """A way as a line: "Pick the apples: 3 weeks later with Bramley"."""
    step = told.step_of(sheet, way.step)
    words = said(way).replace("for this one", f"for {entry}" if entry else "for one entry")
    head = step.title if step is not None else "All of it" if way.what != "yield_percent" else ""
    return f"{head}: {words}" if head else words[:1].upper() + words[1:]


def own_pairs(ways: Sequence[Way], sheet: Sheet) -> tuple[Pair, ...]:
    """The ways told of a step, to stand beside what came with the program."""
    return tuple(Pair("your own way", said(way).replace("for this one", "for one entry")) for way in ways if sheet)


def _choose(sheets: Sequence[Sheet], sheet: Sheet | None) -> Form:
    ordered = sorted(sheets, key=lambda one: (TRADES.index(one.trade), one.title.casefold()))
    choices = tuple(Choice(one.id, one.title) for one in ordered)
    value = sheet.id if sheet is not None else ""
    field = Field("sheet", "What is it about?", "choice", value, choices=choices, required=True, id="which")
    return Form("/garden/ways", "Show its jobs", (field,), method="get", quiet=sheet is not None)


def _form(sheet: Sheet, entries: Sequence[Entry], typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    known = next((one for one in entries if one.id == typed.get("entry")), None)
    variety = known.facts.get("variety") if known is not None else None
    steps = {step.id: step.title for step in (*may_shift(sheet), *may_keep(sheet))}
    usual = {
        "step": next(iter(steps), ALL), "what": "later", "unit": "weeks", "scope": "entry" if known else "holding",
        "variety": variety if isinstance(variety, str) else "",
    }  # fmt: skip

    def value(name: str) -> str:
        return typed.get(name) or ("" if errors else usual.get(name, ""))

    fields = [
        Field("step", "Which job", "choice", value("step"), choices=(
            *(Choice(name, title) for name, title in steps.items()), Choice(ALL, "All its jobs, or the whole crop")),
            error=errors.get("step", "")),
        Field("what", "What goes differently", "choice", value("what"), required=True,
              choices=tuple(Choice(name, *words) for name, words in WHAT.items()), error=errors.get("what", "")),
        Field("amount", "How much", "number", typed.get("amount", ""), error=errors.get("amount", ""),
              help="A number of what is chosen below; in per cent for time and yield, where 100 is as the sheet says."),
        Field("unit", "of", "choice", value("unit"), choices=tuple(Choice(one, one) for one in UNITS),
              error=errors.get("unit", "")),
        Field("month", "or it keeps till the end of", "choice", typed.get("month", ""), error=errors.get("month", ""),
              choices=tuple(Choice(str(at), name) for at, name in enumerate(MONTHS, 1))),
        Field("scope", "For whom", "choice", value("scope"), required=True, error=errors.get("scope", ""),
              choices=tuple(Choice(name, text) for name, text in SCOPES.items() if entries or name != "entry")),
    ]  # fmt: skip
    if entries:
        choices = tuple(Choice(one.id, one.name) for one in entries)
        shown = typed.get("entry", "")
        fields.append(Field("entry", "Which of them", "choice", shown, choices=choices, error=errors.get("entry", "")))
    fields += [
        Field("variety", "Variety", value=value("variety"), error=errors.get("variety", ""),
              help="As it is written on its entries, such as Bramley."),
        Field("note", "Why", value=typed.get("note", ""), error=errors.get("note", "")),
    ]  # fmt: skip
    note = "What the law says, and what makes food safe, stays as it is."
    return Form("/garden/ways", "That is how it goes here", tuple(fields), (Pair("sheet", sheet.id),), note=note)


def read_way(form: Typed) -> NewWay:
    """What was typed, as a way that is not yet told.

    Raises: BadInput with a sentence per field.
    """
    what = form.choice("what", WHAT, "Choose what goes differently.")
    scope = form.choice("scope", SCOPES, "Choose for whom.")
    step = form.raw("step")[:80]
    month = form.choice("month", tuple(str(at) for at in range(1, 13))) if what == "keeps" else ""
    note = form.text("note", longest=200)
    variety, entry = form.text("variety", longest=80), form.raw("entry")[:200]
    percent = what in ("takes", "yields")
    amount = form.number("amount", 0, 1000 if percent else 36500, "%" if percent else "")
    unit = form.choice("unit", UNITS)
    form.check()
    if amount is not None and not percent:
        amount = round(amount * UNITS[unit or "days"])
    if amount is not None and what == "sooner":
        amount = -amount
    kind = KINDS.get(what, "days")
    return NewWay(
        scope, form.raw("sheet")[:80], kind, amount, "" if step == ALL else step, entry, variety, note,  # type: ignore[arg-type]
        int(month) if month and amount is None else None,
    )  # fmt: skip
