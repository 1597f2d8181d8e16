"""Upkeep as a service: findings that move a coat, waits, years, winter, amounts and wood.

Expected values are worked out here, or printed by the sources named; dates hang on the invented croft of 10 March 2027.
"""

import itertools
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from app.errors import BadInput
from app.services import ticking
from app.services.book import Book
from app.services.entries import put_down
from app.services.ticking import Words
from app.services.upkeep.amounts import Asked, reckon
from app.services.upkeep.elements import Element
from app.services.upkeep.felling import Felled, felled_this_quarter
from app.services.upkeep.fit import Readings, fit_months, is_it_fit
from app.services.upkeep.plan import AHEAD, upkeep_plan
from app.services.upkeep.prices import Pack, Prices, Tin, keep_pack
from app.services.upkeep.put import NewElement, put_element
from app.services.upkeep.shopping import shopping
from app.services.upkeep.there import there
from app.services.upkeep.winter import early_frost, ready_for_winter
from app.services.upkeep.wood import Need, meter, need, wood
from app.services.upkeep.years import REPAIR, long_view
from tests.services.croft import TODAY, croft, day, draft


@pytest.fixture
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    made = croft(tmp_path_factory.mktemp("upkeep"))
    yield made
    made.close()


def one(book: Book, entry: str) -> Element:
    with book.reading() as session:
        return next(e for part in there(book, session, TODAY).buildings for e in part.elements if e.entry.id == entry)


def coat(book: Book, entry: str) -> int:
    task = one(book, entry).coat
    assert task is not None
    assert task.best is not None
    return task.best


def test_a_look_that_finds_blisters_brings_the_coat_forward_and_its_undo_puts_it_back(book: Book) -> None:
    """Common practice: blistered and worse asks for paint at once, in its season; sound leaves the date."""
    wall = put_down(book, draft("rendered-wall", "2024-06-20", area_m2=46), TODAY)
    before = coat(book, wall)
    assert date.fromordinal(before).year == 2032, "eight years after 2024 (the middle of 7 to 10 years)"
    look = one(book, wall).look
    assert look is not None
    said = ticking.tick(book, look.key, TODAY, words=Words({"found": "blistered", "where": "below the sill"}))
    after = coat(book, wall)
    assert date.fromordinal(after).year == 2027
    found = one(book, wall).found
    assert found is not None
    assert (found.what, found.where, found.day) == ("blistered", "below the sill", TODAY)
    with book.reading() as session:
        assert any(
            each.key.startswith(f"{wall}.paint")
            for year in long_view(book, session, TODAY).years[:1]
            for each in year.big
        )
    ticking.undo(book, said.tick_id, TODAY)
    assert coat(book, wall) == before


def test_a_patch_of_cement_waits_four_weeks_and_the_wait_is_told(book: Book) -> None:
    """28 days before the first coat: a paint maker's specification (LSPEC0026), as the sheet has it."""
    wall = put_down(book, draft("rendered-wall", "2024-06-20"), TODAY)
    look = one(book, wall).look
    assert look is not None
    ticking.tick(book, look.key, TODAY, on=TODAY - 6, words=Words({"found": "hollow"}))
    for step, ago in (("hack", 4), ("patch", 2)):
        with book.reading() as session:
            key = next(t.key for t in upkeep_plan(book, session, TODAY).laid[wall].tasks if t.step == step)
        ticking.tick(book, key, TODAY, on=TODAY - ago)
    with book.reading() as session:
        waits = there(book, session, TODAY).waits
    coats = [wait for wait in waits if "First coat" in wait.then]
    assert len(coats) == 1
    assert coats[0].since == TODAY - 2
    assert coats[0].cured == TODAY - 2 + 28
    assert coats[0].until >= coats[0].cured
    with book.reading() as session:
        this_year = [big for big in long_view(book, session, TODAY).years[0].big if big.entry == wall]
    assert [big.title for big in this_year] == [REPAIR], "one line, and no plinth besides that of the repair"


