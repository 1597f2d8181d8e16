"""A delivery reckoned, put down and packed; expected figures are worked out by hand beside each check."""

from collections.abc import Iterator

import pytest

from app.errors import BadInput, NotFound
from app.records import store
from app.records.packs import frozen_kg
from app.services import ticking
from app.services.book import Book
from app.services.entries import put_down
from app.services.larder import larder, lot_words
from app.services.meat import delivery_put, thawing
from app.services.meat.delivery import Asked, Told, told
from app.services.meat.delivery_lines import CutLine, Kind, fridge_days, offered, read_lines, written
from app.services.meat.delivery_overview import meat
from app.services.meat.delivery_put import Packed
from app.trade.meat.cuts import cut_kind
from app.trade.meat.keeping import KEEPING
from tests.services.croft import TODAY, Ticking, croft, draft, windows

TYPED = "belly 3.2 kg, 40 mm\nmince 6 kg\nleg 6 kg\nliver 0.8 kg\nsausages 2.6 kg, fresh\nbones 4 kg"
IDENT = "0123456789ab" + "0" * 20


def asked(text: str = TYPED, *, litres: float = 300, free: float = 300, killed: str = "home") -> Asked:
    lines, faults = read_lines(text)
    assert not faults
    return Asked(TODAY, "pork", killed, lines, {}, litres, free, 4.0, 4.0)


def packs(found: Told, name: str) -> tuple[int, float]:
    return next((cut.packs.packs, round(cut.packs.pack_kg, 3)) for cut in found.cuts if cut.line.name == name)


# ── Lines ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_lines_are_read_in_the_units_people_write() -> None:
    """1 lb is 0.453 592 37 kg and 1 in 25.4 mm, exactly (international yard and pound, 1959)."""
    lines, faults = read_lines("Belly: 7 lb, 1.5 in, cure; 800 g liver, eat fresh")
    assert not faults
    assert lines == (CutLine("Belly", 3.175, 38.1, "cure"), CutLine("liver", 0.8, None, "fresh"))
    assert read_lines(written(lines))[0] == lines
    said, _ = read_lines("belly 3 kg, cure, 40 mm\n2 x 3 kg legs\npork chops 2 kg freeze")
    assert said == (CutLine("belly", 3, 40, "cure"), CutLine("2 x legs", 6), CutLine("pork chops", 2, None, "freeze"))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "a cut to a line"),
        ("belly", "its weight is wanted"),
        ("3.2 kg", "what is it"),
        ("belly 0 kg", "weight of 0 kg"),
        ("belly 3,200 g", "weight of 0.003 kg"),
        ("leg 5 kg, shoulder 4 kg", "more than one weight"),
        ("belly -2 kg", "weight of -2 kg"),
        ("belly 3 kg, 0 mm", "thickness of 0 mm"),
        ("\n".join(["mince 1 kg"] * 61), "up to 60 cuts"),
    ],
)
def test_a_line_that_cannot_be_is_told(typed: str, said: str) -> None:
    faults = read_lines(typed)[1]
    assert said in faults[0]


def test_two_cuts_of_one_name_stay_two() -> None:
    assert [line.name for line in read_lines("leg 5 kg; leg 6 kg")[0]] == ["leg", "leg 2"]


@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "of", "days", "months"),
    [
        ("mince", "beef", 1, 3), ("minced lamb", "mixed", 1, 3), ("shin", "beef", 1, 3), ("kidney", "lamb", 1, 3),
        ("sausages", "pork", 1, 1), ("bacon", "pork", 7, 1), ("chops", "pork", 3, 3), ("lamb cutlets", "mixed", 3, 6),
        ("rib of beef", "mixed", 3, 6), ("topside", "beef", 3, 6), ("leg", "pork", 3, 4), ("hen", "mixed", 1, 12),
        ("chicken thighs", "mixed", 1, 9), ("duck", "poultry", 1, 6), ("haunch", "venison", 0, 8),
        ("diced", "venison", 0, 2), ("brace of pheasants", "mixed", 0, 6), ("something odd", "mixed", 1, 3),
    ],
)  # fmt: skip
def test_a_cut_keeps_as_the_charts_have_it(name: str, of: Kind, days: int, months: int) -> None:
    """Days in the fridge and months frozen, the lower figure; 0 days where no chart has it: it is dealt with at once.

    Source: Cold Food Storage Chart, FoodSafety.gov; months of joints: freezer makers after the USDA; game: Michigan
    State University Extension 01600806 and University of New Hampshire Extension.
    """
    kind = cut_kind(name, of)
    frozen = KEEPING[kind.keeps].frozen
    assert (fridge_days(kind), frozen[0] if frozen else 0) == (days, months)


