"""What the household made up its mind about: one entry for each way, with its kilos, put down at once."""

from collections.abc import Mapping

from app.errors import BadInput
from app.records import store
from app.rules.spans import Day
from app.services.book import Book
from app.services.entries import add
from app.services.preserving.glut import Glut, Offer, Offers, offers
from app.services.preview import Draft
from app.sheets.glut_tables import GlutWay

KINDS: Mapping[str, str] = {
    "dry": "dried",
    "powder": "powder",
    "bottle": "bottled",
    "freeze": "frozen",
    "raw": "kept raw",
}
NEAR_KG = 0.05


def field_of(way: GlutWay) -> str:
    """The name of the field in which the kilos of a way are typed."""
    return f"kg-{way.id}"


def check_shares(glut: Glut, shares: Mapping[str, float]) -> None:
    """What is shared out is some of it, and no more than there is.

    Raises: BadInput.
    """
    total = sum(shares.values())
    if total <= 0:
        raise BadInput({"shares": "Share some of it out: say how many kilos go which way."})
    if total > glut.kg + NEAR_KG:
        raise BadInput({"shares": f"That shares out {total:g} kg, and there are {glut.kg:g}."})


def name_of(found: Offers, one: Offer) -> str:
    """What its entry is called: "Tomatoes, dried"."""
    what = found.crop.name if found.crop is not None else found.glut.what
    word = KINDS.get(one.of.kind, one.sheet.title[:1].lower() + one.sheet.title[1:])
    return f"{what[:1].upper()}{what[1:]}, {word}"[:80]


def put_down(
    book: Book, glut: Glut, shares: Mapping[str, float], token: str, today: Day, later: bool = False
) -> list[str]:
    """One entry for each way with its kilos; sent twice with one ``token``, they are put down once. Gives their ids.

    Raises: BadInput when more is shared out than there is, or a way can't take its share.
    """
    check_shares(glut, shares)
    with book.writing() as session:
        found = offers(book, session, glut, today, shares, later)
        wrong = {field_of(one.of): one.refused for one in found.ways if one.refused}
        if wrong:
            raise BadInput(wrong)
        made = []
        for one in found.ways:
            ident = f"{one.sheet.id}-{token[:12]}" if token else ""
            if not ident or not store.entries(session, [ident]):
                note = f"Of {glut.kg:g} kg of {glut.what}."
                ident = add(book, session, Draft(one.sheet.id, name_of(found, one), "", one.facts, note), today, ident)
            made.append(ident)
        return made
