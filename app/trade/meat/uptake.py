"""Salt going into meat that is held in salt all the while: Fick's law in a slab, its faces saturated."""

from math import cos, exp, pi

from app.errors import OutOfRange

_TERMS = 60


def mean_uptake(fourier: float) -> float:
    """Mean salt in a slab, as a share of full: ``1 - 8/pi² * sum(exp(-(2n+1)² pi² Fo / 4) / (2n+1)²)``, n from 0.

    ``fourier`` is Fo = D t / a² with half-thickness a.
    Valid: Fo of 0.001 and more.
    Source: Crank, The Mathematics of Diffusion, 1975, pp. 47-48, as given in the PolyKin documentation.
    Raises: OutOfRange below that.
    """
    _fit(fourier)
    odd = range(1, 2 * _TERMS, 2)
    return 1 - 8 / pi**2 * sum(exp(-((m * pi) ** 2) * fourier / 4) / m**2 for m in odd)


def share_of_full(fourier: float, place: float) -> float:
    """Salt at a place, as a share of full: ``1 - 4/pi * sum((-1)ⁿ/(2n+1) exp(-(2n+1)² pi² Fo/4) cos((2n+1) pi x/2a))``.

    ``place`` is x/a: 0 in the middle and 1 at the face.
    Valid: Fo of 0.001 and more, a place of 0 to 1.
    Source: as `mean_uptake`.
    Raises: OutOfRange beyond that.
    """
    _fit(fourier)
    if not 0 <= place <= 1:
        raise OutOfRange("A place", place, "0 in the middle to 1 at the face")
    terms = (
        (1 - 2 * (n % 2))
        / (2 * n + 1)
        * exp(-(((2 * n + 1) * pi) ** 2) * fourier / 4)
        * cos((2 * n + 1) * pi * place / 2)
        for n in range(_TERMS)
    )
    return 1 - 4 / pi * sum(terms)


def _fit(fourier: float) -> None:
    if fourier < 0.001:
        raise OutOfRange("A Fourier number", fourier, "0.001 and more")
