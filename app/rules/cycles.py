"""What comes round: each turn of it with the steps that follow from it."""

from app.rules.claims import lay_claims
from app.rules.cycle import Cycle
from app.rules.every import lay_every
from app.rules.jobs import lay_one
from app.rules.ready import ReadyStep
from app.rules.run import Label, Run
from app.rules.tasks import Bar
from app.rules.yearly import lay_yearly


def lay_items(run: Run, items: list[ReadyStep], label: Label, tail: str, claims: list[Bar]) -> None:
    """Lay steps in order, those that come round cycle by cycle."""

    def follow(run: Run, one: ReadyStep, cycle: Cycle) -> None:
        if one.members or one.claims:
            run.tails[one.depth] = cycle.tail
            lay_items(run, one.members if run.words else one.quiet, cycle.label, cycle.tail, claims)
            lay_claims(run, one.claims, claims)

    for one in items:
        if one.step.round is not None:
            continue
        if one.step.again is None:
            lay_one(run, one, label, tail)
            continue
        _forget(run, one)
        if one.when is not None and not one.when(run):
            continue
        if one.yearly is not None:
            lay_yearly(run, one, label, tail, follow)
        else:
            lay_every(run, one, label, tail, follow)


def _forget(run: Run, head: ReadyStep) -> None:
    """Cycles begin: what an outer cycle's earlier turn left is no first or last of this one."""
    for one in (head, *head.members):
        run.first[one.slot] = run.latest[one.slot] = run.day[one.slot] = None
        run.lost[one.slot] = False
        if one is not head and one.step.again is not None:
            _forget(run, one)
