"""Weather, beds, lots, own ways and neighbours go in and come back; what can't be so is refused by the database too."""

import csv
import io
import json
import sqlite3
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.errors import Conflict, NotFound
from app.records import backup, migrate, sqlite, store
from app.records.exchange import WHOLE, export, import_all
from app.records.restore import restore
from app.records.tables import SINCE
from app.rules.facts import Amendment
from app.settings import Settings, read_settings
from tests.records.sample import LATER, NOW, day, fill, fill_garden, fill_weather, leek


def weather(on: str, **read: Any) -> store.WeatherRow:
    return store.WeatherRow(day=date.fromisoformat(on), at=NOW, **read)


def test_days_come_back_in_order_and_the_last_said_counts(engine: Engine) -> None:
    with store.writing(engine) as session:
        fill_weather(session)
        store.put_weather(session, [weather("2027-03-08", min_c=-2.0, max_c=7.5)])
    with store.reading(engine) as session:
        read = [(row.day.day, row.min_c, row.max_c, row.rain_mm) for row in store.weather_days(session)]
        assert read == [(7, None, 8.25, None), (8, -2.0, 7.5, None), (9, -12.0, None, 3.3)]
        assert [tuple(one)[1:] for one in store.weather_record(session)] == [one[1:] for one in read]
        assert [row.day.day for row in store.weather_days(session, day("2027-03-08"), day("2027-03-08"))] == [8]
        assert store.weather_on_record(session) == (3, date(2027, 3, 7), date(2027, 3, 9))


def test_a_file_is_taken_out_with_its_days_and_what_was_typed_stays(engine: Engine) -> None:
    with store.writing(engine) as session:
        fill_weather(session)
        (file,) = store.weather_files(session)
        assert file.id
        assert store.weather_counts(session) == {file.id: 2, None: 1}
        assert store.remove_weather_file(session, file.id) == 2
        assert [row.day.day for row in store.weather_days(session)] == [9]
        assert store.weather_files(session) == []
        with pytest.raises(NotFound):
            store.remove_weather_file(session, file.id)
        assert store.remove_weather(session, day("2027-03-01"), day("2027-03-31")) == 1
        assert store.weather_on_record(session) == (0, None, None)


def test_twelve_means_take_the_place_of_those_before(engine: Engine) -> None:
    with store.writing(engine) as session:
        fill_weather(session)
        store.put_normals_months(session, [store.NormalsMonthRow(month=7, min_c=9, max_c=18, rain_mm=60)])
    with store.reading(engine) as session:
        assert [(row.month, row.min_c, row.max_c, row.rain_mm) for row in store.normals_months(session)] == [
            (7, 9.0, 18.0, 60.0)
        ]


def test_with_a_beds_name_the_place_of_what_stands_in_it_changes(engine: Engine) -> None:
    with store.writing(engine) as session:
        bed = store.put_bed(session, store.BedRow(name="Long bed", length_m=9, width_m=1.2))
        store.put_bed(session, store.BedRow(name="Top bed", length_m=9, width_m=1.2))
        for name, place in (("leek", "Long bed"), ("kale", "Top bed")):
            store.add_entry(session, leek(id=name, place=place), now=NOW)
        store.amend(session, Amendment("leek.lift+soup", place="Long bed"))
        store.put_bed(session, store.BedRow(id=bed.id, name="Low bed", length_m=9, width_m=1.2, cover="tunnel"))
    with store.reading(engine) as session:
        assert [entry.place for entry in store.entries(session)] == ["Top bed", "Low bed"]
        assert store.amendments(session)[0].place == "Low bed"
        assert [(row.name, row.cover) for row in store.beds(session)] == [("Low bed", "tunnel"), ("Top bed", "open")]
    for row in (
        store.BedRow(name="Top bed", length_m=1, width_m=1),
        store.BedRow(name="Top bed", id=bed.id, length_m=1, width_m=1),
    ):
        with pytest.raises(Conflict, match="already a bed called Top bed"), store.writing(engine) as session:
            store.put_bed(session, row)
    with pytest.raises(NotFound), store.writing(engine) as session:
        store.put_bed(session, store.BedRow(id=99, name="No bed", length_m=1, width_m=1))


def test_what_is_struck_out_is_kept_and_no_longer_read(engine: Engine) -> None:
    with store.writing(engine) as session:
        fill_garden(session)
        store.add_entry(session, leek(), now=NOW)
        (lot,), (way,), (near,) = store.given_lots(session), store.ways(session), store.nearby(session)
        first, second = store.lot_facts(session)
        for row in (lot, way, near, first, "leek"):
            store.strike(session, row)
    with store.writing(engine) as session:
        assert [store.given_lots(session), store.ways(session), store.nearby(session)] == [[], [], []]
        assert [fact.id for fact in store.lot_facts(session)] == [second.id]
        assert store.lot_facts(session, "l1") == []
        assert store.entry(session, "leek").struck
        store.strike(session, lot, struck=False)
        assert [row.variety for row in store.given_lots(session)] == ["+Musselburgh"]


