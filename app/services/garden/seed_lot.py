"""One lot of seed: what is left of it, its age and its life, its last test, and the tin it lies in."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple
from uuid import uuid4

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.records import store
from app.records.store import LotFactRow
from app.rules.crop import Crop
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.services.book import Book
from app.services.larder.lots import Lot, LotFact, words_of
from app.trade.garden.enough import counted_by_weight
from app.trade.garden.germination import Share, Verdict, sow_times, verdict, wilson
from app.trade.garden.seed_life import hundred, life_left, tin_times

TIN = "place:seed tin"
"""Under this name the warmth and air of the tin are kept, among what was said of lots."""

SEEDS = "seeds"
_SEEDS_TRIED = 20


class Store(NamedTuple):
    """Where the seed is kept: warmth, air moisture, the day it was read.

    ``sum`` is °F and % together, good up to 100; ``times`` how many times as long as listed seed lives there, None
    where the rule does not reach, with ``beyond`` saying why.
    """

    c: float
    rh_percent: float
    on: Day
    sum: float
    times: float | None
    beyond: str = ""


class Tried(NamedTuple):
    """A test of a lot: the share that came up with its interval, what to do, and how many times as much to sow.

    ``standard_percent`` is what bought seed must reach; 0 where the sheet names none, and then there is no verdict.
    ``fault`` says what is wrong with a test that can't be reckoned.
    """

    on: Day
    up: int
    tried: int
    share: Share | None
    standard_percent: float
    verdict: Verdict | None
    times: float | None
    fault: str = ""


class SeedLot(NamedTuple):
    """A lot of seed.

    ``seeds`` and ``grams`` are what is left, each None where it can't be known. ``life_left`` is the share of its
    listed life before it, None where no life is listed; ``tin_until`` the day to which it lasts in this very tin.
    """

    lot: Lot
    sheet: Sheet | None
    seeds: int | None
    grams: float | None
    a_gram: float | None
    age_days: int
    life_left: float | None
    tin_until: Day | None
    test: Tried | None
    f1: bool
    plants: int | None
    came_of: str

    @property
    def crop(self) -> Crop | None:
        """The crop's figures, None where its sheet has none."""
        return self.sheet.crop if self.sheet is not None else None


def seed_lot(
    book: Book, session: Session, one: Lot, today: Day, laid: Mapping[str, Laid], kept: Store | None
) -> SeedLot:
    """A lot of seed with all that is reckoned of it."""
    sheet = book.library.sheets.get(one.sheet)
    crop = sheet.crop if sheet is not None else None
    a_gram = _a_gram(crop) or _a_gram(_crop_of(book, one.what))
    counted = [fact.measures.get("a_gram") for fact in one.facts if fact.kind == "counted"]
    own = [value for value in counted if isinstance(value, int | float) and value > 0]
    a_gram = float(own[-1]) if own else a_gram
    grams, seeds = _both(one, a_gram)
    entry = laid[one.entry].entry if one.entry in laid else None
    measures = _measures(book, session, today, one, entry, sheet)
    life = one.keeps_until - one.made_on if one.keeps_until is not None else None
    return SeedLot(
        lot=one,
        sheet=sheet,
        seeds=seeds,
        grams=grams,
        a_gram=a_gram,
        age_days=today - one.made_on,
        life_left=life_left(today - one.made_on, life) if life else None,
        tin_until=_tin_until(one, life, kept),
        test=_last_test(one, measures, standard_of(crop)),
        f1=_is_f1(one, entry),
        plants=_plants(measures),
        came_of=entry.name if entry is not None else "",
    )


def _a_gram(crop: Crop | None) -> float | None:
    return crop.sowing.seeds_a_gram if crop is not None and crop.sowing is not None else None


def _crop_of(book: Book, what: str) -> Crop | None:
    """The figures of any crop that is sown from a kind of seed, for a lot whose own sheet has none."""
    for sheet in book.library.sheets.values():
        if sheet.crop is not None and any(use.what == what for step in sheet.steps for use in step.uses):
            return sheet.crop
    return None


# ── The tin's warmth and air ──────────────────────────────────────────────────────────────────────────────────────


def store_of(session: Session) -> Store | None:
    """Where the seed is kept, as it was last said."""
    rows = [row for row in store.lot_facts(session, TIN) if row.kind == "counted"]
    if not rows:
        return None
    c, rh = float(rows[-1].measures.get("c", 0)), float(rows[-1].measures.get("rh_percent", 0))
    try:
        times, beyond = tin_times(c, rh), ""
    except OutOfRange as error:
        times, beyond = None, str(error)
    return Store(c, rh, rows[-1].on_day.toordinal(), hundred(c, rh), times, beyond)


