"""How salt goes into a round piece (a jowl rolled up, a tied loin): Fick's law in a long cylinder."""

from math import cos, exp, pi, sin

from app.errors import OutOfRange

_J0_ZEROS = (
    2.404825557695773, 5.520078110286311, 8.653727912911013, 11.791534439014281, 14.930917708487787,
    18.071063967910924, 21.211636629879258, 24.352471530749302,
)  # fmt: skip
_J1_ZEROS = (
    3.831705970207512, 7.015586669815619, 10.173468135062722, 13.323691936314223, 16.470630050877634,
    19.615858510468243, 22.760084380592772, 25.903672087618382,
)  # fmt: skip
"""Source: from memory: Abramowitz and Stegun, Handbook of Mathematical Functions, table 9.5."""
_LEAST = 0.05


def round_share_of_even(fourier: float) -> float:
    """Salt in the middle of a cylinder that holds all of its cure: ``1 + sum(exp(-b² Fo) / J0(b))``, b the zeros of J1.

    ``fourier`` is Fo = D t / a² with radius a.
    Valid: Fo of 0.05 and more.
    Source: Bessel series of a closed cylinder with the salt laid on its face; from memory: Crank, 1975.
    Raises: OutOfRange below that.
    """
    _fit(fourier)
    return 1 + sum(exp(-(b**2) * fourier) / _bessel(0, b) for b in _J1_ZEROS)


def round_share_of_full(fourier: float) -> float:
    """Salt in the middle of a cylinder held in salt: ``1 - 2 * sum(exp(-a² Fo) / (a J1(a)))``, a the zeros of J0.

    Valid and raises: as `round_share_of_even`. Source: from memory: Crank, 1975, section 5.3.
    """
    _fit(fourier)
    return 1 - 2 * sum(exp(-(a**2) * fourier) / (a * _bessel(1, a)) for a in _J0_ZEROS)


def round_mean_uptake(fourier: float) -> float:
    """Mean salt in a cylinder held in salt: ``1 - 4 * sum(exp(-a² Fo) / a²)``, a the zeros of J0.

    Valid and raises: as `round_share_of_even`. Source: from memory: Crank, 1975, section 5.3.
    """
    _fit(fourier)
    return 1 - 4 * sum(exp(-(a**2) * fourier) / a**2 for a in _J0_ZEROS)


def _bessel(order: int, x: float, steps: int = 80) -> float:
    """Bessel's integral, ``1/pi * integral of cos(order t - x sin t)`` from 0 to pi; exact here by equal steps."""
    inner = sum(cos(order * k * pi / steps - x * sin(k * pi / steps)) for k in range(1, steps))
    return (inner + 0.5 * (1 + cos(order * pi))) / steps


def _fit(fourier: float) -> None:
    if fourier < _LEAST:
        raise OutOfRange("A Fourier number", fourier, f"{_LEAST:g} and more")
