"""Commands that are too long for one file: read, ask, print; no arithmetic."""

from __future__ import annotations

import click

from deflect.commands.calibrate import calibrate
from deflect.commands.compare import compare
from deflect.commands.sensitivity import sensitivity
from deflect.commands.study import shop, study


def all_commands() -> tuple[click.Command, ...]:
    """Every command of this package."""
    return (calibrate, compare, sensitivity, study, shop)
