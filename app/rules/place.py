"""Where on a sheet something stands, and what was said of a step as seen from there."""

from collections.abc import Callable

from app.rules.run import Run
from app.rules.sheet import Sheet
from app.rules.ticks import Word


class Place:
    """Where on a sheet a moment stands: the step it serves, and how the others are found from there."""

    def __init__(self, sheet: Sheet, step: str) -> None:
        self.sheet = sheet
        self.step = step
        self.slot = {each.id: at for at, each in enumerate(sheet.steps)}
        self.depth = len(sheet.scopes.get(step, ()))

    def depth_of(self, step: str) -> int:
        """How many cycles a step lies in."""
        return len(self.sheet.scopes.get(step, ()))


def word_of(step: str, place: Place) -> Callable[[Run], Word | None]:
    """What stands for a step: in my own cycle, or the latest doing where it has cycles beneath mine.

    Source: none; "of the same cycle" as DEVELOPERS.md puts it.
    """
    depth = place.depth_of(step)
    if depth <= place.depth:
        return lambda run: run.word(step, depth)
    mine = place.depth

    def latest(run: Run) -> Word | None:
        label = run.label_at(mine)
        found = [word for word in run.words_of(step) if word.label[:mine] == label]
        return found[-1] if found else None

    return latest
