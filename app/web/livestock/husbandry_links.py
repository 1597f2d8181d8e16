"""The ways between the pages of livestock that look ahead."""

from app.web.parts import Link

_EVERY = (
    ("Livestock", "/livestock"), ("Appointments", "/livestock/days"), ("Feed", "/livestock/feed"),
    ("What to expect", "/livestock/expect"), ("Grass and hay", "/livestock/grass"), ("The round", "/round"),
)  # fmt: skip


def ways(here: str) -> tuple[Link, ...]:
    """The other pages, the one that is shown marked."""
    return tuple(Link(name, href, here=href == here) for name, href in _EVERY)
