"""The working surface under force."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import figures
from deflect.report.markup import render

ORDER = 70
HEADING = "Face of the die"

_TEMPLATE = """\
<p>From its highest to its lowest place the face is out by <b>{{ face | mm }}</b> under force, after the best rigid
fit. {% if bedded %}What is shown is the change since the die was bedded in on {{ bedded.press.name }} under
{{ bedded.force | force }}: what was fitted there by hand is fitted there only.{% else %}The die is not bedded in yet:
this is the amount that bedding-in on this press has to take off.{% endif %}</p>
<figure>{{ picture }}<figcaption>Lower half alone, at the places of the contact patches below it.</figcaption></figure>
"""


def fragment(advice: Advice) -> Markup:
    """The face error map."""
    analysis = advice.assessment.analysis
    return render(
        _TEMPLATE,
        face=analysis.face.error_range,
        bedded=analysis.case.die.bedded,
        picture=figures.face_map(analysis),
    )
