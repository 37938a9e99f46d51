"""A more compliant blank holder."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.ring_case import hollowed
from deflect.sources import PRACTICE

# Thicknesses that are tried, as shares of the present one, the least change first; in whole steps of mm.
STEPS = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4)
ROUND = 5.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    holder = case.die.blank_holder
    if holder is None:
        return
    for step in STEPS:
        thickness = ROUND * round(step * holder.thickness / ROUND)
        if 0 < thickness < holder.thickness and holder.may_be(thickness):
            die = replace(case.die, blank_holder=replace(holder, thickness=thickness))
            size = f"a ring {thickness:.0f} mm thick instead of {holder.thickness:.0f} mm"
            kept = "" if holder.ribs is None else f", its ribs shortened below the skin of {holder.ribs.skin:.0f} mm"
            yield Proposal(replace(case, die=die), size + kept)
    for ring in hollowed(holder):
        yield Proposal(
            replace(case, die=replace(case.die, blank_holder=ring)),
            f"a ring of the same height with {'ribs below' if holder.ribs is None else 'thinner parts'}: {ring.told}",
            "Pins stand on walls, ribs or pads of it, never on its skin.",
        )


REMEDY = Remedy(
    id="compliant-holder",
    title="A more compliant blank holder",
    cures=frozenset({Trouble.HOLDER}),
    effort="1 to 2 days of milling, or a new pattern",
    hours=14.0,
    stage=Stage.TRYOUT,
    who="tool room, design",
    when="before it is hardened; best before casting",
    drawback="A thin ring is stressed higher, may buckle between its pins and shows them: where both halves are "
    "described all three are checked, else check them before milling. What carries it must reach as much higher, or "
    "it stands on risers.",
    hazard="The ring is a heavy part with few places to sling: its own lifting points.",
    source=PRACTICE,
    proposals=_proposals,
)