def test_sixteen_trees_fill_the_quarter_and_half_of_them_sold_is_too_much(book: Book) -> None:
    """Forestry Act 1967, section 9: 5 m³ in a calendar quarter, 2 of them sold; 0.309 m³ a tree of 25 cm and 15 m."""
    rule = next(one for one in book.library.rules if (one.id, one.nation) == ("felling", "england"))

    def felled(ticks: dict[str, dict[str, Any]], trees: int = 16) -> Felled:
        wood = put_down(book, draft("felling", "2027-02-20", trees=trees, covered="within the quarter"), TODAY)
        with book.reading() as session:
            keys = {task.step: task.key for task in upkeep_plan(book, session, TODAY).laid[wood].tasks}
        for step, measures in ticks.items():
            ticking.tick(book, keys[step], TODAY, words=Words(measures))
        with book.reading() as session:
            found = felled_this_quarter(book, session, rule, TODAY)
        assert found is not None
        return found

    first = felled({"fell": {"felled": 16}})
    assert first.account.felled_m3 == pytest.approx(4.95, abs=0.01)
    assert (first.account.licence, first.standing_m3) == (False, 0)
    planned = felled({}, trees=1)
    assert planned.standing_m3 == pytest.approx(0.309, abs=0.001)
    assert planned.standing_m3 > planned.account.left_m3, "the seventeenth tree"
    assert felled({"fell": {"felled": 1}, "note": {"sold_percent": 100}}, trees=1).account.licence
    with book.reading() as session:
        assert felled_this_quarter(book, session, rule, TODAY + 31).account.felled_m3 == 0, "the next quarter"


def test_what_nobody_knows_is_due_soon_and_a_form_sent_twice_counts_once(book: Book) -> None:
    new = NewElement("rcd", "", "house", None, "not known")
    ident, _ = put_element(book, new, "a" * 32, TODAY)
    assert put_element(book, new, "a" * 32, TODAY)[0] == ident
    task = one(book, ident).next
    assert task is not None
    assert task.best == TODAY + 1, "never known, so due at once"


def test_a_coating_on_what_it_does_not_suit_is_put_down_and_told(book: Book) -> None:
    """Society for the Protection of Ancient Buildings, from memory: solid walls are left to breathe."""
    for sheet, surface, said in (
        ("masonry-painted", "solid stone or brick", "Limewash or nothing"),
        ("rendered-wall", "solid stone or brick", "let it dry"),
        ("rendered-wall", "lime render", "seals lime render"),
        ("timber-gate", "softwood joinery", "look every spring"),
        ("weatherboard", "sawn timber", ""),
        ("limewash", "cement render", "Silicate"),
        ("limewash", "lime render", ""),
    ):
        new = NewElement(sheet, "", "", TODAY - 30, "to the day", 30, surface)
        ident, says = put_element(book, new, f"{surface}{sheet}", TODAY)
        assert said in says
        assert bool(says) == bool(said)
        assert one(book, ident).facts["area_m2"] == 30
        assert sheet == "timber-gate" or one(book, ident).misfit == says, "and it stands with the element"


@pytest.mark.parametrize(
    ("sheet", "field", "more"),
    [
        ("smoke-alarms", "size", {"size": 3.0}),
        ("smoke-alarms", "exposure", {"exposure": "severe"}),
        ("fence", "surface", {"surface": "lime render"}),
    ],
)
def test_what_is_not_asked_of_a_thing_is_said_and_not_dropped(
    book: Book, sheet: str, field: str, more: dict[str, Any]
) -> None:
    new = NewElement(sheet, "", "", TODAY - 30, "to the day")._replace(**more)
    with pytest.raises(BadInput) as refused:
        put_element(book, new, f"dropped{field}", TODAY)
    assert set(refused.value.fields) == {field}


def test_a_day_to_come_and_a_size_that_cannot_be_are_refused(book: Book) -> None:
    for new in (
        NewElement("gutters", "", "", TODAY + 1, "to the day"),
        NewElement("gutters", "", "", TODAY, "to the day", 1e5),
    ):
        with pytest.raises(BadInput):
            put_element(book, new, "b" * 32, TODAY)


