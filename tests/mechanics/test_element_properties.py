"""What a sound plate element must do, whatever the problem: properties, each derived from the equations.

Sources of the demands: B. M. Irons (patch test); K. J. Bathe, E. N. Dvorkin, Int. J. Numer. Methods Eng. 22
(1986) 697 (no locking, no spurious modes).  Exact figures: the series of exact_plates.py.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import scipy.sparse as sparse
from exact_plates import clamped_thin, navier
from skfem import CellBasis, MeshQuad
from small_plates import (
    SIDE,
    bend,
    component_of,
    even_pressure,
    held,
    moments,
    observed_rate,
    patch_force,
    point_force,
    pressure_on,
    rectangle,
    rigidity,
    sinking,
    slab,
)

from deflect.mechanics.arrays import Floats, Integers, Sparse
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import Plate, assemble_stiffness, edge_unknowns, factorise, simple_basis
from deflect.mechanics.sections import PlateSection
from deflect.model.values import Rectangle

Field = Callable[[Floats, Floats], tuple[Floats, Floats, Floats]]


def distorted(elements: int, share: float = 0.25, seed: int = 1) -> MeshQuad:
    """A square from -SIDE/2 to SIDE/2 whose inner nodes are moved by up to ``share`` of the element size."""
    line = np.linspace(-SIDE / 2, SIDE / 2, elements + 1)
    mesh = MeshQuad.init_tensor(line, line)
    inner = mesh.interior_nodes()
    points = mesh.p.copy()
    points[:, inner] += np.random.default_rng(seed).uniform(-share, share, (2, inner.size)) * SIDE / elements
    return MeshQuad(points, mesh.t)


def stiffness_of(basis: CellBasis, section: PlateSection) -> Sparse:
    cells = basis.mesh.nelements
    return assemble_stiffness(
        basis, np.broadcast_to(section.bending, (cells, 3, 3)), np.broadcast_to(section.shear, (cells, 2, 2))
    )


def sampled(basis: CellBasis, field: Field) -> Floats:
    """Unknowns (N,) of a field (w, theta_x, theta_y) of x and y."""
    values = np.array(np.broadcast_arrays(*field(*basis.doflocs)))
    picked: Floats = np.take_along_axis(values, component_of(basis)[None, :], axis=0)[0]
    return picked


# One curvature each of 1e-6 1/mm, shear strain zero.
BENDING_STATES: dict[str, tuple[Field, tuple[float, float, float]]] = {
    "bending along x": (lambda x, y: (5e-7 * x**2, 1e-6 * x, 0 * y), (1e-6, 0, 0)),
    "bending along y": (lambda x, y: (5e-7 * y**2, 0 * x, 1e-6 * y), (0, 1e-6, 0)),
    "twist": (lambda x, y: (5e-7 * x * y, 5e-7 * y, 5e-7 * x), (0, 0, 1e-6)),
}
SHEAR_STATES: dict[str, tuple[Field, tuple[float, float]]] = {
    "shear along x": (lambda x, y: (1e-3 * x, 0 * x, 0 * y), (1e-3, 0)),
    "shear along y": (lambda x, y: (1e-3 * y, 0 * x, 0 * y), (0, 1e-3)),
}


@pytest.mark.parametrize("state", BENDING_STATES)
@pytest.mark.parametrize("thickness", [100.0, 1.0])
def test_patch_test_of_constant_curvature(state: str, thickness: float) -> None:
    """Held on the rim of a distorted mesh as the state says, the inside follows, and the energy is exact."""
    field, curvature = BENDING_STATES[state]
    section = slab(thickness)
    basis = simple_basis(distorted(4))
    stiffness, wanted = stiffness_of(basis, section), sampled(basis, field)
    rim = basis.get_dofs(basis.mesh.boundary_facets()).all()
    inner = np.setdiff1d(np.arange(basis.N), rim)
    motion = wanted.copy()
    motion[inner] = factorise(stiffness, inner).solve(-(stiffness[inner][:, rim] @ wanted[rim]))
    # Round-off, larger for the thin plate by the ratio of shear to bending stiffness.
    assert motion == pytest.approx(wanted, abs=1e-6 * np.abs(wanted).max())
    energy = SIDE**2 * np.array(curvature) @ section.bending @ np.array(curvature)
    assert motion @ stiffness @ motion == pytest.approx(energy, rel=1e-6)


@pytest.mark.parametrize("state", SHEAR_STATES)
def test_patch_test_of_constant_shear(state: str) -> None:
    """Every tied point sees the same strain: the energy is exact on a distorted mesh."""
    field, strain = SHEAR_STATES[state]
    section = slab(50.0)
    basis = simple_basis(distorted(4))
    motion = sampled(basis, field)
    energy = SIDE**2 * np.array(strain) @ section.shear @ np.array(strain)
    assert motion @ stiffness_of(basis, section) @ motion == pytest.approx(energy, rel=1e-9)


@pytest.mark.parametrize("thickness", [200.0, 1.0])
@pytest.mark.parametrize("mesh", [distorted(1), distorted(2), distorted(4)], ids=["1", "2 x 2", "4 x 4"])
def test_only_three_motions_cost_no_energy(mesh: MeshQuad, thickness: float) -> None:
    """A free plate can sink and tilt twice, and nothing else: a fourth such mode would let a free die wobble."""
    basis = simple_basis(mesh)
    component = component_of(basis)
    # Deflections over SIDE and rotations are then of one size.
    scale = sparse.diags_array(np.where(component == 0, SIDE, 1.0))
    values = np.linalg.eigvalsh((scale @ stiffness_of(basis, slab(thickness)) @ scale).toarray())
    bending = rigidity(thickness)
    assert np.abs(values[:3]).max() < 1e-6 * bending
    assert values[3] > 1e-3 * bending


def test_rigid_motions_cost_no_energy_and_meet_the_load() -> None:
    """Equilibrium: whatever supports carry, they carry the whole load and its moments."""
    plate = rectangle(slab(80.0), 1.4 * SIDE, SIDE, 7, 5)
    load = patch_force(plate, Rectangle(200.0, -150.0, 180.0, 220.0), 5e4)
    fixed = held(plate, "soft", ("left", "front"))
    motion = bend(plate, load, fixed)
    reaction = plate.stiffness @ motion - load
    assert np.abs(np.delete(reaction, fixed)).max() < 1e-9 * 5e4
    # The load's resultant: force down, and its moments about the origin.
    assert plate.rigid.T @ load == pytest.approx([-5e4, -5e4 * 200.0, 5e4 * 150.0], rel=1e-9)
    assert plate.rigid.T @ reaction == pytest.approx(-(plate.rigid.T @ load), rel=1e-7)


@pytest.mark.parametrize(
    ("thickness", "shift", "loss"),
    [
        # Regular: nothing but discretisation, 0.001 %, at every thickness.
        *((t, 0.0, 5e-5) for t in (0.2, 0.1, 0.01, 1e-3, 1e-4)),
        # Nodes moved by up to a fifth of an element: 0.03 % down to a hundredth of the side.  Thinner than any slab
        # of the trade, irregular quadrilaterals stiffen (0.8 % at a thousandth); the production meshes are regular.
        *((t, 0.2, 5e-4) for t in (0.2, 0.1, 0.02, 0.01)),
        (1e-3, 0.2, 1.2e-2),
    ],
)
def test_no_locking_and_little_loss_on_distorted_meshes(thickness: float, shift: float, loss: float) -> None:
    """One mesh of 8 x 8, hard support, from a fifth of the side to a ten-thousandth of it."""
    basis = simple_basis(distorted(8, shift))
    section = slab(thickness * SIDE)
    x, y = basis.doflocs
    component = component_of(basis)
    on_x, on_y = (np.abs(np.abs(p) - SIDE / 2) < 1e-6 for p in (x, y))
    fixed = ((component == 0) & (on_x | on_y)) | ((component == 1) & on_y) | ((component == 2) & on_x)
    free = np.flatnonzero(~fixed)
    motion = np.zeros(basis.N)
    motion[free] = factorise(stiffness_of(basis, section), free).solve(pressure_on(basis)[free])
    mean = float(pressure_on(basis) @ motion) / SIDE**2
    assert mean * rigidity(thickness * SIDE) / SIDE**4 == pytest.approx(_mean_deflection(thickness), rel=loss)


def _mean_deflection(thickness: float) -> float:
    """Mean of the deflection of a hard-supported square over its area, q a^4/D: Navier's series with shear."""
    m = np.arange(1, 400, 2)
    lam = np.pi**2 * (m[:, None] ** 2 + m**2)
    shear = 5 / 6 * 6 * 0.7 / thickness**2
    return float((64 / np.pi**4 / np.outer(m, m) ** 2 * (1 / lam**2 + 1 / (shear * lam))).sum())


