"""Crane, slings, and the eyebolts of small parts."""

import math

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.eyebolts import DIN_580, HEAVIEST_PART, next_larger, smallest_eyebolt, suits_eyebolts
from deflect.mechanics.lifting import (
    EN_818_4,
    EN_13001_2,
    GREATEST_LEAN,
    LEG_ANGLES,
    LEGS_COUNTED,
    USUAL_HOISTING_FACTOR,
    USUAL_LEAN,
    HoistingClass,
    crane_share,
    hoisting_factor,
    leg_force,
    leg_rating,
    weight,
)
from deflect.mechanics.sling import sling_geometry
from deflect.model.die import Half
from deflect.sources import Source, Tag
from deflect.units import show_force, show_length, show_mass

# An insert that eyebolts are shown for where the halves are too heavy for them, kg (ours).
INSERT = 500.0
# A hoisting speed that is shown, m/s (from memory).
BRISK = 0.1


def _say(analysis: Analysis) -> Warned:
    die = analysis.case.die
    whole = Half(
        die.lower.height + die.upper.height,
        die.lower.mass + die.upper.mass,
        die.lower.mass_is_estimated or die.upper.mass_is_estimated,
    )
    parts = {"lower half": die.lower, "upper half": die.upper, "both halves": whole}
    return Warned(
        id="lifting",
        heading="Crane and slings: nobody below a raised die, nor where it could fall or swing",
        words=(
            "Nobody stands below a raised die half, nor where it could fall or swing.",
            "Lift with slings and lifting points that competent people have chosen and examined; "
            f"a rigid die loads two of its four legs, so {LEGS_COUNTED} are counted.",
            f"No leg leans more than {GREATEST_LEAN:.0f} degrees from the vertical, which is "
            f"{90 - GREATEST_LEAN:.0f} from the horizontal: the flatter the leg, the greater its force.",
            "The whole die is lifted only with its halves fastened to each other.",
            "Eyebolts are for inserts and small parts: screwed home, pulled in the plane of the eye, never in pairs "
            "reeved by one sling. A heavy half hangs from lifting pins or cast lugs.",
            "An estimated mass is no basis for a lift: weigh the part first.",
        ),
        numbers=(
            *(_legs(name, part) for name, part in parts.items()),
            _angles(whole, die.base.length),
            f"picked up gently, every force is about {USUAL_HOISTING_FACTOR} times as great "
            f"({hoisting_factor(BRISK, HoistingClass.HC2):.2f} to {hoisting_factor(BRISK, HoistingClass.HC4):.2f} "
            f"at {BRISK} m/s by class of crane, from memory); snatched, far greater",
            crane_words(whole.mass, analysis.case.press.crane_capacity),
            *_eyebolts({name: parts[name] for name in ("lower half", "upper half")}),
        ),
        defer="These are statics, not an approved lift: local lifting codes and your lifting supervisor decide.",
        source=Source(
            f"29 CFR 1910.184 (published); two legs counted, mode factors, 60 degrees: {EN_818_4}; "
            f"eyebolts: {DIN_580}; hoisting factor: {EN_13001_2}",
            Tag.MEMORY,
        ),
    )


def _legs(name: str, part: Half) -> str:
    forces = ", ".join(f"{show_force(leg_force(part.mass, a))} at {a} degrees" for a in LEG_ANGLES)
    estimated = " (estimated: weigh it)" if part.mass_is_estimated else ""
    return (
        f"{name}: {show_mass(part.mass)}{estimated}, weight {show_force(weight(part.mass))}; "
        f"force in each of {LEGS_COUNTED} legs counted: {forces} from the vertical; each leg rated, alone, for "
        f"{_demand(leg_rating(part.mass, USUAL_LEAN))} up to {USUAL_LEAN:.0f} degrees, "
        f"for {_demand(leg_rating(part.mass, GREATEST_LEAN))} up to {GREATEST_LEAN:.0f}"
    )


def _demand(mass: float) -> str:
    """A mass that is asked for, never rounded down: to 10 kg from one tonne on, to 1 kg below."""
    step = 10.0 if mass >= 1e3 else 1.0
    return show_mass(step * math.ceil(mass / step))


def _angles(whole: Half, length: float) -> str:
    rooms = ", ".join(
        f"{a} degrees ({word}): {show_length(round(sling_geometry(length, whole.height, a).headroom))}"
        for a, word in zip(LEG_ANGLES, ("steep", "usual", "the flattest allowed"), strict=True)
    )
    return f"hook above lifting points that lie {show_length(length)} apart, the length of the base: {rooms}"


def crane_words(mass: float, capacity: float | None) -> str:
    """The whole die against the crane's capacity, both in kg; capacity None: not stated."""
    if capacity is None:
        return f"crane: {show_mass(mass)} and the tackle below the hook; its capacity is not stated: compare"
    share = crane_share(mass, capacity)
    per_cent = math.ceil(round(100 * share, 3))  # never rounded down
    told = "too heavy for it" if share > 1 else "the tackle below the hook comes on top"
    return f"crane: {show_mass(mass)} is {per_cent} % of its capacity of {show_mass(capacity)}: {told}"


def _eyebolts(halves: dict[str, Half]) -> tuple[str, ...]:
    lines = [_bolt(name, half.mass) for name, half in halves.items() if suits_eyebolts(half.mass)]
    heavy = [name for name, half in halves.items() if not suits_eyebolts(half.mass)]
    if heavy:
        lines.append(
            f"no eyebolts for {' and '.join(heavy)}, above {show_mass(HEAVIEST_PART)} (ours); "
            + _bolt("an insert", INSERT)
        )
    return tuple(lines)


def _bolt(name: str, mass: float) -> str:
    bolt = smallest_eyebolt(mass)
    larger = None if bolt is None else next_larger(bolt)
    on = f"{name} of {show_mass(mass)} on {LEGS_COUNTED} legs up to {USUAL_LEAN:.0f} degrees"
    if bolt is None or larger is None:
        return f"{on}: no eyebolt of the table suits"
    return (
        f"{on}: eyebolts {bolt.thread} by the table, "
        f"{larger.thread} as the next larger thread, because dies change hands"
    )


CAUTION = Caution("lifting", 1, _say)
