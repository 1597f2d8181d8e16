"""What every page is: a frozen dataclass that names its template."""

from typing import ClassVar


class Page:
    """A page, or a part of one that goes out by itself; ``template`` lies under `templates/`."""

    __slots__ = ()
    template: ClassVar[str]
