"""The counter of facts, and what the projection was worked out for: `planned` (a count of facts), `as_of`, `sheets`."""

from collections.abc import Collection

from sqlalchemy import Integer as Int
from sqlalchemy import String, bindparam, cast, delete, insert, select, update
from sqlalchemy.orm import Session

from app.records.tables import TABLES

_STATE = TABLES["state"]
FACTS_VERSION = "facts"
_SOME = select(_STATE.c.key, _STATE.c.value).where(_STATE.c.key.in_(bindparam("keys", expanding=True)))


def state(session: Session, keys: Collection[str] = ("facts", "planned", "as_of", "sheets")) -> dict[str, str]:
    """What is kept about the projection, or what is kept under other keys."""
    return {key: value for key, value in session.connection().execute(_SOME, {"keys": list(keys)})}  # noqa: C416


def set_state(session: Session, **values: str) -> None:
    """Put down what the projection was worked out for."""
    session.execute(delete(_STATE).where(_STATE.c.key.in_(list(values))))
    if values:
        session.execute(insert(_STATE), [{"key": key, "value": value} for key, value in values.items()])


def facts_version(session: Session) -> int:
    """How often facts were changed: who keeps a plan in memory can tell by it whether it still holds."""
    return int(state(session, (FACTS_VERSION,)).get(FACTS_VERSION, 0))


_PUT = update(_STATE).where(_STATE.c.key == bindparam("which")).values(value=bindparam("said"))


def put_planned(session: Session, version: int) -> None:
    """Put down for which count of facts the projection holds."""
    if not session.connection().execute(_PUT, {"which": "planned", "said": str(version)}).rowcount:
        set_state(session, planned=str(version))


_COUNT_ON = (
    update(_STATE).where(_STATE.c.key == bindparam("which")).values(value=cast(cast(_STATE.c.value, Int) + 1, String))
)


def facts_changed(session: Session) -> None:
    """Count a change of facts."""
    counted = session.connection().execute(_COUNT_ON, {"which": FACTS_VERSION})
    if not counted.rowcount:
        session.execute(insert(_STATE), [{"key": FACTS_VERSION, "value": "1"}])
