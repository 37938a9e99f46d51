"""Cautions as every room shows them: in short beside the verdict, and in full below; nothing switches them off."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from deflect.findings import Warned
from deflect.report.markup import render

_NO_APPROVAL = "This page approves no lift and no clamp: local codes and competent people do."
_SHORT = """\
<div class="desk-cautions" role="note"><b>Cautions:</b>
{% for c in cautions %}{{ c.id | replace("-", " ") }}{{ ", " if not loop.last }}{% endfor %}.
<a href="#{{ place }}">Read all {{ cautions | count }}</a></div>
"""
AHEAD = Markup(f'<div class="desk-cautions" role="note"><b>Cautions</b> follow with the numbers. {_NO_APPROVAL}</div>')
"""What stands where the cautions will, until they are computed."""
_FULL = """\
<div class="desk-cautions" role="note" id="{{ place }}"><b>Cautions</b>{% for c in cautions %}
<h3>{{ c.heading }}</h3>{% for n in c.numbers %}<p>{{ n }}</p>{% endfor %}{% if not c.numbers %}
<p>{{ c.words[0] }}</p>{% endif %}
<details><summary class="desk-dim">more, and whom to ask</summary>{% for w in c.words %}<p>{{ w }}</p>
{% endfor %}<p><b>{{ c.defer }}</b></p></details>{% endfor %}
<p class="desk-dim">{{ no_approval }}</p></div>
"""


def in_short(warned: Sequence[Warned], place: str) -> Markup:
    """What the cautions are about, and the way to them; place: the id of the box that has them in full."""
    return render(_SHORT, cautions=warned, place=place)


def in_full(warned: Sequence[Warned], place: str) -> Markup:
    """Every caution, its numbers in sight."""
    return render(_FULL, cautions=warned, place=place, no_approval=_NO_APPROVAL)
