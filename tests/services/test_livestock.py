"""Groups of animals: counts and what follows them, withdrawal, standstill, registers.

Sources: counting of standstills by Ceredigion County Council and GOV.UK, general licence annex A (2016); Scotland by
gov.scot; first free day by Fimea, What is a withdrawal period?; least figures off the label by the Veterinary Medicines
Regulations 2013, schedule 4, paragraph 2, as amended by SI 2024/567.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from app.errors import BadInput, Conflict, NotFound, OutOfRange
from app.records import store
from app.services import setup
from app.services.book import Book
from app.services.entries import put_down
from app.services.livestock import animals, groups, heads, held, medicine, put, registers
from app.services.livestock import taking_in as livestock_in
from app.services.livestock import treat as treating
from app.services.livestock.days import days
from app.services.livestock.expect import expected
from app.services.livestock.feed_groups import eaters
from app.services.livestock.heads import Change
from app.services.livestock.held_ones import held_ones
from app.services.livestock.orders import orders_in_force
from app.services.ticking import Words, tick
from app.trade.livestock.head_counts import Said, by_day
from tests.services.croft import HOUSE, TODAY, WHERE, Ticking, croft, day, draft, empty


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    made = croft(tmp_path, clock=Ticking())
    yield made
    made.close()


def new(book: Book, sheet: str, on: str, head: int, name: str, token: str = "a", **more: str) -> str:
    return put.put_group(book, put.NewGroup(sheet, day(on), head, name, **more), token * 32, TODAY)


def group(book: Book, ident: str) -> groups.Group:
    with book.reading() as session:
        return groups.find_group(book, session, ident, TODAY)


def until(book: Book, ident: str, on: int = TODAY) -> int | None:
    """The last day on which nothing of a group's is eaten; 0 where nothing holds it."""
    with book.reading() as session:
        rows = held.held(book.live(session, TODAY), [groups.find_group(book, session, ident, TODAY)], on)
    return held.until_of(rows) if rows else 0


def bottle(book: Book, ident: str = "m", **figures: object) -> store.MedicineRow:
    row = store.MedicineRow(id=ident, name="Drench", batch="7", created_at=book.now(), **figures)
    medicine.put(book, row, TODAY)
    with book.reading() as session:
        return medicine.find(session, ident)


def give(
    book: Book, ident: str, row: store.MedicineRow | None, first: int, last: int, token: str = "t", *,
    vet: bool = False, eaten: tuple[medicine.Commodity, ...] = ("meat",), **figures: float,
) -> treating.Put:  # fmt: skip
    known = {of: value for of in medicine.COMMODITIES if (value := figures.get(of)) is not None}
    one = treating.Treatment(ident, row, "Drench", first, last, False, vet, known, eaten)
    return treating.treat(book, one, TODAY, token * 32)


# ── Counts ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_fox_shrinks_the_count_the_feed_and_the_minutes_and_the_history_keeps_both(book: Book) -> None:
    ident = new(book, "laying-hens", "2026-09-01", 9, "Old hens")

    def minutes() -> list[int]:
        with book.reading() as session:
            return [t.minutes for t in book.live(session, TODAY).laid[ident].tasks if t.step == "clean"][-1:]

    assert minutes() == [29], "20 minutes and one a hen, as the sheet has it"
    assert heads.tell(book, ident, Change("predator", day("2027-03-01"), 2), TODAY, "f1").alive == 7
    assert not heads.tell(book, ident, Change("predator", day("2027-03-01"), 2), TODAY, "f1").fresh, "sent twice"
    one = group(book, ident)
    assert (one.alive, one.entry.facts["head"], minutes()) == (7, 7, [27])
    assert [(row.kind, row.number, left) for row, left in heads.history(one)] == [("began", 9, 9), ("predator", 2, 7)]
    assert heads.take_back(book, ident, "f1", TODAY) == 9
    assert group(book, ident).entry.facts["head"] == 9


def test_a_death_takes_its_carcase_from_the_day_at_the_abattoir_and_the_last_one_the_day_itself(book: Book) -> None:
    pigs = new(book, "pigs-moved-in", "2026-09-01", 3, "Pigs")
    put_down(book, draft("abattoir-pigs", "2027-05-10", **{"for": pigs}, head=3, live_kg=270), TODAY, ident="day")
    heads.tell(book, pigs, Change("died", TODAY, 1), TODAY, "d1")
    with book.reading() as session:
        (one,) = expected(book, session, TODAY).carcases
    assert (one.head, one.live_kg) == (2, 180)
    heads.tell(book, pigs, Change("died", TODAY, 2), TODAY, "d2")
    with book.reading() as session:
        assert not expected(book, session, TODAY).carcases
        assert [one.none_left for one in days(book, session, TODAY).to_book] == ["Pigs"]


