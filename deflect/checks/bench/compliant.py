"""Bodies that friction stretches, as patches with modes (``Footing.bends``): a rod on a bed, two spheres on each other.

A mode stores half the square of its amount, so that any root B of a compliance, C = B B', is a set of modes.
"""

from __future__ import annotations

import numpy as np
from scipy.special import ellipe, ellipk

from deflect.mechanics.arrays import Floats

# Gauss points over a ring's area: the influence of ring on ring agrees with its reverse to a ten-thousandth.
_POINTS = 6


def rod_modes(patches: int, length: float, stiffness: float) -> Floats:
    """Modes (2 n, n) of a rod along x in n equal patches, seen from its near end; stiffness: E A, N.

    Each mode stretches the piece between one patch's middle and the next one's, the first that between the end and
    the first middle.
    """
    give = np.full(patches, length / patches / stiffness)
    give[0] /= 2
    moved: Floats = np.tril(np.ones((patches, patches))) * np.sqrt(give)
    return _along_x(moved)


def rings(count: int, radius: float) -> Floats:
    """Edges of rings (n + 1,) on a disc, narrower towards its rim, mm."""
    return np.asarray(radius * np.sin(np.linspace(0.0, np.pi / 2, count + 1)))


def sphere_modes(edges: Floats, shear_modulus: float) -> Floats:
    """Modes (2 n, n) of the rings of contact between two like bodies, half spaces without Poisson's effect.

    Friction along x alone, even over each ring and moving it by its mean: without Poisson's effect nothing moves
    across.  Source: V. Cerruti's force on a half space, integrated over discs (K. L. Johnson, Contact Mechanics, 1985,
    section 3.4; from memory).
    """
    nodes, weights = np.polynomial.legendre.leggauss(_POINTS)
    square = edges**2
    places = np.sqrt(square[:-1, None] + (0.5 + nodes / 2) * np.diff(square)[:, None])
    discs = np.column_stack([np.zeros(len(edges) - 1), *(_over_disc(places, edge) @ weights / 2 for edge in edges[1:])])
    compliance = np.diff(discs, axis=1) / (np.pi * np.diff(square)) / (np.pi * shear_modulus)
    root = np.asarray(np.linalg.cholesky((compliance + compliance.T) / 2))
    return _along_x(root)


def _over_disc(places: Floats, radius: float) -> Floats:
    """Integral of 1/distance over a disc, at places so far from its middle, mm."""
    inside = places <= radius
    share = np.where(inside, places / radius, radius / places) ** 2
    within, beyond = radius * ellipe(share), places * (ellipe(share) - (1 - share) * ellipk(share))
    return np.asarray(4 * np.where(inside, within, beyond))


def _along_x(modes: Floats) -> Floats:
    """Movements along x (n, m) as those of x and y of each patch in turn (2 n, m)."""
    both = np.zeros((2 * len(modes), modes.shape[1]))
    both[::2] = modes
    return both
