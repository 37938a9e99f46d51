"""Which versions an answer was computed with."""

from __future__ import annotations

import platform
from importlib import metadata

from deflect import __version__

_DEPENDENCIES = ("numpy", "scipy", "scikit-fem", "pydantic", "jinja2", "matplotlib", "meshio", "rich")


def own() -> str:
    """Version of this program."""
    return __version__


def dependencies() -> tuple[tuple[str, str], ...]:
    """Name and version of Python and of each library that takes part."""
    return (("Python", platform.python_version()), *((name, _of(name)) for name in _DEPENDENCIES))


def _of(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return "not installed"
