"""How long meat keeps as a page: tables, with published and common practice told apart."""

from app.services.meat.keeping import Keeps, Tables
from app.sheets.library import Library
from app.web import pages, told
from app.web.parts import Frame, Link, Pair
from app.web.words import SP, counted, figure

RULES = {"uk": "United Kingdom and Ireland", "us": "United States"}
SORTS = {"joint": "chops, steaks and joints", "quick": "mince, stewing meat, sausages, offal, poultry"}
SUB = {
    "uk": "Fridge at 5 °C or less, freezer at −18 °C. Days in the fridge are for safety, months in the freezer for"
    " flavour.",
    "us": "Fridge at 40 °F or less, freezer at 0 °F. Days in the fridge are for safety, months in the freezer for"
    " flavour.",
}
NOTES = (
    "The lower figure is the one that jobs go by. Freezing stops the days in the fridge; thawing does not give them"
    " back.",
    "In the United Kingdom meat is frozen on or before its use-by day, and leftovers are eaten within two days (Food"
    " Standards Agency).",
    "Follow your local food-safety authority where it says otherwise.",
)
CAUTIONS = ("cook-through", "mince-raw", "vacuum-pack", "trichinella")
LINKS = (Link("Out of the freezer for a day", "/meat/thaw"), Link("Back from the table", "/meat/table"),
         Link("Larder", "/larder"))  # fmt: skip


def keeping_page(frame: Frame, library: Library, found: Tables) -> pages.Keeping:
    """The page; the rules of the holding's own nation come first."""
    lines = [(what, one) for what, one in sorted(found.keeping.items())]
    first = found.rule or "uk"
    return pages.Keeping(
        frame=frame,
        sub=SUB[first],
        published=tuple(_line(what, one) for what, one in lines if one.basis == "published"),
        common=tuple(_line(what, one) for what, one in lines if one.basis != "published"),
        thawed=tuple(
            Pair(f"{SORTS[sort]}, {RULES[rule]}", f"{counted(after.days, 'day')}; {after.says}")
            for rule, sort, after in sorted(found.thawed, key=lambda one: one[0] != first)
        ),
        cooking=tuple(pages.CookLine(dish, uk.says, us.says) for dish, uk, us in found.cooking),
        holds=tuple(Pair(f"{figure(c)}{SP}°C", _holds(seconds, o157)) for c, seconds, o157 in found.uk_holds),
        hanging=tuple(Pair(what, _range(days, "day")) for what, days in found.hanging.items()),
        trichinella=tuple(
            Pair(f"{figure(c, 1)}{SP}°C, up to {figure(cm)}{SP}cm thick", counted(days, "day"))
            for c, cm, days in found.trichinella
        ),
        notes=(
            f"A vacuum pack never lengthens it: cured, mixed or cooked meat in one is eaten within"
            f" {counted(found.vacuum_days, 'day')} at 3 to 8{SP}°C (Food Standards Agency, in summary).",
            *NOTES,
        ),
        cautions=told.cautions(library, CAUTIONS),
        links=LINKS,
    )


def _line(what: str, one: Keeps) -> pages.KeepLine:
    chilled = _range(one.chilled, "day") if one.chilled else "no figure: frozen or eaten the same day, not kept"
    frozen = _range(one.frozen, "month") if one.frozen else "–"
    return pages.KeepLine(what, chilled, frozen, one.source)


def _range(days: tuple[int, int], noun: str) -> str:
    low, high = days
    return counted(low, noun) if low == high else f"{low} to {high}{SP}{noun}s"


def _holds(seconds: int, o157: int) -> str:
    return _held(seconds) + (f"; mince and rolled joints {_held(o157)}" if o157 > seconds else "")


def _held(seconds: int) -> str:
    return f"{seconds}{SP}seconds" if seconds < 60 else f"{figure(seconds / 60)}{SP}minutes"
