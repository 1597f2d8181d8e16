"""The seed tin: ages, lives, tests, what is enough, what is too old, and what would cross."""

from pathlib import Path

import pytest

from app.errors import BadInput, NotFound
from app.services import entries
from app.services.book import Book
from app.services.garden import flowering, seed_lines
from app.services.garden.seed_lot import SeedLot, keep_store
from app.services.garden.seed_tin import Tin, find, tin
from app.services.larder import lot_words
from app.services.larder.lot_words import NewLot
from app.services.larder.lots import lots
from app.services.preview import Looked
from app.services.ticking import Words, tick, undo
from tests.services.croft import ON, TODAY, Ticking, croft, day, draft


def parsnips(book: Book, sown: str = "2024-04-10", tinned: str = "2025-09-15", grams: float = 40) -> str:
    entry = entries.put_down(book, draft("parsnip-seed", sown), TODAY)
    tick(book, f"{entry}.tin", TODAY, on=day(tinned), words=Words({"g": grams}))
    return f"{entry}.tin#0"


def seen(book: Book) -> Tin:
    with book.reading() as session:
        return tin(book, session, TODAY)


def of(book: Book, ident: str) -> SeedLot:
    with book.reading() as session:
        return find(book, session, ident, TODAY)


def looked(book: Book, sheet: str, on: str, **facts: object) -> Looked:
    with book.reading() as session:
        return entries.look_new(book, session, draft(sheet, on, **facts), TODAY)


@pytest.mark.common_practice
def test_a_sowing_of_parsnip_seed_past_its_eighteen_months_warns_and_is_not_refused(tmp_path: Path) -> None:
    """Household figure, 18 months: harvested 15 September 2025, to be sown by 15 March 2027."""
    book = croft(tmp_path, clock=Ticking())
    parsnips(book)

    late = looked(book, "parsnip-seed", "2027-04-10")
    [said] = late.warnings
    assert "was to be sown by 15\u00a0March\u00a02027; on 10\u00a0April\u00a02027 it is past that" in said
    with book.reading() as session:
        kept = lots(book, session, TODAY)
    assert seed_lines.too_old(kept, "parsnip seed", day("2027-03-15")) is None
    assert seed_lines.too_old(kept, "parsnip seed", day("2027-03-16")) is not None
    assert entries.put_down(book, draft("parsnip-seed", "2027-04-10"), TODAY, late.seen)


