"""The report as one self-contained HTML document."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup

import deflect.report.sections
from deflect.findings import Advice
from deflect.report import versions
from deflect.report.markup import render
from deflect.report.style import STYLE
from deflect.report.wording import name

GENERATOR = '<meta name="generator" content="deflect '
"""Stands near the start of every page of ours."""
_PAGE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="deflect {{ version }}">
<title>{{ die }} on {{ press }}</title>
<style>{{ style }}</style>
</head>
<body>
<header>
<h1>{{ die }} <span class="on">on</span> {{ press }}</h1>
</header>
<main>
{% for section in sections %}
<section id="{{ section.id }}">
<h2>{{ section.heading }}</h2>
{{ section.fragment }}
</section>
{% endfor %}
</main>
<footer>Written by deflect {{ version }}. Lengths in mm, forces in kN and MN, masses in kg and t.
x runs left to right, y front to rear, z up; the origin is the middle of the bolster's top.</footer>
</body>
</html>
"""


@dataclass(frozen=True)
class Section:
    """One section: where it stands, its heading, and what it says of an advice."""

    id: str
    order: int
    heading: str
    tell: Callable[[Advice], Markup]


@cache
def all_sections() -> tuple[Section, ...]:
    """Every section found in the package, in order."""
    found = []
    for info in pkgutil.iter_modules(deflect.report.sections.__path__):
        module = importlib.import_module(f"{deflect.report.sections.__name__}.{info.name}")
        found.append(Section(info.name.replace("_", "-"), module.ORDER, module.HEADING, module.fragment))
    return tuple(sorted(found, key=lambda section: (section.order, section.id)))


def document(advice: Advice) -> str:
    """The whole report as HTML text."""
    case = advice.assessment.analysis.case
    sections = [
        {"id": section.id, "heading": section.heading, "fragment": section.tell(advice)} for section in all_sections()
    ]
    return str(
        render(
            _PAGE,
            die=name(case.die.name),
            press=name(case.press.name),
            version=versions.own(),
            style=Markup(STYLE),
            sections=sections,
        )
    )
