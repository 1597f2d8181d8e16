"""What the larder goes by: larder.toml, read once and checked."""

import re
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
from pathlib import Path
from tomllib import loads
from typing import Literal, NamedTuple, TypeVar, cast

from app.errors import Fault, KnowledgeError
from app.rules.spans import Span
from app.rules.terms import NATIONS, TRADES, Nation, Source
from app.sheets.sources import read_sources, source
from app.sheets.values import Doc, Known, Reading, Table, meant
from app.trade.meat.keeping import KEEPING

Basis = Literal["quality", "safety"]
BASES: tuple[Basis, ...] = ("quality", "safety")
PLACES = ("shelf", "freezer", "store", "fridge")
FILE = "larder.toml"
_ROOT = Path(__file__).parent
_Row = TypeVar("_Row")


class BasisRow(NamedTuple):
    """What the day of a batch is of, for names, a trade or a store; "" and () fit everything."""

    named: tuple[str, ...]
    trade: str
    store: str
    of: Basis
    source: Source


class Figure(NamedTuple):
    """How long something keeps by one table: the lower and the higher span, and whose they are."""

    low: Span
    high: Span
    basis: str
    source: str  # words; a published one of sources.toml is named by ``key`` instead
    key: Source | None
    says: str


class KeepsRow(NamedTuple):
    """What several tables say of things so named, in one store or, where none is said, in fridge and freezer."""

    named: tuple[str, ...]
    store: str
    figures: tuple[Figure, ...]
    frozen: tuple[Figure, ...]


class NationRow(NamedTuple):
    """What is said in some nations."""

    nations: tuple[Nation, ...]
    says: str
    source: Source


class LarderTables(NamedTuple):
    """The whole of larder.toml."""

    basis: tuple[BasisRow, ...]
    keeps: tuple[KeepsRow, ...]
    home_killed: tuple[NationRow, ...]
    refreeze: tuple[NationRow, ...]


@cache
def larder_tables() -> LarderTables:
    """The tables that come with the program.

    Raises: KnowledgeError with all that is wrong with them.
    """
    sources, faults = read_sources(loads((_ROOT / "sources.toml").read_text(encoding="utf-8")), "sources.toml")
    found, wrong = read_larder(loads((_ROOT / FILE).read_text(encoding="utf-8")), Known(sources))
    if faults or wrong:
        raise KnowledgeError([*faults, *wrong])
    return found


def read_larder(doc: Doc, known: Known) -> tuple[LarderTables, list[Fault]]:
    """The tables out of parsed TOML, and what is wrong with them."""
    reading = Reading(FILE, known)
    head = Table(doc, reading)
    found = LarderTables(
        tuple(_each(head, "basis", _basis)), tuple(_each(head, "keeps", _keeps)),
        tuple(_each(head, "home_killed", _nation)), tuple(_each(head, "refreeze", _nation)),
    )  # fmt: skip
    head.close()
    if not found.basis or found.basis[-1][:3] != ((), "", ""):
        head.fault("basis", "the last row must fit everything: it has no named, trade or store")
    for name, rows in (("home_killed", found.home_killed), ("refreeze", found.refreeze)):
        if missing := set(NATIONS) - {nation for row in rows for nation in row.nations}:
            head.fault(name, f"says nothing for {', '.join(sorted(missing))}")
    return found, reading.faults


@lru_cache(maxsize=4096)
def basis_of(what: str, trade: str, store: str) -> BasisRow:
    """The row that says what the day of such a batch is of."""
    for row in larder_tables().basis:
        fits = row.trade in ("", trade) and row.store in ("", store)
        if fits and (not row.named or named(what, row.named)):
            return row
    raise LookupError("the last row fits everything")  # checked when it is read


def figures_of(what: str, store: str) -> tuple[Figure, ...]:
    """How long such a thing keeps there, by each table that says."""
    for row in larder_tables().keeps:
        if row.store in ("", store) and named(what, row.named):
            return row.figures if row.store else {"freezer": row.frozen, "fridge": row.figures}.get(store, ())
    return ()


def said_in(rows: Iterable[NationRow], nation: str) -> NationRow:
    """What is said in a nation; elsewhere, for one that is not known."""
    every = list(rows)
    return next((row for row in every if nation in row.nations), every[-1])


@lru_cache(maxsize=16384)
def named(what: str, words: tuple[str, ...]) -> bool:
    """Whether one of some words or phrases stands in a name, whole, singular or plural: "ham" not in "champignon"."""
    return any(_word(word).search(what.casefold()) for word in words)


@cache
def _word(word: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![a-z]){re.escape(word)}(?:s|es|d)?(?![a-z])")


def _each(head: Table, key: str, read: Callable[[Table], _Row]) -> Iterable[_Row]:
    for number, table in enumerate(head.tables(key), 1):
        table.step = f"{key} {number}"
        table.path = ""
        yield read(table)
        table.close()


def _basis(table: Table) -> BasisRow:
    of = cast(Basis, table.choice("of", BASES, "safety", needed=True))
    return BasisRow(
        table.texts("named"), table.choice("trade", TRADES), table.choice("store", PLACES), of, source(table)
    )


def _nation(table: Table) -> NationRow:
    nations = cast(tuple[Nation, ...], table.choices("nations", NATIONS, "nation"))
    return NationRow(nations, table.text("says", needed=True), source(table))


def _keeps(table: Table) -> KeepsRow:
    words, store = table.texts("named"), table.choice("store", PLACES)
    if not words:
        table.fault("named", "is missing; expected a list of words")
    chilled: list[Figure] = []
    frozen: list[Figure] = []
    for below in table.tables("figures"):
        if below.has("meat"):
            _of_meat(below, store, chilled, frozen)
        else:
            chilled.append(_of_spans(below))
        below.close()
    return KeepsRow(words, store, tuple(frozen if store == "freezer" else chilled), tuple(frozen))


def _of_spans(table: Table) -> Figure:
    spans = table.texts("keeps")
    if len(spans) != 2:
        table.fault("keeps", 'expected a low and a high, such as ["P3M", "P6M"], or meat')
        spans = ("P1D", "P1D")
    low, high = (table.read_span("keeps", one) for one in spans)
    key = source(table)
    return Figure(low, high, key.basis, "", key, table.text("says"))


def _of_meat(table: Table, store: str, chilled: list[Figure], frozen: list[Figure]) -> None:
    """A row of the table of meat, where fridge times are days and freezer times months."""
    name, says = table.text("meat"), table.text("says")
    row = KEEPING.get(name)
    if row is None:
        table.fault("meat", f"no table has '{name}'{meant(name, KEEPING)}")
        return
    if store != "fridge" and row.frozen is not None:
        low, high = row.frozen
        frozen.append(Figure(Span(low, 0), Span(high, 0), row.basis, row.source, None, says))
    if store != "freezer" and row.chilled is not None:
        low, high = row.chilled
        chilled.append(Figure(Span(0, low), Span(0, high), row.basis, row.source, None, says))
