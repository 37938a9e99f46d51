"""Each remedy: a case in which it is proposed and does what it is for, and one in which it has nothing to offer."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from deflect.advice import all_remedies, assess
from deflect.advice.judging import WRONG
from deflect.advice.trying import ask_for, combined
from deflect.findings import Analysis, Proposal, Remedy
from deflect.mechanics.analysis import analyse
from deflect.mechanics.cutting import shear_force
from deflect.mechanics.lift_off import lift_off
from deflect.mechanics.matching import budget
from deflect.mechanics.mounting import clamping
from deflect.mechanics.ring_case import ring_of
from deflect.model.case import Case
from deflect.model.die import Bedded, BlankHolder, Clamp, Limits, Operation, Shim
from deflect.model.force import Patch
from deflect.model.matching import Fitted
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.ring import Carried, GasSpring, GasSprings, Wanted
from deflect.model.values import Interval, Rectangle

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
    return 0.0 if ring is None else ring.inertia


def mass(analysis: Analysis) -> float:
    return analysis.case.die.lower.mass


RING = BlankHolder(2400.0, 1100.0, 200.0, 250.0, None)  # type: ignore[arg-type]
PLACES = tuple((-700.0 + 200 * k, y) for y in (-400.0, 400.0) for k in range(8)) + tuple(
    (x, y) for x in (-700.0, 700.0) for y in (-200.0, 0.0, 200.0)
)
CHIP = Shim(Rectangle(1000.0, 400.0, 100.0, 100.0), 0.1)


def with_ring(case: Case) -> Case:
    return die(blank_holder=replace(RING, material=case.die.base.material))(case)


def uneven(analysis: Analysis) -> float:
    return ring_of(analysis.case).uneven


def ringed(case: Case, carried: Carried) -> Case:
    """A draw die of both halves with a blank holder on 22 places, half of its force the cushion's."""
    ring = BlankHolder(1400.0, 800.0, 200.0, 120.0, case.die.base.material, carried)
    upper = replace(case.die.upper, base=case.die.base)
    draw = {"operation": Operation.DRAW, "cushion_force": 1e6, "cushion_pins": PLACES}
    return die(blank_holder=ring, upper=upper, **draw)(case)


def worn_pins(case: Case) -> Case:
    return ringed(case, Carried(4e5, heights=(-0.3, -0.3, *(0.0,) * 20)))


def on_springs(case: Case) -> Case:
    """Springs of one force below a ring that shall press less on the left."""
    springs = GasSprings(tuple(GasSpring(x, y, 5e4) for x, y in PLACES), False, 2e5)
    return ringed(case, Carried(4e5, springs=springs, wanted=Wanted(left=0.5)))


def bedded_elsewhere(case: Case) -> Case:
    stiffer = bolster(thickness=1.5 * case.press.bolster.thickness, mass=1.5 * case.press.bolster.mass)(case)
    return die(bedded=Bedded(stiffer.press, case.die.working_force))(case)


def with_patch(case: Case) -> Case:
    return die(patterns=(Patch(1.0, Rectangle(0.0, 0.0, 800.0, 400.0)),))(case)


def seated(case: Case) -> Case:
    """Keyed, on a flat table, hardly loaded: nothing to cure."""
    return placing(keyed=True)(die(working_force=1e5)(bolster(dish=0.0)(case)))


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


def pulled(case: Case) -> Case:
    """Guides that pull with 300 kN at worst: more than 352.8 kN / 1.5."""
    return die(lift_off=replace(case.die.lift_off, guides=Interval(0.0, 100e3, 300e3)))(case)


def crowded(case: Case) -> Case:
    """A clamp in every slot of the flange."""
    slots = case.die.lower.flange.slots if case.die.lower.flange else ()
    return placing(clamps=tuple(Clamp(x, y, 60e3) for x, y in slots))(case)


def cut(analysis: Analysis) -> float:
    shear = shear_force(analysis.case.die)
    assert shear is not None
    return shear.sharp.nominal


def by_numbers(case: Case) -> Case:
    return die(matching=replace(case.die.matching, stated=True, length=5000.0))(case)


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
    "thicker-base": (die(limits=Limits(0.03, 0.03, 0.015)), face, same),
    "other-section": (same, mass, lambda c: die(base=replace(c.die.base, thickness=180.0))(c)),
    "compliant-base": (same, gap, seated),
    "lower-force": (same, sag, same),
    "spread-force": (with_patch, sag, same),
    "other-press": (other, gap, same),
    "bed-in-again": (bedded_elsewhere, face, same),
    "compliant-holder": (with_ring, holder, same),
    "level-pins": (worn_pins, uneven, same),
    "spring-setting": (on_springs, uneven, same),
    "more-clamps": (pulled, lambda a: -lift_off(a.case).reserve.low, crowded),
    "fit-halves": (by_numbers, lambda a: budget(a).root_sum_square.nominal, same),
    "suit-clamping": (other_slots, unmet, same),
    "stepped-edges": (die(working_force=7e6), cut, lambda c: die(cutting=replace(c.die.cutting, at_once=0.5))(c)),
}
HOLLOW = RibPattern(60.0, 0.0, 50.0, Ribs(300.0, 40.0), Ribs(300.0, 40.0))

# Remedies that always have something to offer.
ALWAYS = {"lower-force"}


def _cushion() -> object:
    from deflect.model.press import Cushion

    return Cushion(1e6)


def _plate(case: Case) -> object:
    from deflect.model.press import SubPlate

    return SubPlate(Rectangle(0, 0, 3000, 1500), 100.0, case.press.bolster.material)


def proposals(remedy: Remedy, case: Case) -> tuple[Analysis, list[Proposal]]:
    before = assess(case, samples=0, mesh_error=False, thrust_direction=0.0)
    return before.analysis, list(remedy.offered(before.analysis, ask_for(remedy, before)))


def test_every_remedy_has_a_case_on_either_side() -> None:
    assert {r.id for r in all_remedies()} == set(CASES)


@pytest.mark.parametrize("remedy", all_remedies(), ids=lambda r: r.id)
def test_it_does_what_it_is_for(remedy: Remedy, rowan: Case) -> None:
    change, read, _ = CASES[remedy.id]
    before, offered = proposals(remedy, change(rowan))
    assert offered
    after = [analyse(p.case, samples=0, mesh_error=False, thrust_direction=0.0) for p in offered[-1:]]
    assert read(after[-1]) < read(before)
    assert offered[0].size


@pytest.mark.parametrize("remedy", [r for r in all_remedies() if r.id not in ALWAYS], ids=lambda r: r.id)
def test_it_offers_nothing_where_there_is_nothing_to_do(remedy: Remedy, rowan: Case) -> None:
    _, offered = proposals(remedy, CASES[remedy.id][2](rowan))
    assert not offered


def test_nothing_loosens_the_clamps(rowan: Case) -> None:
    """No remedy takes a clamp away or lowers its force."""
    for remedy in all_remedies():
        case = CASES[remedy.id][0](rowan)
        for proposal in proposals(remedy, case)[1]:
            assert set(case.die.placing.clamps) <= set(proposal.case.die.placing.clamps), remedy.id


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
    offered = proposals(remedy, CASES["thicker-base"][0](rowan))[1]
    assert offered
    for proposal in offered:
        assert "closed height" in proposal.size
        assert "kN on the crane" in proposal.hazard


def test_a_size_may_be_sought_for_what_its_remedy_is_not_for(rowan: Case) -> None:
    """A thicker base is for the face and the stress; where they hold, only a rule that is named asks for more of it."""
    remedy = next(r for r in all_remedies() if r.id == "thicker-base")
    case = die(limits=Limits(0.03, 1.0, 0.5))(rowan)
    before = assess(case, samples=0, mesh_error=False, thrust_direction=0.0)
    assert "gap" in {f.rule.id for f in before.findings if f.status in WRONG}
    assert ask_for(remedy, before)(case).excess < 0
    assert ask_for(remedy, before, also=("gap",))(case).excess > 0


def test_a_size_is_asked_about_over_the_ranges_of_the_changed_case(rowan: Case) -> None:
    remedy = next(r for r in all_remedies() if r.id == "compliant-base")
    before = assess(rowan, samples=2, mesh_error=False, thrust_direction=0.0)
    alike, anew = (ask_for(remedy, before, samples)(rowan.with_base_thickness(300.0)) for samples in (0, 8))
    assert alike.excess != anew.excess


def test_edges_are_stepped_until_the_stated_force_is_enough(rowan: Case) -> None:
    """7.798 MN for the whole cut: 80 % of it, 6.238 MN, is the first step below 7 MN."""
    _, offered = proposals(next(r for r in all_remedies() if r.id == "stepped-edges"), die(working_force=7e6)(rowan))
    enough = [p.size for p in offered if cut(analyse(p.case, samples=0, mesh_error=False, thrust_direction=0.0)) <= 7e6]
    assert len(offered) == 5
    assert "80 % of the cut is cut at once, instead of 100 %" in enough[0]


def section(case: Case) -> list[Proposal]:
    return proposals(next(r for r in all_remedies() if r.id == "other-section"), case)[1]


def test_a_solid_base_is_offered_ribs_that_can_be_cast_at_the_same_height(rowan: Case) -> None:
    """Lighter by what is hollow, as the half is told to be; the closed height stays."""
    offered = section(rowan)
    assert len(offered) == 4
    for proposal in offered:
        base = proposal.case.die.base
        assert base.ribs is not None
        assert min(base.ribs.parts.values()) >= base.ribs.thinnest
        assert proposal.case.closed_height == rowan.closed_height
        saved = rowan.die.lower.mass - proposal.case.die.lower.mass
        assert saved == pytest.approx(rowan.die.base.mass - base.mass)
        assert f"−{saved / 1000:.1f} t" in proposal.size


