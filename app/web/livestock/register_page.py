"""The medicine book and the movement record: pages to print, tables to give out; and animals in from a table."""

from collections.abc import Callable, Sequence
from datetime import date

from app.rules.spans import Day
from app.services.livestock.groups import Group
from app.services.livestock.medicine import MedicineRow
from app.services.livestock.registers import Dosed, Went
from app.services.livestock.taking_in import COLUMNS, Looked, Read
from app.web import pages
from app.web.forms import Wrong, field
from app.web.livestock.words import SAID, species
from app.web.pages.livestock import RegisterTable
from app.web.parts import Choice, Form, Frame, Link, Pair
from app.web.words import counted, day

DOSES = ("date", "to whom", "medicine and batch", "dose", "by whom", "withdrawal", "clear from", "whose figure", "note")
BOUGHT = ("bought on", "medicine", "batch", "how much", "from whom", "expires", "opened on", "finished on", "how")
MOVES = ("date", "on or off", "what", "species", "how many", "group", "from or to", "tags", "licence or notice", "note")
IN_COLUMNS = (
    Pair("tag", "or a name; one of them is wanted"), Pair("name", ""), Pair("group", "by its name here"),
    Pair("sex", "female, male, castrated; ewe, ram, wether and the like"), Pair("born", "a day, 2027-03-12"),
    Pair("mother", "dam"), Pair("father", "sire"), Pair("marked on", "a day"), Pair("cull", "yes or no"),
    Pair("note", "what you like"),
)  # fmt: skip
SHOWN = 50
WHOSE = {True: "the vet’s own, off the label", False: "the label’s", None: ""}
_KEEP = (
    "Medicine records are kept for five years after the animal was given them or the medicine was disposed of; other"
    " records of treatment and deaths for three (summaries of trading standards). Check your local rules."
)
_WHERE = "What came is put down on the page of all animals, what left on that of its group: holding, tags and number."
_MOVES = (
    "Kept for three years for sheep, goats and pigs, and ten for cattle; written within 36 hours, reported within three"
    " days where the nation asks it (summaries of GOV.UK and councils). Check your local rules: this page does not"
    " report anything to anybody."
)


def medicine_rows(doses: Sequence[Dosed], *, plain: bool = False) -> list[tuple[str, ...]]:
    """The doses, a row each; ``plain`` for a table that programs read: days in ISO 8601."""

    def when(at: int | None) -> str:
        return "" if at is None else date.fromordinal(at).isoformat() if plain else day(date.fromordinal(at))

    return [
        (
            when(one.on), f"{one.group}: {one.animals}" if one.animals else f"{one.group}, all", one.product, one.given,
            one.by, one.figures or (f"{one.days} days" if one.days is not None else "not said"),
            _clear(one, when),
            WHOSE[one.vet], one.note,
        )
        for one in doses
    ]  # fmt: skip


def _clear(one: Dosed, when: Callable[[Day | None], str]) -> str:
    """From when it is clear: one day where meat and what else they give have the same, else each of them."""
    days = [when(day) or "not until its figure is said" for day in one.clears or (one.clear,)]
    if len(set(days)) == 1:
        return days[0]
    return f"meat {days[0]}, eggs or milk {days[1]}"


def bought_rows(rows: Sequence[MedicineRow], *, plain: bool = False) -> list[tuple[str, ...]]:
    """What came into the cupboard, and how it ended, a row each."""

    def when(at: date | None) -> str:
        return "" if at is None else at.isoformat() if plain else day(at)

    return [
        (
            when(row.bought_on), row.name, row.batch, f"{row.bought:g} {row.unit or ''}".strip() if row.bought else "",
            row.supplier, when(row.expires), when(row.opened_on), when(row.finished_on), row.finished_how,
        )
        for row in rows
    ]  # fmt: skip


def movement_rows(rows: Sequence[Went], *, plain: bool = False) -> list[tuple[str, ...]]:
    """The movements, a row each."""
    return [
        (
            date.fromordinal(one.on).isoformat() if plain else day(date.fromordinal(one.on)), one.way,
            SAID.get(one.what, one.what).lower(), species(one.species).lower(), str(one.number), one.group, one.other,
            one.tags, one.paper, one.note,
        )
        for one in rows
    ]  # fmt: skip


