"""How much of the base carries, and whether the die can rock on it."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.mechanics.solution import LEAST_CONTACT
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# Carrying patches that span less than this share of the base in either direction let it rock.
LEAST_SPREAD = 0.5


def _measure(analysis: Analysis) -> Reading:
    share = analysis.spread.contact_share
    along, across = analysis.solution.contact_spread
    rocks = min(along, across) < LEAST_SPREAD
    note = (
        f"the base rocks: what carries spans only {100 * along:.0f} % of its length and "
        f"{100 * across:.0f} % of its width"
        if rocks
        else f"what carries spans {100 * along:.0f} % of the base's length and {100 * across:.0f} % of its width"
    )
    value = Interval(100 * share.low, 100 * share.nominal, 100 * share.high)
    if rocks:
        worst = 100 * min(along, across)
        value = Interval(min(value.low, worst), min(value.nominal, worst), min(value.high, worst))
    return Reading(value, 100 * LEAST_CONTACT, at_most=False, note=note)


RULE = Rule(
    id="contact",
    title="Contact share",
    question="Does enough of the base rest on the table, spread widely enough that it cannot rock?",
    trouble=Trouble.ROCKING,
    unit="%",
    formula="bearing area with a gap below 0.02 mm under force / bearing area of the base",
    why="A die that touches on a little of its base, or only in its middle, rocks and breathes.",
    source=Source("half of the base in contact, over half of each extent: common practice, no source", Tag.PRACTICE),
    breaks="a base that touches along two edges only, 22 % of its area",
    holds="a base that touches on 80 % of its area",
    measure=_measure,
)
