"""Laying an entry: passes over its steps until nothing pushes anything on, and rows for what no longer follows."""

from app.rules.claims import lay_claims
from app.rules.cycles import lay_items
from app.rules.keys import split_key
from app.rules.ready import Ready
from app.rules.run import Run
from app.rules.tasks import Bar, Fate, Task
from app.rules.window import spell_around

_PASSES = 8


def lay(ready: Ready, run: Run) -> list[Bar]:
    """Lay every step of an entry into ``run.tasks``; gives the claims (room, clash) that its dates lay on others.

    Laid again while a step that came too late raises the floor of another. Source: none; a fixed point, since floors
    are only raised.
    """
    for _ in range(_PASSES):
        claims: list[Bar] = []
        lay_items(run, ready.items if run.words else ready.quiet, (), "", claims)
        _keep_whole(ready, run)
        if not run.raised:
            break
        run.begin(len(ready.steps))
    else:
        run.lack("", "", "its dates push one another on without end; look at what must come after what")
    lay_claims(run, ready.claims, claims)
    _stand_alone(ready, run)
    return claims


def _keep_whole(ready: Ready, run: Run) -> None:
    """A chain that must fall inside one season and is not begun waits until all of it fits."""
    for (at, label), steps in run.wholes.items():
        spell = ready.spells[at]
        if any(done for _, _, done in steps) or len(steps) < 2:
            continue
        first = min(steps, key=lambda each: each[1])
        latest = max(day for _, day, _ in steps)
        here, there = spell_around(run, spell, first[1]), spell_around(run, spell, latest)
        if here is not None and there is not None and here != there:
            run.raise_floor(first[0], label, there[0])


def _stand_alone(ready: Ready, run: Run) -> None:
    """Nothing said is hidden: a tick whose task no longer follows is a row of its own."""
    slots = {one.step.id: one for one in ready.steps}
    for key, word in run.words.items():
        tick = word.done or word.let_go
        if tick is None or key in run.seen:
            continue
        parts = split_key(key)
        one = slots.get(parts.step)
        if one is not None and one.step.round is not None:
            continue
        opens, best, closes = tick.shown or (tick.on, tick.on, tick.on)
        done = tick.on if word.done else None
        fate = Fate.ALONE if word.done else Fate.LET_GO
        missed = one.step.missed if one else "passes"
        legal = one is not None and one.step.legal
        sure = run.entry.sure
        run.tasks.append(
            Task(key, run.entry.id, parts.step, parts.label, opens, best, closes, done, fate, missed, 0, sure, legal)
        )
