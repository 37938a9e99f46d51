"""Plates solved without finite elements: series, closed forms and a spectral Ritz method.

Everything is per unit short side, load and bending stiffness: deflections in
q a^4/D or P a^2/D, moments in q a^2 or P; nu = 0.3, kappa = 5/6.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import Legendre, Polynomial
from scipy.linalg import expm

NU = 0.3
Array = np.ndarray


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


def clamped_thin(ratio: float = 1.0, order: int = 14) -> Bending:
    """Clamped, even pressure, thin: Ritz with (1 - x^2)^2 times even Legendre polynomials, ours."""
    bubble = Polynomial([1, 0, -2, 0, 1])
    functions = [bubble * Legendre.basis(2 * i).convert(kind=Polynomial) for i in range(order)]
    x, weight = np.polynomial.legendre.leggauss(4 * order + 8)
    value, slope2 = (np.array([f.deriv(d)(x) if d else f(x) for f in functions]) for d in (0, 2))
    mass, mixed, bend = (p * weight @ q.T for p, q in ((value, value), (value, slope2), (slope2, slope2)))
    sx, sy = 2.0, 2.0 / ratio
    stiff = (
        sx**4 * np.kron(bend, mass)
        + sy**4 * np.kron(mass, bend)
        + sx**2 * sy**2 * (np.kron(mixed, mixed.T) + np.kron(mixed.T, mixed))
    )
    load = np.kron(value @ weight, value @ weight)
    scale = 1 / np.sqrt(np.diag(stiff))
    weights = (scale * np.linalg.solve(stiff * np.outer(scale, scale), load * scale)).reshape(order, order)

    def at(place_x: float, place_y: float) -> tuple[float, float, float]:
        rows = [np.array([[f(p), f.deriv(2)(p)] for f in functions]) for p in (place_x, place_y)]
        w = rows[0].T @ weights @ rows[1]
        wxx, wyy = w[1, 0] * sx**2, w[0, 1] * sy**2
        return float(w[0, 0]), -float(wxx + NU * wyy), -float(wyy + NU * wxx)

    centre = at(0, 0)
    return Bending(*centre, at(1, 0)[1], at(0, 1)[2])


def mindlin_square(kind: str, thickness: float, order: int = 26) -> Bending:
    """Square Reissner-Mindlin plate, edges "hard", "soft" or "clamped", even pressure: spectral Ritz, ours.

    Legendre polynomials, or differences of two where a field vanishes on the edge, both
    of the parity that the symmetric load asks for.
    """
    x, weight = np.polynomial.legendre.leggauss(order + 6)

    def family(parity: int, zero: bool) -> list[Legendre]:
        basis = [Legendre.basis(i) for i in range(order + 1)]
        if zero:
            return [basis[i + 2] - basis[i] for i in range(parity, order - 1, 2)]
        return [basis[i] for i in range(parity, order + 1, 2)]

    free = {"hard": (False, True), "soft": (False, False), "clamped": (True, True)}[kind]
    along, across = family(1, free[0]), family(0, free[1])
    fields = ((family(0, True), family(0, True)), (along, across), (across, along))

    def gram(left: int, right: int, d_left: tuple[int, int], d_right: tuple[int, int]) -> Array:
        parts = []
        for axis in (0, 1):
            p, q = (
                np.array([f.deriv(d)(x) if d else f(x) for f in fields[side][axis]])
                for side, d in ((left, d_left[axis]), (right, d_right[axis]))
            )
            parts.append(p * weight @ q.T)
        return 2.0 ** (sum(d_left) + sum(d_right)) * np.kron(parts[0], parts[1])

    here, by_x, by_y = (0, 0), (1, 0), (0, 1)
    s = shear_stiffness(thickness)
    blocks = [[np.zeros(0)] * 3 for _ in range(3)]
    blocks[0][0] = s * (gram(0, 0, by_x, by_x) + gram(0, 0, by_y, by_y))
    blocks[0][1], blocks[0][2] = -s * gram(0, 1, by_x, here), -s * gram(0, 2, by_y, here)
    half = (1 - NU) / 2
    blocks[1][1] = gram(1, 1, by_x, by_x) + half * gram(1, 1, by_y, by_y) + s * gram(1, 1, here, here)
    blocks[2][2] = gram(2, 2, by_y, by_y) + half * gram(2, 2, by_x, by_x) + s * gram(2, 2, here, here)
    blocks[1][2] = NU * gram(1, 2, by_x, by_y) + half * gram(1, 2, by_y, by_x)
    for i in range(3):
        for j in range(i):
            blocks[i][j] = blocks[j][i].T
    stiff = np.block(blocks)
    sums = [np.array([f(x) @ weight for f in fields[0][axis]]) for axis in (0, 1)]
    load = np.zeros(len(stiff))
    load[: len(sums[0]) * len(sums[1])] = np.kron(*sums)
    scale = 1 / np.sqrt(np.diag(stiff))
    answer = scale * np.linalg.solve(stiff * np.outer(scale, scale), load * scale)

    def read(field: int, point: tuple[float, float], order_of: tuple[int, int]) -> float:
        sizes = [len(a) * len(b) for a, b in fields]
        start = sum(sizes[:field])
        rows = [
            np.array([f.deriv(d)(p) if d else f(p) for f in functions])
            for functions, p, d in zip(fields[field], point, order_of, strict=True)
        ]
        return float(2.0 ** sum(order_of) * np.kron(*rows) @ answer[start : start + sizes[field]])

    def moment(point: tuple[float, float]) -> float:
        return -read(1, point, by_x) - NU * read(2, point, by_y)

    centre = moment((0, 0))
    return Bending(read(0, (0, 0), here), centre, centre, moment((1, 0)), moment((1, 0)))


def elastic_slab(thickness: float, terms: int = 15) -> float:
    """Mid-plane deflection of a square slab in three-dimensional elasticity, hard simple support, pressure on top.

    Source of the method: S. Srinivas, A. K. Rao, Int. J. Solids Struct. 6 (1970) 1463.  Each double sine term
    leaves linear equations in z for (u, v, w, txz, tyz, sz), solved by a matrix exponential; ours.
    """
    modulus = 12 * (1 - NU**2) / thickness**3  # so that D = 1
    g, lame = modulus / (2 * (1 + NU)), modulus * NU / ((1 + NU) * (1 - 2 * NU))
    c = lame + 2 * g
    total = 0.0
    for m in range(1, terms + 1, 2):
        for n in range(1, terms + 1, 2):
            p, r = m * np.pi, n * np.pi
            plane, cross = c - lame**2 / c, lame - lame**2 / c
            law = np.zeros((6, 6))
            law[0, [2, 3]] = -p, 1 / g
            law[1, [2, 4]] = -r, 1 / g
            law[2, [0, 1, 5]] = lame * p / c, lame * r / c, 1 / c
            law[3, [0, 1, 5]] = plane * p**2 + g * r**2, (cross + g) * p * r, -lame * p / c
            law[4, [0, 1, 5]] = (cross + g) * p * r, plane * r**2 + g * p**2, -lame * r / c
            law[5, [3, 4]] = p, r
            size = np.array([1 / modulus] * 3 + [1.0] * 3)
            scaled = law * size[None, :] / size[:, None]
            below, above = (expm(scaled * z) for z in (-thickness / 2, thickness / 2))
            load = 16 / (np.pi**2 * m * n)
            middle = np.linalg.solve(np.vstack([below[3:], above[3:]]), [0, 0, 0, 0, 0, -load])
            total -= middle[2] / modulus * np.sin(m * np.pi / 2) * np.sin(n * np.pi / 2)
    return float(total)
