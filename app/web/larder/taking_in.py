"""Taking in a table of batches, as two pages: what was sent, and what was understood of it."""

from datetime import date

from app.services.larder.csv_in import Looked, Read
from app.web import pages
from app.web.larder.forms import KILLED
from app.web.larder.units import much
from app.web.parts import Field, Form, Frame, Link, Pair
from app.web.words import count as say_count
from app.web.words import counted, day

SHOWN = 50
COLUMNS = (
    Pair("what", "its name; wanted"),
    Pair("made", "a day, 2027-03-12; wanted"),
    Pair("left", "how much there is; wanted"),
    Pair("unit", "kg, jars, packs; wanted"),
    Pair("keeps until", "a day"),
    Pair("place", "freezer, shelf, clamp"),
    Pair("killed", "home, abattoir or bought"),
    Pair("note", "what you like"),
    Pair("variety", "its variety"),
    Pair("there were", "how much was made, if some is gone"),
    Pair("pack kg", "what a pack weighs"),
    Pair("basis", "safety or quality: of what the day is"),
    Pair("state", "used up, for what is only to be remembered"),
    Pair(
        "number", "that of its jars, kept where no batch here has it; a row whose batch is here already is left alone"
    ),
)


def in_page(frame: Frame, text: str, error: str) -> pages.LarderIn:
    """Choose a file, or paste it."""
    pasted = Field("text", "Or paste it here", "lines", text, error=error if text else "")
    return pages.LarderIn(frame, Form("/larder/in", "Look at it", (pasted,)), "" if text else error, COLUMNS)


def looked_page(frame: Frame, text: str, looked: Looked) -> pages.LarderLooked:
    """What was understood; nothing is changed yet."""
    count = len(looked.rows)
    says = [
        f"{counted(count, 'batch', 'batches').capitalize()} can be taken in{_gone(looked)}."
        if count else "No row of it can be taken in.",
        f"{counted(looked.twice, 'row').capitalize()} stood there twice, and counts once." if looked.twice else "",
        f"{counted(len(looked.here), 'batch', 'batches').capitalize()} {'is' if len(looked.here) == 1 else 'are'} here"
        f" already, and left alone: {', '.join(looked.here[:8])}{'…' if len(looked.here) > 8 else ''}."
        if looked.here else "",
    ]  # fmt: skip
    button = f"Take in {counted(count, 'batch', 'batches')}"
    return pages.LarderLooked(
        frame=frame,
        says=tuple(text for text in says if text),
        faults=tuple(Pair(f"line {number}", reason) for number, reason in looked.faults[:SHOWN]),
        heads=("what", "made", "keeps until", "left", "place", "killed", "note"),
        rows=tuple(_row(one) for one in looked.rows[:SHOWN]),
        rows_note=f"The first {SHOWN} of {count}." if count > SHOWN else "",
        take=Form("/larder/in/take", button, hidden=(Pair("text", text),)) if count else None,
        back=Link("Choose another", "/larder/in"),
    )


def _gone(looked: Looked) -> str:
    many = sum(1 for one in looked.rows if one.left == 0)
    return f", {say_count(many)} of them used up" if many else ""


def _row(one: Read) -> tuple[str, ...]:
    until = "" if one.keeps_until is None else day(date.fromordinal(one.keeps_until))
    made, killed = day(date.fromordinal(one.made_on)), KILLED.get(one.killed, "").lower()
    left = much(one.amount if one.left is None else one.left, one.unit)
    what = f"{one.what} ‘{one.variety}’" if one.variety else one.what
    return what, made, until, left, one.place, killed, one.note
