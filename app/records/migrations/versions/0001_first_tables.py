"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_TEXT = sa.String()
_MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make every table."""
    for make in (
        _holding,
        _person,
        _absence,
        _entry,
        _amendment,
        _tick,
        _feed_link,
        _stamp,
        _task,
        _standing,
        _clash,
        _lack,
        _state,
    ):
        make()


def downgrade() -> None:
    """There is no way back but a backup, which is made before every upgrade."""
    raise NotImplementedError


def _typed(table: str, kinds: str, *columns: str) -> list[sa.CheckConstraint]:
    # SQLite would store any value in any column; others keep to the column's type by themselves.
    if op.get_bind().dialect.name != "sqlite":
        return []
    return [
        sa.CheckConstraint(f"typeof({column}) {kinds}", name=op.f(f"ck_{table}_{column}_type")) for column in columns
    ]


def _holding() -> None:
    op.create_table(
        "holding",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("nation", _TEXT, nullable=True),
        sa.Column("latitude", sa.Float(), nullable=False),
        sa.Column("longitude", sa.Float(), nullable=False),
        sa.Column("altitude_m", sa.Float(), nullable=False),
        sa.Column("timezone", _TEXT, nullable=False),
        sa.Column("mouths", sa.Float(), nullable=False),
        sa.Column("units", _TEXT, nullable=False),
        sa.Column("last_frost_10", _TEXT, nullable=True),
        sa.Column("last_frost_50", _TEXT, nullable=True),
        sa.Column("last_frost_90", _TEXT, nullable=True),
        sa.Column("first_frost_10", _TEXT, nullable=True),
        sa.Column("first_frost_50", _TEXT, nullable=True),
        sa.Column("first_frost_90", _TEXT, nullable=True),
        sa.Column("normals", _TEXT, nullable=True),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.CheckConstraint("first_frost_10 LIKE '--__-__'", name=op.f("ck_holding_first_frost_10")),
        sa.CheckConstraint("first_frost_50 LIKE '--__-__'", name=op.f("ck_holding_first_frost_50")),
        sa.CheckConstraint("first_frost_90 LIKE '--__-__'", name=op.f("ck_holding_first_frost_90")),
        sa.CheckConstraint("last_frost_10 LIKE '--__-__'", name=op.f("ck_holding_last_frost_10")),
        sa.CheckConstraint("last_frost_50 LIKE '--__-__'", name=op.f("ck_holding_last_frost_50")),
        sa.CheckConstraint("last_frost_90 LIKE '--__-__'", name=op.f("ck_holding_last_frost_90")),
        sa.CheckConstraint(
            "nation IN ('england', 'scotland', 'wales', 'northern ireland', 'ireland', 'elsewhere')",
            name=op.f("ck_holding_nation"),
        ),
        sa.CheckConstraint("units IN ('metric', 'imperial')", name=op.f("ck_holding_units")),
        sa.CheckConstraint("altitude_m BETWEEN -450 AND 9000", name=op.f("ck_holding_altitude")),
        sa.CheckConstraint("id = 1", name=op.f("ck_holding_single")),
        sa.CheckConstraint("latitude BETWEEN -90 AND 90", name=op.f("ck_holding_latitude")),
        sa.CheckConstraint("longitude BETWEEN -180 AND 180", name=op.f("ck_holding_longitude")),
        sa.CheckConstraint("mouths >= 0", name=op.f("ck_holding_mouths")),
        sa.CheckConstraint("normals <> ''", name=op.f("ck_holding_normals")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_holding")),
        *_typed("holding", "IN ('integer', 'real')", "altitude_m", "latitude", "longitude", "mouths"),
    )


def _person() -> None:
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("monday", sa.Integer(), nullable=False),
        sa.Column("tuesday", sa.Integer(), nullable=False),
        sa.Column("wednesday", sa.Integer(), nullable=False),
        sa.Column("thursday", sa.Integer(), nullable=False),
        sa.Column("friday", sa.Integer(), nullable=False),
        sa.Column("saturday", sa.Integer(), nullable=False),
        sa.Column("sunday", sa.Integer(), nullable=False),
        sa.Column("left_on", sa.Date(), nullable=True),
        sa.CheckConstraint("name <> ''", name=op.f("ck_person_named")),
        sa.CheckConstraint("friday BETWEEN 0 AND 1440", name=op.f("ck_person_friday")),
        sa.CheckConstraint("monday BETWEEN 0 AND 1440", name=op.f("ck_person_monday")),
        sa.CheckConstraint("saturday BETWEEN 0 AND 1440", name=op.f("ck_person_saturday")),
        sa.CheckConstraint("sunday BETWEEN 0 AND 1440", name=op.f("ck_person_sunday")),
        sa.CheckConstraint("thursday BETWEEN 0 AND 1440", name=op.f("ck_person_thursday")),
        sa.CheckConstraint("tuesday BETWEEN 0 AND 1440", name=op.f("ck_person_tuesday")),
        sa.CheckConstraint("wednesday BETWEEN 0 AND 1440", name=op.f("ck_person_wednesday")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        *_typed("person", "= 'integer'", "friday", "monday", "saturday", "sunday", "thursday", "tuesday", "wednesday"),
    )


def _absence() -> None:
    op.create_table(
        "absence",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("person", sa.Integer(), nullable=False),
        sa.Column("first", sa.Date(), nullable=False),
        sa.Column("last", sa.Date(), nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        sa.CheckConstraint("first <= last", name=op.f("ck_absence_order")),
        sa.ForeignKeyConstraint(["person"], ["person.id"], name=op.f("fk_absence_person_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_absence")),
        *_typed("absence", "= 'text'", "first", "last"),
    )
    op.create_index(op.f("ix_absence_person"), "absence", ["person"])


def _entry() -> None:
    op.create_table(
        "entry",
        sa.Column("id", _TEXT, nullable=False),
        sa.Column("sheet", _TEXT, nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("place", _TEXT, nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.Column("told", sa.Date(), nullable=False),
        sa.Column("ends", sa.Date(), nullable=True),
        sa.Column("struck", sa.Boolean(), nullable=False),
        sa.Column("note", _TEXT, nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.CheckConstraint("id <> '' AND id NOT LIKE '%.%' AND id NOT LIKE '%+%'", name=op.f("ck_entry_plain_id")),
        sa.CheckConstraint("sheet <> ''", name=op.f("ck_entry_sheet")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entry")),
        *_typed("entry", "= 'text'", "told"),
    )


def _amendment() -> None:
    op.create_table(
        "amendment",
        sa.Column("entry", _TEXT, nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("place", _TEXT, nullable=False),
        sa.Column("ends", sa.Date(), nullable=True),
        sa.Column("struck", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("entry", name=op.f("pk_amendment")),
    )


def _tick() -> None:
    op.create_table(
        "tick",
        sa.Column("id", _TEXT, nullable=False),
        sa.Column("key", _TEXT, nullable=False),
        sa.Column("entry", _TEXT, nullable=False),
        sa.Column("step", _TEXT, nullable=False),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("measures", sa.JSON(), nullable=False),
        sa.Column("remark", _TEXT, nullable=False),
        sa.Column("reason", _TEXT, nullable=False),
        sa.Column("answers", _TEXT, nullable=False),
        sa.Column("shown_opens", sa.Date(), nullable=True),
        sa.Column("shown_best", sa.Date(), nullable=True),
        sa.Column("shown_closes", sa.Date(), nullable=True),
        sa.Column("tied_to", _TEXT, nullable=False),
        sa.Column("person", sa.Integer(), nullable=True),
        sa.Column("digest", _TEXT, nullable=False),
        sa.CheckConstraint("(kind = 'undone') = (answers <> '')", name=op.f("ck_tick_answers")),
        sa.CheckConstraint("id <> ''", name=op.f("ck_tick_id")),
        sa.CheckConstraint("kind IN ('done', 'let go', 'moved', 'undone')", name=op.f("ck_tick_kind")),
        sa.CheckConstraint(
            "(shown_opens IS NULL AND shown_best IS NULL AND shown_closes IS NULL)"
            " OR (shown_opens IS NOT NULL AND shown_best IS NOT NULL AND shown_closes IS NOT NULL"
            " AND shown_opens <= shown_best AND shown_best <= shown_closes)",
            name=op.f("ck_tick_shown"),
        ),
        sa.ForeignKeyConstraint(["person"], ["person.id"], name=op.f("fk_tick_person_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tick")),
        *_typed("tick", "= 'text'", "at", "on_day"),
    )
    op.create_index(op.f("ix_tick_answers"), "tick", ["answers"])
    op.create_index(op.f("ix_tick_at"), "tick", ["at"])
    op.create_index(op.f("ix_tick_entry"), "tick", ["entry"])
    op.create_index(op.f("ix_tick_key"), "tick", ["key"])
    op.create_index(op.f("ix_tick_tied_to"), "tick", ["tied_to"])


def _feed_link() -> None:
    op.create_table(
        "feed_link",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", _TEXT, nullable=False),
        sa.Column("secret_hash", _TEXT, nullable=False),
        sa.Column("options", sa.JSON(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("revoked_at", _MOMENT, nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_feed_link")),
        sa.UniqueConstraint("secret_hash", name=op.f("uq_feed_link_secret_hash")),
    )


def _stamp() -> None:
    op.create_table(
        "stamp",
        sa.Column("key", _TEXT, nullable=False),
        sa.Column("digest", _TEXT, nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("changed_at", _MOMENT, nullable=False),
        sa.Column("gone_at", _MOMENT, nullable=True),
        sa.Column("summary", _TEXT, nullable=False),
        sa.Column("opens", sa.Integer(), nullable=True),
        sa.Column("closes", sa.Integer(), nullable=True),
        sa.CheckConstraint("sequence >= 0", name=op.f("ck_stamp_sequence")),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_stamp")),
        *_typed("stamp", "= 'integer'", "sequence"),
    )
    op.create_index(op.f("ix_stamp_gone_at"), "stamp", ["gone_at"])


def _task() -> None:
    op.create_table(
        "task",
        sa.Column("key", _TEXT, nullable=False),
        sa.Column("entry", _TEXT, nullable=False),
        sa.Column("step", _TEXT, nullable=False),
        sa.Column("label", _TEXT, nullable=False),
        sa.Column("sheet", _TEXT, nullable=False),
        sa.Column("trade", _TEXT, nullable=False),
        sa.Column("title", _TEXT, nullable=False),
        sa.Column("entry_name", _TEXT, nullable=False),
        sa.Column("place", _TEXT, nullable=False),
        sa.Column("opens", sa.Integer(), nullable=True),
        sa.Column("best", sa.Integer(), nullable=True),
        sa.Column("closes", sa.Integer(), nullable=True),
        sa.Column("done", sa.Integer(), nullable=True),
        sa.Column("fate", _TEXT, nullable=False),
        sa.Column("missed", _TEXT, nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("sure", sa.Boolean(), nullable=False),
        sa.Column("legal", sa.Boolean(), nullable=False),
        sa.Column("act", _TEXT, nullable=False),
        sa.Column("cautions", _TEXT, nullable=False),
        sa.Column("extra", _TEXT, nullable=False),
        sa.CheckConstraint("opens <= best AND best <= closes", name=op.f("ck_task_window")),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_task")),
    )
    op.create_index(op.f("ix_task_done_closes_opens"), "task", ["done", "closes", "opens"])
    op.create_index(op.f("ix_task_entry"), "task", ["entry"])


def _standing() -> None:
    op.create_table(
        "standing",
        sa.Column("entry", _TEXT, nullable=False),
        sa.Column("step", _TEXT, nullable=False),
        sa.Column("first", sa.Integer(), nullable=False),
        sa.Column("last", sa.Integer(), nullable=True),
        sa.Column("minutes_a_day", sa.Integer(), nullable=False),
        sa.Column("part", _TEXT, nullable=False),
        sa.Column("sheet", _TEXT, nullable=False),
        sa.Column("trade", _TEXT, nullable=False),
        sa.Column("title", _TEXT, nullable=False),
        sa.Column("entry_name", _TEXT, nullable=False),
        sa.Column("place", _TEXT, nullable=False),
        sa.PrimaryKeyConstraint("entry", "step", "first", name=op.f("pk_standing")),
    )


def _clash() -> None:
    op.create_table(
        "clash",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("on_what", _TEXT, nullable=False),
        sa.Column("subject", _TEXT, nullable=False),
        sa.Column("one", _TEXT, nullable=False),
        sa.Column("other", _TEXT, nullable=False),
        sa.Column("first", sa.Integer(), nullable=False),
        sa.Column("last", sa.Integer(), nullable=False),
        sa.Column("says", _TEXT, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_clash")),
    )
    op.create_index(op.f("ix_clash_one"), "clash", ["one"])
    op.create_index(op.f("ix_clash_other"), "clash", ["other"])


def _lack() -> None:
    op.create_table(
        "lack",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry", _TEXT, nullable=False),
        sa.Column("step", _TEXT, nullable=False),
        sa.Column("fact", _TEXT, nullable=False),
        sa.Column("reason", _TEXT, nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lack")),
    )
    op.create_index(op.f("ix_lack_entry"), "lack", ["entry"])


def _state() -> None:
    op.create_table(
        "state",
        sa.Column("key", _TEXT, nullable=False),
        sa.Column("value", _TEXT, nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_state")),
    )
