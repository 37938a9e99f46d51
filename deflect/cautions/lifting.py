"""Crane and slings."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import LEG_ANGLES, LEGS_COUNTED, leg_force, weight
from deflect.model.die import Half
from deflect.sources import Source, Tag


def _say(analysis: Analysis) -> Warned:
    die = analysis.case.die
    whole = Half(die.lower.height + die.upper.height, die.lower.mass + die.upper.mass, die.lower.mass_is_estimated)
    return Warned(
        id="lifting",
        heading="Crane and slings",
        words=(
            "Nobody stands below a raised die half, nor where it could fall or swing.",
            "Lift with slings and lifting points that competent people have chosen and examined; "
            "a rigid die loads two of its four legs, so two are counted.",
            "No leg leans more than 60 degrees from the vertical.",
        ),
        numbers=tuple(
            _line(name, half) for name, half in (("lower half", die.lower), ("upper half", die.upper), ("both", whole))
        ),
        defer="These are statics, not an approved lift: local lifting codes and your lifting supervisor decide.",
        source=Source("29 CFR 1910.184; EN 818-4 (two legs counted, at most 60 degrees)", Tag.PUBLISHED),
    )


def _line(name: str, half: Half) -> str:
    legs = ", ".join(f"{leg_force(half.mass, a) / 1e3:.0f} kN at {a} °" for a in LEG_ANGLES)
    estimated = " (estimated mass: weigh it)" if half.mass_is_estimated else ""
    return (
        f"{name}: {half.mass / 1e3:.1f} t{estimated}, weight {weight(half.mass) / 1e3:.0f} kN; "
        f"force in each of {LEGS_COUNTED} legs: {legs} from the vertical"
    )


CAUTION = Caution("lifting", 1, _say)
