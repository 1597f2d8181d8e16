"""The lie of the holding, its weather, its beds, lots, own ways and neighbours' flowers."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_TEXT = sa.String()
_MOMENT = sa.DateTime(timezone=True)

_OLD_HOLDING = (
    "id, name, nation, latitude, longitude, altitude_m, timezone, mouths, units, last_frost_10, last_frost_50,"
    " last_frost_90, first_frost_10, first_frost_50, first_frost_90, normals, created_at"
)


def upgrade() -> None:
    """Give the holding its aspect and its frost hollow, and make the new tables."""
    for make in (_holding, _normals_month, _weather, _bed, _bed_fact, _lot, _lot_fact, _way, _nearby):
        make()


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError


def _typed(table: str, kinds: str, *columns: str) -> list[sa.CheckConstraint]:
    # SQLite would store any value in any column; others keep to the column's type by themselves.
    if op.get_bind().dialect.name != "sqlite":
        return []
    return [_check(table, f"{column}_type", f"typeof({column}) {kinds}") for column in columns]


def _check(table: str, name: str, says: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(says, name=op.f(f"ck_{table}_{name}"))


def _holding() -> None:
    # Made anew under its own name, because a check can't be added to a table that stands; nothing refers to it.
    op.rename_table("holding", "old_holding")
    op.create_table(
        "holding",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("nation", _TEXT, nullable=True),
        sa.Column("latitude", sa.Float(), nullable=False),
        sa.Column("longitude", sa.Float(), nullable=False),
        sa.Column("altitude_m", sa.Float(), nullable=False),
        sa.Column("aspect", _TEXT, nullable=True),
        sa.Column("frost_hollow", sa.Boolean(), nullable=False),
        sa.Column("timezone", _TEXT, nullable=False),
        sa.Column("mouths", sa.Float(), nullable=False),
        sa.Column("units", _TEXT, nullable=False),
        *(
            sa.Column(f"{frost}_frost_{chance}", _TEXT, nullable=True)
            for frost in ("last", "first")
            for chance in (10, 50, 90)
        ),
        sa.Column("normals", _TEXT, nullable=True),
        sa.Column("created_at", _MOMENT, nullable=False),
        *(
            _check("holding", f"{frost}_frost_{chance}", f"{frost}_frost_{chance} LIKE '--__-__'")
            for frost in ("last", "first")
            for chance in (10, 50, 90)
        ),
        _check(
            "holding",
            "nation",
            "nation IN ('england', 'scotland', 'wales', 'northern ireland', 'ireland', 'elsewhere')",
        ),
        _check("holding", "units", "units IN ('metric', 'imperial')"),
        _check("holding", "aspect", "aspect IN ('north', 'east', 'south', 'west', 'flat')"),
        _check("holding", "altitude", "altitude_m BETWEEN -450 AND 9000"),
        _check("holding", "single", "id = 1"),
        _check("holding", "latitude", "latitude BETWEEN -90 AND 90"),
        _check("holding", "longitude", "longitude BETWEEN -180 AND 180"),
        _check("holding", "mouths", "mouths >= 0"),
        _check("holding", "normals", "normals <> ''"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_holding")),
        *_typed("holding", "IN ('integer', 'real')", "altitude_m", "latitude", "longitude", "mouths"),
    )
    op.execute(f"INSERT INTO holding ({_OLD_HOLDING}, frost_hollow) SELECT {_OLD_HOLDING}, FALSE FROM old_holding")
    op.drop_table("old_holding")


def _temperatures(table: str) -> list[sa.CheckConstraint]:
    return [
        _check(table, "min_c", "min_c BETWEEN -90 AND 60"),
        _check(table, "max_c", "max_c BETWEEN -90 AND 60"),
        _check(table, "order", "min_c <= max_c"),
    ]


def _normals_month() -> None:
    op.create_table(
        "normals_month",
        sa.Column("month", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("min_c", sa.Float(), nullable=False),
        sa.Column("max_c", sa.Float(), nullable=False),
        sa.Column("rain_mm", sa.Float(), nullable=True),
        _check("normals_month", "month", "month BETWEEN 1 AND 12"),
        *_temperatures("normals_month"),
        _check("normals_month", "rain_mm", "rain_mm BETWEEN 0 AND 10000"),
        sa.PrimaryKeyConstraint("month", name=op.f("pk_normals_month")),
    )


def _weather() -> None:
    op.create_table(
        "weather_file",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("taken_at", _MOMENT, nullable=False),
        sa.Column("rows", sa.Integer(), nullable=False),
        sa.Column("left_out", sa.Integer(), nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        _check("weather_file", "named", "name <> ''"),
        _check("weather_file", "rows", '"rows" >= 0'),
        _check("weather_file", "left_out", "left_out >= 0"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_weather_file")),
        *_typed("weather_file", "= 'integer'", "left_out"),
    )
    op.create_table(
        "weather_day",
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("min_c", sa.Float(), nullable=True),
        sa.Column("max_c", sa.Float(), nullable=True),
        sa.Column("rain_mm", sa.Float(), nullable=True),
        sa.Column("file", sa.Integer(), nullable=True),
        sa.Column("at", _MOMENT, nullable=False),
        *_temperatures("weather_day"),
        _check("weather_day", "rain_mm", "rain_mm BETWEEN 0 AND 2000"),
        _check("weather_day", "read", "min_c IS NOT NULL OR max_c IS NOT NULL OR rain_mm IS NOT NULL"),
        sa.ForeignKeyConstraint(["file"], ["weather_file.id"], name=op.f("fk_weather_day_file_weather_file")),
        sa.PrimaryKeyConstraint("day", name=op.f("pk_weather_day")),
        *_typed("weather_day", "= 'text'", "day"),
    )
    op.create_index(op.f("ix_weather_day_file"), "weather_day", ["file"])


def _bed() -> None:
    op.create_table(
        "bed",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("length_m", sa.Float(), nullable=False),
        sa.Column("width_m", sa.Float(), nullable=False),
        sa.Column("cover", _TEXT, nullable=False),
        sa.Column("soil", _TEXT, nullable=True),
        sa.Column("trays", sa.Integer(), nullable=True),
        sa.Column("ends", sa.Date(), nullable=True),
        sa.Column("note", _TEXT, nullable=False),
        _check("bed", "named", "name <> ''"),
        _check("bed", "length_m", "length_m > 0 AND length_m <= 10000"),
        _check("bed", "width_m", "width_m > 0 AND width_m <= 10000"),
        _check("bed", "trays", "trays > 0 AND trays <= 10000"),
        _check("bed", "cover", "cover IN ('open', 'tunnel', 'frame', 'propagator', 'sill')"),
        _check("bed", "soil", "soil IN ('sand', 'sandy loam', 'loam', 'silt loam', 'clay')"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bed")),
        sa.UniqueConstraint("name", name=op.f("uq_bed_name")),
    )


def _bed_fact() -> None:
    op.create_table(
        "bed_fact",
        sa.Column("id", _TEXT, nullable=False),
        sa.Column("bed", sa.Integer(), nullable=False),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("what", _TEXT, nullable=False),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("amount", sa.Float(), nullable=True),
        sa.Column("unit", _TEXT, nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        sa.Column("struck", sa.Boolean(), nullable=False),
        _check("bed_fact", "id", "id <> ''"),
        _check("bed_fact", "kind", "kind IN ('grew', 'trouble', 'fed', 'watered')"),
        _check("bed_fact", "amount", "amount >= 0 AND amount <= 1000000"),
        sa.ForeignKeyConstraint(["bed"], ["bed.id"], name=op.f("fk_bed_fact_bed_bed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bed_fact")),
        *_typed("bed_fact", "= 'text'", "on_day"),
    )
    op.create_index(op.f("ix_bed_fact_bed"), "bed_fact", ["bed"])


def _lot() -> None:
    op.create_table(
        "lot",
        sa.Column("id", _TEXT, nullable=False),
        sa.Column("what", _TEXT, nullable=False),
        sa.Column("sheet", _TEXT, nullable=False),
        sa.Column("variety", _TEXT, nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.Column("amount", sa.Float(), nullable=False),
        sa.Column("unit", _TEXT, nullable=False),
        sa.Column("keeps_until", sa.Date(), nullable=True),
        sa.Column("place", _TEXT, nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        sa.Column("told", sa.Date(), nullable=False),
        sa.Column("struck", sa.Boolean(), nullable=False),
        _check("lot", "plain_id", "id <> '' AND id NOT LIKE '%#%'"),
        _check("lot", "what", "what <> ''"),
        _check("lot", "amount", "amount >= 0 AND amount <= 1000000000"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot")),
        *_typed("lot", "IN ('integer', 'real')", "amount"),
        *_typed("lot", "= 'text'", "made_on", "told"),
    )


def _lot_fact() -> None:
    op.create_table(
        "lot_fact",
        sa.Column("id", _TEXT, nullable=False),
        sa.Column("lot", _TEXT, nullable=False),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("amount", sa.Float(), nullable=True),
        sa.Column("measures", sa.JSON(), nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("struck", sa.Boolean(), nullable=False),
        _check("lot_fact", "id", "id <> ''"),
        _check("lot_fact", "lot", "lot <> ''"),
        _check("lot_fact", "kind", "kind IN ('used', 'counted', 'given', 'thrown', 'tested')"),
        _check("lot_fact", "amount", "amount >= 0 AND amount <= 1000000000"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot_fact")),
        *_typed("lot_fact", "= 'text'", "on_day"),
    )
    op.create_index(op.f("ix_lot_fact_lot"), "lot_fact", ["lot"])


def _way() -> None:
    op.create_table(
        "way",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("scope", _TEXT, nullable=False),
        sa.Column("entry", _TEXT, nullable=False),
        sa.Column("sheet", _TEXT, nullable=False),
        sa.Column("variety", _TEXT, nullable=False),
        sa.Column("step", _TEXT, nullable=False),
        sa.Column("what", _TEXT, nullable=False),
        sa.Column("amount", sa.Float(), nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        sa.Column("told", sa.Date(), nullable=False),
        sa.Column("struck", sa.Boolean(), nullable=False),
        _check("way", "scope", "scope IN ('entry', 'variety', 'holding')"),
        _check("way", "what", "what IN ('days', 'keeps_days', 'minutes_percent', 'yield_percent')"),
        _check("way", "entry", "scope <> 'entry' OR entry <> ''"),
        _check("way", "variety", "scope <> 'variety' OR variety <> ''"),
        _check("way", "amount", "amount BETWEEN -100000 AND 100000"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_way")),
        *_typed("way", "IN ('integer', 'real')", "amount"),
        *_typed("way", "= 'text'", "told"),
    )


def _nearby() -> None:
    op.create_table(
        "nearby",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("species", _TEXT, nullable=False),
        sa.Column("what", _TEXT, nullable=False),
        sa.Column("distance_m", sa.Float(), nullable=False),
        sa.Column("first", sa.Date(), nullable=True),
        sa.Column("last", sa.Date(), nullable=True),
        sa.Column("note", _TEXT, nullable=False),
        sa.Column("struck", sa.Boolean(), nullable=False),
        _check("nearby", "species", "species <> ''"),
        _check("nearby", "distance_m", "distance_m >= 0 AND distance_m <= 100000"),
        _check("nearby", "order", "first <= last"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_nearby")),
        *_typed("nearby", "IN ('integer', 'real')", "distance_m"),
    )