def test_a_bed_fact_needs_its_bed_and_the_same_id_is_a_change(engine: Engine) -> None:
    with store.writing(engine) as session:
        fill_garden(session)
        (bed,) = store.beds(session)
        assert bed.id
        assert store.bed_facts(session) == []
        for what in ("broad bean", "pea"):
            fact = store.BedFactRow(id="b2", bed=bed.id, kind="grew", what=what, on_day=date(2025, 7, 1))
            store.add_bed_fact(session, fact)
        assert [row.what for row in store.bed_facts(session, bed.id)] == ["pea"]
        with pytest.raises(NotFound):
            store.add_bed_fact(session, store.BedFactRow(id="b3", bed=77, kind="fed", on_day=date(2025, 7, 1)))


ON = date(2026, 6, 1)


@pytest.mark.parametrize(
    ("row", "check"),
    [
        (weather("2027-01-01", min_c=5, max_c=4), "ck_weather_day_order"),
        (weather("2027-01-01", min_c=-90.1), "ck_weather_day_min_c"),
        (weather("2027-01-01", max_c=60.1), "ck_weather_day_max_c"),
        (weather("2027-01-01", rain_mm=-0.1), "ck_weather_day_rain_mm"),
        (weather("2027-01-01", rain_mm=2000.5), "ck_weather_day_rain_mm"),
        (weather("2027-01-01"), "ck_weather_day_read"),
        (store.NormalsMonthRow(month=13, min_c=1, max_c=2), "ck_normals_month_month"),
        (store.NormalsMonthRow(month=1, min_c=3, max_c=2), "ck_normals_month_order"),
        (store.BedRow(name="", length_m=1, width_m=1), "ck_bed_named"),
        (store.BedRow(name="x", length_m=0, width_m=1), "ck_bed_length_m"),
        (store.BedRow(name="x", length_m=1, width_m=-1), "ck_bed_width_m"),
        (store.BedRow(name="x", length_m=1, width_m=1, cover="shed"), "ck_bed_cover"),
        (store.BedRow(name="x", length_m=1, width_m=1, soil="mud"), "ck_bed_soil"),
        (store.BedRow(name="x", length_m=1, width_m=1, trays=0), "ck_bed_trays"),
        (store.BedFactRow(id="x", bed=1, kind="dug", on_day=ON), "ck_bed_fact_kind"),
        (store.BedFactRow(id="x", bed=1, kind="fed", on_day=ON, amount=-1), "ck_bed_fact_amount"),
        (store.BedFactRow(id="x", bed=9, kind="fed", on_day=ON), "FOREIGN KEY"),
        (store.LotRow(id="a#0", what="x", made_on=ON, amount=1, unit="g", told=ON), "ck_lot_plain_id"),
        (store.LotRow(id="a", what="x", made_on=ON, amount=-1, unit="g", told=ON), "ck_lot_amount"),
        (store.LotFactRow(id="a", lot="x", kind="lost", on_day=ON, created_at=NOW), "ck_lot_fact_kind"),
        (store.WayRow(scope="entry", what="days", amount=1, told=ON), "ck_way_entry"),
        (store.WayRow(scope="variety", what="days", amount=1, told=ON), "ck_way_variety"),
        (store.WayRow(scope="village", what="days", amount=1, told=ON), "ck_way_scope"),
        (store.WayRow(scope="holding", what="colour", amount=1, told=ON), "ck_way_what"),
        (store.NearbyRow(species="", distance_m=1), "ck_nearby_species"),
        (store.NearbyRow(species="x", distance_m=-1), "ck_nearby_distance_m"),
        (store.NearbyRow(species="x", distance_m=1, first=date(2027, 6, 2), last=ON), "ck_nearby_order"),
    ],
)
def test_what_can_not_be_so_is_refused_by_the_database(engine: Engine, row: Any, check: str) -> None:
    with store.writing(engine) as session:
        store.put_bed(session, store.BedRow(name="Bed", length_m=1, width_m=1))
    with pytest.raises(IntegrityError, match=check), store.writing(engine) as session:
        session.add(row)


@pytest.mark.parametrize("aspect", ["'up'", "''"])
def test_the_holding_lies_to_one_of_four_sides_or_flat(engine: Engine, aspect: str) -> None:
    fill(engine)
    with pytest.raises(IntegrityError, match="ck_holding_aspect"), store.writing(engine) as session:
        session.execute(text(f"UPDATE holding SET aspect = {aspect}"))


