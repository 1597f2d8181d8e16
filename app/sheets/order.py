"""In which cycles each step lies, and the order in which the steps of a sheet can be laid."""

from collections.abc import Mapping
from heapq import heapify, heappop, heappush
from typing import NamedTuple

from app.rules.sheet import BarRule
from app.rules.spans import length_in_days, words
from app.rules.step import Step
from app.sheets.graph import Ref, Steps, back_pairs, circles, named_in, refs
from app.sheets.values import Reading

Scope = tuple[str, ...]


class Order(NamedTuple):
    """What `order` finds: the ids in laying order, each step's scope, and the pairs reckoned back."""

    ids: tuple[str, ...]
    scopes: dict[str, Scope]
    back: tuple[tuple[str, str], ...]


def order(found: list[Step], bars: tuple[BarRule, ...], reading: Reading) -> Order | None:
    """Work out scopes and laying order, the same whatever the order in the file; None when there is none."""
    steps = {step.id: step for step in sorted(found, key=lambda step: step.id)}
    clean = not reading.faults
    leads = back_pairs(steps)
    _check_leads(steps, leads, reading)
    back = frozenset(leads)
    named = {name: [ref for ref in refs(step, back) if ref.step in steps] for name, step in steps.items()}
    needs = {name: {ref.step for ref in refs_ if ref.hard} for name, refs_ in named.items()}
    for name, step in steps.items():
        needs[name] |= {one for one in (step.again.counts if step.again else ()) if one in steps}
    rings = circles(needs)
    for ring in rings:
        reading.fault(ring[0], "", f"a circle of steps: {' → '.join(ring)}; each waits for the next")
    if rings:
        return None
    scopes = _scopes(steps, named)
    if clean:
        _check_scopes(steps, named, scopes, reading)
        _check_bars(bars, steps, scopes, reading)
    if any(not _nests(ref, name, steps, scopes) for name in steps for ref in named[name]):
        return None
    ids = _level((), list(steps), scopes, needs, reading)
    return Order(tuple(ids), scopes, tuple(sorted(leads)))


def _check_leads(steps: Steps, leads: Mapping[tuple[str, str], int | None], reading: Reading) -> None:
    for (target, name), lead in leads.items():
        for one in steps[target].after:
            if one.step == name and lead is not None and one.work is None and length_in_days(one.by) > lead:
                reason = f"must come {words(one.by)} after '{name}', which is reckoned only {lead} days before it"
                reading.fault(target, "after", reason)


# ── Scopes ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _scopes(steps: Steps, named: Mapping[str, list[Ref]]) -> dict[str, Scope]:
    """Cycles are inherited by reckoning: a step lies in every cycle of the steps it is reckoned from."""
    scopes: dict[str, Scope] = dict.fromkeys(steps, ())
    for _ in range(2 * len(steps) + 2):
        before = dict(scopes)
        for name, step in steps.items():
            outer = max((_handed(ref, name, scopes) for ref in named[name]), key=lambda s: (len(s), s), default=())
            scopes[name] = (*outer, name) if step.again else outer
        if scopes == before:
            break
    return scopes


def _handed(ref: Ref, name: str, scopes: Mapping[str, Scope]) -> Scope:
    """The cycles that a reference hands on: none with ``which``, and never the step's own."""
    if ref.which:
        return ()
    scope = scopes[ref.step]
    return scope[: scope.index(name)] if name in scope else scope


def _outer(name: str, steps: Steps, scopes: Mapping[str, Scope]) -> Scope:
    return scopes[name][:-1] if steps[name].again else scopes[name]


def _nests(ref: Ref, name: str, steps: Steps, scopes: Mapping[str, Scope]) -> bool:
    handed = _handed(ref, name, scopes)
    return handed == _outer(name, steps, scopes)[: len(handed)]


