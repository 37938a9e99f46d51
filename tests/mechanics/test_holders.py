"""What holds a die: wedge, key and seat arithmetic; usual places; holders in the table's axes."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deflect.mechanics import holders
from deflect.mechanics.bolts import THREADS, bolted_clamp
from deflect.mechanics.holder_layout import layout
from deflect.mechanics.holders import (
    EDGE,
    FLANK_JOINT,
    HALF_GIRTH,
    ROUND_CONE,
    SQUARE,
    base_face_stiffness,
    cone_lift,
    cone_stiffness,
    cones_of,
    flank_stiffness,
    girth_stiffness,
    held_down,
    holders_of,
    key_capacity,
    key_stiffness,
    keys_of,
    pull_out_force,
    seat_share,
    seat_stiffness,
    wedge_lift,
)
from deflect.mechanics.locating import key_misses_slot, usual_cones, usual_keys
from deflect.model.case import Case
from deflect.model.die import Clamp, Die, DieBase, Half, Limits, Operation, Placing
from deflect.model.force import Patch
from deflect.model.holder import ClampBolt, ConeForm, Guide, Key, LocatingCone, Seat
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster, Land, Press, SubPlate, TSlots
from deflect.model.values import Interval, Rectangle

STEEL = Material("steel", 210_000.0, 0.3, 7.85e-6, 120.0)
IRON = Material("iron", 174_000.0, 0.275, 7.2e-6, 100.0)
QUARTER = math.pi / 2
SLOTS = TSlots(28.0, 200.0, "y", 0.0)


def case(placing: Placing | None = None, slots: TSlots | None = SLOTS, **changes: object) -> Case:
    """A die of 2400 x 1200 on a table of 4000 x 2200 with T-slots 200 mm apart; friction 0.10 to 0.20."""
    bolster = Bolster(4000.0, 2200.0, 250.0, 17e3, STEEL, t_slots=slots)
    bed = Bed(Rectangle(0, 0, 2400, 1100), Land(Interval.exactly(50.0), "test"))
    press = Press("p", 10e6, bolster, bed, None, None, Interval(0.1, 0.15, 0.2), Interval(0, 0, 0), None)
    die = Die(
        "d",
        Operation.TRIM,
        DieBase(2400.0, 1200.0, 400.0, IRON),
        Half(600.0, 10e3, mass_is_estimated=False),
        Half(500.0, 8e3, mass_is_estimated=False),
        8e6,
        0.0,
        (Patch(1.0, Rectangle(0, 0, 1000, 500)),),
        placing or Placing(),
        Limits(0.03, 0.3, 0.015),
        Interval(0.001, 0.005, 0.02),
    )
    return Case(press, replace(die, **changes))  # type: ignore[arg-type]


# ---- wedges


@pytest.mark.parametrize(("degrees", "friction"), [(10.0, 0.1), (15.0, 0.15), (30.0, 0.15), (45.0, 0.2), (60.0, 0.0)])
def test_wedge_from_the_balance_of_its_flank(degrees: float, friction: float) -> None:
    """On the flank the forces N and mu N give H = N (cos a + mu sin a), V = N (sin a - mu cos a): derived."""
    a = math.radians(degrees)
    lift = (math.sin(a) - friction * math.cos(a)) / (math.cos(a) + friction * math.sin(a))
    assert wedge_lift(1000.0, a, friction) == pytest.approx(1000.0 * lift, rel=1e-12)
    assert cone_lift(1000.0, a, friction) == pytest.approx(1000.0 * lift * 4 / math.pi, rel=1e-12)


def test_a_self_locking_cone_does_not_lift() -> None:
    """Self-locking from mu = tan(a) on: 8.5 degrees at 0.15."""
    assert wedge_lift(1e6, math.radians(8.5), 0.15) == 0.0
    assert wedge_lift(1e6, math.radians(8.6), 0.15) > 0.0
    assert pull_out_force(math.radians(8.5), 0.15, 1.0) == math.inf


def test_half_girth_by_quadrature() -> None:
    """Pressure p0 cos(t) on half a girth: lift over force 4/pi of a flat wedge's; stiffness 1/4 of the whole."""
    t = (np.arange(20000) + 0.5) / 20000 * math.pi - QUARTER
    pressure = np.cos(t)
    assert pressure.sum() / (pressure * np.cos(t)).sum() == pytest.approx(ROUND_CONE, rel=1e-6)
    assert (np.cos(t) ** 2).mean() / 2 == pytest.approx(HALF_GIRTH, rel=1e-6)


