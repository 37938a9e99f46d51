"""A narrow press of rigid bodies, in which a die base may bend as a beam; lengths in mm, forces in N."""

from __future__ import annotations

from deflect.checks.bench.plates import YOUNG
from deflect.mechanics.closure import Closure, Stiff, close_pair
from deflect.mechanics.hanging import hang
from deflect.mechanics.standing import stand
from deflect.model.case import Case
from deflect.model.die import Die, DieBase, Half, Limits, Operation, Placing, Sheet
from deflect.model.force import Patch
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster, Land, Press, Slide
from deflect.model.slide import SlideBody
from deflect.model.values import Interval, Rectangle

# So stiff that nothing of it bends; light, so that weight does not count.
RIGID = Material("rigid", 1e5 * YOUNG, 0.0, 1e-15, 1.0)
BEAM = Material("beam", YOUNG, 0.0, 1e-15, 1.0)
SOFT = Material("soft", 1e-3 * YOUNG, 0.0, 1e-15, 1.0)
SPAN, WIDTH, THICKNESS, PAD = 2000.0, 100.0, 60.0, 10.0
FORCE = 1e5
# Stiffness of the land, N/mm3, and of one of four hanging points, N/mm.
LAND, POINT = 50.0, 1e6
_NOTHING = Interval.exactly(0.0)


def beam() -> DieBase:
    """A base that stands on its two ends."""
    pads = tuple(Rectangle(x, 0.0, PAD, WIDTH) for x in (-SPAN / 2, SPAN / 2))
    return DieBase(SPAN + PAD, WIDTH, THICKNESS, BEAM, pads)


def block() -> DieBase:
    """A base that does not bend."""
    return DieBase(SPAN + PAD, WIDTH, THICKNESS, RIGID)


def soft_block() -> DieBase:
    """A base that is squeezed."""
    return DieBase(SPAN, WIDTH, THICKNESS, SOFT)


def closed(lower: DieBase, upper: DieBase, stiffness: float) -> tuple[Closure, Case]:
    """Two bases closed on a sheet of so many N/mm3 over the whole span, on a rigid table below a rigid slide."""
    plan = (SPAN + 200.0, 400.0)
    bolster = Bolster(*plan, 300.0, 1e-9, RIGID)
    bed = Bed(Rectangle(0.0, 0.0, 400.0, 200.0), Land(Interval.exactly(LAND), "given"))
    points = tuple((x, y) for x in (-800.0, 800.0) for y in (-100.0, 100.0))
    body = SlideBody(300.0, RIGID, 1e-9, points, Interval.exactly(POINT), 100.0)
    press = Press("check", 1e6, bolster, bed, None, None, _NOTHING, _NOTHING, None, slide=Slide(*plan, body=body))
    halves = (Half(100.0, 1e-9, False), Half(100.0, 1e-9, False, base=upper))
    face = Patch(1.0, Rectangle(0.0, 0.0, SPAN, WIDTH), "face", bottoms=True)
    sheet = Sheet(1.0, 300.0, 0.1, stiffness)
    limits = Limits(0.03, 0.3, 0.015)
    die = Die("check", Operation.FORM, lower, *halves, FORCE, 0.0, (face,), Placing(), limits, _NOTHING, sheet=sheet)
    case = Case(press, die)
    return close_pair(case, stand(case), hang(case), Stiff(LAND, POINT)), case