# ── What follows ──────────────────────────────────────────────────────────────────────────────────────────────────


def test_packs_are_of_a_meal_and_roasts_are_halved() -> None:
    """For four: mince at 150 g is 600 g a pack, 6 kg ten; sausages at 130 g 520 g, 2.6 kg five; a leg on the bone at
    300 g is 1.2 kg a meal: 6, 3, 1.5 kg, and 1.5 is no more than a meal and a half."""
    found = told(asked())
    assert packs(found, "mince") == (10, 0.6)
    assert packs(found, "sausages") == (5, 0.52)
    assert packs(found, "leg") == (4, 1.5)


@pytest.mark.published
def test_meals_of_a_lamb_as_the_portion_guides_have_it() -> None:
    """14.1 kg at 250 g a head for four are 14 meals; on the bone is 250 to 350 g, the middle 300: 14.1 / 1.2 = 11.75.

    Source: the yield is of Ohio State University, 2023; the portion common practice.
    """
    whole = told(asked("leg of lamb 14.1 kg"))
    assert whole.meals == 11
    assert whole.weeks == pytest.approx(11 / 4)


def test_room_pace_and_days_are_told() -> None:
    """2 lb a cubic foot: 0.907 185 / 28.3168 = 0.032 037 kg a litre, 300 litres 9.61 kg; 12.8 kg to freeze are two
    days, and 12.8 / 0.56 = 22.9 litres. What keeps a day goes first."""
    found = told(asked())
    assert found.freeze_kg == pytest.approx(12.8)
    assert found.kg_a_day == pytest.approx(9.611, abs=0.001)
    assert (found.days, round(found.litres, 1), found.over_kg, found.late_kg) == (2, 22.9, 0.0, 0.0)
    first, second = found.plan
    assert [load.what for load in first.freeze] == ["liver", "mince", "leg"]
    assert [cut.line.name for cut in first.cure] == ["belly"]
    assert [cut.line.name for cut in first.other] == ["bones"]
    assert sum(load.kg for load in second.freeze) == pytest.approx(12.8 - 9.611, abs=0.001)
    assert [cut.line.name for cut in second.fresh] == ["sausages"]
    assert [(due.days, len(due.cuts)) for due in found.due] == [(1, 4), (3, 1)]


def test_four_hundred_kilos_do_not_go_into_a_hundred_litres() -> None:
    """100 litres take 56 kg and freeze 3.2 kg a day: 400 / 3.2037 = 124.9, 125 days; joints wait three days, so the
    loads of days 0 to 3 are in time, 12.8 kg, and 387.2 are late."""
    found = told(asked("leg 400 kg", litres=100, free=100))
    assert sum(load.kg for day in found.plan for load in day.freeze) == pytest.approx(56), "no more than there is room"
    assert [(load.what, round(load.kg)) for load in found.no_room] == [("leg", 344)]
    assert (found.days, round(found.over_kg, 1)) == (125, 344.0)
    assert found.late_kg == pytest.approx(400 - 4 * 3.2037, abs=0.01)


@pytest.mark.published
def test_a_carcase_is_offered_as_its_usual_cuts() -> None:
    """A pig: 24 % leg, 19 % belly, 18 % loin (University of Kentucky with the NPPC, a carcase of 184 lb)."""
    lines = offered("pork", 80)
    assert [(line.name, line.kg) for line in lines[:3]] == [("leg", 19.2), ("belly", 15.2), ("loin", 14.4)]
    found = told(asked(written(lines))._replace(carcase_kg=80))
    assert found.packed == pytest.approx((60.8, 64.0))  # 76 to 80 % of 80 kg: Wisconsin and Kentucky extension


