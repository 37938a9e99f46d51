"""The rising slide may pick up the lower die half: feet and hands clear."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import weight
from deflect.model.case import Case
from deflect.sources import Source, Tag
from deflect.units import show_force, show_share

# Stripping force as a share of the cutting force: 5 to 10 % usual, 20 % upper bound (published tables differ).
STRIPPING_SHARE = 0.2
# Pull of a full vacuum on what seals tightly, MPa (standard atmosphere, 10th CGPM, 1954).
ATMOSPHERE = 0.101325
SQUARE_METRE = 1e6  # mm2
# Larger dies are held by so many clamps at least (DGUV Information 209-008, published).
CLAMPS_AT_LEAST = 4


def _say(analysis: Analysis) -> Warned:
    placing = analysis.case.die.placing
    keyed = ("Keys hold this die sideways only: they do not hold it down.",) if placing.keyed else ()
    return Warned(
        id="pick-up",
        heading="Feet and hands clear when the slide rises: it can pick the lower half up and drop it",
        words=(
            "Keep feet and hands clear of the die, and out from below it, whenever the slide rises.",
            "A stuck panel, tight guides, suction or stripping can lift the lower half with the slide and drop it.",
            *keyed,
            "Clamp it as the press's maker asks, and look at the clamps again after the first strokes.",
        ),
        numbers=_numbers(analysis.case),
        defer="The press's maker and your safety officer decide on clamps; this is a comparison of forces only.",
        source=Source(
            "four clamps at least: DGUV Information 209-008 (published); stripping 5 to 20 %: "
            "common practice, no source",
            Tag.PRACTICE,
        ),
    )


def _numbers(case: Case) -> tuple[str, ...]:
    die = case.die
    clamps = sum(c.force for c in die.placing.clamps)
    held = weight(die.lower.mass) + clamps
    numbers = [
        f"held down by {show_force(held)}: weight {show_force(weight(die.lower.mass))}, "
        f"{len(die.placing.clamps)} clamps {show_force(clamps)}"
    ]
    if die.operation.cuts:
        pull = STRIPPING_SHARE * die.working_force
        numbers.append(
            f"stripping may pull up with as much as {show_force(pull)} ({show_share(STRIPPING_SHARE)} of the working "
            f"force, upper bound) where nothing strips in the upper half: "
            + ("more than holds it down" if pull > held else f"{show_share(pull / held)} of what holds it down")
        )
    numbers.append(
        f"suction may pull with {show_force(ATMOSPHERE * SQUARE_METRE)} for each square metre that seals; "
        "jammed guides with all the force that lifts the slide"
    )
    if die.cushion_force > 0:
        numbers.append(f"the cushion pushes the blank holder up with as much as {show_force(die.cushion_force)}")
    if len(die.placing.clamps) < CLAMPS_AT_LEAST:
        numbers.append("fewer than four clamps are stated: larger dies are held by four at least")
    return tuple(numbers)


CAUTION = Caution("pick-up", 4, _say)
