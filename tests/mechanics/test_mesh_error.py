"""How far numbers are off by the mesh: poor meshes are noticed, made finer, and told where that does not suffice."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

import deflect.mechanics.footprint as footprint
from deflect.casefile import read_case
from deflect.mechanics import mesh_error
from deflect.mechanics.analysis import Analysis, analyse
from deflect.mechanics.body import condense_base, halved_at
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.keeping import forget
from deflect.mechanics.mesh_error import FINER, LEAST, Estimate, estimate
from deflect.mechanics.spread import Spread, put_right
from deflect.model.values import Interval

FEW = {"sag": 0.1, "gap": 0.05, "face": 0.03, "contact_share": 0.6, "base_stress": 5.0, "bolster_stress": 9.0,
       "pressure": 20.0}  # fmt: skip


def read_with(off: Callable[[Mesh], float], ports: int = 500) -> Callable[[Mesh], tuple[Mapping[str, float], int]]:
    """Figures that are off by a share that the mesh decides."""
    return lambda mesh: ({key: value * (1 + off(mesh)) for key, value in FEW.items()}, ports)


@cache
def usual() -> Mesh:
    return Mesh.suited(read_case("rowan-trim", "alder-10mn"))


def estimated(off: Callable[[Mesh], float], ports: int = 500) -> mesh_error.MeshError:
    read = read_with(off, ports)
    return estimate(read_case("rowan-trim", "alder-10mn"), read(usual())[0], read, (0.002, 0.002), 0.0)


def by_patch(rate: float, size: float) -> Callable[[Mesh], float]:
    return lambda mesh: size * (mesh.patch / usual().patch) ** rate


def test_numbers_that_have_settled_are_not_solved_anew() -> None:
    found = estimated(by_patch(1.0, 0.02))
    assert (found.finer, found.capped, found.unsettled) == (0, False, ())
    # Linear: from 1.5 of the patches to 1 the number changes by half its error.
    assert found.estimates["gap"].error == pytest.approx(0.5 * 0.02 * FEW["gap"], rel=1e-9)


def test_a_poor_mesh_is_made_finer_until_its_numbers_settle() -> None:
    found = estimated(by_patch(2.0, 0.03))
    assert (found.finer, found.unsettled) == (1, ())
    assert found.estimates["gap"].finest == pytest.approx(FEW["gap"] * (1 + 0.03 * 0.64), rel=1e-12)


def test_what_does_not_settle_is_told_with_an_error_that_covers_it() -> None:
    found = estimated(by_patch(1.0, 0.3))
    assert found.finer == len(FINER)
    assert set(found.unsettled) == set(FEW)
    for key, value in FEW.items():
        estimated_error, true = found.estimates[key].error, abs(found.estimates[key].finest - value)
        assert estimated_error >= 0.5 * true


def test_two_meshes_that_agree_by_luck_are_not_believed() -> None:
    """The number jumps by a tenth, then not at all: half of the jump counts."""
    off = {1.5: 0.1, 1.0: 0.0, 0.8: 0.1, 0.5: 0.1}
    found = estimated(lambda mesh: off[round(mesh.patch / usual().patch, 3)])
    assert found.estimates["gap"].error == pytest.approx(0.5 * 0.1 * FEW["gap"], rel=1e-9)
    assert "gap" in found.unsettled


def test_elements_that_are_too_coarse_are_counted_as_well() -> None:
    found = estimated(lambda mesh: 0.1 * (mesh.element / usual().element))
    assert found.estimates["sag"].error == pytest.approx(0.05 * FEW["sag"], rel=1e-9)
    assert "sag" in found.unsettled


def test_finer_patches_end_where_they_are_too_many() -> None:
    found = estimated(by_patch(1.0, 0.3), ports=3000)
    assert (found.finer, found.capped) == (0, True)


def test_a_range_is_put_right_and_widened() -> None:
    one = Estimate(usual=0.060, finest=0.066, error=0.003, least=LEAST["gap"])
    assert not one.settled
    there = one.applied(Interval(0.050, 0.060, 0.080))
    assert there.nominal == pytest.approx(0.066)
    assert there.low == pytest.approx(0.055 - 0.00275)
    assert there.high == pytest.approx(0.086 + 0.003)  # no farther than here
    assert replace(one, error=0.0013).settled


def test_a_narrow_rim_halves_the_wide_patches_near_the_edges_only() -> None:
    lines = np.array([0.0, 25.0, 75.0, 175.0, 275.0, 375.0, 475.0, 525.0, 550.0])
    assert halved_at(lines, 200.0).tolist() == [0, 25, 75, 125, 175, 275, 375, 425, 475, 525, 550]
    base = read_case("rowan-trim", "alder-10mn").die.base
    plain, narrow = (condense_base(base, 200.0, 100.0, rim).patches for rim in (False, True))
    assert narrow.area.sum() == pytest.approx(plain.area.sum(), rel=1e-12)
    assert narrow.area.size > plain.area.size


@pytest.fixture(scope="module")
def poor() -> Analysis:
    """The trim die on a mesh twice as coarse as the usual one; nothing of it is kept for others."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", 2.0 * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", 1.5 * footprint.ELEMENT_SIZE)
        forget()
        found = analyse(read_case("rowan-trim", "alder-10mn"), samples=0, thrust_direction=0.0)
    forget()
    return found


def test_a_case_on_a_poor_mesh_is_refined_and_its_ranges_hold_what_finer_meshes_give(poor: Analysis) -> None:
    """66.0 µm of gap and 0.099 mm of sag: ours, on a mesh of 90 mm elements and 45 mm patches."""
    error = poor.mesh_error
    assert error is not None
    assert error.finer == len(FINER)
    assert poor.spread.gap.nominal == poor.solution.greatest_gap
    assert poor.usual is not None
    assert poor.usual.patches.area.size < poor.solution.patches.area.size
    assert poor.spread.gap.low <= 0.0660 <= poor.spread.gap.high
    assert poor.spread.sag.low <= 0.0994 <= poor.spread.sag.high
    # The strokes stay with the mesh that they were marched on.
    assert len(poor.creep.course.places) == int(poor.on_usual_mesh.solution.bears.sum())


def test_no_more_than_the_whole_base_bears() -> None:
    """Where finer patches bear more, all of the base is the end of it, for the least of the range too."""
    nothing = Interval.exactly(1.0)
    spread = Spread(*(nothing for _ in range(10)), samples=0, drivers=())
    more = {"contact_share": Estimate(0.9, 0.95, 0.0, 0.0), "sag": Estimate(1.0, 1.0, 0.0, 0.0)}
    right = put_right(spread, mesh_error.MeshError(more | {"creep": Estimate(1.0, 1.0, 0.0, 0.0)}, 1, False, 0.0))
    assert right.contact_share == nothing


def with_creep(strokes: Interval, creep: Interval, finest: float) -> Interval:
    """Strokes put right where the creep of 2 um comes out otherwise on a finer mesh."""
    nothing = Interval.exactly(0.0)
    spread = replace(Spread(*(nothing for _ in range(10)), samples=0, drivers=()), strokes=strokes, creep=creep)
    estimates = {"contact_share": Estimate(0.9, 0.9, 0.0, 0.0), "sag": Estimate(1.0, 1.0, 0.0, 0.0)}
    estimates["creep"] = Estimate(0.002, finest, 0.0, 0.0)
    return put_right(spread, mesh_error.MeshError(estimates, 1, False, 0.0)).strokes


def test_strokes_go_against_the_creep() -> None:
    """Half as much again of the greatest creep, by no more than the 1 um of here: 4 to 5; of the least: 1 to 1.5."""
    found = with_creep(Interval(10.0, 20.0, 40.0), Interval(0.001, 0.002, 0.004), 0.003)
    assert (found.low, found.nominal) == pytest.approx((8.0, 20.0))
    assert found.high == pytest.approx(40.0 / 1.5)


def test_strokes_are_left_alone_where_nothing_is_met_or_nothing_creeps() -> None:
    """Met at once, no creep at the least, or no strokes at all for what slides away."""
    for strokes, creep in (
        (Interval(0.0, 20.0, 40.0), Interval(0.001, 0.002, 0.004)),
        (Interval(10.0, 20.0, np.inf), Interval(0.0, 0.002, 0.004)),
        (Interval(10.0, 20.0, 40.0), Interval(0.001, 0.002, np.inf)),
    ):
        assert with_creep(strokes, creep, 0.003) == strokes
