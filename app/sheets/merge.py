"""Sheets made of other sheets: one that is `like` another, and a household's changes to one. TOML in, TOML out."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from app.errors import Fault
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
    chain, faults = [doc], list[Fault]()
    seen = [str(doc.get("sheet", ""))]
    while "like" in chain[-1]:
        name = chain[-1]["like"]
        if not isinstance(name, str) or name not in docs:
            hint = meant(name, docs) if isinstance(name, str) else ""
            return {}, [Fault(file, "", "like", f"there is no sheet {shown(name)}{hint}")]
        if name in seen:
            return {}, [Fault(file, "", "like", f"a circle of sheets: {' → '.join([*seen, name])}")]
        seen.append(name)
        chain.append(docs[name])
    found = dict(chain.pop())
    while chain:
        found = _taken(found, chain.pop(), file, faults)
    return found, faults


def _taken(base: Doc, own: Doc, file: str, faults: list[Fault]) -> dict[str, Any]:
    drop = own.get("drop", [])
    if not isinstance(drop, list):
        faults.append(Fault(file, "", "drop", f'found {shown(drop)}, expected a list of ids, such as ["pick"]'))
        drop = []
    ids = {one.get("id") for what in LISTS for one in tables(base, what)}
    for name in drop:
        if name not in ids:
            hint = meant(str(name), [str(one) for one in ids])
            faults.append(Fault(file, "", "drop", f"'{own['like']}' has no {shown(name)}{hint}"))
    found = {**base, **{key: value for key, value in own.items() if key not in ("like", "drop")}}
    if "facts" in base:
        found["facts"] = _merged(base["facts"], own.get("facts", {}))
    for what in LISTS:
        if what in base:
            kept = [one for one in tables(base, what) if one.get("id") not in drop]
            found[what] = _by_id(kept, own.get(what, []))
    return found


def tables(doc: Doc, what: str) -> list[Doc]:
    """The tables of a list; none when it is no such list, which `read` will say."""
    value = doc.get(what, [])
    return [one for one in value if isinstance(one, Mapping)] if isinstance(value, list) else []


def _by_id(base: list[Doc], own: object) -> object:
    """Tables merged by id: keys replaced whole, new ones at the end. What is no list of tables is left to `read`."""
    if not isinstance(own, list) or not all(isinstance(one, Mapping) for one in own):
        return own
    at = {one.get("id"): number for number, one in enumerate(base)}
    found = list(base)
    for one in own:
        if one.get("id") in at:
            number = at[one.get("id")]
            found[number] = {**found[number], **one}
        else:
            found.append(one)
    return found


def _merged(base: object, own: object) -> object:
    """Facts merged by name, key by key where both are tables."""
    if not isinstance(base, Mapping) or not isinstance(own, Mapping):
        return own
    found = dict(base)
    for name, value in own.items():
        was = found.get(name)
        found[name] = {**was, **value} if isinstance(was, Mapping) and isinstance(value, Mapping) else value
    return found
