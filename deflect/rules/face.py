"""Out-of-flatness of the die's face under force, judged by its bedded state."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading:
    die = analysis.case.die
    face = analysis.spread.face
    value = Interval(face.low, face.nominal, face.high)
    if die.bedded is None:
        return Reading(
            value,
            die.limits.bedding,
            where="the whole face error: not yet bedded in",
            note="this is the amount to bed in or mill away on this press",
        )
    return Reading(
        value,
        die.limits.spotting,
        where=f"change since it was bedded in on {die.bedded.press.name} at {die.bedded.force / 1e3:.0f} kN",
    )


RULE = Rule(
    id="face",
    title="Face error",
    question="Does the face keep the shape in which it was, or can be, bedded in?",
    trouble=Trouble.FACE,
    unit="mm",
    formula="greatest less least movement of the face after the best rigid fit (of its change, where bedded)",
    why="A bedded die counts only by what has changed since; an unbedded one by what must be taken off.",
    source=Source("spotting tolerance 0.02 to 0.05 mm, amount to bed 0.3 mm: common practice, no source", Tag.PRACTICE),
    breaks="a bedded face that changes by 0.09 mm on the new press, 0.03 mm allowed",
    holds="a bedded face that changes by 0.01 mm on the new press",
    measure=_measure,
)