def test_a_ribbed_base_is_offered_other_ribs_and_a_bottom(rowan: Case) -> None:
    """Denser, looser, thicker, thinner ribs, and closed below; nothing thinner than the foundry casts."""
    hollow = die(base=replace(rowan.die.base, ribs=HOLLOW))(rowan)
    told = [proposal.size for proposal in section(hollow)]
    assert len(told) == 5
    assert "closed by a bottom skin" in told[-1]
    assert "every 240 mm" in told[0]
    least = replace(HOLLOW, thinnest=40.0)
    assert len(section(die(base=replace(rowan.die.base, ribs=least))(rowan))) == 4
    closed = replace(HOLLOW, bottom=50.0)
    assert "left open below" in section(die(base=replace(rowan.die.base, ribs=closed))(rowan))[-1].size


def test_an_estimated_mass_is_marked_on_the_crane_line(rowan: Case) -> None:
    for name in ("thicker-base", "compliant-base"):
        remedy = next(r for r in all_remedies() if r.id == name)
        rowan = CASES[name][0](rowan)
        guessed = die(lower=replace(rowan.die.lower, mass_is_estimated=True))(rowan)
        assert all("weigh it" in p.hazard for p in proposals(remedy, guessed)[1])
        assert not any("weigh it" in p.hazard for p in proposals(remedy, rowan)[1])


def test_clamps_are_added_up_to_the_number_that_is_needed(rowan: Case) -> None:
    """At worst 300 + 125.0 kN pull: 1.5 times that less the weight of 112.8 kN asks for 9 clamps of 60 kN."""
    _, offered = proposals(next(r for r in all_remedies() if r.id == "more-clamps"), pulled(rowan))
    worst = lift_off(pulled(rowan)).pull.high
    needed = math.ceil((1.5 * worst - 11_500 * 9.80665) / 60e3)
    counts = [len(p.case.die.placing.clamps) for p in offered]
    assert counts == [6, needed]  # six are asked for by the press; they are enough at the usual values
    assert [lift_off(p.case).reserve.low >= 1.5 for p in offered] == [False, True]
    assert not lift_off(offered[0].case).short_of_clamps


def test_added_clamps_stand_in_free_slots_that_meet_a_t_slot(rowan: Case) -> None:
    remedy = next(r for r in all_remedies() if r.id == "more-clamps")
    flange = rowan.die.lower.flange
    assert flange is not None
    taken = Clamp(*flange.slots[0], 55e3)
    _, offered = proposals(remedy, placing(clamps=(taken,))(pulled(rowan)))
    added = [c for c in offered[-1].case.die.placing.clamps if c != taken]
    assert {(c.x, c.y) for c in added} <= set(flange.slots[1:])
    assert all(c.force == taken.force for c in added)
    assert "55 kN on the die" in offered[-1].size
    shifted = bolster(t_slots=replace(rowan.press.bolster.t_slots, offset=60.0))(pulled(rowan))  # type: ignore[type-var]
    assert not proposals(remedy, shifted)[1]


def test_opposite_slots_are_taken_together(rowan: Case) -> None:
    remedy = next(r for r in all_remedies() if r.id == "more-clamps")
    _, offered = proposals(remedy, pulled(rowan))
    first, second = offered[0].case.die.placing.clamps[4:6]
    assert (first.x, first.y) == (-second.x, -second.y)


def test_fitting_is_offered_only_where_the_match_is_stated_and_goes_on_from_what_was_done(rowan: Case) -> None:
    remedy = next(r for r in all_remedies() if r.id == "fit-halves")
    started = die(matching=replace(rowan.die.matching, stated=True, fitted=Fitted.TO_EACH_OTHER))(rowan)
    (offered,) = proposals(remedy, started)[1]
    assert offered.case.die.matching.fitted is Fitted.IN_THE_PRESS
    done = die(matching=replace(rowan.die.matching, stated=True, fitted=Fitted.IN_THE_PRESS))(rowan)
    assert not proposals(remedy, done)[1]


def test_less_force_on_a_cut_asks_for_stepped_edges_no_more_than_need_be(rowan: Case) -> None:
    """The cut asks for 7.798 MN: 0.9 x 8.8 MN is enough, 0.8 and 0.7 are not."""
    remedy = next(r for r in all_remedies() if r.id == "lower-force")
    offered = proposals(remedy, rowan)[1]
    at_once = [p.case.die.cutting.at_once for p in offered]
    assert at_once == pytest.approx([1.0, 0.8 * 8.8e6 / 7797972, 0.7 * 8.8e6 / 7797972], rel=1e-6)
    assert "stepped" not in offered[0].size
    assert "edges stepped so that 90.28 % of the cut is cut at once" in offered[1].size
    for one in offered:
        assert lift_off(one.case).pull == lift_off(rowan).pull


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
    assert unmet(analyse(moved[0].case, samples=0, mesh_error=False, thrust_direction=0.0)) == 0
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
