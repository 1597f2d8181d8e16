"""What is refused on a sheet, where the fault is said to lie, and in which words."""

import pytest

from app.errors import Fault, KnowledgeError
from app.sheets.read import read, sheet_from
from app.sheets.values import Caution, Known, Publication
from tests.sheets.examples import CURE, KNOWN, TOMATO, WALL, WEANERS

CHECKED = Known(
    sources={"fao56": Publication("Crop evapotranspiration", "FAO", 1998)},
    cautions={"ladders": Caution("Foot it.", None)},  # type: ignore[arg-type]
    docs={},
    works=KNOWN.works,
)

Case = tuple[str, str, str, str, str, str]

# sheet, what is written, what is written instead, and the fault: step, key, a telling part of the reason.
KEYS: list[Case] = [
    (TOMATO, 'opens = "-P2W"', 'opnes = "-P2W"', "sow", "opnes", "did you mean 'opens'?"),
    (TOMATO, 'kind = "sowing"', 'kind = "sowing"\ntirle = "x"', "", "tirle", "unknown key 'tirle'"),
    (TOMATO, 'since = { entry = "date" }, by = "-P8W"', 'since = { entry = "date", bye = "P1D" }', "sow",
     "from.since.bye", "did you mean 'by'?"),
    (TOMATO, 'stop = "over" }', 'stop = "over", moist = 3 }', "pick", "again.moist", "did you mean 'most'?"),
    (TOMATO, '"sow", by = "P6W" }', '"sow", buy = "P6W" }', "plant", "after.buy", "did you mean 'by'?"),
    (TOMATO, "else = 9, low", "els = 9, low", "facts", "row_m.els", "did you mean 'else'?"),
    (TOMATO, 'per = "row_m" }', 'per = "row_m", eech = 2 }', "sow", "minutes.eech", "unknown key"),
    (TOMATO, 'where = "shelf"', 'wear = "shelf"', "pick", "makes.wear", "did you mean 'where'?"),
    (TOMATO, 'says = "The bed is taken."', 'say = "The bed is taken."', "bar bed", "say", "did you mean 'says'?"),
    (WALL, 'whole = [', 'hole = [', "spell painting", "hole", "did you mean 'whole'?"),
    (CURE, "hours = 24", "hour = 24", "cure", "timed.hour", "did you mean 'hours'?"),
    (CURE, "people = 2", "persons = 2", "cure", "needs.persons", "unknown key"),
    (TOMATO, 'title = "Sow"', "", "sow", "title", "is missing"),
    (TOMATO, 'title = "Tomato"', "", "", "title", "is missing"),
    (TOMATO, 'sheet = "tomato"', "", "", "sheet", "is missing"),
    (TOMATO, 'trade = "garden"', "", "", "trade", "is missing"),
    (TOMATO, 'kind = "sowing"', "", "", "kind", "is missing"),
    (TOMATO, 'id = "sow"', "", "step 1", "id", "is missing"),
    (TOMATO, 'trade = "garden"', 'trade = "gardening"', "", "trade", "did you mean 'garden'?"),
    (TOMATO, 'missed = "passes"', 'missed = "passed"', "pick", "missed", "did you mean 'passes'?"),
    (TOMATO, 'act = "plant"', 'act = "plnat"', "plant", "act", "did you mean 'plant'?"),
    (TOMATO, 'title = "Sow"', "title = 4", "sow", "title", "found 4, expected a text"),
    (TOMATO, 'title = "Sow"', 'title = "Sow"\nfirm = "yes"', "sow", "firm", "found 'yes', expected true or false"),
    (TOMATO, 'id = "sow"', 'id = "Sow it"', "Sow it", "id", "small letters"),
    (TOMATO, 'id = "sow"', 'id = "7"', "7", "id", "begins with a letter"),
    (TOMATO, 'id = "sow"', 'id = "entry"', "entry", "id", "'entry' is taken"),
    (TOMATO, 'id = "harden"', 'id = "sow"', "sow", "id", "there are two"),
    (TOMATO, 'title = "Pick"', 'title = "Pick"\nwas = ["sow"]', "pick", "was", "a step of today"),
    (TOMATO, 'kind = "sowing"', 'kind = "sowing"\nbegins = "sew"', "", "begins", "did you mean 'sow'?"),
]  # fmt: skip

