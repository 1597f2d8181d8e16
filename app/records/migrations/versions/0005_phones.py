"""The phones that are let in."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "device",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("person", sa.Integer(), nullable=True),
        sa.Column("secret_hash", sa.String(), nullable=False),
        sa.Column("let_in_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("seen_on", sa.Date(), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.CheckConstraint("name <> ''", name=op.f("ck_device_named")),
        sa.CheckConstraint("secret_hash <> ''", name=op.f("ck_device_secret")),
        sa.CheckConstraint("typeof(seen_on) = 'text'", name=op.f("ck_device_seen_on_type")),
        sa.ForeignKeyConstraint(["person"], ["person.id"], name=op.f("fk_device_person_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_device")),
        sa.UniqueConstraint("secret_hash", name=op.f("uq_device_secret_hash")),
    )


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError
