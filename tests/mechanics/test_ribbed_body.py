"""Ribbed bodies as a whole: against solid elements, and standing on a table."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from reference_bodies import BOLSTER
from rib_body import BEYOND, BODIES, WITH_PADS, Moved, as_plate, in_solids

from deflect.casefile import read_case
from deflect.mechanics.analysis import analyse
from deflect.mechanics.body import condense_base, condense_table
from deflect.mechanics.layout import base_layout, bolster_layout
from deflect.mechanics.sections import solid_section
from deflect.model.case import Case
from deflect.model.die import Step
from deflect.model.press import PinField, SubPlate
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Rectangle

# Ours, solid elements: printed by rib_body.py.
SOLIDS = {
    "open": Moved(0.227420, 10.0245),
    "closed": Moved(0.137264, 0.861400),
    "few": Moved(0.344774, 22.7247),
    "many": Moved(0.637240, 26.7873),
    "few, closed": Moved(0.178472, 0.891045),
    "thick walls": Moved(0.0807073, 4.18451),
    "shallow": Moved(1.000802, 40.7659),
    "deep": Moved(0.181057, 8.12594),
}
PADDED = {
    "padded": Moved(0.1784, 3.416),
    "long pad": Moved(0.1358, 1.880),
    "padded, closed": Moved(0.1115, 0.754),
}
# And how far off the plate is there, in bending and in twist.
SOLIDS_BEYOND = {
    "walls of three ribs": (Moved(0.0748950, 2.37851), (0.03, -0.09)),
    "and two bays": (Moved(0.0661549, 1.59829), (0.09, -0.05)),
    "and two bays, closed": (Moved(0.0446979, 0.318310), (0.08, -0.04)),
    "deep, thin": (Moved(0.0523543, 10.4042), (0.02, 0.06)),
    "thin plates": (Moved(0.174339, 59.7086), (0.0, 0.07)),
    "close ribs": (Moved(0.0335722, 0.580295), (0.04, 0.09)),
}
ROW = Ribs(300.0, 40.0)
HOLLOW = RibPattern(60.0, 0.0, 50.0, ROW, ROW)
BOX = replace(HOLLOW, bottom=50.0)


@pytest.mark.parametrize("name", list(BODIES))
def test_a_whole_body_bends_and_twists_as_solids(name: str) -> None:
    """Two to six bays across, open and closed: 2.5 % in bending (2 % are seen), 4 % in twist.

    Twist: 2.7 % are seen, and 3.4 % in the deep one.  Nothing is fitted to these bodies.
    """
    plate, solids = as_plate(BODIES[name]), SOLIDS[name]
    assert plate.bent == pytest.approx(solids.bent, rel=0.025)
    assert plate.twisted == pytest.approx(solids.twisted, rel=0.04)


@pytest.mark.parametrize("name", list(WITH_PADS))
def test_a_body_with_a_pad_bends_as_solids(name: str) -> None:
    """Bending 2.5 %, and twist where it is closed.  Known weak spot: open below it twists up to a quarter less than the
    plate says, because a pad holds the ends of the ribs that meet it; the report says so."""
    plate, solids = as_plate(WITH_PADS[name]), PADDED[name]
    assert plate.bent == pytest.approx(solids.bent, rel=0.025)
    if name == "padded, closed":
        assert plate.twisted == pytest.approx(solids.twisted, rel=0.025)
    else:
        assert 1.0 < plate.twisted / solids.twisted < 1.3


@pytest.mark.parametrize("name", list(BEYOND))
def test_how_far_a_plate_is_off_at_the_limits_of_smearing(name: str) -> None:
    """Up to 10 %: as seen, within 1 %, so that a change for the worse does not pass unseen."""
    plate, (solids, (bent, twisted)) = as_plate(BEYOND[name]), SOLIDS_BEYOND[name]
    assert plate.bent / solids.bent - 1 == pytest.approx(bent, abs=0.01)
    assert plate.twisted / solids.twisted - 1 == pytest.approx(twisted, abs=0.01)


def test_the_frozen_bodies_are_those_of_the_script() -> None:
    found = in_solids(BODIES["few"])
    assert (found.bent, found.twisted) == pytest.approx((SOLIDS["few"].bent, SOLIDS["few"].twisted), rel=1e-4)


@pytest.mark.parametrize("name", ["open", "few, closed"])
def test_sections_weigh_what_the_body_weighs(name: str) -> None:
    base = BODIES[name]
    plate = condense_base(base).plate
    area = plate.mesh.cells[2] * plate.mesh.cells[3]
    mass = np.array([section.mass for section in plate.sections])[plate.kind]
    assert float(area @ mass) == pytest.approx(base.mass, rel=1e-9)


@pytest.fixture(scope="module")
def rowan() -> Case:
    return read_case("rowan-trim", "alder-10mn")


def on_ribs(case: Case, ribs: RibPattern | None) -> Case:
    return case.with_base(replace(case.die.base, ribs=ribs))


def test_an_open_base_bears_on_its_ribs_walls_and_pads_alone(rowan: Case) -> None:
    pads = (Rectangle(300.0, 200.0, 400.0, 200.0),)
    base = replace(rowan.die.base, ribs=replace(HOLLOW, pads=pads))
    assert base.ribs is not None
    condensed = condense_base(base)
    area = float((condensed.bearing * condensed.patches.area).sum())
    assert area == pytest.approx(base.ribs.core_area(base.plan), rel=1e-9)
    assert condense_base(replace(base, ribs=BOX)).bearing == pytest.approx(1.0)


def test_a_frame_milled_below_an_open_base_leaves_its_ribs_only(rowan: Case) -> None:
    plan = rowan.die.base.plan
    half = Rectangle(plan.left / 2, 0.0, plan.length / 2, plan.width)
    both, all_over = (condense_base(replace(rowan.die.base, ribs=HOLLOW, bearing=b)) for b in ((half,), ()))
    share = [float((b.bearing * b.patches.area).sum()) for b in (both, all_over)]
    assert share[0] == pytest.approx(share[1] / 2, rel=1e-9)


@pytest.mark.parametrize("ribs", [HOLLOW, BOX])
def test_forces_balance_and_pads_all_over_are_a_solid_base(rowan: Case, ribs: RibPattern) -> None:
    analysis = analyse(on_ribs(rowan, ribs), samples=0, mesh_error=False)
    assert analysis.solution.evidence.force_balance < 1e-9
    base = replace(rowan.die.base, ribs=replace(ribs, pads=(rowan.die.base.plan,)))
    solid = solid_section(base.thickness, base.material)
    layout = base_layout(base)
    mesh = condense_base(base).plate.mesh
    kinds = set(layout.kinds(mesh).tolist())
    assert [layout.sections[k].bending for k in kinds] == [pytest.approx(solid.bending)]
    assert base.mass == pytest.approx(rowan.die.base.mass)


def test_a_ribbed_base_follows_the_table_more_than_a_solid_one(rowan: Case) -> None:
    """The open one more than the closed one: by their stiffness, with the same height."""
    gaps = [
        analyse(on_ribs(rowan, ribs), samples=0, mesh_error=False).solution.greatest_gap for ribs in (HOLLOW, BOX, None)
    ]
    assert gaps[0] < gaps[1] < gaps[2]


def test_steps_stiffen_their_area_only(rowan: Case) -> None:
    step = Step(Rectangle(0.0, 0.0, 1000.0, 600.0), 520.0)
    base = condense_base(replace(rowan.die.base, steps=(step,)))
    here = base.plate.section_at(np.array([[0.0, 0.0], [900.0, 0.0]]), lambda s: s.to_underside)
    assert here == pytest.approx([260.0, 225.0])


def test_sections_of_a_bolster_where_they_belong() -> None:
    """Ribs, pin holes in the skins, walls, pads, and all of them below a sub-plate."""
    field = PinField(150.0, 50.0, Rectangle(0.0, 0.0, 1500.0, 900.0))
    plate = SubPlate(Rectangle(500.0, 0.0, 2000.0, 1600.0), 80.0, BOLSTER.material)
    pad = Rectangle(1200.0, 600.0, 300.0, 300.0)
    bolster = replace(BOLSTER, thickness=400.0, ribs=replace(BOX, pads=(pad,)), pin_field=field, sub_plate=plate)
    layout = bolster_layout(bolster)
    table = condense_table(bolster, Rectangle(0.0, 0.0, 2400.0, 1100.0))
    places = [(-1200.0, 0.0), (-600.0, 0.0), (-1980.0, 0.0), (1200.0, 0.0), (600.0, 0.0), (1200.0, 600.0)]
    # Within half a bay of the wall along x, of the one along y, and of both.
    places += [(-1200.0, -950.0), (-1900.0, 0.0), (-1900.0, -950.0)]
    kinds = table.plate.kind[table.plate.mesh.locate(np.array(places)).element]
    found = dict(zip(table.plate.mesh.locate(np.array(places)).point.tolist(), kinds.tolist(), strict=True))
    assert [found[k] for k in range(len(places))] == [0, 4, 9, 11, 15, 21, 1, 2, 3]
    plain, drilled = layout.sections[0], layout.sections[4]
    assert drilled.bending[0, 0] < plain.bending[0, 0]
    assert drilled.mass < plain.mass
    assert layout.sections[11].bending[0, 0] > plain.bending[0, 0]


@pytest.mark.parametrize("ribs", [HOLLOW, BOX])
def test_a_land_below_ribs_gives_by_them_and_more_than_below_a_slab(ribs: RibPattern) -> None:
    slab = replace(BOLSTER, thickness=400.0)
    opening = Rectangle(0.0, 0.0, 2400.0, 1100.0)
    ribbed = replace(slab, ribs=ribs)
    section = bolster_layout(ribbed).sections[0]
    squeeze = condense_table(ribbed, opening).land_squeeze
    assert squeeze == pytest.approx(section.squeeze_below / section.bearing_share)
    # Derived: half a slab is shortened by t/2E under a unit pressure.
    plain = 400.0 / (2 * BOLSTER.material.youngs_modulus)
    assert condense_table(slab, opening).land_squeeze == pytest.approx(plain)
    assert squeeze > 1.2 * plain
