"""The blank holder between pins or springs and a face: balances, symmetries, what a leak does."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from upper_bodies import IRON, pair

from deflect.mechanics import ring, ring_case
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.ring import pressed_ring, uneven_range
from deflect.mechanics.ring_case import thinner, why_not
from deflect.mechanics.ring_layout import ring_layout
from deflect.mechanics.ring_springs import best_setting, leaks
from deflect.model.die import BlankHolder, Die
from deflect.model.press import CushionGuides
from deflect.model.ring import Carried, GasSpring, GasSprings, RingRibs, Wanted

HOLDER = BlankHolder(1650.0, 750.0, 200.0, 120.0, IRON, Carried(4e5, scatter=0.05))
PINS = tuple((-825.0 + 150 * k, y) for y in (-375.0, 375.0) for k in range(12)) + tuple(
    (x, y) for x in (-825.0, 825.0) for y in (-225.0, -75.0, 75.0, 225.0)
)
SPRINGS = tuple(
    GasSpring(x, y, 5e4)
    for x, y in (
        *((-825.0 + 275 * k, y) for y in (-375.0, 375.0) for k in range(7)),
        *((x, y) for x in (-825.0, 825.0) for y in (-125.0, 125.0)),
    )
)
TOTAL = 18 * 5e4
CUSHION = 1.2e6
WEIGHT = 2 * (1850.0 * 950.0 - 1450.0 * 550.0) / 2 * 120.0 * IRON.density * GRAVITY


def die(**changes: object) -> Die:
    holder = replace(HOLDER, **changes)  # type: ignore[arg-type]
    return replace(pair().die, cushion_force=CUSHION, cushion_pins=PINS, blank_holder=holder)


def on_springs(wanted: Wanted | None = None, coupled: bool = False) -> Die:
    springs = GasSprings(SPRINGS, coupled, 2.5e5)
    return die(carried=Carried(4e5, springs=springs, wanted=wanted or Wanted()))


def bowed(points: Floats) -> Floats:
    """A face that stands down 0.1 mm at its ends."""
    return 0.1 * (points[:, 0] / 900.0) ** 2


def test_pins_carry_the_cushions_force_and_the_sheet_that_less_the_weight() -> None:
    pressed = pressed_ring(die(), bowed)
    assert pressed.pins.sum() == pytest.approx(CUSHION, rel=1e-9)
    assert pressed.force == pytest.approx(CUSHION - WEIGHT, rel=1e-6)
    assert (pressed.pins >= 0).all()


def test_a_symmetric_ring_presses_symmetrically() -> None:
    pressed = pressed_ring(die(), bowed)
    places = pressed.body.patches.centre
    for flip in ((-1.0, 1.0), (1.0, -1.0)):
        mirror = [int(np.argmin(np.hypot(*(places - place * flip).T))) for place in places]
        assert np.abs(pressed.pressure - pressed.pressure[mirror]).max() < 1e-9 * pressed.pressure.max()


def test_equal_pins_below_a_flat_face_press_evenly() -> None:
    """A pin every 150 mm below a ring 120 mm thick: means over 300 mm are within a few per cent."""
    assert pressed_ring(die()).uneven < 0.05


def test_a_short_pin_carries_less_and_its_neighbours_more() -> None:
    short = np.zeros(len(PINS))
    short[5] = -0.1
    level, worn = pressed_ring(die()), pressed_ring(die(), heights=short)
    assert worn.pins[5] < 0.6 * level.pins[5]
    assert worn.pins[4] > level.pins[4]
    assert worn.pins[6] > level.pins[6]


def test_a_stiff_ring_bridges_a_bow_and_a_thin_one_follows_it() -> None:
    """On springs, whose forces do not depend on where the ring lies, only the ring's stiffness is in the way."""
    thick = pressed_ring(replace(on_springs(), blank_holder=replace(on_springs().blank_holder, thickness=250.0)), bowed)  # type: ignore[type-var]
    thin = pressed_ring(replace(on_springs(), blank_holder=replace(on_springs().blank_holder, thickness=80.0)), bowed)  # type: ignore[type-var]
    assert thin.uneven < thick.uneven


