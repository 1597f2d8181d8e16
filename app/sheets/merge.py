"""Sheets made of other sheets: one that is `like` another, and a household's changes to one. TOML in, TOML out."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from app.errors import Fault, KnowledgeError
from app.sheets.values import Doc, meant, shown

LISTS = ("step", "spell", "bar")


class Change(NamedTuple):
    """One figure that the household changed: what it ``was`` (None: not there) and what it is ``now``, as in TOML."""

    step: str
    key: str
    was: object
    now: object


def alike(doc: Doc, file: str, docs: Mapping[str, Doc]) -> tuple[dict[str, Any], list[Fault]]:
    """The whole of a sheet that is `like` another, which may itself be like a third."""
    faults: list[Fault] = []
    found = _whole(doc, (str(doc.get("sheet", "")),), file, docs, faults)
    return ({}, faults[:1]) if found is None else (found, faults)


def _whole(
    doc: Doc, seen: tuple[str, ...], file: str, docs: Mapping[str, Doc], faults: list[Fault]
) -> dict[str, Any] | None:
    """A sheet merged on top of all that it is like, left to right; None where one of them can't be found."""
    if "like" not in doc:
        return dict(doc)
    names = doc["like"] if isinstance(doc["like"], list) else [doc["like"]]
    base: dict[str, Any] = {}
    for name in names:
        if not isinstance(name, str) or name not in docs:
            hint = meant(name, docs) if isinstance(name, str) else ""
            faults.append(Fault(file, "", "like", f"there is no sheet {shown(name)}{hint}"))
            return None
        if name in seen:
            faults.append(Fault(file, "", "like", f"a circle of sheets: {' → '.join([*seen, name])}"))
            return None
        other = _whole(docs[name], (*seen, name), file, docs, faults)
        if other is None:
            return None
        other.pop("pattern", None)
        base = _taken(base, other, file, faults)
    if not names:
        faults.append(Fault(file, "", "like", "names no sheet; expected one, or a list of them"))
    return _taken(base, doc, file, faults)


def _taken(base: Doc, own: Doc, file: str, faults: list[Fault]) -> dict[str, Any]:
    drop = own.get("drop", [])
    if not isinstance(drop, list):
        faults.append(Fault(file, "", "drop", f'found {shown(drop)}, expected a list of ids, such as ["pick"]'))
        drop = []
    ids = {_id(one) for what in LISTS for one in tables(base, what)}
    for name in drop:
        if str(name) not in ids:
            hint = meant(str(name), ids)
            whose = own.get("like", "")
            whose = " and ".join(map(str, whose)) if isinstance(whose, list) else whose
            faults.append(Fault(file, "", "drop", f"'{whose}' has no {shown(name)}{hint}"))
    found = {**base, **{key: value for key, value in own.items() if key not in ("like", "drop")}}
    if "facts" in base:
        found["facts"] = _merged(base["facts"], own.get("facts", {}))
    if "crop" in base:
        found["crop"] = _figures(base["crop"], own.get("crop", {}))
    for what in LISTS:
        if what in base:
            kept = [one for one in tables(base, what) if one.get("id") not in drop]
            found[what] = _by_id(kept, own.get(what, []))
    return found


def tables(doc: Doc, what: str) -> list[Doc]:
    """The tables of a list; none when it is no such list, which `read` will say."""
    value = doc.get(what, [])
    return [one for one in value if isinstance(one, Mapping)] if isinstance(value, list) else []


def _id(one: Doc) -> str:
    return str(one.get("id", ""))


def _by_id(base: list[Doc], own: object) -> object:
    """Tables merged by id: keys replaced whole, new ones at the end. What is no list of tables is left to `read`."""
    if not isinstance(own, list) or not all(isinstance(one, Mapping) for one in own):
        return own
    at = {_id(one): number for number, one in enumerate(base)}
    found = list(base)
    for one in own:
        if _id(one) in at:
            number = at[_id(one)]
            found[number] = {**found[number], **one}
        else:
            found.append(one)
    return found


