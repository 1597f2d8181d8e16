"""How often facts had been changed, as a session sees it: what is kept in memory tells by it whether it still holds."""

from sqlalchemy.orm import Session

from app.records import store

_SEEN, _BEGUN = "facts", "begun"


def version_of(session: Session) -> int:
    """How often facts had been changed at the moment this session sees; while it writes, up to now."""
    known = session.info.get(_SEEN)
    return store.facts_version(session) if known is None else int(known)


def see(session: Session, version: int) -> None:
    """This session only reads: whatever others change meanwhile, it sees this count."""
    session.info[_SEEN] = version


def begin(session: Session) -> None:
    """This session is about to change facts: from here on it is asked anew, and where it began is kept."""
    session.info[_BEGUN] = session.info.pop(_SEEN)


def begun(session: Session) -> int:
    """The count when this session began to write, or when it last wrote the projection: what that was written from."""
    return int(session.info[_BEGUN])


def projected(session: Session, version: int) -> None:
    """The projection now stands for this count."""
    session.info[_BEGUN] = version
