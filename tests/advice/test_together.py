"""Several remedies on one case: their changes add up, what cannot be together is said, and the solver decides."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

import pytest

from deflect.advice import Excluded, all_remedies, assess, joined, together
from deflect.findings import Analysis, Outcome, Proposal
from deflect.mechanics.analysis import analyse
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.values import Rectangle

Change = dict[str, object]


def placed(case: Case, **changes: object) -> Case:
    return replace(case, die=replace(case.die, placing=replace(case.die.placing, **changes)))  # type: ignore[arg-type]


def tried(remedy: str, case: Case) -> Outcome:
    """A remedy with its changed case; what became of the rules, and its analysis, are not looked at here."""
    known = next(one for one in all_remedies() if one.id == remedy)
    return Outcome(known, Proposal(case, f"size of {remedy}"), cast("Analysis", None), (), (), (), (), False)


def test_changes_add_up_in_any_order(rowan: Case) -> None:
    thicker = tried("thicker-base", rowan.with_base_thickness(500.0))
    keyed = tried("key", placed(rowan, keyed=True))
    less = tried("lower-force", replace(rowan, die=replace(rowan.die, working_force=7.0e6)))
    one = joined(rowan, (thicker, keyed, less))
    assert isinstance(one, Case)
    assert (one.die.base.thickness, one.die.placing.keyed, one.die.working_force) == (500.0, True, 7.0e6)
    assert one.die.lower.height == thicker.proposal.case.die.lower.height
    assert one == joined(rowan, (less, thicker, keyed))
    assert joined(rowan, ()) == rowan


@pytest.mark.parametrize(
    ("first", "second", "why"),
    [
        (("thicker-base", {"thickness": 500.0}), ("compliant-base", {"thickness": 300.0}), "both change the die base"),
        (("move-die", {"x": 100.0}), ("key", {"keyed": True}), "depends on the place of the die"),
        (("key", {"keyed": True}), ("cones", {"coned": True}), "hold the die twice"),
        (("shims", {"shims": 0.1}), ("shims", {"shims": 0.1}), "a remedy in common"),
        (("shims", {"shims": 0.1}), ("relieved-base", {"frame": 200.0}), "no longer bears"),
    ],
)
def test_what_cannot_be_together_is_said(
    first: tuple[str, Change], second: tuple[str, Change], why: str, rowan: Case
) -> None:
    found = joined(rowan, [_tried(one, rowan) for one in (first, second)])
    assert isinstance(found, Excluded)
    assert why in found.why


def _tried(one: tuple[str, Change], rowan: Case) -> Outcome:
    remedy, changes = one
    (key, value), *_ = changes.items()
    if key == "thickness":
        assert isinstance(value, float)
        return tried(remedy, rowan.with_base_thickness(value))
    if key == "frame":  # only its front strip is looked at
        bearing = (Rectangle(0.0, -rowan.die.base.width / 2 + 100.0, rowan.die.base.length, 200.0),)
        base = replace(rowan.die.base, bearing=bearing)
        return tried(remedy, replace(rowan, die=replace(rowan.die, base=base)))
    if key == "shims":
        assert isinstance(value, float)
        changes = {"shims": (Shim(Rectangle(0.0, 0.0, 400.0, 400.0), value),)}
    return tried(remedy, placed(rowan, **changes))


@pytest.mark.usefixtures("coarse")
def test_together_is_a_fresh_check_of_all_changes(rowan: Case) -> None:
    rowan = replace(rowan, die=replace(rowan.die, thrust_direction=0.0))  # one way is marched, not two
    before = assess(rowan, samples=0, mesh_error=False)
    thinner = tried("compliant-base", rowan.with_base_thickness(250.0))
    keyed = tried("key", placed(rowan, keyed=True))
    found = together(before, (thinner, keyed))
    assert isinstance(found, Outcome)
    fresh = analyse(placed(rowan.with_base_thickness(250.0), keyed=True), samples=0, mesh_error=False)
    assert found.analysis.solution.greatest_gap == pytest.approx(fresh.solution.greatest_gap, rel=1e-9)
    assert {"gap", "creep"} <= set(found.cured)
    assert found.proposal.size == "size of compliant-base; and size of key"
    assert found.remedy.hours == thinner.remedy.hours + keyed.remedy.hours
