"""The months of fruit, beans, tender crops, lasting vegetables and herbs, against what gardeners do.

``months-fruit-and-tender.csv`` holds the months in which each job usually falls, as gardeners' calendars of eastern
England and of Canterbury, New Zealand, have them (common practice, none of it from this program), and a usual day for
it. Canterbury's normals are from memory of its climate tables; only months are asked of them.
"""

import csv
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from app.rules.facts import Holding
from app.rules.plan import plan
from app.rules.spans import Day
from app.sheets.library import Library, load
from app.sheets.places import places
from app.trade.climate.normals import Normals
from app.trade.climate.normals_season import NormalsSeason
from tests.rules.kit import day, entry
from tests.sheets.test_crop_tables import TABLE
from tests.sheets.test_tables_fruit_and_tender import CROPS

CANTERBURY = Normals(
    "canterbury",
    "Canterbury, New Zealand",
    (22.7, 22.1, 20.5, 17.7, 14.7, 12.0, 11.3, 12.7, 15.3, 17.2, 19.3, 21.1),
    (12.3, 12.2, 10.4, 7.7, 4.9, 2.3, 1.9, 3.2, 5.2, 7.1, 8.9, 11.0),
)
ROWS = list(csv.DictReader(Path(__file__).with_name("months-fruit-and-tender.csv").open(encoding="utf-8")))


@cache
def library() -> Library:
    return load()


@cache
def season(where: str) -> NormalsSeason:
    if where == "upland":
        return NormalsSeason(54.3, places().normals["north-yorkshire"], places().scatter)
    if where == "south":
        return NormalsSeason(-43.5, CANTERBURY, places().scatter)
    if where in ("coast", "highland"):
        return NormalsSeason(50.4, places().normals["plymouth" if where == "coast" else "braemar"], places().scatter)
    return NormalsSeason(52.2, places().normals["cambridge"], places().scatter)


@cache
def days(crop: str, where: str, on: str, **facts: bool) -> dict[str, Day | None]:
    """The best day of every job of a crop put down on a day, for four years, whichever kind it is by default."""
    put_down = [entry("e", crop, on, told=on, place="Long bed", **facts)]
    last = date(int(on[:4]) + 4, 12, 31).isoformat()
    found = plan(
        Holding("england", season(where)), library().sheets, library().law, put_down, (), (), day(on), day(last)
    )
    return {task.key.removeprefix("e."): task.best for task in found.tasks}


def cases() -> Iterator[tuple[str, str, str, str, str]]:
    for row in ROWS:
        for where in ("north", "south"):
            if row[f"{where}_months"]:
                yield row["crop"], row["step"], where, row[f"{where}_date"], row[f"{where}_months"]


def within(months: str) -> set[int]:
    """The months of a span such as "11-2", both inclusive."""
    first, _, last = months.partition("-")
    until = int(last or first)
    return {(int(first) - 1 + n) % 12 + 1 for n in range((until - int(first)) % 12 + 1)}


def test_a_span_of_months_goes_over_the_year() -> None:
    assert within("11-2") == {11, 12, 1, 2}
    assert within("6") == {6}


@pytest.mark.common_practice
@pytest.mark.parametrize(("crop", "step", "where", "on", "months"), list(cases()))
def test_a_job_falls_in_its_usual_months(crop: str, step: str, where: str, on: str, months: str) -> None:
    """Gardeners' calendars of eastern England and of Canterbury, New Zealand."""
    best = days(crop, where, on).get(step)
    assert best is not None, f"{crop} has no dated {step} there"
    assert date.fromordinal(best).month in within(months), date.fromordinal(best).isoformat()