def test_the_scatter_of_pins_widens_the_range() -> None:
    usual = pressed_ring(die())
    spread = uneven_range(die(), usual)
    assert spread.low <= spread.nominal < spread.high


@pytest.mark.parametrize("wanted", [Wanted(), Wanted(left=0.6, right=0.6)])
def test_springs_set_one_by_one_press_nearer_to_what_is_wanted(wanted: Wanted) -> None:
    case = on_springs(wanted)
    forces = best_setting(case, bowed)
    assert forces is not None
    assert sum(forces) == pytest.approx(TOTAL, rel=1e-3)
    assert case.blank_holder is not None
    assert case.blank_holder.carried is not None
    assert case.blank_holder.carried.springs is not None
    carried = replace(case.blank_holder.carried, springs=case.blank_holder.carried.springs.with_forces(forces))
    after = pressed_ring(replace(case, blank_holder=replace(case.blank_holder, carried=carried)), bowed)
    assert after.uneven < 0.8 * pressed_ring(case, bowed).uneven


def test_springs_on_one_line_cannot_be_set_one_by_one_nor_leak_alone() -> None:
    case = on_springs(coupled=True)
    assert best_setting(case) is None
    assert leaks(case) == ()


def test_a_leak_at_a_corner_tilts_the_ring_and_takes_its_share_of_the_force() -> None:
    """The force that is left is that of seventeen springs of eighteen, less the weight: statics alone."""
    found = leaks(on_springs())
    assert len(found) == len(SPRINGS)
    assert found[0].force == pytest.approx((TOTAL - 5e4 - WEIGHT) / (TOTAL - WEIGHT), rel=1e-6)
    assert found[0].tilt > found[3].tilt
    assert found[0].tilt == pytest.approx(found[6].tilt, rel=1e-6)


def test_a_side_buckles_at_eulers_force() -> None:
    """Pins at the corners only: s = 1650 mm, push = 2 mu F a / (2 (a + b)) / 2; Euler, by hand."""
    corners = tuple((x, y) for x in (-825.0, 825.0) for y in (-375.0, 375.0))
    pressed = pressed_ring(replace(die(), cushion_pins=corners))
    critical = np.pi**2 * IRON.youngs_modulus * 200.0 * 120.0**3 / 12 / 1650.0**2
    push = 2 * 0.15 * pressed.force * 1650.0 / (2 * (1650.0 + 750.0)) / 2
    assert pressed.buckling == pytest.approx(critical / push, rel=1e-9)


@pytest.mark.parametrize("side", [(0, -1), (0, 1), (1, -1), (1, 1)])
def test_the_longest_gap_between_pins_on_any_side_buckles(side: tuple[int, int]) -> None:
    """Pins every 150 mm but for a stretch of one side: Euler goes with the square of the free length."""
    axis, sign = side
    half, across = ((825.0, 375.0), (375.0, 825.0))[axis]
    gap = [p for p in PINS if not (p[1 - axis] == sign * across and abs(p[axis]) < 200.0 and abs(p[axis]) < half)]
    even, wide = pressed_ring(die()), pressed_ring(replace(die(), cushion_pins=tuple(gap)))
    places = sorted({p[axis] for p in gap if abs(p[1 - axis] - sign * across) <= HOLDER.ring} | {-half, half})
    free = float(np.diff(places).max())
    assert free > 150.0
    assert wide.buckling * wide.force == pytest.approx(even.buckling * even.force * (150.0 / free) ** 2, rel=1e-9)


def test_pins_scatter_evenly_up_and_down_to_what_is_stated(monkeypatch: pytest.MonkeyPatch) -> None:
    """A Latin hypercube: every pin once in each of as many equal parts of its range as there are draws."""
    drawn: list[Floats] = []

    def told(case: Die, shape: object, heights: Floats, guides: object) -> SimpleNamespace:
        drawn.append(heights)
        return SimpleNamespace(uneven=0.1 * len(drawn))

    monkeypatch.setattr(ring, "pressed_ring", told)
    usual = SimpleNamespace(uneven=0.25)
    spread = uneven_range(die(carried=Carried(4e5, scatter=0.05, heights=(0.2,) * len(PINS))), usual)  # type: ignore[arg-type]
    off = (np.array(drawn) - 0.2) / 0.05
    assert off.shape[1] == len(PINS)
    parts = np.sort(np.floor((off + 1) / 2 * len(drawn)), axis=0)
    assert parts == pytest.approx(np.tile(np.arange(len(drawn))[:, None], len(PINS)))
    assert (spread.low, spread.nominal, spread.high) == pytest.approx((0.1, 0.25, 0.1 * len(drawn)))