@pytest.mark.parametrize("thickness", [1e-2, 1e-3, 1e-4])
def test_no_locking_of_a_clamped_plate(thickness: float) -> None:
    plate = rectangle(slab(thickness * SIDE), SIDE, SIDE, 12, 12)
    computed = sinking(plate, bend(plate, even_pressure(plate), held(plate, "clamped"))) * rigidity(thickness * SIDE)
    # 0.3 %: at a hundredth of the side shear adds 0.2 %, as it should.
    assert computed / SIDE**4 == pytest.approx(clamped_thin().deflection, rel=3e-3)


def test_rates_of_convergence() -> None:
    """Hard support at a tenth of the side: the deflection gains four orders, a moment at a corner of elements two."""
    exact = navier(thickness=0.1)

    def solved(elements: int) -> tuple[float, float]:
        plate = rectangle(slab(0.1 * SIDE), SIDE, SIDE, elements, elements)
        motion = bend(plate, even_pressure(plate), held(plate, "hard"))
        return sinking(plate, motion) * rigidity(0.1 * SIDE) / SIDE**4, float(moments(plate, motion)[0]) / SIDE**2

    assert observed_rate(lambda n: abs(solved(n)[0] - exact.deflection), 4, 16) > 3.5
    assert 1.8 < observed_rate(lambda n: abs(solved(n)[1] - exact.mx), 8, 32) < 2.5


