"""How salt evens out in meat that holds all of its cure: Fick's law in a slab, no salt leaving."""

from functools import lru_cache
from math import cos, exp, pi

from app.errors import OutOfRange

_SECONDS_A_DAY = 86_400
_TERMS = 14
"""At the least Fourier number, 0.02, the term left out is below 1e-16."""
_HALVINGS = 48


def share_of_even(fourier: float, place: float) -> float:
    """Salt at a place in a slab, as a share of what it will be when it is even throughout.

    ``1 + 2 * sum((-1)**n * exp(-n**2 * pi**2 * Fo) * cos(n * pi * place))``, n from 1; ``fourier`` is Fo = D t / a²
    with half-thickness a, ``place`` is 0 in the middle and 1 at the face.
    Valid: Fo of 0.02 and more, place of 0 to 1.
    Source: the cosine series of a slab with closed faces and the salt laid on them; from memory: Crank, The
    Mathematics of Diffusion, 1975.
    Raises: OutOfRange below that.
    """
    if fourier < 0.02:
        raise OutOfRange("A Fourier number", fourier, "0.02 and more")
    if not 0 <= place <= 1:
        raise OutOfRange("A place", place, "0 in the middle to 1 at the face")
    terms = (cos(n * pi) * exp(-((n * pi) ** 2) * fourier) * cos(n * pi * place) for n in range(1, _TERMS))
    return 1 + 2 * sum(terms)


@lru_cache(maxsize=64)
def fourier_for(share: float) -> float:
    """The Fourier number at which the middle of the slab has reached ``share`` of its final salt, by halving.

    Valid: shares of 0.05 to 0.999.
    Source: `share_of_even`.
    Raises: OutOfRange beyond that.
    """
    if not 0.05 <= share <= 0.999:
        raise OutOfRange("A share", share, "0.05 to 0.999")
    low, high = 0.02, 2.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if share_of_even(middle, 0.0) < share else (low, middle)
    return high


def even_days(path_mm: float, salt_1e10_m2_s: float, share: float) -> float:
    """Days until the far end of a path of ``path_mm`` has ``share`` of its salt: ``Fo * a² / D``.

    ``path_mm`` is half the thickness when both faces take salt, all of it when one is skin; the diffusivity D is in
    1e-10 m²/s.
    Valid: paths and diffusivities above 0.
    Source: `fourier_for`.
    Raises: OutOfRange beyond that.
    """
    if path_mm <= 0:
        raise OutOfRange("A path", path_mm, "more than 0 mm")
    if salt_1e10_m2_s <= 0:
        raise OutOfRange("A diffusivity", salt_1e10_m2_s, "more than 0")
    return days_at(fourier_for(share), path_mm, salt_1e10_m2_s)


def days_at(fourier: float, path_mm: float, salt_1e10_m2_s: float) -> float:
    """Days until a path has come to a Fourier number: ``Fo * a² / D``.

    Valid: as `even_days`. Source: the definition of the Fourier number.
    """
    return fourier * (path_mm / 1000) ** 2 / (salt_1e10_m2_s * 1e-10) / _SECONDS_A_DAY


def fourier_at(days: float, path_mm: float, salt_1e10_m2_s: float) -> float:
    """The Fourier number of a path after some days: ``D * t / a²``; `days_at` turned round.

    Valid: as `even_days`. Source: the definition of the Fourier number.
    """
    return days * _SECONDS_A_DAY * salt_1e10_m2_s * 1e-10 / (path_mm / 1000) ** 2
