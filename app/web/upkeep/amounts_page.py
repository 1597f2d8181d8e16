"""How much to buy as a page: one sum, the list for the months to come, and how things are sold here."""

from collections.abc import Mapping
from datetime import date

from app.rules.spans import Day
from app.services.book import Book
from app.services.upkeep.amounts import Amount, Asked, Stuff, kind_of, materials
from app.services.upkeep.prices import Pack, Prices, Tin
from app.services.upkeep.shopping import Wanted
from app.web import pages, told
from app.web.forms import Wrong, field, fresh
from app.web.pages.upkeep import Bought
from app.web.parts import Choice, Form, Frame, Link, Pair
from app.web.typed import Typed
from app.web.upkeep.words import on, quoted, task_href
from app.web.words import SP, amount, counted, day, figure, listed

MONTHS = (3, 6, 12)
UNITS = ("l", "ml", "kg", "g", "m", "pieces", "plants", "tube")
CAUTIONS = {"mortar": ("lime-burns",), "paint": ("lead-paint", "ladders")}
_PACK_WORDS = {"l": ("tin", "tins"), "kg": ("bag", "bags")}
NO = "no"


def amounts_page(
    book: Book,
    frame: Frame,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    asked: Asked | None,
    found: Amount | None,
    wanted: tuple[Wanted, ...],
    months: int,
    known: Prices,
    wrong: Wrong,
    today: date,
) -> pages.UpkeepAmounts:
    """The page."""
    costs = [one.buy.cost for one in wanted if one.buy is not None and one.priced]
    return pages.UpkeepAmounts(
        frame=frame,
        form=_form(typed, errors),
        answer=_answer(found) if found is not None else "",
        things=tuple(_stuff(one) for one in found.things) if found is not None else (),
        why=_why(found) if found is not None else (),
        choose=tuple(
            Link(f"{one} months", f"/upkeep/amounts?months={one}#list", one == months) for one in MONTHS
        ),
        list_heading=f"For the jobs of the next {counted(months, 'month')}",
        shopping=tuple(_wanted(book, one, today) for one in wanted),
        total=f"{figure(sum(costs), 2)} by your prices, for what has one" if costs else "",
        packs=_packs_form(wrong),
        packs_open=bool(wrong.errors) or bool(wrong.typed.get("what")),
        known=tuple(Pair(_upper(one.what), _pack(one)) for one in known.of_upkeep()),
        cautions=told.cautions(book.library, CAUTIONS.get(kind_of(asked.what), ())) if asked is not None else (),
        nothing="" if wanted else "No job of these months uses anything up.",
    )  # fmt: skip


