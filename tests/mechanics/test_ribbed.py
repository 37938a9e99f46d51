"""Ribbed sections: handbook values, a general-purpose section library, and cells of solid elements.

Sources: M. T. Huber, 1923, and S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959,
chapter 11 and section 86 (numbers of tables and sections from memory; the figures are recomputed); R. Bredt, 1896;
sectionproperties
3.10.2, a general-purpose library (PyPI): its values as listed, and live where it is installed; it is no requirement,
because the mesher that it needs is not free for every use.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rib_cell import Cell, bending_of, leaning, one_way_quarter, strip_give

from deflect.checks.bench.plates import SIDE, bend, even_pressure, held, moments, rectangle, rigidity, sinking, slab
from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections import CORNER, INNER, PlateSection, ribbed_sections, solid_section, wall_section
from deflect.mechanics.sections.laminate import Layer, stack
from deflect.mechanics.sections.rib_grid import FREE_END, RibGrid, rib_torsion
from deflect.mechanics.sections.ribbed import Core, Skin, core_section, skin_give
from deflect.mechanics.sections.solid import plane_stress
from deflect.model.material import Material
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Rectangle

UNIT = Material("check", 1.0, 0.0, 1.0, 1.0)
IRON = Material("iron", 174_000.0, 0.275, 7.2e-6, 100.0)


def one_way(skin: float, pitch: float, rib_height: float, rib: float) -> PlateSection:
    """A plate with ribs along x on its underside, of unit modulus and without Poisson's effect."""
    pattern = RibPattern(skin, 0.0, rib, Ribs(pitch, rib), None)
    return core_section(skin + rib_height, UNIT, pattern, Core((rib, 0.0), (pitch, np.inf)), Skin.plain(UNIT))


def both_ways(cell: Cell, material: Material = IRON) -> PlateSection:
    ribs = [Ribs(p, b) for p, b in zip(cell.pitch, cell.rib, strict=True)]
    pattern = RibPattern(cell.top, cell.bottom, 50.0, ribs[0], ribs[1])
    return core_section(cell.height, material, pattern, Core(cell.rib, cell.pitch), Skin.plain(material))


