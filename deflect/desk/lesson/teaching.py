"""What the sliders and switches of a lesson make of the teaching case."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from deflect.casefile import read_case
from deflect.model.case import Case
from deflect.model.force import Ring
from deflect.model.press import SupportPost
from deflect.model.values import Rectangle

_HERE = Path(__file__).parent
# Width of the ring of force, and least side of what it leaves free, mm.
_RING, _LEAST = 120.0, 50.0
# Posts of a lesson: stiffness of a solid steel post of 200 x 200 mm, 4 m tall with its floor, N/mm (ours); the gap
# left above, and the side of the head, mm.
_POST_STIFFNESS, _POST_GAP, _POST_HEAD = 2.0e6, 0.05, 200.0
# Posts stand this far out, as a share of the half opening.
_POST_OUT = 1.0 / 3.0
SWITCHES = ("none", "key", "cones", "posts")


@dataclass(frozen=True)
class Setting:
    """Sliders: bolster, opening (along x) and base in mm, spread (how far out the force acts, share of the base);
    switch: one of ``SWITCHES``."""

    bolster: float = 200.0
    opening: float = 2000.0
    base: float = 300.0
    spread: float = 0.65
    switch: str = "none"


@dataclass(frozen=True)
class Slider:
    """One slider: its name, unit, ends and step."""

    key: str
    title: str
    unit: str
    low: float
    high: float
    step: float


SLIDERS = (
    Slider("bolster", "Bolster thickness", "mm", 140.0, 280.0, 5.0),
    Slider("opening", "Bed opening, left to right", "mm", 1600.0, 2400.0, 25.0),
    Slider("base", "Die base thickness", "mm", 150.0, 450.0, 5.0),
    Slider("spread", "Force spread: how far out it acts", "%", 0.40, 0.90, 0.01),
)


@cache
def teaching_case() -> Case:
    """The teaching die on the teaching press, as their files say."""
    return read_case(_HERE / "die.toml", _HERE / "press.toml")


def case_of(setting: Setting) -> Case:
    """The teaching case with a setting."""
    case = teaching_case().with_base_thickness(setting.base)
    press = case.press
    opening = replace(press.bed.opening, length=setting.opening)
    posts = _posts(opening) if setting.switch == "posts" else ()
    bolster = replace(press.bolster, thickness=setting.bolster, mass=press.bolster.mass * setting.bolster
                      / press.bolster.thickness)  # fmt: skip
    press = replace(press, bolster=bolster, bed=replace(press.bed, opening=opening, posts=posts))
    placing = replace(case.die.placing, keyed=setting.switch == "key", coned=setting.switch == "cones")
    die = replace(case.die, patterns=(_ring(case, setting.spread),), placing=placing)
    return Case(press, die)


def _ring(case: Case, spread: float) -> Ring:
    """Even pressure between two rectangles whose outer sides are a share of the base's."""
    length, width = spread * case.die.base.length, spread * case.die.base.width
    inner = Rectangle(0.0, 0.0, max(length - 2 * _RING, _LEAST), max(width - 2 * _RING, _LEAST))
    return Ring(1.0, Rectangle(0.0, 0.0, length, width), inner, "force", 1.0)


def _posts(opening: Rectangle) -> tuple[SupportPost, ...]:
    out = _POST_OUT * opening.length / 2
    return tuple(
        SupportPost(opening.x + side * out, opening.y, _POST_STIFFNESS, _POST_GAP, _POST_HEAD) for side in (-1, 1)
    )