def _form(typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    yes_no = (Choice("yes", "Yes"), Choice(NO, "No"))
    fields = (
        field("what", "What it is", typed, errors, kind="list", required=True,
              choices=tuple(Choice(one, one.capitalize()) for one in materials())),
        field("area", "Area", typed, errors, kind="number", unit="m²", required=True),
        field("coats", "Coats", typed, errors, "2", kind="count"),
        field("bare", "On bare work", typed, errors, NO, kind="choice", choices=yes_no),
        field("depth", "Depth, for gravel", typed, errors, "50", kind="number", unit="mm"),
        field("lime", "With lime in place of cement, for mortar", typed, errors, NO, kind="choice", choices=yes_no),
        field("waste", "Waste", typed, errors, kind="number", unit="%", help="Left empty, what is usual for it."),
        field("tins", "Sold in", typed, errors, unit="",
              help="Litres or kilos of each pack: 10 5 2.5. With prices: 10=54 5=30 2.5=18."),
    )  # fmt: skip
    return Form("/upkeep/amounts", "Reckon it", fields, method="get")


def read_amount(form: Typed) -> Asked:
    """What was typed.

    Raises: BadInput with a sentence per field.
    """
    what = form.choice("what", materials(), "Choose what it is.")
    area = form.number("area", 0, 100_000, "m²", "How large is it?")
    if area == 0:
        form.fault("area", "For nothing there is nothing to buy; more than 0 is wanted.")
    coats = form.number("coats", 1, 12)
    if coats is not None and coats != round(coats):
        form.fault("coats", "A whole number of coats is wanted.")
    depth = form.number("depth", 5, 500, "mm")
    waste = form.number("waste", 0, 100, "%")
    bare, lime = form.choice("bare", ("yes", NO)), form.choice("lime", ("yes", NO))
    tins = _tins(form)
    form.check()
    return Asked(what, area or 0.0, round(coats or 2), waste, depth or 50.0, lime == "yes", bare == "yes", tins)


def _tins(form: Typed) -> tuple[Tin, ...]:
    """Packs as "10 5 2.5", or with prices "10=54 5=30"."""
    found = []
    for part in form.raw("tins").replace(";", " ").split():
        size, _, price = part.partition("=")
        try:
            one = Tin(float(size.replace(",", ".")), float(price.replace(",", ".")) if price else 0.0)
        except ValueError:
            form.fault("tins", f"{part[:20]!r} is no pack; 10 5 2.5, or with prices 10=54 5=30.")
            return ()
        if not 0.05 <= one.size <= 10_000 or not 0 <= one.price <= 1_000_000:
            form.fault("tins", "A pack holds between 0.05 and 10000, and costs 0 or more.")
            return ()
        found.append(one)
    return tuple(found[:3])


def _packs_form(wrong: Wrong) -> Form:
    typed, errors = wrong.of("packs")
    fields = (
        field("what", "What", typed, errors, required=True, id="pack-what",
              help="As the list has it: masonry paint, bituminous paint, cement."),
        field("size", "A pack holds", typed, errors, kind="number", required=True),
        field("unit", "Counted in", typed, errors, "l", kind="list", choices=tuple(Choice(one, one) for one in UNITS)),
        field("price", "A pack costs", typed, errors, kind="number"),
        field("lead", "Days until it comes", typed, errors, kind="count"),
    )  # fmt: skip
    return Form("/upkeep/amounts", "Keep it", fields, fresh(), quiet=True)


def read_pack(form: Typed) -> Pack:
    """How something is sold, as typed.

    Raises: BadInput with a sentence per field.
    """
    what = " ".join(form.text("what", "What is it?", 80).split()).casefold()
    unit = form.choice("unit", UNITS, "In what is it counted?")
    size = form.number("size", 0.01, 100_000, needed="How much does a pack hold?")
    price = form.number("price", 0.01, 1_000_000)
    lead = form.number("lead", 0, 365, "days")
    form.check()
    return Pack(what, unit, size, price, None if lead is None else round(lead))


def _answer(found: Amount) -> str:
    parts = [f"{_much(one.needed, one.unit)} of {one.name}" for one in found.things]
    return f"{listed(parts)}." if parts else ""


def _upper(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _why(found: Amount) -> tuple[Pair, ...]:
    return (
        *(Pair("Reckoned" if n == 0 else "then", text) for n, text in enumerate(found.why)),
        Pair("From", found.source),
    )


def _much(value: float, unit: str) -> str:
    if unit == "l":
        return f"{figure(value, 1)}{SP}litres"
    if unit == "pieces":
        return counted(round(value), "piece")
    return amount(round(value) if value >= 20 else round(value, 1), unit)


def _stuff(one: Stuff) -> Bought:
    spread = f", {figure(one.low, 0)} to {figure(one.high, 0)} as the wall drinks" if one.high - one.low > 0.5 else ""
    cost = f"{figure(one.buy.cost, 2)} in all" if one.priced and one.buy.cost else ""
    over = f"; {_much(one.buy.left, one.unit)} left over" if one.buy.left > 0.05 else ""
    packs = f"{_packs(one.buy.counts, one.unit)}{over}"
    return Bought(_upper(one.name), f"{_much(one.needed, one.unit)}{spread}", packs, cost)


def _packs(counts: tuple[tuple[float, int], ...], unit: str) -> str:
    one, many = _PACK_WORDS.get(unit, ("pack", "packs"))
    if not counts:
        return ""
    return listed(f"{counted(count, one, many)} of {amount(size, unit)}" for size, count in counts)


def _wanted(book: Book, one: Wanted, today: date) -> Bought:
    jobs = tuple(
        Link(f"{each.title}, {each.element.entry.name}", task_href(book, each.task, each.element.entry.id))
        for each in one.jobs[:4]
    )
    now: Day = today.toordinal()
    packs = _packs(one.buy.counts, one.unit) if one.buy is not None else ""
    cost = figure(one.buy.cost, 2) if one.buy is not None and one.priced and one.buy.cost else ""
    by = "order it now" if one.order_by <= now else f"order by {day(on(one.order_by), today)}"
    href = "" if packs and one.priced else f"/upkeep/amounts?pack={quoted(one.what)}&unit={quoted(one.unit)}#packs"
    return Bought(_upper(one.what), _much(one.amount, one.unit), packs, cost, by, jobs, href, one.order_by <= now)


def _pack(one: Pack) -> str:
    parts = (
        amount(one.size, one.unit) if one.size else "",
        figure(one.price, 2) if one.price else "no price",
        f"comes in {counted(one.lead_days, 'day')}" if one.lead_days is not None else "",
    )
    return ", ".join(part for part in parts if part)
