"""Where strokes go: checked by the geometry of a month of thirty days, a thirtieth of the width each."""

import re
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.rules.terms import Ask
from app.web import chain, drawing, fields
from app.web.parts import Choice

SEPTEMBER = drawing.Stretch(date(2027, 9, 1).toordinal(), date(2027, 9, 30).toordinal(), date(2027, 9, 16).toordinal())
FIRST, LAST = SEPTEMBER.first, SEPTEMBER.last


def test_a_window_runs_from_the_morning_it_opens_to_the_evening_it_closes():
    svg = drawing.line(SEPTEMBER, FIRST + 3, FIRST + 11, (FIRST + 6,))
    assert 'x1="10.0%" x2="40.0%"' in svg  # days 4 to 12: three days before it, twelve days with it
    assert re.findall(r'href="#e" x="([\d.]+)%"', svg) == ["10.0", "40.0"]
    assert re.findall(r'href="#d" x="([\d.]+)%"', svg) == ["21.7"]  # 6.5 thirtieths
    assert 'class="n" x1="51.7%"' in svg  # the 16th, 15.5 thirtieths


def test_an_end_off_the_scale_has_no_mark():
    svg = drawing.line(SEPTEMBER, FIRST - 10, LAST + 10, (LAST + 2,))
    assert 'x1="0.0%" x2="100.0%"' in svg
    assert "#e" not in svg
    assert "#d" not in svg


def test_a_window_wholly_elsewhere_is_not_drawn():
    assert drawing.line(SEPTEMBER, FIRST - 20, FIRST - 1, (FIRST - 5,)).count("<line") == 1  # today's hairline only


def test_done_is_one_filled_diamond_on_its_day():
    svg = drawing.line(SEPTEMBER, FIRST, LAST, (FIRST + 2,), done=FIRST + 14)
    assert 'class="w f"' in svg
    assert re.findall(r'href="#d" x="([\d.]+)%"', svg) == ["48.3"]


def test_a_bar_is_dots_to_its_last_day_and_has_no_end_while_nothing_closes_it():
    closed = drawing.line(SEPTEMBER, barred=(FIRST - 4, FIRST + 20))
    assert 'class="b" x1="0.0%" x2="70.0%"' in closed
    assert closed.count("#e") == 1
    assert drawing.line(SEPTEMBER, barred=(FIRST, None)).count("#e") == 0


@given(st.integers(-60, 90), st.integers(0, 60), st.integers(0, 60))
def test_nothing_is_drawn_off_the_scale(start, before, after):
    opens = FIRST + start
    svg = drawing.line(SEPTEMBER, opens, opens + before + after, (opens + before,))
    assert all(0 <= float(x) <= 100 for x in re.findall(r'x[12]?="(-?[\d.]+)%"', svg))


def test_hours_over_are_a_second_stroke():
    over = drawing.against(40 * 60, 30 * 60)
    assert 'class="over" x1="75.0%" x2="100.0%"' in over
    assert 'class="over"' not in drawing.against(20 * 60, 30 * 60)


items = st.builds(
    lambda step, start, a, b, name, done: chain.Item(
        f"s{step}", name, "/job/x", start, start + a, start + a + b, start + a if done else None
    ),
    st.integers(0, 14),
    st.integers(FIRST - 100, FIRST + 700),
    st.integers(0, 40),
    st.integers(0, 90),
    st.text("abcdefgh ilmno", min_size=3, max_size=44),
    st.booleans(),
)


@given(st.lists(items, max_size=24))
def test_no_name_in_a_chain_touches_another_name_or_window(drawn):
    picture = chain.lay(drawn, FIRST - 60, FIRST + 760, FIRST)
    rows: dict[float, list[tuple[float, float]]] = {}
    for step in picture.steps:
        xs = [float(x) for x in re.findall(r"M([\d.]+) ", step.bars)]
        xs += [float(x) for x in re.findall(r"H([\d.]+)", step.bars)]
        width = 7.4 * len(step.label)
        name = (step.x, step.x + width) if step.anchor == "start" else (step.x - width, step.x)
        rows.setdefault(step.y, []).append((min(*xs, name[0]), max(*xs, name[1])))
    for spans in rows.values():
        spans.sort()
        assert all(a[1] < b[0] for a, b in pairwise(spans))
    assert all(step.label.isdecimal() for step in picture.steps) or not picture.numbered


def test_a_crowded_chain_is_numbered_and_an_easy_one_named():
    crowd = [
        chain.Item(f"s{i}", "A name as long as a hedge is", "/", FIRST + i, FIRST + 2 + i, FIRST + 9 + i)
        for i in range(14)
    ]
    assert chain.lay(crowd, FIRST, FIRST + 365, FIRST).numbered
    assert [s.label for s in chain.lay(crowd[:2], FIRST, FIRST + 365, FIRST).steps] == [
        "A name as long as a hedge is"
    ] * 2


@pytest.mark.parametrize("days", [28, 200, 365, 670, 1500, 4000])
def test_the_foot_has_room_for_its_months_and_names_a_year_once(days):
    first = date(2027, 2, 20).toordinal()
    marks = chain.lay([], first, first + days, FIRST).marks
    years = [m.label.split()[1] for m in marks if " " in m.label]
    assert 1 <= len(marks) <= 12
    assert len(years) == len(set(years))
    assert " " in marks[0].label
    assert all(b.x - a.x > 50 for a, b in pairwise(marks))  # "Mar 2027" at 13 px is 56 px at most


@pytest.mark.parametrize(
    ("ask", "kind", "unit"),
    [
        (Ask("on", "date"), "date", ""),
        (Ask("over", "yes or no"), "choice", ""),
        (Ask("found", "choice", choices=("sound", "hollow")), "choice", ""),
        (Ask("kg", "kg"), "number", "kg"),
        (Ask("wall", "m2"), "number", "m²"),
        (Ask("core", "c"), "number", "°C"),
        (Ask("withdrawal_days", "d"), "number", "days"),
        (Ask("jars", "count"), "count", ""),
        (Ask("note", "text"), "text", ""),
    ],
)
def test_each_kind_of_question_gets_its_box_and_unit(ask, kind, unit):
    made = fields.field(ask)
    assert (made.kind, made.unit) == (kind, unit)


def test_what_was_typed_is_kept_as_typed_and_what_is_known_is_told():
    ask = Ask("kg", "kg", "Weight", low=0, high=500)
    assert fields.field(ask, typed="a bit", error="A number is wanted.").value == "a bit"
    assert fields.field(ask, known=14.5).value == "14.5"
    assert fields.field(Ask("on", "date"), known=date(2027, 9, 15).toordinal()).value == "2027-09-15"
    assert fields.field(Ask("over", "yes or no"), known=False).value == "no"
    assert fields.limits(ask).replace("\u00a0", " ") == "between 0 and 500 kg"
    assert fields.field(Ask("for", "entry"), entries=(Choice("leek", "Leeks"),)).choices == (Choice("leek", "Leeks"),)
    assert not fields.field(Ask("row_m", "m", default=9)).required
    assert fields.field(ask).required
