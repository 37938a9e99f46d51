"""Where the base hangs free."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.solution import TOUCHING
from deflect.report import figures, wording
from deflect.report.markup import render
from deflect.report.places import MIDDLE, gap_place

ORDER = 40
HEADING = "Gap below the die"

_TEMPLATE = """\
<p>Greatest gap <b>{{ solution.greatest_gap | mm }}</b> {{ place }} ({{ point }} from the middle of the base, die axes)
{%- if elsewhere %}; {{ solution.centre_gap | mm }} below the middle of the base, or nearest to it{% endif %}.</p>
<figure>{{ picture }}<figcaption>Each cell is one contact patch. A gap below {{ closed | micro }} is drawn as
closed.</figcaption></figure>
"""


def fragment(advice: Advice) -> Markup:
    """The gap map."""
    analysis = advice.assessment.analysis
    solution = analysis.solution
    return render(
        _TEMPLATE,
        solution=solution,
        place=gap_place(analysis),
        point=wording.point(*solution.greatest_gap_at),
        elsewhere=gap_place(analysis) != MIDDLE,
        picture=figures.gap_map(analysis),
        closed=TOUCHING,
    )
