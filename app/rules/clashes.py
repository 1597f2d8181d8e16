"""Clashes: two claims on one thing at one time. They are said and move nothing."""

from collections.abc import Container, Iterable

from app.rules.spans import Day
from app.rules.tasks import Bar, Clash


def clashes(claims: Iterable[Bar]) -> list[Clash]:
    """The overlaps of clash claims on one subject, found in one sweep, in a stable order.

    Of the many claims of one entry on one subject only those of different entries clash. Source: none; a sweep line.
    """
    by_subject: dict[tuple[str, str, str], list[Bar]] = {}
    for bar in claims:
        if bar.kind == "clash" and bar.last is not None:
            by_subject.setdefault((bar.on, bar.subject, bar.rule), []).append(bar)
    found = [clash for key in sorted(by_subject) for clash in _sweep(by_subject[key])]
    return sorted(found, key=lambda clash: (clash.first, clash.one, clash.other, clash.subject))


def clashes_with(whose: Container[str], mine: Iterable[Bar], every: Iterable[Bar]) -> list[Clash]:
    """Of all clashes those of some entries, whose own claims are ``mine``, with any others among ``every``."""
    by_subject: dict[tuple[str, str, str], list[Bar]] = {}
    for bar in mine:
        if bar.kind == "clash" and bar.last is not None:
            by_subject.setdefault((bar.on, bar.subject, bar.rule), []).append(bar)
    found = []
    for other in every if by_subject else ():
        if other.kind == "clash" and other.last is not None and other.by not in whose:
            for bar in by_subject.get((other.on, other.subject, other.rule), ()):
                if bar.first <= other.last and other.first <= _end(bar):
                    before, after = sorted((bar, other), key=_begins)
                    found.append(_clash(before, after))
    return sorted(found, key=lambda clash: (clash.first, clash.one, clash.other, clash.subject))


def _clash(before: Bar, bar: Bar) -> Clash:
    one, two = sorted((bar.by, before.by))
    return Clash(bar.on, bar.subject, one, two, bar.first, min(_end(bar), _end(before)), bar.says)


def _begins(bar: Bar) -> tuple[Day, str]:
    return bar.first, bar.by


def _sweep(bars: list[Bar]) -> list[Clash]:
    found: list[Clash] = []
    open_bars: list[Bar] = []
    for bar in sorted(bars, key=_begins):
        open_bars = [other for other in open_bars if _end(other) >= bar.first]
        for other in open_bars:
            if other.by != bar.by:
                clash = _clash(other, bar)
                found.append(clash)
        open_bars.append(bar)
    return found


def _end(bar: Bar) -> Day:
    return bar.first if bar.last is None else bar.last
