"""Slabs with a step or a pocket in their top, against solid elements of our own."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from rib_body import IRON, Moved
from step_body import BODIES, as_plate, in_solids

from deflect.mechanics.layout import base_layout
from deflect.mechanics.mesh import PlanMesh, graded_lines
from deflect.mechanics.sections import StepForm, solid_section
from deflect.model.die import Step
from deflect.model.values import Rectangle

# Ours, solid elements: printed by step_body.py.
SOLIDS = {
    "step": Moved(0.217671, 1.68190),
    "step all across": Moved(0.171950, 1.39801),
    "step all along": Moved(0.146156, 1.26814),
    "low step": Moved(0.278197, 1.90079),
    "small high step": Moved(0.326756, 2.07084),
    "square": Moved(0.0536113, 1.07691),
    "large": Moved(0.143240, 1.01028),
    "pocket": Moved(0.128630, 0.880021),
    "channel across": Moved(0.255696, 1.12639),
    "channel along": Moved(0.128353, 1.10374),
    "deep pocket": Moved(0.336409, 2.16857),
}
PLAN = Rectangle(0.0, 0.0, 2000.0, 1200.0)


@pytest.mark.parametrize("name", [name for name in SOLIDS if name != "deep pocket"])
def test_a_stepped_base_bends_and_twists_as_solids(name: str) -> None:
    """3 % (2.5 % are seen): the shadow is that of T-slots, what the step gains beside the slab is derived; one share is
    fixed here, that of twist in the shadow.  Without both, bending is 14 % too stiff to 9 % too soft."""
    plate, solids = as_plate(BODIES[name]), SOLIDS[name]
    assert plate.bent == pytest.approx(solids.bent, rel=0.03)
    assert plate.twisted == pytest.approx(solids.twisted, rel=0.03)


def test_a_deep_pocket_is_taken_as_too_compliant_by_what_is_told() -> None:
    """Half as thick as the rest, with a rim all round that holds its floor: 5 to 9 % too compliant; told are 9."""
    plate, solids = as_plate(BODIES["deep pocket"]), SOLIDS["deep pocket"]
    assert 1.0 < plate.bent / solids.bent < 1.10
    assert 1.0 < plate.twisted / solids.twisted < 1.10


def test_the_frozen_body_is_that_of_the_script() -> None:
    found, frozen = in_solids(BODIES["square"]), SOLIDS["square"]
    assert (found.bent, found.twisted) == pytest.approx((frozen.bent, frozen.twisted), rel=1e-4)


@pytest.mark.parametrize("stepped", [400.0, 100.0])
def test_a_step_over_the_whole_plan_is_a_slab_of_its_thickness(stepped: float) -> None:
    form = StepForm(250.0, stepped, PLAN, PLAN)
    assert form.areas[-1] == (PLAN, 0)
    sections = form.sections(IRON)
    assert sections[0].bending == pytest.approx(solid_section(stepped, IRON).bending)


def test_a_step_next_to_nothing_high_changes_nothing() -> None:
    form = StepForm(250.0, 250.0 + 1e-6, PLAN, Rectangle(0.0, 0.0, 800.0, 500.0))
    for section in form.sections(IRON):
        assert section.bending == pytest.approx(solid_section(250.0, IRON).bending, rel=1e-6)
    # A shadow is no longer than the step is high, or the slab thick.
    assert 0.0 < form.shadow < 0.01


@pytest.mark.parametrize("name", ["step", "pocket", "step all along"])
def test_steps_weigh_what_the_base_weighs(name: str) -> None:
    base = BODIES[name]
    layout = base_layout(base)
    mesh = PlanMesh.with_openings(*(graded_lines(at, 100.0) for at in layout.lines(base.plan)), ())
    mass = np.array([section.mass for section in layout.sections])[layout.kinds(mesh)]
    assert float(mass @ (mesh.cells[2] * mesh.cells[3])) == pytest.approx(base.mass, rel=1e-9)


def test_the_shadow_of_a_pocket_leaves_the_steps_beside_it_as_they_are() -> None:
    """A pocket between two steps, told before, between and after them: each area keeps its own thickness."""
    high, low = (Step(Rectangle(x, 0.0, 400.0, 600.0), 450.0) for x in (-500.0, 500.0))
    pocket = Step(Rectangle(0.0, 0.0, 560.0, 600.0), 200.0)
    for steps in itertools.permutations((high, low, pocket)):
        base = replace(BODIES["step"], steps=steps)
        layout = base_layout(base)
        mesh = PlanMesh.with_openings(*(graded_lines(at, 100.0) for at in layout.lines(base.plan)), ())
        mass = np.array([section.mass for section in layout.sections])[layout.kinds(mesh)]
        assert float(mass @ (mesh.cells[2] * mesh.cells[3])) == pytest.approx(base.mass, rel=1e-9)


def test_a_step_turned_is_the_same_turned() -> None:
    area = Rectangle(100.0, -50.0, 800.0, 500.0)
    one = StepForm(250.0, 400.0, PLAN, area).sections(IRON)
    turned_plan, turned_area = (Rectangle(r.y, r.x, r.width, r.length) for r in (PLAN, area))
    other = StepForm(250.0, 400.0, turned_plan, turned_area).sections(IRON)
    turn = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    for a, b in ((0, 0), (1, 2), (2, 1), (3, 3)):
        assert turn @ one[a].bending @ turn == pytest.approx(other[b].bending)


def test_every_section_of_a_step_is_stable() -> None:
    for stepped in (60.0, 200.0, 260.0, 500.0, 900.0):
        form = StepForm(250.0, stepped, PLAN, replace(PLAN, length=700.0, width=300.0))
        for section in form.sections(IRON):
            assert np.linalg.eigvalsh(section.bending).min() > 0
