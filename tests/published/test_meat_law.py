"""Meat: what the law refuses, sums that must come out whole, and what no table can hold."""

import time
from datetime import date
from itertools import pairwise
from statistics import fmean

import pytest

from app.errors import OutOfRange, Refused
from app.rules.spans import add, span
from app.sheets.cure_law import limits, nitrite_limit
from app.trade.meat.after_thaw import thawed
from app.trade.meat.carcase import BEASTS, CUTS, cut_list
from app.trade.meat.cooking import safe_core, uk_hold_s
from app.trade.meat.cure import Skin
from app.trade.meat.depth import middle_percent, salt_by_depth
from app.trade.meat.even import Shape, even_estimate
from app.trade.meat.freezer import Lot, loads
from app.trade.meat.keeping import KEEPING, chilled_days, keeps
from app.trade.meat.nitrite_law import JURISDICTIONS, PRODUCTS, Jurisdiction, Limit, Product
from app.trade.meat.plank import brick_form, freezing_hours
from app.trade.meat.portions import PORTION_G, packs
from app.trade.meat.power_cut import after_the_cut, holds_hours
from app.trade.meat.recipe import Recipe, dry_cure, judged, on_scales
from app.trade.meat.salt import fourier_for

# ── the law ───────────────────────────────────────────────────────────────────────────────────────────────────────


def cure(ppm: float, country: Jurisdiction, product: Product, nitrate: float = 0) -> Recipe:
    return dry_cure(1000, 6.25, ppm, 2.5, 1, product, limit=law_of(country, product), nitrate_percent=nitrate)


def law_of(country: Jurisdiction, product: Product, on: str = "2026-11-01") -> Limit:
    """What the law says on a day."""
    found = nitrite_limit(country, product, date.fromisoformat(on).toordinal())
    assert found is not None
    return found


@pytest.mark.published
@pytest.mark.parametrize(
    ("country", "product", "most", "law"),
    [
        ("us", "dry-cured bacon", 200, "9 CFR 424.22"),
        ("us", "brined bacon", 120, "9 CFR 424.22"),
        ("us", "minced", 156.25, "FSIS Handbook"),
        ("us", "brined ham", 200, "FSIS Handbook"),
        ("us", "dry-cured ham", 200, "21 CFR 172.170"),
        ("gb", "minced", 150, "SI 2007/1778"),
        ("gb", "brined ham", 150, "SI 2007/1778"),
        ("eu", "minced", 120, "2023/2108"),
        ("eu", "dry-cured bacon", 150, "2023/2108"),
    ],
)
def test_a_cure_at_the_law_is_reckoned_and_one_beyond_it_is_refused_by_name(
    country: Jurisdiction, product: Product, most: float, law: str
) -> None:
    """FSIS text on bacon and its handbook of 1995; SI 2007/1778 schedule 1; trade report on Regulation 2023/2108."""
    assert cure(most, country, product).ppm == pytest.approx(most)
    with pytest.raises(Refused) as caught:
        cure(most + 2, country, product)
    assert law in str(caught.value)
    assert "local food-safety authority" in str(caught.value)


@pytest.mark.published
@pytest.mark.parametrize(
    ("on", "product", "most"),
    [("2025-10-08", "minced", 150), ("2025-10-09", "minced", 120), ("2026-11-01", "brined ham", 120),
     ("2025-10-08", "dry-cured bacon", 150), ("2025-10-09", "dry-cured bacon", 150)],
)  # fmt: skip
def test_the_law_of_the_union_is_that_of_the_day(on: str, product: Product, most: float) -> None:
    """Until then 150 mg/kg as sodium nitrite (Regulation 1333/2008, in EFSA 2017, table 5); from 9 October 2025 80 as
    ion, 100 for dry-cured goods, which is 120 and 150 as sodium nitrite (trade report on Regulation 2023/2108)."""
    assert law_of("eu", product, on).most == pytest.approx(most, abs=0.1)
    assert law_of("gb", "minced", on).most == 150


@pytest.mark.published
def test_every_law_and_product_is_told_once_on_any_day_and_none_before() -> None:
    """SI 2007/1778, Regulations 1333/2008 and 2023/2108, 9 CFR 424.22: a day has one row, or no answer."""
    for on in ("2010-01-20", "2025-10-08", "2025-10-09", "2030-01-01"):
        day = date.fromisoformat(on).toordinal()
        told = [
            (one.law, product) for one in limits() if one.first <= day <= (one.last or day) for product in one.products
        ]
        assert sorted(told) == sorted((country, product) for country in JURISDICTIONS for product in PRODUCTS)
    assert nitrite_limit("gb", "minced", date(1990, 1, 1).toordinal()) is None


@pytest.mark.published
def test_british_dry_cured_bacon_is_warned_of_above_150_and_stops_at_200() -> None:
    """SI 2007/1778 limits what is left (175 mg/kg), which no sum foretells; 21 CFR 172.170 stops home cures at 200."""
    assert not any("left at the end" in one for one in cure(150, "gb", "dry-cured bacon").says)
    assert any("left at the end" in one for one in cure(160, "gb", "dry-cured bacon").says)
    with pytest.raises(Refused):
        cure(201, "gb", "dry-cured bacon")


@pytest.mark.published
def test_the_most_of_the_union_is_not_called_too_little_and_what_coarse_scales_leave_is() -> None:
    """80 mg/kg of the ion are 120 of sodium nitrite (molar masses); FSIS Handbook, p. 12: 120 ppm at least. 24 g of
    0.5 % on 1 kg are 120, of which scales of 5 g show 20: 100 ppm."""
    most = law_of("eu", "brined bacon")
    assert not any("botulism" in one for one in judged(most.usual_ppm(), "brined bacon", most))
    weak = dry_cure(1000, 0.5, 120, 2.5, 1, "dry-cured bacon")
    assert any("botulism" in one for one in on_scales(weak, 5, 0.5, 1000).says)
    assert not any("botulism" in one for one in weak.says)


@pytest.mark.published
def test_what_is_left_is_told_and_no_sum_and_what_factories_may_is_not_reckoned() -> None:
    """SI 2007/1778, schedule 1: 175 and 100 mg/kg residual; FSIS Handbook, pp. 24-27: 625 ppm in aged hams."""
    assert "175 mg/kg residual" in law_of("gb", "dry-cured bacon").law
    assert "100 mg/kg residual" in law_of("gb", "dry-cured ham").law
    with pytest.raises(Refused, match="above 200 ppm"):
        judged(625, "dry-cured ham", law_of("us", "dry-cured ham"))


@pytest.mark.published
def test_nitrate_is_never_for_bacon() -> None:
    """Curing pork products at home, P2648, Mississippi State University Extension: no nitrate in bacon."""
    with pytest.raises(Refused, match="never for bacon"):
        cure(150, "us", "dry-cured bacon", nitrate=4)
    with pytest.raises(Refused, match="extension service"):
        cure(150, "us", "dry-cured ham", nitrate=4)


@pytest.mark.published
def test_the_extension_recipe_at_an_ounce_and_a_half_is_beyond_200_ppm() -> None:
    """P2648: 262.6 ppm of nitrite at 1½ oz a pound."""
    for country in JURISDICTIONS:
        for product in PRODUCTS:
            with pytest.raises(Refused, match="above 200 ppm"):
                judged(262.6, product, law_of(country, product))


@pytest.mark.common_practice
def test_five_kilos_of_cured_sausage_take_78_grams_of_salt_beside_the_cure() -> None:
    """90 g of salt at 1.8 %, 12.5 g of strong cure of which 11.72 g are salt; arithmetic."""
    mix = dry_cure(5000, 6.25, 156.25, 1.8, 0, "minced", limit=law_of("us", "minced"))
    assert (mix.curing_salt_g, mix.salt_g) == (pytest.approx(12.5, abs=0.005), pytest.approx(78.28, abs=0.005))


@pytest.mark.common_practice
@pytest.mark.parametrize(
    "bad",
    [
        {"meat_g": 0}, {"salt_percent": 1.0}, {"salt_percent": 9}, {"sugar_percent": -1}, {"water_g": -1},
        {"nitrite_percent": 62.5}, {"target_ppm": -1}, {"nitrate_percent": -1},
    ],
)  # fmt: skip
def test_a_recipe_for_nonsense_is_a_plain_sentence(bad: dict[str, float]) -> None:
    """There is no such piece, packet or recipe."""
    good = {"meat_g": 1000, "nitrite_percent": 6.25, "target_ppm": 150, "salt_percent": 2.5, "sugar_percent": 1}
    with pytest.raises(OutOfRange):
        dry_cure(**{**good, **bad}, product="dry-cured bacon")  # type: ignore[arg-type]


@pytest.mark.common_practice
def test_an_odd_strength_is_reckoned_and_questioned() -> None:
    """0.4 to 0.6 and 5.67 to 6.25 % are the kinds sold."""
    says = dry_cure(1000, 2.0, 150, 2.5, 1, "dry-cured bacon").says
    assert any("Read the packet again" in one for one in says)
    assert not any("Read the packet again" in one for one in cure(150, "gb", "dry-cured bacon").says)


# ── thawed, cooked, kept ──────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_meat_thawed_on_a_worktop_is_refused_in_both_countries() -> None:
    """FSA, Chilling; USDA, The Big Thaw."""
    for rule in ("uk", "us"):
        with pytest.raises(Refused, match="throw it away"):
            thawed(rule, "joint", "worktop")  # type: ignore[arg-type]


@pytest.mark.published
def test_meat_thawed_in_water_is_cooked_at_once() -> None:
    """University of Illinois Extension: Meat Safety, Thawing."""
    assert thawed("us", "joint", "cold water").days == 0
    assert not thawed("us", "joint", "microwave").refreeze_raw


@pytest.mark.published
@pytest.mark.parametrize(
    ("rule", "dish", "core", "hold"),
    [
        ("us", "pork, whole cut", 62.8, 180), ("us", "minced", 71.1, 0), ("us", "poultry", 73.9, 0),
        ("uk", "pork, whole cut", 70, 120), ("uk", "poultry", 70, 120), ("uk", "minced", 70, 120),
        ("uk", "offal", 70, 120), ("uk", "rolled joint", 70, 120),
    ],
)  # fmt: skip
def test_what_the_middle_must_reach(rule: str, dish: str, core: float, hold: int) -> None:
    """USDA chart: 145 °F and three minutes, 160, 165 °F; FSA: 70 °C for two minutes."""
    found = safe_core(rule, dish)  # type: ignore[arg-type]
    assert (found.core_c, found.hold_s) == (core, hold)