MOMENTS: list[Case] = [
    (TOMATO, 'from = { step = "plant", by = "P9W" }', 'from = { step = "plant", entry = "date" }', "pick", "from",
     "found 'entry' and 'step'; a moment has exactly one"),
    (TOMATO, 'from = { step = "plant", by = "P9W" }', 'from = { by = "P9W" }', "pick", "from", "exactly one of"),
    (TOMATO, 'from = { step = "plant", by = "P9W" }', 'from = { stpe = "plant" }', "pick", "from",
     "did you mean 'step'?"),
    (TOMATO, 'from = { step = "plant", by = "P9W" }', "", "pick", "from", "is missing"),
    (TOMATO, 'from = { step = "plant", by = "P9W" }', 'from = { step = "plnat" }', "pick", "from.step",
     "there is no step 'plnat'; did you mean 'plant'?"),
    (TOMATO, 'by = "P9W"', 'by = "9 weeks"', "pick", "from.by", "not an ISO 8601 duration"),
    (TOMATO, 'by = "P9W"', "by = 63", "pick", "from.by", "found 63, expected a text"),
    (TOMATO, '"last frost", chance = 90, since = { entry = "date" }, by = "-P8W"', '"last frost", c = 7', "sow",
     "from.c", "'last frost' is given with chance"),
    (TOMATO, '"last frost", chance = 90, since', '"last frost", since', "sow", "from.chance", "is given with chance"),
    (TOMATO, '"last frost", chance = 90, since = { entry = "date" }, by = "-P8W"', '"last forst", chance = 90', "sow",
     "from.mark", "did you mean 'last frost'?"),
    (TOMATO, 'chance = 90, since = { entry = "date" }, by = "-P8W"', "chance = 0.9", "sow", "from.chance",
     "between 1 and 99"),
    (TOMATO, '{ entry = "date" }, by = "-P8W"', '{ entry = "row_m" }, by = "-P8W"', "sow", "from.since.entry",
     "'row_m' is asked as m; expected a date"),
    (TOMATO, '{ entry = "date" }, by = "-P8W"', '{ entry = "day" }, by = "-P8W"', "sow", "from.since.entry",
     "asks for no fact 'day'"),
    (TOMATO, 'by = "-P8W" }', 'before = { entry = "date" } }', "sow", "from.before", "both since and before"),
    (WALL, '"--04-10"', '"--13-10"', "look", "from.day", "expected a day of the year"),
    (WALL, '"--04-10"', '"10 April"', "look", "from.day", "expected a day of the year"),
    (WALL, '"--04-10"', '"--02-29"', "look", "from.day", "does not come every year"),
    (WALL, 'from = { day = "--04-01" }', 'from = { day = "--04-01", since = { entry = "date" } }', "spell painting",
     "from.since", "comes round every year"),
    (WALL, 'from = { day = "--04-01" }', 'from = { entry = "date" }', "spell painting", "from", "a day or a mark"),
    (WALL, 'to = { day = "--09-30" }', "", "spell painting", "to", "is missing"),
    (WEANERS, 'said = "book.day"', 'said = "book.dya"', "kill", "from.said", "did you mean 'day'?"),
    (WEANERS, 'said = "book.day"', 'said = "worm.withdrawal_days"', "kill", "from.said", "expected a date"),
    (WEANERS, "[step.from.else]", "[step.from.els]", "kill", "from.else", "is missing"),
    (WEANERS, 'days = "worm.withdrawal_days"', 'days = "weigh.kg"', "bar withdrawal", "to.days", "of the step 'worm'"),
    (WEANERS, 'withdrawal_days = "d"', 'withdrawal_days = "count"', "bar withdrawal", "to.days", "expected d"),
    (WALL, 'from = { day = "--04-10", since = { entry = "last_painted", by = "P6M" } }', "from = { warmth = 694 }",
     "look", "from.base", "is missing"),
    (TOMATO, 'opens = "-P2W"\ncloses = "P4W"', 'opens = "P2W"\ncloses = "P1W"', "sow", "closes",
     "closes 1 week after the best day and opens 2 weeks after the best day: it closes before it opens"),
    (TOMATO, 'opens = "-P2W"\ncloses = "P4W"', 'closes = "-P1W"', "sow", "closes", "it closes before it opens"),
    (TOMATO, 'opens = "-P2W"\ncloses = "P4W"', 'opens = "P1W"', "sow", "opens", "it closes before it opens"),
]  # fmt: skip

