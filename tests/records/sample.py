"""Invented facts for these tests."""

from datetime import UTC, date, datetime

from sqlalchemy import Engine

from app.records import store
from app.rules.facts import Amendment, Entry, Tick, Window

NOW = datetime(2027, 3, 10, 7, 15, tzinfo=UTC)
LATER = datetime(2027, 3, 11, 6, 0, tzinfo=UTC)


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def leek(**changes: object) -> Entry:
    entry = Entry(
        "leek", "leek", "Leeks", {"date": day("2027-03-10"), "row_m": 9.5, "own_seed": True}, day("2027-03-09")
    )
    return entry._replace(**changes)  # type: ignore[arg-type]


def tick(ident: str = "t1", key: str = "leek.sow", **changes: object) -> Tick:
    made = Tick(ident, key, "done", day("2027-03-10"), "2027-03-10T07:15:00.000Z", {"kg": 1.5})
    return made._replace(**changes)  # type: ignore[arg-type]


def task(key: str = "leek.plant", **changes: object) -> store.TaskRow:
    entry, step = key.split(".")[:2]
    opens = day("2027-05-14")
    row = store.TaskRow(
        key, entry, step, ".".join(key.split(".")[2:]), "leek", "garden", "Plant out", "Leeks", "Leek bed",
        opens, opens + 3, opens + 14, None, "", "lost", 45, True,
    )  # fmt: skip
    return row._replace(**changes)  # type: ignore[arg-type]


def fill(engine: Engine) -> None:
    """One of everything that is kept, with texts that are hard to carry."""
    with store.writing(engine) as session:
        store.put_holding(
            session,
            store.HoldingRow(
                name="=High Croft, “invented”",
                nation="wales",
                latitude=52.1,
                longitude=-3.5,
                altitude_m=290.0,
                timezone="Europe/London",
                mouths=4.0,
                last_frost_50="--05-12",
                created_at=NOW,
            ),
        )
        person = store.put_person(session, store.PersonRow(name="'Tess, of the yard", saturday=300))
        assert person.id
        store.add_absence(session, person.id, day("2027-08-14"), day("2027-08-21"), "-dash note")
        store.add_entry(session, leek(), now=NOW, note='a"b,c\r\nsecond line')
        store.add_entry(session, leek(id="pigs", ends=day("2027-11-01"), struck=True, name="+44 pigs"), now=NOW)
        store.amend(session, Amendment("pigs.kill+pork", {"meal": day("2027-12-20")}, "Pork"), dates=("meal",))
        shown = Window(day("2027-03-01"), day("2027-03-05"), day("2027-03-20"))
        store.add_tick(session, tick(shown=shown), remark="@home\ttoo late", person=person.id)
        store.add_tick(session, tick("t2", "pigs.book", measures={"day": day("2027-10-04")}), dates=("day",))
        store.add_tick(session, tick("t3", kind="undone", answers="t1", measures={}))
        store.add_feed_link(session, "everybody", "0" * 64, {"trades": ["garden"]}, NOW)
        store.replace_tasks(session, None, [task()], now=NOW)
