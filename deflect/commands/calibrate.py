"""deflect calibrate: a press fitted to readings on its bare table."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from deflect.commands.ending import REFUSED, console

if TYPE_CHECKING:
    from deflect.mechanics.calibration import Fit


@click.command()
@click.argument("press")
@click.argument("readings")
@click.option("--to", "target", type=click.Path(path_type=Path), help="Write the calibrated press file here, anew.")
@click.option("--date", help="Day of the readings, year-month-day, where the file does not say it.")
@click.option("--without", multiple=True, metavar="DIAL", help="Leave a dial out; may be given again.")
@click.option("--report", "folder", type=click.Path(path_type=Path), help="Write calibration.html here.")
@click.option("--json", "as_json", is_flag=True, help="Print the fit as JSON on standard output.")
def calibrate(
    press: str,
    readings: str,
    target: Path | None,
    date: str | None,
    without: tuple[str, ...],
    folder: Path | None,
    as_json: bool,
) -> None:
    """Fit PRESS to READINGS on its bare table: a readings file (TOML), or a table of dials (CSV)."""
    import json

    from rich.console import Console

    from deflect.casefile import read_measured
    from deflect.faults import DeflectError
    from deflect.mechanics.calibration import calibrate as fitted
    from deflect.mechanics.calibration import without_dials
    from deflect.report.calibration import as_json as rendered
    from deflect.report.calibration import print_calibration

    try:
        if folder is not None:
            from deflect.report.writing import CALIBRATION, require_place_for

            require_place_for(CALIBRATION, folder)
        under, measured = read_measured(press, readings, date)
        with Console(stderr=True).status("fitting"):
            fit = fitted(under, without_dials(measured, frozenset(without)))
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    if as_json:
        click.echo(json.dumps(rendered(fit), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print_calibration(fit, console())
    try:
        _write(press, fit, target, folder, err=as_json)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)


def _write(press: str, fit: Fit, target: Path | None, folder: Path | None, err: bool) -> None:
    """Write the calibrated press file and the page, and say where they are."""
    from deflect.casefile import calibrated_text
    from deflect.outputs import put_new, shown
    from deflect.report.calibration import page
    from deflect.report.writing import CALIBRATION, write_page

    if target is not None:
        put_new(target, calibrated_text(press, fit.calibration))
        click.echo(f"{shown(target)} written", err=err)
    if folder is not None:
        click.echo(f"report: {shown(write_page(CALIBRATION, page(fit), folder))}", err=True)