def huber(dx: float, dy: float, h: float, d1: float, terms: int = 199) -> tuple[float, float, float]:
    """Deflection and moments at the centre of a square under even pressure, all of unit size: Navier's series."""
    m = np.arange(1, terms, 2)
    mm, nn = np.meshgrid(m, m, indexing="ij")
    sign = (-1.0) ** ((mm + nn) // 2 - 1)
    w = 16 / np.pi**6 * sign / (mm * nn * (dx * mm**4 + 2 * h * mm**2 * nn**2 + dy * nn**4))
    kx, ky = (np.pi**2 * (w * n**2).sum() for n in (mm, nn))
    return float(w.sum()), float(dx * kx + d1 * ky), float(dy * ky + d1 * kx)


@pytest.mark.parametrize(
    ("stiffness", "listed"),
    [
        ((2.0, 1.0, 2.0**0.5, 0.0), (0.002784, 0.051560, 0.024436)),
        ((4.0, 1.0, 2.0, 0.0), (0.001795, 0.067391, 0.014982)),
        ((10.0, 1.0, 1.0, 0.3), (0.001228, 0.120426, 0.012534)),
        ((1.0, 1.0, 0.0, 0.0), (0.008204, None, None)),
    ],
)
def test_huber_orthotropic_square(
    stiffness: tuple[float, float, float, float], listed: tuple[float, float | None, float | None]
) -> None:
    dx, dy, h, d1 = stiffness
    exact = huber(*stiffness)
    for value, printed in zip(exact, listed, strict=True):
        # Half a last digit of what is listed.
        assert printed is None or value == pytest.approx(printed, abs=5e-7)
    thin = slab(SIDE / 1000)
    unit = rigidity(SIDE / 1000)
    bending = unit * np.array([[dx, d1, 0.0], [d1, dy, 0.0], [0.0, 0.0, (h - d1) / 2]])
    plate = rectangle(replace(thin, bending=bending), SIDE, SIDE, 16, 16)
    motion = bend(plate, even_pressure(plate), held(plate, "hard"))
    # Discretisation alone: 0.003 % is seen.
    assert sinking(plate, motion) * unit / SIDE**4 == pytest.approx(exact[0], rel=5e-4)
    mx, my, _ = moments(plate, motion) / SIDE**2
    # Moments are read where four elements meet: 0.5 %; My is the difference of terms in the stiffest plate.
    assert (mx, my) == pytest.approx(exact[1:], rel=1e-2)


# Skin, pitch, height and thickness of the rib; centroid from the outer face, I and J of one pitch.
T_RIBS = [
    ((40.0, 200.0, 300.0, 30.0), (110.0, 1.909667e8, 6.7539e6)),
    ((50.0, 250.0, 350.0, 40.0), (130.6604, 4.096718e8, 1.74422e7)),
]


def constants(skin: float, pitch: float, height: float, rib: float) -> tuple[float, float, float]:
    """What the section says of one pitch: centroid from the outer face, I, J."""
    section = one_way(skin, pitch, height, rib)
    fibre = section.fibres[0][0, 0]  # stress at the outer face per curvature, of unit modulus: its distance
    # The skin of a plate has no ends, that of a single T has two: a rectangle's b^3 h / 3 less 0.21 b^4.
    torsion = 4 * section.bending[2, 2] / UNIT.shear_modulus * pitch - 2 * FREE_END * skin**4
    return fibre, section.bending[0, 0] * pitch, torsion


@pytest.mark.parametrize(("shape", "listed"), T_RIBS)
def test_sectionproperties_t_rib(shape: tuple[float, float, float, float], listed: tuple[float, float, float]) -> None:
    skin, pitch, height, rib = shape
    area, other = skin * pitch, height * rib
    centroid = (area * skin / 2 + other * (skin + height / 2)) / (area + other)
    inertia = area * (skin**2 / 12 + (centroid - skin / 2) ** 2)
    inertia += other * (height**2 / 12 + (skin + height / 2 - centroid) ** 2)
    assert (centroid, inertia) == pytest.approx(listed[:2], rel=5e-7)
    computed = constants(*shape)
    assert computed[:2] == pytest.approx((centroid, inertia), rel=1e-9)
    # The joint's gain is a fit to measured and computed shapes: 0.8 % is seen.
    assert computed[2] == pytest.approx(listed[2], rel=0.015)


@pytest.mark.parametrize(("shape", "listed"), T_RIBS)
def test_sectionproperties_itself(shape: tuple[float, float, float, float], listed: tuple[float, float, float]) -> None:
    """The listed values again from the library, where it is installed."""
    pytest.importorskip("sectionproperties")
    from sectionproperties.analysis import Section
    from sectionproperties.pre.library import rectangular_section

    skin, pitch, height, rib = shape
    plate = rectangular_section(d=skin, b=pitch)
    web = rectangular_section(d=height, b=rib).align_to(plate, on="bottom").align_center(plate)
    web = web.shift_section(y_offset=-(height + skin) / 2)
    section = Section((plate + web).create_mesh(mesh_sizes=[20.0]))
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    low = section.get_c()[1]
    found = (skin - low, section.get_ic()[0], section.get_j())
    assert found == pytest.approx(listed, rel=2e-3)
    computed = constants(*shape)
    assert computed[:2] == pytest.approx(found[:2], rel=1e-6)
    assert computed[2] == pytest.approx(found[2], rel=0.015)


def test_woinowsky_krieger_section_86() -> None:
    """Ribs one way: along them E I / a, across them the skin between the ribs."""
    section = one_way(40.0, 200.0, 300.0, 30.0)
    assert section.bending[1, 1] == pytest.approx(6.27271e3, rel=1e-5)
    assert section.bending[0, 0] == pytest.approx(9.54833e5, rel=1e-5)


def test_bredt_box() -> None:
    """A wide box of two skins twists with 4 A^2 / (sum of length / thickness), its ribs' own torsion aside."""
    cell = Cell((300.0, 300.0), (10.0, 10.0), 40.0, 40.0, 640.0)
    box = both_ways(cell, UNIT)
    distance = 600.0
    bredt = 4 * distance**2 / (2 / 40.0)  # of a width of 1, whose end webs do not count
    # 0.5 %: skins of their own thickness, and the ribs' 0.01 %.
    assert 4 * box.bending[2, 2] / UNIT.shear_modulus == pytest.approx(bredt, rel=5e-3)


def test_a_single_layer_is_reissners_slab() -> None:
    """Rectangle: 5/6 G A, E t^3/12 (1 - nu^2), and the thickening nu/(1 - nu) t^2/10."""
    solid = solid_section(240.0, IRON)
    nu = IRON.poisson_ratio
    layers = [Layer(a, b, plane_stress(IRON), (1.0, 1.0), nu / (1 - nu)) for a, b in ((0.0, 70.0), (70.0, 240.0))]
    laminate = stack(layers)
    assert laminate.bending == pytest.approx(solid.bending, rel=1e-12)
    assert [laminate.shear(way, IRON.shear_modulus) for way in (0, 1)] == pytest.approx(np.diag(solid.shear), rel=1e-12)
    assert laminate.thickening == pytest.approx(solid.thickening, rel=1e-12)
    assert laminate.middle == pytest.approx(solid.to_underside, rel=1e-12)


# Solid elements, ours: bending stiffness 11, 22, 12 and twist 33 of a cell, N mm.
CELLS = {
    "open": Cell((300.0, 300.0), (40.0, 40.0), 60.0, 0.0, 400.0),
    "closed": Cell((300.0, 300.0), (40.0, 40.0), 60.0, 40.0, 400.0),
    "open, unlike both ways": Cell((250.0, 400.0), (40.0, 60.0), 60.0, 0.0, 500.0),
    "closed, unlike both ways": Cell((250.0, 400.0), (40.0, 60.0), 60.0, 50.0, 350.0),
    "open, close ribs": Cell((200.0, 200.0), (50.0, 50.0), 50.0, 0.0, 300.0),
    "closed, deep": Cell((350.0, 350.0), (30.0, 30.0), 40.0, 40.0, 600.0),
    "open, flat": Cell((300.0, 300.0), (30.0, 30.0), 70.0, 0.0, 250.0),
    "open, wide bays": Cell((500.0, 375.0), (40.0, 40.0), 60.0, 0.0, 350.0),
    "open, widest bays": Cell((500.0, 500.0), (40.0, 40.0), 60.0, 0.0, 350.0),
    "open, closest ribs": Cell((150.0, 150.0), (40.0, 40.0), 60.0, 0.0, 350.0),
    "open, deep": Cell((400.0, 400.0), (40.0, 40.0), 40.0, 0.0, 600.0),
    "open, thick skin": Cell((400.0, 400.0), (40.0, 40.0), 80.0, 0.0, 350.0),
    "open, thick ribs": Cell((300.0, 300.0), (60.0, 60.0), 60.0, 0.0, 400.0),
    "open, unlike ribs": Cell((300.0, 300.0), (60.0, 30.0), 60.0, 0.0, 400.0),
}
FROZEN: dict[str, tuple[float, float, float, float]] = {
    "open": (2.69488e11, 2.69488e11, 3.11862e10, 6.75446e09),
    "closed": (6.24786e11, 6.24786e11, 1.59060e11, 2.09774e11),
    "open, unlike both ways": (5.83231e11, 5.53672e11, 7.34167e10, 1.47980e10),
    "closed, unlike both ways": (4.90574e11, 4.87749e11, 1.27998e11, 1.69819e11),
    "open, close ribs": (1.77960e11, 1.77960e11, 2.81141e10, 1.49180e10),
    "closed, deep": (1.37267e12, 1.37267e12, 3.34510e11, 4.41601e11),
    "open, flat": (5.41305e10, 5.41305e10, 5.07182e09, 2.68798e09),
    "open, wide bays": (1.24810e11, 1.53566e11, 1.26871e10, 2.89872e09),
    "open, widest bays": (1.23907e11, 1.23907e11, 1.04584e10, 2.47268e09),
    "open, closest ribs": (2.96676e11, 2.96676e11, 4.76753e10, 2.62780e10),
    "open, deep": (6.47159e11, 6.47159e11, 7.50620e10, 8.49537e09),
    "open, thick skin": (1.48155e11, 1.48155e11, 1.35586e10, 4.85479e09),
    "open, thick ribs": (3.57512e11, 3.57512e11, 5.12309e10, 1.96910e10),
    "open, unlike ribs": (3.48116e11, 2.27901e11, 3.32320e10, 7.24214e09),
}
# Sinking per force and width of a clamped strip of cells, mm2/N: pattern, number of cells.
STRIPS: dict[tuple[str, int], float] = {
    ("open", 2): 4.36620e-04,
    ("closed, deep", 2): 2.87276e-04,
    ("closed, unlike both ways", 2): 5.51892e-04,
    ("open, close ribs", 2): 1.97332e-04,
    ("open, flat", 2): 1.61637e-03,
}


def four(bending: Floats) -> tuple[float, ...]:
    return tuple(float(bending[i, j]) for i, j in ((0, 0), (1, 1), (0, 1), (2, 2)))


@pytest.mark.parametrize("name", list(FROZEN))
def test_cell_of_solid_elements(name: str) -> None:
    """Bending within 2 %, coupling and twist within 4 %: ribs 30 to 60 mm thick, 3 to 17 times as far apart."""
    computed, solid = four(both_ways(CELLS[name]).bending), FROZEN[name]
    assert computed[:2] == pytest.approx(solid[:2], rel=0.02)
    assert computed[2:] == pytest.approx(solid[2:], rel=0.04)


@pytest.mark.parametrize("name", ["open", "closed"])
def test_the_frozen_cells_are_those_of_the_script(name: str) -> None:
    assert four(bending_of(CELLS[name], IRON)) == pytest.approx(FROZEN[name], rel=1e-4)


@pytest.mark.parametrize(("name", "cells"), list(STRIPS))
def test_strip_of_solid_cells_under_shear(name: str, cells: int) -> None:
    """Bending and shear together within 4 %, where shear is 20 to 70 % of the deflection."""
    section, length = both_ways(CELLS[name]), cells * CELLS[name].pitch[1]
    computed = length**3 / (3 * section.bending[0, 0]) + length / section.shear[0, 0]
    assert computed == pytest.approx(STRIPS[name, cells], rel=0.04)


def test_the_frozen_strip_is_that_of_the_script() -> None:
    assert strip_give(CELLS["open, flat"], IRON, 2) == pytest.approx(STRIPS["open, flat", 2], rel=1e-4)


@pytest.mark.parametrize("cell", [CELLS["closed"], Cell((300.0, 300.0), (40.0, 40.0), 100.0, 60.0, 500.0)])
def test_ribs_do_not_keep_the_skins_of_a_box_from_being_stretched(cell: Cell) -> None:
    """Bent across ribs that run one way: 1 % stiffer than the two skins alone, in solid elements."""
    pattern = RibPattern(cell.top, cell.bottom, 50.0, None, None)
    core = Core((0.0, cell.rib[1]), (np.inf, cell.pitch[1]), cell.pitch)
    computed = core_section(cell.height, IRON, pattern, core, Skin.plain(IRON)).bending
    solid = bending_of(cell, IRON, one_way_quarter(cell))
    assert four(computed)[:2] == pytest.approx(four(solid)[:2], rel=0.02)


def test_a_skin_that_is_held_is_stretched_over_its_ribs_as_between_them() -> None:
    """Held at a distance it adds its own stiffness against being stretched, times the distance squared."""
    pattern = RibPattern(60.0, 0.0, 50.0, None, Ribs(250.0, 40.0))
    core, skin = Core((0.0, 40.0), (np.inf, 250.0)), Skin.plain(UNIT)
    free, held = (core_section(350.0, UNIT, pattern, core, skin, (at, None)).bending for at in (None, 220.0))
    assert held[0, 0] - free[0, 0] == pytest.approx(60.0 * 100.0**2, rel=1e-9)


def test_rib_feet_are_stressed_as_a_beam() -> None:
    """Beam along x: sigma = M z / I at the foot of the rib and at the skin, from O02's section."""
    section = one_way(40.0, 200.0, 300.0, 30.0)
    moment = 1.0  # per width
    curvature = np.linalg.solve(section.bending, [moment, 0.0, 0.0])
    top, foot = (fibre @ curvature for fibre in section.fibres)
    inertia = 1.909667e8 / 200.0
    assert top[0] == pytest.approx(moment * 110.0 / inertia, rel=1e-6)
    assert foot[0] == pytest.approx(-moment * 230.0 / inertia, rel=1e-6)
    assert foot[1:] == pytest.approx([0.0, 0.0])


def test_skin_between_ribs_sinks_as_a_clamped_plate() -> None:
    """Mean sinking of a clamped square under pressure against plate elements; bending alone, then with shear."""
    for thickness, tolerance in ((2.0, 0.06), (100.0, 0.06)):
        material = Material("check", 200_000.0, 0.3, 1e-6, 100.0)
        section = slab(thickness)
        plate = rectangle(section, SIDE, SIDE, 12, 12)
        load = even_pressure(plate)
        mean = -float(load @ bend(plate, load, held(plate, "clamped"))) / -(SIDE**2)
        given = skin_give(thickness, material, (SIDE, SIDE), (0.0, 0.0))
        assert given == pytest.approx(mean, rel=tolerance)


def test_a_wall_is_solid_from_top_to_underside() -> None:
    """Across as a full rectangle without Poisson's effect; along, stiffer: its plane is drawn to that of the body."""
    pattern = RibPattern(60.0, 0.0, 50.0, Ribs(300.0, 40.0), Ribs(300.0, 40.0))
    plan = Rectangle(0.0, 0.0, 3000.0, 1500.0)
    wall, other = (wall_section(400.0, UNIT, pattern, plan, way) for way in ("x", "y"))
    rectangle = 400.0**3 / 12
    assert wall.bending[1, 1] == pytest.approx(rectangle, rel=1e-9)
    assert other.bending[0, 0] == pytest.approx(rectangle, rel=1e-9)
    assert wall.bearing_share == 1.0
    # Its own middle is at 200 mm, that of what lies between the walls near 300.
    shift = np.sqrt((wall.bending[0, 0] - rectangle) / 400.0)
    assert 50.0 < shift < 100.0
    # Twist is that of the whole body, smeared, and far less than a slab of its height would have.
    assert wall.bending[2, 2] == pytest.approx(other.bending[2, 2], rel=1e-12)
    assert wall.bending[2, 2] == pytest.approx(ribbed_sections(400.0, UNIT, pattern, plan)[INNER].bending[2, 2])
    assert wall.bending[2, 2] < 0.15 * solid_section(400.0, UNIT).bending[2, 2]


def test_ribs_of_a_long_body_bend_sideways_as_endless_ones() -> None:
    """A plan frame of many bays tends to the endless one, as 1 over their number; a square one is Gibson's formula
    but for joints and shear: thin ribs."""
    thin = RibGrid.endless((5.0, 5.0), (300.0, 300.0), (300.0, 300.0)).shear(UNIT)
    # Joints take 2 % of the length off a rib, its own shear gives 0.2 % at most.
    assert thin == pytest.approx((5.0 / 300.0) ** 3 / 2, rel=0.04)
    endless = RibGrid.endless((40.0, 40.0), (250.0, 250.0), (250.0, 250.0)).shear(IRON)
    beyond = []
    for bays in (4, 8, 16):
        pattern = RibPattern(60.0, 0.0, 40.0, Ribs(250.0, 40.0), Ribs(250.0, 40.0))
        side = bays * 250.0 + 40.0
        grid = RibGrid.of(pattern, Rectangle(0.0, 0.0, side, side))
        # The last half of each wall stands outside the middles that bound the bays.
        beyond.append(grid.shear(IRON) * (side / (bays * 250.0)) ** 2 / endless - 1)
    assert np.log2(np.array(beyond[:-1]) / beyond[1:]) == pytest.approx(1.0, abs=0.1)


def test_walls_alone_twist_as_one_piece_from_corner_to_corner() -> None:
    """By hand: a square frame's corners stay square; its walls' slope is a parabola over what is left between them."""
    span, wall, height = 1000.0, 100.0, 300.0
    grid = RibGrid.of(RibPattern(50.0, 0.0, wall, None, None), Rectangle(0.0, 0.0, span + wall, span + wall))
    clear = span - 0.6 * wall
    softness = 12 * wall**2 / 12 / (5 / 6 * UNIT.shear_modulus * clear**2)
    mean_square = (1 + 0.2 / (1 + softness) ** 2) * span / clear
    by_hand = 4 * rib_torsion(height, wall, 50.0) * mean_square * span / (4 * (span + wall) ** 2)
    assert grid.torsion(height, 50.0, UNIT) == pytest.approx(UNIT.shear_modulus * by_hand, rel=1e-9)


def test_thin_ribs_do_not_bend_thick_walls() -> None:
    """Far from its corners a wall of 60 mm between ribs of 1 mm stays straight: its twist is even, and G J its own."""
    side, thin = 40 * 250.0 + 60.0, Ribs(250.0, 1.0)
    grid = RibGrid.of(RibPattern(50.0, 0.0, 60.0, thin, thin), Rectangle(0.0, 0.0, side, side))
    straight = IRON.shear_modulus * 4 * rib_torsion(300.0, 60.0, 50.0) * side / (4 * side**2)
    # 1 %: of its 40 bays the first and the last bend, and twist a fifth more.
    assert grid.torsion(300.0, 50.0, IRON) == pytest.approx(straight, rel=0.015)


def test_a_rib_wider_than_high_twists_less_than_the_slab_it_makes_of_the_skin() -> None:
    for width in (60.0, 120.0, 480.0):
        assert rib_torsion(45.0, width, 18.0) < width * (63.0**3 - 18.0**3) / 3


@pytest.mark.parametrize(
    "cell",
    [
        CELLS["closed"],
        Cell((300.0, 300.0), (40.0, 40.0), 100.0, 60.0, 500.0),
        Cell((200.0, 200.0), (15.0, 15.0), 15.0, 15.0, 300.0),
        CELLS["closed, deep"],
    ],
)
def test_a_box_without_webs_leans_as_solids(cell: Cell) -> None:
    """10 %: a frame of skins and ribs, each clamped in its joints; thin plates 2 %, and 9 % in the thickest skins."""
    pattern = RibPattern(cell.top, cell.bottom, 50.0, None, None)
    core = Core((0.0, cell.rib[1]), (np.inf, cell.pitch[1]), cell.pitch)
    section = core_section(cell.height, IRON, pattern, core, Skin.plain(IRON))
    assert 1.0 / section.shear[0, 0] == pytest.approx(leaning(cell, IRON), rel=0.1)


def test_a_box_without_webs_is_no_stiffer_in_shear_than_a_slab() -> None:
    """Few, thick ribs close together: what they leave to bend is next to nothing."""
    pattern = RibPattern(70.0, 40.0, 490.0, Ribs(790.0, 320.0), Ribs(560.0, 15.0))
    corner = ribbed_sections(170.0, IRON, pattern, Rectangle(0.0, 0.0, 2050.0, 2030.0))[CORNER]
    assert (np.diag(corner.shear) < np.diag(solid_section(170.0, IRON).shear)).all()


def test_a_body_without_ribs_is_refused_in_words() -> None:
    with pytest.raises(MechanicsFailed, match="no rib stands between the outer walls"):
        ribbed_sections(400.0, IRON, RibPattern(60.0, 0.0, 50.0, None, None), Rectangle(0.0, 0.0, 3000.0, 2000.0))


def test_pattern_counts_its_own_volume() -> None:
    """Ribs, walls, skins and pads by drawing up the cut at mid-height: derived."""
    plan = Rectangle(0.0, 0.0, 2050.0, 1050.0)
    pattern = RibPattern(60.0, 40.0, 50.0, Ribs(250.0, 40.0), Ribs(400.0, 30.0), (Rectangle(0.0, 0.0, 200.0, 100.0),))
    assert pattern.along_x is not None
    assert pattern.along_x.places(1050.0, 50.0) == pytest.approx((-250.0, 0.0, 250.0))
    x = np.arange(-1025.0 + 0.5, 1025.0)
    y = np.arange(-525.0 + 0.5, 525.0)

    def covered(at: Floats, way: str) -> Floats:
        strips = pattern.rib_strips(plan, way)
        return np.any([np.abs(at - middle) < thick / 2 for middle, thick in strips], axis=0)

    solid = covered(x, "y")[:, None] | covered(y, "x")[None, :]
    solid |= (np.abs(x) < 100.0)[:, None] & (np.abs(y) < 50.0)[None, :]
    assert pattern.core_area(plan) == pytest.approx(float(solid.sum()), rel=1e-9)
    section = ribbed_sections(500.0, UNIT, replace(pattern, pads=()), plan)[INNER]
    # Where ribs stand both ways each is smeared over its own bay: 250 mm, and 2000 / 5 mm.
    core = 1 - (1 - 40 / 250) * (1 - 30 / 400)
    assert section.mass == pytest.approx(100.0 + 400.0 * core, rel=1e-9)


def test_an_open_body_is_squeezed_by_its_skin_between_the_ribs_and_by_its_ribs() -> None:
    """Skin 40, ribs of 30 every 200 mm: a strip of 170 mm clamped at both ends sinks by q L^4/(720 D) + q L^2/(12 S) on
    the mean, over 0.85 of the plan; above the neutral plane the ribs carry on 0.15 of it."""
    pattern = RibPattern(40.0, 0.0, 30.0, Ribs(200.0, 30.0), None)
    section = core_section(340.0, IRON, pattern, Core((30.0, 0.0), (200.0, np.inf)), Skin.plain(IRON))
    rigidity = IRON.youngs_modulus * 40.0**3 / (12 * (1 - 0.275**2))
    between = 170.0**4 / (720 * rigidity) + 170.0**2 / (12 * 5 / 6 * IRON.shear_modulus * 40.0)
    ribs_above = section.to_top - 40.0
    assert ribs_above > 0
    squeezed = 0.85 * between + (40.0 + ribs_above / 0.15) / IRON.youngs_modulus
    assert section.squeeze == pytest.approx(squeezed, rel=1e-9)
    assert section.squeeze_below == pytest.approx(section.to_underside / IRON.youngs_modulus, rel=1e-9)
    assert section.bearing_share == pytest.approx(0.15)
    assert section.mass == pytest.approx(IRON.density * (40.0 + 0.15 * 300.0))


def test_a_closed_body_is_squeezed_alike_from_below() -> None:
    """Between two like skins the neutral plane lies in the middle: above and below are the same."""
    ribs = Ribs(250.0, 30.0)
    pattern = RibPattern(40.0, 40.0, 30.0, ribs, ribs)
    core = Core((30.0, 30.0), (250.0, 250.0))
    section = core_section(400.0, IRON, pattern, core, Skin.plain(IRON))
    assert section.to_top == pytest.approx(200.0)
    assert section.squeeze == pytest.approx(section.squeeze_below)
    assert section.bearing_share == 1.0


def test_ribs_along_y_are_ribs_along_x_turned() -> None:
    along_x = core_section(340.0, IRON, RibPattern(40.0, 0.0, 30.0, Ribs(200.0, 30.0), None),
                           Core((30.0, 0.0), (200.0, np.inf)), Skin.plain(IRON))  # fmt: skip
    along_y = core_section(340.0, IRON, RibPattern(40.0, 0.0, 30.0, None, Ribs(200.0, 30.0)),
                           Core((0.0, 30.0), (np.inf, 200.0)), Skin.plain(IRON))  # fmt: skip
    turned = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    assert along_y.bending == pytest.approx(turned @ along_x.bending @ turned)
    assert along_y.shear == pytest.approx(turned[:2, :2] @ along_x.shear @ turned[:2, :2])
    assert along_y.squeeze == pytest.approx(along_x.squeeze)
