"""The one door to the records: open them, then read or write in a session.

    engine = open_database(settings, now=now)
    with writing(engine) as session:
        counted = add_tick(session, tick)
    with reading(engine) as session:
        rows = month_rows(session, first, last, today)

Days are day numbers everywhere (see `app.rules.spans`); a fact or measure that is a day is named in ``dates`` when it
is written. Facts changed inside `writing` are counted (`facts_version`), so that a plan held in memory can tell.
"""

from app.records.database import hold, open_database
from app.records.facts import (
    add_entry,
    amend,
    amendments,
    change_entry,
    entries,
    entry,
    entry_note,
    free_id,
    strike,
)
from app.records.household import (
    absences,
    add_absence,
    add_feed_link,
    feed_link,
    feed_link_read,
    feed_links,
    holding,
    people,
    person_leaves,
    put_holding,
    put_person,
    remove_absence,
    revoke_feed_link,
)
from app.records.projection import drop_projection, replace_clashes, replace_lacks, replace_standing, replace_tasks
from app.records.queries import (
    clash_rows,
    coming_rows,
    feed_rows,
    gone_rows,
    lack_rows,
    measure,
    month_rows,
    open_rows,
    rows_for_entry,
    search,
    standing_rows,
    task_row,
    task_rows,
)
from app.records.rows import ClashRow, FeedRow, Found, GoneRow, LackRow, Measure, StandingRow, TaskRow
from app.records.session import reading, writing
from app.records.state import facts_version, put_planned, set_state, state
from app.records.tables import WEEKDAYS, AbsenceRow, FeedLinkRow, HoldingRow, PersonRow
from app.records.ticks import Told, add_tick, tick, ticks, ticks_on, tied, told

__all__ = [
    "WEEKDAYS", "AbsenceRow", "ClashRow", "FeedLinkRow", "FeedRow", "Found", "GoneRow", "HoldingRow", "LackRow",
    "Measure", "PersonRow", "StandingRow", "TaskRow", "Told", "absences", "add_absence", "add_entry",
    "add_feed_link", "add_tick", "amend", "amendments", "change_entry", "clash_rows", "coming_rows",
    "drop_projection", "entries", "entry", "entry_note", "facts_version", "feed_link", "feed_link_read",
    "feed_links", "feed_rows", "free_id", "gone_rows", "hold", "holding", "lack_rows", "measure", "month_rows",
    "open_database", "open_rows", "people", "person_leaves", "put_holding", "put_person", "put_planned", "reading",
    "remove_absence", "replace_clashes", "replace_lacks", "replace_standing", "replace_tasks", "revoke_feed_link",
    "rows_for_entry", "search", "set_state", "standing_rows", "state", "strike", "task_row", "task_rows", "tick",
    "ticks", "ticks_on", "tied", "told", "writing",
]  # fmt: skip
