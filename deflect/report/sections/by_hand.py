"""How each headline number came about, so that it can be followed by hand."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from markupsafe import Markup

from deflect.findings import Advice, Analysis
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.cutting import shift_tolerance
from deflect.mechanics.layout import bolster_section
from deflect.mechanics.meeting import farthest
from deflect.mechanics.sections import SHEAR_CORRECTION
from deflect.model.case import Case
from deflect.report import plan
from deflect.report.headlines import NOTHING, held_by
from deflect.report.markup import render
from deflect.report.wording import bare, figure, force
from deflect.units import show_force, show_length, show_mass

ORDER = 110
HEADING = "The numbers by hand"

_TEMPLATE = """\
{% for step in steps %}
<h3>{{ step.title }}</h3>
{% for line in step.lines %}
<span class="sum">{{ line }}</span>
{% endfor %}
{% if step.note %}<p class="dim">{{ step.note }}</p>{% endif %}
{% endfor %}
"""


@dataclass(frozen=True)
class _Step:
    """One number: its formula lines, and what to know."""

    title: str
    lines: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True)
class Beam:
    """The bolster as a beam over the bed opening along one axis; N, mm, MPa.

    share: loaded length as a share of the span.  section: bending (N mm) and shear stiffness (N/mm) per width
    of a bolster that is no solid slab.
    """

    along: str
    load: float
    span: float
    share: float
    width: float
    thickness: float
    youngs_modulus: float
    shear_modulus: float
    section: tuple[float, float] | None = None

    @property
    def inertia(self) -> float:
        """Second moment of area, mm4."""
        if self.section is not None:
            return self.width * self.section[0] / self.youngs_modulus
        return self.width * self.thickness**3 / 12

    @property
    def bending(self) -> float:
        """Deflection of the middle by bending, simply supported, load spread evenly over the middle part."""
        a = self.share
        return self.load * self.span**3 * (8 - 4 * a**2 + a**3) / (384 * self.youngs_modulus * self.inertia)

    @property
    def shear(self) -> float:
        """Deflection of the middle by shear, likewise."""
        area = SHEAR_CORRECTION * self.width * self.thickness
        stiffness = self.shear_modulus * area if self.section is None else self.width * self.section[1]
        return self.load * self.span * (2 - self.share) / (8 * stiffness)

    @property
    def told_inertia(self) -> str:
        """How the second moment of area comes about, in words."""
        if self.section is not None:
            return f"I of the section over a width b of {self.width:.0f} = {self.inertia:.3g} mm⁴"
        return f"I = b t³ / 12 = {self.width:.0f} × {self.thickness:.0f}³ / 12 = {self.inertia:.3g} mm⁴"

    @property
    def told_shear(self) -> str:
        """The formula of the shear deflection."""
        if self.section is not None:
            return "W L (2 − a) / (8 b k), k the section's shear stiffness per width"
        return "W L (2 − a) / (8 G · 5/6 b t)"


def fragment(advice: Advice) -> Markup:
    """Formulas with this case's numbers."""
    analysis = advice.assessment.analysis
    steps = (_forces(analysis.case), _weight(analysis.case), _slope(analysis), _beam(analysis), _gap(analysis),
             _face(analysis), _strokes(analysis))  # fmt: skip
    return render(_TEMPLATE, steps=steps)


def _forces(case: Case) -> _Step:
    working, cushion = case.die.working_force, case.die.cushion_force
    through = (
        f"force through the base = working − cushion = {force(working)} − {_zero(cushion)} = {force(case.base_force)}"
    )
    table = (
        f"table force = force through the base + cushion, which hangs from the bolster = {force(case.table_force)}"
        if case.cushion_hangs
        else f"table force = force through the base = {force(case.table_force)}"
    )
    share = f"share of the rated force = {force(working)} / {force(case.press.rated_force)} = "
    return _Step("Forces", (through, table, share + figure(100 * working / case.press.rated_force, "%")))


def _zero(newton: float) -> str:
    return "0" if newton == 0 else show_force(newton)


def _weight(case: Case) -> _Step:
    die = case.die
    weight = die.lower.mass * GRAVITY
    clamps = sum(clamp.force for clamp in die.placing.clamps)
    whole = case.base_force + weight + clamps
    area = die.base.length * die.base.width
    return _Step(
        "Mass, and what the base presses with",
        (
            f"weight of the lower half = {show_mass(die.lower.mass)} × {GRAVITY:.3f} m/s² = {force(weight)}"
            + (" (mass estimated)" if die.lower.mass_is_estimated else ""),
            f"force below the base = force + weight + clamps = {force(case.base_force)} + {force(weight)} + "
            f"{_zero(clamps)} = {force(whole)}",
            f"mean pressure, did it bear everywhere = {force(whole)} / ({die.base.length:.0f} × {die.base.width:.0f} "
            f"mm) = {figure(whole / area, 'MPa')}",
        ),
        "The pressure map shows how far from even the true pressure is.",
    )


