"""Walls of a bed that span between columns, alone and below a bolster."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.bench.grounded import across, strip
from deflect.checks.bench.plates import SIDE, YOUNG
from deflect.checks.check import Check, Row
from deflect.mechanics.arrays import Floats
from deflect.mechanics.bed_walls import beam_answer, wall_answer
from deflect.mechanics.contact import solve_contact
from deflect.model.bed_walls import SpanningWalls
from deflect.model.material import Material
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source, Tag

ORDER, HEADING = 85, "Bed walls that span between columns"
_BEAM = "deflect.mechanics.bed_walls.beam_answer"
_WALLS = "deflect.mechanics.bed_walls.wall_answer"
_STEEL = Material("wall", 210e3, 0.3, 7.85e-6, 120.0)
_PIECES = 400


def _even(span_over_height: float) -> Sequence[Row]:
    """Even force on many points; exact: 5 q L^4/(384 EI) (1 + 48/5 EI/(k G A L^2))."""
    height, thickness = 1000.0, 100.0
    span = span_over_height * height
    bending = _STEEL.youngs_modulus * thickness * height**3 / 12
    shear = 5 / 6 * _STEEL.shear_modulus * thickness * height
    place = (np.arange(_PIECES) + 0.5) * span / _PIECES
    middle = float(beam_answer(np.array([span / 2]), place, span, bending, shear).sum()) / _PIECES * span
    bent = 5 * span**4 / (384 * bending)
    ratio = 48 / 5 * bending / (shear * span**2)
    return (Row("middle over that of bending", 1 + ratio, middle / bent, 1e-5),)


def _one_force(at: float) -> Sequence[Row]:
    """Deflection below a force at a share of the span; exact: P a^2 b^2/(3 EI L) + P a b/(k G A L)."""
    span, bending, shear = 3000.0, 2.0e15, 8.0e8
    a = at * span
    b = span - a
    exact = a**2 * b**2 / (3 * bending * span) + a * b / (shear * span)
    found = float(beam_answer(np.array([a]), np.array([a]), span, bending, shear)[0, 0])
    return (Row("below the force", 1.0, found / exact, 1e-12),)


def _feet() -> Sequence[Row]:
    """Stiff walls on four feet: a force at a quarter of the front wall sinks 9/16 + 1/16 of P/K below it."""
    foot = 5e6
    walls = SpanningWalls(
        Rectangle(0.0, 0.0, 3000.0, 1600.0), 100.0, 100.0, 1500.0, _STEEL, foot, Interval.exactly(1.0)
    )
    rigid = SpanningWalls(walls.columns, 100.0, 100.0, 1500.0, _STEEL)
    place = np.array([[-750.0, -900.0], [1500.0, -800.0], [0.0, 820.0]])
    sunk = (wall_answer(walls, place) - wall_answer(rigid, place)) * foot
    return (
        Row("below the force, P/K", 10 / 16, sunk[0, 0], 1e-9),
        Row("at the right column, P/K", 1 / 4, sunk[1, 0], 1e-9),
        Row("at the other wall, P/K", 0.0, sunk[2, 0], 1e-9, absolute=True),
    )


def _double_beam(foundation: float) -> Sequence[Row]:
    """A strip held at its ends on a wall with a springy layer between them, under a half sine of force.

    Exact, for the wave a = pi/L: EI1 a^4 w1 + k (w1 - w2) = q, (EI2 a^4) w2 = k (w1 - w2); here EI2 = 3 EI1.
    """
    elements, width, thickness = 100, 50.0, 2.0
    length = SIDE
    bending = YOUNG * width * thickness**3 / 12
    wave = bending * (np.pi / length) ** 4
    spring = foundation * wave
    plate = strip(length, width, thickness, elements)
    step = length / elements
    place: Floats = np.asarray((np.arange(elements) + 0.5) * step - length / 2, dtype=float)
    ends = np.array([-length / 2, length / 2])
    rows = across(plate, np.concatenate([place, ends]))
    answer = rows @ plate.respond(rows)
    answer = 0.5 * (answer + answer.T)
    # Shear of the wall is left out, as it is of the strip's theory.
    wall = beam_answer(place + length / 2, place + length / 2, length, 3 * bending, np.inf)
    compliance = answer.copy()
    compliance[:elements, :elements] += wall + np.eye(elements) / (spring * step)
    # The two ends are held: a support that hardly gives.
    compliance[[-2, -1], [-2, -1]] += 1e-9 * float(np.diag(answer).max())
    load = -np.sin(np.pi * (place + length / 2) / length) * step
    modes = rows @ plate.rigid[:, :2]
    gap = answer[:, :elements] @ load
    bilateral = np.ones(place.size + 2, dtype=bool)
    solved = solve_contact(compliance, modes, gap, -(modes[:elements].T @ load), bilateral)
    strip_moved: Floats = answer[:, :elements] @ load + answer @ solved.force + modes @ solved.rigid
    wall_moved = wall @ solved.force[:elements]
    exact_wall = spring / (wave * spring + 3 * wave * spring + 3 * wave**2)
    exact_strip = exact_wall * (3 * wave + spring) / spring
    middle = elements // 2
    sine = float(np.sin(np.pi * (place[middle] + length / 2) / length))
    return (
        Row("strip at the middle", 1.0, -strip_moved[middle] / sine / exact_strip, 1e-3),
        Row("wall at the middle", 1.0, float(wall_moved[middle]) / sine / exact_wall, 1e-3),
    )


CHECKS = (
    Check(
        "BW1",
        "A wall on two columns sinks by bending and shear under an even force.",
        Source("S. Timoshenko, Phil. Mag. 41 (1921) 744; Strength of Materials, part I", Tag.MEMORY),
        _BEAM,
        "Four hundred forces for an even one: 1e-5.",
        {f"L/h = {ratio:g}": partial(_even, ratio) for ratio in (2.0, 3.0, 10.0)},
    ),
    Check(
        "BW2",
        "A wall on two columns sinks below one force as the beam tables have it.",
        Source("S. Timoshenko, Strength of Materials, part I: one force on a supported beam", Tag.MEMORY),
        _BEAM,
        "Round-off.",
        {f"a/L = {at:g}": partial(_one_force, at) for at in (0.5, 0.25)},
    ),
    Check(
        "BW3",
        "Columns on springy feet share a force by the lever.",
        Source("statics: reactions 3/4 and 1/4 of a force at a quarter of the wall", Tag.DERIVED),
        _WALLS,
        "Round-off.",
        {"": _feet},
    ),
    Check(
        "BW4",
        "A beam on a springy layer on another beam: both take a half sine as the two coupled equations have it.",
        Source(
            "M. Hetenyi, Beams on Elastic Foundation (1946); double beam: J. M. Seelig, W. H. Hoppmann, "
            "J. Acoust. Soc. Am. 36 (1964) 93",
            Tag.MEMORY,
        ),
        _BEAM,
        "A hundred patches for an even layer, thin strip with its shear: 0.1 %.",
        {f"k = {k:g} EI1 (pi/L)^4": partial(_double_beam, k) for k in (0.5, 5.0, 100.0)},
    ),
)
