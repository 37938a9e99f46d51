"""Commented case files to start from: they check as they stand."""

from __future__ import annotations

from importlib.resources import files

from deflect.casefile.kinds import CaseKind


def template(kind: CaseKind) -> str:
    """The text of a new press file or die file."""
    return (files("deflect.casefile") / "templates" / f"{kind}.toml").read_text(encoding="utf-8")
