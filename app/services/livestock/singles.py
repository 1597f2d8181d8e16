"""Single animals as they are called, and told from one another by tag or name."""

from collections.abc import Iterable, Sequence

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import AnimalRow

WORDS = {
    ("sheep", "castrated"): "wether", ("goat", "castrated"): "wether", ("pig", "castrated"): "barrow",
    ("cattle", "castrated"): "steer", ("sheep", "male"): "ram", ("goat", "male"): "billy", ("pig", "male"): "boar",
    ("cattle", "male"): "bull", ("rabbit", "male"): "buck", ("sheep", "female"): "ewe", ("goat", "female"): "nanny",
    ("pig", "female"): "sow", ("cattle", "female"): "cow", ("rabbit", "female"): "doe",
}  # fmt: skip
"""What the trade calls an animal by species and sex."""


def animals_of(session: Session, entry_id: str) -> list[AnimalRow]:
    """The animals of a group, those that are gone last."""
    return sorted(store.animals(session, [entry_id]), key=lambda one: (one.gone_on is not None, one.tag, one.name))


def called(row: AnimalRow) -> str:
    """What an animal is called: its name, its tag, or both."""
    return f"{row.name} ({row.tag})" if row.name and row.tag else row.name or row.tag


def kind_of(species: str, sex: str | None) -> str:
    """What the trade calls one of this species and sex, "" where it has no word here."""
    return WORDS.get((species, sex or ""), "")


def pick(rows: Sequence[AnimalRow], said: Iterable[str]) -> list[AnimalRow] | None:
    """The animals that are meant; None where one of them can't be told, or two are called alike: it may be any then."""
    found = []
    for text in said:
        meant = [row for row in rows if is_meant(row, text)]
        if len(meant) != 1:
            return None
        found += meant
    return list({row.id: row for row in found}.values())


def is_meant(row: AnimalRow, text: str) -> bool:
    """Whether a name as it was written down is this animal's: by its tag before all, which outlives a new name."""
    said = text.strip().casefold()
    known = {called(row).casefold(), row.tag.casefold(), row.name.casefold()} - {""}
    return said in known or (bool(row.tag) and said.endswith(f"({row.tag.casefold()})"))