def _check_scopes(steps: Steps, named: Mapping[str, list[Ref]], scopes: Mapping[str, Scope], reading: Reading) -> None:
    for name in steps:
        outer = _outer(name, steps, scopes)
        for ref in named[name]:
            if not _nests(ref, name, steps, scopes):
                handed = _handed(ref, name, scopes)
                reason = (
                    f"two cycles that do not nest: '{handed[-1]}', of '{ref.step}', and '{outer[-1]}'; "
                    "say which of one of them is meant, first or last"
                )
                reading.fault(name, ref.key, reason)
            if ref.which:
                _check_which(ref, name, scopes[name], steps, scopes, reading)


def _check_bars(bars: tuple[BarRule, ...], steps: Steps, scopes: Mapping[str, Scope], reading: Reading) -> None:
    """A bar lies in the cycles of the steps at its two ends, which must nest as those of a step's dates do."""
    for bar in bars:
        ends = [ref for key, moment in (("from", bar.opens), ("to", bar.closes)) for ref in named_in(key, moment)]
        mine: Scope = max((scopes[ref.step] for ref in ends if not ref.which and ref.hard), key=len, default=())
        for ref in ends:
            if ref.which:
                _check_which(ref, f"bar {bar.id}", mine, steps, scopes, reading)
            elif ref.hard and scopes[ref.step] != mine[: len(scopes[ref.step])]:
                reason = f"two cycles that do not nest: that of '{ref.step}' and '{mine[-1]}'; say which, first or last"
                reading.fault(f"bar {bar.id}", ref.key, reason)


def _check_which(ref: Ref, name: str, mine: Scope, steps: Steps, scopes: Mapping[str, Scope], reading: Reading) -> None:
    theirs = scopes[ref.step]
    common = next((at for at in range(len(theirs)) if theirs[: at + 1] != mine[: at + 1]), len(theirs))
    dropped = theirs[common:]
    if not dropped:
        reading.fault(
            name, ref.key, f"which = '{ref.which}' picks nothing: '{ref.step}' has no cycles beneath this one"
        )
    for head in dropped if ref.which == "last" else ():
        again = steps[head].again
        if again and (again.kind == "yearly" or not (again.until or again.most)):
            reading.fault(name, ref.key, f"there is no last '{ref.step}': '{head}' comes round without end")


# ── Laying ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _level(
    scope: Scope, members: list[str], scopes: Mapping[str, Scope], needs: Mapping[str, set[str]], reading: Reading
) -> list[str]:
    """The steps of one scope in laying order, every cycle beneath it in one piece behind the step that heads it."""
    depth = len(scope)
    unit = {name: scopes[name][depth] if len(scopes[name]) > depth else name for name in members}
    waits: dict[str, set[str]] = {one: set() for one in unit.values()}
    for name in members:
        waits[unit[name]] |= {unit[other] for other in needs[name] if other in unit and unit[other] != unit[name]}
    laid: list[str] = []
    for one in _sorted(waits, reading):
        beneath = [name for name in members if unit[name] == one and name != one]
        laid.append(one)
        if len(scopes[one]) > depth:
            held = sorted(needs[one].intersection(beneath))
            if held:
                reading.fault(
                    one, "", f"a circle of steps: {one} → {held[0]} → {one}, which lies in the cycle of {one}"
                )
            laid += _level(scopes[one], beneath, scopes, needs, reading)
    return laid


def _sorted(waits: Mapping[str, set[str]], reading: Reading) -> list[str]:
    """Kahn's order, the smallest id first."""
    left = {one: set(others) for one, others in waits.items()}
    ready = [one for one, others in left.items() if not others]
    heapify(ready)
    laid = []
    while ready:
        one = heappop(ready)
        laid.append(one)
        for other, others in left.items():
            if one in others:
                others.discard(one)
                if not others:
                    heappush(ready, other)
    if len(laid) < len(left):
        stuck = {one: others for one, others in left.items() if others}
        ring = circles(stuck)[0]
        reading.fault(ring[0], "", f"a circle of steps: {' → '.join(ring)}, each taken with all that lies in its cycle")
    return laid
