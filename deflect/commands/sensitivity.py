"""deflect sensitivity: which input moves the verdict of one pair."""

from __future__ import annotations

import sys

import click

from deflect.commands.ending import RAN, REFUSED, console


@click.command()
@click.argument("die")
@click.argument("press")
@click.option(
    "--points",
    type=click.Choice(["16", "32", "64", "128"]),
    default="32",
    show_default=True,
    help="Points of the estimate; times two more than there are inputs is what is solved.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the indices as JSON on standard output.")
def sensitivity(die: str, press: str, points: str, as_json: bool) -> None:
    """Which of the inputs that are never known exactly moves the verdict of DIE on PRESS; takes some minutes."""
    import json

    from rich.console import Console

    from deflect.advice.sensitivity import sensitivity as found
    from deflect.casefile import read_case
    from deflect.faults import DeflectError
    from deflect.report.sensitivity_told import print_sensitivity, sensitivity_json

    errors = Console(stderr=True)
    try:
        case = read_case(die, press)
        with errors.status("solving") as status:
            told = found(case, int(points), lambda done, total: status.update(f"{done} of {total} points"))
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    if as_json:
        click.echo(json.dumps(sensitivity_json(told, case), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print_sensitivity(told, case, console())
    sys.exit(RAN)
