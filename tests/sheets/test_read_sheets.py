"""What a sound sheet becomes: moments, cycles inherited by reckoning, and one laying order whatever the file's."""

import random
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.rules.moment import EntryDate, Given, Mark, Said, StepDay, TickDay, Work, YearDay
from app.rules.sheet import Sheet, Spell
from app.rules.spans import NOTHING, Span
from app.rules.step import After, Again, Labour, Needs, Timed, Use, When
from app.rules.terms import Ask, Source
from app.sheets.read import read, sheet_from
from tests.sheets.examples import CURE, KNOWN, TOMATO, WALL, WEANERS, days_in_cure, days_to_next_coat

DATE = EntryDate("date")


def step(sheet: Sheet, name: str):  # type: ignore[no-untyped-def]
    return next(one for one in sheet.steps if one.id == name)


def ids(sheet: Sheet) -> list[str]:
    return [one.id for one in sheet.steps]


def test_the_tomato_reads_as_it_is_written() -> None:
    sheet = sheet_from(TOMATO)
    sow, plant, pick = step(sheet, "sow"), step(sheet, "plant"), step(sheet, "pick")
    assert sow.start == Mark("last frost", 90, DATE, None, Span(0, -56))
    assert (sow.opens, sow.closes, sow.missed) == (Span(0, -14), Span(0, 28), "lost")
    assert sow.minutes == Labour(10, 0.5, "row_m")
    assert plant.after == (After("sow", Span(0, 42)), After("harden", Span(0, 10)))
    assert plant.closes == Mark("first frost", 10, EntryDate("date", Span(5, 0)), None, Span(0, -84))
    assert pick.again == Again(
        "every", Span(0, 3), Mark("first frost", 50, StepDay("plant")), stop="over", counted="tick"
    )
    assert pick.asks == (Ask("kg", "kg"), Ask("over", "yes or no"))
    assert pick.makes[0].keeps == Span(0, 7)
    assert sheet.facts["row_m"] == Ask("row_m", "m", "Row", (), 9, 0.1, 500)
    assert sheet.back == (("plant", "harden"),)
    assert sheet.bars[0].closes == StepDay("pick", "last")


def test_the_wall_reads_as_it_is_written() -> None:
    sheet = sheet_from(WALL, KNOWN)
    paint, patch = step(sheet, "paint"), step(sheet, "patch")
    found = {"exposure": Given("fact", name="exposure"), "found": Given("all", "look", "found")}
    assert paint.again.every == Work("days_to_next_coat", days_to_next_coat, found)
    assert paint.start == paint.again.last == EntryDate("last_painted")
    assert paint.source == Source("from memory", "", "a maker's data sheet")
    assert patch.when == When(((Given("latest", "look", "found"), ("hollow",)),), otherwise=False)
    assert step(sheet, "look").start == YearDay(4, 10, EntryDate("last_painted", Span(6, 0)))
    assert sheet.spells == {"painting": Spell("painting", YearDay(4, 1), YearDay(9, 30), ("patch", "coat2"))}


def test_the_weaners_read_as_they_are_written() -> None:
    sheet = sheet_from(WEANERS, KNOWN)
    kill = step(sheet, "kill")
    assert isinstance(kill.start, Said)
    assert isinstance(kill.start.otherwise, Work)
    assert kill.start.otherwise.since == DATE
    assert kill.makes[0].facts == {"kg": Given("latest", "kill", "carcase_kg")}
    assert kill.makes[0].otherwise == {"kg": 60}
    assert sheet.bars[0].closes == EntryDate("date", Span(0, 20))
    assert sheet.bars[0].nations == ("england",)
    assert sheet.bars[1].closes == TickDay("worm", "worm.withdrawal_days")


def test_the_cure_reads_as_it_is_written() -> None:
    cure = step(sheet_from(CURE, KNOWN), "cure")
    assert cure.start == Work("days_in_cure", days_in_cure, {"thickness_mm": Given("fact", name="thickness_mm")}, DATE)
    assert cure.timed == Timed(18 * 60, 24, 8)
    assert cure.needs == Needs(people=2, below_c=8)
    assert cure.uses == (Use("salt", 30, "g", "kg"),)


def test_a_moment_with_no_since_is_reckoned_from_the_entrys_date() -> None:
    sheet = sheet_from(TOMATO.replace('chance = 90, since = { entry = "date" }, by = "-P8W"', "chance = 90"))
    assert step(sheet, "sow").start == Mark("last frost", 90, DATE)


def test_a_booking_reckoned_back_from_the_day_it_books_is_no_circle() -> None:
    """`said` reads what was taken down, never a plan; the booking is laid after the day it is for."""
    sheet = sheet_from(WEANERS, KNOWN)
    assert ids(sheet).index("kill") < ids(sheet).index("book")
    assert sheet.scopes == {"weigh": ("weigh",), "worm": (), "book": (), "kill": ()}


def test_paintings_wait_for_the_top_coat_that_counts_as_one() -> None:
    sheet = sheet_from(WALL, KNOWN)
    assert sheet.scopes == {"look": ("look",), "patch": ("look",), "coat2": ("look",), "paint": ("paint",)}
    assert ids(sheet) == ["look", "patch", "coat2", "paint"]
    assert sheet.order == ("look", "paint", "patch", "coat2")


