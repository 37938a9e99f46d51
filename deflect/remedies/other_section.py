"""Another section of the die base: ribs instead of a solid block, or another pattern of ribs."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.model.die import DieBase
from deflect.model.ribs import RibPattern, Ribs
from deflect.sizing.other_base import other_base
from deflect.sources import PRACTICE

# Pitches are drawn in whole steps of this many mm, thicknesses in steps of the second (common practice).
PITCH_STEP, THICKNESS_STEP = 10.0, 5.0
# What a solid base is replaced by: skins, walls and ribs, mm (common practice, no source), closed before open.
TOP_SHARE, LEAST_TOP, BOTTOM, WALLS, RIB = 0.15, 60.0, 50.0, 50.0, 40.0
PITCHES = (250.0, 350.0)
# A base needs this much hollow between its skins to be worth ribs, mm (ours).
LEAST_CORE = 100.0
# Other patterns of a ribbed base, as factors of pitch and of rib thickness, the least change first.
FACTORS = ((0.8, 1.0), (1.25, 1.0), (1.0, 1.25), (1.0, 0.8))


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    base = analysis.case.die.base
    if base.steps:
        return
    patterns = _instead_of_solid(base) if base.ribs is None else _other_patterns(base, base.ribs)
    for pattern, told in patterns:
        yield other_base(analysis, replace(base, ribs=pattern), told)


def _instead_of_solid(base: DieBase) -> Iterator[tuple[RibPattern, str]]:
    top = max(LEAST_TOP, _rounded(TOP_SHARE * base.thickness, PITCH_STEP))
    if base.thickness - top - BOTTOM < LEAST_CORE:
        return
    for bottom in (BOTTOM, 0.0):
        for pitch in PITCHES:
            row = Ribs(pitch, RIB)
            yield _told(RibPattern(top, bottom, WALLS, row, row), "cast with ribs instead of solid")


def _other_patterns(base: DieBase, now: RibPattern) -> Iterator[tuple[RibPattern, str]]:
    for pitch, thickness in FACTORS:
        rows = [_changed(row, pitch, thickness) for row in (now.along_x, now.along_y)]
        changed = replace(now, along_x=rows[0], along_y=rows[1])
        drawn = all(row is None or now.thinnest <= row.thickness < row.pitch - LEAST_CORE / 2 for row in rows)
        if changed != now and drawn and _is_whole(base, changed):
            yield _told(changed, "other ribs")
    both = now.along_x is not None and now.along_y is not None
    if now.is_open and both and base.thickness - now.top - BOTTOM >= LEAST_CORE:
        closed = replace(now, bottom=max(BOTTOM, now.thinnest))
        if _is_whole(base, closed):
            yield _told(closed, "closed by a bottom skin")
    elif not now.is_open:
        yield _told(replace(now, bottom=0.0), "left open below")


def _changed(row: Ribs | None, pitch: float, thickness: float) -> Ribs | None:
    if row is None:
        return None
    return Ribs(_rounded(pitch * row.pitch, PITCH_STEP), _rounded(thickness * row.thickness, THICKNESS_STEP))


def _is_whole(base: DieBase, pattern: RibPattern) -> bool:
    """Whether ribs stand both ways between the walls of a base with a bottom, one way at least in an open one."""
    rows = ((pattern.along_x, base.width), (pattern.along_y, base.length))
    inner = [row is not None and row.bays(across, pattern.walls) > 1 for row, across in rows]
    return any(inner) if pattern.is_open else all(inner)


def _rounded(value: float, step: float) -> float:
    return step * round(value / step)


def _told(pattern: RibPattern, what: str) -> tuple[RibPattern, str]:
    rows = [(way, row) for way, row in (("x", pattern.along_x), ("y", pattern.along_y)) if row is not None]
    ribs = " and ".join(f"{row.thickness:.0f} mm along {way} every {row.pitch:.0f} mm" for way, row in rows)
    bottom = "open below" if pattern.is_open else f"bottom {pattern.bottom:.0f} mm"
    told = f"{what}: top {pattern.top:.0f} mm, {bottom}, walls {pattern.walls:.0f} mm, ribs {ribs}"
    return pattern, told


REMEDY = Remedy(
    id="other-section",
    title="Another die base section",
    cures=frozenset(
        {
            Trouble.GAP,
            Trouble.ROCKING,
            Trouble.CREEP,
            Trouble.FACE,
            Trouble.STRESS,
            Trouble.MATCHING,
            Trouble.MASS,
            Trouble.RIBS,
        }
    ),
    effort="design change; 2 to 3 weeks with pattern and casting, none at the press",
    hours=100.0,
    stage=Stage.DESIGN,
    who="design, with the foundry",
    when="before the pattern is made",
    drawback="A new pattern and casting. Between ribs the skin gives: put ribs or pads below what presses hard. "
    "A base that is open below bears on its ribs alone, and chips gather in it.",
    hazard="A hollow base has other lifting points and another middle of mass: set the lifting eyes into ribs or "
    "walls, never into a skin, and try the balance close to the ground.",
    source=PRACTICE,
    proposals=_proposals,
)
