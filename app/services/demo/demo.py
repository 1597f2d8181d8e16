"""The holding of the demonstration, laid out relative to today: an empty data folder filled as a household would."""

import tomllib
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Any, NamedTuple

from sqlalchemy.orm import Session

from app.errors import Fault, KnowledgeError
from app.records import store
from app.records.facts import add_entry
from app.records.household import add_absence, put_holding, put_person
from app.records.tables import WEEKDAYS, HoldingRow, PersonRow
from app.records.ticks import add_tick
from app.rules.facts import Entry, Holding
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.rules.spans import Day, add, span
from app.rules.terms import Value
from app.services.book import Book
from app.services.demo.garden import put_garden, put_weather
from app.services.demo.larder import put_larder
from app.services.demo.lately import done_lately
from app.services.demo.livestock import put_livestock
from app.services.demo.weather import weather_until
from app.services.demo.year import Habits, Once, live_through
from app.services.weather.season import season_of
from app.sheets.library import Library
from app.trade.climate.record import DailyRecord
from app.trade.climate.season import Season

_WEEK = 7


class Demo(NamedTuple):
    """The files of demo_data, parsed; the weather as it stands in its file."""

    holding: Mapping[str, Any]
    entries: Mapping[str, Any]
    ticks: Mapping[str, Any]
    garden: Mapping[str, Any]
    larder: Mapping[str, Any]
    livestock: Mapping[str, Any]
    weather: str


def read_demo(folder: Path) -> Demo:
    """The demonstration's files.

    Raises: KnowledgeError when one is not there or is no TOML.
    """
    names = ("holding", "entries", "ticks", "garden", "larder", "livestock")
    parts = {name: _parsed(folder / f"{name}.toml") for name in names}
    return Demo(**parts, weather=_text(folder / "weather.csv"))


def holding_row(demo: Demo, now: datetime) -> HoldingRow:
    """The made-up holding as it is kept."""
    return HoldingRow(**demo.holding["holding"], created_at=now)


def demo_season(demo: Demo, today: date) -> Season:
    """The season of the made-up holding: what its made-up thermometer read until yesterday."""
    days = weather_until(demo.weather, today)
    record = DailyRecord.of((one.day.toordinal(), one.min_c, one.max_c, one.rain_mm) for one in days)
    return season_of(holding_row(demo, datetime.combine(today, time(7), UTC)), record)


def start(book: Book, folder: Path) -> None:
    """Fill an empty book with the demonstration, as of its today, and plan it.

    Raises: KnowledgeError, as `fill`.
    """
    demo = read_demo(folder)
    today = book.today(demo.holding["holding"]["timezone"])
    with book.writing() as session:
        fill(session, demo, book.library, today, book.now())
        book.replan(session, None, today.toordinal())


def fill(session: Session, demo: Demo, library: Library, today: date, now: datetime) -> int:
    """Put everything down; gives how many ticks there are. The ids are the same whenever it is done.

    Raises: KnowledgeError when an entry follows a sheet that is not there, or tells a fact that it does not ask.
    """
    day = today.toordinal()
    row = put_holding(session, holding_row(demo, now))
    _put_people(session, demo.holding, day)
    put_weather(session, demo.weather, today, now)
    put_garden(session, demo.garden, lambda said: relative(said, day), today)
    put_larder(session, demo.larder, lambda said: relative(said, day), today, now)
    _put_supplies(session, demo.holding, day)
    put_livestock(session, demo.livestock, lambda said: relative(said, day), now)
    notes = {one["id"]: one.get("note", "") for one in demo.entries["entry"]}
    entries = demo_entries(demo, library.sheets, day)
    for entry in entries:
        told = datetime.combine(date.fromordinal(entry.told), time(7), UTC)
        add_entry(session, entry, now=told, dates=date_facts(library.sheets[entry.sheet]), note=notes[entry.id])
    holding = Holding(row.nation, demo_season(demo, today))  # type: ignore[arg-type]
    planner = Planner(holding, library.sheets, library.law, store.own_ways(session))
    lately = done_lately(demo.ticks.get("lately", ()), lambda said: relative(said, day))
    apart = {one["entry"] for one in demo.ticks.get("lately", ())}
    said = live_through(planner, (entry for entry in entries if entry.id not in apart), habits(demo), day) + lately
    dates = {a.name for sheet in library.sheets.values() for s in sheet.steps for a in s.asks if a.kind == "date"}
    for one in said:
        measured = dates & one.tick.measures.keys()
        add_tick(session, one.tick, dates=measured, remark=one.remark, reason=one.reason)
    return len(said)


