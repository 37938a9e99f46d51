"""The rising slide may pick up the lower die half."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import weight
from deflect.sources import Source, Tag

# Stripping force as a share of the cutting force: 5 to 10 % usual, 20 % upper bound (published tables differ).
STRIPPING_SHARE = 0.2


def _say(analysis: Analysis) -> Warned:
    die = analysis.case.die
    clamps = sum(c.force for c in die.placing.clamps)
    held = weight(die.lower.mass) + clamps
    numbers = [
        f"held down by {held / 1e3:.0f} kN: weight {weight(die.lower.mass) / 1e3:.0f} kN, "
        f"{len(die.placing.clamps)} clamps {clamps / 1e3:.0f} kN"
    ]
    if die.operation.cuts:
        numbers.append(
            f"stripping may pull up with as much as {STRIPPING_SHARE * die.working_force / 1e3:.0f} kN "
            f"({100 * STRIPPING_SHARE:.0f} % of the working force, upper bound) where nothing strips in the upper half"
        )
    if len(die.placing.clamps) < 4:
        numbers.append("fewer than four clamps are stated: larger dies are held by four at least")
    keyed = ("Keys hold this die sideways only: they do not hold it down.",) if die.placing.keyed else ()
    return Warned(
        id="pick-up",
        heading="The rising slide can pick the lower half up",
        words=(
            "A stuck panel, tight guides, or stripping can lift the lower half with the slide and drop it.",
            *keyed,
            "Clamp it as the press's maker asks; keep feet and hands clear whenever the slide rises.",
        ),
        numbers=tuple(numbers),
        defer="The press's maker and your safety officer decide on clamps; this is a comparison of forces only.",
        source=Source(
            "four clamps at least: DGUV Information 209-008; stripping 5 to 20 %: common practice, no source",
            Tag.PUBLISHED,
        ),
    )


CAUTION = Caution("pick-up", 2, _say)