def medicine_register(
    frame: Frame, holding: str, doses: Sequence[Dosed], bought: Sequence[MedicineRow], today: date
) -> pages.LivestockRegister:  # fmt: skip
    """The medicine book."""
    given, got = tuple(medicine_rows(doses)), tuple(bought_rows(bought))
    return pages.LivestockRegister(
        frame=frame,
        name="Medicine book",
        sub=f"{holding}, as of {day(today)}",
        tables=(
            RegisterTable("Given", DOSES, given, "Nothing was given."),
            RegisterTable("Bought and finished", BOUGHT, got, "Nothing was bought."),
        ),
        notes=(_KEEP,),
        csv=Link("As a table (CSV)", "/livestock/register/medicine.csv"),
        links=(Link("What was bought, as a table", "/livestock/register/bought.csv"),
               Link("The cupboard", "/livestock/medicine"), Link("Movements", "/livestock/register/movements"),
               Link("All animals", "/livestock")),
    )  # fmt: skip


def movement_register(frame: Frame, holding: str, rows: Sequence[Went], today: date) -> pages.LivestockRegister:
    """The movement record."""
    return pages.LivestockRegister(
        frame=frame,
        name="Movement record",
        sub=f"{holding}, as of {day(today)}",
        tables=(RegisterTable("On and off", MOVES, tuple(movement_rows(rows)), "Nothing has moved."),),
        notes=(_WHERE, _MOVES),
        csv=Link("As a table (CSV)", "/livestock/register/movements.csv"),
        links=(Link("Medicine book", "/livestock/register/medicine"), Link("All animals", "/livestock")),
    )  # fmt: skip


def in_page(
    frame: Frame, groups: Sequence[Group], wrong: Wrong, looked: Looked | None, text: str, usual: str
) -> pages.LivestockIn:  # fmt: skip
    """Choose a table of animals, or what was understood of it."""
    typed, errors = wrong.of("in")
    choices = tuple(Choice(one.entry.id, one.entry.name) for one in groups)
    said = errors.get("text", "")
    fields = (
        field("group", "The group of rows that name none", typed, errors, usual, kind="list", choices=choices),
        field("text", "Or paste it here", {"text": text} if text else typed, errors if text else {}, kind="lines"),
    )
    form = Form("/livestock/in", "Look at it", fields)
    if looked is None:
        return pages.LivestockIn(frame, form, "" if text else said, IN_COLUMNS)
    count = len(looked.rows)
    sent = (Pair("text", text), Pair("group", usual))
    take = Form("/livestock/in/take", f"Take in {counted(count, 'animal')}", hidden=sent)
    rows = tuple(_in_row(one) for one in looked.rows[:SHOWN])
    return pages.LivestockIn(
        frame, form, "", IN_COLUMNS, _in_says(looked),
        tuple(Pair(f"line {number}", reason) for number, reason in looked.faults[:SHOWN]),
        COLUMNS, rows, take if count else None,
    )  # fmt: skip


def _in_says(looked: Looked) -> tuple[str, ...]:
    count = len(looked.rows)
    says = (
        f"{counted(count, 'animal').capitalize()} can be taken in." if count else "No row of it can be taken in.",
        f"{counted(looked.twice, 'row').capitalize()} stood there twice, and counts once." if looked.twice else "",
        f"Here already, and left alone: {', '.join(looked.here[:8])}{'…' if len(looked.here) > 8 else ''}."
        if looked.here else "",
        f"{counted(len(looked.faults), 'row').capitalize()} can’t be read; the others can be taken in without."
        if looked.faults else "",
    )  # fmt: skip
    return tuple(text for text in says if text)


def _in_row(one: Read) -> tuple[str, ...]:
    typed = one.typed
    days = tuple("" if at is None else date.fromordinal(at).isoformat() for at in (typed.born, typed.marked_on))
    return (typed.tag, typed.name, one.group, typed.sex, days[0], typed.dam, typed.sire, days[1],
            "yes" if typed.cull else "", typed.note)  # fmt: skip