def keep_store(book: Book, c: float, rh_percent: float, today: Day) -> None:
    """Take down how warm and how damp the tin is."""
    row = LotFactRow(
        id=uuid4().hex, lot=TIN, kind="counted", on_day=date.fromordinal(today), created_at=book.now(),
        measures={"c": c, "rh_percent": rh_percent},
    )  # fmt: skip
    with book.writing() as session:
        store.add_lot_fact(session, row)
        book.replan(session, (), today)


def _tin_until(one: Lot, life: int | None, kept: Store | None) -> Day | None:
    if life is None or kept is None or kept.times is None:
        return None
    return one.made_on + round(life * kept.times)


# ── What is known of one lot ──────────────────────────────────────────────────────────────────────────────────────


def standard_of(crop: Crop | None) -> float:
    """What bought seed of a crop must reach, %: here the European figure, else the American one; 0 for none."""
    if crop is None or crop.test is None:
        return 0.0
    return crop.test.least_percent_eu or crop.test.least_percent or 0.0


def tried(on: Day, up: int, of: int, standard_percent: float) -> Tried:
    """A test with what it tells."""
    try:
        share = wilson(up, of)
    except OutOfRange as error:
        return Tried(on, up, of, None, standard_percent, None, None, str(error))
    if not standard_percent:
        return Tried(on, up, of, share, 0.0, None, None)
    percent = 100 * share.found
    times = sow_times(percent, standard_percent) if percent > 0 else None
    return Tried(on, up, of, share, standard_percent, verdict(percent, standard_percent), times)


def _last_test(one: Lot, measures: Mapping[str, tuple[Day, Mapping[str, object]]], standard: float) -> Tried | None:
    """The latest of the tests put down here and the one that its sheet asks for."""
    found = [_of_fact(fact, standard) for fact in one.facts if fact.kind == "tested"]
    on, asked = measures.get("test", (0, {}))
    up, of, percent = asked.get("up"), asked.get("tried", _SEEDS_TRIED), asked.get("up_percent")
    if not isinstance(up, int) and isinstance(percent, int | float):
        up, of = round(_SEEDS_TRIED * percent / 100), _SEEDS_TRIED
    if isinstance(up, int) and isinstance(of, int):
        found.append(tried(on, up, of, standard))
    return max(found, key=lambda test: test.on) if found else None


def _of_fact(fact: LotFact, standard: float) -> Tried:
    return tried(fact.on, int(fact.measures.get("up", 0)), int(fact.measures.get("tried", 0)), standard)


def _measures(
    book: Book, session: Session, today: Day, one: Lot, entry: Entry | None, sheet: Sheet | None
) -> dict[str, tuple[Day, Mapping[str, object]]]:
    """What was measured at each step of the entry that a lot came of, with the day; of several doings the last."""
    if entry is None or sheet is None:
        return {}
    words = words_of(book.live(session, today).facts.ticks.get(entry.id, ()), entry.id, sheet)
    found: dict[str, tuple[Day, Mapping[str, object]]] = {}
    for key, word in words.items():
        step = key[len(entry.id) + 1 :].partition(".")[0]
        if word.done is not None and (step not in found or word.done.on >= found[step][0]):
            found[step] = (word.done.on, dict(word.measures))
    return found


def _plants(measures: Mapping[str, tuple[Day, Mapping[str, object]]]) -> int | None:
    """From how many plants it was taken, as was counted when they were chosen."""
    for step, name in (("choose", "plants"), ("choose", "roots"), ("mark", "plants")):
        value = measures.get(step, (0, {}))[1].get(name)
        if isinstance(value, int) and not isinstance(value, bool):
            return value
    return None


def _is_f1(one: Lot, entry: Entry | None) -> bool:
    said = " f1" in f" {one.variety} {one.note}".casefold()
    return said or (entry is not None and entry.facts.get("f1") is True)


def _both(one: Lot, a_gram: float | None) -> tuple[float | None, int | None]:
    """What is left in grams and in seeds."""
    if one.left is None:
        return None, None
    if one.unit == SEEDS:
        return (one.left / a_gram if a_gram else None), round(one.left)
    if one.unit != "g":
        return None, None
    return one.left, (counted_by_weight(one.left, a_gram) if a_gram else None)
