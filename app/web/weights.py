"""Weights as the household reads them: kilos and grams, or pounds and ounces."""

from app.units import from_metric
from app.web.words import amount, figure


def weight(kg: float, imperial: bool = False) -> str:
    """A weight in words: "274 g", "1.11 kg", "2.4 lb"."""
    if imperial:
        return amount(float(figure_of(from_metric(kg, "lb"))), "lb")
    if kg < 0.9995:
        return amount(round(kg * 1000), "g")
    return amount(float(figure_of(kg)), "kg")


def figure_of(value: float) -> str:
    """Three figures that matter, and no idle noughts."""
    return f"{value:.3g}" if value < 1000 else f"{value:.0f}"


def span(low: float, high: float, unit: str) -> str:
    """Least and most of something: "17–34 kWh"; one figure where they are the same."""
    one, two = figure(low, 0 if high >= 10 else 1), figure(high, 0 if high >= 10 else 1)
    return amount_of(one if one == two else f"{one}–{two}", unit)


def amount_of(figures: str, unit: str) -> str:
    """Figures with their unit, never parted."""
    return f"{figures}\u00a0{unit}"