def _off_centre(length: float, width: float, at: tuple[float, float], section: PlateSection) -> tuple[Plate, Floats]:
    """A plate held on the left (hard) and in front (soft), loaded off its centre."""
    plate = rectangle(section, length, width, round(length / 100), round(width / 100))
    motion = bend(plate, patch_force(plate, Rectangle(*at, 150.0, 150.0), 1e5), _two_sides(plate, "left", "front"))
    return plate, motion


def _two_sides(plate: Plate, hard: str, soft: str) -> Integers:
    return np.union1d(edge_unknowns(plate, (hard,), "hard"), edge_unknowns(plate, (soft,), "soft"))


PROBES = [(-300.0, -200.0), (100.0, 50.0), (500.0, 300.0), (650.0, -350.0)]


def test_mirrored_problem_has_the_mirrored_answer() -> None:
    plate, motion = _off_centre(1400.0, 800.0, (150.0, -120.0), slab(60.0))
    load = patch_force(plate, Rectangle(-150.0, -120.0, 150.0, 150.0), 1e5)
    mirrored = bend(plate, load, _two_sides(plate, "right", "front"))
    for x, y in PROBES:
        assert sinking(plate, mirrored, -x, y) == pytest.approx(sinking(plate, motion, x, y), rel=1e-7)
        there = moments(plate, mirrored, -x, y) * (1, 1, -1)
        assert there == pytest.approx(moments(plate, motion, x, y), rel=1e-6, abs=1e-3)


def test_turned_problem_has_the_turned_answer() -> None:
    """By 90 degrees, with a section stiffer along one axis: x becomes y, y becomes -x."""
    plain = slab(60.0)
    swap = np.ix_([1, 0, 2], [1, 0, 2])
    along_x = replace(
        plain,
        bending=plain.bending * np.outer((2.0, 1, 1), (2.0, 1, 1)) ** 0.5,
        shear=plain.shear * np.diag((1.5, 1.0)),
    )
    along_y = replace(along_x, bending=along_x.bending[swap], shear=along_x.shear[::-1, ::-1])
    plate, motion = _off_centre(1400.0, 800.0, (150.0, -120.0), along_x)
    turned = rectangle(along_y, 800.0, 1400.0, 8, 14)
    load = patch_force(turned, Rectangle(120.0, 150.0, 150.0, 150.0), 1e5)
    answer = bend(turned, load, _two_sides(turned, "front", "right"))
    for x, y in PROBES:
        assert sinking(turned, answer, -y, x) == pytest.approx(sinking(plate, motion, x, y), rel=1e-7)
        mx, my, mxy = moments(plate, motion, x, y)
        assert moments(turned, answer, -y, x) == pytest.approx((my, mx, -mxy), rel=1e-6, abs=1e-3)


