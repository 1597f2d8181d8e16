"""The beds of a made-up holding: what stands there, what was said of them, and what comes of it."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from app.errors import BadInput, NotFound
from app.records import store
from app.rules.facts import Tick
from app.services.book import Book
from app.services.entries import change, look_new, put_down
from app.services.garden import beds
from app.services.garden.bed_records import keep_bed, say, unsay
from app.services.garden.ground import Bed, Fact
from app.services.preview import Draft
from tests.web.garden import BEANS, KALE, app
from tests.web.holding import NOW, ON, TODAY, day

LONG = Bed(0, "Long bed", 6, 1.2, soil="loam")


def book(folder: Path, *entries: object) -> Book:
    found: Book = app(folder, *entries).state.book  # type: ignore[arg-type]
    return found


def sown(made: Book, ident: str, on: str) -> None:
    with made.writing() as session:
        store.add_tick(session, Tick(f"s-{ident}", f"{ident}.sow", "done", day(on), "2027-09-01T08:00:00.000Z"))
        made.replan(session, {ident}, TODAY)


def line(made: Book, name: str = "Long bed") -> beds.BedLine:
    with made.reading() as session:
        return next(one for one in beds.overview(made, session, TODAY).lines if one.bed.name == name)


def look(made: Book, sheet: str, place: str, on: str, **facts: float) -> str:
    with made.reading() as session:
        return " ".join(look_new(made, session, Draft(sheet, "It", place, {"date": day(on), **facts}), TODAY).advice)


def test_what_stands_in_a_bed_and_when_it_is_free(tmp_path: Path) -> None:
    made = book(tmp_path, BEANS)
    with made.reading() as session:
        assert beds.overview(made, session, TODAY).unmeasured == ("Long bed",)
    keep_bed(made, LONG, TODAY)
    sown(made, "beans", "2027-07-20")
    found = line(made)
    (stand,) = found.now
    assert (stand.first, stand.last, stand.begun) == (day("2027-07-20"), day("2027-07-20") + 100, True)
    assert stand.ground_m2 == pytest.approx(4 * 0.45)
    assert found.gaps[0].first == day("2027-07-20") + 101
    assert [(year, [g.what for g in grown]) for year, grown in found.years][-1] == (2027, ["beans"])
    assert "legumes" not in found.wants


@pytest.mark.published
def test_a_clash_is_named_before_it_is_put_down_and_is_no_refusal(tmp_path: Path) -> None:
    """Three years' rest: Country Life, Plan crop rotation."""
    made = book(tmp_path, KALE)
    for bed in (LONG, LONG._replace(name="Top bed")):
        keep_bed(made, bed, TODAY)
    sown(made, "kale", "2026-05-01")
    text = look(made, "test-kale", "Top bed", "2028-05-01")
    assert "Top bed had kale in 2026: the cabbage family should be kept off it until 2030." in text
    assert "By rotation it could stand in: Long bed." in text
    assert "kept off" not in look(made, "test-kale", "Long bed", "2028-05-01")
    assert put_down(made, Draft("test-kale", "It", "Top bed", {"date": day("2028-05-01")}), TODAY)


@pytest.mark.common_practice
def test_a_bed_that_is_not_free_and_rows_that_do_not_fit(tmp_path: Path) -> None:
    made = book(tmp_path, BEANS)
    keep_bed(made, LONG._replace(width_m=0.45), TODAY)
    sown(made, "beans", "2027-07-20")
    text = look(made, "test-kale", "Long bed", "2027-10-01", row_m=9)
    assert "Long bed is not free: taken by Beans, tall until 28 October 2027" in text
    assert "6 m of row, and 9 m are wanted" in text
    assert "not free" not in look(made, "test-kale", "Long bed", "2027-11-20", row_m=5)
    assert look(made, "test-kale", "Orchard", "2027-11-20") == ""


def test_a_change_of_place_is_advised_on_too(tmp_path: Path) -> None:
    made = book(tmp_path, BEANS, KALE)
    keep_bed(made, LONG, TODAY)
    sown(made, "beans", "2027-07-20")
    from app.services.entries import look_change

    with made.reading() as session:
        draft = Draft("test-kale", "Kale", "Long bed", {"date": day("2027-09-01")})
        assert "share Long bed with Beans, tall" in " ".join(look_change(made, session, "kale", draft, TODAY).advice)


@pytest.mark.common_practice
def test_five_trays_where_two_fit(tmp_path: Path) -> None:
    made = book(tmp_path)
    keep_bed(made, Bed(0, "Sill", 1, 0.3, "sill", trays=2), TODAY)
    text = look(made, "test-tray", "Long bed", "2027-10-01", row_m=30)  # 200 plants, 40 in a tray
    assert text.startswith("Five trays under cover, and room for two on that day, of two in all: sow two on 1 October")
    assert look(made, "test-tray", "Long bed", "2027-10-01", row_m=12) == ""