@pytest.mark.common_practice
def test_fresher_seed_beside_the_old_is_no_cause_to_warn(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    parsnips(book)
    new = NewLot("parsnip seed", day("2026-09-20"), 10, "g", keeps_until=day("2028-03-20"))
    ident = lot_words.put_lot(book, new, TODAY)
    assert looked(book, "parsnip-seed", "2027-04-10").warnings == ()
    lot_words.take(book, ident, "given", 10, TODAY, TODAY)
    assert len(looked(book, "parsnip-seed", "2027-04-10").warnings) == 1


def test_what_is_sown_is_taken_out_of_the_tin_and_lies_there_again_when_taken_back(tmp_path: Path) -> None:
    """A row of 9 m at 0.1 g a metre is 0.9 g, of the lot to be sown first; nothing for a sowing of long ago."""
    book = croft(tmp_path, clock=Ticking())
    older = lot_words.put_lot(
        book, NewLot("parsnip seed", day("2026-08-20"), 0.5, "g", keeps_until=day("2028-02-20")), TODAY
    )
    newer = lot_words.put_lot(
        book, NewLot("parsnip seed", day("2026-09-20"), 10, "g", keeps_until=day("2028-03-20")), TODAY
    )

    def left() -> list[float | None]:
        return [of(book, one).lot.left for one in (older, newer)]

    entries.put_down(book, draft("parsnip-seed", "2026-10-10", "Long ago"), TODAY)
    assert left() == [0.5, 10]
    row = entries.put_down(book, draft("parsnip-seed", "2027-04-10", "Row"), TODAY)
    came = tick(book, f"{row}.sow", TODAY)
    assert left() == [0, pytest.approx(9.6)]
    (used,) = of(book, newer).lot.facts
    assert (used.kind, used.note) == ("used", "Row")
    undo(book, came.tick_id, TODAY)
    assert left() == [0.5, 10]
    entries.put_down(book, draft("parsnip-seed", ON.isoformat(), "Sown today"), TODAY)
    assert left() == [0, pytest.approx(9.6)]


@pytest.mark.common_practice
def test_an_f1_kind_kept_for_seed_is_warned_of_and_not_refused(tmp_path: Path) -> None:
    """The offspring of an F1 kind comes up mixed."""
    book = croft(tmp_path, clock=Ticking())
    [said] = looked(book, "parsnip-seed", "2027-04-10", f1=True, seed=True).warnings
    assert said.startswith("This is an F1 kind")
    assert looked(book, "parsnip-seed", "2027-04-10", f1=True, seed=False).warnings == ()
    assert looked(book, "parsnip-seed", "2027-04-10", f1=False, seed=True).warnings == ()
    assert entries.put_down(book, draft("parsnip-seed", "2027-04-10", f1=True, seed=True), TODAY)


def test_seed_that_was_never_put_down_is_bought_and_nothing_is_said(tmp_path: Path) -> None:
    assert looked(croft(tmp_path, clock=Ticking()), "parsnip-seed", "2027-04-10").warnings == ()


@pytest.mark.common_practice
def test_age_counts_from_the_harvest(tmp_path: Path) -> None:
    """18 months from 15 September 2025 are 546 days; 541 of them are gone on 10 March 2027."""
    book = croft(tmp_path, clock=Ticking())
    one = of(book, parsnips(book))
    assert one.age_days == 541
    assert one.life_left == pytest.approx(5 / 546)


@pytest.mark.published
def test_a_warm_tin_halves_the_life(tmp_path: Path) -> None:
    """Harrington: ten degrees Fahrenheit warmer, half the life; °F and % together up to 100."""
    book = croft(tmp_path, clock=Ticking())
    ident = parsnips(book)
    assert of(book, ident).tin_until is None
    keep_store(book, 10, 50, TODAY)
    assert of(book, ident).tin_until == day("2027-03-15")
    keep_store(book, 15.6, 50, TODAY)
    kept = seen(book).store
    assert kept is not None
    assert kept.sum == pytest.approx(110.08)
    assert of(book, ident).tin_until == day("2025-09-15") + 273


def test_air_that_no_rule_covers_is_said(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = parsnips(book)
    keep_store(book, 12, 90, TODAY)
    kept = seen(book).store
    assert kept is not None
    assert kept.times is None
    assert "10 to 75 %" in kept.beyond
    assert of(book, ident).tin_until is None


@pytest.mark.published
def test_five_of_twenty(tmp_path: Path) -> None:
    """Wilson's interval for 5 of 20: 11 to 47 in a hundred."""
    book = croft(tmp_path, clock=Ticking())
    ident = parsnips(book)
    lot_words.put_test(book, ident, 5, 20, TODAY, TODAY)
    test = of(book, ident).test
    assert test is not None
    assert test.share is not None
    assert (test.share.low, test.share.high) == pytest.approx((0.112, 0.469), abs=0.001)


def test_the_latest_test_stands_whoever_asked_for_it(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = parsnips(book)
    entry = ident.partition(".")[0]
    tick(book, f"{entry}.test", TODAY, on=day("2026-01-20"), words=Words({"up_percent": 80}))
    first = of(book, ident).test
    assert first is not None
    assert (first.up, first.tried, first.on) == (16, 20, day("2026-01-20"))
    lot_words.put_test(book, ident, 7, 10, TODAY, TODAY)
    last = of(book, ident).test
    assert last is not None
    assert (last.up, last.tried) == (7, 10)


def test_enough_for_next_year_or_not(tmp_path: Path) -> None:
    """Nine metres of parsnips take 0.9 g by their sheet, and 15 % is kept to spare: 1.035 g."""
    book = croft(tmp_path, clock=Ticking())
    ident = parsnips(book, "2025-04-10", "2026-09-15", grams=10)
    entries.put_down(book, draft("parsnip-seed", "2027-03-12", name="Next parsnips", row_m=9), TODAY)
    supply = seen(book).supplies["parsnip seed"]
    assert supply.sowings == ("Next parsnips",)
    assert not supply.like_last_year
    assert supply.balance is not None
    share = supply.balance.over / supply.balance.are
    assert share == pytest.approx((10 - 1.035) / 10, abs=0.01)
    lot_words.take(book, ident, "used", 9.5, TODAY, TODAY)
    after = seen(book).supplies["parsnip seed"].balance
    assert after is not None
    assert not after.enough


def test_where_nothing_is_planned_last_years_sowing_stands_in(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    parsnips(book)
    entry = entries.put_down(book, draft("parsnip-seed", "2026-05-01", row_m=9), TODAY)
    supply = seen(book).supplies["parsnip seed"]
    assert supply.like_last_year
    assert supply.balance is not None
    assert supply.balance.enough
    assert entry


def test_an_empty_lot_is_gone_and_kept_on_record(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    ident = parsnips(book)
    lot_words.take(book, ident, "thrown", 40, TODAY, TODAY)
    found = seen(book)
    assert found.lots == ()
    assert [one.lot.id for one in found.gone] == [ident]
    with book.reading() as session, pytest.raises(NotFound):
        find(book, session, "nothing#0", TODAY)


# ── Generations ──


@pytest.mark.common_practice
def test_short_lived_seed_keeps_two_generations_standing(tmp_path: Path) -> None:
    """Roots sown in year n flower in n + 1, so that seed of every year needs one in flower and one in the row."""
    book = croft(tmp_path, clock=Ticking())
    entries.put_down(book, draft("parsnip-seed", "2026-04-10", name="Of last year"), TODAY)
    with book.reading() as session:
        [one] = seed_lines.lines(book, session, TODAY)
    assert (one.what, one.standing) == ("parsnip seed", 1)
    assert one.sow_by is not None
    assert day("2027-04-10") <= one.sow_by <= day("2027-06-10")
    assert not one.late
    entries.put_down(book, draft("parsnip-seed", "2027-03-12", name="Of this year"), TODAY)
    with book.reading() as session:
        [one] = seed_lines.lines(book, session, TODAY)
    assert [each.name for each in one.generations] == ["Of last year", "Of this year"]
    assert one.sow_by is None


@pytest.mark.common_practice
def test_a_line_that_nothing_follows_is_said_to_be_late(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    entries.put_down(book, draft("parsnip-seed", "2025-05-01"), TODAY)
    with book.reading() as session:
        assert [one.late for one in seed_lines.lines(book, session, TODAY)] == [True]
    entries.put_down(book, draft("parsnip-seed", "2026-05-01"), TODAY)
    with book.reading() as session:
        assert [one.late for one in seed_lines.lines(book, session, TODAY)] == [False]


# ── Up or not ──


@pytest.mark.common_practice
def test_a_row_not_up_after_twice_its_days_is_to_be_sown_again(tmp_path: Path) -> None:
    """Table to twice the table: past that it will not come."""
    book = croft(tmp_path, clock=Ticking())
    entry = entries.put_down(book, draft("parsnip-seed", "2027-03-01", name="Long row"), TODAY)
    with book.reading() as session:
        up = next(task for task in book.live(session, TODAY).laid[entry].tasks if task.step == "up")
        assert up.best is not None
        limit = day("2027-03-01") + 2 * (up.best - day("2027-03-01"))
        assert seed_lines.not_up(book, session, limit) == ()
        [found] = seed_lines.not_up(book, session, limit + 1)
    assert (found.name, found.sown) == ("Long row", day("2027-03-01"))


@pytest.mark.common_practice
def test_gaps_that_were_seen_are_to_be_sown_again(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    entry = entries.put_down(book, draft("parsnip-seed", "2027-02-01", name="Long row"), TODAY)
    tick(book, f"{entry}.up", TODAY, on=TODAY - 3, words=Words({"gaps": True}))
    with book.reading() as session:
        [found] = seed_lines.not_up(book, session, TODAY)
        assert seed_lines.not_up(book, session, TODAY + 40) == ()
    assert (found.gaps, found.still) == (True, True)


# ── Crossing ──


@pytest.mark.published
def test_parsnips_next_door_cross_within_300_m(tmp_path: Path) -> None:
    """Growing your own seeds, parsnip: 300 m. Wild ones flower every year, whatever year was put down."""
    book = croft(tmp_path, clock=Ticking())
    entry = entries.put_down(book, draft("parsnip-seed", "2026-04-10", name="Our row"), TODAY)
    flowering.add_neighbour(book, "Pastinaca sativa", "wild ones", 120, day("2020-06-20"), day("2020-08-10"), "", TODAY)
    flowering.add_neighbour(book, "Daucus carota", "carrots", 5, None, None, "", TODAY)
    with book.reading() as session:
        found = flowering.crossing(book, session, TODAY)
    [said] = looked(book, "parsnip-seed", "2027-04-10").warnings
    assert "cross with wild ones, 120 m off: 300 m apart is wanted" in said
    [meeting] = found.meetings[entry]
    assert (meeting.other, meeting.distance_m) == ("wild ones", 120)
    assert meeting.first is not None
    assert meeting.first > TODAY
    flowering.strike_neighbour(book, next(one.id for one in found.neighbours if one.what == "wild ones"), TODAY)
    with book.reading() as session:
        assert flowering.crossing(book, session, TODAY).meetings == {}


def test_flowers_that_end_before_they_begin_are_refused(tmp_path: Path) -> None:
    book = croft(tmp_path, clock=Ticking())
    with pytest.raises(BadInput):
        flowering.add_neighbour(book, "Pastinaca sativa", "", 1, TODAY, TODAY - 1, "", TODAY)
    with pytest.raises(NotFound):
        flowering.strike_neighbour(book, 99, TODAY)
