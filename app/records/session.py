"""One session for reading and one for writing; nothing else opens a transaction."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.exc import DatabaseError, IntegrityError
from sqlalchemy.orm import Session

from app.errors import DataFolderError
from app.records.sqlite import WRITE, said


@contextmanager
def reading(engine: Engine) -> Iterator[Session]:
    """A session that sees one moment of the records and changes nothing.

    Raises: DataFolderError when the database can't be read.
    """
    with _plainly(engine), Session(engine, expire_on_commit=False, autoflush=False) as session:
        yield session
        session.rollback()


@contextmanager
def writing(engine: Engine) -> Iterator[Session]:
    """A session that holds the records to itself from its first statement, and is committed when the block ends.

    An error inside takes everything back. The commit is made here and not by whoever answers a request, so that a
    commit that fails can't be answered with success.

    Raises: DataFolderError when the database is locked, full, damaged or can't be written.
    """
    bound = engine.execution_options(**{WRITE: True})
    with _plainly(engine), Session(bound, expire_on_commit=False) as session, session.begin():
        yield session


@contextmanager
def _plainly(engine: Engine) -> Iterator[None]:
    try:
        yield
    except IntegrityError:
        raise
    except DatabaseError as error:
        raise DataFolderError(said(engine.url.database, error.orig)) from error
