"""Single animals, the medicine cupboard, and how many there are of a group over time."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

_TEXT = sa.String()
_FIGURES = ("meat_days", "milk_hours", "eggs_days", "vet_meat_days", "vet_milk_hours", "vet_eggs_days")


def upgrade() -> None:
    """Make the new tables."""
    _animal()
    _medicine()
    _head_fact()


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError


def _animal() -> None:
    op.create_table(
        "animal",
        *(_text(name) for name in ("id", "entry", "tag", "name")),
        sa.Column("sex", _TEXT, nullable=True),
        sa.Column("born", sa.Date(), nullable=True),
        *(_text(name) for name in ("dam", "sire")),
        sa.Column("marked_on", sa.Date(), nullable=True),
        sa.Column("cull", sa.Boolean(), nullable=False),
        sa.Column("gone_on", sa.Date(), nullable=True),
        *(_text(name) for name in ("gone_why", "note")),
        sa.Column("struck", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        _check("animal", "id", "id <> ''"),
        _check("animal", "entry", "entry <> ''"),
        _check("animal", "called", "tag <> '' OR name <> ''"),
        _check("animal", "sex", "sex IN ('female', 'male', 'castrated')"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_animal")),
    )
    op.create_index(op.f("ix_animal_entry"), "animal", ["entry"])


def _medicine() -> None:
    op.create_table(
        "medicine",
        *(_text(name) for name in ("id", "name", "batch")),
        sa.Column("expires", sa.Date(), nullable=True),
        sa.Column("opened_on", sa.Date(), nullable=True),
        sa.Column("open_days", sa.Integer(), nullable=True),
        *(sa.Column(name, sa.Float(), nullable=True) for name in _FIGURES),
        _text("supplier"),
        sa.Column("bought_on", sa.Date(), nullable=True),
        sa.Column("bought", sa.Float(), nullable=True),
        sa.Column("amount_left", sa.Float(), nullable=True),
        sa.Column("unit", _TEXT, nullable=True),
        sa.Column("finished_on", sa.Date(), nullable=True),
        *(_text(name) for name in ("finished_how", "note")),
        sa.Column("struck", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        _check("medicine", "id", "id <> ''"),
        _check("medicine", "named", "name <> ''"),
        _check("medicine", "open_days", "open_days BETWEEN 1 AND 3650"),
        *(_check("medicine", name, f"{name} BETWEEN 0 AND 20000") for name in _FIGURES),
        _check("medicine", "amount_left", "amount_left BETWEEN 0 AND 1000000"),
        _check("medicine", "unit", "unit IN ('ml', 'l', 'g', 'kg', 'tablets', 'doses')"),
        _check("medicine", "bought", "bought BETWEEN 0 AND 1000000"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_medicine")),
    )


def _head_fact() -> None:
    kinds = (
        "'began', 'came', 'born', 'joined', 'died', 'predator', 'put down', 'killed', 'sold', 'given', 'left',"
        " 'moved', 'counted'"
    )
    op.create_table(
        "head_fact",
        *(_text(name) for name in ("id", "entry", "kind")),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        *(_text(name) for name in ("other", "tags", "paper", "note")),
        sa.Column("struck", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        _check("head_fact", "id", "id <> ''"),
        _check("head_fact", "entry", "entry <> ''"),
        _check("head_fact", "kind", f"kind IN ({kinds})"),
        _check("head_fact", "number", "number BETWEEN 0 AND 1000000"),
        _check("head_fact", "number_type", "typeof(number) = 'integer'"),
        _check("head_fact", "on_day_type", "typeof(on_day) = 'text'"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_head_fact")),
    )
    op.create_index(op.f("ix_head_fact_entry"), "head_fact", ["entry"])


def _text(name: str) -> sa.Column[str]:
    return sa.Column(name, _TEXT, nullable=False)


def _check(table: str, name: str, says: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(says, name=op.f(f"ck_{table}_{name}"))
