"""A pair of die halves on a press whose slide is described, as mirror-symmetric as one can be."""

from __future__ import annotations

from dataclasses import replace

from deflect.mechanics.hanging import Hanging, hang
from deflect.mechanics.standing import Standing, stand
from deflect.model.case import Case
from deflect.model.die import Clamp, Die, DieBase, Half, Limits, Operation, Placing, Sheet
from deflect.model.force import Patch
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster, Land, Press, Slide
from deflect.model.slide import SlideBody, SlideGuides
from deflect.model.values import Interval, Rectangle

STEEL = Material("steel", 210_000.0, 0.3, 7.85e-6, 120.0)
IRON = Material("iron", 170_000.0, 0.275, 7.1e-6, 90.0)
# The stiffness of the bed below its land, N/mm3.
LAND = 40.0
POINTS = ((-900.0, -400.0), (900.0, -400.0), (-900.0, 400.0), (900.0, 400.0))
GUIDES = SlideGuides(4, 4e5, 900.0, 700.0)
BODY = SlideBody(500.0, STEEL, 18e3, POINTS, Interval.exactly(3e6), 300.0, GUIDES)
BASE = DieBase(2400.0, 1200.0, 250.0, IRON)
FACE = Rectangle(0.0, 0.0, 1600.0, 800.0)
CLAMPS = tuple(Clamp(x, y, 50e3) for x in (-1100.0, 1100.0) for y in (-500.0, 500.0))
FORCE = 8e6


def pair(
    body: SlideBody = BODY,
    base: DieBase = BASE,
    upper: DieBase = BASE,
    face: Rectangle = FACE,
    force: float = FORCE,
    x: float = 0.0,
    sheet: Sheet | None = None,
    bottoms: bool = True,
    mass: float = 6e3,
) -> Case:
    """Both halves on one press: everything symmetric but for ``x``, by which the die stands off the middle."""
    bolster = Bolster(3600.0, 2000.0, 220.0, 12e3, STEEL)
    bed = Bed(Rectangle(0.0, 0.0, 2000.0, 1000.0), Land(Interval.exactly(LAND), "given"))
    slide = Slide(3600.0, 2000.0, body=body)
    nothing = Interval.exactly(0.0)
    press = Press("pair", 1e7, bolster, bed, None, None, Interval.exactly(0.15), nothing, None, slide=slide)
    halves = (Half(500.0, mass, False), Half(500.0, mass, False, base=upper, clamps=CLAMPS))
    pattern = Patch(1.0, face, "face", bottoms=bottoms)
    limits, placing = Limits(0.03, 0.3, 0.015), Placing(x, 0.0, clamps=CLAMPS)
    die = Die("pair", Operation.FORM, base, *halves, force, 0.0, (pattern,), placing, limits, nothing, sheet=sheet)
    return Case(press, die)


def weightless(case: Case) -> Case:
    """The same without any mass or clamp."""
    slide, die = case.press.slide, case.die
    assert slide is not None
    assert slide.body is not None
    press = replace(
        case.press,
        bolster=replace(case.press.bolster, mass=0.0),
        slide=replace(slide, body=replace(slide.body, mass=0.0)),
    )
    lower, upper = replace(die.lower, mass=0.0), replace(die.upper, mass=0.0, clamps=())
    return Case(press, replace(die, lower=lower, upper=upper, placing=replace(die.placing, clamps=())))


def stacks(case: Case) -> tuple[Standing, Hanging]:
    return stand(case), hang(case)