def test_no_spring_is_asked_to_pull_nor_to_push_more_than_it_can() -> None:
    """Nothing wanted on the left: the springs there let go; twice the mean is the most of the others."""
    forces = best_setting(on_springs(Wanted(left=0.0, right=3.0)), bowed)
    assert forces is not None
    assert min(forces) >= 0.0
    assert min(forces) < 1.0
    assert max(forces) <= 2.5e5
    assert sum(forces) == pytest.approx(TOTAL, rel=1e-3)


def test_a_ring_that_nothing_lifts_is_told_in_words() -> None:
    """Springs without pressure."""
    case = pair()
    springs = GasSprings(tuple(GasSpring(-825.0, y, 0.0) for y in (-375.0, 375.0)), False, 2e5)
    tipping = replace(case.die, blank_holder=replace(HOLDER, carried=Carried(4e5, springs=springs)))
    assert why_not(replace(case, die=tipping)) == "what carries the ring does not press it against the sheet"
    assert why_not(replace(case, die=die())) == ""


def test_the_pin_beside_the_ring_is_named() -> None:
    """The first of those that stand in its opening, by its number and place."""
    case = replace(pair(), die=die())
    pins = case.die.cushion_pins or ()
    beside = replace(case.die, cushion_pins=(*pins[:2], (10.0, -20.0), *pins[3:]))
    told = why_not(replace(case, die=beside))
    assert told == (
        f"not all of its pins stand below it: 1 of {len(pins)} stand beside it, the first number 3 at "
        "x = 10 mm, y = −20 mm"
    )


def test_thinner_rings_are_the_same_ring_solved_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each against the face as it is bent; the ring's own thickness first."""
    monkeypatch.setattr(ring_case, "upper_shape", lambda case: bowed)
    found = thinner(replace(pair(), die=die()))
    assert [size for size, _ in found] == pytest.approx([share * HOLDER.thickness for share in ring_case.THINNER])
    for size, pressed in (found[0], found[-1]):
        assert pressed.uneven == pytest.approx(pressed_ring(die(thickness=size), bowed).uneven, rel=1e-9)


# As high as HOLDER, with ribs below.
RIBS = RingRibs(50.0, 40.0, 300.0, 40.0)


def test_sectionproperties_t_rib_as_a_side_of_a_ring() -> None:
    """O02: a T of plate 200 x 40 and rib 300 x 30 has I = 1.909667e8 mm4 (sectionproperties 3.10.2, and by hand); the
    two walls of a side stand for the rib."""
    assert RingRibs(40.0, 15.0, 300.0, 30.0).inertia(200.0, 340.0) == pytest.approx(1.909667e8, rel=1e-6)


def test_a_side_with_ribs_bends_as_the_beam_that_skin_and_walls_make() -> None:
    """E I of the beam by hand; cross ribs hold the walls over a share of their own thickness, 3 % more at most."""
    holder = replace(HOLDER, ribs=RIBS)
    for number, way in ((1, 0), (2, 1)):
        section = ring_layout(holder).sections[number]
        beam = holder.ring / np.linalg.inv(section.bending)[way, way]
        assert 1.0 <= beam / (IRON.youngs_modulus * holder.inertia) < 1.03


def test_a_ring_with_ribs_weighs_skin_walls_and_ribs() -> None:
    """By hand: skin all over, two walls and the cross ribs on 70 mm of height, less what both would count twice."""
    body = ring.ring_body(replace(HOLDER, ribs=RIBS))
    outer, inner = HOLDER.pattern.outer, HOLDER.pattern.inner
    straight = 2 * (inner.length + inner.width) * HOLDER.ring
    corners = outer.area - inner.area - straight
    walls, across = 2 * 40.0 / 200.0, 40.0 / 300.0
    core = straight * (walls + across - walls * across) + corners * (2 * walls - walls**2)
    volume = (outer.area - inner.area) * 50.0 + 70.0 * core
    unknown = body.plate.rigid[:, 0]
    assert -float(unknown @ body.weight) == pytest.approx(volume * IRON.density * GRAVITY, rel=1e-6)