GRAPHS: list[Case] = [
    (TOMATO, 'from = { step = "plant", by = "-P2W" }', 'from = { step = "pick" }', "harden", "",
     "a circle of steps: harden → pick → plant → harden"),
    (TOMATO, 'from = { step = "plant", by = "-P2W" }', 'from = { step = "plant", by = "P2W" }', "harden", "",
     "a circle of steps: harden → plant → harden"),
    (TOMATO, 'from = { step = "plant", by = "-P2W" }', 'from = { step = "harden" }', "harden", "", "harden → harden"),
    (WEANERS, 'from = { step = "kill", by = "-P8W" }', 'from = { step = "kill", which = "last" }', "book", "from",
     "'kill' has no cycles beneath this one"),
    (TOMATO, '"harden", by = "P10D"', '"harden", by = "P20D"', "plant", "after",
     "must come 20 days after 'harden', which is reckoned only 14 days before it"),
    (TOMATO, 'stop = "over"', 'stop = "kg"', "pick", "again.stop", "must be a measure of this step"),
    (TOMATO, 'stop = "over"', 'stop = "bolted"', "pick", "again.stop", "must be a measure of this step"),
    (TOMATO, 'every = "P3D"', 'every = "P0D"', "pick", "again.every", "a day or more"),
    (TOMATO, 'every = "P3D", ', "", "pick", "again.every", "is missing"),
    (TOMATO, 'stop = "over"', 'counts = ["pick"]', "pick", "again.counts", "is the step itself"),
    (TOMATO, 'stop = "over"', 'counts = ["pluck"]', "pick", "again.counts", "is no step"),
    (TOMATO, 'stop = "over"', 'last = { entry = "date" }', "pick", "again.last", "both last and the step's from"),
    (TOMATO, 'id = "harden"', 'again = "yearly"\nid = "harden"', "harden", "again", "a day or a mark"),
    (TOMATO, 'id = "harden"', 'again = "weekly"\nid = "harden"', "harden", "again", "found 'weekly'"),
    (TOMATO, 'closes = "P4D"', 'missed = "wait"', "harden", "missed", "nothing to wait for"),
    (WALL, 'last = { entry = "last_painted" }', "", "paint", "from", "is missing"),
    (WALL, 'within = "painting"\nmissed = "wait"\n[[spell]]', 'within = "paintin"\n[[spell]]', "coat2", "within",
     "did you mean 'painting'?"),
    (WALL, '"patch", "coat2"]', '"patch", "coat3"]', "spell painting", "whole", "did you mean 'coat2'?"),
    (WALL, '"look.found" = ["hollow"]', '"look.found" = ["holow"]', "patch", "when.look.found",
     "did you mean 'hollow'?"),
    (WALL, 'id = "look"', 'id = "look"\nwhen = { "look.found" = ["hollow"] }', "look", "when.look.found", "too late"),
    (WALL, '"look.found" = ["hollow"]', 'look.found = ["hollow"]', "patch", "when.look", "put the whole name in"),
]  # fmt: skip

COMPUTATIONS: list[Case] = [
    (CURE, '"days_in_cure"', '"days_in_cur"', "cure", "from.work", "did you mean 'days_in_cure'?"),
    (CURE, ', given = { thickness_mm = "entry.thickness_mm" }', "", "cure", "from.given.thickness_mm",
     "is missing; days_in_cure can't do without it"),
    (CURE, '{ thickness_mm = "entry', '{ thicknes_mm = "entry', "cure", "from.given.thicknes_mm",
     "no parameter 'thicknes_mm'; did you mean 'thickness_mm'?"),
    (CURE, '"entry.thickness_mm"', '"entry.thick_mm"', "cure", "from.given.thickness_mm", "did you mean"),
    (CURE, '"entry.thickness_mm"', '"thickness_mm"', "cure", "from.given.thickness_mm", "expected a name such as"),
    (CURE, '"entry.thickness_mm"', '"entry.kg"', "cure", "from.given.thickness_mm", "wants mm, and 'kg' is"),
    (CURE, '"entry.thickness_mm"', '{ value = "thick" }', "cure", "from.given.thickness_mm", "takes a number here"),
    (CURE, '"entry.thickness_mm" }', '"entry.thickness_mm", season = { value = 1 } }', "cure", "from.given.season",
     "supplied by planning itself"),
    (CURE, '"mm", else = 40', '"cm", else = 4', "facts", "thickness_mm.asks", "the name thickness_mm says mm"),
    (CURE, '"mm", else = 40', '"mm", optional = true', "cure", "from.given.thickness_mm", "may stay unsaid"),
    (WEANERS, '{ all = "weigh.kg" }', '"weigh.kg"', "kill", "from.else.given.weighed", "takes a list here"),
    (WEANERS, '{ all = "weigh.kg" }', '{ all = "weigh.lb" }', "kill", "from.else.given.weighed.all",
     "step 'weigh' does not ask for 'lb'"),
    (WEANERS, '{ all = "weigh.kg" }', '{ all = "entry.kg" }', "kill", "from.else.given.weighed.all", "one value"),
    (WALL, 'asks = ["sheltered", "severe"]', 'asks = ["sheltered", "severe", "wild"]', "paint",
     "again.every.given.exposure", "days_to_next_coat does not know 'wild'"),
]  # fmt: skip

