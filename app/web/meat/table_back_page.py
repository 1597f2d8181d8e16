"""Back from the table as a page: what is already too late first, then the ways in, then one of them as a chain."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple
from urllib.parse import urlencode

from app.rules.facts import Window
from app.rules.spans import Day
from app.rules.table import Dated
from app.rules.tasks import Clash
from app.rules.ways_in import Goal
from app.services.meat.from_table import Here, WayIn, goal_id, step_of
from app.sheets.library import Library
from app.web import pages, told
from app.web.chain import Chain, Item, lay
from app.web.drawing import Stretch, line
from app.web.forms import fresh
from app.web.links import entry_href, sheet_href
from app.web.parts import Caution, Follow, Form, Frame, Link, Pair
from app.web.words import between, counted, day, month, weekday

BEGINS = {
    "weaners": "Buy weaners and raise them", "store-lambs": "Buy store lambs and finish them",
    "table-birds": "Buy chicks and raise them", "pork-cut-up": "Start from a pig that is killed",
    "meat-box": "Buy a box of meat", "meat-delivery": "Have meat delivered",
}  # fmt: skip
BY_KIND = {
    "cure": "Buy the piece, and start at the cure", "meal": "Counted back by its own sheet",
    "carcase": "Start from the carcase", "batch": "Start at the making", "delivery": "Start when it comes",
    "group": "Take your own to the abattoir", "clutch": "Set the eggs", "flock": "Start with the young birds",
    "birth": "Rear it from birth",
}  # fmt: skip
LINKS = (Link("Out of the freezer for a day", "/meat/thaw"), Link("How long meat keeps, and how hot", "/meat/keeping"),
         Link("Everything that is put down", "/entries"))  # fmt: skip
NOTES = (
    "Each way is planned forward from its latest start, as if nothing else wanted the room, the kit or the hands.",
    "Of what nobody can promise (growth, weather) the likeliest day is taken. Begin sooner, and there is room for it.",
)


class Answer(NamedTuple):
    """What came of it: ways in to a day, what is here, what clashes with the way that is ``chosen`` (-1: none)."""

    on: Day = 0
    ways: Sequence[WayIn] = ()
    here: Sequence[tuple[WayIn, Here]] = ()
    met: Sequence[tuple[Clash, str]] = ()
    chosen: int = -1


def table_back_page(
    frame: Frame, library: Library, form: Form, goal: Goal | None, answer: Answer, query: Mapping[str, str],
    today: date,
) -> pages.TableBack:  # fmt: skip
    """The page."""
    found, chosen = answer.ways, answer.chosen
    says = _Says(today)
    way = found[chosen] if 0 <= chosen < len(found) else None
    pictured = says.pictured(way) if way is not None else (None, "", ())
    return pages.TableBack(
        frame=frame,
        form=form,
        heading=f"{told.name(goal.what)} on {says.day(answer.on)}" if goal is not None and found else "",
        late=tuple(says.too_late(one, goal) for one in found if one.back.late_by and goal is not None),
        here=tuple(says.here(one, each, answer.on) for one, each in answer.here),
        ways=tuple(says.way(one, at, at == chosen, query) for at, one in enumerate(found)),
        shown=begins(way) if way is not None and pictured[2] else "",
        met=tuple(says.met(clash, name) for clash, name in answer.met),
        chain=pictured[0],
        chain_words=pictured[1],
        today=f"{day(today, today)}, today",
        steps=pictured[2],
        cautions=_cautions(library, way) if way is not None else (),
        put=put_form(way, goal, query, today) if way is not None and goal is not None else None,
        notes=NOTES if found else (),
        links=LINKS,
    )


def begins(way: WayIn) -> str:
    """How a way begins, in a few words."""
    first = way.sheets[0]
    return BEGINS.get(first.id) or BY_KIND.get(first.kind) or f"Begin with ‘{first.title}’"


def first_open(found: Sequence[WayIn]) -> int:
    """The way that is shown when none is chosen: the longest there is time for, else the shortest that can be dated."""
    opened = next((at for at, one in enumerate(found) if one.open), None)
    if opened is not None:
        return opened
    return next((at for at in reversed(range(len(found))) if found[at].back.start is not None), -1)


def put_form(way: WayIn, goal: Goal, query: Mapping[str, str], today: date) -> Form | None:
    """A chain to be put down: its first entry, from which the rest follows."""
    back = way.back
    if back.start is None:
        return None
    late = bool(back.late_by) and not goal.meal
    on = today.toordinal() if late else back.start
    hidden = (*(Pair(name, value) for name, value in query.items() if name != "way"),
              Pair("way", way_id(way)), *fresh())  # fmt: skip
    button = "Put it down all the same, begun today" if late else "Put it down"
    rest = f" {counted(len(way.links) - 1, 'more entry', 'more entries').capitalize()} will come of its jobs."
    when = f"‘{way.sheets[0].title}’, on {day(date.fromordinal(on), today)}."
    return Form("/meat/table", button, hidden=hidden, note=f"{when}{rest if len(way.links) > 1 else ''}")


def way_id(way: WayIn) -> str:
    """A way by the sheets and the steps that it goes through."""
    return "~".join(f"{link.sheet}.{link.step}" for link in way.links)


class _Says:
    """What came of it, in words."""

    def __init__(self, today: date) -> None:
        self.today = today

    def day(self, on: Day) -> str:
        return weekday(date.fromordinal(on), self.today)

    def too_late(self, way: WayIn, goal: Goal) -> str:
        """ "Too late to buy weaners: that was to be by 24 July, 39 days ago. Begun today …"."""
        back = way.back
        was = f"{begins(way)}: too late. It was to begin by {self.day(back.begin_by or 0)}"
        ago = f"{was}, {counted(back.late_by, 'day')} ago."
        if back.from_today is None:
            return ago
        behind = back.from_today - (back.ready or back.from_today)
        return f"{ago} Begun today it is there on {self.day(back.from_today)}, {counted(behind, 'day')} after."

    def way(self, way: WayIn, at: int, here: bool, query: Mapping[str, str]) -> pages.WayInLine:
        back = way.back
        titles = "; ".join(sheet.title for sheet in way.sheets)
        if back.start is None or back.begin_by is None:
            return pages.WayInLine(begins(way), titles, "", f"can’t be dated: {back.reason}", "", True, here)
        left = back.begin_by - self.today.toordinal()
        state = f"{counted(back.late_by, 'day')} too late" if back.late_by else "today" if not left else (
            f"in {counted(left, 'day')}"
        )  # fmt: skip
        href = f"/meat/table?{urlencode({**query, 'way': way_id(way)})}#way-h"
        return pages.WayInLine(begins(way), titles, self.day(back.begin_by), state, href, bool(back.late_by), here)

    def met(self, clash: Clash, name: str) -> str:
        """What two want at a time, in a sentence, with the way out."""
        when = between(date.fromordinal(clash.first), date.fromordinal(clash.last), self.today)
        return f"{clash.says} With {name}: {when}. Begin sooner, or make room."

    def here(self, way: WayIn, one: Here, on: Day) -> pages.WayInLine:
        """What stands already: when it would be there by it, and what is still to be said of it."""
        titles = "; ".join(sheet.title for sheet in way.sheets)
        behind = one.ready - on
        late = f"{counted(behind, 'day')} after"
        state = late if behind > 0 else f"{counted(-behind, 'day')} before" if behind else "on the day"
        href = f"{entry_href(one.say)}/change" if one.say else entry_href(one.entry.id)
        wanted = ", ".join(str(value) for link in way.links for value in link.facts.values()) if one.say else ""
        if wanted:
            state = f"{state}, once it is said: {wanted}"
        return pages.WayInLine(told.name(one.entry.name), titles, self.day(one.ready), state, href, behind > 0)

    def pictured(self, way: WayIn) -> tuple[Chain | None, str, tuple[Follow, ...]]:
        """The chain drawn, told and listed: what must be done; what merely reminds is left to the month."""
        lines = [one for one in way.back.steps if one.must]
        if not lines:
            return None, "", ()
        now = self.today.toordinal()
        first = min(one.opens for one in lines)
        last = max(way.back.ready or 0, *(one.best for one in lines))
        stretch = Stretch(first, max(last, first + 27), now)
        keys = [one for one in lines if _is_key(way, one)]
        items = [
            Item(f"{one.at}.{one.step}", step_of(way, one).title, "", one.opens, one.best, min(one.closes, last))
            for one in keys
        ]
        drawn = lay(items, first, last, now)
        numbers = _numbers(items) if drawn.numbered else {}
        words = f"{counted(len(lines), 'job').capitalize()} from {month(date.fromordinal(first))} to " + month(
            date.fromordinal(last)
        )
        return drawn, f"{words}.", tuple(self._follow(way, one, stretch, now, numbers) for one in lines)

    def _follow(self, way: WayIn, one: Dated, stretch: Stretch, now: Day, numbers: Mapping[str, str]) -> Follow:
        past = one.closes < now
        when = told.in_words(Window(one.opens, one.best, one.closes), self.today)
        return Follow(
            step_of(way, one).title, sheet_href(one.sheet, one.step), when,
            line(stretch, one.opens, min(one.closes, stretch.last), (one.best,)),
            numbers.get(f"{one.at}.{one.step}", ""),
            note="its time is past" if past else "", trouble=past,
        )  # fmt: skip


def _is_key(way: WayIn, one: Dated) -> bool:
    """What stands in the picture: beginnings, what is booked, killed, cut, cured, smoked, makers, the end."""
    step = step_of(way, one)
    first = next(each for each in way.back.steps if each.at == one.at and each.must)
    booked = any(ask.kind == "date" for ask in step.asks)
    return one == first or one.step == way.links[one.at].step or bool(step.act or step.appointment or booked)


def _numbers(items: Sequence[Item]) -> dict[str, str]:
    ordered = dict.fromkeys(one.step for one in sorted(items, key=lambda i: (i.opens, i.best, i.closes, i.step)))
    return {step: str(at + 1) for at, step in enumerate(ordered)}


def _cautions(library: Library, way: WayIn) -> tuple[Caution, ...]:
    """Those of its sheets; each job carries its own besides."""
    return told.cautions(library, [name for sheet in way.sheets for name in sheet.cautions])


def query_of(goal: Goal, typed: Mapping[str, str], way: str = "") -> dict[str, str]:
    """What was asked, as it stands in the address."""
    kept = {name: value for name, value in typed.items() if value and (name == "day" or name.startswith("f-"))}
    return {"what": goal_id(goal), **kept, **({"way": way} if way else {})}