SALAD = (
    'id = "sow"\nfrom = { mark = "soil above", c = 5 }\nagain = { every = "P3W", most = 6 }',
    'id = "thin"\nfrom = { step = "sow", by = "P3W" }',
    'id = "pick"\nfrom = { step = "sow", by = "P7W" }\nagain = { every = "P3D", most = 9 }',
    'id = "wash"\nfrom = { step = "pick" }',
    'id = "pull"\nfrom = { step = "pick", which = "last", by = "P1D" }\nafter = [{ step = "sow" }]',
    'id = "clear"\nfrom = { step = "pull", which = "last", by = "P1W" }',
    'id = "always"\nfrom = { step = "clear" }\nagain = { every = "P1Y", until = { entry = "date", by = "P9Y" } }',
    'id = "bed"\nfrom = { entry = "date" }',
)


def sheet_of(steps: tuple[str, ...]) -> str:
    head = 'sheet = "x"\ntitle = "X"\ntrade = "garden"\nkind = "x"\n[facts]\ndate = "date"\n'
    return head + "".join(f'[[step]]\ntitle = "T"\nsource = "common practice"\n{step}\n' for step in steps)


def test_cycles_are_inherited_and_nest() -> None:
    sheet = sheet_from(sheet_of(SALAD))
    assert sheet.scopes == {
        "sow": ("sow",),
        "thin": ("sow",),
        "pick": ("sow", "pick"),
        "wash": ("sow", "pick"),
        "pull": ("sow",),
        "clear": (),
        "always": ("always",),
        "bed": (),
    }


def test_each_cycle_is_laid_in_one_piece_behind_its_head() -> None:
    assert ids(sheet_from(sheet_of(SALAD))) == ["bed", "sow", "pick", "wash", "pull", "thin", "clear", "always"]


@pytest.mark.parametrize("text", [sheet_of(SALAD), TOMATO, WALL, WEANERS, CURE])
@given(seed=st.integers(0, 10**6))
def test_the_order_of_the_steps_in_the_file_changes_nothing(text: str, seed: int) -> None:
    head, *pieces = re.split(r"(?m)^(?=\[\[)", text)
    random.Random(seed).shuffle(pieces)
    one, other = read(text, "", KNOWN), read(head + "".join(pieces), "", KNOWN)
    assert isinstance(one, Sheet)
    assert isinstance(other, Sheet)
    assert (one.steps, one.scopes, one.back) == (other.steps, other.scopes, other.back)


@given(st.data())
def test_drawn_sheets_are_laid_so_that_nothing_waits_for_what_comes_later(data: st.DataObject) -> None:
    """Over random graphs: needs first, every cycle in one piece behind its head, and each step in its head's scope."""
    count = data.draw(st.integers(1, 9))
    names = data.draw(st.permutations([f"s{n}" for n in range(count)]))
    steps, needs = [], {}
    for n, name in enumerate(names):
        before = data.draw(st.lists(st.sampled_from(names[:n]), max_size=2, unique=True)) if n else []
        needs[name] = before
        start = f'{{ step = "{before[0]}" }}' if before else '{ entry = "date" }'
        after = f'after = [{{ step = "{before[1]}" }}]' if len(before) > 1 else ""
        again = 'again = { every = "P1W", most = 3 }' if data.draw(st.booleans()) else ""
        steps.append(f'id = "{name}"\nfrom = {start}\n{after}\n{again}')
    sheet = read(sheet_of(tuple(steps)))
    if isinstance(sheet, list):
        assert all("do not nest" in fault.reason for fault in sheet)
        return
    order = ids(sheet)
    assert sorted(order) == sorted(names)
    assert all(order.index(need) < order.index(name) for name in names for need in needs[name])
    for head in (name for name in names if sheet.scopes[name][-1:] == (name,)):
        inside = [order.index(name) for name in names if head in sheet.scopes[name]]
        assert sorted(inside) == list(range(order.index(head), order.index(head) + len(inside)))
        for name in names:
            if head in sheet.scopes[name]:
                assert sheet.scopes[name][: len(sheet.scopes[head])] == sheet.scopes[head]


def test_a_step_reckoned_back_through_another_is_still_no_circle() -> None:
    sheet = sheet_from(
        sheet_of(
            (
                'id = "plant"\nfrom = { day = "--05-20" }\nafter = [{ step = "open", by = "P3D" }]',
                'id = "harden"\nfrom = { step = "plant", by = "-P2W" }',
                'id = "open"\nfrom = { step = "harden", by = "P4D" }',
            )
        )
    )
    assert sheet.back == (("plant", "open"),)
    assert ids(sheet) == ["plant", "harden", "open"]


def test_a_lead_that_a_computation_gives_is_not_compared() -> None:
    thaw = (
        'id = "thaw"\nfrom = { work = "days_in_cure", given = { thickness_mm = { value = 90 } }, '
        'before = { step = "cook" } }'
    )
    cook = 'id = "cook"\nfirm = true\nfrom = { entry = "date" }\nafter = [{ step = "thaw", work = "days_in_cure", '
    sheet = read(sheet_of((thaw, cook + "given = { thickness_mm = { value = 90 } } }]")), "", KNOWN)
    assert isinstance(sheet, Sheet)
    assert sheet.back == (("cook", "thaw"),)
    assert step(sheet, "cook").after[0].work == Work(
        "days_in_cure", days_in_cure, {"thickness_mm": Given("value", value=90)}, None, None, NOTHING
    )


def test_a_date_as_default_is_held_as_its_day_number() -> None:
    """1 January of the year 1 is day 1, and a year later is day 366 (ISO 8601 calendar, proleptic Gregorian)."""
    sheet = sheet_from(
        sheet_of(SALAD).replace('date = "date"', 'date = "date"\nbuilt = { asks = "date", else = 0002-01-01 }')
    )
    assert sheet.facts["built"].default == 366