def test_pull_out_lifts_just_what_holds_it_down() -> None:
    force = pull_out_force(math.radians(20), 0.1, 150e3)
    assert cone_lift(force, math.radians(20), 0.1) == pytest.approx(150e3)


# ---- flanks and keys


def test_square_on_a_half_space_by_quadrature() -> None:
    """Mean of 1/r over a unit square, over pi; Timoshenko and Goodier print 0.95 (from memory).

    Both coordinates' differences have the density 2 (1 - u): the mean is that of 1/hypot(u, v) in polar strips.
    """
    angle = (np.arange(4000) + 0.5) / 4000 * math.pi / 4
    c, s, reach = np.cos(angle), np.sin(angle), 1 / np.cos(angle)
    inner = reach - (c + s) * reach**2 / 2 + c * s * reach**3 / 3
    mean = 2 * 4 * inner.mean() * math.pi / 4
    assert mean / math.pi == pytest.approx(SQUARE, rel=1e-6)
    assert pytest.approx(0.95, abs=0.005) == SQUARE


def test_flank_by_hand() -> None:
    """80 x 12 mm of steel with a joint of 2000 N/mm3: 2 x 0.9464 x 0.91 / (E x 30.98) + 1 / 1.92e6 mm/N."""
    body = 2 * 0.94637 * (1 - STEEL.poisson_ratio**2) / (STEEL.youngs_modulus * math.sqrt(960.0))
    assert flank_stiffness(960.0, STEEL, 2000.0) == pytest.approx(1 / (body + 1 / 1.92e6), rel=1e-4)
    assert flank_stiffness(960.0, STEEL, math.inf) == pytest.approx(1 / body, rel=1e-4)
    assert EDGE == 2.0


def test_usual_keys_are_as_stiff_as_is_said_of_keys() -> None:
    """0.3 to 1 MN/mm: common practice, no source."""
    found = key_stiffness(Key(0, 0, 0), case())
    assert 0.3e6 < found.nominal < 1.0e6
    assert found.low < 0.5 * found.nominal
    assert found.high < 2 * found.nominal
    stiff = flank_stiffness(960.0, IRON, FLANK_JOINT.nominal), flank_stiffness(960.0, STEEL, FLANK_JOINT.nominal)
    # The key's shear takes little: 12 mm over 5/6 G 28 x 80 mm2.
    series = 1 / (1 / stiff[0] + 1 / stiff[1] + 12.0 / (5 / 6 * 210e3 / 2.6 * 28 * 80))
    assert found.nominal == pytest.approx(series, rel=1e-12)


def test_key_capacity_din_6892_arithmetic() -> None:
    """p h L = 150 x 12 x 80 N; tau b L = 100 x 28 x 80 N."""
    found = key_capacity(Key(0, 0, 0), 28.0)
    assert (found.bearing, found.shear, found.least) == (144e3, 224e3, 144e3)
    assert key_capacity(Key(0, 0, 0, height=30.0), 28.0).least == 224e3


# ---- cones and their seats


def test_seat_too_high_is_a_gap_and_a_share() -> None:
    """Cone 1e5 N/mm, too high by 0.02 mm: 2 kN close the gap; base nine times as stiff: a tenth of the rest."""
    for force, on_cone, gap in ((0.0, 0.0, 0.02), (1e3, 1e3, 0.01), (2e3, 2e3, 0.0), (12e3, 3e3, 0.0)):
        found = seat_share(0.02, 1e5, 9e5, force)
        assert found.force == pytest.approx(on_cone)
        assert found.gap == pytest.approx(gap)
        assert found.share == pytest.approx(on_cone / force if force else 0.0)


def test_seat_too_low_carries_nothing_and_is_loose() -> None:
    assert seat_share(-0.05, 1e5, 9e5, 1e6).force == 0.0
    (cone,) = holders_of(case(Placing(coned=True, cones=(LocatingCone(0, 0, math.radians(20), seat_error=-0.05),))))
    assert cone.play == pytest.approx(0.05 * math.tan(math.radians(20)))