@pytest.mark.published
def test_a_lamb_is_offered_as_it_is_packed_bone_and_trimmings_apart() -> None:
    """65 to 75 % of a lamb's carcase is packed, bone in (Ohio State University, 2023): 20 kg are 14, the legs 32 % of
    them; 14 kg are 11.7 meals for four at 300 g, fewer than of the whole carcase."""
    lines = offered("lamb", 20)
    assert (lines[0].kg, lines[-1]) == (4.5, CutLine("bone, fat and trimmings", 6.0))
    assert sum(line.kg for line in lines[:-1]) == pytest.approx(14, abs=0.2)
    found = told(asked(written(lines))._replace(of="lamb", carcase_kg=20))
    assert (found.cuts[-1].way, found.packed) == ("other", pytest.approx((13, 15)))


def test_pieces_that_were_counted_are_so_many() -> None:
    """For four, on the bone at 300 g: 2 legs of 5 kg each are halved to 1.25 kg, no more than a meal and a half."""
    found = told(asked("12 pork chops 2.5 kg\n2 x leg 10 kg"))
    assert packs(found, "12 pork chops") == (12, 0.208)
    assert packs(found, "2 x leg") == (8, 1.25)


# ── Put down and packed ───────────────────────────────────────────────────────────────────────────────────────────


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """A croft with a delivery, ENTRY, of which no two tests touch the same cut."""
    made = croft(tmp_path_factory.mktemp("delivery"), clock=Ticking())
    side(made, IDENT)
    yield made
    made.close()


ENTRY = f"delivery-{IDENT[:12]}"


def side(book: Book, ident: str) -> str:
    """A delivery put down twice over the same form; its entry. Tests that pack the same cuts have one each."""
    for _ in range(2):
        delivery_put.put(book, told(asked()), "A side", "chest", TODAY, ident)
    return f"delivery-{ident[:12]}"


def packing(book: Book, entry: str = ENTRY) -> delivery_put.Packing:
    with book.reading() as session:
        return delivery_put.find(book, session, entry, TODAY)


def frozen(book: Book) -> dict[str, float]:
    with book.reading() as session:
        return frozen_kg(session)


def still_open(book: Book) -> list[str]:
    with book.reading() as session:
        return [one.entry for one in meat(book, session, TODAY).open]


def test_it_is_put_down_once_with_its_jobs_and_its_cure(book: Book) -> None:
    before = still_open(book)
    entry = side(book, "1" * 32)
    dates = windows(book, entry)
    assert dates[f"{entry}.mince"][2] == TODAY + 1
    assert dates[f"{entry}.joints"][2] == TODAY + 3
    found = packing(book, entry)
    assert [cut.line.name for cut in found.waiting] == ["mince", "liver", "sausages", "leg"]
    assert found.cures == {"belly": f"{entry}.belly+belly"}
    assert sorted(still_open(book)) == sorted([*before, entry])


def test_every_cut_becomes_a_batch_and_carries_how_it_was_killed(book: Book) -> None:
    entry, before = side(book, "2" * 32), frozen(book)
    with book.reading() as session:
        last = max((mark.number or 0 for mark in store.batch_marks(session).values()), default=0)
    done = [Packed("mince", 5.8, 10, "chest freezer"), Packed("liver", 0.8, 2, "chest freezer")]
    for _ in range(2):
        delivery_put.pack(book, entry, done, TODAY, TODAY)
    found = packing(book, entry)
    mince, liver = found.batches["mince"], found.batches["liver"]
    assert (mince.what, mince.amount, mince.unit, mince.store, mince.killed) == (
        "pork mince", 10, "packs", "freezer", "home")  # fmt: skip
    assert {mince.number, liver.number} == {f"27-{last + 1:03}", f"27-{last + 2:03}"}
    assert windows(book, entry)[f"{entry}.mince"][3] == TODAY, "nothing that keeps a day is left: the job is done"
    assert windows(book, entry)[f"{entry}.joints"][3] is None
    assert frozen(book) == before | {"chest freezer": pytest.approx(6.6)}
    with book.reading() as session:
        later = mince._replace(made_on=TODAY + 2)
        assert thawing.days_in_the_fridge(book, session, later, TODAY) == 2, "freezing does not give them back"


