"""Templates: every value that goes into one is text, never markup."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from deflect.report import wording
from deflect.units import show_deflection, show_force, show_length, show_mass, show_micrometres, show_spring_stiffness


def render(template: str, **values: object) -> Markup:
    """The template filled in; values are escaped."""
    return Markup(_environment().from_string(template).render(**values))


@cache
def _environment() -> Environment:
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, finalize=_harmless
    )
    environment.filters.update(
        mm=show_deflection,
        micro=show_micrometres,
        length=show_length,
        force=show_force,
        mass=show_mass,
        ranged=wording.ranged,
        figure=wording.figure,
        span=wording.span,
        spring=show_spring_stiffness,
        unit=wording.unit_shown,
        residual=wording.residual,
        opening=wording.opening,
    )
    return environment


def _harmless(value: object) -> object:
    """Text with control characters written out; markup that is already safe as it is."""
    return wording.sentence(value) if isinstance(value, str) and not isinstance(value, Markup) else value