def test_girth_of_a_cone() -> None:
    cone, where = LocatingCone(0, 0), case()
    assert cone_stiffness(cone, where) == pytest.approx(
        girth_stiffness(cone, where) * math.cos(cone.half_angle) ** 2 / 4
    )
    assert seat_stiffness(cone, where) == pytest.approx(girth_stiffness(cone, where) * math.sin(cone.half_angle) ** 2)
    assert cone_stiffness(replace(cone, form=ConeForm.BALL), where) == pytest.approx(cone_stiffness(cone, where) / 2)
    # 2400 x 1200 mm over half of 400 mm of iron and half of 250 mm of steel
    squeeze = 200 / IRON.youngs_modulus + 125 / STEEL.youngs_modulus
    assert base_face_stiffness(where) == pytest.approx(2400 * 1200 / squeeze)


def test_cone_capacity_is_the_lesser_of_flank_and_lift() -> None:
    """Flank 150 x 60 x 20 = 180 kN; two cones of 45 degrees share 10 t at friction 0.1."""
    shallow = LocatingCone(-900, 0, math.radians(45)), LocatingCone(900, 0, math.radians(45), floats=0.0)
    lifting = case(Placing(coned=True, cones=shallow))
    weight = 10e3 * 9.80665
    lift = 4 / math.pi * (1 - 0.1) / (1 + 0.1)
    assert held_down(lifting) == pytest.approx(weight)
    assert holders_of(lifting)[0].capacity == pytest.approx(weight / 2 / lift)
    steep = case(Placing(coned=True, cones=(LocatingCone(0, 0, math.radians(5)),)))
    assert holders_of(steep)[0].capacity == 180e3


# ---- clamps


def test_clamp_holds_by_bending_up_to_friction() -> None:
    """M24: I = pi d3⁴/64 with d3 = 20.319 mm; L = 65 mm (usual) and 2 x 24 mm; slips at 0.15 x 60 kN."""
    (clamp,) = holders_of(case(Placing(clamps=(Clamp(1000, 500, 60e3),)), slots=None))
    assert clamp.stiffness == pytest.approx(3 * 210e3 * math.pi / 64 * 20.3194**4 / 113**3, rel=1e-4)
    assert clamp.limit == pytest.approx(9e3)
    assert (clamp.capacity, clamp.direction, clamp.place) == (math.inf, None, (1000.0, 500.0))


def test_clamp_by_its_bolt_bends_that_bolt() -> None:
    thick = bolted_clamp(0, 0, ClampBolt("M36"))
    one, other = (holders_of(case(Placing(clamps=(c,))))[0] for c in (thick, Clamp(0, 0, 60e3)))
    # I/L³, with L = 65 mm and two diameters.
    ratio = THREADS["M36"].bending_inertia / THREADS["M24"].bending_inertia * ((65 + 48) / (65 + 72)) ** 3
    assert one.stiffness == pytest.approx(ratio * other.stiffness)


# ---- places, directions, axes


def test_holders_turn_with_the_die() -> None:
    parts = Placing(
        x=300.0,
        y=-100.0,
        rotation=QUARTER,
        keyed=True,
        coned=True,
        keys=(Key(400, 0, 0.0),),
        cones=(LocatingCone(0, 200), LocatingCone(0, -200, floats=QUARTER)),
    )
    guide = Guide(1000, 500, 60.0, 0.03, 1e5, 5e4, direction=0.0)
    key, fixed, floating, post = holders_of(case(parts, guides=(guide,), guide_offset=(0.02, 0.0)))
    assert key.place == pytest.approx((0.0, 400.0))
    assert key.direction == (1.0, 0.0)  # the slot runs along the table's y
    assert fixed.direction is None
    assert fixed.place == pytest.approx((-200.0, 0.0))
    assert floating.direction == (0.0, 1.0)  # free along the table's x
    assert post.direction == (0.0, 1.0)
    assert post.place == pytest.approx((-500.0, 1000.0))
    assert post.offset == pytest.approx((0.0, 0.02))
    assert (post.bears_on, post.play, post.stiffness, post.capacity) == ("upper die", 0.03, 1e5, 5e4)
    assert {h.kind for h in (key, fixed, floating)} == {"key", "cone"}
    assert all(h.bears_on == "bolster" and h.offset == (0.0, 0.0) for h in (key, fixed, floating))


def test_a_free_die_has_no_holders() -> None:
    assert holders_of(case()) == ()


def test_usual_keys_stand_in_the_nearest_slot() -> None:
    """The die 60 mm right of the table's middle: the slot lies at -60 mm; the cross key between it and the next."""
    keyed = case(Placing(x=60.0, keyed=True))
    first, second, cross = keys_of(keyed)
    assert [(k.x, k.y, k.seat) for k in (first, second)] == [(-60.0, -420.0, Seat.T_SLOT), (-60.0, 420.0, Seat.T_SLOT)]
    assert (cross.x, cross.y, cross.seat) == (40.0, 0.0, Seat.KEYWAY)
    assert first.slot == pytest.approx(QUARTER)
    assert cross.slot == pytest.approx(0.0)
    assert not any(key_misses_slot(key, keyed) for key in keys_of(keyed))


def test_usual_cones_stand_between_slots() -> None:
    """35 % of the half length from the middle is 840 mm, between slots 900 mm; one floats towards the other."""
    fixed, floating = usual_cones(case())
    assert (fixed.x, fixed.y, fixed.floats) == (-900.0, 0.0, None)
    assert (floating.x, floating.y, floating.floats) == (900.0, 0.0, 0.0)


def test_a_cone_of_a_deep_base_floats_towards_the_other_one() -> None:
    """A base that is deeper than wide has its cones behind each other; the one floats along the line of both."""
    wide = case(slots=None)
    base = replace(wide.die.base, length=wide.die.base.width, width=wide.die.base.length)
    fixed, floating = usual_cones(replace(wide, die=replace(wide.die, base=base)))
    assert (fixed.x, fixed.y) == pytest.approx((0.0, -840.0))
    assert (floating.x, floating.y, floating.floats) == pytest.approx((0.0, 840.0, QUARTER))


def test_a_cone_may_stand_on_the_very_edge_of_the_bolster() -> None:
    """A bolster 1680 mm deep ends where the cones of a base of 2400 mm stand, 840 mm from the middle."""
    wide = case(slots=None)
    base = replace(wide.die.base, length=wide.die.base.width, width=wide.die.base.length)
    narrow = replace(wide.press, bolster=replace(wide.press.bolster, width=1680.0))
    fixed, floating = usual_cones(Case(narrow, replace(wide.die, base=base)))
    assert (fixed.y, floating.y) == pytest.approx((-840.0, 840.0))


def test_stated_parts_come_before_usual_ones() -> None:
    key, cone = Key(0, 0, 0), LocatingCone(0, 0)
    stated = case(Placing(keyed=True, coned=True, keys=(key,), cones=(cone,)))
    assert (keys_of(stated), cones_of(stated)) == ((key,), (cone,))


def test_a_table_without_slots_has_keyways() -> None:
    found = usual_keys(case(slots=None))
    assert [(k.x, k.y) for k in found] == [(0.0, -420.0), (0.0, 420.0), (0.0, 0.0)]
    assert {k.seat for k in found} == {Seat.KEYWAY}


def test_keys_keep_off_cut_outs_and_hollows() -> None:
    """A cut-out takes the middle slot, a frame of 200 mm the hollow: keys stand where base and bolster are."""
    open_case = case(Placing(keyed=True))
    cut = Rectangle(0, 0, 300, 1400)
    bolster = replace(open_case.press.bolster, openings=(cut,))
    frame = (Rectangle(0, 500, 2400, 200), Rectangle(0, -500, 2400, 200), Rectangle(-1100, 0, 200, 800),
             Rectangle(1100, 0, 200, 800))  # fmt: skip
    die = replace(open_case.die, base=replace(open_case.die.base, bearing=frame))
    first, second, cross = usual_keys(Case(replace(open_case.press, bolster=bolster), die))
    for key in (first, second, cross):
        spot = Rectangle(key.x, key.y, 0, 0)
        assert not cut.contains(spot)
        assert any(area.contains(spot) for area in frame)
    assert first.x == second.x
    assert abs(first.x) == 200.0
    assert cross.y == 0.0  # on the line that does not breathe, however far along it


