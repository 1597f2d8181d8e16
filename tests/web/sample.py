"""Pages filled by hand with invented jobs, people and places, so that every template can be drawn and looked at.

All of it is made up, and none of it comes out of the rules: dates and amounts are for looking at, not to be relied on.
"""

from app.web import pages
from tests.web import (
    sample_cure,
    sample_husbandry,
    sample_kitchen,
    sample_larder,
    sample_livestock,
    sample_meat,
    sample_meat_back,
    sample_preserving,
    sample_upkeep,
)
from tests.web.sample_climate import weather
from tests.web.sample_garden import bed, beds
from tests.web.sample_house import (
    add,
    calendar,
    change,
    entries,
    entry_form,
    found,
    household,
    round_sheet,
    sheet,
    start_house,
    start_place,
    start_things,
    wrong,
)
from tests.web.sample_jobs import MONTH, ROOT, TODAY
from tests.web.sample_phones import https, let_in, phones
from tests.web.sample_records import (
    weather_asked,
    weather_file,
    weather_months,
    weather_reading,
    weather_record,
    weather_taking,
)
from tests.web.sample_seed import crossing, seed_jar, seed_labels, seed_tin
from tests.web.sample_sums import sums, table, ways
from tests.web.sample_work import entry, evening, job, month, month_grid, ticked, today

__all__ = ["MONTH", "ROOT", "TODAY", "every", "month", "ticked", "today", "weather_taking"]


def every() -> dict[str, pages.Page]:
    """Every page, by the name under which its picture is kept."""
    return {
        "month": month(),
        "month-grid": month_grid(),
        "today": today(),
        "evening": evening(),
        "job": job(),
        "entry": entry(),
        "entries": entries(),
        "add": add(),
        "found": found(),
        "add-dates": entry_form(),
        "change": change(),
        "start-1": start_place(),
        "start-2": start_house(),
        "start-3": start_things(),
        "household": household(),
        "calendar": calendar(),
        "phones": phones(),
        "let-in": let_in(),
        "https": https(),
        "weather": weather(),
        "weather-record": weather_record(),
        "weather-file": weather_file(),
        "weather-asked": weather_asked(),
        "weather-reading": weather_reading(),
        "weather-months": weather_months(),
        "garden": beds(),
        "bed": bed(),
        "seed": seed_tin(),
        "seed-jar": seed_jar(),
        "seed-labels": seed_labels(),
        "crossing": crossing(),
        "larder": sample_larder.larder(),
        "batch": sample_larder.batch(),
        "larder-add": sample_larder.adding(),
        "larder-labels": sample_larder.labels(),
        "kit": sample_larder.kit(),
        "search": sample_larder.search(),
        "larder-count": sample_larder.counting(),
        "larder-power": sample_larder.power(),
        "larder-in": sample_larder.taking_in(),
        "larder-looked": sample_larder.looked(),
        "cure": sample_cure.reckoned(),
        "cure-asking": sample_cure.asking(),
        "cure-entry": sample_cure.entry_page(),
        "meat": sample_meat.meat(),
        "delivery": sample_meat.delivery(),
        "delivery-packing": sample_meat.packing(),
        "bottling": sample_kitchen.bottling(),
        "kitchen": sample_kitchen.sums(),
        "sums": sums(),
        "table": table(),
        "ways": ways(),
        "thaw": sample_meat_back.thaw(),
        "table-back": sample_meat_back.table_back(),
        "keeping": sample_meat_back.keeping(),
        "preserving": sample_preserving.preserving(),
        "glut": sample_preserving.glut(),
        "drying-batch": sample_preserving.drying_batch(),
        "drying-sums": sample_preserving.drying_sums(),
        "upkeep": sample_upkeep.there(),
        "upkeep-years": sample_upkeep.years(),
        "upkeep-winter": sample_upkeep.winter(),
        "upkeep-fit": sample_upkeep.fit(),
        "upkeep-amounts": sample_upkeep.amounts(),
        "upkeep-wood": sample_upkeep.wood(),
        "upkeep-law": sample_upkeep.law(),
        "livestock": sample_livestock.livestock(),
        "livestock-group": sample_livestock.group(),
        "livestock-medicine": sample_livestock.medicine(),
        "livestock-bottle": sample_livestock.bottle(),
        "livestock-treat": sample_livestock.treat(),
        "livestock-register": sample_livestock.register(),
        "livestock-in": sample_livestock.taking_in(),
        "livestock-days": sample_husbandry.days(),
        "livestock-feed": sample_husbandry.feed(),
        "livestock-expect": sample_husbandry.expect(),
        "livestock-grass": sample_husbandry.grass(),
        "sheet": sheet(),
        "round": round_sheet(),
        "error": wrong(),
    }
