"""What the comparison's own process does: both presses solved and compared, told as pictures and as a page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from deflect.casefile.apart import die_apart, press_apart
from deflect.compare import compare as compared
from deflect.desk.errand import Tell
from deflect.desk.picture import picture
from deflect.faults import OutputRefused
from deflect.findings import Warned
from deflect.report.compared import words
from deflect.report.compared.page import KINDS, page
from deflect.report.paper import printing
from deflect.units import FORCE, parse


@dataclass(frozen=True, eq=False)
class Told:
    """A comparison: its page, its papers as PDF (none where nothing here can print them: ``no_papers`` says why),
    its cautions, the pictures of both presses (None: nothing is solved) with their titles, the verdict and its kind."""

    page: str
    papers: Mapping[str, bytes]
    no_papers: str
    cautions: tuple[Warned, ...]
    pictures: tuple[dict[str, Any], dict[str, Any]] | None
    titles: tuple[str, str]
    verdict: str
    kind: str
    headline: str


def compare_presses(tell: Tell, die: str, production: str, standin: str, force: str) -> None:
    """Tell words on the way, and a ``Told`` last; force: on the stand-in, as typed, or empty."""
    forces = {standin: parse(force, FORCE)} if force.strip() else {}
    comparison = compared(
        die_apart(die), press_apart(production), [press_apart(standin)], forces, progress=lambda said: tell(said)
    )
    (one,) = comparison.compared
    tell("drawing both presses")
    pictures = None
    if one.solved is not None:
        solutions = comparison.solved.analysis.solution, one.solved.analysis.solution
        most = max(solution.greatest_gap for solution in solutions)
        first, second = (picture(solution) | {"most": most} for solution in solutions)
        pictures = first, second
    sure = words.surety(one)
    headline = words.headline(one, comparison.tolerance) + (f"; {sure}" if sure else "")
    tell("printing the papers")
    shown = page(comparison)
    printed: dict[str, bytes] = {}
    missing = ""
    try:
        printing.require()
    except OutputRefused as refused:
        missing = str(refused)
    else:
        printed = {file: paper() for file, paper in printing.comparison_papers(comparison, shown).items()}
    tell(
        Told(
            page=shown,
            papers=printed,
            no_papers=missing,
            cautions=comparison.cautions,
            pictures=pictures,
            titles=(words.title(comparison.production.case), words.title(one.side.case)),
            verdict=words.verdict_words(one),
            kind=KINDS[one.verdict],
            headline=headline,
        )
    )
