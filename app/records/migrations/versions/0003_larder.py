"""Kit, what is known of batches, and the batches as a table that can be worked out again."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_TEXT = sa.String()


def upgrade() -> None:
    """Make the new tables."""
    _kit()
    _batch_mark()
    _batch()


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError


def _check(table: str, name: str, says: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(says, name=op.f(f"ck_{table}_{name}"))


def _kit() -> None:
    kinds = "'freezer', 'fridge', 'curing fridge', 'dryer', 'smoker', 'pan', 'canner', 'propagator'"
    op.create_table(
        "kit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("litres", sa.Float(), nullable=True),
        sa.Column("trays", sa.Integer(), nullable=True),
        sa.Column("tray_m2", sa.Float(), nullable=True),
        sa.Column("watts", sa.Float(), nullable=True),
        sa.Column("ends", sa.Date(), nullable=True),
        sa.Column("note", _TEXT, nullable=False),
        _check("kit", "named", "name <> ''"),
        _check("kit", "kind", f"kind IN ({kinds})"),
        _check("kit", "litres", "litres > 0 AND litres <= 100000"),
        _check("kit", "trays", "trays > 0 AND trays <= 1000"),
        _check("kit", "tray_m2", "tray_m2 > 0 AND tray_m2 <= 100"),
        _check("kit", "watts", "watts > 0 AND watts <= 100000"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kit")),
        sa.UniqueConstraint("name", name=op.f("uq_kit_name")),
    )


def _batch_mark() -> None:
    op.create_table(
        "batch_mark",
        sa.Column("lot", _TEXT, nullable=False),
        sa.Column("year", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("killed", _TEXT, nullable=True),
        sa.Column("place", _TEXT, nullable=True),
        _check("batch_mark", "lot", "lot <> ''"),
        _check("batch_mark", "year", "year BETWEEN 0 AND 9999"),
        _check("batch_mark", "number", "number > 0"),
        _check("batch_mark", "killed", "killed IN ('home', 'abattoir', 'bought')"),
        _check("batch_mark", "place", "place <> ''"),
        sa.PrimaryKeyConstraint("lot", name=op.f("pk_batch_mark")),
        sa.UniqueConstraint("year", "number", name=op.f("uq_batch_mark_year_number")),
    )


def _batch() -> None:
    op.create_table(
        "batch",
        sa.Column("id", _TEXT, nullable=False),
        *(
            sa.Column(name, _TEXT, nullable=False)
            for name in ("number", "store", "what", "variety", "sheet", "trade", "entry", "key")
        ),
        sa.Column("made_on", sa.Integer(), nullable=False),
        sa.Column("amount", sa.Float(), nullable=True),
        sa.Column("unit", _TEXT, nullable=False),
        sa.Column("left", sa.Float(), nullable=True),
        sa.Column("short", sa.Boolean(), nullable=False),
        sa.Column("gone", sa.Boolean(), nullable=False),
        sa.Column("keeps_until", sa.Integer(), nullable=True),
        *(sa.Column(name, _TEXT, nullable=False) for name in ("basis", "source", "killed", "place", "note")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_batch")),
    )
    op.create_index(op.f("ix_batch_entry"), "batch", ["entry"])
    op.create_index(op.f("ix_batch_gone_keeps_until"), "batch", ["gone", "keeps_until"])
