"""The household as a page: its people and their hours, and the place with what it rests on."""

from collections.abc import Mapping
from datetime import date

from app.services.household import Away, HouseView, PersonView, Place
from app.services.setup import Estimate
from app.web import pages
from app.web.forms import Wrong
from app.web.house.start_forms import frost_fields, frost_note, place_fields, table_fields
from app.web.parts import Field, Form, Frame, Link, Undoing
from app.web.words import SP, WEEKDAYS, between, counted, figure, hours


def household_page(frame: Frame, view: HouseView, today: date, wrong: Wrong) -> pages.Household:
    """The page, with what was refused beside its field."""
    typed, errors = wrong.of("holding")
    estimated = view.estimated
    known = {**_known(view.place, estimated), **typed}
    if typed and "frost_hollow" not in typed:
        known["frost_hollow"] = ""  # a box without its tick is not sent
    person_typed, person_errors = wrong.of("person")
    name = Field(
        "person_name",
        "Name",
        value=person_typed.get("person_name", ""),
        error=person_errors.get("person_name", ""),
        required=True,
    )
    return pages.Household(
        frame=frame,
        parts=(
            pages.Part("What it is", place_fields(known, errors, own_months=view.own_months)),
            pages.Part("Frost", frost_fields(estimated, known, errors), frost_note(estimated)),
            pages.Part("The table", table_fields(view.place.where.nation, known, errors)),
            pages.Part("Whom to call", (_vet(known, errors),)),
        ),
        holding=Form("/household", "Keep", note="Every date follows."),
        people=tuple(_person(one, today, wrong) for one in view.people),
        add=Form("/household/people", "Add", (name,), quiet=True, error=_first(person_errors)),
        total=_total(view),
        links=(Link("The round, for whoever minds the place", "/round"), Link("How it’s done, sheet by sheet", "/add")),
    )


def _vet(known: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    about = "It stands on the round, for whoever minds the place."
    return Field("vet", "The vet, with the number", value=known.get("vet", ""), help=about, error=errors.get("vet", ""))


def _person(one: PersonView, today: date, wrong: Wrong) -> pages.Person:
    here = f"/household/people/{one.id}"
    typed, errors = wrong.of(f"hours {one.id}")
    fields = tuple(
        Field(
            name.lower(),
            name[:3],
            "number",
            typed.get(name.lower(), figure(given / 60)),
            "h",
            error=errors.get(name.lower(), ""),
            id=f"p{one.id}-{name.lower()}",
        )
        for name, given in zip(WEEKDAYS, one.minutes, strict=True)
    )
    return pages.Person(
        name=one.name,
        hours=Form(f"{here}/hours", "Keep", fields, quiet=True),
        week=f"{hours(sum(one.minutes))} in a week",
        away=tuple(_away(away, today) for away in one.away),
        add_away=_away_form(here, one.id, wrong),
        leave=Form(f"{here}/leave", "Take off the list", note="What was said stays said.", quiet=True),
    )


def _away(one: Away, today: date) -> Undoing:
    back = Form(f"/household/away/{one.id}/back", "Take back", quiet=True)
    return Undoing(f"Away {between(one.first, one.last, today)}", one.note, back)


def _away_form(here: str, ident: int, wrong: Wrong) -> Form:
    typed, errors = wrong.of(f"away {ident}")
    fields = tuple(
        Field(
            name, label, "date", typed.get(name, ""), error=errors.get(name, ""), id=f"p{ident}-{name}", required=True
        )
        for name, label in (("from", "From"), ("to", "To"))
    )
    return Form(f"{here}/away", "Put it down", fields, quiet=True, error=_first(errors))


def _total(view: HouseView) -> str:
    if not view.people:
        return "Nobody is on the list yet. With hours put down, a month can say what fits."
    between_them = f" between {counted(len(view.people), 'person', 'people')}" if len(view.people) > 1 else ""
    rounds = f"; the rounds take {hours(view.round_minutes)} of them" if view.round_minutes else ""
    return f"{hours(view.minutes)} in a week{between_them}{rounds}"


def _known(place: Place, estimated: Estimate) -> dict[str, str]:
    where, house = place
    known = {
        "name": where.name,
        "nation": where.nation,
        "latitude": f"{where.latitude:g}",
        "longitude": f"{where.longitude:g}",
        "height_m": f"{where.altitude_m:g}",
        "climate": where.climate,
        "aspect": where.aspect,
        "frost_hollow": "yes" if where.frost_hollow else "",
        "mouths": f"{house.mouths:g}",
        "units": house.units,
        "timezone": house.timezone,
        "vet": house.vet,
    }
    for name, kept, guess in (
        ("last_frost", house.last_frost, estimated.last_frost),
        ("first_frost", house.first_frost, estimated.first_frost),
    ):
        if kept is not None:
            known[name] = f"{guess.year if guess is not None else 2001:04}-{kept[2:]}"
    return known


def _first(errors: Mapping[str, str]) -> str:
    """A form that lies folded is opened by an error of its own."""
    return f"Please look again:{SP}nothing was changed." if errors else ""
