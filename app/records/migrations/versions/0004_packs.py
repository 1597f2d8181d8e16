"""A batch put down by hand may say of which entry it came, and what one pack of it weighs."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; the batches are worked out again afterwards."""
    with op.batch_alter_table("lot", recreate="always") as lot:
        lot.add_column(sa.Column("entry", sa.String(), nullable=True))
        lot.add_column(sa.Column("pack_kg", sa.Float(), nullable=True))
        lot.create_check_constraint(op.f("ck_lot_entry"), "entry <> ''")
        lot.create_check_constraint(op.f("ck_lot_pack_kg"), "pack_kg > 0 AND pack_kg <= 1000")
    with op.batch_alter_table("batch", recreate="always") as batch:
        batch.add_column(sa.Column("pack_kg", sa.Float(), nullable=True))


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError
