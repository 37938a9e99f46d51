"""Discs under even pressure, on a distorted mesh: a square grid of quadrilaterals pulled onto the disc.

Source: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, sections 16 and 17
(section numbers from memory), with the deflection by shear q a^2/(4 kappa G h) added.  Figures listed: ours.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest
from skfem import MeshQuad

from deflect.checks.bench.plates import component_of, observed_rate, pressure_on, rigidity, slab
from deflect.mechanics.plate import assemble_stiffness, factorise, simple_basis

RADIUS = 500.0
NU = 0.3


def disc_mesh(elements: int) -> MeshQuad:
    """A square grid pulled onto a disc: squares stay squares in the middle, rings at the rim."""
    line = np.linspace(-1, 1, elements + 1)
    mesh = MeshQuad.init_tensor(line, line)
    x, y = mesh.p
    ring = np.maximum(np.abs(x), np.abs(y))
    round_off = np.maximum(np.hypot(x, y), 1e-30)
    pull = ring * (ring / round_off) + (1 - ring)
    return MeshQuad(RADIUS * mesh.p * pull, mesh.t)


@lru_cache(maxsize=32)
def centre_deflection(elements: int, thickness: float, kind: str) -> float:
    """Deflection of the disc's centre under 1 MPa, mm."""
    mesh = disc_mesh(elements)
    basis = simple_basis(mesh)
    section = slab(thickness * RADIUS)
    stiffness = assemble_stiffness(
        basis,
        np.broadcast_to(section.bending, (mesh.nelements, 3, 3)),
        np.broadcast_to(section.shear, (mesh.nelements, 2, 2)),
    )
    component = component_of(basis)
    rim = basis.get_dofs(mesh.boundary_facets()).all()
    fixed = rim if kind == "clamped" else rim[component[rim] == 0]
    free = np.setdiff1d(np.arange(basis.N), fixed)
    motion = np.zeros(basis.N)
    motion[free] = factorise(stiffness, free).solve(pressure_on(basis)[free])
    middle = np.flatnonzero((component == 0) & (np.hypot(*basis.doflocs) < 1e-6 * RADIUS))
    return -float(motion[middle[0]])


def closed_form(thickness: float, kind: str) -> float:
    """w D/(q a^4) at the centre."""
    bent = 1 / 64 if kind == "clamped" else (5 + NU) / (64 * (1 + NU))
    return bent + thickness**2 / (4 * 5 / 6 * 6 * (1 - NU))


@pytest.mark.parametrize(
    ("kind", "thickness", "listed"),
    [
        ("clamped", 0.01, 0.0156321),
        ("clamped", 0.1, 0.0163393),
        ("clamped", 0.2, 0.0184821),
        ("soft", 0.1, 0.0644162),
        ("soft", 0.2, 0.0665591),
    ],
)
def test_timoshenko_woinowsky_krieger_disc(kind: str, thickness: float, listed: float) -> None:
    """0.14 % is left at 32 elements across: the rim is a polygon inside the circle."""
    exact = closed_form(thickness, kind)
    assert exact == pytest.approx(listed, rel=1e-5)
    computed = centre_deflection(32, thickness, kind) * rigidity(thickness * RADIUS) / RADIUS**4
    assert computed == pytest.approx(exact, rel=2e-3)


@pytest.mark.parametrize(("kind", "thickness"), [("clamped", 0.01), ("clamped", 0.2), ("soft", 0.2)])
def test_disc_converges_with_the_square_of_the_size(kind: str, thickness: float) -> None:
    """The straight-sided rim sets the order, not the element: 2 is its rate, and no floor is in sight."""
    scale = rigidity(thickness * RADIUS) / RADIUS**4

    def error(elements: int) -> float:
        return abs(centre_deflection(elements, thickness, kind) * scale - closed_form(thickness, kind))

    assert 1.8 < observed_rate(error, 8, 32) < 2.5
    # Taking the known order out leaves the exact figure.
    fine, finer = (centre_deflection(n, thickness, kind) * scale for n in (16, 32))
    assert finer + (finer - fine) / 3 == pytest.approx(closed_form(thickness, kind), rel=3e-4)
