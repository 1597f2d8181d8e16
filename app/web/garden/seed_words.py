"""Seed in words: how much, how old, how it came up, whether there is enough."""

from datetime import date
from urllib.parse import quote

from app.rules.spans import Day
from app.services.garden.seed_lines import Line
from app.services.garden.seed_lot import SEEDS, SeedLot, Store, Tried
from app.services.garden.seed_supply import Supply
from app.web.words import SP, amount, counted, day, figure, listed, month

F1 = "An F1 kind: what it gives comes up mixed, not like its parent. Keep it and try it, by all means."
_MONTH = 30.4375


def jar_href(lot_id: str) -> str:
    """A lot's page."""
    return f"/garden/seed/{quote(lot_id, safe='')}"


def on(number: Day) -> date:
    """A day as a date."""
    return date.fromordinal(number)


def crop_of(what: str) -> str:
    """What is sown: "Parsnip" of "parsnip seed"."""
    name = what.removesuffix(" seed").removesuffix(" seeds")
    return name[:1].upper() + name[1:]


def seeds(number: float) -> str:
    """So many seeds, to the three figures that a weight can tell: "16 300 seeds"."""
    size = max(0, len(str(int(abs(number)))) - 3)
    return f"{figure(round(number, -size), 0)}{SP}seeds"


def have(one: SeedLot) -> str:
    """What is left: "38 g, some 16 300 seeds"."""
    if one.lot.left is None:
        return "not weighed"
    if one.lot.unit == SEEDS:
        return f"{figure(one.lot.left, 0)}{SP}seeds"
    weighed = amount(one.lot.left, one.lot.unit)
    return f"{weighed}, some {seeds(one.seeds)}" if one.seeds else weighed


def age(days: int) -> str:
    """How old: "three weeks", "18 months", "four years"."""
    if days < 61:
        return counted(days // 7, "week") if days >= 14 else counted(days, "day")
    months = round(days / _MONTH)
    if months < 24:
        return counted(months, "month")
    return counted(months // 12, "year") + (" and a half" if months % 12 >= 6 else "")


def life(one: SeedLot, today: date) -> str:
    """How old, by when to sow it, and how much of its life is left."""
    until = one.lot.keeps_until
    old = f"{age(one.age_days)} old" if one.age_days else "of today"
    if until is None:
        return f"{old}; nothing says how long it keeps"
    left = until - today.toordinal()
    if left < 0:
        return f"{old}; was to be sown by {day(on(until), today)}"
    share = f", {round(100 * one.life_left)}{SP}% of its life" if one.life_left is not None else ""
    return f"{old}; sow by {day(on(until), today)}: {age(left)} left{share}{_in_tin(one, until, today)}"


def _in_tin(one: SeedLot, until: Day, today: date) -> str:
    """What the tin's warmth and air make of it, where they cut it short."""
    here = one.tin_until
    if here is None or here >= until - _MONTH:
        return ""
    if here < today.toordinal():
        return ". By the tin’s warmth and damp it may be past already: try twenty"
    return f". By the tin’s warmth and damp rather by {month(on(here), today)}"


def past(one: SeedLot, today: date) -> str:
    """What is wrong with its age; "" when nothing is."""
    until = one.lot.keeps_until
    if until is None or until >= today.toordinal():
        return ""
    if not one.lot.what.endswith("seed"):
        return "past its day"
    good = one.test is not None and one.test.verdict == "sow as usual" and one.test.on >= until
    return "past its day, and comes up yet" if good else "past its day: try it before you trust it"


def test(one: Tried | None, today: date) -> str:
    """A test in words, with the honesty of a small count."""
    if one is None:
        return ""
    when = day(on(one.on), today)
    if one.share is None:
        return f"{one.up} of {one.tried}, {when}, can’t be: count that test again."
    low, high = round(100 * one.share.low), round(100 * one.share.high)
    found = f"{one.up} of {one.tried} came up, {when}: of so few, it may be {low} to {high} in a hundred."
    return f"{found} {todo(one)}".strip()


def todo(one: Tried) -> str:
    """What to do after a test."""
    if one.verdict is None:
        return ""
    standard = f"bought seed must reach {figure(one.standard_percent)}{SP}%"
    if one.verdict == "sow as usual":
        return f"Sow as usual: {standard}."
    if one.verdict == "resow thick or discard":
        return f"Under half of what is wanted ({standard}): sow it thick and have other seed by, or throw it away."
    return f"Sow {figure(one.times or 1, 1)} times as much: {standard}."


def enough(one: Supply) -> tuple[str, bool]:
    """Whether there is enough of a kind of seed, and whether it is lacking."""
    if not one.sowings:
        return "Nothing is planned that wants it.", False
    named = listed([*one.sowings[:2], *([f"{len(one.sowings) - 2} more"] if len(one.sowings) > 2 else [])])
    whom = f"as last year, for {named}" if one.like_last_year else f"for {named}"
    if one.balance is None:
        return f"Wanted {whom}; how much there is of it nobody has weighed.", False
    wanted, there = _much(one.balance.wanted, one.unit), _much(one.balance.are, one.unit)
    if not one.balance.enough:
        lack = _much(-one.balance.over, one.unit)
        return f"Not enough: {wanted} wanted {whom}, and {there} good by then; {lack} short, with some to spare.", True
    over = f" {_much(one.balance.over, one.unit)} could be given away." if one.balance.over > one.balance.wanted else ""
    return f"Enough: {wanted} wanted {whom}, {there} there.{over}", False


def _much(value: float, unit: str) -> str:
    return seeds(value) if unit == SEEDS else amount(value, unit)


def store(one: Store) -> str:
    """The tin's warmth and air, and what they make of a life."""
    total = f"{figure(one.c, 1)}{SP}°C and {figure(one.rh_percent, 0)}{SP}%: {figure(one.c * 1.8 + 32, 0)}{SP}°F and "
    total += f"{figure(one.rh_percent, 0)}{SP}% make {figure(one.sum, 0)}"
    verdict = "within the hundred that keeps seed well" if one.sum <= 100 else "above the hundred that keeps seed well"
    if one.times is None:
        return f"{total}, {verdict}. {one.beyond}"
    if one.times >= 1.15:
        lives = (
            f"Seed lives some {figure(one.times, 1)} times as long as the lists say; sow-by days are left as listed."
        )
    elif one.times <= 0.87:
        lives = f"Seed lives about {round(100 * one.times)}{SP}% as long as the lists say."
    else:
        lives = "Seed lives about as long as the lists say."
    return f"{total}, {verdict}. {lives}"


def lineage(one: Line, today: date) -> str:
    """How many generations of a line stand, and when the next must be sown."""
    stand = {0: "No generation stands", 1: "One generation stands"}.get(
        one.standing, f"{counted(one.standing, 'generation').capitalize()} stand"
    )
    if one.late:
        return f"{stand}, and none was sown behind it for more than a year: sow again, or the line ends."
    if one.sow_by is None:
        return f"{stand}, and the next is planned."
    return f"{stand}; sow the next by {day(on(one.sow_by), today)}."
