"""One session for reading and one for writing; nothing else opens a transaction."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from app.records.sqlite import WRITE


@contextmanager
def reading(engine: Engine) -> Iterator[Session]:
    """A session that sees one moment of the records and changes nothing."""
    with Session(engine, expire_on_commit=False, autoflush=False) as session:
        yield session
        session.rollback()


@contextmanager
def writing(engine: Engine) -> Iterator[Session]:
    """A session that holds the records to itself from its first statement, and is committed when the block ends.

    An error inside takes everything back. The commit is made here and not by whoever answers a request, so that a
    commit that fails can't be answered with success.
    """
    with Session(engine.execution_options(**{WRITE: True}), expire_on_commit=False) as session, session.begin():
        yield session
