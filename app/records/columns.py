"""Kinds of columns and checks that the tables share."""

from collections.abc import Sequence
from datetime import UTC, datetime

from sqlalchemy import CheckConstraint, DateTime, Dialect
from sqlalchemy.types import TypeDecorator

from app.records.sqlite import TYPE_CHECKS


class UtcDateTime(TypeDecorator[datetime]):
    """A moment with its zone, stored in UTC and read back so; one without a zone is refused."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """To the database: in UTC."""
        if value is None:
            return None
        if value.utcoffset() is None:
            raise ValueError("a moment without its time zone can't be kept")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """From the database: SQLite gives it back without its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.utcoffset() is None else value.astimezone(UTC)


def one_of(column: str, values: Sequence[str]) -> CheckConstraint:
    """A check that a column holds one of some words (or nothing)."""
    listed = ", ".join(f"'{value}'" for value in values)
    return CheckConstraint(f"{column} IN ({listed})", column)


def typed(kind: str, *columns: str) -> list[CheckConstraint]:
    """Checks that columns hold what their type says, for a database that would store any value in any of them."""
    return [
        CheckConstraint(TYPE_CHECKS[kind].format(column=column), f"{column}_type").ddl_if(dialect="sqlite")
        for column in columns
    ]