def test_what_is_eaten_fresh_lies_in_the_fridge_for_its_days(book: Book) -> None:
    delivery_put.pack(book, ENTRY, [Packed("sausages", 2.6, 5, delivery_put.FRIDGE)], TODAY, TODAY)
    sausages = packing(book).batches["sausages"]
    assert (sausages.store, sausages.keeps_until, sausages.basis) == ("fridge", TODAY + 1, "safety")


def test_packs_are_eaten_to_the_last_and_the_book_is_right(book: Book) -> None:
    entry, before = side(book, "3" * 32), frozen(book)
    both = [Packed("mince", 5.8, 10, "shed freezer"), Packed("liver", 0.8, 2, "shed freezer")]
    delivery_put.pack(book, entry, both, TODAY, TODAY)
    ident = delivery_put.lot_id(entry, "liver")
    for number in range(2):
        lot_words.take(book, ident, "used", 1, TODAY, TODAY, ident=f"eaten-{number}")
    with book.reading() as session:
        assert larder.find(session, ident).gone
    assert frozen(book) == before | {"shed freezer": pytest.approx(5.8)}


def test_bacon_of_it_is_killed_as_it_was(book: Book) -> None:
    cure = f"{ENTRY}.belly+belly"
    ticking.tick(book, f"{ENTRY}.belly", TODAY)
    for step in ("rub", "out", "rinse", "slice"):
        words = ticking.Words({"kg": 2.9}) if step == "slice" else ticking.NO_WORDS
        ticking.tick(book, f"{cure}.{step}", TODAY, words=words)
    with book.reading() as session:
        bacon = larder.find(session, f"{cure}.slice#0")
    assert (bacon.what, bacon.killed) == ("bacon", "home")


def test_a_carcase_says_it_too(book: Book) -> None:
    """By its own question, or by the day of a killing at home."""
    for number, said in enumerate(({"killed": "at home"}, {"killed_at_home_on": TODAY - 9})):
        entry = put_down(book, draft("pork-cut-up", "2027-03-01", kg=60.0, **said), TODAY, ident=f"pig-{number}")
        ticking.tick(book, f"{entry}.pack", TODAY, words=ticking.Words({"kg": 20.0}))
        with book.reading() as session:
            assert larder.find(session, f"{entry}.pack#0").killed == "home"


def test_a_number_stays_when_a_batch_is_struck_and_packed_again(book: Book) -> None:
    entry = side(book, "4" * 32)
    delivery_put.pack(book, entry, [Packed("mince", 5.8, 10, "cellar freezer")], TODAY, TODAY)
    ident, number = delivery_put.lot_id(entry, "mince"), packing(book, entry).batches["mince"].number
    lot_words.strike(book, ident, TODAY)
    assert "mince" in [cut.line.name for cut in packing(book, entry).waiting]
    delivery_put.pack(book, entry, [Packed("mince", 5.0, 9, "cellar freezer")], TODAY, TODAY)
    again = packing(book, entry).batches["mince"]
    assert (again.number, again.amount) == (number, 9)


def test_packed_before_it_came_or_tomorrow_changes_nothing(book: Book) -> None:
    leg = [Packed("leg", 6, 4, "chest freezer")]
    for day in (TODAY - 1, TODAY + 1):
        with pytest.raises(BadInput):
            delivery_put.pack(book, ENTRY, leg, day, TODAY)
    assert "leg" not in packing(book).batches
    with book.reading() as session, pytest.raises(NotFound):
        delivery_put.find(book, session, "delivery-none", TODAY)