def demo_entries(demo: Demo, sheets: Mapping[str, Sheet], today: Day) -> list[Entry]:
    """The entries as of a day.

    Raises: KnowledgeError, as `fill`.
    """
    start = today - habits(demo).days
    return [_entry(one, sheets, today, start) for one in demo.entries["entry"]]


def habits(demo: Demo) -> Habits:
    """How the made-up household goes about its year."""
    once = tuple(Once(one["say"], one["job"], one["reason"], one.get("days", 0)) for one in demo.ticks["once"])
    measures = {name: tuple(values) for name, values in demo.ticks["measures"].items()}
    return Habits(
        **{**demo.ticks["habits"], "faithful": tuple(demo.ticks["habits"].get("faithful", ()))},
        once=once,
        measures=measures,
        remarks=demo.ticks["remarks"],
    )


def date_facts(sheet: Sheet) -> list[str]:
    """The facts of a sheet that are days."""
    return [ask.name for ask in sheet.facts.values() if ask.kind == "date"]


def relative(said: Any, today: Day) -> Day:
    """A day as demo_data says it: a duration from today, the last such day of the year, or the next one after today."""
    if isinstance(said, str):
        return add(today, span(said))
    month, day = (int(part) for part in said["last" if "last" in said else "next"].removeprefix("--").split("-"))
    this_year = date.fromordinal(today).year
    here = date(this_year, month, day).toordinal()
    if "last" in said:
        return date(this_year - (here > today) - int(said.get("years", 0)), month, day).toordinal()
    return date(this_year + (here <= today), month, day).toordinal()


def _entry(one: Mapping[str, Any], sheets: Mapping[str, Sheet], today: Day, start: Day) -> Entry:
    sheet = sheets.get(one["sheet"])
    if sheet is None:
        raise _wrong(one, "sheet", f"there is no sheet '{one['sheet']}'")
    facts: dict[str, Value] = {}
    for name, said in one["facts"].items():
        if name not in sheet.facts:
            raise _wrong(one, name, f"the sheet '{sheet.id}' asks no such fact")
        facts[name] = relative(said, today) if sheet.facts[name].kind == "date" else said
    first = int(facts["date"])
    told = relative(one["told"], today) if "told" in one else max(first - _WEEK, start)
    return Entry(one["id"], sheet.id, one["name"], facts, min(told, today - 1), one["place"])


def _put_people(session: Session, doc: Mapping[str, Any], today: Day) -> None:
    ids: dict[str, int] = {}
    for one in doc["person"]:
        row = put_person(session, PersonRow(name=one["name"], **{day: one.get(day, 0) for day in WEEKDAYS}))
        ids[row.name] = row.id or 0
    for one in doc["away"]:
        first, last = relative(one["from"], today), relative(one["to"], today)
        add_absence(session, ids[one["person"]], first, last, one["note"])


def _put_supplies(session: Session, doc: Mapping[str, Any], day: Day) -> None:
    """What is bought in: in which packs, at what price, and of some what was there on a day."""
    for one in doc.get("supply", ()):
        counted = date.fromordinal(relative(one["stock_on"], day)) if "stock_on" in one else None
        store.put_supply(session, store.SupplyRow(**{**one, "stock_on": counted}))


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise KnowledgeError([Fault(path.name, "", "", str(error))]) from error


def _parsed(path: Path) -> Mapping[str, Any]:
    try:
        return tomllib.loads(_text(path))
    except tomllib.TOMLDecodeError as error:
        raise KnowledgeError([Fault(path.name, "", "", str(error))]) from error


def _wrong(one: Mapping[str, Any], key: str, reason: str) -> KnowledgeError:
    return KnowledgeError([Fault("demo_data/entries.toml", str(one["id"]), key, reason)])
