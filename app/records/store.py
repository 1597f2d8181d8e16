"""The one door to the records: open them, then read or write in a session.

    engine = open_database(settings, now=now)
    with writing(engine) as session:
        counted = add_tick(session, tick)
    with reading(engine) as session:
        rows = month_rows(session, first, last, today)

Days are day numbers everywhere (see `app.rules.spans`); a fact or measure that is a day is named in ``dates`` when it
is written. Facts changed inside `writing` are counted (`facts_version`), so that a plan held in memory can tell.
"""

from app.records.beds import add_bed_fact, bed, bed_facts, beds, put_bed
from app.records.database import hold, open_database
from app.records.devices import device, device_seen, devices, let_device_in, show_device_out
from app.records.facts import (
    add_entry,
    amend,
    amendments,
    change_entry,
    entries,
    entry,
    entry_note,
    entry_notes,
    free_id,
)
from app.records.finding import Remark, find_batches, find_remarks, find_said
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
from app.records.larder import (
    batch_marks,
    batch_places,
    batch_rows,
    batch_sums,
    batches_by_id,
    batches_there,
    first_to_expire,
    given_lots_of,
    kit,
    left_by_day,
    lot_facts_of,
    mark_batch,
    number_as_said,
    number_batches,
    put_kit,
    replace_batches,
    taken_as_eaten,
    used_since,
)
from app.records.livestock import (
    animal,
    animals,
    has_animal,
    has_medicine,
    head_fact,
    head_facts,
    medicine,
    medicines,
    put_animal,
    put_head_fact,
    put_medicine,
)
from app.records.lots import add_lot, add_lot_fact, given_lots, lot_facts
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
from app.records.rows import BatchRow, ClashRow, FeedRow, Found, GoneRow, LackRow, Measure, StandingRow, TaskRow
from app.records.sent import put_sent, sent
from app.records.session import reading, writing
from app.records.state import facts_version, put_planned, set_state, state
from app.records.supply import put_supply, supplies
from app.records.tables import (
    ASPECTS,
    WEEKDAYS,
    AbsenceRow,
    BedFactRow,
    BedRow,
    DeviceRow,
    FeedLinkRow,
    HoldingRow,
    LotFactRow,
    LotRow,
    NearbyRow,
    NormalsMonthRow,
    PersonRow,
    SentRow,
    SupplyRow,
    WayRow,
    WeatherFileRow,
    WeatherRow,
    WeatherToldRow,
)
from app.records.tables_garden import BED_FACT_KINDS, COVERS, LOT_FACT_KINDS, SOILS, WAY_KINDS, WAY_SCOPES
from app.records.tables_larder import KILLED, KIT_KINDS, BatchMarkRow, KitRow
from app.records.tables_livestock import (
    FIGURES,
    GAINS,
    HEAD_KINDS,
    LOSSES,
    MEDICINE_UNITS,
    SEXES,
    AnimalRow,
    HeadFactRow,
    MedicineRow,
)
from app.records.ticks import Told, add_tick, add_tied, done_by, remarked, tick, ticks, ticks_on, tied, told
from app.records.ways import add_nearby, add_way, nearby, own_way, own_ways, strike, ways
from app.records.weather import (
    OnRecord,
    WeatherDay,
    add_weather_file,
    normals_months,
    put_normals_months,
    put_weather,
    put_weather_days,
    remove_weather,
    remove_weather_file,
    weather_counts,
    weather_days,
    weather_files,
    weather_on_record,
    weather_record,
)
from app.records.weather_stamp import weather_stamp
from app.records.weather_told import tell_weather, weather_told