def test_heads_are_counted_by_day_over_the_end_of_february() -> None:
    """Counting: five came, one died on 28 February, two were taken on 2 March."""
    said = [Said(day(on), what, n) for on, what, n in (
        ("2026-02-27", "count", 5), ("2026-02-28", "fewer", 1), ("2026-03-02", "fewer", 2))]  # fmt: skip
    assert by_day(said, day("2026-02-26"), day("2026-03-03")) == [0, 5, 4, 4, 2, 2]
    with pytest.raises(OutOfRange, match="up to the 2 that were there"):
        by_day([*said, Said(day("2026-03-03"), "fewer", 3)], day("2026-02-26"), day("2026-03-03"))


def test_more_deaths_than_animals_is_a_sentence_and_changes_nothing(book: Book) -> None:
    ident = new(book, "laying-hens", "2026-09-01", 9, "Old hens")
    with pytest.raises(BadInput, match="Only 9 were there then; 10 can’t have gone"):
        heads.tell(book, ident, Change("died", TODAY, 10), TODAY, "f1")
    heads.tell(book, ident, Change("died", TODAY, 5), TODAY, "f2")
    with pytest.raises(BadInput, match="can’t have gone"):
        heads.tell(book, ident, Change("died", day("2027-02-01"), 5), TODAY, "f3")
    for change, says in (
        (Change("died", TODAY + 1, 1), "not come yet"),
        (Change("died", 1, 1), "before they were here"),
    ):
        with pytest.raises(BadInput, match=says):
            heads.tell(book, ident, change, TODAY, "f4")
    assert group(book, ident).alive == 4


def test_a_count_puts_right_and_the_last_one_gone_ends_the_group_until_it_is_taken_back(book: Book) -> None:
    ident = new(book, "laying-hens", "2026-09-01", 9, "Old hens")
    assert heads.tell(book, ident, Change("counted", TODAY, 6), TODAY, "c").alive == 6
    assert heads.tell(book, ident, Change("sold", TODAY, 6), TODAY, "s").alive == 0
    assert (group(book, ident).alive, group(book, ident).entry.ends) == (0, TODAY)
    assert heads.take_back(book, ident, "s", TODAY) == 6
    assert group(book, ident).entry.ends is None


def test_what_later_deaths_rest_on_is_not_taken_back(book: Book) -> None:
    ident = new(book, "laying-hens", "2026-09-01", 2, "Hens")
    heads.tell(book, ident, Change("born", day("2027-03-01"), 4), TODAY, "born")
    heads.tell(book, ident, Change("died", TODAY, 5), TODAY, "died")
    with pytest.raises(Conflict, match="more would have gone"):
        heads.take_back(book, ident, "born", TODAY)


def test_a_count_changed_on_the_entrys_own_page_goes_before_what_is_told_next(book: Book) -> None:
    ident = new(book, "laying-hens", "2026-09-01", 9, "Old hens")
    heads.tell(book, ident, Change("died", day("2027-03-01"), 1), TODAY, "f1")
    with book.writing() as session:
        entry = store.entry(session, ident)
        store.change_entry(session, entry._replace(facts={**entry.facts, "head": 5}))
        book.replan(session, {ident}, TODAY)
    assert group(book, ident).alive == 5
    with book.reading() as session:
        (eater,) = eaters(book, session, TODAY)
    assert eater.heads(day("2027-02-28"), day("2027-03-01")) == [9, 5], "feed and eggs follow it too"
    assert heads.tell(book, ident, Change("died", TODAY, 1), TODAY, "f2").alive == 4


