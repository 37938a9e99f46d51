"""Table, bed opening, die and forces in plan."""

from __future__ import annotations

from math import degrees

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import figures, wording
from deflect.report.markup import render

ORDER = 30
HEADING = "Die on the table"

_TEMPLATE = """\
<figure>{{ picture }}<figcaption>Seen from above, in bolster axes. The die base is {{ base.length | length }} long,
{{ base.width | length }} wide and {{ base.thickness | length }} thick; its middle stands at {{ middle }}{{ turned }}.
Red: where the {{ force }} that go through the base act, with their shares. The shaded or outlined shares add up to
the whole.</figcaption></figure>
"""


def fragment(advice: Advice) -> Markup:
    """Outlines in plan."""
    analysis = advice.assessment.analysis
    case = analysis.case
    placing = case.die.placing
    return render(
        _TEMPLATE,
        picture=figures.force_plan(analysis),
        base=case.die.base,
        middle=wording.point(placing.x, placing.y),
        turned=f", turned by {degrees(placing.rotation):g}° counter-clockwise" if placing.rotation else "",
        force=wording.force(case.base_force),
    )
