"""Simply supported rectangles by series: Navier, Levy.

Everything is per unit short side, load and bending stiffness: deflections in
q a^4/D or P a^2/D, moments in q a^2 or P; nu = 0.3, kappa = 5/6.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

NU = 0.3


@dataclass(frozen=True)
class Bending:
    """Deflection, moments mx and my at the centre, and the moment across the middle of edge x = a/2 (and y = b/2)."""

    deflection: float
    mx: float
    my: float
    edge_x: float = 0.0
    edge_y: float = 0.0


def shear_stiffness(thickness: float) -> float:
    """kappa G h over D, for a thickness per side."""
    return 5 / 6 * 6 * (1 - NU) / thickness**2


def navier(
    ratio: float = 1.0, patch: tuple[float, float] | None = None, thickness: float = 0.0, terms: int = 601
) -> Bending:
    """Simply supported (hard), side b = ratio a, even pressure or a centred patch of total force 1.

    Source: L. Navier 1823; with shear: R. D. Mindlin, J. Appl. Mech. 18 (1951) 31.  Moments do not depend on shear.
    """
    m = np.arange(1, terms + 1, 2)
    sign = (-1.0) ** ((m - 1) // 2)
    u, v = patch if patch is not None else (1.0, ratio)
    along = 4 / (np.pi * m * u) * sign * np.sin(m * np.pi * u / 2)
    across = 4 / (np.pi * m * v) * sign * np.sin(m * np.pi * v / (2 * ratio))
    force = 1.0 if patch is not None else ratio
    load = force * np.outer(along, across)
    kx, ky = (m * np.pi)[:, None] ** 2, (m * np.pi / ratio)[None, :] ** 2
    lam = kx + ky
    centre = np.outer(sign, sign)
    bent = load / lam**2
    shear = load / lam / shear_stiffness(thickness) if thickness else 0.0
    return Bending(
        float((centre * (bent + shear)).sum()),
        float((centre * bent * (kx + NU * ky)).sum()),
        float((centre * bent * (ky + NU * kx)).sum()),
    )


def levy_even(ratio: float, terms: int = 101) -> Bending:
    """Simply supported, even pressure.  Source: M. Levy 1899; S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates
    and Shells, 2nd ed. 1959, section 30 (section number from memory)."""
    m = np.arange(1, terms, 2)
    sign = (-1.0) ** ((m - 1) // 2)
    alpha = m * np.pi * ratio / 2
    inverse_cosh = 2 * np.exp(-alpha) / (1 + np.exp(-2 * alpha))
    factor = 4 / np.pi**5 / m**5 * sign
    across = (m * np.pi) ** 2
    profile = 1 - (alpha * np.tanh(alpha) + 2) / 2 * inverse_cosh
    w_xx = -across * profile
    w_yy = -across * alpha * np.tanh(alpha) / 2 * inverse_cosh
    return Bending(
        float((factor * profile).sum()),
        -float((factor * (w_xx + NU * w_yy)).sum()),
        -float((factor * (w_yy + NU * w_xx)).sum()),
    )


def levy_point(ratio: float, terms: int = 2001) -> float:
    """Deflection under a central point force, simply supported, P a^2/D.  Source: as above, section 34 (memory)."""
    m = np.arange(1, terms, 2)
    alpha = m * np.pi * ratio / 2
    inverse_cosh = 2 * np.exp(-alpha) / (1 + np.exp(-2 * alpha))
    return float(((np.tanh(alpha) - alpha * inverse_cosh**2) / m**3).sum() / (2 * np.pi**3))