def test_pigs_sold_alive_must_be_reported_and_a_dead_one_told_elsewhere_is_taken_off_once(book: Book) -> None:
    ident = new(book, "pigs-moved-in", "2027-01-04", 4, "Gilts")
    told = heads.tell(book, ident, Change("sold", TODAY, 1, other="12/345/0001", paper="A7"), TODAY, "b" * 32)
    assert told == heads.Told(3)
    with book.reading() as session:
        went = [one for one in registers.movements(book, session, TODAY) if one.way == "off"]
        report = [t for laid in book.live(session, TODAY).laid.values() if laid.entry.sheet == "pigs-leave"
                  for t in laid.tasks if t.step == "report"]  # fmt: skip
    assert [(one.number, one.other, one.paper) for one in went] == [(1, "12/345/0001", "A7")], "once, not twice"
    assert [task.closes for task in report] == [TODAY + 3], "within three days (GOV.UK)"
    heads.tell(book, ident, Change("given", TODAY, 1), TODAY, "c" * 32)
    assert heads.take_back(book, ident, "c" * 32, TODAY) == 3
    with book.reading() as session:
        assert len([one for one in registers.movements(book, session, TODAY) if one.way == "off"]) == 1, "taken back"
        assert not put.elsewhere(book, session, group(book, ident), TODAY)
    put_down(book, draft("dead-animal", "2027-03-09", **{"for": ident, "head": 1}), TODAY)
    with book.reading() as session:
        found = put.elsewhere(book, session, group(book, ident), TODAY)
    assert [(one.kind, one.number) for one in found] == [("died", 1)]
    for _ in range(2):
        put.count_in(book, group(book, ident), found[0].source, TODAY)
    assert group(book, ident).alive == 2


# ── Withdrawal ────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
def test_milk_of_six_days_is_good_from_the_seventh_after_the_last_dose(book: Book) -> None:
    ident = new(book, "goats-in-kid", "2026-11-01", 2, "Goats")
    done = give(book, ident, None, TODAY - 2, TODAY, eaten=("meat", "milk"), meat=0, milk=144)
    assert (done.days, done.clear) == (6, TODAY + 7)
    assert until(book, ident) == TODAY + 6, "barred on the day before"


@pytest.mark.published
def test_of_two_products_the_later_end_holds(book: Book) -> None:
    """10 days from the 1st and 5 from the 8th of a month: the 14th is the first free day."""
    ident = new(book, "pigs-moved-in", "2026-09-01", 2, "Pigs")
    give(book, ident, None, day("2027-03-01"), day("2027-03-01"), "q", meat=10)
    give(book, ident, None, day("2027-03-08"), day("2027-03-08"), "r", meat=5)
    assert until(book, ident) == day("2027-03-13")


def test_a_missing_figure_never_clears_and_what_is_laid_for_eggs_can_not_be_left_out(book: Book) -> None:
    ident = new(book, "laying-hens", "2026-09-01", 9, "Old hens")
    with pytest.raises(BadInput, match="eggs are eaten here"):
        give(book, ident, None, TODAY - 1, TODAY - 1, eaten=("meat",), meat=5)
    done = give(book, ident, None, TODAY - 1, TODAY - 1, eaten=("meat", "eggs"), meat=5)
    assert (done.days, done.clear, until(book, ident), until(book, ident, TODAY + 400)) == (None, None, None, None)
    told = heads.tell(book, ident, Change("killed", TODAY, 1), TODAY, "k")
    assert any("taken down all the same" in flag for flag in told.flags)
    told = heads.tell(book, ident, Change("put down", TODAY, 1), TODAY, "p")
    assert any("never barred" in flag for flag in told.flags), "killing one that suffers"
    assert told.alive == 7


@pytest.mark.published
@pytest.mark.parametrize(
    ("nation", "figures", "wrong"),
    [
        ("england", {"eggs_days": 5, "vet_eggs_days": 7}, "at least 8 days for eggs"),
        ("england", {"eggs_days": 5, "vet_eggs_days": 8}, ""),
        ("wales", {"vet_eggs_days": 13}, "at least 14 days for eggs"),
        ("northern ireland", {"vet_eggs_days": 9}, "at least 10 days for eggs"),
        ("northern ireland", {"vet_eggs_days": 10}, ""),
        ("scotland", {"vet_meat_days": 27}, "at least 28 days for meat"),
        ("england", {"milk_hours": 72, "vet_milk_hours": 107}, "at least 108 hours for milk"),
        ("england", {"milk_hours": 72, "vet_milk_hours": 108}, ""),
        ("england", {"vet_milk_hours": 100}, "at least 168 hours for milk"),
    ],
)
def test_a_vets_figure_below_the_floor_is_refused_with_its_source(
    tmp_path: Path, nation: str, figures: dict[str, float], wrong: str
) -> None:
    book = empty(tmp_path)
    setup.begin(book, WHERE._replace(nation=nation), HOUSE, (), TODAY)
    if not wrong:
        bottle(book, **figures)
    else:
        with pytest.raises(BadInput, match=wrong) as caught:
            bottle(book, **figures)
        assert "2024/567" in str(caught.value) or "2019/6" in str(caught.value)
        assert "last checked 25.11.2026" in str(caught.value)
    book.close()