@pytest.mark.published
def test_every_row_of_the_holding_table_is_as_long_as_the_formula_behind_it() -> None:
    """FSA table against 120 s at 70 °C with z = 7.5 °C: 25.9, 5.6, 557 and 2585 seconds."""
    for core_c, formula in ((75, 25.9), (80, 5.6), (70, 120), (65, 557), (60, 2585)):
        assert uk_hold_s(core_c) >= formula
    assert [uk_hold_s(c, o157=True) // 60 for c in (60, 65, 70)] == [93, 14, 2]  # against E. coli O157: after the ACMSF


@pytest.mark.published
def test_months_in_the_freezer_end_on_the_calendar() -> None:
    """Cold Food Storage Chart: chops four months, bacon one; 31 January and a month is the end of February."""

    def best_by(what: str, frozen: date, high: bool = False) -> date:
        months = keeps(what).frozen
        assert months is not None
        return date.fromordinal(add(frozen.toordinal(), span(f"P{months[high]}M")))

    assert best_by("chops, steaks and joints", date(2026, 1, 10)) == date(2026, 5, 10)
    assert best_by("chops, steaks and joints", date(2026, 1, 10), high=True) == date(2027, 1, 10)
    assert best_by("bacon", date(2026, 1, 31)) == date(2026, 2, 28)
    assert best_by("bacon", date(2028, 1, 31)) == date(2028, 2, 29)


@pytest.mark.common_practice
def test_what_no_table_has_gets_no_days() -> None:
    """Nothing is published of chilled venison or of badger."""
    with pytest.raises(Refused, match="food-safety authority"):
        keeps("badger")
    with pytest.raises(Refused, match="freeze it"):
        chilled_days("venison")
    assert all(one.chilled is None or one.chilled[0] <= one.chilled[1] for one in KEEPING.values())


@pytest.mark.published
def test_what_the_power_cut_left_is_judged_by_its_ice() -> None:
    """FoodSafety.gov: ice crystals, or 40 °F and below, and it may be frozen again."""
    assert after_the_cut("hard or icy").refreeze
    assert not after_the_cut("soft but cold", 4).refreeze
    assert not after_the_cut("warm").keep
    assert not after_the_cut("soft but cold", 7).keep
    with pytest.raises(OutOfRange, match="twelve hours"):
        holds_hours(20)


# ── freezing, cutting up ──────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.from_memory
@pytest.mark.parametrize(
    ("long", "wide", "p", "r"), [(4, 2.4, 0.300, 0.085), (1, 1, 1 / 6, 1 / 24), (1e7, 1e6, 0.5, 0.125)]
)
def test_the_form_of_a_brick(long: float, wide: float, p: float, r: float) -> None:
    """ASHRAE Refrigeration, and Singh and Heldman's block of 1.0 x 0.6 x 0.25 m; a cube and a slab are its limits."""
    assert brick_form(long, wide) == (pytest.approx(p, abs=0.0006), pytest.approx(r, abs=0.0006))


@pytest.mark.published
def test_a_pack_of_50_mm_freezes_within_a_day_and_a_joint_of_100_does_not() -> None:
    """Plank's equation in still air with the usual shares added; a day is the rule of West Virginia's Extension."""
    assert freezing_hours(50, "flat pack", "still air").quick < 24
    assert freezing_hours(100, "flat pack", "still air").quick > 24


@pytest.mark.common_practice
def test_what_spoils_first_goes_in_first_and_what_comes_too_late_is_told() -> None:
    """Mince has a day or two, joints three to five; 9.6 kg a day."""
    plan = loads([Lot("joints", 30, 3), Lot("mince", 6, 1)], 9.6)
    assert plan[0] == (0, "mince", 6, False)
    assert [round(sum(one.kg for one in plan if one.day == day), 6) for day in range(4)] == [9.6, 9.6, 9.6, 7.2]
    assert not any(one.late for one in plan)
    late = loads([Lot("joints", 30, 3), Lot("mince", 30, 1)], 9.6)
    assert any(one.late for one in late)
    assert sum(one.kg for one in late) == pytest.approx(60)


@pytest.mark.published
def test_cut_lists_come_to_the_whole_carcase() -> None:
    """University of Kentucky: 45, 34.9, 33.8, 16.6, 14.7 and 39.2 of 184 lb; the lamb handbook sums to 100."""
    for beast in BEASTS:
        assert sum(cut.percent for cut in CUTS[beast]) == 100
        assert all(cut.keeps in KEEPING and cut.portion in PORTION_G for cut in CUTS[beast])
        assert sum(kg for _, kg in cut_list(beast, 82)) == pytest.approx(82)
    pounds = {cut.what: kg for cut, kg in cut_list("pig", 184)}
    for what, printed in (("leg", 45), ("belly", 34.9), ("loin", 33.8), ("hand", 16.6), ("shoulder", 14.7)):
        assert pounds[what] == pytest.approx(printed, abs=1.0)
    assert {cut.what: cut.percent for cut in CUTS["lamb"]}["legs"] == 32


@pytest.mark.published
@pytest.mark.parametrize("kg", [0, -3, 4000])
def test_no_such_carcase(kg: float) -> None:
    """Nothing weighs that; University of Kentucky's pig is 184 lb."""
    with pytest.raises(OutOfRange):
        cut_list("pig", kg)


@pytest.mark.common_practice
def test_packs_and_what_is_left_weigh_what_came() -> None:
    """Arithmetic."""
    found = packs(5.1, 200, 4)
    assert found.packs == 6
    assert found.packs * found.pack_g + found.left_g == pytest.approx(5100)


# ── how long it takes to reckon ────────────────────────────────────────────────────────


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("mm", "skin", "shape"), [(38, "skin on", "flat"), (75, "skinned", "flat"), (70, "skinned", "round")]
)
def test_the_estimate_and_the_curve_of_a_piece_take_less_than_five_thousandths_of_a_second(
    mm: float, skin: Skin, shape: Shape
) -> None:
    """The budget of the page: nothing remembered from the piece before; the quickest of five, the machine is shared."""
    took = []
    for _ in range(5):
        fourier_for.cache_clear()
        start = time.perf_counter()
        even_estimate(mm, skin, shape)
        salt_by_depth(mm, skin, shape, 2.5, 14, 5)
        took.append(time.perf_counter() - start)
    assert min(took) < 0.005