def test_every_change_is_counted(engine: Engine) -> None:
    acts: list[Callable[[Session], object]] = [
        lambda s: store.put_weather(s, [weather("2027-03-08", min_c=1)]),
        lambda s: store.put_weather_days(s, [store.WeatherDay(date(2027, 3, 9), 1)], at=NOW),
        lambda s: store.remove_weather(s, day("2027-03-08"), day("2027-03-08")),
        lambda s: store.add_weather_file(s, store.WeatherFileRow(name="x", taken_at=NOW, rows=0)),
        lambda s: store.remove_weather_file(s, 1),
        lambda s: store.put_normals_months(s, [store.NormalsMonthRow(month=1, min_c=1, max_c=2)]),
        lambda s: store.put_bed(s, store.BedRow(name="Bed", length_m=1, width_m=1)),
        lambda s: store.add_bed_fact(s, store.BedFactRow(id="x", bed=1, kind="fed", on_day=ON)),
        lambda s: store.strike(s, store.bed_facts(s)[0]),
        lambda s: store.add_lot(s, store.LotRow(id="a", what="x", made_on=ON, amount=1, unit="g", told=ON)),
        lambda s: store.add_lot_fact(s, store.LotFactRow(id="a", lot="a", kind="used", on_day=ON, created_at=NOW)),
        lambda s: store.add_way(s, store.WayRow(scope="holding", what="days", amount=1, told=ON)),
        lambda s: store.add_nearby(s, store.NearbyRow(species="x", distance_m=1)),
    ]
    for number, act in enumerate(acts, 1):
        with store.writing(engine) as session:
            act(session)
            assert store.facts_version(session) == number


def test_a_database_of_the_first_form_is_brought_along_with_all_its_facts(place: Settings) -> None:
    place.data.mkdir()
    migrate.migrate(place.database_url, "0001")
    columns = "id, name, nation, latitude, longitude, altitude_m, timezone, mouths, units, last_frost_50, created_at"
    with sqlite3.connect(place.database) as writer:
        writer.execute(
            f"INSERT INTO holding ({columns}) VALUES"
            " (1, 'High Croft', 'wales', 52, -3.5, 290, 'UTC', 4, 'metric', '--05-12', '2027-01-01 00:00:00')"
        )
    writer.close()
    saved = place.data / "saved.sqlite3"
    backup.backup(place.database, saved)
    for opened in (False, True):
        if opened:
            restore(place, saved, now=LATER)
        engine = store.open_database(place, now=NOW)
        with store.reading(engine) as session:
            row = store.holding(session)
            assert row
            assert (row.name, row.last_frost_50, row.aspect, row.frost_hollow) == ("High Croft", "--05-12", None, False)
        engine.dispose()


def test_an_export_of_the_first_form_is_taken_in(engine: Engine, tmp_path: Path) -> None:
    fill(engine)
    out = tmp_path / "out"
    export(engine, out)
    for name in SINCE["0002"]:
        table, _, column = name.partition(".")
        file = out / f"{table}.csv"
        if not column:
            file.unlink()
            continue
        lines = list(csv.DictReader(io.StringIO(file.read_bytes().decode("utf-8-sig"), newline="")))
        with file.open("w", newline="") as written:
            writer = csv.DictWriter(written, [key for key in lines[0] if key != column], extrasaction="ignore")
            writer.writeheader()
            writer.writerows(lines)
    whole = json.loads((out / WHOLE).read_text())
    (out / WHOLE).write_text(json.dumps(whole | {"form": "0001"}))
    place = read_settings({"TWELVEMONTH_DATA": str(tmp_path / "other")})
    other = store.open_database(place, now=NOW)
    counts = import_all(place, other, out, now=LATER)
    assert (counts["entry"], counts["weather_day"], counts["bed"]) == (2, 0, 0)
    with store.reading(other) as session:
        row = store.holding(session)
        assert row
        assert (row.aspect, row.frost_hollow) == (None, False)
    other.dispose()


def test_all_of_it_comes_back_from_an_export_and_from_a_backup(engine: Engine, place: Settings, tmp_path: Path) -> None:
    fill(engine)
    export(engine, tmp_path / "out.zip")
    backup.backup(place.database, tmp_path / "saved.sqlite3")
    reads = (
        store.weather_record, store.weather_files, store.normals_months, store.beds, store.bed_facts, store.given_lots,
        store.lot_facts, store.ways, store.nearby,
    )  # fmt: skip
    with store.reading(engine) as session:
        wanted = [[tuple(row) for row in read(session)] for read in reads]
    for way in ("export", "backup"):
        other = read_settings({"TWELVEMONTH_DATA": str(tmp_path / way)})
        if way == "backup":
            restore(other, tmp_path / "saved.sqlite3", now=LATER)
        opened = store.open_database(other, now=LATER)
        if way == "export":
            import_all(other, opened, tmp_path / "out.zip", now=LATER)
        with store.reading(opened) as session:
            assert [[tuple(row) for row in read(session)] for read in reads] == wanted
        opened.dispose()
    assert sum(bool(rows) for rows in wanted) == 8, "the one bed fact is struck"


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE weather_day SET day = 'some day' WHERE day = '2027-03-09'",
        "UPDATE lot_fact SET measures = '{'",
        "UPDATE lot SET keeps_until = '2027-02-30'",
    ],
)
def test_a_backup_with_facts_that_can_not_be_read_is_refused(
    engine: Engine, place: Settings, tmp_path: Path, statement: str
) -> None:
    fill(engine)
    saved = tmp_path / "saved.sqlite3"
    backup.backup(place.database, saved)
    engine.dispose()
    with sqlite3.connect(saved) as writer:
        writer.execute(statement)
    writer.close()
    with pytest.raises(Exception, match="facts that can't be read"):
        restore(place, saved, now=LATER)
    assert sqlite.HEADER in place.database.read_bytes()[:100]
