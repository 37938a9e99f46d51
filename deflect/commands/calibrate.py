"""deflect calibrate: a press fitted to readings on its bare table."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from deflect.commands.ending import REFUSED, console


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

    from deflect.casefile import calibrated_text, read_measured
    from deflect.faults import DeflectError
    from deflect.mechanics.calibration import calibrate as fitted
    from deflect.mechanics.calibration import without_dials
    from deflect.outputs import put_new, shown
    from deflect.report.calibration import as_json as rendered
    from deflect.report.calibration import page, print_calibration
    from deflect.report.writing import CALIBRATION, write_page

    try:
        under, measured = read_measured(press, readings, date)
        with Console(stderr=True).status("fitting"):
            fit = fitted(under, without_dials(measured, frozenset(without)))
        if target is not None:
            put_new(target, calibrated_text(press, fit.calibration))
        written = None if folder is None else write_page(CALIBRATION, page(fit), folder)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    if as_json:
        click.echo(json.dumps(rendered(fit), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print_calibration(fit, console())
    if target is not None:
        click.echo(f"{shown(target)} written", err=as_json)
    if written is not None:
        click.echo(f"report: {shown(written)}", err=True)
