"""What fits a bed and what fits under cover."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.trade.garden.fit import Batch, fits, ground_m2, room_for, trays_for


@pytest.mark.common_practice
def test_carrots_in_one_long_row() -> None:
    """30 m at 5 cm are 600 plants: the worked row of the sowing sums."""
    assert fits(30, 0.3, 5, 25)[:3] == (1, 600, 600)


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("length", "width", "plant", "row", "expected"),
    [
        (6, 1.2, 15, 30, (4, 40, 160, 24)),  # leeks: four rows of forty
        (3, 1.2, 45, 45, (2, 6, 12, 6)),  # cabbage 45 cm each way
        (0.5, 0.3, 120, 150, (1, 1, 1, 0.5)),  # one squash in a corner that is smaller than its space
        (0.7, 0.7, 10, 35, (2, 7, 14, 1.4)),  # 0.7 / 0.35 is two rows, whatever binary fractions make of it
    ],
)
def test_rows_and_plants_in_a_bed(
    length: float, width: float, plant: float, row: float, expected: tuple[float, ...]
) -> None:
    """Half a space is left at each side and end: as many rows and plants as whole spaces."""
    assert fits(length, width, plant, row) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("length", "width", "plant", "row"), [(0, 1, 10, 30), (6, 0, 10, 30), (6, 1, 0, 30), (6, 1, 10, 0)]
)
def test_a_bed_and_a_spacing_of_nothing_are_refused(length: float, width: float, plant: float, row: float) -> None:
    with pytest.raises(OutOfRange):
        fits(length, width, plant, row)


@pytest.mark.common_practice
def test_the_ground_a_sowing_takes() -> None:
    assert ground_m2(30, row_m=9) == pytest.approx(2.7)
    assert ground_m2(30, plants=60, plant_cm=15) == pytest.approx(2.7)
    with pytest.raises(OutOfRange):
        ground_m2(0, row_m=9)


@pytest.mark.common_practice
def test_trays_by_plants() -> None:
    """Forty cells in a tray, fifteen nine-centimetre pots."""
    assert [trays_for(n) for n in (0, 1, 40, 41)] == [0, 1, 1, 2]
    assert trays_for(30, pots=True) == 2


@pytest.mark.common_practice
def test_five_trays_where_two_fit_are_staggered() -> None:
    found = room_for(2, [], 5, first=100, stands_days=28, last=160)
    assert found.now == 2
    assert found.batches == (Batch(100, 2), Batch(128, 2), Batch(156, 1))
    assert found.too_many == 0


@pytest.mark.common_practice
def test_where_time_runs_out_fewer_are_sown() -> None:
    found = room_for(2, [], 5, first=100, stands_days=28, last=130)
    assert found.batches == (Batch(100, 2), Batch(128, 2))
    assert found.too_many == 1


@pytest.mark.common_practice
def test_what_stands_there_leaves_less_room() -> None:
    taken = [(90, 109, 2)]
    assert room_for(2, taken, 1, 100, 28, 120) == (0, (Batch(110, 1),), 0)
    assert room_for(3, taken, 1, 100, 28, 120) == (1, (Batch(100, 1),), 0)
    assert room_for(0, [], 4, 100, 28, 200) == (0, (), 4)
    assert room_for(2, [(110, 120, 2)], 1, 100, 28, 105) == (0, (), 1), "room that is wanted again too soon is none"


def test_nonsense_is_refused() -> None:
    for room, trays, stands in ((-1, 2, 20), (2, -2, 20), (2, 2, 0)):
        with pytest.raises(OutOfRange):
            room_for(room, [], trays, 100, stands, 200)


stay = st.tuples(st.integers(0, 60), st.integers(0, 30), st.integers(1, 3)).map(lambda t: (t[0], t[0] + t[1], t[2]))


@given(st.integers(3, 12), st.lists(stay, max_size=1), st.integers(0, 20), st.integers(1, 30), st.integers(0, 90))
def test_batches_never_hold_more_than_there_is_room_for(
    room: int, taken: list[tuple[int, int, int]], trays: int, stands: int, spare: int
) -> None:
    found = room_for(room, taken, trays, 30, stands, 30 + spare)
    assert sum(batch.trays for batch in found.batches) + found.too_many == trays
    held = [*taken, *((b.day, b.day + stands - 1, b.trays) for b in found.batches)]
    for day in range(130):
        assert sum(n for first, last, n in held if first <= day <= last) <= room
    assert all(30 <= batch.day <= 30 + spare for batch in found.batches)
