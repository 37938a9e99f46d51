"""Relieve the middle of the base, so that it bears on a frame."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.loads import ring_parts
from deflect.model.values import Rectangle
from deflect.sources import PRACTICE

# Widths of the frame that are tried, as shares of the base's shorter side, the least change first.
FRAMES = (0.3, 0.2, 0.15, 0.1)
# Frames are milled in whole steps of this many mm.
ROUND = 10.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    base = case.die.base
    if base.bearing:
        return
    for share in FRAMES:
        frame = ROUND * round(share * min(base.length, base.width) / ROUND)
        inner = Rectangle(0.0, 0.0, base.length - 2 * frame, base.width - 2 * frame)
        bearing = tuple(ring_parts(base.plan, inner))
        changed = replace(case, die=replace(case.die, base=replace(base, bearing=bearing)))
        yield Proposal(changed, f"the base bears on a frame {frame:.0f} mm wide; within it 1 mm is milled off")


REMEDY = Remedy(
    id="relieved-base",
    title="Relieve the middle of the base",
    cures=frozenset({Trouble.ROCKING, Trouble.GAP}),
    effort="1 to 2 days on a milling machine",
    hours=14.0,
    stage=Stage.TRYOUT,
    who="tool room",
    when="once the base is machined; best drawn in from the start",
    drawback="The middle is given up for good: force that acts there bends the base into the hollow.",
    hazard="The half is turned over for milling: two hoists or a turner, nobody near.",
    source=PRACTICE,
    proposals=_proposals,
)
