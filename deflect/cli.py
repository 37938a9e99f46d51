"""The command line: read, ask, print; no arithmetic.  Libraries are loaded only when they are needed."""

from __future__ import annotations

import os

# The matrices of one check are small: one thread is faster than two, and leaves the PC usable.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import sys
from pathlib import Path

import click

from deflect import __version__

RAN, STRICT, REFUSED = 0, 1, 2


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
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
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON on standard output.")
@click.option("--why", "why", metavar="RULE", help="Show how one rule came out, and why; see 'deflect rules'.")
@click.option("--strict", is_flag=True, help="Exit with 1 unless the verdict is fit.")
def check(die: str, press: str, folder: Path | None, as_json: bool, why: str | None, strict: bool) -> None:
    """Check DIE on PRESS: case files, or names of demo cases."""
    from rich.console import Console

    from deflect.casefile import read_case
    from deflect.faults import CaseRefused, DeflectError

    errors = Console(stderr=True)
    try:
        case = read_case(die, press)
    except CaseRefused as refused:
        click.echo(str(refused), err=True)
        sys.exit(REFUSED)
    try:
        from deflect.advice import advise
        from deflect.findings import Verdict

        with errors.status("reading") as status:
            advice = advise(case, progress=lambda words: status.update(words))
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    if why is not None:
        from deflect.report.explaining import explain

        explained = explain(advice, why)
        if explained is None:
            click.echo(f'there is no rule "{why}": see deflect rules', err=True)
            sys.exit(REFUSED)
        click.echo(explained)
    elif as_json:
        import json

        from deflect.report.data import as_json as rendered

        click.echo(json.dumps(rendered(advice), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        from deflect.report.summary import print_summary

        print_summary(advice, Console())
    if folder is not None:
        from deflect.report.writing import write_report

        try:
            with errors.status("writing the report"):
                written = write_report(advice, folder)
        except DeflectError as failed:
            click.echo(str(failed), err=True)
            sys.exit(REFUSED)
        click.echo(f"report: {next(path for path in written if path.suffix == '.html')}", err=True)
    sys.exit(STRICT if strict and advice.verdict is not Verdict.FIT else RAN)


@main.command()
@click.argument("kind", type=click.Choice(["press", "die"]))
@click.option("--schema", is_flag=True, help="Print the JSON Schema for editors instead.")
@click.option("--to", "target", type=click.Path(path_type=Path), help="Write to this file, which must not exist yet.")
def new(kind: str, schema: bool, target: Path | None) -> None:
    """Print a commented case file to start from; it checks as it stands."""
    import json

    from deflect.casefile import CaseKind, template
    from deflect.casefile import schema as schema_of

    chosen: CaseKind = "press" if kind == "press" else "die"
    text = json.dumps(schema_of(chosen), indent=2, ensure_ascii=False) if schema else template(chosen)
    if target is None:
        click.echo(text, nl=not text.endswith("\n"))
        return
    try:
        with target.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        click.echo(f"{target} is there already: nothing written; choose another name", err=True)
        sys.exit(REFUSED)
    except OSError as error:
        click.echo(f"{target} cannot be written ({error.strerror}): choose another place", err=True)
        sys.exit(REFUSED)
    click.echo(f"{target} written")


@main.command()
def rules() -> None:
    """List every rule, remedy and caution with its source."""
    from deflect.report.explaining import listing

    click.echo(listing())


@main.command()
def cases() -> None:
    """List the demo cases that come along (one invented scenario)."""
    from deflect.casefile import CaseKind, demo_cases

    kinds: tuple[CaseKind, ...] = ("press", "die")
    for kind in kinds:
        click.echo(f"{kind}:")
        for name in demo_cases(kind):
            click.echo(f"  {name}")
