"""The weather as the household tells it for a day, in one tap."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the new table."""
    op.create_table(
        "weather_told",
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("sky", sa.String(), nullable=True),
        sa.Column("frost", sa.Boolean(), nullable=False),
        sa.Column("wind", sa.Boolean(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("sky IN ('dry', 'showers', 'wet')", name=op.f("ck_weather_told_sky")),
        sa.CheckConstraint("sky IS NOT NULL OR frost OR wind", name=op.f("ck_weather_told_said")),
        sa.CheckConstraint("typeof(day) = 'text'", name=op.f("ck_weather_told_day_type")).ddl_if(dialect="sqlite"),
        sa.PrimaryKeyConstraint("day", name=op.f("pk_weather_told")),
    )


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError
