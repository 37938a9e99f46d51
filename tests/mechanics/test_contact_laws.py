"""Laws of frictionless contact without adhesion, on a die block and a slab: each follows from the equations.

Sources: J. Dundurs, in: The Mechanics of the Contact between Deformable Bodies (1975) and L. M. Keer, J. Dundurs,
K. C. Tsai, J. Appl. Mech. 39 (1972) 1115 (receding contact is proportional to force); the conditions of
Karush, Kuhn and Tucker.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest
from reference_bodies import BOLSTER, HOLDING_LAND, PATCH, RIGID_LAND, RING, case_of, standing_of

from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.standing import Assumptions, Standing, State, stand
from deflect.mechanics.support import FAR_FACE_GIVE
from deflect.model.die import Placing
from deflect.model.force import Patch
from deflect.model.values import Rectangle

FORCE = 6e6


@lru_cache(maxsize=8)
def _heavy(scale: float) -> Standing:
    """A dished, heavy table under a heavy die, everything times ``scale``: force, weight and dish."""
    return stand(case_of(PATCH, scale * FORCE, scale * 2e5, dish=scale * 0.05, bolster_mass=scale * 14_000.0))


@pytest.mark.parametrize("assumptions", [RIGID_LAND, HOLDING_LAND], ids=["presses only", "holds down"])
@pytest.mark.parametrize("pattern", [PATCH, RING], ids=["patch", "ring"])
def test_receding_contact_is_proportional_to_force(pattern: Patch, assumptions: Assumptions) -> None:
    """No weight, no gap to begin with: a thousandth of the force touches the same patches."""
    standing = standing_of(pattern, FORCE)
    full = standing.solve(1.0, assumptions)
    for share in (1e-3, 0.3):
        part = standing.solve(share, assumptions)
        assert (part.closed == full.closed).all()
        assert part.contact_force == pytest.approx(share * full.contact_force, abs=1e-8 * share * FORCE)
        assert part.gap == pytest.approx(share * full.gap, abs=1e-6 * share * full.gap.max())


def test_scaling_force_weight_and_gap_together_scales_everything() -> None:
    one, three = (_heavy(scale).solve(1.0, RIGID_LAND) for scale in (1.0, 3.0))
    assert (one.closed == three.closed).all()
    assert three.contact_force == pytest.approx(3 * one.contact_force, abs=1e-6 * FORCE)
    assert three.gap == pytest.approx(3 * one.gap, abs=1e-6 * one.gap.max())
    assert three.table_motion == pytest.approx(3 * one.table_motion, abs=1e-6 * np.abs(one.table_motion).max())


def test_force_alone_does_not_scale_a_heavy_dished_table() -> None:
    """The counterpart, so that the law above says something: half the force is not half of everything."""
    half, full = (_heavy(1.0).solve(share, RIGID_LAND) for share in (0.5, 1.0))
    assert np.abs(half.gap - full.gap / 2).max() > 1e-2 * full.gap.max()


def test_the_way_back_retraces_the_way_down() -> None:
    """Frictionless contact has no memory: the answer does not depend on the contact that it starts from."""
    standing = _heavy(1.0)
    shares = (0.0, 0.1, 0.4, 1.0)
    down: list[State] = []
    for share in shares:
        down.append(standing.solve(share, RIGID_LAND, down[-1].closed if down else None))
    back = down[-1]
    for share, before in zip(reversed(shares), reversed(down), strict=True):
        back = standing.solve(share, RIGID_LAND, back.closed)
        assert (back.closed == before.closed).all()
        assert back.contact_force == pytest.approx(before.contact_force, abs=1e-9 * FORCE)


@pytest.mark.parametrize("share", [0.0, 0.2, 1.0])
def test_balance_and_complementarity(share: float) -> None:
    """Forces add up, moments balance, nothing pulls, nothing overlaps, and only what touches carries."""
    standing = _heavy(1.0)
    state = standing.solve(share, RIGID_LAND)
    force, gap = state.solved.force, state.solved.gap
    on_die = 2e5 + share * FORCE
    assert state.contact_force.sum() == pytest.approx(on_die, rel=1e-8)
    assert state.land_force.sum() == pytest.approx(on_die + 14_000.0 * GRAVITY, rel=1e-8)
    centre = standing.base.patches.centre[standing.bears]
    assert state.contact_force @ centre == pytest.approx([0.0, 0.0], abs=1e-8 * on_die * 1400.0)
    assert state.land_force @ standing.table.land.centre == pytest.approx([0.0, 0.0], abs=1e-8 * on_die * 2000.0)
    assert force.min() >= 0.0
    assert gap.min() >= 0.0
    assert (force * gap).max() <= 1e-8 * force.max() * max(gap.max(), 1e-12)
    # Somewhere it touches and somewhere it does not: the conditions are put to the test.
    assert 0 < (force > 0).sum() < force.size


@pytest.mark.parametrize("share", [0.2, 1.0])
def test_gaps_are_what_the_two_surfaces_leave_between_them(share: float) -> None:
    """The condensed answer against the full displacements of both bodies, patch by patch."""
    standing = _heavy(1.0)
    state = standing.solve(share, RIGID_LAND)
    base = standing.base
    underside = base.contact_rows @ state.base_motion
    underside = underside + FAR_FACE_GIVE * base.squeeze_below * state.loads.face_pressure
    layer = RIGID_LAND.contact_give * standing.contact_squeeze / standing.contact_area * state.contact_force
    gap = underside - standing.table_rows @ state.table_motion + standing.initial_gap + layer
    assert gap == pytest.approx(state.gap, abs=1e-9)


def test_a_force_off_the_centre_is_met_off_the_centre() -> None:
    """Balance of moments of a die set off the table's middle, with its force off its own."""
    pattern = Patch(1.0, Rectangle(250.0, -120.0, 800.0, 500.0))
    standing = stand(case_of(pattern, FORCE, placing=Placing(x=180.0, y=60.0)))
    state = standing.solve(1.0, RIGID_LAND)
    centre = standing.base.patches.centre[standing.bears]
    assert state.contact_force @ centre == pytest.approx([250.0 * FORCE, -120.0 * FORCE], rel=1e-8)
    assert state.land_force @ standing.table.land.centre == pytest.approx([430.0 * FORCE, -60.0 * FORCE], rel=1e-8)


