"""How salt goes into a round piece (a jowl rolled up, a tied loin): Fick's law in a long cylinder."""

from functools import cache
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
_NEGLIGIBLE = 40.0
"""An exponent from which on a term is below 1e-17."""
_HALVINGS = 48


def round_share_of_even(fourier: float, place: float = 0.0) -> float:
    """Salt in a cylinder that holds all of its cure: ``1 + sum(exp(-b² Fo) J0(b place) / J0(b))``, b the zeros of J1.

    ``fourier`` is Fo = D t / a² with radius a, ``place`` is r/a: 0 in the middle and 1 at the face.
    Valid: Fo of 0.05 and more, a place of 0 to 1.
    Source: Bessel series of a closed cylinder with the salt laid on its face; from memory: Crank, 1975.
    Raises: OutOfRange beyond that.
    """
    _fit(fourier)
    if not 0 <= place <= 1:
        raise OutOfRange("A place", place, "0 in the middle to 1 at the face")
    zeros = [b for b in _J1_ZEROS if b**2 * fourier < _NEGLIGIBLE]
    return 1 + sum(exp(-(b**2) * fourier) * _bessel(0, b * place) / _at_zero(b) for b in zeros)


def round_fourier_for(share: float) -> float:
    """The Fourier number at which the middle of the cylinder has reached ``share`` of its final salt, by halving.

    Valid: shares of 0.3 to 0.999. Source: `round_share_of_even`. Raises: OutOfRange beyond that.
    """
    if not 0.3 <= share <= 0.999:
        raise OutOfRange("A share", share, "0.3 to 0.999")
    low, high = _LEAST, 2.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if round_share_of_even(middle) < share else (low, middle)
    return high


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


@cache
def _at_zero(b: float) -> float:
    """J0 at a zero of J1: eight numbers, reckoned once."""
    return _bessel(0, b)


def _bessel(order: int, x: float, steps: int = 40) -> float:
    """Bessel's integral, ``1/pi * integral of cos(order t - x sin t)`` from 0 to pi; exact here by equal steps."""
    if order == 0 and x == 0:
        return 1.0
    inner = sum(cos(order * k * pi / steps - x * sin(k * pi / steps)) for k in range(1, steps))
    return (inner + 0.5 * (1 + cos(order * pi))) / steps


def _fit(fourier: float) -> None:
    if fourier < _LEAST:
        raise OutOfRange("A Fourier number", fourier, f"{_LEAST:g} and more")
