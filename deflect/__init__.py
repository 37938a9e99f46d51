"""deflect: how a press table and a die deflect together, and what to do about it.

    read(path)            a press or die file as a frozen value
    read_case(die, press) both, with what they must have in common checked
    check(die, press)     every rule asked of the case: Assessment
    advise(die, press)    the verdict, remedies re-solved, cautions: Advice

Lengths in mm, forces in N, stresses in MPa, angles in rad, masses in kg.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from deflect.findings import Advice, Assessment
    from deflect.model.die import Die
    from deflect.model.press import Press

__version__ = "0.1.0"
__all__ = ["advise", "check", "read"]


def read(path: str | Path) -> Press | Die:
    """Read a press or die file, or a demo case by name.  Raises CaseRefused with every mistake."""
    from deflect.casefile import read

    return read(path)


def check(die: str | Path, press: str | Path) -> Assessment:
    """Solve a die file on a press file and ask every rule.  Raises CaseRefused, MechanicsFailed."""
    from deflect.advice import assess
    from deflect.casefile import read_case

    return assess(read_case(die, press))


def advise(die: str | Path, press: str | Path) -> Advice:
    """Check a die file on a press file and try the remedies.  Raises CaseRefused, MechanicsFailed."""
    from deflect.advice import advise
    from deflect.casefile import read_case

    return advise(read_case(die, press))
