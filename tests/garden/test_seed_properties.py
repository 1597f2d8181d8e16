"""What must hold of seed and of what is left of a lot, whatever the figures."""

from hypothesis import given
from hypothesis import strategies as st

from app.services.larder.lots import LotFact, left_of
from app.trade.garden.germination import tolerance_percent, verdict, wilson
from app.trade.garden.seed_life import life_times, still_alive_percent, tin_times

AMOUNTS = st.floats(0, 10_000)
FACTS = st.lists(
    st.builds(
        LotFact,
        id=st.just("f"), lot=st.just("l"), kind=st.sampled_from(["used", "given", "thrown", "counted", "tested"]),
        on=st.just(0), amount=AMOUNTS, measures=st.just({}), note=st.just(""),
    ),
    max_size=8,
)  # fmt: skip
STORES = st.tuples(st.floats(0, 39), st.floats(10, 74))


@given(AMOUNTS, FACTS)
def test_nothing_is_ever_less_than_nothing_and_a_count_stands(amount: float, facts: list[LotFact]) -> None:
    left, short = left_of(amount, facts)
    assert left is not None
    assert left >= 0
    counted = LotFact("f", "l", "counted", 0, 7.0, {}, "")
    assert left_of(amount, [*facts, counted]) == (7.0, False)
    if not short and all(fact.kind != "counted" for fact in facts):
        assert left <= amount


@given(st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_the_interval_holds_what_was_found_and_narrows_with_more_seed(test: tuple[int, int]) -> None:
    up, tried = test
    one, more = wilson(up, tried), wilson(4 * up, 4 * tried)
    assert 0 <= one.low <= one.found <= one.high <= 1
    assert more.high - more.low < one.high - one.low


@given(STORES)
def test_a_cooler_or_drier_tin_never_shortens_a_life(store: tuple[float, float]) -> None:
    c, rh = store
    assert tin_times(c + 1, rh) < tin_times(c, rh)
    assert tin_times(c, rh + 1) <= tin_times(c, rh)


@given(st.floats(5, 14), st.floats(5, 14), st.floats(0, 40), st.floats(0, 40))
def test_there_and_back_is_the_same_life(m1: float, m2: float, t1: float, t2: float) -> None:
    assert abs(life_times(m1, m2, t1, t2) * life_times(m2, m1, t2, t1) - 1) < 1e-9


@given(st.floats(1, 99), st.floats(0, 3000), st.floats(1, 500))
def test_seed_only_dies(at_first: float, days: float, more: float) -> None:
    assert (
        still_alive_percent(at_first, days + more, 741) <= still_alive_percent(at_first, days, 741) <= at_first + 1e-6
    )


@given(st.floats(0, 100), st.floats(0, 100), st.floats(1, 100))
def test_better_seed_is_never_judged_worse(one: float, other: float, standard: float) -> None:
    order = ("resow thick or discard", "sow thicker", "sow as usual")
    low, high = sorted((one, other))
    assert order.index(verdict(low, standard)) <= order.index(verdict(high, standard))
    assert 5 <= tolerance_percent(high) <= tolerance_percent(low) <= 10