def test_a_shorter_figure_than_the_labels_is_only_the_vets_and_never_below_the_floor(book: Book) -> None:
    ident = new(book, "pigs-moved-in", "2026-09-01", 2, "Pigs")
    row = bottle(book, meat_days=28, bought=100, amount_left=20, open_days=28)
    with pytest.raises(BadInput, match="The label says 28 days"):
        give(book, ident, row, TODAY, TODAY, meat=20)
    with pytest.raises(BadInput, match="at least 42 days for meat"):
        give(book, ident, row, TODAY, TODAY, vet=True, meat=30)
    for _ in range(2):
        assert give(book, ident, row, TODAY, TODAY, vet=True, meat=42).clear == TODAY + 43
    with book.reading() as session:
        lines = registers.medicine_book(book, session, TODAY)
        assert medicine.find(session, "m").opened_on == book.today()
    assert [(one.product, one.days, one.vet) for one in lines] == [("Drench, batch 7", 42, True)], "sent twice: once"


def test_who_joins_another_group_inside_a_withdrawal_takes_it_along(book: Book) -> None:
    one = new(book, "pigs-moved-in", "2026-09-01", 3, "Gilts")
    other = new(book, "pigs-moved-in", "2026-09-02", 2, "Sows", "b")
    give(book, one, None, TODAY - 3, TODAY - 3, meat=10)
    heads.tell(book, one, Change("moved", TODAY, 1, to=other), TODAY, "m" * 32)
    assert (group(book, one).alive, group(book, other).alive) == (2, 3)
    assert until(book, other) == until(book, one) == TODAY + 7
    heads.take_back(book, other, f"{'m' * 32}-to", TODAY)
    assert bars_of(book, other) == {}, "nobody moved, so nothing went along"


def test_expired_and_open_for_too_long_are_told_by_the_day(book: Book) -> None:
    row = bottle(book, expires=book.today(), opened_on=book.today(), open_days=28)
    assert (medicine.bottle(row, TODAY).past, medicine.bottle(row, TODAY + 1).why) == (False, "expires")
    assert treating.over_by(row, TODAY + 1).startswith("It had expired on 10 March 2027")
    later = bottle(book, "n", opened_on=book.today(), open_days=28)
    assert (medicine.bottle(later, TODAY + 28).past, medicine.bottle(later, TODAY + 29).past) == (False, True)


@pytest.mark.published
def test_milk_is_free_after_its_own_hours_and_not_after_the_days_of_meat(book: Book) -> None:
    """Finnish Medicines Agency, What is a withdrawal period?: meat, milk and eggs each have their own."""
    ident = new(book, "goats-in-kid", "2026-11-01", 2, "Goats")
    assert give(book, ident, None, TODAY, TODAY, eaten=("meat", "milk"), meat=28, milk=72).clear == TODAY + 29
    with book.reading() as session:
        rows = held.held(book.live(session, TODAY), [group(book, ident)], TODAY)
    ends = {act: held.until_of([one for one in rows if act in one.acts]) for act in ("eat", "slaughter")}
    assert ends == {"eat": TODAY + 3, "slaughter": TODAY + 28}


# ── Some of a group, told by tag or name ──────────────────────────────────────────────────────────────────────────


@pytest.fixture
def flock(book: Book) -> str:
    """Nine hens, of which Hetty and Dot wear rings."""
    ident = new(book, "laying-hens", "2026-09-01", 9, "Old hens")
    for tag, name in (("R1", "Hetty"), ("R2", "Dot")):
        animals.put(book, ident, animals.Typed(tag, name), TODAY, f"hen-{tag}")
    return ident


def treat_some(book: Book, ident: str, *whom: str, apart: bool = False, token: str = "s") -> None:
    one = treating.Treatment(
        ident, None, "Drops", TODAY, TODAY, False, False, {"meat": 10, "eggs": 4}, ("meat", "eggs"), animals=whom,
        apart=apart,
    )  # fmt: skip
    treating.treat(book, one, TODAY, token * 32)


