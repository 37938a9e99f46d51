"""What the comparison's own process does: both presses solved and compared, told as pictures and as a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from deflect.casefile.apart import die_apart, press_apart
from deflect.compare import compare as compared
from deflect.desk.errand import Tell
from deflect.desk.picture import picture
from deflect.findings import Warned
from deflect.report.compared import words
from deflect.report.compared.page import page
from deflect.units import FORCE, parse


@dataclass(frozen=True, eq=False)
class Told:
    """A comparison: its page, its cautions, the pictures of both presses (None: nothing is solved), the verdict."""

    page: str
    cautions: tuple[Warned, ...]
    pictures: tuple[dict[str, Any], dict[str, Any]] | None
    verdict: str
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
    tell(Told(page(comparison), comparison.cautions, pictures, words.verdict_words(one), headline))