TAKEN = {
    "tomato": "ferment",
    "chilli": "seed",
    "sweet-pepper": "seed",
    "aubergine": "seed",
    "broad-bean": "pull",
    "runner-bean": "cut",
    "french-bean-dwarf": "cut",
    "french-bean-climbing": "cut",
    "pea": "pull",
    "lettuce": "cut",
    "spinach": "cut",
    "chard": "cut.1",
    "cucumber-ridge": "ferment",
    "courgette": "rinse",
    "squash": "seed",
    "pumpkin": "seed",
    "sweetcorn": "cut",
    "coriander": "cut",
    "dill": "cut",
    "basil": "cut",
}
"""The step in which ripe seed, or the fruit for it, is taken."""
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@pytest.mark.common_practice
@pytest.mark.parametrize(("crop", "step"), TAKEN.items())
def test_seed_is_taken_when_it_is_ripe(crop: str, step: str) -> None:
    """The months of ripe seed in tests/published/garden-crops.csv: common practice of a northern climate."""
    on = next(row["north_date"] for row in ROWS if row["crop"] == crop)
    best = days(crop, "north", on, seed=True)[step]
    first, _, last = TABLE[CROPS[crop]]["seed_ripe_months_nh"].partition("-")
    span = f"{MONTHS.index(first) + 1}-{MONTHS.index(last or first) + 1}"

    assert best is not None
    assert date.fromordinal(best).month in within(span), date.fromordinal(best).isoformat()


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("crop", "where", "on", "first_year", "last_day"),
    [
        ("asparagus", "north", "2027-03-25", 2029, (6, 24)),  # no cutting before year three
        ("asparagus", "south", "2027-08-20", 2029, (12, 31)),
        (
            "rhubarb",
            "north",
            "2026-12-01",
            2028,
            (7, 10),
        ),  # a summer of rest, then pulled
        ("rhubarb", "south", "2027-06-20", 2028, (1, 10)),
    ],
)
def test_a_lasting_bed_is_left_alone_at_first_and_cut_until_a_day(
    crop: str, where: str, on: str, first_year: int, last_day: tuple[int, int]
) -> None:
    """Cut until about the longest day, rhubarb until early July: six months on in the south."""
    cut = sorted(best for key, best in days(crop, where, on).items() if key.startswith("pick") and best is not None)
    first, season_end = date.fromordinal(cut[0]), date(first_year + (last_day[0] == 1), *last_day)
    season = [date.fromordinal(each) for each in cut if each - cut[0] < 200]

    assert first.year == first_year
    assert season[-1] <= season_end
    assert (season_end - season[-1]).days < 20, "it is cut until then, not left"


@pytest.mark.common_practice
def test_raspberries_of_summer_rest_a_year_and_of_autumn_bear_at_once() -> None:
    """Summer kinds fruit on last year's canes, autumn kinds on this year's."""
    summer, autumn = (
        sorted(key for key, best in days(crop, "north", "2026-12-01").items() if key.startswith("pick"))[0]
        for crop in ("raspberry-summer", "raspberry-autumn")
    )
    assert (summer, autumn) == ("pick.2028.1", "pick.2027.1")


@pytest.mark.common_practice
@pytest.mark.parametrize("where", ["north", "upland", "south"])
def test_canes_are_cut_out_when_they_have_borne(where: str) -> None:
    """Summer kinds: the old canes go after the last picking and by autumn, however late the season."""
    best = days("raspberry-summer", where, "2027-06-20" if where == "south" else "2027-03-10")
    picked = [on for key, on in best.items() if key.startswith("pick.2028.") and on is not None]
    cut = best["prune.2028"]

    assert cut is not None
    assert 0 < cut - max(picked) < 60


@pytest.mark.common_practice
@pytest.mark.parametrize(("crop", "on"), [("asparagus", "2027-04-10"), ("apple", "2026-12-01")])
def test_the_first_summer_is_watered(crop: str, on: str) -> None:
    """The summer after planting, though it was planted after the spring equinox, as crowns are."""
    best = days(crop, "upland", on)["water.1"]
    assert best is not None
    assert day("2027-04-15") < best < day("2027-06-15")


