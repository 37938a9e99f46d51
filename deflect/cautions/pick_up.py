"""The rising slide may pick up the lower die half: feet and hands clear."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lift_off import MOST_RESERVE, LiftBalance, Pull, cutting_force, lift_off, vacuum
from deflect.model.case import Case
from deflect.model.press import LEAST_CLAMPS
from deflect.sources import Source, Tag
from deflect.units import show_force, show_share

# Stripping force as a share of the cutting force: 5 to 10 % usual, 20 % upper bound (published tables differ).
STRIPPING_SHARE = 0.2
SQUARE_METRE = 1e6  # mm2


def _say(analysis: Analysis) -> Warned:
    placing = analysis.case.die.placing
    keyed = ("Keys hold this die sideways only: they do not hold it down.",) if placing.keyed else ()
    coned = (
        ("Cones let this die lift freely: they do not hold it down.",) if placing.coned and not placing.keyed else ()
    )
    return Warned(
        id="pick-up",
        heading="Feet and hands clear when the slide rises: it can pick the lower half up and drop it",
        words=(
            "Keep feet and hands clear of the die, and out from below it, whenever the slide rises.",
            "A stuck panel, tight guides, suction or stripping can lift the lower half with the slide and drop it.",
            *keyed,
            *coned,
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
    die, balance = case.die, lift_off(case)
    held = balance.holding
    numbers = [
        f"held down by {show_force(held.nominal)}: "
        + ", ".join(f"{one.source} {show_force(one.force.nominal)}" for one in balance.holds)
        + f"; {balance.clamps} clamps are stated",
        f"pulled up by {show_force(balance.pull.nominal)}, at worst by {show_force(balance.pull.high)}: "
        + ", ".join(_pull(one) for one in balance.pulls),
        f"reserve {_times(balance.reserve.nominal)} times, at worst {_times(balance.reserve.low)}: {_told(balance)}",
    ]
    if die.operation.cuts:
        cut, _ = cutting_force(die)
        numbers.append(
            f"were nothing to strip in the upper half, stripping alone could pull with as much as "
            f"{show_force(STRIPPING_SHARE * cut.high)} ({show_share(STRIPPING_SHARE)} of the force of the cut, upper "
            "bound)"
        )
    numbers.append(
        f"a full vacuum pulls with {show_force(vacuum(SQUARE_METRE))} for each square metre that seals; "
        "jammed guides with all the force that lifts the slide"
    )
    if die.cushion_force > 0:
        numbers.append(f"the cushion pushes the blank holder up with as much as {show_force(die.cushion_force)}")
    if balance.clamps < LEAST_CLAMPS:
        numbers.append("fewer than four clamps are stated: larger dies are held by four at least")
    if balance.short_of_clamps:
        numbers.append(f"{balance.clamps} clamps are stated where {balance.clamps_asked} are asked for on each half")
    return tuple(numbers)


def _pull(one: Pull) -> str:
    force = one.force
    if force.high == 0:
        return f"{one.source} none"
    return f"{one.source} {show_force(force.nominal)}, up to {show_force(force.high)}"


def _times(reserve: float) -> str:
    return f"{MOST_RESERVE:.0f} or more" if reserve >= MOST_RESERVE else f"{reserve:.1f}"


def _told(balance: LiftBalance) -> str:
    if balance.unheld:
        return f"{balance.located} hold nothing down, and nothing clamps it"
    if balance.reserve.low >= balance.required:
        return f"at least the {balance.required:g} that are asked for"
    return f"less than the {balance.required:g} that are asked for"


CAUTION = Caution("pick-up", 4, _say)
