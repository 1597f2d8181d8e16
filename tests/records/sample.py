"""Invented facts for these tests."""

from datetime import UTC, date, datetime

from sqlalchemy import Engine
from sqlalchemy.orm import Session

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


def fill_weather(session: Session) -> None:
    """Weather of every kind."""
    months = [store.NormalsMonthRow(month=month, min_c=-month / 2, max_c=month + 0.5) for month in range(1, 13)]
    months[3].rain_mm = 71.25
    store.put_normals_months(session, months)
    file = store.add_weather_file(session, store.WeatherFileRow(name="=met,office.csv", taken_at=NOW, rows=2))
    days = [store.WeatherDay(date(2027, 3, 8), -1.5, 9.0, 0.0), store.WeatherDay(date(2027, 3, 7), None, 8.25, None)]
    store.put_weather_days(session, days, file=file.id, at=NOW)
    store.tell_weather(session, date(2027, 3, 10).toordinal(), sky="wet", frost=False, wind=True, at=LATER)
    store.put_weather(session, [store.WeatherRow(day=date(2027, 3, 9), min_c=-12, rain_mm=3.3, at=LATER)])


def fill_garden(session: Session) -> None:
    """One of everything of the garden."""
    bed = store.put_bed(
        session, store.BedRow(name='Long "bed"', length_m=9.5, width_m=1.2, soil="sandy loam", note="-wet\r\n")
    )
    assert bed.id
    on = date(2026, 6, 1)
    store.add_bed_fact(
        session, store.BedFactRow(id="b1", bed=bed.id, kind="grew", what="=leek", on_day=on, struck=True)
    )
    store.add_lot(
        session,
        store.LotRow(id="l1", what="leek seed", sheet="leek", variety="+Musselburgh", made_on=on, amount=12.5,
                     unit="g", keeps_until=date(2029, 6, 1), told=on),
    )  # fmt: skip
    for ident, lot in (("f1", "l1"), ("f2", "leek.tin#0")):
        measures = {"sown": 20, "up": 17}
        store.add_lot_fact(
            session, store.LotFactRow(id=ident, lot=lot, kind="tested", on_day=on, measures=measures, created_at=NOW)
        )
    store.add_way(session, store.WayRow(scope="variety", sheet="leek", variety="M", what="days", amount=-21, told=on))
    store.put_kit(session, store.KitRow(name="=long freezer", kind="freezer", litres=300.5))
    store.put_supply(
        session,
        store.SupplyRow(what="=layers feed", unit="kg", pack=20, price=11.5, lead_days=0, stock=12.5, stock_on=on),
    )
    store.number_batches(session, [("l1", 2026)])
    store.mark_batch(session, "l1", {"killed": "home", "place": "+shelf"})
    store.add_nearby(
        session, store.NearbyRow(species="Allium porrum", what="@next door", distance_m=300, first=on, last=on)
    )


def fill_livestock(session: Session) -> None:
    """One of everything of livestock."""
    on = date(2026, 6, 1)
    store.put_animal(
        session,
        store.AnimalRow(id="a1", entry="pigs", tag="+UK 1", name="=Sow", sex="female", born=on, cull=True,
                        created_at=NOW),
    )  # fmt: skip
    store.put_medicine(
        session,
        store.MedicineRow(id="m1", name="@drench", batch="-7", meat_days=28, vet_meat_days=42.5, bought=100, unit="ml",
                          expires=on, opened_on=on, open_days=28, created_at=NOW),
    )  # fmt: skip
    for ident, kind in (("h1", "began"), ("h2", "predator")):
        store.put_head_fact(
            session,
            store.HeadFactRow(id=ident, entry="pigs", kind=kind, on_day=on, number=2, other="=12/345", created_at=NOW),
        )


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
                aspect="south",
                frost_hollow=True,
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
        sent = store.SentRow(id="s1", digest="d", path="/tick", came="done", says="=Done", made_at=NOW, at=NOW)
        store.put_sent(session, [sent], NOW)
        fill_weather(session)
        fill_garden(session)
        fill_livestock(session)