# ── salt by depth ─────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_salt_by_depth_is_ninety_in_the_middle_and_a_hundred_and_ten_at_the_face() -> None:
    """Fick's law in a slab: Fo 0.3035; 50 mm on two faces at 5e-10 m²/s are 4.39 days (worked with scipy 1.17.1)."""
    curve = salt_by_depth(50, "skinned", "flat", 10, 4.391, 5)
    assert (curve[0].mm, curve[-1].mm) == (0, 50)
    assert middle_percent(curve, "skinned") == pytest.approx(9.0, abs=0.01)
    assert curve[0].percent == curve[-1].percent == pytest.approx(11.0, abs=0.01)
    under_skin = salt_by_depth(25, "skin on", "flat", 10, 4.391, 5)
    assert middle_percent(under_skin, "skin on") == under_skin[-1].percent == pytest.approx(9.0, abs=0.01)


@pytest.mark.published
def test_no_salt_is_lost_on_its_way_in() -> None:
    """Conservation of mass: the mean over depth, in a cylinder weighted by the radius, is what went in."""
    flat = salt_by_depth(40, "skin on", "flat", 2.5, 14, 5, 101)
    assert fmean([(a.percent + b.percent) / 2 for a, b in pairwise(flat)]) == pytest.approx(2.5, abs=0.001)
    half = salt_by_depth(70, "skinned", "round", 2.5, 12, 5, 401)[:201]
    rings = [(one.percent, 35 - one.mm) for one in half]
    mean = sum((a + b) / 2 * (r**2 - s**2) for (a, r), (b, s) in pairwise(rings)) / 35**2
    assert mean == pytest.approx(2.5, abs=0.001)


# ── on the scales ─────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
def test_curing_salt_is_never_rounded_up() -> None:
    """A scale that shows whole grams, 37.5 g wanted: 37 g, which is 148 ppm of a 0.4 % salt (F1)."""
    mix = on_scales(dry_cure(1000, 0.4, 150, 4, 1, "dry-cured bacon"), 1, 0.4, 1000)
    assert (mix.curing_salt_g, mix.salt_g, mix.sugar_g) == (37, 3, 10)
    assert mix.ppm == pytest.approx(148)
    fine = on_scales(cure(150, "gb", "dry-cured bacon"), 0.01, 6.25, 1000)
    assert fine.curing_salt_g == pytest.approx(2.4)


@pytest.mark.common_practice
@pytest.mark.parametrize("step", [0.1, 1, 5, 0])
def test_little_curing_salt_is_not_weighed_on_coarse_scales(step: float) -> None:
    """Below 10 g scales that show 0.01 g are wanted."""
    with pytest.raises(OutOfRange):
        on_scales(cure(150, "gb", "dry-cured bacon"), step, 6.25, 1000)


@pytest.mark.common_practice
def test_what_a_cure_aims_at_stays_within_the_law_of_its_country() -> None:
    """150 ppm, in the Union 120; brined bacon in the United States 120 (9 CFR 424.22)."""
    assert law_of("gb", "dry-cured bacon").usual_ppm() == law_of("us", "dry-cured bacon").usual_ppm() == 150
    assert law_of("us", "brined bacon").usual_ppm() == 120
    for country in JURISDICTIONS:
        for product in PRODUCTS:
            judged((limit := law_of(country, product)).usual_ppm(), product, limit)
    assert law_of("eu", "minced").usual_ppm() == pytest.approx(120, abs=0.1)
