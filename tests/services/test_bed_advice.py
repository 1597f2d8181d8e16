"""What is said of a sowing before it is put down, reckoned by hand from a made-up garden."""

from datetime import date

import pytest

from app.rules.crop import Crop, Spacing
from app.rules.terms import Source
from app.services.garden.bed_advice import Garden, Wanted, advice
from app.services.garden.ground import Bed, Fact, Gap, Kind, gaps, taken_m2
from app.services.garden.stands import Stand, Tray
from app.trade.garden.feeding import Fed

PRACTICE = Source("common practice")
LONG, TOP = Bed(1, "Long bed", 6, 1.2), Bed(2, "Top bed", 3, 1)


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def crop(group: str, plant_cm: float = 15, row_cm: float = 30, frost: str = "hardy") -> Crop:
    return Crop(group, "annual", frost, PRACTICE, spacing=Spacing(PRACTICE, plant_cm, row_cm))  # type: ignore[arg-type]


def stand(name: str, group: str, first: str, last: str | None, place: str = "Long bed", **more: object) -> Stand:
    made = Stand(
        name.replace(" ", "-").lower(), name, "x", name.lower(), group, f"Genus {name.lower()}", "", place, day(first),
        day(last) if last else None, True, None, crop(group),
    )  # fmt: skip
    return made._replace(**more)  # type: ignore[arg-type]


def garden(*stands: Stand, facts: tuple[Fact, ...] = (), beds: tuple[Bed, ...] = (LONG, TOP), **more: object) -> Garden:
    kinds = {"swede": Kind("swedes", "brassicas", "Brassica napus")}
    return Garden(beds, facts, stands, (), kinds)._replace(**more)  # type: ignore[arg-type]


KALE = stand("Kale", "brassicas", "2027-05-10", "2028-03-01", ground_m2=2.0)


def said(made: Garden, wanted: Stand = KALE, bed: Bed = LONG, **more: object) -> str:
    return " ".join(advice(made, bed, Wanted(wanted, **more)))  # type: ignore[arg-type]


@pytest.mark.published
def test_a_group_within_three_years_is_named_with_the_beds_that_would_do() -> None:
    """Three years' rest: Country Life, Plan crop rotation. Cabbages of 2025 keep kale off until 2029."""
    cabbage = stand("Cabbages", "brassicas", "2025-04-01", "2025-09-01")
    text = said(garden(cabbage))
    assert "Long bed had cabbages in 2025: the cabbage family should be kept off it until 2029." in text
    assert "By rotation it could stand in: Top bed." in text
    assert "kept off" not in said(garden(cabbage._replace(first=day("2023-04-01"), last=day("2023-09-01"))))


@pytest.mark.common_practice
def test_what_grew_before_the_records_began_counts() -> None:
    grew = Fact("a", 1, "grew", "swede", day("2026-07-01"))
    assert "Long bed had swedes in 2026" in said(garden(facts=(grew,)))
    assert "swedes" not in said(garden(facts=(grew._replace(bed=2),)))


@pytest.mark.from_memory
def test_a_disease_in_the_ground_is_said_first_and_for_its_years() -> None:
    """Clubroot up to twenty years: Royal Horticultural Society, from memory."""
    club = Fact("a", 1, "trouble", "clubroot", day("2010-08-01"))
    text = said(garden(facts=(club,)))
    assert text.startswith("Clubroot was found in Long bed in 2010: keep the cabbage family out of it until 2031")
    assert "Clubroot" not in said(garden(facts=(club._replace(on=day("2006-08-01")),)))
    assert "Clubroot" not in said(garden(facts=(club,)), stand("Carrots", "roots", "2027-05-10", "2027-10-01"))


@pytest.mark.common_practice
def test_a_bed_that_is_not_free_yet_is_named_with_the_day() -> None:
    onions = stand("Onions", "onions", "2027-04-01", "2027-08-15")
    text = said(garden(onions))
    assert "Long bed is not free: taken by Onions until 15 August 2027." in text
    assert "not free" not in said(garden(onions._replace(last=day("2027-05-09"))))
    assert "not free" not in said(garden(onions._replace(place="Top bed")))
    assert "taken by Onions for good" in said(garden(onions._replace(last=None)))


@pytest.mark.common_practice
def test_ground_left_beside_what_stands_there_is_counted() -> None:
    """The bed is 6 m by 1.2 m, 7.2 m²; kale wants 2."""
    onions = stand("Onions", "onions", "2027-04-01", "2027-08-15", ground_m2=4.0)
    text = said(garden(onions))
    assert "3.2 of 7.2 m² are free, and this wants 2." in text
    text = said(garden(onions._replace(ground_m2=6.5)))
    assert "Long bed is not free: taken by Onions until 15 August 2027, 6.5 of its 7.2 m²; this wants 2." in text


