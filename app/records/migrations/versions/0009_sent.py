"""What phones sent out of their boxes is kept by its id, so that it counts once."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the table."""
    op.create_table(
        "sent",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("path", sa.String(), nullable=False),
        sa.Column("came", sa.String(), nullable=False),
        sa.Column("says", sa.String(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("id <> ''", name=op.f("ck_sent_id")),
        sa.CheckConstraint("typeof(at) = 'text'", name=op.f("ck_sent_at_type")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sent")),
    )
    op.create_index(op.f("ix_sent_at"), "sent", ["at"])


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError
