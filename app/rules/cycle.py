"""One turn of what comes round, and what is asked of all its turns."""

from collections.abc import Callable

from app.rules.ready import ReadyStep
from app.rules.run import Label, Run
from app.rules.spans import Day
from app.rules.tasks import Fate
from app.rules.ticks import Word


class Cycle:
    """One turn of a step that comes round."""

    __slots__ = ("key", "label", "tail", "word")

    def __init__(self, run: Run, one: ReadyStep, label: Label, tail: str, n: int) -> None:
        self.label = (*label, n)
        self.tail = f"{tail}.{n}"
        self.key = run.stem + one.step.id + self.tail
        self.word: Word | None = run.words.get(self.key) if run.words else None


Follow = Callable[[Run, ReadyStep, Cycle], None]
"""Lays what follows within one turn of a step."""


def ticked(run: Run, one: ReadyStep, label: Label) -> list[int]:
    """The cycles of a step in which it, or something that follows in it, is done, in order."""
    if not run.words:
        return []
    depth = len(label)
    names = _beneath(one)
    return sorted(
        word.label[depth]
        for name in names
        for word in run.words_of(name)
        if len(word.label) > depth and word.label[:depth] == label
    )


def _beneath(one: ReadyStep) -> list[str]:
    """A step and all that lies in its cycles, however deep."""
    return [one.step.id, *(name for each in one.members for name in _beneath(each))]


def horizon(run: Run) -> Day:
    """Up to which day turns are laid when nothing else ends them."""
    return run.last + run.margin


def pass_over(run: Run, at: int) -> None:
    """A turn that is laid already is not asked for any more."""
    if len(run.tasks) > at:
        run.tasks[at] = run.tasks[at]._replace(fate=Fate.PASSED_OVER)


def stopped(one: ReadyStep, word: Word | None) -> bool:
    """Whether an answer ended the repeat."""
    again = one.step.again
    return bool(again and again.stop and word is not None and word.done and word.measures.get(again.stop) is True)
