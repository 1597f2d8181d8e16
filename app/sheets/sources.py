"""Where statements come from: the `source` of a step, sources.toml and cautions.toml."""

from collections.abc import Mapping

from app.errors import Fault
from app.rules.terms import Source
from app.sheets.values import Caution, Doc, Known, Publication, Reading, Table, found_instead, meant, shown

FORMS = '\'common practice\', { published = "key", at = "table or page" } or { memory = "believed where" }'
FORM_KEYS = frozenset({"published", "memory"})
NO_SOURCE = Source("from memory")


def source(table: Table) -> Source:
    """The source that a table must have; any source stands in for one that can't be read."""
    if not table.has("source"):
        table.fault("source", f"has no source; expected {FORMS}")
        return NO_SOURCE
    value = table.take("source")
    if value == "common practice":
        return Source("common practice")
    if not isinstance(value, Mapping) or len(FORM_KEYS & value.keys()) != 1:
        found = found_instead(value, FORM_KEYS) if isinstance(value, Mapping) else shown(value)
        table.fault("source", f"found {found}, expected {FORMS}")
        return NO_SOURCE
    below = table.below("source", value)
    read = Source("from memory", "", below.text("memory")) if "memory" in value else _published(below)
    below.close()
    return read


def _published(table: Table) -> Source:
    key = table.text("published", needed=True)
    known = table.reading.known.sources
    if key and known is not None and key not in known:
        table.fault("published", f"there is no source '{key}' in sources.toml{meant(key, known)}")
    return Source("published", key, table.text("at"))


def cautions(table: Table) -> tuple[str, ...]:
    """The cautions that a table names, each of them known."""
    known = table.reading.known.cautions
    names = table.texts("cautions")
    for name in names:
        if known is not None and name not in known:
            table.fault("cautions", f"there is no caution '{name}' in cautions.toml{meant(name, known)}")
    return names


def read_sources(doc: Doc, file: str) -> tuple[dict[str, Publication], list[Fault]]:
    """The publications of sources.toml."""
    reading = Reading(file)
    found: dict[str, Publication] = {}
    for key, value in doc.items():
        if not isinstance(value, Mapping):
            reading.fault(key, "", f"found {shown(value)}, expected a table with title, body and year")
            continue
        table = Table(value, reading, key)
        title, body = table.text("title", needed=True), table.text("body", needed=True)
        found[key] = Publication(title, body, table.whole("year", 1), table.text("seen"))
        table.close()
    return found, reading.faults


def read_cautions(doc: Doc, file: str, sources: Mapping[str, Publication]) -> tuple[dict[str, Caution], list[Fault]]:
    """The cautions of cautions.toml."""
    reading = Reading(file, Known(sources=sources))
    found: dict[str, Caution] = {}
    for key, value in doc.items():
        if not isinstance(value, Mapping):
            reading.fault(key, "", f"found {shown(value)}, expected a table with text and source")
            continue
        table = Table(value, reading, key)
        found[key] = Caution(table.text("text", needed=True), source(table))
        table.close()
    return found, reading.faults
