"""The command line: read, ask, print; no arithmetic.  Libraries are loaded only when they are needed."""

from __future__ import annotations

import os

# The matrices of one check are small: one thread is faster than two, and leaves the PC usable.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import logging
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from deflect import __version__, commands
from deflect.commands.ending import FAILED, RAN, REFUSED, STRICT, Group, console
from deflect.faults import GAVE_UP, given_up, printable
from deflect.outputs import shown

if TYPE_CHECKING:
    from rich.console import Console

    from deflect.casefile import CaseKind
    from deflect.findings import Advice
    from deflect.model.case import Case
    from deflect.model.press import Press

_LOG = logging.getLogger(__name__)


@click.group(cls=Group, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="deflect")
def main() -> None:
    """Press-table deflection and die-mounting adviser.

    Checks a stamping die against the press it is to stand on: how the table sags, where a gap opens, whether
    the die creeps, what to do about it, and what to mind when handling it.
    """


@main.command()
@click.argument("die")
@click.argument("press")
@click.option("--report", "folder", type=click.Path(path_type=Path), help="Write report.html and fields here.")
@click.option("--papers", is_flag=True, help="With --report: papers to sign, too, as PDF (A4).")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON on standard output.")
@click.option("--why", "why", metavar="RULE", help="Show how one rule came out, and why; see 'deflect rules'.")
@click.option("--presses", type=click.Path(path_type=Path), help="Folder of press files that could run it instead.")
@click.option(
    "--samples",
    type=click.IntRange(16, 1024),
    default=16,
    show_default=True,
    help="How often the case is solved over the ranges of its inputs; 64 tell rare cases better.",
)
@click.option("--strict", is_flag=True, help="Exit with 1 unless the verdict is fit.")
@click.option(
    "--bodies",
    type=click.Choice(["plate", "solid"]),
    default="plate",
    help="solid: solve die and table as three-dimensional solids, too, and compare; takes one to three minutes.",
)
def check(
    die: str,
    press: str,
    folder: Path | None,
    papers: bool,
    as_json: bool,
    why: str | None,
    presses: Path | None,
    samples: int,
    strict: bool,
    bodies: str,
) -> None:
    """Check DIE on PRESS: case files, or names of demo cases."""
    from rich.console import Console

    from deflect.casefile import read_case
    from deflect.faults import DeflectError

    errors = Console(stderr=True)
    try:
        case = read_case(die, press)
        if papers:
            _require_papers(folder)
        if folder is not None:
            from deflect.report.writing import require_place

            require_place(folder)
    except DeflectError as refused:
        click.echo(str(refused), err=True)
        sys.exit(REFUSED)
    if presses is not None:
        case = replace(case, other_presses=_other_presses(die, presses))
    try:
        from deflect.findings import Verdict

        advice = _advised(case, samples, errors, with_solids=bodies == "solid")
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    if why is not None:
        from deflect.report.explaining import explain

        explained = explain(advice, why)
        if explained is None:
            click.echo(f'there is no rule "{printable(why)}": see deflect rules', err=True)
            sys.exit(REFUSED)
        click.echo(explained)
    elif as_json:
        import json

        from deflect.report.data import as_json as rendered

        click.echo(json.dumps(rendered(advice), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        from deflect.report.summary import print_summary

        print_summary(advice, console())
    if folder is not None:
        from deflect.report.writing import write_report

        with errors.status("writing the report"):
            _report(lambda: next(path for path in write_report(advice, folder, papers) if path.suffix == ".html"))
    sys.exit(STRICT if strict and advice.verdict is not Verdict.FIT else RAN)


def _report(write: Callable[[], Path]) -> None:
    """Write a report and say where it is, or say why not and leave."""
    from deflect.faults import DeflectError

    try:
        click.echo(f"report: {shown(write())}", err=True)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)


def _require_papers(folder: Path | None) -> None:
    from deflect.faults import OutputRefused
    from deflect.report.paper.printing import require

    if folder is None:
        raise OutputRefused("--papers needs --report DIR: the papers go into that folder")
    require()


def _other_presses(die: str, folder: Path) -> tuple[Press, ...]:
    """The presses of a folder on which the die can stand; the others are told and left out."""
    from deflect.casefile import read_case
    from deflect.faults import CaseRefused

    files = sorted(folder.glob("*.toml"))
    if not files:
        click.echo(f"{shown(folder)}: no press files (*.toml) there", err=True)
        sys.exit(REFUSED)
    found = []
    for path in files:
        try:
            found.append(read_case(die, path).press)
        except CaseRefused as refused:
            click.echo(
                f"{printable(path.name)} is left out of the other presses: {refused.faults[0].problem}", err=True
            )
    return tuple(found)


def _advised(case: Case, samples: int, errors: Console, with_solids: bool) -> Advice:
    """The advice on a case; a fault of the program itself is told in words, and logged."""
    from deflect.advice import advise, compare_with_solids
    from deflect.mechanics.solid_body import refuse_shapes

    if with_solids:
        refuse_shapes(case.press.bolster, case.die.base)
    try:
        with errors.status("reading") as status:
            advice = advise(case, samples, progress=lambda words: status.update(words))
            return compare_with_solids(advice, lambda words: status.update(words)) if with_solids else advice
    except GAVE_UP as fault:
        _LOG.debug("the solver gave up", exc_info=fault)
        raise given_up(fault) from fault


def _put_new(target: Path, text: str) -> None:
    """Write a new file and say so, or say why not and leave."""
    from deflect.faults import DeflectError
    from deflect.outputs import put_new

    try:
        put_new(target, text)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    click.echo(f"{shown(target)} written")


@main.command()
@click.option("--report", "folder", type=click.Path(path_type=Path), help="Write verification.html here.")
@click.option("--json", "as_json", is_flag=True, help="Print every figure as JSON on standard output.")
def verify(folder: Path | None, as_json: bool) -> None:
    """Run the published checks: source, exact and computed figure, tolerance; exits with 1 if one fails."""
    import json

    from rich.console import Console

    from deflect.checks import all_checks, run
    from deflect.faults import DeflectError
    from deflect.report.verification import as_rows, page, print_checks
    from deflect.report.writing import VERIFICATION, require_place_for, write_verification

    try:
        if folder is not None:
            require_place_for(VERIFICATION, folder)
    except DeflectError as refused:
        click.echo(str(refused), err=True)
        sys.exit(REFUSED)
    errors, outcomes = Console(stderr=True), []
    with errors.status("checking") as status:
        for outcome in run():
            outcomes.append(outcome)
            status.update(f"{len(outcomes)} of {len(all_checks())} checks")
    if as_json:
        click.echo(json.dumps(as_rows(outcomes), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print_checks(outcomes, console())
    if folder is not None:
        _report(lambda: write_verification(page(outcomes), folder))
    sys.exit(RAN if all(outcome.passed for outcome in outcomes) else FAILED)


@main.command()
@click.argument("kind", type=click.Choice(["press", "die", "readings"]))
@click.option("--schema", is_flag=True, help="Print the JSON Schema for editors instead.")
@click.option("--to", "target", type=click.Path(path_type=Path), help="Write to this file, which must not exist yet.")
def new(kind: str, schema: bool, target: Path | None) -> None:
    """Print a commented case file to start from; it checks as it stands."""
    import json

    from deflect.casefile import schema as schema_of
    from deflect.casefile import template

    chosen = cast("CaseKind", kind)
    text = json.dumps(schema_of(chosen), indent=2, ensure_ascii=False) if schema else template(chosen)
    if target is None:
        click.echo(text, nl=not text.endswith("\n"))
        return
    _put_new(target, text)


@main.command()
@click.option("--port", type=click.IntRange(1024, 65535), default=8417, show_default=True, help="Port on 127.0.0.1.")
@click.option("--no-browser", is_flag=True, help="Open no browser; the address is printed.")
@click.option(
    "--folder",
    type=click.Path(path_type=Path),
    default=Path("deflect-desk"),
    show_default=True,
    help="Where the page saves case files, reports and lessons; it writes nowhere else.",
)
def desk(port: int, no_browser: bool, folder: Path) -> None:
    """Open the desk: one local page to check, edit, try remedies and teach."""
    from deflect.faults import DeflectError

    try:
        from deflect.desk.server import serve
    except ModuleNotFoundError as missing:
        click.echo(f"The desk needs {missing.name}: python -m pip install 'deflect[desk]'", err=True)
        sys.exit(REFUSED)
    click.echo(f"http://127.0.0.1:{port} (on this machine only; end with Ctrl+C)", err=True)
    try:
        serve(folder.absolute(), port, browser=not no_browser)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)


@main.command()
def rules() -> None:
    """List every rule, remedy and caution with its source."""
    from deflect.report.explaining import listing

    click.echo(listing())


@main.command()
def cases() -> None:
    """List the demo cases that come along (one invented scenario)."""
    from deflect.casefile import demo_cases

    kinds: tuple[CaseKind, ...] = ("press", "die", "readings")
    for kind in kinds:
        click.echo(f"{kind}:")
        for name in demo_cases(kind):
            click.echo(f"  {name}")


for command in commands.all_commands():
    main.add_command(command)