def _merged(base: object, own: object) -> object:
    """Facts merged by name, key by key."""
    if not isinstance(base, Mapping) or not isinstance(own, Mapping):
        return own
    found = dict(base)
    for name, value in own.items():
        was = found.get(name)
        if isinstance(value, Mapping) and was is not None:
            found[name] = {**(was if isinstance(was, Mapping) else {"asks": was}), **value}
        else:
            found[name] = value
    return found


def _figures(base: object, own: object) -> object:
    """A crop's figures merged by group, key by key."""
    if not isinstance(base, Mapping) or not isinstance(own, Mapping):
        return own
    found = dict(base)
    for name, value in own.items():
        was = found.get(name)
        found[name] = {**was, **value} if isinstance(value, Mapping) and isinstance(was, Mapping) else value
    return found


# ── A household's changes ─────────────────────────────────────────────────────────────────────────────────────────

FIXED = frozenset({"legal", "nations", "act", "cautions", "was"})
WINDOW = frozenset({"from", "after", "opens", "closes", "again", "missed", "when", "within", "firm"})


def overlay(base: Doc, own: Doc, file: str = "") -> tuple[dict[str, Any], list[Change]]:
    """A sheet with the household's figures, and what they changed.

    Raises: KnowledgeError where the changes name what is not there, or would change the law or its cautions.
    """
    faults: list[Fault] = []
    changes: list[Change] = []
    for key in own:
        if key not in ("changes", "step", "facts"):
            reason = f"a file of changes has [[step]] and [facts] alone, not '{key}'"
            faults.append(Fault(file, "", key, f"{reason}{meant(key, ('changes', 'step', 'facts'))}"))
    found = dict(base)
    found["step"] = _changed_steps(base, own, file, faults, changes)
    if "facts" in own:
        found["facts"] = _changed_facts(base, own, file, faults, changes)
    if not faults and not changes:
        faults.append(Fault(file, "", "", "changes nothing"))
    if faults:
        raise KnowledgeError(faults)
    return found, changes


def _changed_steps(base: Doc, own: Doc, file: str, faults: list[Fault], changes: list[Change]) -> list[Doc]:
    steps = {_id(one): one for one in tables(base, "step")}
    if "step" in own and len(tables(own, "step")) != (len(own["step"]) if isinstance(own["step"], list) else -1):
        faults.append(Fault(file, "", "step", f"found {shown(own['step'])}, expected [[step]] tables"))
    for one in tables(own, "step"):
        name = _id(one)
        if name not in steps:
            faults.append(Fault(file, name, "id", f"'{own['changes']}' has no step '{name}'{meant(name, steps)}"))
            continue
        was = steps[name]
        faults += [Fault(file, name, key, why) for key in one if (why := _refusal(key, was))]
        changes += [Change(name, key, was.get(key), now) for key, now in one.items() if now != was.get(key)]
        steps[name] = {**was, **one}
    return list(steps.values())


def _refusal(key: str, step: Doc) -> str:
    if key in FIXED:
        return "is not for a household to change"
    if key in WINDOW and step.get("legal"):
        return "this window is law, and is not for a household to change"
    return ""


def _changed_facts(base: Doc, own: Doc, file: str, faults: list[Fault], changes: list[Change]) -> object:
    facts, mine = base.get("facts", {}), own["facts"]
    if not isinstance(facts, Mapping) or not isinstance(mine, Mapping):
        faults.append(Fault(file, "facts", "", f"found {shown(mine)}, expected a table"))
        return facts
    for name, now in mine.items():
        if name not in facts:
            faults.append(Fault(file, "facts", name, f"'{own['changes']}' asks for no such fact{meant(name, facts)}"))
        elif not isinstance(now, Mapping) or "asks" in now:
            reason = "what is asked is not changed here; give a table of else, low, high, label or optional"
            faults.append(Fault(file, "facts", name, reason))
        elif isinstance(facts[name], Mapping):
            was = facts[name]
            changes += [
                Change("facts", f"{name}.{key}", was.get(key), one) for key, one in now.items() if one != was.get(key)
            ]
        else:
            changes += [Change("facts", f"{name}.{key}", None, one) for key, one in now.items()]
    return _merged(facts, mine)