def bars_of(book: Book, ident: str) -> dict[str, int | None]:
    """The last barred day of the group, by act."""
    with book.reading() as session:
        rows = held.held(book.live(session, TODAY), [group(book, ident)], TODAY)
    return {act: held.until_of([one for one in rows if act in one.acts]) for one in rows for act in one.acts}


@pytest.mark.parametrize(
    ("whom", "apart", "barred"),
    [
        (("Hetty (R1)",), True, {}),
        (("r1", "dot"), False, {"eat": TODAY + 4}),
        (("the lame one",), True, {"eat": TODAY + 4, "slaughter": TODAY + 10, "sell": TODAY + 10}),
        (("Hetty", "the lame one"), True, {"eat": TODAY + 4, "slaughter": TODAY + 10, "sell": TODAY + 10}),
    ],
    ids=["kept apart", "eggs in one nest", "nobody knows which", "one of two not known"],
)
def test_who_is_named_is_held_and_the_group_only_as_far_as_nobody_can_tell(
    book: Book, flock: str, whom: tuple[str, ...], apart: bool, barred: dict[str, int]
) -> None:
    """Treated as a group or not identified, the whole group is held; the eggs of one nest are all alike."""
    treat_some(book, flock, *whom, apart=apart)
    assert bars_of(book, flock) == barred
    with book.reading() as session:
        ones = held_ones(session, book.live(session, TODAY), [group(book, flock)], TODAY + 10)
        after = held_ones(session, book.live(session, TODAY), [group(book, flock)], TODAY + 11)
        (line,) = registers.medicine_book(book, session, TODAY)
    assert [len(one.names) for one in ones] == ([] if "slaughter" in barred else [len(whom)])
    assert not after
    assert (line.days, line.clear, line.entry) == (10, TODAY + 11, flock)


def test_the_named_one_that_goes_to_the_table_is_flagged_and_the_others_are_not(book: Book, flock: str) -> None:
    treat_some(book, flock, "Hetty", apart=True)
    assert not heads.tell(book, flock, Change("killed", TODAY, 7), TODAY, "k1").flags
    assert any("Hetty (R1)" in flag for flag in heads.tell(book, flock, Change("killed", TODAY, 2), TODAY, "k2").flags)
    heads.take_back(book, flock, "k2", TODAY)
    assert not animals.gone(book, "hen-R2", "killed", TODAY, TODAY, "g" * 32, counted=True)
    assert animals.gone(book, "hen-R1", "killed", TODAY, TODAY, "h" * 32, counted=True)
    with book.reading() as session:
        assert not held_ones(session, book.live(session, TODAY), [group(book, flock)], TODAY), "she is gone"


def test_all_that_are_left_being_named_holds_the_group(book: Book, flock: str) -> None:
    heads.tell(book, flock, Change("died", TODAY, 7), TODAY, "d")
    treat_some(book, flock, "Hetty", apart=True)
    assert bars_of(book, flock) == {}, "Dot may still go"
    treat_some(book, flock, "Dot", apart=True, token="u")
    assert bars_of(book, flock)["slaughter"] == TODAY + 10


# ── Standstill and movements ──────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize(
    ("nation", "pigs", "others"),
    [("england", 21, 7), ("wales", 21, 7), ("scotland", 21, 14), ("northern ireland", 0, 0)],
)
def test_pigs_that_come_hold_the_holding_as_the_nation_has_it(
    tmp_path: Path, nation: str, pigs: int, others: int
) -> None:
    """Pigs come on day 0: free on day 21, cattle and sheep on day 7 (Scotland: 14); Northern Ireland holds none."""
    book = empty(tmp_path, Ticking())
    setup.begin(book, WHERE._replace(nation=nation), HOUSE, (), TODAY)
    new(book, "weaners", "2027-03-10", 2, "Weaners", other="=12/345", tags="S1", paper="A1")
    with book.reading() as session:
        still = held.still(book, session, TODAY)
        (came,) = registers.movements(book, session, TODAY)
    free = {name: last + 1 - TODAY for name, last in still.until.items()}
    assert (free.get("pig", 0), free.get("sheep", 0), free.get("cattle", 0)) == (pigs, others, others)
    assert (came.way, came.number, came.other, came.tags, came.paper) == ("on", 2, "=12/345", "S1", "A1")
    assert registers.csv_of(("from",), [(came.other,)]).decode("utf-8-sig") == "from\r\n'=12/345\r\n"
    book.close()


