"""When crops are sown, planted and gathered: in gardeners' months, in a cold place, a mild one and a southern one.

The months are common practice, as gardeners' calendars of the north of England give them, and none is taken from the
program. A mild coast may be a month earlier or later: two to four weeks is what the same calendars allow. The southern
place is the northern one's climate turned by half a year.
"""

from datetime import date
from functools import cache

import pytest

from app.rules.facts import Holding
from app.rules.plan import plan
from app.rules.tasks import Fate, Plan
from app.sheets.library import Library, load
from app.sheets.places import places
from app.trade.climate.normals import Normals
from app.trade.climate.normals_season import NormalsSeason
from tests.rules.kit import day, entry
from tests.sheets.test_crop_tables import CROPS, TABLE


def turned(normals: Normals) -> Normals:
    """The same climate half a year on."""

    def half(twelve: tuple[float, ...]) -> tuple[float, ...]:
        return (*twelve[6:], *twelve[:6])

    return normals._replace(min_c=half(normals.min_c), max_c=half(normals.max_c), min_sd_c=half(normals.min_sd_c))


NORTH = places().normals["north-yorkshire"]
PLACES = {
    "north": NormalsSeason(54.4, NORTH, places().scatter),
    "mild": NormalsSeason(50.4, places().normals["plymouth"], places().scatter),
    "south": NormalsSeason(-54.4, turned(NORTH), places().scatter),
}

MONTHS = """
# sheet                     put down    sown    planted  gathered
parsnip                     2027-01-10  Mar-May  -        Oct-Apr
carrot                      2027-01-10  Mar-Aug  -        Jun-Dec
beetroot                    2027-04-20  Apr-Jul  -        Jul-Nov
celeriac                    2027-01-10  Feb-Apr  May-Jun  Oct-Nov
celery                      2027-01-10  Feb-Apr  May-Jun  Aug-Nov
florence-fennel             2027-01-10  May-Aug  -        Jul-Nov
parsley                     2027-01-10  Mar-Jul  Apr-Aug  Jun-May
onion-sown                  2027-01-10  Dec-Mar  Mar-May  Aug-Sep
onion                       2027-01-10  -        Mar-Apr  Jul-Sep
spring-onion                2027-01-10  Mar-Sep  -        May-Nov
leek                        2027-01-10  Feb-Apr  May-Jul  Sep-Apr
garlic                      2027-10-20  -        Oct-Dec  Jun-Aug
shallot                     2027-01-10  -        Jan-Mar  Jul-Aug
cabbage                     2027-01-10  Mar-Jun  Apr-Jul  Jun-Dec
kale                        2027-01-10  Apr-Jun  May-Jul  Sep-Apr
brussels-sprouts            2027-01-10  Mar-Apr  Apr-Jun  Sep-Mar
cauliflower                 2027-01-10  Mar-Jun  Apr-Jul  Jun-Dec
calabrese                   2027-01-10  Mar-Jul  Apr-Aug  Jun-Oct
purple-sprouting-broccoli   2027-01-10  Apr-Jun  May-Jul  Jan-May
kohlrabi                    2027-01-10  Mar-Aug  -        Jun-Nov
turnip                      2027-01-10  Mar-Aug  -        May-Nov
swede                       2027-01-10  Apr-Jun  -        Sep-Mar
radish                      2027-01-10  Mar-Sep  -        Apr-Oct
rocket                      2027-01-10  Mar-Sep  -        Apr-Oct
"""
NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
GATHERED = ("pick", "pull", "lift")


@cache
def library() -> Library:
    return load()


def rows() -> list[list[str]]:
    return [line.split() for line in MONTHS.splitlines() if line and not line.startswith("#")]


def months(text: str, wider: int) -> set[int]:
    """The months of a range such as "Oct-Apr", as numbers, ``wider`` months more at either end."""
    first, last = (NAMES.index(name) for name in text.split("-"))
    return {(first - wider + step) % 12 + 1 for step in range((last - first) % 12 + 1 + 2 * wider)}