@pytest.mark.common_practice
@pytest.mark.parametrize("on", ["2026-08-15", "2026-12-10", "2027-03-10", "2027-04-10"])
def test_strawberries_bear_three_times_from_the_summer_after(on: str) -> None:
    """A bed is dug out after its third crop; what is planted in spring has its first flowers taken off."""
    best = days("strawberry", "north", on)
    planted, cleared = best["plant"], best["clear"]
    assert planted is not None
    assert cleared is not None
    crops = [d for k, d in best.items() if k.startswith("pick.") and k.endswith(".1") and d is not None and d < cleared]
    assert len(crops) == 3
    assert crops[0] - planted > 200


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("kind", "months"), [("first early", {7, 8}), ("second early", {8, 9}), ("maincrop", {8, 9, 10})]
)
def test_potatoes_of_every_kind_hold_their_bed_until_they_are_out(kind: str, months: set[int]) -> None:
    """First earlies are out by August, second earlies by September, maincrops by October."""
    on = "2027-04-05"
    put_down = [entry("e", "potato", on, told=on, place="Long bed", season=kind)]
    found = plan(
        Holding("england", season("north")),
        library().sheets,
        library().law,
        put_down,
        (),
        (),
        day(on),
        day("2028-12-31"),
    )
    (room,) = [bar for bar in found.bars if bar.kind == "room"]
    assert room.first == day(on)
    assert room.last is not None
    assert date.fromordinal(room.last).month in months


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("crop", "step", "on"),
    [
        ("potato", "plant", "2027-04-28"),
        ("broad-bean", "sow", "2026-11-05"),
        ("broad-bean", "sow", "2027-04-10"),
        ("runner-bean", "sow", "2027-06-20"),
        ("french-bean-dwarf", "sow.1", "2027-07-05"),
        ("lettuce", "sow.1", "2027-07-15"),
        ("chard", "sow", "2027-07-01"),
        ("coriander", "sow.1", "2027-07-20"),
        ("courgette", "sow", "2027-05-20"),
        ("sweetcorn", "sow", "2027-05-10"),
        ("basil", "sow", "2027-05-15"),
        ("sage", "sow", "2027-05-10"),
        ("mint", "plant", "2027-09-10"),
        ("apple", "plant", "2027-01-20"),
        ("rhubarb", "plant", "2027-02-20"),
        ("strawberry", "plant", "2027-09-05"),
        ("strawberry", "plant", "2027-04-10"),  # cold-stored and potted runners
        ("tomato", "sow", "2027-04-05"),
        ("squash", "sow", "2027-05-08"),
        ("leek-seed", "sow", "2027-03-25"),
    ],
)
def test_a_day_that_gardeners_choose_stays(crop: str, step: str, on: str) -> None:
    """Still in good time in eastern England, by gardeners' calendars; so it is not put off to another season."""
    assert days(crop, "north", on)[step] == day(on)


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("crop", "step", "where", "on", "months"),
    [
        ("broad-bean", "sow", "north", "2027-07-20", "10-11"),  # not in the heat, for chocolate spot and no pods
        ("broad-bean", "sow", "upland", "2027-06-20", "10-11"),
        ("beetroot", "sow", "coast", "2027-01-10", "3-4"),  # sown cold it runs to seed
        ("parsnip", "sow", "upland", "2027-01-10", "4-5"),  # not before the soil is at 7 °C
        ("parsnip", "sow", "upland", "2027-06-20", "4-5"),
        ("runner-bean", "sow", "coast", "2027-08-20", "5"),
        ("runner-bean", "sow", "upland", "2027-01-10", "6"),
        ("french-bean-dwarf", "sow.1", "upland", "2027-01-10", "6"),
        ("french-bean-dwarf", "sow.1", "south", "2027-01-10", "1"),
        ("lettuce", "sow.1", "upland", "2027-08-20", "4-5"),
        ("shallot", "lift", "upland", "2027-04-10", "7-8"),  # by the light, whenever it was planted
        ("cauliflower", "clear", "north", "2027-01-10", "8-10"),
        ("swede", "sow", "coast", "2027-01-10", "5"),  # sown early they are wood and mildew
        ("swede", "sow", "coast", "2027-06-05", "6"),
        ("salad", "sow.1", "coast", "2027-01-10", "3-4"),  # a mild winter has no light
        ("pea", "sow", "south", "2027-01-10", "8-9"),
        ("apple", "plant", "highland", "2027-01-10", "1"),  # bare-rooted, without leaf
        ("apple", "plant", "north", "2027-06-20", "11-12"),
    ],
)
def test_what_would_come_to_nothing_waits_for_its_season(
    crop: str, step: str, where: str, on: str, months: str
) -> None:
    """Growers' months for a lowland, an upland, a mild coast and Canterbury, put down on whatever day."""
    best = days(crop, where, on)[step]
    assert best is not None
    assert date.fromordinal(best).month in within(months), date.fromordinal(best).isoformat()


@pytest.mark.common_practice
@pytest.mark.parametrize("crop", ["apple", "blackcurrant", "strawberry"])
@pytest.mark.parametrize("on", ["2027-01-20", "2027-06-20", "2027-10-20"])
def test_what_comes_out_of_a_pot_is_planted_on_any_day(crop: str, on: str) -> None:
    assert days(crop, "north", on, potted=True)["plant"] == day(on)