def test_fifteen_years_and_only_what_changed_is_laid_again(book: Book) -> None:
    gate = put_down(book, draft("timber-gate", "2025-06-02", area_m2=7), TODAY)
    other = put_down(book, draft("gutters", "2026-11-10"), TODAY)
    with book.reading() as session:
        far = upkeep_plan(book, session, TODAY)
        assert far.last == TODAY + AHEAD
        assert upkeep_plan(book, session, TODAY) is far
        view = long_view(book, session, TODAY)
    assert [year.year for year in view.years] == list(range(2027, 2042))
    coats = [big.best for year in view.years for big in year.big if big.entry == gate]
    gaps = [(b - a) / 365.25 for a, b in itertools.pairwise(coats)]
    assert gaps
    assert all(4 <= gap <= 8 for gap in gaps), "semi-transparent stain, 4 to 8 years (Wood Handbook, table 16-5)"
    task = one(book, other).next
    assert task is not None
    ticking.tick(book, task.key, TODAY)
    with book.reading() as session:
        again = upkeep_plan(book, session, TODAY)
        assert again.laid[gate] is far.laid[gate]
        assert again.laid[other] is not far.laid[other]


def test_money_is_counted_only_where_the_household_said_a_price(book: Book) -> None:
    put_down(book, draft("rendered-wall", "2019-06-20", area_m2=50, plinth_m2=5), TODAY)
    with book.reading() as session:
        assert all(year.cost is None for year in long_view(book, session, TODAY).years)
    keep_pack(book, Pack("masonry paint", "l", 10, 40, 3), TODAY)
    with book.reading() as session:
        years = long_view(book, session, TODAY).years
        cost = next(year.cost for year in years if year.cost)
        wanted = {one.what: one for one in shopping(book, session, 12, TODAY)}
    assert cost == pytest.approx(50 * 0.44 * 4), "0.44 litres a square metre at 4 a litre"
    assert wanted["masonry paint"].buy is not None
    assert wanted["masonry paint"].buy.counts == ((10, 3),), "22 litres in tins of ten"
    best = wanted["masonry paint"].jobs[0].task.best
    assert best is not None
    assert wanted["masonry paint"].order_by == max(best - 3, TODAY)


def test_ready_for_winter_counts_weeks_back_from_the_frost_of_one_year_in_ten(book: Book) -> None:
    put_down(book, draft("pipes-before-frost", "2026-10-20"), TODAY)
    with book.reading() as session:
        frost = early_frost(book.season(session), TODAY)
        found = ready_for_winter(book, session, TODAY)
        assert frost == book.season(session).mark("first frost", 10, 2027)
        assert early_frost(book.season(session), frost + 60) == frost, "still this winter"
        assert early_frost(book.season(session), frost + 200) == book.season(session).mark("first frost", 10, 2028)
    assert found.frost == frost
    put_down(book, draft("gutters", "2026-04-10"), TODAY)
    with book.reading() as session:
        found = ready_for_winter(book, session, TODAY)
    assert [job.by for job in found.jobs] == sorted(job.by for job in found.jobs)
    in_time = [job for job in found.jobs if (job.task.opens or 0) <= frost - 21]
    assert {job.by for job in in_time if job.element.sheet.id == "pipes-before-frost"} == {frost - 21}, "three weeks"
    after = [job for job in found.jobs if job.after_frost]
    assert {job.element.sheet.id for job in after} == {"gutters"}
    assert all(job.by == job.task.closes > frost for job in after), "their own time is when the leaves are down"


@pytest.mark.parametrize(
    ("air", "humidity", "surface", "coating", "fit"),
    [
        (20, 60, 20, "water-borne paint", True),
        (10, 85, 10, "solvent-borne paint", False),
        (12, 60, 12, "water-borne paint", True),
        (8, 60, 8, "water-borne paint", False),
        (8, 60, 8, "bitumen", True),
        (25, 50, 36, "water-borne paint", False),
    ],
)
def test_fit_to_paint(book: Book, air: float, humidity: float, surface: float, coating: str, fit: bool) -> None:
    """Worked with PsychroLib 2.5.0 and CoolProp 8.0.0 (they agree to 0.01 K) and the limits of ISO 8502-4."""
    with book.reading() as session:
        found = is_it_fit(book, session, Readings(air, humidity, surface, coating), TODAY)
    assert found.fit is fit
    assert not any("wind" in check.says for check in found.checks), "nobody read it"


