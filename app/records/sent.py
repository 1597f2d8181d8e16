"""What phones sent out of their boxes: by its id, so that it counts once however often it comes."""

from datetime import datetime, timedelta

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from app.records.tables import TABLES, SentRow

KEPT_DAYS = 90
"""So long an id is known. A phone's box is a buffer for hours; a phone left in a coat comes back within a season."""

_SENT = TABLES["sent"]


def sent(session: Session, idents: list[str]) -> dict[str, SentRow]:
    """Those of some ids that came before."""
    found = {}
    for start in range(0, len(idents), 400):
        some = idents[start : start + 400]
        found.update({row.id: row for row in session.scalars(select(SentRow).where(_SENT.c.id.in_(some)))})
    return found


def put_sent(session: Session, rows: list[SentRow], now: datetime) -> None:
    """Take down what came, and let go of what came long ago."""
    if rows:
        session.execute(insert(_SENT), [row.model_dump() for row in rows])
    session.execute(delete(_SENT).where(_SENT.c.at < now - timedelta(days=KEPT_DAYS)))
