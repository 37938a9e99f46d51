"""Each remedy: a case in which it is proposed and does what it is for, and one in which it has nothing to offer."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from deflect.advice import all_remedies
from deflect.advice.trying import combined
from deflect.findings import Analysis, Proposal, Remedy
from deflect.mechanics.analysis import analyse
from deflect.mechanics.mounting import clamping
from deflect.model.case import Case
from deflect.model.die import Bedded, BlankHolder, Shim
from deflect.model.force import Patch
from deflect.model.values import Rectangle

Change = Callable[[Case], Case]
Read = Callable[[Analysis], float]


def placing(**changes: object) -> Change:
    return lambda c: replace(c, die=replace(c.die, placing=replace(c.die.placing, **changes)))  # type: ignore[arg-type]


def die(**changes: object) -> Change:
    return lambda c: replace(c, die=replace(c.die, **changes))  # type: ignore[arg-type]


def bolster(**changes: object) -> Change:
    def change(c: Case) -> Case:
        return replace(c, press=replace(c.press, bolster=replace(c.press.bolster, **changes)))  # type: ignore[arg-type]

    return change


def same(case: Case) -> Case:
    return case


def gap(analysis: Analysis) -> float:
    return analysis.solution.greatest_gap


def held(analysis: Analysis) -> float:
    return 0.0 if analysis.creep.held else 1.0


def sag(analysis: Analysis) -> float:
    return analysis.solution.sag.slope


def face(analysis: Analysis) -> float:
    return analysis.face.error_range


def offset(analysis: Analysis) -> float:
    where = analysis.case.die.placing
    return math.hypot(where.x, where.y)


def unseated(analysis: Analysis) -> float:
    return 1.0 - analysis.solution.contact_share


def holder(analysis: Analysis) -> float:
    ring = analysis.case.die.blank_holder
    return 0.0 if ring is None else ring.thickness


RING = BlankHolder(2400.0, 1100.0, 200.0, 250.0, None)  # type: ignore[arg-type]
CHIP = Shim(Rectangle(1000.0, 400.0, 100.0, 100.0), 0.1)


def with_ring(case: Case) -> Case:
    return die(blank_holder=replace(RING, material=case.die.base.material))(case)


def bedded_elsewhere(case: Case) -> Case:
    stiffer = bolster(thickness=1.5 * case.press.bolster.thickness, mass=1.5 * case.press.bolster.mass)(case)
    return die(bedded=Bedded(stiffer.press, case.die.working_force))(case)


def with_patch(case: Case) -> Case:
    return die(patterns=(Patch(1.0, Rectangle(0.0, 0.0, 800.0, 400.0)),))(case)


def other_slots(case: Case) -> Case:
    """T-slots that run between the slots of the flange."""
    assert case.press.bolster.t_slots is not None
    return bolster(t_slots=replace(case.press.bolster.t_slots, offset=70.0))(case)


def unmet(analysis: Analysis) -> float:
    case = analysis.case
    flange, t_slots = case.die.lower.flange, case.press.bolster.t_slots
    assert flange is not None
    assert t_slots is not None
    assert flange.slot_width is not None
    found = clamping(case.die.placing, flange.slots, flange.slot_width, t_slots, case.press.bolster.plan)
    return float(len(flange.slots) - found.met)


def other(case: Case) -> Case:
    return replace(case, other_presses=(bolster(dish=0.0)(case).press,))


# remedy: the case in which it helps, the number that must fall, the case in which it offers nothing.
CASES: dict[str, tuple[Change, Read, Change]] = {
    "clean-table": (placing(dirt=(CHIP,)), gap, same),
    "key": (same, held, placing(keyed=True)),
    "cones": (same, held, placing(coned=True)),
    "regrind-table": (same, gap, bolster(dish=0.0)),
    "shims": (same, gap, lambda c: die(working_force=1e5)(bolster(dish=0.0)(c))),
    "support-posts": (same, gap, lambda c: replace(c, press=replace(c.press, cushion=_cushion()))),
    "sub-plate": (same, sag, lambda c: bolster(sub_plate=_plate(c))(c)),
    "move-die": (placing(x=300.0, may_move=(300.0, 100.0)), offset, same),
    "turn-die": (placing(may_turn=True), lambda a: -a.case.die.placing.rotation, same),
    "relieved-base": (
        same,
        unseated,
        lambda c: die(base=replace(c.die.base, bearing=(Rectangle(0, 0, 2000, 1000),)))(c),
    ),
    "thicker-base": (same, face, same),
    "compliant-base": (same, gap, same),
    "lower-force": (same, sag, same),
    "spread-force": (with_patch, sag, same),
    "other-press": (other, gap, same),
    "bed-in-again": (bedded_elsewhere, face, same),
    "compliant-holder": (with_ring, holder, same),
    "suit-clamping": (other_slots, unmet, same),
}
# Remedies that always have something to offer.
ALWAYS = {"thicker-base", "compliant-base", "lower-force"}


def _cushion() -> object:
    from deflect.model.press import Cushion

    return Cushion(1e6)


def _plate(case: Case) -> object:
    from deflect.model.press import SubPlate

    return SubPlate(Rectangle(0, 0, 3000, 1500), 100.0, case.press.bolster.material)


def proposals(remedy: Remedy, case: Case) -> tuple[Analysis, list[Proposal]]:
    before = analyse(case, samples=0, mesh_error=False)
    return before, list(remedy.proposals(before))


def test_every_remedy_has_a_case_on_either_side() -> None:
    assert {r.id for r in all_remedies()} == set(CASES)


@pytest.mark.parametrize("remedy", all_remedies(), ids=lambda r: r.id)
def test_it_does_what_it_is_for(remedy: Remedy, rowan: Case) -> None:
    change, read, _ = CASES[remedy.id]
    before, offered = proposals(remedy, change(rowan))
    assert offered
    after = [analyse(p.case, samples=0, mesh_error=False) for p in offered[-1:]]
    assert read(after[-1]) < read(before)
    assert offered[0].size


@pytest.mark.parametrize("remedy", [r for r in all_remedies() if r.id not in ALWAYS], ids=lambda r: r.id)
def test_it_offers_nothing_where_there_is_nothing_to_do(remedy: Remedy, rowan: Case) -> None:
    _, offered = proposals(remedy, CASES[remedy.id][2](rowan))
    assert not offered


def test_nothing_loosens_the_clamps(rowan: Case) -> None:
    """No remedy proposes fewer clamps than there are, nor less clamp force."""
    for remedy in all_remedies():
        case = CASES[remedy.id][0](rowan)
        for proposal in proposals(remedy, case)[1]:
            assert proposal.case.die.placing.clamps == case.die.placing.clamps, remedy.id


def test_a_pair_adds_up_what_it_costs() -> None:
    first, second = all_remedies()[:2]
    both = combined(first, second)
    assert both.hours == first.hours + second.hours
    assert first.hazard in both.hazard
    assert second.hazard in both.hazard
    assert both.cures == first.cures | second.cures


def test_posts_never_stand_under_a_cushion(rowan: Case) -> None:
    from deflect.model.press import Cushion

    remedy = next(r for r in all_remedies() if r.id == "support-posts")
    assert not proposals(remedy, replace(rowan, press=replace(rowan.press, cushion=Cushion(1e6))))[1]


def test_thicker_bases_keep_their_mass_and_height_told(rowan: Case) -> None:
    remedy = next(r for r in all_remedies() if r.id == "thicker-base")
    for proposal in proposals(remedy, rowan)[1]:
        assert "closed height" in proposal.size
        assert "kN on the crane" in proposal.hazard


def test_an_estimated_mass_is_marked_on_the_crane_line(rowan: Case) -> None:
    guessed = die(lower=replace(rowan.die.lower, mass_is_estimated=True))(rowan)
    for name in ("thicker-base", "compliant-base"):
        remedy = next(r for r in all_remedies() if r.id == name)
        assert all("weigh it" in p.hazard for p in proposals(remedy, guessed)[1])
        assert not any("weigh it" in p.hazard for p in proposals(remedy, rowan)[1])


def offered(name: str, case: Case) -> list[Proposal]:
    remedy = next(r for r in all_remedies() if r.id == name)
    return proposals(remedy, case)[1]


def test_no_less_force_than_the_panel_needs(rowan: Case) -> None:
    force = rowan.die.working_force
    shares = [round(p.case.die.working_force / force, 6) for p in offered("lower-force", rowan)]
    assert shares == [0.9, 0.8, 0.7]
    least = [p.case.die.working_force / force for p in offered("lower-force", die(least_force=0.75 * force)(rowan))]
    assert least == pytest.approx([0.9, 0.8])
    (only,) = offered("lower-force", die(least_force=0.95 * force)(rowan))
    assert only.case.die.working_force == pytest.approx(0.95 * force)
    assert not offered("lower-force", die(least_force=force)(rowan))


def test_a_table_takes_what_it_is_made_for(rowan: Case) -> None:
    assert not offered("key", bolster(takes="cones")(rowan))
    assert offered("cones", bolster(takes="cones")(rowan))
    assert not offered("cones", bolster(takes="keys")(rowan))


def test_a_die_is_moved_onto_the_t_slots(rowan: Case) -> None:
    moved = offered("move-die", placing(may_move=(100.0, 0.0))(other_slots(rowan)))
    assert unmet(analyse(moved[0].case, samples=0, mesh_error=False)) == 0
    assert moved[0].case.die.placing.x == 70.0
    assert not offered("move-die", placing(may_move=(60.0, 0.0))(other_slots(rowan)))


def test_seats_are_milled_down_and_a_thin_flange_stays_thin(rowan: Case) -> None:
    flange = rowan.die.lower.flange
    assert flange is not None
    thick = die(lower=replace(rowan.die.lower, flange=replace(flange, thickness=120.0)))(rowan)
    (milled,) = offered("suit-clamping", thick)
    assert milled.case.die.lower.flange == replace(flange, thickness=rowan.press.clamped_thickness.high)
    assert not offered(
        "suit-clamping", die(lower=replace(rowan.die.lower, flange=replace(flange, thickness=20.0)))(rowan)
    )


def test_a_die_that_would_stick_out_of_the_other_table_is_not_sent_there(rowan: Case) -> None:
    aside = placing(x=700.0)(rowan)
    small = bolster(length=3600.0)(aside).press
    assert not offered("other-press", replace(aside, other_presses=(small,)))
