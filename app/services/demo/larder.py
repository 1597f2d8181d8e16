"""The made-up holding's kit, and the batches that it put in its larder by hand."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import KitRow, LotFactRow, LotRow
from app.rules.spans import Day, add, span

_OWN = ("id", "made", "keeps", "killed", "used")


def put_larder(session: Session, doc: Mapping[str, Any], on: Callable[[Any], Day], today: date, now: datetime) -> None:
    """Put down what larder.toml says; ``on`` reads a day as demo_data says it."""
    for one in doc["kit"]:
        store.put_kit(session, KitRow(**one))
    for number, one in enumerate(doc["batch"], 1):
        made, ident = on(one["made"]), one.get("id", f"put-by-{number}")
        said = {key: value for key, value in one.items() if key not in _OWN}
        until = date.fromordinal(add(made, span(one["keeps"])))
        store.add_lot(
            session, LotRow(id=ident, made_on=date.fromordinal(made), keeps_until=until, told=today, **said)
        )  # fmt: skip
        for count, (day, amount) in enumerate(one.get("used", ()), 1):
            fact = LotFactRow(
                id=f"{ident}-{count}", lot=ident, kind="used", on_day=date.fromordinal(on(day)), amount=amount,
                created_at=now,
            )  # fmt: skip
            store.add_lot_fact(session, fact)
        if "killed" in one:
            store.number_batches(session, [(ident, date.fromordinal(made).year)])
            store.mark_batch(session, ident, {"killed": one["killed"]})