ASKED: list[Case] = [
    (TOMATO, 'date = { asks = "date" }', "", "facts", "date", "every sheet asks for one"),
    (TOMATO, 'date = { asks = "date" }', 'date = { asks = "text" }', "facts", "date", "expected date"),
    (TOMATO, "else = 9, low", "else = 900, low", "facts", "row_m.else", "above high, 500"),
    (TOMATO, "else = 9, low", 'else = "nine", low', "facts", "row_m.else", "expected a number (m)"),
    (TOMATO, "low = 0.1", "low = 600", "facts", "row_m.low", "600 lies above high, 500"),
    (TOMATO, 'asks = "m", ', 'asks = "yards", ', "facts", "row_m.asks", "nothing that can be asked"),
    (TOMATO, 'asks = "m", ', "", "facts", "row_m.asks", "is missing"),
    (WALL, 'else = "severe"', 'else = "sever"', "facts", "exposure.else", "did you mean 'severe'?"),
    (WALL, 'asks = ["sheltered", "severe"]', 'asks = ["severe"]', "facts", "exposure.asks", "two or more"),
    (TOMATO, 'kg = "kg", over', 'kg = "lb", over', "pick", "asks.kg", "nothing that can be asked"),
    (TOMATO, 'amount = "pick.kg"', 'amount = "pick.over"', "pick", "makes.amount", "expected a number"),
    (TOMATO, 'unit = "kg"', 'unit = "g"', "pick", "makes.unit", "'pick.kg' is asked in kg"),
    (TOMATO, 'unit = "kg", ', "", "pick", "makes.unit", "amount and unit go together"),
    (TOMATO, '{ lot = "tomatoes",', '{ lot = "a", seed = "b",', "pick", "makes", "exactly one of lot, seed"),
    (TOMATO, 'per = "row_m" }', 'per = "row" }', "sow", "minutes.per", "did you mean 'row_m'?"),
    (WALL, 'title = "Patch"', 'title = "Patch"\nminutes = { each = 2, per = "exposure" }', "patch", "minutes.per",
     "'exposure' is asked as choice; expected a number"),
    (WEANERS, '{ kg = "kill.carcase_kg" }', '{ kg = { all = "weigh.kg" } }', "kill", "makes.facts.kg", "one value"),
    (CURE, '"g", per = "kg"', '"g", per = "lb"', "cure", "uses.per", "asks for no fact 'lb'"),
    (CURE, 'starts = "18:00"', 'starts = "6pm"', "cure", "timed.starts", "such as '18:00'"),
    (CURE, "hours = 24", "hours = 0", "cure", "timed.hours", "more than none"),
    (CURE, "people = 2", "people = 0", "cure", "needs.people", "at least 1"),
    (CURE, "people = 2", "above_c = 10", "cure", "needs.above_c", "leaves nothing below 8"),
    (CURE, 'title = "Cure"', 'title = "Cure"\nround = { at = "noon" }', "cure", "round.at", "unknown word 'noon'"),
    (CURE, 'title = "Cure"', 'title = "Cure"\nround = { at = "morning" }', "cure", "timed", "no meaning for a round"),
]  # fmt: skip

