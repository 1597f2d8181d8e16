"""The seed tin as a page: each lot with its life drawn, what is enough, what is too old, which lines must go on."""

from datetime import date

from app.services.book import Book
from app.services.garden.flowering import Crossing
from app.services.garden.seed_lines import Line, NotUp, Stale, says
from app.services.garden.seed_lot import SeedLot
from app.services.garden.seed_tin import Tin
from app.web import pages
from app.web.drawing import Stretch, at, line
from app.web.forms import Wrong
from app.web.garden import seed_words
from app.web.garden.seed_forms import add_form, kinds_of, store_form
from app.web.garden.seed_words import crop_of, jar_href, on
from app.web.links import entry_href
from app.web.parts import Frame, Link
from app.web.rows import job_href
from app.web.words import counted, day, month

STORE_NOTE = (
    "Harrington’s rules of thumb: seed lives twice as long for each 1 % it is drier and for each 5.6 °C cooler, and it "
    "keeps well where °F and % of air moisture together stay within a hundred. The lists’ years are taken to hold at "
    "10 °C and 50 %, and the seed to be as moist as that air leaves it, which is rough. A test tells more."
)


def seed_page(
    book: Book,
    frame: Frame,
    tin: Tin,
    stale: tuple[Stale, ...],
    late: tuple[NotUp, ...],
    lines: tuple[Line, ...],
    crossing: Crossing,
    wrong: Wrong,
) -> pages.SeedTin:
    """The page; what was refused stands beside its field."""
    today = book.today()
    stretch = _stretch(tin, today)
    kept = tin.store
    return pages.SeedTin(
        frame=frame,
        sub=_sub(tin, today),
        warnings=(*_stale(stale), *_late(late, today), *_crossing(crossing)),
        kinds=_kinds(tin, stretch, today),
        years=_years(stretch),
        lineages=tuple(_lineage(one, today) for one in lines),
        store=seed_words.store(kept) if kept is not None else "",
        store_note=STORE_NOTE,
        store_form=store_form(
            kept.c if kept is not None else None,
            kept.rh_percent if kept is not None else None,
            wrong,
            book.imperial,
        ),
        add=add_form(kinds_of(book.library.sheets.values()), wrong, today),
        open=wrong.which == "add" or not tin.lots,
        open_store=wrong.which == "store" or kept is None,
        gone=tuple(
            Link(f"{crop_of(one.lot.what)}, {month(on(one.lot.made_on))}", jar_href(one.lot.id)) for one in tin.gone
        ),
        links=(
            Link("What flowers together, here and next door", "/garden/seed/crossing"),
            *((Link("A label for every jar", "/garden/seed/labels"),) if tin.lots else ()),
        ),
        empty=""
        if tin.lots
        else "The tin is empty. Seed you save is in it the day its job is ticked; seed you bought is put in below.",
    )


def seed_line(one: SeedLot, stretch: Stretch, today: date) -> pages.SeedLine:
    """A lot in a line."""
    lot = one.lot
    grown = f"from {counted(one.plants, 'plant')}" if one.plants else ""
    parts = (lot.variety, one.came_of, grown, lot.place)
    return pages.SeedLine(
        name=month(on(lot.made_on)).capitalize(),
        href=jar_href(lot.id),
        sub=" · ".join(part for part in parts if part),
        have=seed_words.have(one) + ("; more was taken than there was: count it" if lot.short else ""),
        life=seed_words.life(one, today),
        trouble=seed_words.past(one, today),
        test=seed_words.test(one.test, today),
        f1=seed_words.F1 if one.f1 else "",
        line=line(stretch, lot.made_on, lot.keeps_until or lot.made_on, ()),
    )


def _kinds(tin: Tin, stretch: Stretch, today: date) -> tuple[pages.SeedKind, ...]:
    kinds: dict[str, list[SeedLot]] = {}
    for one in tin.lots:
        kinds.setdefault(one.lot.what, []).append(one)
    found = []
    for what, some in kinds.items():
        enough, lacking = seed_words.enough(tin.supplies[what])
        found.append(
            pages.SeedKind(crop_of(what), enough, lacking, tuple(seed_line(one, stretch, today) for one in some))
        )
    return tuple(found)


def _sub(tin: Tin, today: date) -> str:
    if not tin.lots:
        return ""
    old = sum(one.lot.keeps_until is not None and one.lot.keeps_until < today.toordinal() for one in tin.lots)
    short = sum(one.balance is not None and not one.balance.enough for one in tin.supplies.values())
    parts = [counted(len(tin.lots), "lot").capitalize()]
    parts += [f"{counted(old, 'lot')} past {'its' if old == 1 else 'their'} day"] if old else []
    parts += [f"{counted(short, 'kind')} short for next year"] if short else []
    return "; ".join(parts)


def _stretch(tin: Tin, today: date) -> Stretch:
    """Whole years, from the oldest harvest to the longest life, today within; twelve at most."""
    days = [day for one in tin.lots for day in (one.lot.made_on, one.lot.keeps_until) if day is not None]
    first = on(min([*days, today.toordinal()])).year
    last = max(on(max([*days, today.toordinal()])).year, first + 3)
    first = max(first, today.year - 6)
    last = min(last, first + 12)
    return Stretch(date(first, 1, 1).toordinal(), date(last, 12, 31).toordinal(), today.toordinal())


def _years(stretch: Stretch) -> tuple[tuple[float, str], ...]:
    first, last = on(stretch.first).year, on(stretch.last).year
    every = 1 if last - first < 7 else 2
    return tuple((at(stretch, date(year, 1, 1).toordinal()), str(year)) for year in range(first, last + 1, every))


def _lineage(one: Line, today: date) -> pages.SeedLineage:
    shown = [
        pages.Generation(
            each.name,
            entry_href(each.entry),
            day(on(each.sown), today),
            day(on(each.flowers), today) if each.flowers is not None else "",
            month(on(each.seed), today),
        )
        for each in one.generations
    ]
    keeps = f"{crop_of(one.what)} seed keeps {seed_words.age(one.life_days)}"
    return pages.SeedLineage(keeps, seed_words.lineage(one, today), one.late, tuple(shown))


def _stale(some: tuple[Stale, ...]) -> tuple[Link, ...]:
    return tuple(Link(f"{one.name}: {says(one)[:1].lower()}{says(one)[1:]}", entry_href(one.entry)) for one in some[:6])


def _late(some: tuple[NotUp, ...], today: date) -> tuple[Link, ...]:
    found = []
    for one in some[:6]:
        sown, waited = f"{one.name}, sown {day(on(one.sown), today)}", counted(one.waited_days, "day")
        again = "Sow them again" if one.gaps else "If it is bare, sow it again"
        again += (
            ", twice as thick." if one.still else "; but it is late for that this year, so set plants or another crop."
        )
        if one.gaps:
            text = f"{sown}, came up with gaps. {again}"
        else:
            text = f"{sown}, should be up: {waited} is more than twice what its seed needs. {again}"
        found.append(Link(text, job_href(one.key)))
    return tuple(found)


def _crossing(found: Crossing) -> tuple[Link, ...]:
    names = {one.entry: one.name for one in found.flowers}
    total = len(found.meetings)
    if not total:
        return ()
    who = ", ".join(names[entry] for entry in list(found.meetings)[:3])
    text = (
        f"{who}{' and more' if total > 3 else ''}: something of the same species flowers at the same time and too near."
    )
    return (Link(f"{text} See what, and what parts them.", "/garden/seed/crossing"),)
