"""A crop's figures put where a sheet names them: "crop.growth.low_days", or "{crop.crossing.plants}" in a text."""

import re
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from app.errors import Fault
from app.sheets.crop import GROUPS, HEAD
from app.sheets.values import Doc, is_number, meant, shown

_ALONE = re.compile(r"(-?)crop((?:\.\w+)+)")
_IN_TEXT = re.compile(r"\{crop((?:\.\w+)*)\}")
_SPANS = frozenset({"by", "opens", "closes", "every", "keeps"})
"""The keys under which a duration stands, so that a figure of days becomes one."""

DERIVED: Mapping[str, tuple[str, ...]] = {
    "sowing.grams_a_m": ("sowing.seeds_a_gram", "spacing.plant_cm"),
    "sowing.grams_a_plant": ("sowing.seeds_a_gram",),
    "growth.useful_days": ("growth.low_days",),
}
"""Figures that are worked out of others: the seed for a metre of row and for one plant; by how long a last sowing comes
before the light goes."""

SHORT_DAY_DAYS = 14
"""What shortening days add to the days to maturity; common practice, as in `last_sowing_days`."""


def figured(doc: Doc, file: str) -> tuple[dict[str, Any], list[Fault]]:
    """A whole sheet with its crop's figures in place; what names no figure stays, and is a fault."""
    work = _Figures(doc.get("crop"), file)
    found = {key: value if key == "crop" else work.below(value, "", key) for key, value in doc.items()}
    return found, work.faults


class _Figures:
    """One sheet's figures, and what is wrong with the names it calls them by."""

    def __init__(self, crop: object, file: str) -> None:
        self.crop = crop if isinstance(crop, Mapping) else None
        self.file = file
        self.faults: list[Fault] = []

    def below(self, value: object, step: str, path: str) -> Any:
        """A value with every figure in it put in place; ``step`` and ``path`` say where it stands."""
        if isinstance(value, Mapping):
            return {
                key: self.below(one, *((path, key) if path == "facts" and not step else (step, f"{path}.{key}")))
                for key, one in value.items()
            }
        if isinstance(value, list):
            return [self._listed(one, step, path) for one in value]
        return self._text(value, step, path) if isinstance(value, str) else value

    def _listed(self, value: object, step: str, path: str) -> Any:
        if step or path not in ("step", "spell", "bar") or not isinstance(value, Mapping):
            return self.below(value, step, path)
        name = str(value.get("id", path))
        place = name if path == "step" else f"{path} {name}"
        return {key: self.below(one, place, key) for key, one in value.items()}

    def _text(self, text: str, step: str, path: str) -> Any:
        alone = _ALONE.fullmatch(text)
        if alone is None:
            return _IN_TEXT.sub(lambda found: self._word(found, step, path), text)
        value = self._figure(alone[2][1:], step, path)
        if value is None:
            return text
        if path.rpartition(".")[2] in _SPANS:
            return self._span(alone[2][1:], value, alone[1], step, path) or text
        if alone[1] and is_number(value):
            return -value
        return value

    def _word(self, found: re.Match[str], step: str, path: str) -> str:
        value = self._figure(found[1][1:], step, path)
        return found[0] if value is None else f"{value:g}".replace("-", "−") if is_number(value) else str(value)

    def _span(self, name: str, value: Any, sign: str, step: str, path: str) -> str:
        """A figure as an ISO 8601 duration: of days, of weeks (which may lie before) or of years, by its name."""
        key = name.rpartition(".")[2]
        unit = next((unit for unit in ("days", "weeks", "years") if unit in key.split("_")), "")
        if not unit or not is_number(value):
            reason = f"'crop.{name}' is no length of time; a duration takes a figure of days, weeks or years"
            self.faults.append(Fault(self.file, step, path, reason))
            return ""
        minus = "-" if (value < 0) != bool(sign) and value else ""
        if unit == "years":
            months = round(12 * abs(value))
            return f"{minus}P{months}M" if months % 12 else f"{minus}P{months // 12}Y"
        return f"{minus}P{round(abs(value))}{unit[0].upper()}"

    def _figure(self, name: str, step: str, path: str) -> Any:
        """The figure of a name such as "growth.low_days", None when there is none."""
        reason = self._unknown(name)
        if not reason:
            value = _worked_out(self.crop or {}, name) if name in DERIVED else _at(self.crop or {}, name)
            if isinstance(value, str) or is_number(value):
                return value
            reason = self._missing(name, value)
        self.faults.append(Fault(self.file, step, path, reason))
        return None

    def _unknown(self, name: str) -> str:
        """Why no crop has a figure of that name, "" when one may."""
        known = [*HEAD, *DERIVED, *(f"{group}.{key}" for group, (_, keys) in GROUPS.items() for key in keys)]
        return "" if name in known else f"there is no figure 'crop.{name}'{meant(name, known)}"

    def _missing(self, name: str, value: object) -> str:
        if self.crop is None:
            return f"names 'crop.{name}', and the sheet has no [crop]"
        if value is not None:
            return f"'crop.{name}' is {shown(value)}, and can't stand here"
        lacking = [one for one in DERIVED.get(name, (name,)) if not is_number(_at(self.crop, one))]
        group, _, key = (lacking or [name])[0].rpartition(".")
        return f"names 'crop.{name}', and this crop has none: [crop{'.' if group else ''}{group}] gives no {key}"


def _at(crop: Doc, name: str) -> Any:
    found: Any = crop
    for part in name.split("."):
        found = found.get(part) if isinstance(found, Mapping) else None
    return found


def _worked_out(crop: Doc, name: str) -> float | None:
    """Grams of seed: ``seeds_each`` (one when unsaid) for every plant, and as many plants as the spacing asks.

    Days of use: to the first harvest, and a fortnight for the shortening days.
    """
    if not all(is_number(_at(crop, one)) and _at(crop, one) > 0 for one in DERIVED[name]):
        return None
    if name == "growth.useful_days":
        return float(_at(crop, "growth.low_days") + SHORT_DAY_DAYS)
    each = _at(crop, "sowing.seeds_each")
    grams = (each if is_number(each) else 1) / _at(crop, "sowing.seeds_a_gram")
    if name == "sowing.grams_a_m":
        grams *= 100 / _at(crop, "spacing.plant_cm")
    return _two_figures(grams)


def _two_figures(value: float) -> float:
    """Rounded, halves up, to two significant figures."""
    exact = Decimal(repr(value))
    return float(exact.quantize(Decimal((0, (1,), exact.adjusted() - 1)), ROUND_HALF_UP))