@pytest.mark.common_practice
def test_ground_is_counted_at_the_fullest_time_and_not_summed_over_the_year() -> None:
    early = stand("A", "onions", "2027-03-01", "2027-05-31", ground_m2=3.0)
    late = stand("B", "onions", "2027-06-01", "2027-08-31", ground_m2=2.0)
    assert taken_m2([early, late], day("2027-01-01"), day("2027-12-31")) == 3.0
    assert taken_m2([early, late._replace(first=day("2027-05-31"))], day("2027-01-01"), None) == 5.0
    assert taken_m2([early, late._replace(ground_m2=None)], day("2027-01-01"), None) is None


@pytest.mark.common_practice
def test_what_fits_is_said_and_what_does_not() -> None:
    """1.2 m takes four rows 30 cm apart; 6 m takes forty plants 15 cm apart; 24 m of row."""
    assert "Long bed holds 4 rows of 6 m, 160 plants 15 cm apart, rows 30 cm." in said(garden())
    assert "24 m of row, and 30 m are wanted" in said(garden(), row_m=30.0)
    assert "200 are wanted" in said(garden(), plants=200.0)
    assert "wanted" not in said(garden(), row_m=24.0)


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("group", "what", "on", "words"),
    [
        ("roots", "muck", "2027-01-10", "Muck was spread there on 10 January 2027: roots fork"),
        ("potatoes", "lime", "2026-11-10", "It was limed on 10 November 2026: potatoes are scabby"),
        ("brassicas", "lime", "2026-11-10", ""),
        ("roots", "muck", "2025-11-10", ""),
    ],
)
def test_muck_before_roots_and_lime_before_potatoes(group: str, what: str, on: str, words: str) -> None:
    wanted = stand("It", group, "2027-04-10", "2027-09-01")
    from_a_job = garden(spread=(("long  BED", Fed(what, day(on))),))
    from_the_bed = garden(facts=(Fact("a", 1, "fed", what, day(on)),))
    for made in (from_a_job, from_the_bed):
        text = said(made, wanted)
        assert words in text
        assert bool(words) is ("fork" in text or "scabby" in text)


@pytest.mark.common_practice
def test_a_cover_is_said_of_tender_things_only() -> None:
    tunnel = LONG._replace(cover="tunnel")
    tender = stand("Tomatoes", "potatoes", "2027-05-20", "2027-10-01", crop=crop("potatoes", frost="tender"))
    assert "2 to 3 °C of frost are held off" in said(garden(), tender, tunnel)
    assert "held off" not in said(garden(), KALE, tunnel)
    assert "held off" not in said(garden(), tender, LONG._replace(cover="sill"))


@pytest.mark.common_practice
def test_five_trays_where_two_fit() -> None:
    sill = Bed(3, "Kitchen sill", 1, 0.3, "sill", trays=2)
    made = garden(beds=(LONG, sill))
    tray = Tray("it", "It", day("2027-03-01"), day("2027-03-28"), 5)
    text = " ".join(advice(made, None, Wanted(None, tray, day("2027-05-01"))))
    assert text == (
        "Five trays under cover, and room for two on that day, of two in all:"
        " sow two on 1 March 2027, two on 29 March 2027 and one on 26 April 2027."
    )
    text = " ".join(advice(made, None, Wanted(None, tray, day("2027-04-01"))))
    assert text.endswith("sow two on 1 March 2027 and two on 29 March 2027, and one fewer.")
    full = made._replace(trays=(Tray("other", "Other", day("2027-02-01"), day("2027-06-01"), 2),))
    assert "none is free by 1 April 2027" in " ".join(advice(full, None, Wanted(None, tray, day("2027-04-01"))))
    assert advice(garden(), None, Wanted(None, tray, None)) == (), "where no room was put down, nothing is said of it"


def test_when_a_bed_is_free() -> None:
    today = day("2027-01-01")
    onions = stand("Onions", "onions", "2027-04-01", "2027-08-15")
    kale = stand("Kale", "brassicas", "2027-08-01", "2027-12-01")
    assert gaps([], today) == [Gap(today, None)]
    assert gaps([onions, kale], today) == [Gap(today, day("2027-03-31")), Gap(day("2027-12-02"), None)]
    assert gaps([onions._replace(first=today, last=None)], today) == []
    assert gaps([onions], day("2027-05-01")) == [Gap(day("2027-08-16"), None)]