def test_a_solid_ring_is_one_section_and_a_hollow_one_has_its_corners() -> None:
    kinds = ring.ring_body(replace(HOLDER, ribs=RIBS)).plate.kind
    assert set(kinds.tolist()) == {0, 1, 2}
    assert set(ring.ring_body(HOLDER).plate.kind.tolist()) == {0}


def test_ribs_follow_a_bow_better_than_the_solid_ring_of_the_same_height() -> None:
    solid, ribbed = pressed_ring(die(), bowed), pressed_ring(die(ribs=RIBS), bowed)
    assert ribbed.uneven < solid.uneven
    assert ribbed.stress > solid.stress
    assert ribbed.buckling == pytest.approx(
        solid.buckling * RIBS.inertia(200.0, 120.0) / (200.0 * 120.0**3 / 12) * solid.force / ribbed.force, rel=1e-9
    )


def test_no_ring_is_proposed_with_ribs_that_cannot_be_cast() -> None:
    """The sizes of a solid ring go down to the foundry's 30 mm; of a hollow one its own parts made thinner."""
    solid = ring_case.hollowed(HOLDER)
    assert [one.ribs.skin for one in solid if one.ribs is not None] == [60.0, 50.0, 40.0, 30.0]
    hollow = ring_case.hollowed(replace(HOLDER, ribs=RIBS))
    assert [one.ribs.walls for one in hollow if one.ribs is not None] == pytest.approx([32.0])
    narrow = ring_case.hollowed(replace(HOLDER, ring=110.0))
    assert [one.ribs.walls for one in narrow if one.ribs is not None] == [40.0, 30.0]


GUIDES = CushionGuides(4, 2e5, 600.0)


def test_a_cushion_under_the_middle_of_its_pins_does_not_tilt() -> None:
    tilting, level = pressed_ring(die(), bowed, guides=GUIDES), pressed_ring(die(), bowed)
    assert np.abs(tilting.cushion_tilt).max() < 1e-12
    assert tilting.pressure == pytest.approx(level.pressure, rel=1e-9)
    assert level.cushion_tilt.tolist() == [0.0, 0.0]


@pytest.mark.parametrize(("x", "y", "turned"), [(150.0, 0.0, 0.0), (0.0, 90.0, 0.0), (150.0, 0.0, np.pi / 2)])
def test_a_cushion_beside_its_pins_tilts_by_their_moment_over_the_stiffness_of_guides_and_pins(
    x: float, y: float, turned: float
) -> None:
    """Derived: a ring that stays flat on a rigid face gives no moment but through its pins, so that the cushion, whose
    force acts in the middle of the press, tilts by F e / (K + sum k (r - mean r)^2).  Die axes, up towards the middle
    of the press."""
    stiff = replace(IRON, youngs_modulus=1e9)
    rigid = replace(HOLDER, material=replace(stiff, density=0.0))
    placed = replace(pair().die.placing, x=x, y=y, rotation=turned)
    case = replace(die(), blank_holder=rigid, placing=placed, sheet=None)
    found = pressed_ring(case, guides=GUIDES)
    middle = -np.array([[np.cos(turned), np.sin(turned)], [-np.sin(turned), np.cos(turned)]]) @ (x, y)
    pins = np.array(PINS)
    own = GUIDES.tilt_stiffness + 4e5 * ((pins - pins.mean(axis=0)) ** 2).sum(axis=0)
    assert found.cushion_tilt == pytest.approx(CUSHION * middle / own, rel=2e-3, abs=1e-9)


def test_stiff_guides_keep_the_cushion_level() -> None:
    placed = replace(pair().die.placing, x=200.0)
    off = replace(die(), placing=placed)
    held = pressed_ring(off, bowed, guides=CushionGuides(4, 1e12, 600.0))
    assert held.pressure == pytest.approx(pressed_ring(off, bowed).pressure, rel=1e-4)
    loose = pressed_ring(off, bowed, guides=GUIDES)
    assert loose.uneven > pressed_ring(off, bowed).uneven
