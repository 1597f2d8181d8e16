"""Everything out as open files, and back: a CSV for each kind of fact, the same as one JSON, the household's sheets."""

import json
import re
import zipfile
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, delete, func, insert, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict, DataFolderError
from app.records import backup
from app.records.csvs import read_csv, write_csv
from app.records.database import Place
from app.records.facts import amendments, entries
from app.records.migrate import head
from app.records.projection import drop_projection
from app.records.session import reading, writing
from app.records.state import facts_changed
from app.records.tables import APART, FACTS, SINCE, TABLES
from app.records.ticks import ticks

FORMAT = "twelvemonth"
WHOLE = "twelvemonth.json"
README = "README.txt"
LARGEST_BYTES = 256 * 1024 * 1024
LARGEST_RATIO = 300
_SHEET = re.compile(r"sheets/[a-z0-9][a-z0-9-]*\.toml")
_EPOCH = (1980, 1, 1, 0, 0, 0)

_SAYS = """\
All that was put down in Twelvemonth, as open files.

Each .csv file holds one kind of fact (RFC 4180, UTF-8): holding, person, absence, entry, amendment (what was added to
entries that came of a job), tick (what was said about jobs, and when), feed_link (calendar links; only a hash of each
secret), stamp (when each job last changed, for calendars), weather_file and weather_day (what was read, in degrees
Celsius and millimetres, and the files it came in), normals_month (monthly means that were typed), bed and bed_fact
(beds and what is known of them), lot (lots put down by hand) and lot_fact (what became of lots), way (how this holding
differs from the sheets), nearby (what flowers next door), kit
(freezers, dryers and the like), batch_mark (the number that each batch keeps, how it was killed, where it
lies), weather_told (the weather that was told for a day: sky, frost in the night, wind), animal
(single animals), medicine (the medicine cupboard), head_fact (how many there are of a group over time, and what came or
left), supply (feed and bedding that are bought in: packs, prices, what is left). Dates are ISO 8601, moments are in
UTC. A text that a
spreadsheet would take for a formula has an apostrophe in front of it.

twelvemonth.json says the same once more, for programs. The folder sheets holds the household's own sheets.
Reading this back ("twelvemonth import") uses the .csv files and the sheets. The dates of jobs are not here: they are
worked out from these facts.
"""


def export_files(engine: Engine, sheets: Path | None = None) -> dict[str, bytes]:
    """Every file of an export by its name; the same facts give the same bytes."""
    files = {README: _SAYS.replace("\n", "\r\n").encode()}
    whole: dict[str, Any] = {"format": FORMAT, "form": head(), "tables": {}}
    with reading(engine) as session:
        for name in FACTS:
            table = TABLES[name]
            rows = [tuple(row) for row in session.execute(select(table).order_by(*table.primary_key.columns))]
            files[f"{name}.csv"] = write_csv(table, rows)
            whole["tables"][name] = [dict(zip(table.columns.keys(), row, strict=True)) for row in rows]
    files[WHOLE] = (json.dumps(whole, ensure_ascii=False, sort_keys=True, indent=1, default=_plain) + "\n").encode()
    for path in sorted(sheets.glob("*.toml")) if sheets and sheets.is_dir() else []:
        if _SHEET.fullmatch(f"sheets/{path.name}"):
            files[f"sheets/{path.name}"] = path.read_bytes()
    return files


def export(engine: Engine, to: Path, sheets: Path | None = None) -> None:
    """Write an export to a folder, or to one file when the name ends in .zip.

    Raises: DataFolderError when it can't be written; Conflict when a folder of that name holds something else.
    """
    files = export_files(engine, sheets)
    try:
        if to.suffix == ".zip":
            to.parent.mkdir(parents=True, exist_ok=True)
            with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as archive:
                for name, content in sorted(files.items()):
                    info = zipfile.ZipInfo(name, _EPOCH)
                    info.compress_type = zipfile.ZIP_DEFLATED
                    archive.writestr(info, content)
            return
        if to.is_dir() and any(to.iterdir()) and not (to / WHOLE).is_file():
            raise Conflict(f"{to} holds something else; name a new folder, or a file that ends in .zip.")
        (to / "sheets").mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            (to / name).write_bytes(content)
    except OSError as error:
        raise DataFolderError(f"The export can't be written to {to} ({error.strerror}).") from error


