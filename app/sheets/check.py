"""What `twelvemonth sheets check` and `sheets list` say."""

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from app.errors import Fault, KnowledgeError
from app.rules.sheet import Sheet
from app.rules.terms import TRADES, Source
from app.sheets.library import ROOT, Library, load


class Row(NamedTuple):
    """One sheet in the list: ``steps`` counts them, ``sources`` names what it rests on."""

    trade: str
    id: str
    steps: int
    sources: str


def check(folder: Path | None = None, root: Path = ROOT) -> list[Fault]:
    """All that is wrong with the program's files, or else with a household's ``folder``."""
    if folder is not None and not folder.is_dir():
        return [Fault(str(folder), "", "", "there is no such folder")]
    try:
        return list(load(folder, root).faults)
    except KnowledgeError as error:
        return list(error.faults)


def listing(library: Library) -> list[Row]:
    """A row for each sheet, by trade and id."""
    ordered = sorted(library.sheets.values(), key=lambda sheet: (TRADES.index(sheet.trade), sheet.id))
    return [Row(sheet.trade, sheet.id, len(sheet.steps), ", ".join(_named(sheet))) for sheet in ordered]


def _named(sheet: Sheet) -> list[str]:
    found = {source.key or source.basis for source in cited(sheet)}
    return sorted(found, key=lambda name: (name in ("common practice", "from memory"), name))


def cited(sheet: Sheet) -> Iterator[Source]:
    """Every source of a sheet."""
    yield from (step.source for step in sheet.steps)
    yield from (bar.source for bar in sheet.bars)
    if sheet.crop:
        yield from sheet.crop.sources()


def unused(library: Library) -> list[str]:
    """The keys of sources.toml that no sheet, caution or law cites."""
    used = {source.key for sheet in library.sheets.values() for source in cited(sheet)}
    used |= {bar.source.key for bar in library.law.bars} | {rule.source.key for rule in library.rules}
    used |= {caution.source.key for caution in library.cautions.values()}
    return sorted(library.sources.keys() - used)


def unsaid(library: Library) -> list[str]:
    """The keys of cautions.toml that no sheet or step shows."""
    used = {name for sheet in library.sheets.values() for name in sheet.cautions}
    used |= {name for sheet in library.sheets.values() for step in sheet.steps for name in step.cautions}
    return sorted(library.cautions.keys() - used)