def test_shifted_problem_has_the_same_answer() -> None:
    plate, motion = _off_centre(1400.0, 800.0, (150.0, -120.0), slab(60.0))
    mesh = PlanMesh.with_openings(plate.mesh.x + 5300.0, plate.mesh.y - 1700.0, ())
    shifted = Plate.uniform(mesh, slab(60.0))
    load = patch_force(shifted, Rectangle(5450.0, -1820.0, 150.0, 150.0), 1e5)
    answer = bend(shifted, load, _two_sides(shifted, "left", "front"))
    for x, y in PROBES:
        assert sinking(shifted, answer, x + 5300.0, y - 1700.0) == pytest.approx(sinking(plate, motion, x, y), rel=1e-7)


def test_betti_and_maxwell_reciprocity() -> None:
    """Deflection at i under a force at j is that at j under a force at i; the same of forces and rotations."""
    plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
    read = plate.at(np.array(PROBES))
    rows = sparse.vstack([read.deflection, read.rotation_x, read.surface]).tocsr()
    compliance = rows @ plate.respond(rows)
    assert compliance == pytest.approx(compliance.T, abs=1e-10 * np.abs(compliance).max())
    assert np.linalg.eigvalsh((compliance + compliance.T) / 2).min() > -1e-12 * np.abs(compliance).max()


def test_superposition_while_nothing_touches() -> None:
    plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
    fixed = held(plate, "soft")
    one, other = even_pressure(plate, 0.5), point_force(plate, 300.0, -100.0, 2e4)
    together = bend(plate, 2 * one - other, fixed)
    assert together == pytest.approx(2 * bend(plate, one, fixed) - bend(plate, other, fixed), abs=1e-9)


def test_pins_carry_nothing_once_the_loads_balance() -> None:
    """A free plate under balanced forces bends alike, whichever three deflections are pinned."""
    shapes = []
    for pinned in (None, ((100.0, 0.0), (500.0, -200.0), (-300.0, 300.0))):
        plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
        if pinned is not None:
            deflections = np.flatnonzero(plate.component == 0)
            away = plate.basis.doflocs[:, deflections, None] - np.array(pinned).T[:, None, :]
            plate.__dict__["pins"] = deflections[np.hypot(*away).argmin(axis=0)]
        load = point_force(plate, 0, 0, 2e4) + sum(
            point_force(plate, x, y, -5e3) for x, y in ((600, 300), (-600, 300), (600, -300), (-600, -300))
        )
        motion = plate.respond(sparse.csr_array(load[None, :]))[:, 0]
        rigid = plate.rigid
        shapes.append(motion - rigid @ np.linalg.lstsq(rigid, motion, rcond=None)[0])
    assert shapes[0] == pytest.approx(shapes[1], abs=1e-9 * np.abs(shapes[0]).max())


def test_weight_is_mass() -> None:
    plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
    # The invented material weighs 1e-6 kg/mm3.
    assert plate.rigid.T @ plate.own_weight() == pytest.approx([-60e-6 * 1400.0 * 800.0, 0, 0], abs=1e-6)


@pytest.mark.parametrize(
    ("hole", "mid_edge", "corner"), [(0.2, 0.005018, 0.004640), (0.4, 0.004343, 0.003443), (0.5, 0.003436, 0.002456)]
)
def test_square_hole_in_a_square(hole: float, mid_edge: float, corner: float) -> None:
    """Hard support, even pressure on what is left, a tenth of the side thick.

    Figures listed: ours, from two independent finite element programs of higher order, graded to the hole's corners.
    """
    line = np.linspace(-SIDE / 2, SIDE / 2, 21)
    opening = Rectangle(0.0, 0.0, hole * SIDE, hole * SIDE)
    plate = Plate.uniform(PlanMesh.with_openings(line, line, (opening,)), slab(0.1 * SIDE))
    motion = bend(plate, even_pressure(plate), held(plate, "hard"))
    half = hole * SIDE / 2
    computed = [sinking(plate, motion, half, y) * rigidity(0.1 * SIDE) / SIDE**4 for y in (0.0, half)]
    # 1 %: the corners of the hole are singular and the mesh here is even.
    assert computed == pytest.approx((mid_edge, corner), rel=0.01)