def test_what_was_said_of_a_bed_counts_until_it_is_taken_back(tmp_path: Path) -> None:
    made = book(tmp_path)
    ident = keep_bed(made, LONG, TODAY)
    said = say(made, Fact("", ident, "grew", "test-kale", day("2025-07-01")), TODAY)
    assert "brassicas" not in line(made).wants
    assert "Long bed had kale in 2025" in look(made, "test-kale", "Long bed", "2028-05-01")
    unsay(made, ident, said, TODAY)
    assert "brassicas" in line(made).wants
    with pytest.raises(NotFound):
        unsay(made, ident, said, TODAY)
    with pytest.raises(NotFound):
        say(made, Fact("", 99, "fed", "muck", TODAY), TODAY)
    with pytest.raises(BadInput, match="not come yet"):
        say(made, Fact("", ident, "fed", "muck", TODAY + 1), TODAY)


@pytest.mark.common_practice
def test_muck_spread_by_a_job_feeds_the_bed_and_quarrels_with_lime(tmp_path: Path) -> None:
    made = book(tmp_path)
    ident = keep_bed(made, LONG, TODAY)
    muck = put_down(made, Draft("muck", "Muck", "long bed", {"date": day("2027-08-20"), "bought": False}), TODAY)
    with made.writing() as session:
        store.add_tick(session, Tick("m", f"{muck}.spread", "done", day("2027-08-20"), "2027-09-01T08:00:00.000Z"))
        made.replan(session, {muck}, TODAY)
    say(made, Fact("", ident, "fed", "lime", day("2027-09-10"), 2.0, "kg"), TODAY)
    with made.reading() as session:
        found = beds.bed_view(made, session, ident, TODAY)
    assert [(one.what, one.day) for one in found.fed] == [("lime", day("2027-09-10")), ("muck", day("2027-08-20"))]
    assert [(one.kind, one.days) for one in found.quarrels] == [("lime and muck", 21)]


def test_a_new_name_is_followed_and_two_beds_have_two_names(tmp_path: Path) -> None:
    made = book(tmp_path, BEANS)
    ident = keep_bed(made, LONG, TODAY)
    keep_bed(made, LONG._replace(name="Top bed"), TODAY)
    keep_bed(made, LONG._replace(id=ident, name="Bean bed"), TODAY)
    with made.reading() as session:
        assert store.entry(session, "beans").place == "Bean bed"
        assert made.live(session, TODAY).laid["beans"].entry.place == "Bean bed"
    with pytest.raises(BadInput, match="already"):
        keep_bed(made, LONG._replace(id=ident, name="top  BED"), TODAY)
    with pytest.raises(NotFound):
        keep_bed(made, LONG._replace(id=77, name="Nowhere"), TODAY)


def test_a_place_spelt_otherwise_becomes_the_bed_it_means(tmp_path: Path) -> None:
    """Room is claimed by the name, so that two spellings would be two beds."""
    made = book(tmp_path, BEANS._replace(place="long BED"))
    keep_bed(made, LONG, TODAY)
    with made.reading() as session:
        assert store.entry(session, "beans").place == "Long bed"
    ident = put_down(made, Draft("test-kale", "It", " LONG bed", {"date": day("2028-05-01")}), TODAY)
    change(made, "beans", Draft("test-bean", "Beans", "long bed", dict(BEANS.facts)), TODAY)
    with made.reading() as session:
        assert {store.entry(session, one).place for one in (ident, "beans")} == {"Long bed"}


@pytest.mark.published
def test_ten_dry_days_make_the_beans_thirsty_and_watering_helps(tmp_path: Path) -> None:
    """FAO-56, equations 52 and 82 to 85."""
    made = book(tmp_path, BEANS)
    ident = keep_bed(made, LONG, TODAY)
    sown(made, "beans", "2027-07-20")
    with made.writing() as session:
        days = [ON - timedelta(days=n) for n in range(30)]
        store.put_weather(session, [store.WeatherRow(day=on, min_c=12, max_c=28, rain_mm=0.0, at=NOW) for on in days])
        made.replan(session, None, TODAY)
    (account,) = line(made).water
    assert account.wants
    assert account.dry_days == 30
    assert account.measured_rain == 30
    assert len(account.lines) == (ON - date(2027, 7, 20)).days + 1
    say(made, Fact("", ident, "watered", "", TODAY, account.owed_mm * 7.2, "l"), TODAY)
    (after,) = line(made).water
    assert after.owed_mm == pytest.approx(0, abs=4)
    assert not after.wants


def test_a_bed_that_is_no_more_is_kept_and_not_listed(tmp_path: Path) -> None:
    made = book(tmp_path)
    ident = keep_bed(made, LONG._replace(ends=TODAY - 1), TODAY)
    with made.reading() as session:
        assert beds.overview(made, session, TODAY).lines == ()
        assert beds.bed_view(made, session, ident, TODAY).line.bed.name == "Long bed"
        with pytest.raises(NotFound):
            beds.bed_view(made, session, 9, TODAY)
    assert "is no bed any more" in look(made, "test-kale", "Long bed", "2028-05-01")
