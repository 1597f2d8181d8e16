"""What an entry's page shows of a cure."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.parts import NO_LINE, Form, Link, Pair


@dataclass(frozen=True, slots=True)
class CureKept:
    """`fragments/cure_kept.html`: on a cure's entry page, what was weighed out and what it has weighed since."""

    grams: tuple[Pair, ...] = ()
    warning: str = ""
    reckon: Link | None = None  # to weigh it out, or anew
    weights: tuple[Pair, ...] = ()
    picture: Markup = NO_LINE
    said: tuple[str, ...] = ()  # "7 % lighter is 2.51 kg, about 2 December."
    all_the_same: tuple[tuple[str, Form], ...] = ()  # what has no date and was done all the same
