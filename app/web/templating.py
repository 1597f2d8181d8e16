"""The templates' environment: filters, marks, and nothing that a template could compute with.

A page is drawn by ``draw(environment, page)``: its template gets the one name ``page`` and fails on
any name it does not know.
"""

from collections.abc import Callable
from pathlib import Path

from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from app.web.marks import sprite
from app.web.pages import Page
from app.web.parts import Fold, Row
from app.web.words import FILTERS


def environment(folder: Path, static: Callable[[str], str], cache: BytecodeCache | None = None) -> Environment:
    """An environment over the templates in ``folder``; ``static`` gives the address of a file such as "app.css"."""
    made = Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        bytecode_cache=cache,
    )
    made.filters.update(FILTERS)
    made.globals.update(
        static=static, sprite=sprite(), job_row=_remembered(made, "row"), job_fold=_remembered(made, "fold")
    )
    return made


_MOST = 4096


def _remembered(made: Environment, macro: str) -> Callable[[Row | Fold], Markup]:
    """A job's row or a fold as drawn, remembered: a hundred stand the same from one look at a month to the next."""
    known: dict[str, tuple[Row | Fold, Markup]] = {}

    def drawn(item: Row | Fold) -> Markup:
        before = known.get(item.anchor)
        if before is not None and (before[0] is item or before[0] == item):
            return before[1]
        text: Markup = getattr(made.get_template("fragments/row.html").module, macro)(item)
        if len(known) >= _MOST:
            known.clear()
        known[item.anchor] = (item, text)
        return text

    return drawn


def draw(made: Environment, page: Page) -> str:
    """A page's text."""
    return made.get_template(page.template).render(page=page)
