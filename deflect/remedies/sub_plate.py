"""A sub-plate between bolster and die."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Ask, Proposal, Remedy, Saying, Stage, Trouble
from deflect.mechanics.lifting import weight
from deflect.model.press import SubPlate
from deflect.model.values import Rectangle
from deflect.sources import PRACTICE

# Thicknesses that are tried, mm, the least first; how far the plate reaches beyond the die, mm (common practice).
THICKNESSES = (60.0, 100.0, 150.0)
OVERHANG = 150.0


def _sized(analysis: Analysis, ask: Ask) -> Iterator[Proposal]:
    """All of them where height is wanted; else none thinner where the thickest does not help: each is a new table."""
    plates = list(_plates(analysis))
    case = analysis.case
    height, shut, adjustment = case.closed_height, case.press.shut_height, case.press.slide_adjustment
    too_low = height is not None and shut is not None and adjustment is not None and height < shut - adjustment
    if plates and not too_low and ask(plates[-1].case).excess > 0:
        plates = plates[-1:]
    yield from plates


def _plates(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    bolster = case.press.bolster
    if bolster.sub_plate is not None:
        return
    length = min(bolster.length, case.die.base.length + 2 * OVERHANG)
    width = min(bolster.width, case.die.base.width + 2 * OVERHANG)
    area = Rectangle(
        0.0,
        0.0,
        bolster.length if case.die.placing.x or case.die.placing.rotation else length,
        bolster.width if case.die.placing.y or case.die.placing.rotation else width,
    )
    for thickness in THICKNESSES:
        plate = SubPlate(area, thickness, bolster.material)
        changed = replace(bolster, sub_plate=plate, mass=bolster.mass + plate.mass)
        yield Proposal(
            replace(case, press=replace(case.press, bolster=changed)),
            f"{area.length:.0f} x {area.width:.0f} x {thickness:.0f} mm of {bolster.material.name}, "
            f"{plate.mass / 1e3:.1f} t, {thickness:+.0f} mm of closed height",
            hazard=f"the plate alone weighs {weight(plate.mass) / 1e3:.0f} kN on the crane",
        )


REMEDY = Remedy(
    id="sub-plate",
    title="A sub-plate on the bolster",
    cures=frozenset({Trouble.HEIGHT, Trouble.SAG, Trouble.FACE, Trouble.GAP, Trouble.MATCHING, Trouble.STRESS}),
    effort="1 to 2 weeks: plate, flat milling, T-slots or holes",
    hours=60.0,
    stage=Stage.TRYOUT,
    who="tool room",
    when="at the press, where shut height leaves room",
    drawback="It eats shut height and does not bend with the bolster as one piece: thin ones help little.",
    hazard="One more heavy part to lift and to clamp: it is fastened to the bolster, never only laid on it.",
    source=PRACTICE,
    sized=_sized,
    trade_says=(Saying("a plate on the bolster makes the table stiff", ("table-sag", "gap", "face")),),
)
