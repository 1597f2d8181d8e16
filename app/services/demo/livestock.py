"""The made-up holding's medicine cupboard, its single animals, and what became of its groups."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import AnimalRow, HeadFactRow, MedicineRow
from app.rules.spans import Day

_DAYS = ("expires", "bought_on", "opened_on", "born", "on")


def put_livestock(
    session: Session, doc: Mapping[str, Any], on: Callable[[Any], Day], now: datetime
) -> None:  # fmt: skip
    """Put down what livestock.toml says; ``on`` reads a day as demo_data says it."""

    def read(one: Mapping[str, Any]) -> dict[str, Any]:
        said = {name: date.fromordinal(on(value)) if name in _DAYS else value for name, value in one.items()}
        return {**said, "created_at": now}

    for one in doc["medicine"]:
        store.put_medicine(session, MedicineRow(**read(one)))
    for one in doc["animal"]:
        store.put_animal(session, AnimalRow(**read(one)))
    for one in doc["count"]:
        said = read(one)
        store.put_head_fact(session, HeadFactRow(on_day=said.pop("on"), **said))
