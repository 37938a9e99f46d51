"""deflect study: every die on every press; deflect shop: a large invented shop to try it on."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from deflect.commands.ending import RAN, REFUSED

if TYPE_CHECKING:
    from rich.console import Console

    from deflect.findings import Warned
    from deflect.study.running import Progress, Settings, Workers
    from deflect.study.shop import Shop

JOURNAL, BODIES, ROWS = "journal.sqlite", "bodies", "rows.csv"
_LISTED = 20
_LONGEST = 2000


@click.command()
@click.argument("dies", type=click.Path())
@click.argument("presses", type=click.Path())
@click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("deflect-study"), show_default=True,
              help="Folder of the journal, the condensed bodies, the page and the rows.")  # fmt: skip
@click.option("--full", is_flag=True, help="Solve every pair in full, not only those that screening leaves open.")
@click.option("--screening-only", is_flag=True, help="Screen, and solve none in full.")
@click.option("--samples", type=click.IntRange(16, 1024), default=16, show_default=True, help="Draws of a full row.")
@click.option("--workers", type=click.IntRange(1, 256), default=None, help="Processes; as many as there are cores.")
@click.option("--scheduler", metavar="ADDRESS", default=None, help="Run on the dask cluster of this scheduler.")
@click.option("--where", "filters", multiple=True, metavar="FILTER",
              help='Rows to show and to write, "gap_mm > 0.05"; several must all hold.')  # fmt: skip
@click.option("--parquet", type=click.Path(path_type=Path), default=None, help="Write the rows as Parquet, too.")
def study(
    dies: str,
    presses: str,
    folder: Path,
    full: bool,
    screening_only: bool,
    samples: int,
    workers: int | None,
    scheduler: str | None,
    filters: tuple[str, ...],
    parquet: Path | None,
) -> None:
    """Check every die of the folder DIES on every press of the folder PRESSES ("demo": those that come along).

    Stopped at any moment and started again it goes on where it was; files that have changed are solved anew.
    """
    from rich.console import Console

    from deflect.faults import DeflectError, printable
    from deflect.outputs import shown
    from deflect.report.study_page import page, summary
    from deflect.report.writing import STUDY, write_page
    from deflect.study.export import write_csv, write_parquet
    from deflect.study.journal import Journal
    from deflect.study.running import Settings
    from deflect.study.shop import read_shop
    from deflect.study.where import clause_of

    errors = Console(stderr=True)
    try:
        clause, values = clause_of(filters)
        if full and screening_only:
            raise click.UsageError("--full and --screening-only exclude each other")
        with errors.status("reading the files"):
            shop = read_shop(dies, presses)
        cache = "" if scheduler else str((folder / BODIES).resolve())
        with closing(Journal(folder / JOURNAL)) as journal, _alone(folder):
            _run(shop, journal, Settings(full, screening_only, samples, cache), workers, scheduler, errors)
            rows = list(journal.rows(clause, values))
            write_csv(rows, folder / ROWS)
            if parquet is not None:
                write_parquet(rows, parquet)
            write_page(STUDY, page(rows, _cautions(shop), filters), folder)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    click.echo(summary(rows))
    for row in rows[:_LISTED]:
        told = "; ".join(filter(None, (row.reasons, row.breaks, row.remedy, row.message)))
        click.echo(printable(f"{row.die} on {row.press}: {row.verdict}" + (f" ({told})" if told else ""), _LONGEST))
    if len(rows) > _LISTED:
        click.echo(f"and {len(rows) - _LISTED} more: {shown(folder / STUDY)}, {shown(folder / ROWS)}")
    for caution in _cautions(shop):
        click.echo(f"! {caution.heading}")
    sys.exit(RAN)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """One study at a time in a folder: another one takes out the rows of files that it does not know."""
    from deflect.faults import OutputRefused
    from deflect.outputs import alone, make_folder, shown, why_not

    try:
        make_folder(folder / BODIES)
        busy = f"another study is running in {shown(folder)}: wait until it is done, or choose another folder with --to"
        with alone(folder / BODIES, 0.0, busy):
            yield
    except OSError as error:
        raise OutputRefused(f"The study cannot be kept in {shown(folder)}: {why_not(error)}") from None


def _run(
    shop: Shop, journal: object, settings: Settings, count: int | None, scheduler: str | None, errors: Console
) -> None:
    from rich.progress import BarColumn, MofNCompleteColumn, TextColumn
    from rich.progress import Progress as Bar

    from deflect.study.cluster import ClusterWorkers
    from deflect.study.journal import Journal
    from deflect.study.local import LocalWorkers
    from deflect.study.running import run

    assert isinstance(journal, Journal)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TextColumn("{task.fields[told]}"))
    with ExitStack() as stack:
        workers: Workers
        if scheduler:
            workers = stack.enter_context(ClusterWorkers(scheduler))
        else:
            workers = stack.enter_context(LocalWorkers(count or os.cpu_count() or 1))
        bar = stack.enter_context(Bar(*columns, console=errors))
        tasks = {}

        def told(progress: Progress) -> None:
            if progress.stage not in tasks:
                tasks[progress.stage] = bar.add_task(progress.stage, total=progress.total, told="")
            bar.update(tasks[progress.stage], completed=progress.done, told=_told(progress))

        run(shop, journal, workers, settings, told)


def _told(progress: Progress) -> str:
    left = progress.left
    kept = f", {progress.kept} there already" if progress.kept else ""
    if left is None:
        return kept.removeprefix(", ")
    return f"{progress.rate:.3g} a second, {_time(left)} left{kept}"


def _time(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min {rest:02d} s" if minutes else f"{rest} s"


def _cautions(shop: Shop) -> tuple[Warned, ...]:
    """The cautions of the heaviest die: they hold for all."""
    from deflect.study.cautions import heaviest_cautions

    return heaviest_cautions(shop)


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--dies", type=click.IntRange(1, 100_000), default=100, show_default=True)
@click.option("--presses", type=click.IntRange(1, 10_000), default=10, show_default=True)
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True, help="The same seed, the same shop.")
@click.option("--broken", type=click.IntRange(0), default=0, show_default=True, help="Dies that cannot be read.")
def shop(folder: Path, dies: int, presses: int, seed: int, broken: int) -> None:
    """Make up a large shop in FOLDER/dies and FOLDER/presses, to try a study on."""
    from deflect.faults import DeflectError
    from deflect.outputs import shown
    from deflect.study.invented import invent_shop

    try:
        where = invent_shop(folder, dies, presses, seed, broken)
    except DeflectError as failed:
        click.echo(str(failed), err=True)
        sys.exit(REFUSED)
    click.echo(f"deflect study {shown(where[0])} {shown(where[1])}")
