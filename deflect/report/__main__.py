"""``python -m deflect.report bank`` and ``… numbers``: the pages by which those who work on the code watch it."""

from __future__ import annotations

import os

# Before numpy is loaded: the matrices of one check are small, one thread is faster than two.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import sys
from pathlib import Path

import click

_FOLDER = click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("reports"), show_default=True)


@click.group()
def main() -> None:
    """Pages that are kept in reports/."""


@main.command()
@_FOLDER
@click.option("--only", multiple=True, metavar="ID", help="Solve these alone; the others keep their last answers.")
@click.option("--missing", is_flag=True, help="Solve only what has no answer yet; with all answered, write the page.")
def bank(folder: Path, only: tuple[str, ...], missing: bool) -> None:
    """Solve the judgement bank, 5 to 30 seconds a situation, and write what agrees and what does not."""
    from deflect.checks.bank import Compared, answer, remarks, situations
    from deflect.report import bank as pages

    answers, every = pages.kept(folder), situations()
    unknown = set(only) - {one.id for one in every}
    if unknown:
        raise click.UsageError(f"no such situation: {', '.join(sorted(unknown))}")
    for one in every:
        asked = one.id in only if only else not (missing and one.id in answers)
        if not asked:
            continue
        answers[one.id] = answer(one)
        told = [Compared(known, answers[known.id]) for known in every if known.id in answers]
        pages.write(told, remarks(), folder)
        click.echo(pages.shown([Compared(one, answers[one.id])])[0])
    told = [Compared(known, answers[known.id]) for known in every if known.id in answers]
    click.echo(f"page: {pages.write(told, remarks(), folder)}")


@main.command()
@_FOLDER
@click.option("--cause", default="", help="Why the numbers have changed, in words: without it no change is written.")
def numbers(folder: Path, cause: str) -> None:
    """Solve the main demo cases, compare with the numbers kept, and write them; exits with 1 if a cause is missing."""
    from deflect.advice import advise
    from deflect.casefile import read_case
    from deflect.report import numbers as pages

    now: pages.Numbers = {}
    for die, press in pages.PAIRS:
        now[f"{die} on {press}"] = pages.numbers_of(advise(read_case(die, press)))
        click.echo(f"{die} on {press}", err=True)
    before = pages.kept(folder)
    found = pages.changes(before.numbers, now) if before.numbers else []
    for change in found:
        click.echo(str(change))
    if found and not cause:
        click.echo("nothing is written: tell the cause with --cause", err=True)
        sys.exit(1)
    click.echo(f"page: {pages.write(pages.with_cause(before, now, found, cause), folder)}")


if __name__ == "__main__":
    main(prog_name="python -m deflect.report")