def test_no_free_place_no_keys() -> None:
    nowhere = case()
    bolster = replace(nowhere.press.bolster, openings=(Rectangle(0, 0, 2400, 1200),))
    covered = replace(nowhere, press=replace(nowhere.press, bolster=bolster))
    assert usual_keys(covered) == ()
    assert usual_cones(covered) == ()


def test_a_moved_die_takes_its_keys_out_of_the_slots() -> None:
    key = Key(0, 0, QUARTER)
    assert not key_misses_slot(key, case(Placing(x=200.0)))
    assert key_misses_slot(key, case(Placing(x=150.0)))
    assert key_misses_slot(key, case(Placing(rotation=QUARTER)))
    assert key_misses_slot(key, case(slots=None))
    assert not key_misses_slot(replace(key, seat=Seat.KEYWAY), case(Placing(x=150.0)))


@settings(max_examples=60, deadline=None)
@given(
    pitch=st.sampled_from([125.0, 152.4, 200.0, 300.0]),
    offset=st.floats(-100.0, 100.0),
    direction=st.sampled_from(["x", "y"]),
    x=st.floats(-500.0, 500.0),
    turns=st.integers(0, 3),
)
def test_usual_parts_hold_each_way_once(pitch: float, offset: float, direction: str, x: float, turns: int) -> None:
    base = case(slots=TSlots(28.0, pitch, direction, offset))
    for flag in ("keyed", "coned"):
        placing = Placing(x=x, rotation=turns * QUARTER, **{flag: True})  # type: ignore[arg-type]
        held = replace(base, die=replace(base.die, placing=placing))
        found = layout(holders_of(held))
        assert found.suits
        assert not found.blocks_breathing
        assert not any(key_misses_slot(key, held) for key in keys_of(held))
        plan = held.die.base.plan
        assert all(plan.contains(Rectangle(p.x, p.y, 0, 0)) for p in (*keys_of(held), *cones_of(held)))


# ---- layouts counted by hand


@pytest.mark.parametrize(
    ("keys", "held", "twice", "blocks"),
    [
        (((0, -400, QUARTER), (0, 400, QUARTER), (100, 0, 0.0)), 3, 0, False),
        (((0, -400, QUARTER), (0, 400, QUARTER)), 2, 0, False),  # free along the slot
        (((0, 0, QUARTER),), 1, 0, False),
        (((-600, 0, QUARTER), (600, 0, QUARTER)), 1, 1, True),  # both hold x, on one line across
        (((-600, -400, QUARTER), (600, 400, QUARTER)), 2, 0, True),  # breathing turns the die
        (((-600, -400, QUARTER), (-600, 400, QUARTER), (600, -400, QUARTER), (600, 400, QUARTER)), 2, 2, True),
    ],
)
def test_layouts_by_hand(keys: tuple[tuple[float, float, float], ...], held: int, twice: int, blocks: bool) -> None:
    parts = tuple(Key(*key) for key in keys)
    found = layout(holders_of(case(Placing(keyed=True, keys=parts))))
    assert (found.held, found.twice, found.blocks_breathing) == (held, twice, blocks)
    assert found.free == 3 - held


def test_cones_beside_keys_hold_twice() -> None:
    found = layout(holders_of(case(Placing(keyed=True, coned=True))))
    assert (found.held, found.twice) == (3, 3)
    assert not found.suits


def test_clamps_and_guides_do_not_locate() -> None:
    placing = Placing(clamps=(Clamp(0, 0, 60e3),))
    found = layout(holders_of(case(placing, guides=(Guide(0, 0, 60, 0.03, 1e5, 5e4),))))
    assert (found.held, found.twice) == (0, 0)


def test_under_a_sub_plate_the_key_bears_in_it() -> None:
    where = case()
    plate = SubPlate(Rectangle(0, 0, 3000, 1500), 80.0, IRON)
    bolster = replace(where.press.bolster, sub_plate=plate)
    assert holders.under(replace(where, press=replace(where.press, bolster=bolster))) is IRON
    assert holders.under(where) is STEEL
