"""Words as people say them: the expected ones are ordinary English, and the house's own examples."""

from datetime import date

import pytest

from app.rules.keys import key
from app.web import words

TODAY = date(2027, 9, 15)


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u202f", " ")


@pytest.mark.parametrize(
    ("minutes", "said"), [(5, "5 min"), (45, "45 min"), (60, "1 h"), (75, "1 h 15"), (150, "2 h 30"), (0, "")]
)
def test_minutes_are_said_in_hours_and_minutes(minutes, said):
    assert plain(words.minutes(minutes)) == said


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 h"), (10, "10 min"), (30, "½ h"), (150, "2½ h"), (2460, "41 h"), (620, "10 h")]
)
def test_sums_of_hours_are_rounded_as_one_would_say_them(minutes, said):
    assert plain(words.hours(minutes)) == said


@pytest.mark.parametrize(
    ("n", "said"), [(1, "1st"), (2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (13, "13th"), (23, "23rd")]
)  # fmt: skip
def test_days_of_the_month_are_ordinals(n, said):
    assert words.ordinal(n) == said


def test_a_date_has_its_year_only_when_it_is_another():
    assert plain(words.day(date(2027, 9, 15), TODAY)) == "15 September"
    assert plain(words.day(date(2028, 10, 6), TODAY)) == "6 October 2028"
    assert plain(words.weekday(date(2027, 9, 15), TODAY)) == "Wednesday 15 September"  # 2027-09-15 is ISO 2027-W37-3


@pytest.mark.parametrize(
    ("opens", "best", "closes", "said"),
    [
        (date(2027, 9, 13), date(2027, 9, 17), date(2027, 9, 21), "from 13 · best 17 · by 21 Sep"),
        (date(2027, 9, 27), date(2027, 10, 4), date(2027, 10, 12), "from 27 Sep · best 4 · by 12 Oct"),
        (date(2027, 10, 14), date(2027, 12, 12), date(2028, 2, 22), "from 14 Oct · best 12 Dec 2027 · by 22 Feb 2028"),
        (date(2027, 9, 27), date(2027, 9, 27), date(2027, 9, 27), "on 27 Sep"),
    ],
)
def test_a_window_names_each_month_once(opens, best, closes, said):
    assert plain(words.window(opens, best, closes, TODAY)) == said


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2027, 5, 14), date(2027, 5, 28), "14–28 May"),
        (date(2027, 9, 28), date(2027, 10, 3), "28 September – 3 October"),
        (date(2027, 12, 20), date(2028, 1, 4), "20 December 2027 – 4 January 2028"),
        (date(2027, 5, 14), date(2027, 5, 14), "14 May"),
    ],
)
def test_a_stretch_is_said_as_short_as_it_can_be(first, last, said):
    assert plain(words.between(first, last, TODAY)) == said


def test_how_long_is_left():
    assert plain(words.left(date(2027, 9, 17), TODAY)) == "two days left"
    assert words.left(TODAY, TODAY) == "last day"
    assert plain(words.left(date(2027, 9, 12), TODAY)) == "three days late"
    assert plain(words.away(date(2027, 9, 24), TODAY)) == "in nine days"
    assert words.away(date(2027, 9, 14), TODAY) == "yesterday"


def test_amounts_have_their_unit_and_no_idle_noughts():
    assert plain(words.amount(1.40, "kg")) == "1.4 kg"
    assert plain(words.amount(1600, "m")) == "1 600 m"
    assert plain(words.amount(-3, "c")) == "−3 °C"
    assert words.listed(["salt"]) == "salt"
    assert words.listed(["salt", "jars", "lids"]) == "salt, jars and lids"


def test_an_anchor_fits_a_selector_and_no_two_keys_share_one():
    keys = [
        key("salad", "pick", (3, 7)),
        key("salad", "pick", (37,)),
        "pigs.kill+pork.joint",
        "pigs.kill.pork.joint",
        "a_b.c",
        "a.b.c",
    ]
    anchors = [words.anchor(k) for k in keys]
    assert len(set(anchors)) == len(keys)
    assert all(c.isascii() and (c.isalnum() or c in "-_") for a in anchors for c in a)
