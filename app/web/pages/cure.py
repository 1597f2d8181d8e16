"""The page of a cure, reckoned from the scales to the slice."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.house import Preview
from app.web.pages.page import Page
from app.web.parts import Caution, Field, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class CureGroup:
    """Some questions of the form, under a heading."""

    heading: str
    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class CureAnswer:
    """What follows from what was said."""

    heading: str  # "Belly, 2.7 kg, cured as bacon"
    grams: tuple[Pair, ...]  # "curing salt" "6.48 g"
    grams_note: str
    law: tuple[str, ...]  # the law that applies, and what must be known
    days: tuple[Pair, ...]  # "out of the cure" "15 November, after 14 days …"
    refused: tuple[str, ...]  # why there are no dates, or no smoke, and what to do
    why: tuple[str, ...]
    picture: Markup
    picture_says: tuple[Pair, ...]  # the same in words
    key: tuple[tuple[str, str], ...]  # the kind of line and what it is
    preview: Preview | None


@dataclass(frozen=True, slots=True)
class Cure(Page):
    """`cure.html`: a cure from the scales to the slice; nothing is saved by looking."""

    template = "cure.html"

    frame: Frame
    lead: str
    groups: tuple[CureGroup, ...]
    hidden: tuple[Pair, ...]
    error: str  # about the form as a whole
    answer: CureAnswer | None
    put: Form | None  # put it down
    cautions: tuple[Caution, ...]
    back: Link
