"""Spans: durations as ISO 8601 writes them, and their arithmetic beside python-dateutil's."""

from datetime import date

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from app.rules.spans import Span, add, span
from tests.rules.kit import day, iso


@pytest.mark.published
@pytest.mark.parametrize(
    ("text", "months", "days"),
    [
        ("P3W", 0, 21),
        ("P1Y6M", 18, 0),
        ("P2Y10M15D", 34, 15),  # ISO 8601-1:2019, 5.5.2.2: the standard's own combination of years, months and days
        ("P7W", 0, 49),  # RFC 5545, 3.3.6: "a duration of 7 weeks would be P7W"
        ("-P8W", 0, -56),
        ("P0D", 0, 0),
        ("+P10D", 0, 10),
    ],
)
def test_durations_are_read_as_iso_8601_and_rfc_5545_write_them(text: str, months: int, days: int):
    assert span(text) == Span(months, days)


@pytest.mark.parametrize("text", ["", "P", "3W", "P1W2D", "PT3H", "P1.5M", "P1D2M", "--P1D", "P-1D", "p1d", "P1D "])
def test_what_is_no_duration_of_days_or_more_is_refused(text: str):
    with pytest.raises(ValueError, match="ISO 8601"):
        span(text)


@given(
    st.dates(date(1900, 1, 1), date(2150, 12, 31)),
    st.integers(-600, 600),
    st.integers(-2000, 2000),
)
def test_adding_a_span_is_adding_a_relativedelta(start: date, months: int, days: int):
    expected = start + relativedelta(months=months) + relativedelta(days=days)
    assert date.fromordinal(add(start.toordinal(), Span(months, days))) == expected
    assert start + relativedelta(months=months, days=days) == expected


@given(st.dates(date(1900, 1, 1), date(2150, 12, 31)), st.integers(-600, 600), st.integers(0, 400))
def test_a_later_day_and_the_same_span_end_no_earlier(start: date, months: int, more: int):
    length = Span(months, 3)
    assert add(start.toordinal() + more, length) >= add(start.toordinal(), length)


@pytest.mark.parametrize(
    ("start", "text", "end"),
    [
        ("2027-01-31", "P1M", "2027-02-28"),
        ("2028-01-31", "P1M", "2028-02-29"),
        ("2028-02-29", "P1Y", "2029-02-28"),
        ("2028-02-29", "P4Y", "2032-02-29"),
        ("2027-03-31", "-P1M", "2027-02-28"),
        ("2027-12-31", "P1D", "2028-01-01"),
        ("2027-01-31", "P1M1D", "2027-03-01"),  # months first, then days
        ("2027-03-01", "-P1D", "2027-02-28"),
    ],
)
def test_months_keep_to_the_end_of_a_shorter_month(start: str, text: str, end: str):
    assert iso(add(day(start), span(text))) == end