@cache
def planned(sheet: str, on: str, place: str, **facts: bool) -> Plan:
    begun = date.fromisoformat(on)
    if place == "south":  # half a year on
        begun = date(begun.year + begun.month // 7, (begun.month + 5) % 12 + 1, begun.day)
    put = entry("e", sheet, begun.isoformat(), told="2027-01-05", place="Long bed", **facts)
    holding = Holding("england", PLACES[place])
    return plan(holding, library().sheets, library().law, [put], (), (), day("2027-01-05"), day("2030-12-31"))


def done_in(sheet: str, on: str, place: str, steps: tuple[str, ...]) -> list[int]:
    """The months of the best days of these steps."""
    best = [task.best for task in planned(sheet, on, place).tasks if task.step in steps]
    assert all(one is not None for one in best)
    return [date.fromordinal(one).month for one in best if one is not None]


@pytest.mark.common_practice
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(("sheet", "on", "sown", "planted", "gathered"), rows(), ids=lambda one: str(one))
def test_crops_are_sown_planted_and_gathered_in_their_months(
    sheet: str, on: str, sown: str, planted: str, gathered: str, place: str
) -> None:
    """Each of the three, every time that it comes round."""
    wider, turn = int(place == "mild"), 6 * (place == "south")
    for text, steps in ((sown, ("sow",)), (planted, ("plant",)), (gathered, GATHERED)):
        found = done_in(sheet, on, place, steps)
        assert bool(found) == (text != "-"), steps
        if found:
            assert {(month + turn - 1) % 12 + 1 for month in found} <= months(text, wider), steps


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(("sheet", "on"), [row[:2] for row in rows()], ids=lambda one: str(one))
def test_nothing_is_without_room_and_every_step_has_a_day(sheet: str, on: str, place: str) -> None:
    """Put down in time, a crop's whole chain is laid: no step is squeezed out, lost or barred by the crop itself."""
    found = planned(sheet, on, place)

    assert {task.fate for task in found.tasks} <= {Fate.PLAIN}
    assert all(task.opens is not None and task.closes is not None for task in found.tasks)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(("sheet", "on"), [row[:2] for row in rows()], ids=lambda one: str(one))
def test_raising_goes_in_its_order(sheet: str, on: str, place: str) -> None:
    """Sown, up, pricked out, potted, hardened, planted, and only then gathered and cleared."""
    best: dict[str, int] = {}
    for task in planned(sheet, on, place).tasks:
        best[task.step] = min(best.get(task.step, task.best or 0), task.best or 0)
    chain = ["sow", "up", "prick", "harden", "plant", "pick", "pull", "lift", "clear"]
    if sheet in ("carrot", "beetroot"):  # young ones are pulled while the rest grow on
        chain.remove("lift")
    days = [best[step] for step in chain if step in best]

    assert days == sorted(days), [(step, date.fromordinal(best[step]).isoformat()) for step in chain if step in best]
    if "pot" in best:
        assert best["prick"] < best["pot"] < best["plant"]


@pytest.mark.parametrize("sheet", [row[0] for row in rows()])
def test_where_it_never_freezes_a_crop_still_has_its_days(sheet: str) -> None:
    """Neither frost nor long days: sown or planted about when the household says, and nothing is lost."""
    warm = NORTH._replace(min_c=(16.0,) * 12, max_c=(26.0,) * 12, min_sd_c=(1.0,) * 12)
    holding = Holding("elsewhere", NormalsSeason(12.0, warm, places().scatter))
    put = entry("e", sheet, "2027-03-01", told="2027-01-05", place="Long bed")
    found = plan(holding, library().sheets, library().law, [put], (), (), day("2027-01-05"), day("2029-12-31"))
    first = min(task.best or 0 for task in found.tasks if task.step == library().sheets[sheet].begins)

    assert day("2027-03-01") <= first <= day("2027-03-21")
    assert not {task.fate for task in found.tasks} & {Fate.LOST, Fate.NO_ROOM, Fate.BARRED}


def ripe(sheet: str) -> tuple[int, set[int]]:
    """In which year after the sowing seed is ripe, and in which months, by the table."""
    row = TABLE[CROPS[sheet]]
    first, _, last = row["seed_ripe_months_nh"].partition("-")
    return int(row["seed_year_after_sowing"]), months(f"{first}-{last or first}", 1)


SEEDED = sorted(name for name, row in CROPS.items() if TABLE[row]["seed_process"] == "dry")


@pytest.mark.common_practice
@pytest.mark.parametrize("sheet", SEEDED)
def test_seed_is_cut_in_the_year_and_about_the_month_that_the_table_gives(sheet: str) -> None:
    """The table of garden-crops.csv; a month either way, for hills are later than the calendar and sowings vary."""
    found = planned(sheet, "2027-01-10", "north", seed=True)
    best = {step: [task.best or 0 for task in found.tasks if task.step == step] for step in ("sow", "cut", "thresh")}
    sown, cut = date.fromordinal(min(best["sow"])), [date.fromordinal(one) for one in best["cut"]]
    year, ripe_in = ripe(sheet)

    assert {one.year for one in cut} == {sown.year + year - 1}
    assert {one.month for one in cut} <= ripe_in
    assert min(best["thresh"]) > max(best["cut"])


@pytest.mark.parametrize("sheet", SEEDED)
def test_no_seed_is_asked_of_whoever_keeps_none(sheet: str) -> None:
    """Unless the sheet was made for it."""
    steps = {task.step for task in planned(sheet, "2027-01-10", "north", seed=False).tasks}

    assert not steps & {"mark", "choose", "flower", "cut", "thresh", "tin", "test"}


@pytest.mark.parametrize("on", ["2027-05-20", "2027-06-25", "2027-07-25", "2027-08-20", "2027-09-10", "2027-11-20"])
@pytest.mark.parametrize("sheet", [row[0] for row in rows()])
def test_whatever_day_it_is_put_down_a_crop_is_begun_then_or_in_its_next_season(sheet: str, on: str) -> None:
    """Too late for this year is early for the next: never a crop without a day, and none begun out of season."""
    _, _, sown, planted, _ = next(row for row in rows() if row[0] == sheet)
    begins = library().sheets[sheet].begins
    first = min((task.best or 0) for task in planned(sheet, on, "north").tasks if task.step == begins)

    assert day(on) <= first <= day(on) + 366
    assert date.fromordinal(first).month in months(sown if begins == "sow" else planted, 1)


@pytest.mark.common_practice
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(("sheet", "on"), [("dill", "2027-07-25"), ("coriander", "2027-08-20")])
def test_herbs_put_down_late_are_sown_at_once_while_leaf_can_still_be_cut(sheet: str, on: str, place: str) -> None:
    """Gardeners' calendars: the last dill in July or August, coriander to the end of August; none after September."""
    sown = [task.best or 0 for task in planned(sheet, on, place).tasks if task.step == "sow"]
    put = day(on) if place != "south" else day({"dill": "2028-01-25", "coriander": "2028-02-20"}[sheet])

    assert 0 <= min(sown) - put <= 7
    assert max(sown) - put <= 45


@pytest.mark.common_practice
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("sheet", ["beetroot", "carrot", "celeriac", "celery"])
def test_roots_for_seed_are_chosen_before_the_rest_leave_the_ground(sheet: str, place: str) -> None:
    """What frost would spoil is chosen for seed from the standing row, ahead of the lifting or the last cut."""
    found = planned(sheet, "2027-01-10", place, seed=True)
    best = {task.step: task.best or 0 for task in found.tasks}

    assert 7 <= best["clear" if sheet == "celery" else "lift"] - best["choose"] <= 21