SOURCES: list[Case] = [
    (CURE, 'source = "common practice"', "", "cure", "source", "has no source"),
    (CURE, 'source = "common practice"', 'source = "known"', "cure", "source", "found 'known', expected"),
    (CURE, 'source = "common practice"', 'source = { published = "fao65" }', "cure", "source.published",
     "there is no source 'fao65' in sources.toml; did you mean 'fao56'?"),
    (CURE, 'source = "common practice"', 'source = { published = "fao56", page = 3 }', "cure", "source.page",
     "unknown key"),
    (CURE, 'title = "Cure"', 'title = "Cure"\ncautions = ["laders"]', "cure", "cautions", "did you mean 'ladders'?"),
    (CURE, 'kind = "delivery"', 'kind = "delivery"\ncautions = ["knives"]', "", "cautions", "no caution 'knives'"),
]  # fmt: skip

LAW: list[Case] = [
    # A bar of law that rests on a plan would fail open: pigs put down before it would never see it.
    (WEANERS, 'from = { tick = "worm" }', 'from = { step = "worm" }', "bar withdrawal", "from", "never on a plan"),
    (WEANERS, 'to = { entry = "date", by = "P20D" }', 'to = { day = "--08-31" }', "bar standstill", "to",
     "never on a plan"),
    (WEANERS, 'to = { entry = "date", by = "P20D" }', 'to = { said = "book.day", else = { entry = "date" } }',
     "bar standstill", "to", "never on a plan"),
    (WEANERS, 'to = { entry = "date", by = "P20D" }', 'to = { mark = "last frost", chance = 50 }', "bar standstill",
     "to", "never on a plan"),
    (WEANERS, 'to = { entry = "date", by = "P20D" }', 'to = { warmth = 50, base = 4 }', "bar standstill", "to",
     "never on a plan"),
    (WEANERS, 'kind = "law"\non = "entry"', 'on = "entry"', "bar withdrawal", "kind", "is missing"),
    (WEANERS, 'acts = ["slaughter"]', 'acts = ["slauhgter"]', "bar withdrawal", "acts", "did you mean 'slaughter'?"),
    (WEANERS, 'acts = ["slaughter"]', "acts = []", "bar withdrawal", "acts", "names no act"),
    (WEANERS, 'on = "entry"', 'on = "for"', "bar withdrawal", "on", "needs a fact `for`"),
    (WEANERS, 'on = "entry"', 'on = "kit"', "bar withdrawal", "kit", "names the thing in use"),
    (TOMATO, 'on = "place"', 'on = "species"', "bar bed", "on", "it names none at its head"),
    (WEANERS, 'nations = ["england"]', 'nations = ["englnd"]', "bar standstill", "nations", "did you mean 'england'?"),
    (WEANERS, 'title = "Worm"', 'title = "Worm"\nlegal = true', "worm", "nations", "says where it is law"),
    (WEANERS, 'title = "Worm"', 'title = "Worm"\nbefore_frost = true\nround = { at = "morning" }', "worm",
     "before_frost", "done once before a frost"),
    (WEANERS, 'title = "Worm"', 'title = "Worm"\nbefore_frost = "yes"', "worm", "before_frost", "true or false"),
    (WEANERS, 'to = { entry = "date", by = "P20D" }', "", "bar standstill", "to", "two ends"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("sheet", "old", "new", "step", "key", "part"), KEYS + MOMENTS + GRAPHS + COMPUTATIONS + ASKED + SOURCES + LAW
)
def test_a_spoilt_sheet_is_refused_where_it_is_wrong(
    sheet: str, old: str, new: str, step: str, key: str, part: str
) -> None:
    assert old in sheet
    found = read(sheet.replace(old, new, 1), "made-up.toml", CHECKED)
    assert isinstance(found, list), "it was read without a fault"
    assert any(fault.step == step and fault.key == key and part in fault.reason for fault in found), found
    assert all(fault.file == "made-up.toml" for fault in found)


@pytest.mark.parametrize(
    ("sheet", "old", "new", "step", "key", "part"), KEYS[:6] + MOMENTS[:8] + GRAPHS[:7] + ASKED[:7] + SOURCES + LAW[:5]
)
def test_one_mistake_gives_one_fault(sheet: str, old: str, new: str, step: str, key: str, part: str) -> None:
    found = read(sheet.replace(old, new, 1), "made-up.toml", CHECKED)
    assert isinstance(found, list)
    assert len(found) == 1, found


def test_broken_toml_names_the_line() -> None:
    assert read('sheet = "x"\ntitle "Y"\n', "x.toml") == [
        Fault("x.toml", "line 2", "", "this is not TOML: expected '=' after a key in a key/value pair")
    ]


def test_all_faults_are_said_at_once() -> None:
    spoilt = (
        TOMATO.replace("opens =", "opnes =")
        .replace('title = "Pick"', "")
        .replace("P10D", "P20D")
        .replace('act = "plant"', 'act = "fly"')
    )
    found = read(spoilt, "x.toml")
    assert isinstance(found, list)
    assert {(fault.step, fault.key) for fault in found} == {
        ("sow", "opnes"),
        ("pick", "title"),
        ("plant", "after"),
        ("plant", "act"),
    }


def test_reading_for_a_test_raises_with_every_fault() -> None:
    with pytest.raises(KnowledgeError) as caught:
        sheet_from(TOMATO.replace("opens =", "opnes =").replace('title = "Pick"', ""))
    assert len(caught.value.faults) == 2


def sheet_of(*steps: str) -> str:
    head = 'sheet = "x"\ntitle = "X"\ntrade = "garden"\nkind = "x"\n[facts]\ndate = "date"\n'
    return head + "".join(f'[[step]]\ntitle = "T"\nsource = "common practice"\n{step}\n' for step in steps)


WEEKLY = 'again = { every = "P1W" }'
EIGHT = 'again = { every = "P1W", most = 8 }'


def test_cycles_that_do_not_nest_are_refused() -> None:
    found = read(
        sheet_of(
            f'id = "a"\nfrom = {{ entry = "date" }}\n{WEEKLY}',
            f'id = "b"\nfrom = {{ entry = "date" }}\n{WEEKLY}',
            'id = "c"\nfrom = { step = "a" }\nafter = [{ step = "b" }]',
        )
    )
    assert isinstance(found, list)
    assert [(fault.step, fault.key) for fault in found] == [("c", "from")]
    assert "two cycles that do not nest" in found[0].reason


@pytest.mark.parametrize("again", [WEEKLY, 'again = { every = "P1W", stop = "over" }\nasks = { over = "yes or no" }'])
def test_an_endless_repeat_has_no_last(again: str) -> None:
    found = read(
        sheet_of(f'id = "a"\nfrom = {{ entry = "date" }}\n{again}', 'id = "b"\nfrom = { step = "a", which = "last" }')
    )
    assert isinstance(found, list)
    assert [(fault.step, fault.key) for fault in found] == [("b", "from")]
    assert "comes round without end" in found[0].reason


def test_a_bar_does_not_end_with_the_last_of_an_endless_repeat() -> None:
    found = read(TOMATO.replace('until = { mark = "first frost", chance = 50, since = { step = "plant" } }, ', ""))
    assert isinstance(found, list)
    assert [(fault.step, fault.key) for fault in found] == [("bar bed", "to")]
    assert "there is no last 'pick'" in found[0].reason


def test_the_ends_of_a_bar_nest() -> None:
    bar = '[[bar]]\nid = "b"\nkind = "room"\non = "place"\nacts = ["sow"]\nfrom = { step = "a" }\nto = { step = "b" }\n'
    steps = (f'id = "{name}"\nfrom = {{ entry = "date" }}\n{EIGHT}' for name in "ab")
    found = read(sheet_of(*steps) + bar + 'says = "x"\nsource = "common practice"')
    assert isinstance(found, list)
    assert "two cycles that do not nest" in found[0].reason


def test_every_year_has_no_last() -> None:
    found = read(
        sheet_of(
            'id = "a"\nfrom = { day = "--03-01" }\nagain = "yearly"', 'id = "b"\nfrom = { step = "a", which = "last" }'
        )
    )
    assert isinstance(found, list)
    assert "comes round without end" in found[0].reason


def test_a_cycle_that_waits_for_what_lies_in_another_and_is_waited_for_is_a_circle() -> None:
    """Every single step could be laid; the cycles could not be laid one after the other."""
    found = read(
        sheet_of(
            f'id = "a"\nfrom = {{ entry = "date" }}\n{EIGHT}',
            'id = "a2"\nfrom = { step = "a" }\nafter = [{ step = "b", which = "last" }]',
            f'id = "b"\nfrom = {{ entry = "date" }}\n{EIGHT}',
            'id = "b2"\nfrom = { step = "b" }\nafter = [{ step = "a", which = "last" }]',
        )
    )
    assert isinstance(found, list)
    assert "a circle of steps: a → b → a, each taken with all that lies in its cycle" in found[0].reason


def test_a_sheet_without_steps_is_none() -> None:
    found = read(sheet_of())
    assert isinstance(found, list)
    assert found[0].key == "step"
