"""The die in its slings: the legs drawn at their angles, with the force in each of the two that count."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.lifting import LEG_ANGLES, LEGS_COUNTED, leg_force
from deflect.mechanics.sling import sling_geometry
from deflect.report.markup import render
from deflect.units import show_force, show_length

ORDER = 155
HEADING = "Slings, drawn with their angle"

# Size of one drawing, in its own units.
_WIDTH, _HEIGHT, _EDGE = 300.0, 330.0, 20.0

_TEMPLATE = """\
<p>Both halves together, {{ legs }} legs counted, lifting points at the ends of the base. Statics, not an approved lift:
local lifting codes and your lifting supervisor decide.</p>
<figure>
{% for one in drawings %}
<svg viewBox="0 0 {{ width }} {{ height }}" style="width: 31%; display: inline-block" role="img"
aria-label="{{ one.told }}">
<polygon points="{{ one.outline }}" fill="var(--soft)" stroke="currentColor" stroke-width="1.5"/>
<polyline points="{{ one.legs }}" fill="none" stroke="currentColor" stroke-width="2"/>
<text x="{{ width / 2 }}" y="{{ height - 24 }}" text-anchor="middle" fill="currentColor" font-size="15">{{ one.force }}
in each leg</text>
<text x="{{ width / 2 }}" y="{{ height - 5 }}" text-anchor="middle" fill="currentColor" font-size="13">{{ one.angle }}°
from the vertical, hook {{ one.headroom }} up</text>
</svg>
{% endfor %}
</figure>
"""


@dataclass(frozen=True)
class _Drawing:
    """One drawing: its corners as text, and what stands below it."""

    outline: str
    legs: str
    angle: int
    force: str
    headroom: str
    told: str


def fragment(advice: Advice) -> Markup:
    """The whole die on two legs, at each of the angles."""
    die = advice.assessment.analysis.case.die
    height = die.lower.height + die.upper.height
    mass = die.lower.mass + die.upper.mass
    # One scale for all drawings: the steepest sling is the highest.
    tallest = height + sling_geometry(die.base.length, height, min(LEG_ANGLES)).headroom
    scale = min((_WIDTH - 2 * _EDGE) / die.base.length, (_HEIGHT - 4 * _EDGE) / tallest)
    drawings = [_drawing(die.base.length, height, mass, angle, scale) for angle in LEG_ANGLES]
    return render(_TEMPLATE, drawings=drawings, legs=LEGS_COUNTED, width=_WIDTH, height=_HEIGHT)


def _drawing(length: float, height: float, mass: float, angle: int, scale: float) -> _Drawing:
    geometry = sling_geometry(length, height, angle)

    def place(points: tuple[tuple[float, float], ...]) -> str:
        floor = _HEIGHT - 2.5 * _EDGE
        return " ".join(f"{_WIDTH / 2 + scale * x:.1f},{floor - scale * z:.1f}" for x, z in points)

    (hook, left), (_, right) = geometry.legs
    force, headroom = show_force(leg_force(mass, angle)), show_length(round(geometry.headroom))
    return _Drawing(
        outline=place(geometry.outline),
        legs=place((left, hook, right)),
        angle=angle,
        force=force,
        headroom=headroom,
        told=f"die on two legs at {angle} degrees: {force} in each",
    )
