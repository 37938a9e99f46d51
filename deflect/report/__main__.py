"""``python -m deflect.report bank`` and ``… numbers``: the pages by which those who work on the code watch it."""

from __future__ import annotations

import os

# Before numpy is loaded: the matrices of one check are small, one thread is faster than two.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import TypeVar

import click

from deflect.outputs import put

_T = TypeVar("_T")

_FOLDER = click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("reports"), show_default=True)


def apart(work: Callable[..., _T], *words: str) -> _T:
    """One case in a process of its own: what is kept of its bodies does not pile up, gigabytes after ten cases."""
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        return pool.submit(work, *words).result()


@click.group()
def main() -> None:
    """Pages that are kept in reports/."""


@main.command()
@_FOLDER
@click.option("--only", multiple=True, metavar="ID", help="Solve these alone; the others keep their last answers.")
@click.option("--missing", is_flag=True, help="Solve only what has no answer, or whose case files have changed.")
def bank(folder: Path, only: tuple[str, ...], missing: bool) -> None:
    """Solve the judgement bank, 5 to 30 seconds a situation, and write what agrees and what does not."""
    from deflect.checks.bank import Compared, answer_to, remarks, situations
    from deflect.report import bank as pages

    answers, every = pages.kept(folder), situations()
    unknown = set(only) - {one.id for one in every}
    if unknown:
        raise click.UsageError(f"no such situation: {', '.join(sorted(unknown))}")
    for one in every:
        known = missing and one.id in answers and answers[one.id].input_hash == one.case().input_hash
        if known or (only and one.id not in only):
            continue
        answers[one.id] = apart(answer_to, one.id)
        told = [Compared(each, answers[each.id]) for each in every if each.id in answers]
        pages.write(told, remarks(), folder)
        click.echo(pages.shown([Compared(one, answers[one.id])])[0])
    told = [Compared(each, answers[each.id]) for each in every if each.id in answers]
    click.echo(f"page: {pages.write(told, remarks(), folder)}")


@main.command()
@_FOLDER
@click.option("--cause", default="", help="Why the numbers have changed, where it is the same for all of them.")
@click.option("--missing", is_flag=True, help="Solve only what has no numbers, or whose case files have changed.")
def numbers(folder: Path, cause: str, missing: bool) -> None:
    """Solve the demo cases, 5 to 30 seconds each, and keep their numbers; exits with 1 while a change has no cause."""
    from deflect.casefile import demo_cases, read_case
    from deflect.report import numbers as pages
    from deflect.report import versions

    every = pages.pairs()
    for told, there in zip(zip(*every, strict=True), (demo_cases("die"), demo_cases("press")), strict=True):
        if set(told) != set(there):
            raise click.ClickException(f"cases/pairs.toml: add or take out {', '.join(set(told) ^ set(there))}")
    # What was solved and not yet kept: a change may still want its cause.
    before, fresh = pages.kept(folder / pages.NUMBERS), folder / "local" / pages.NUMBERS
    solved = (before | pages.kept(fresh)) if missing else {}
    now: pages.Numbers = {}
    for die, press in every:
        name, case = f"{die} on {press}", read_case(die, press)
        if name in solved and solved[name]["input_hash"] == case.input_hash:
            now[name] = solved[name]
            continue
        now[name] = apart(pages.numbers_of_pair, die, press)
        pages.keep(fresh, solved | now)
        click.echo(f"{name}: {now[name]['verdict']}", err=True)
    found = pages.changes(before, now)
    untold = pages.without_cause(found, folder, cause)
    for change in found:
        click.echo(f"{change}{' (no cause is told)' if change in untold else ''}")
    if untold:
        raise click.ClickException(
            f"no page is written: tell each cause in {folder / pages.CAUSES}, then use --missing"
        )
    pages.keep(folder / pages.NUMBERS, now)
    text = pages.page(now, pages.causes(folder), versions.own())
    put(folder / pages.PAGE, text)
    fresh.unlink(missing_ok=True)
    click.echo(f"page: {folder / pages.PAGE}")


if __name__ == "__main__":
    main(prog_name="python -m deflect.report")
