"""deflect compare: one die on its production press and on stand-ins."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from deflect.commands.ending import RAN, REFUSED, STRICT, console

if TYPE_CHECKING:
    from deflect.compare import Comparison


@click.command()
@click.argument("die")
@click.argument("production")
@click.argument("standins", nargs=-1, required=True)
@click.option("--report", "folder", type=click.Path(path_type=Path), help="Write comparison.html here.")
@click.option("--papers", is_flag=True, help="With --report: the comparison and its plans as PDF, too.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON on standard output.")
@click.option(
    "--force",
    "forces",
    multiple=True,
    metavar="PRESS=FORCE",
    help='The force at the slide of one press, "birch-12mn=3 MN"; else its tryout_force, else the die\'s own.',
)
@click.option("--shim-step", default="0.05 mm", show_default=True, help="Steps in which shims come.")
@click.option("--shim-field", default="400 mm", show_default=True, help="Size of the fields that are shimmed.")
@click.option("--strict", is_flag=True, help="Exit with 1 unless every stand-in behaves alike.")
def compare(
    die: str,
    production: str,
    standins: tuple[str, ...],
    folder: Path | None,
    papers: bool,
    as_json: bool,
    forces: tuple[str, ...],
    shim_step: str,
    shim_field: str,
    strict: bool,
) -> None:
    """Will DIE behave alike on STANDINS as on its PRODUCTION press, each at its own force, and what to do if not?"""
    from rich.console import Console

    from deflect.casefile.apart import die_apart, press_apart
    from deflect.compare import Likely
    from deflect.compare import compare as compared
    from deflect.faults import DeflectError

    errors = Console(stderr=True)
    try:
        stated = _forces(forces, (production, *standins))
        step, size = _length(shim_step, "--shim-step", 0.01, 1.0), _length(shim_field, "--shim-field", 50.0, 2000.0)
        _require(folder, papers)
        with errors.status("reading") as status:
            told = compared(
                die_apart(die),
                press_apart(production),
                [press_apart(press) for press in standins],
                stated,
                size,
                step,
                lambda words: status.update(words),
            )
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    if as_json:
        import json

        from deflect.report.compared.data import comparison_json

        click.echo(json.dumps(comparison_json(told), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        from deflect.report.compared.terminal import print_comparison

        print_comparison(told, console())
    if folder is not None:
        with errors.status("writing the report"):
            _write(told, folder, papers)
    alike = all(one.verdict is Likely.ALIKE for one in told.compared)
    sys.exit(STRICT if strict and not alike else RAN)


def _require(folder: Path | None, papers: bool) -> None:
    """Refuse papers or a page that have no place, or that nothing here can print, before anything is computed."""
    from deflect.faults import OutputRefused

    if folder is None:
        if papers:
            raise OutputRefused("--papers needs --report DIR: the papers go into that folder")
        return
    from deflect.report.writing import COMPARISON, require_place_for

    if papers:
        from deflect.report.paper.printing import require

        require()
    require_place_for(COMPARISON, folder)


def _write(told: Comparison, folder: Path, papers: bool) -> None:
    """Write the page and its papers and say where they are, or say why not and leave."""
    from deflect.faults import DeflectError
    from deflect.outputs import shown
    from deflect.report.compared.page import page
    from deflect.report.paper.printing import comparison_papers
    from deflect.report.writing import write_comparison

    try:
        whole = page(told)
        for file in write_comparison(whole, comparison_papers(told, whole) if papers else {}, folder):
            click.echo(f"report: {shown(file)}", err=True)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)


def _forces(written: tuple[str, ...], presses: tuple[str, ...]) -> dict[str, float]:
    """Forces stated for presses by name, N."""
    from deflect.faults import QuantityRefused
    from deflect.units import FORCE, parse

    stated = {}
    for one in written:
        press, sign, text = one.partition("=")
        press = press.strip()
        if not sign or press not in presses:
            raise QuantityRefused(
                f'--force "{one}" names no press of this comparison',
                f"PRESS=FORCE with one of {', '.join(presses)}",
                f'write --force "{presses[-1]}=3 MN"',
            )
        stated[press] = parse(text.strip(), FORCE)
        if stated[press] <= 0:
            raise QuantityRefused(f'--force "{one}" is no force', "more than 0 kN", "state the force at the slide")
    return stated


def _length(text: str, option: str, low: float, high: float) -> float:
    from deflect.faults import QuantityRefused
    from deflect.units import LENGTH, parse

    value = parse(text, LENGTH)
    if not low <= value <= high:
        raise QuantityRefused(f'{option} "{text}" is out of its range', f"{low:g} to {high:g} mm", "check the unit")
    return value