def _slope(analysis: Analysis) -> _Step:
    sag = analysis.solution.sag
    ways = (("x", sag.along_x, sag.reference_length), ("y", sag.along_y, sag.reference_width))
    lines = tuple(
        f"along {way}: {figure(depth, 'mm')} / {length / 1e3:g} m = {figure(1e3 * depth / length, 'mm/m')}"
        for way, depth, length in ways
    )
    return _Step("Sag per metre = sag / reference length", lines, "The greater of the two is held against the limit.")


def beam_of(case: Case) -> Beam:
    """The bolster over the shorter side of the bed opening, loaded as long as the force patterns reach."""
    bolster, opening = case.press.bolster, case.press.bed.opening
    along = "x" if opening.length < opening.width else "y"
    axis = 0 if along == "x" else 1
    points = np.concatenate([line for outline in plan.force_outlines(case) for line in outline.lines])
    span, width = (opening.length, bolster.width) if along == "x" else (opening.width, bolster.length)
    section = bolster_section(bolster.as_plate)
    stiffness = (float(section.bending[axis, axis]), float(section.shear[axis, axis]))
    return Beam(
        along=along,
        load=case.table_force,
        span=span,
        share=min(float(np.ptp(points[:, axis])) / span, 1.0),
        width=width,
        thickness=bolster.thickness,
        youngs_modulus=bolster.material.youngs_modulus,
        shear_modulus=bolster.material.shear_modulus,
        section=None if bolster.ribs is None else stiffness,
    )


def _beam(analysis: Analysis) -> _Step:
    beam = beam_of(analysis.case)
    sag = analysis.solution.sag
    computed = sag.along_x if beam.along == "x" else sag.along_y
    rough = beam.bending + beam.shear
    return _Step(
        "Is the sag of the right order? A beam instead of the table",
        (
            f"span L = bed opening along {beam.along} = {show_length(beam.span)}",
            f"load W = table force = {force(beam.load)}",
            f"loaded share of the span a = {beam.share:.2f}; E = {beam.youngs_modulus / 1e3:.0f} GPa, "
            f"G = {beam.shear_modulus / 1e3:.1f} GPa",
            beam.told_inertia,
            f"bending = W L³ (8 − 4a² + a³) / (384 E I) = {figure(beam.bending, 'mm')}",
            f"shear = {beam.told_shear} = {figure(beam.shear, 'mm')}",
            f"together {figure(rough, 'mm')}; computed sag along {beam.along}: {figure(computed, 'mm')}"
            + (f" ({computed / rough:.2f} of it)" if rough > 0 else ""),
        ),
        "They differ because the beam sags alike over all its width, where the real bolster sags most below the force "
        "and carries along both axes; because it overhangs its land, sinks into it and is held down there; because the "
        "die spreads the force or bridges the middle; and because the sag is measured over the reference length: the "
        "beam gives the order of magnitude, no more.",
    )


def _gap(analysis: Analysis) -> _Step:
    solution = analysis.solution
    return _Step(
        "Gap and contact share",
        (
            "gap = height of the base's underside − height of the bolster's top, where they part",
            f"greatest gap = {figure(solution.greatest_gap, 'mm')}",
            f"contact share = area with a gap < 0.02 mm / bearing area = {figure(100 * solution.contact_share, '%')}",
        ),
        "The cut through table and die shows both heights; their difference can be read off there.",
    )


def _face(analysis: Analysis) -> _Step:
    face = analysis.face
    inside = face.error[face.in_face]
    high, low = float(inside.max()), float(inside.min())
    lines = [
        f"face = highest − lowest place after the best rigid fit = {_signed(high)} − ({_signed(low)}) = "
        f"{figure(high - low, 'mm')}"
    ]
    return _Step("Face", tuple(lines))


def _signed(value: float) -> str:
    return ("+" if value >= 0 else "") + bare(value, "mm")


def _strokes(analysis: Analysis) -> _Step:
    die = analysis.case.die
    tolerance, what = shift_tolerance(die)
    shift = farthest(analysis.case, analysis.creep.march.shift)
    lines = []
    if die.sheet is not None and die.operation.cuts:
        lines.append(
            f"cutting clearance per side = thickness × share = {die.sheet.thickness:g} mm × "
            f"{100 * die.sheet.clearance_share:g} % = {figure(die.sheet.clearance, 'mm')}"
        )
    lines.append(f"tolerance = {figure(tolerance, 'mm')}: {what}")
    if analysis.creep.march.slides:
        lines.append("friction does not hold the die at the usual values: it slides away at once")
    elif shift > NOTHING:
        lines.append(
            f"strokes = tolerance / shift a stroke, where its force acts and shifts most = {tolerance * 1e3:.3g} µm / "
            f"{shift * 1e3:.3g} µm = {figure(math.floor(tolerance / shift), 'strokes')}"
        )
        if analysis.met.strokes < tolerance / shift:
            lines.append(f"before that: {analysis.met.what}, {figure(math.floor(analysis.met.strokes), 'strokes')}")
    else:
        lines.append("the die does not creep: no number of strokes uses the tolerance up")
    note = f"These are the strokes of the free die; {held_by(analysis)} hold it." if analysis.creep.held else ""
    return _Step("Strokes until creep meets its limit", tuple(lines), note)