def import_all(place: Place, engine: Engine, source: Path, *, now: datetime, replace: bool = False) -> dict[str, int]:
    """Read an export back and say how many of each fact it had; the projection is left to be worked out again.

    Either all of it is taken in, or nothing. With ``replace`` it takes the place of what is here, of which a backup
    is made first.

    Raises: BadInput that names file and line; Conflict when there are facts here and ``replace`` is not said.
    """
    files, form = _read(source)
    rows = {name: _rows(files, name, _newer(form)) for name in FACTS}
    sheets = {name: content for name, content in files.items() if _SHEET.fullmatch(name)}
    with reading(engine) as session:
        taken = _has_facts(session)
    if taken and not replace:
        raise Conflict(
            "There are facts here already. Import into an empty data folder, or say that it may replace them."
        )
    if taken:
        backup.before(place.database, place.backups, "import", now)
    try:
        with writing(engine) as session:
            _take_in(session, rows)
    except IntegrityError as error:
        raise _bad(f"The export has rows that can't be so ({error.orig}).") from error
    except (KeyError, TypeError, ValueError) as error:
        raise _bad(f"The export has facts that can't be read ({error}).") from error
    for name, content in sheets.items():
        (place.data / "sheets").mkdir(exist_ok=True)
        (place.data / name).write_bytes(content)
    return {name: len(table) for name, table in rows.items()}


def _rows(files: Mapping[str, bytes], name: str, newer: set[str]) -> list[dict[str, Any]]:
    file = f"{name}.csv"
    if file not in files:
        return []
    columns = {column.name for column in TABLES[name].columns if f"{name}.{column.name}" in newer}
    return read_csv(TABLES[name], files[file], file, columns)


def _take_in(session: Session, rows: Mapping[str, list[dict[str, Any]]]) -> None:
    drop_projection(session)
    for name in (*APART, *reversed(FACTS)):  # phones are let in anew: they are other people's now
        session.execute(delete(TABLES[name]))
    for name in FACTS:
        if rows[name]:
            session.connection().execute(insert(TABLES[name]), rows[name])
    entries(session), amendments(session), ticks(session)  # each is read once: none may fail a page later
    facts_changed(session)


def _has_facts(session: Session) -> bool:
    return any(session.scalar(select(func.count()).select_from(TABLES[name])) for name in FACTS)


def _read(source: Path) -> tuple[dict[str, bytes], str]:
    """The files of an export that are ours, by name, and its form. No path of an archive is ever used as a path."""
    if source.is_dir():
        paths = [*source.glob("*.csv"), source / WHOLE, *source.glob("sheets/*.toml")]
        found = [path for path in paths if path.is_file()]
        if sum(path.stat().st_size for path in found) > LARGEST_BYTES:
            raise _bad(f"{source} is larger than any export could be.")
        files = {path.relative_to(source).as_posix(): path.read_bytes() for path in found}
    else:
        files = _read_zip(source)
    form = _form(files[WHOLE], source) if WHOLE in files else head()
    newer = _newer(form)
    missing = [f"{name}.csv" for name in FACTS if f"{name}.csv" not in files and name not in newer]
    if missing or WHOLE not in files:
        raise _bad(f"{source.name} is no export of Twelvemonth: {(missing or [WHOLE])[0]} is not in it.")
    return files, form


def _newer(form: str) -> set[str]:
    """The tables and columns that had not come yet when an export of this form was written."""
    return {name for since, names in SINCE.items() if since > form for name in names}


def _read_zip(source: Path) -> dict[str, bytes]:
    wanted = {WHOLE, *(f"{name}.csv" for name in FACTS)}
    try:
        with zipfile.ZipFile(source) as archive:
            members = [
                info for info in archive.infolist() if info.filename in wanted or _SHEET.fullmatch(info.filename)
            ]
            size = sum(info.file_size for info in members)
            packed = sum(info.compress_size for info in members)
            if len(members) > 1000 or size > LARGEST_BYTES or size > LARGEST_RATIO * max(packed, 1):
                raise _bad(f"{source.name} unpacks to more than any export could be.")
            files = {}
            for info in members:
                with archive.open(info) as member:
                    files[info.filename] = member.read(info.file_size + 1)
            return files
    except FileNotFoundError:
        raise _bad(f"There is no file {source}.") from None
    except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError) as error:
        raise _bad(f"{source.name} is no export of Twelvemonth: it can't be unpacked.") from error


def _form(content: bytes, source: Path) -> str:
    try:
        whole = json.loads(content)
        name, form = whole["format"], str(whole["form"])
    except (ValueError, KeyError, TypeError) as error:
        raise _bad(f"{source.name} is no export of Twelvemonth: {WHOLE} can't be read.") from error
    if name != FORMAT:
        raise _bad(f"{source.name} is no export of Twelvemonth.")
    if form > head():
        raise _bad(f"{source.name} was written by a newer Twelvemonth (form {form}; this one knows {head()}).")
    return form


def _plain(value: Any) -> str:
    return str(value.isoformat())


def _bad(sentence: str) -> BadInput:
    return BadInput({"file": sentence})