@pytest.mark.parametrize(("x", "y"), [(0.0, 0.0), (137.0, 41.0), (150.0, 50.0)])
def test_mirrored_and_turned_placings_mirror_and_turn_the_gap(x: float, y: float) -> None:
    def gap(placing: Placing, force_x: float, force_y: float) -> Floats:
        standing = stand(case_of(Patch(1.0, Rectangle(force_x, force_y, 800.0, 500.0)), FORCE, placing=placing))
        return standing.solve(1.0, RIGID_LAND).gap.reshape(standing.base.grid)

    plain = gap(Placing(x=x, y=y), 200.0, -100.0)
    # What jumps on an element's edge is read as the mean of both sides, so that only round-off is left.
    tolerance = 1e-7 * plain.max()
    assert plain.max() > 0.01
    assert gap(Placing(x=-x, y=y), -200.0, -100.0) == pytest.approx(plain[::-1], abs=tolerance)
    assert gap(Placing(x=x, y=-y), 200.0, 100.0) == pytest.approx(plain[:, ::-1], abs=tolerance)
    # Turned by half a turn about the table's middle: the same die, seen from the other side of the press.
    assert gap(Placing(x=-x, y=-y, rotation=np.pi), 200.0, -100.0) == pytest.approx(plain, abs=tolerance)


def test_compliance_is_symmetric_and_positive() -> None:
    """Betti's law between every two patches, before any layer makes it definite."""
    standing = standing_of(RING, FORCE)
    table, base = standing.table, standing.base
    for rows, answer in ((table.land_rows, table.land_answer), (base.contact_rows, base.contact_answer)):
        raw = rows @ answer
        assert raw == pytest.approx(raw.T, abs=1e-9 * np.abs(raw).max())
    values = np.linalg.eigvalsh(standing.compliance)
    assert values[0] > -1e-10 * values[-1]


def test_a_softer_bed_sinks_deeper_by_its_own_squeeze() -> None:
    """Rigid sinking apart: a bed under the whole land that gives c per pressure lets the table down by about c p."""
    standing = standing_of(RING, FORCE)
    stiff, soft = (standing.solve(1.0, Assumptions(k)) for k in (np.inf, 20.0))
    drop = (
        stiff.land_force @ (standing.table.land_rows @ stiff.table_motion)
        - soft.land_force @ (standing.table.land_rows @ soft.table_motion)
    ) / FORCE
    pressure = (soft.land_force**2 / standing.table.land.area).sum() / FORCE
    give = 0.18 * BOLSTER.thickness / (2 * BOLSTER.material.youngs_modulus)
    pressure_stiff = (stiff.land_force**2 / standing.table.land.area).sum() / FORCE
    assert drop == pytest.approx(pressure / 20.0 + give * (pressure - pressure_stiff), rel=1e-6)