def test_a_job_ticked_on_the_way_to_the_abattoir_stands_in_the_movement_record(book: Book) -> None:
    ident = new(book, "weaners", "2026-09-01", 2, "Weaners")
    tick(book, f"{ident}.kill", TODAY, words=Words({"carcase_kg": 130}))
    with book.reading() as session:
        rows = registers.movements(book, session, TODAY)
        found = put.elsewhere(book, session, group(book, ident), TODAY)
    assert [(one.way, one.what, one.number) for one in rows] == [("off", "killed", 2), ("on", "came", 2)]
    assert [(one.kind, one.number) for one in found] == [("killed", 2)], "no number said: all of them"


@pytest.mark.published
def test_an_order_holds_from_its_day_to_the_day_it_is_lifted_unless_it_does_not_touch_ours(book: Book) -> None:
    """Councils' pages, 2022 and 2025: each order has its day and says whom it touches; a switch with its date."""

    def running(on: int = TODAY) -> list[tuple[str, bool | None]]:
        with book.reading() as session:
            return [(one.entry.sheet, one.ours) for one in orders_in_force(book.live(session, TODAY), on)]

    put_down(book, draft("housing-order", "2027-03-08", head=30), TODAY, ident="order")
    put_down(book, draft("movement-order", "2027-03-01", lifted=TODAY), TODAY, ident="zone")
    assert running() == [("movement-order", True), ("housing-order", None)]
    assert running(TODAY + 1) == [("housing-order", None)], "the day it is lifted is its last"
    assert running(day("2027-03-07")) == [("movement-order", True)]
    tick(book, "order.ask", TODAY, words=Words({"ours": False}))
    assert running() == [("movement-order", True)]


# ── Single animals ────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_wether_has_no_date_of_service_and_a_ewe_follows_the_sheet_of_ewes_in_lamb(book: Book) -> None:
    ident = new(book, "flock-year", "2026-09-01", 8, "Ewes")
    for name, sex in (("Bramble", "castrated"), ("Clover", "female")):
        animals.put(book, ident, animals.Typed(f"UK {name}", name, sex), TODAY, name)
    with pytest.raises(BadInput, match="A wether is castrated"):
        animals.serve(book, "Bramble", day("2026-11-05"), TODAY, "w" * 32)
    made = animals.serve(book, "Clover", day("2026-11-05"), TODAY, "v" * 32)
    with book.reading() as session:
        due = next(t for t in book.live(session, TODAY).laid[made].tasks if t.step == "lambing")
    assert due.best == day("2026-11-05") + 147 == day("2027-04-01"), "147 days (Sheep 201)"
    with pytest.raises(BadInput, match="castrated"):
        new(book, "ewes-in-lamb", "2026-11-05", 1, "Old wether", "z")


def test_an_animal_is_put_down_once_its_tag_is_its_own_and_gone_takes_it_off_the_count(book: Book) -> None:
    ident = new(book, "flock-year", "2026-09-01", 8, "Ewes")
    for _ in range(2):
        animals.put(book, ident, animals.Typed("UK 1", "Ada", cull=True), TODAY, "a1")
    with pytest.raises(BadInput, match="Another that is here has that tag: Ada"):
        animals.put(book, ident, animals.Typed("uk 1", "Bea"), TODAY, "a2")
    for _ in range(2):
        animals.gone(book, "a1", "sold", TODAY, TODAY, "g" * 32, counted=True)
    assert group(book, ident).alive == 7
    animals.put(book, ident, animals.Typed("UK 1", "Ada", note="back"), TODAY, "a1", change=True)
    with book.reading() as session:
        (one,) = animals.animals_of(session, ident)
        assert (one.note, one.gone_why) == ("back", "sold")
        with pytest.raises(NotFound):
            groups.find_group(book, session, "nothing", TODAY)


def test_thirty_first_of_february_names_its_row_and_loses_no_other(book: Book) -> None:
    new(book, "flock-year", "2026-09-01", 8, "Ewes")
    text = "tag;name;group;sex;born;dam\n1;Ada;Ewes;ewe;2027-02-31;\n2;Bea;ewes;wether;1/2/2026;Ada\n3;;Nowhere;;;\n"
    with book.reading() as session:
        found = livestock_in.look(book, session, text, "", TODAY)
    assert [number for number, _ in found.faults] == [2, 4]
    assert "'2027-02-31' is no day" in found.faults[0][1]
    assert "groups are Ewes" in found.faults[1][1]
    assert [livestock_in.take_in(book, text, "", TODAY) for _ in range(2)] == [1, 0]
