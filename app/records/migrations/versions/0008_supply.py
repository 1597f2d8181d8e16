"""What is bought in by the sack or bale, and whom to call when an animal is ill."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table, and add the column."""
    op.create_table(
        "supply",
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("pack", sa.Float(), nullable=True),
        sa.Column("price", sa.Float(), nullable=True),
        sa.Column("lead_days", sa.Integer(), nullable=True),
        sa.Column("stock", sa.Float(), nullable=True),
        sa.Column("stock_on", sa.Date(), nullable=True),
        _check("what", "what <> ''"),
        _check("pack", "pack > 0 AND pack <= 100000"),
        _check("price", "price >= 0 AND price <= 1000000"),
        _check("lead_days", "lead_days BETWEEN 0 AND 365"),
        _check("stock", "stock >= 0 AND stock <= 10000000"),
        _check("counted", "(stock IS NULL) = (stock_on IS NULL)"),
        sa.PrimaryKeyConstraint("what", name=op.f("pk_supply")),
    )
    with op.batch_alter_table("holding", recreate="always") as holding:
        holding.add_column(sa.Column("vet", sa.String(), nullable=True))
        holding.create_check_constraint(op.f("ck_holding_vet"), "vet <> ''")


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError


def _check(name: str, says: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(says, name=op.f(f"ck_supply_{name}"))