@pytest.mark.parametrize(
    ("on", "reading", "fit"),
    [
        ("2027-06-10", Readings(14, 95, 13, "limewash", wall_dry=False), True),
        ("2027-06-10", Readings(14, 95, 13, "limewash", tonight_c=3), False),
        ("2027-06-10", Readings(14, 95, 13, "limewash", dry_hours=6), False),
        ("2027-06-10", Readings(26, 40, 33, "limewash"), False),
        ("2027-10-20", Readings(14, 95, 13, "limewash"), False),
        ("2027-03-10", Readings(14, 95, 13, "limewash"), False),
    ],
)
def test_limewash_wants_mild_damp_days_and_weeks_without_frost(
    book: Book, on: str, reading: Readings, fit: bool
) -> None:
    """Lime merchants (lime.org.uk, anglialime.com): 5 °C and more, lime putty from April to early October."""
    with book.reading() as session:
        assert is_it_fit(book, session, reading, day(on)).fit is fit


def test_a_reading_that_cannot_be_names_its_field(book: Book) -> None:
    with pytest.raises(BadInput) as refused, book.reading() as session:
        is_it_fit(book, session, Readings(10, 0, 10, "bitumen"), TODAY)
    assert set(refused.value.fields) == {"humidity"}


def test_coats_to_come_are_set_against_what_their_month_gives(book: Book) -> None:
    put_down(book, draft("masonry-painted", "2017-06-20", area_m2=400), TODAY)
    with book.reading() as session:
        found = fit_months(book, session, "water-borne paint", "a wall", TODAY)
    assert len(found.days) == 12
    assert max(found.days[3:9]) > max(*found.days[:2], found.days[11])
    assert found.jobs
    assert not found.jobs[0].fits, "400 m² take more days than an upland month has"


@pytest.mark.parametrize(
    ("asked", "litres", "tins"),
    [
        (Asked("masonry paint, smooth render", 80, 2, tins=(Tin(10),)), (22.0, 35.2), ((10, 3),)),
        (Asked("bituminous paint, brick and concrete", 12, 2), (4.4, 5.28), ((5, 1),)),
    ],
)
def test_how_much_paint(asked: Asked, litres: tuple[float, float], tins: tuple[tuple[float, int], ...]) -> None:
    """Arithmetic on published spreads: 80 m² at 8 and at 5 m² a litre, 10 %: 22.0 and 35.2; 12 m² at 6 and at 5."""
    found = reckon(asked, Prices({})).things[0]
    assert (found.low, found.high) == pytest.approx(litres)
    assert found.buy.counts == tins


def test_mortar_and_gravel() -> None:
    """Geometry: 20 m² of 15 mm render and 15 % more are 0.345 m³ wet; 10 m² of gravel 50 mm deep, 1.6 t/m³, 10 %."""
    known = Prices({})
    assert "0.345" in reckon(Asked("render, 15 mm", 20), known).why[0]
    assert reckon(Asked("gravel", 10, depth_mm=50), known).things[0].needed == pytest.approx(880)
    with pytest.raises(BadInput) as refused:
        reckon(Asked("gravel", 10, depth_mm=2), known)
    assert set(refused.value.fields) == {"depth"}


def test_firewood_is_dry_at_twenty_by_the_whole(book: Book) -> None:
    """Geometry: 25 by the dry wood is 20 by the whole; 14.7 MJ (4.09 kWh) a kilogram there (19 (1 - w) - 2.44 w)."""
    found = meter(25, "dry")
    assert (found.wet_percent, found.ready) == (pytest.approx(20), True)
    assert found.kwh_kg == pytest.approx(4.09, abs=0.01)
    assert not meter(33.4, "dry").ready
    assert need(Need(5, 4, 100, "oak")).kwh == 2000
    with pytest.raises(BadInput):
        meter(95, "wet")
    put_down(book, draft("firewood", "2027-03-01", stacked_m3=6, wood="oak"), TODAY)
    put_down(book, draft("firewood", "2027-03-02", wood="ash, birch or softwood"), TODAY)
    with book.reading() as session:
        stacks = wood(book, session, TODAY)
    ready = {pile.wood: pile.ready.best for pile in stacks.piles if pile.ready is not None and pile.ready.best}
    assert stacks.in_all_m3 == 10
    assert ready["oak"] > ready["ash, birch or softwood"] > day("2027-06-01")
