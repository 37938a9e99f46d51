"""Whether the rising slide can pick the lower half up."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.mechanics.lift_off import LiftBalance, lift_off
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_force


def _measure(analysis: Analysis) -> Reading:
    balance = lift_off(analysis.case)
    reserve = balance.reserve
    return Reading(
        # Located but loose, it lifts off its keys or cones whenever the pull peaks: the worst of the range counts.
        Interval.exactly(reserve.low) if balance.unheld else reserve,
        balance.required,
        at_most=False,
        where=f"{show_force(balance.holding.nominal)} hold it down, {show_force(balance.pull.nominal)} pull it up, "
        f"at worst {show_force(balance.pull.high)}, most of it {balance.greatest.source}",
        note=_note(balance),
        certain=True,
    )


def _note(balance: LiftBalance) -> str:
    notes = []
    if balance.unheld:
        notes.append(f"{balance.located} hold nothing down, and nothing clamps it: the pull may exceed its weight")
    if balance.short_of_clamps:
        notes.append(f"{balance.clamps} clamps, where {balance.clamps_asked} are asked for")
    return "; ".join(notes)


RULE = Rule(
    id="pick-up",
    title="Reserve against pick-up",
    question="Is the lower half held down well enough that the rising slide cannot pick it up?",
    trouble=Trouble.PICK_UP,
    unit="times",
    formula="(weight of the lower half + clamp forces) / (stripping that reaches it + guides + stuck panel + vacuum)",
    why="A half that is picked up drops again: it crushes feet and hands, and lands beside its place.",
    source=Source(
        "a reserve of 1.5, stripping of 5 to 20 %: common practice, no source; four clamps at least: "
        "DGUV Information 209-008 (published)",
        Tag.PRACTICE,
    ),
    breaks="a keyed die of 98 kN without clamps, where vacuum may pull with 101 kN",
    holds="a die of 113 kN with four clamps of 60 kN, where 150 kN pull at worst",
    measure=_measure,
    guards=True,
)
