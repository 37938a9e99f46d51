"""One pair, one row: what a worker does, here or on a cluster."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from time import perf_counter

from deflect.advice.mounting import mounting, unsolved
from deflect.advice.sifting import Sifted, sift
from deflect.faults import GAVE_UP, DeflectError, printable
from deflect.findings import Finding, Status
from deflect.mechanics.keeping import forget
from deflect.mechanics.screening import screen
from deflect.mechanics.screening.pair import Start
from deflect.model.case import Case
from deflect.study.bodies import Bodies
from deflect.study.rows import FAILED, Row, Stage, rounded

# First guesses of the contact that a process keeps, one for each die.
_STARTS = 256
_LONGEST = 400


@dataclass(frozen=True)
class Task:
    """One pair to be solved.  die, press: names in the study; samples: draws of a full row; cache: folder of bodies,
    "": one of the worker's own."""

    die: str
    press: str
    stage: Stage
    digest: str
    case: Case
    samples: int
    cache: str


@cache
def bodies_in(folder: str) -> Bodies:
    """The condensed bodies of a folder, as this process has them open."""
    return Bodies(Path(folder or Path(tempfile.gettempdir()) / "deflect-bodies"))


_starts: dict[str, Start] = {}


def row_of(task: Task) -> Row:
    """Solve one pair.  Whatever goes wrong becomes the row's message."""
    begun = perf_counter()
    case = task.case
    name = (task.die, task.press, task.stage.value)
    told = {"die_name": case.die.name, "press_name": case.press.name}
    try:
        values = _full(task) if task.stage is Stage.FULL else _screening(task)
    except (DeflectError, *GAVE_UP) as fault:
        words = str(fault) if isinstance(fault, DeflectError) else f"{type(fault).__name__}: {fault}"
        values = {"verdict": FAILED, "message": printable(words, _LONGEST)}
    values["seconds"] = round(perf_counter() - begun, 4)
    return Row(*name, **(told | values))  # type: ignore[arg-type]


def prepare(case: Case, cache: str, of_die: bool) -> None:
    """Condense a body so that it is there when its pairs are asked for; what fails, fails again there."""
    try:
        bodies_in(cache).die(case.die) if of_die else bodies_in(cache).table(case.press)
    except (DeflectError, *GAVE_UP):
        return


def _screening(task: Task) -> dict[str, object]:
    case, bodies = task.case, bodies_in(task.cache)
    findings, others = mounting(case), unsolved(case)
    die = bodies.die(case.die)
    # A like case only tells where to begin: the answer does not depend on it.
    start = _starts.get(task.die)
    if start is not None and start.closed.shape[1] != die.bearing.size:
        start = None
    screened = screen(case, bodies.table(case.press), die, start)
    if len(_starts) >= _STARTS:
        _starts.clear()
    _starts[task.die] = screened.start
    sifting = sift(case, findings, screened, others)
    return _mounting((*findings, *others)) | {
        "verdict": sifting.sifted.value,
        "reasons": "; ".join(sifting.reasons),
        "working_force_kn": rounded(case.die.working_force / 1e3),
        "sag_mm": rounded(screened.sag),
        "sag_mm_per_m": rounded(1e3 * screened.sag_slope),
        "gap_mm": rounded(screened.gap),
        "contact_percent": rounded(100 * screened.contact_share),
        "pressure_mpa": rounded(screened.pressure),
        "breathing_um": rounded(1e3 * screened.breathing),
        "creep_bound_um": rounded(1e3 * screened.creep_bound),
        "may_slide": int(screened.may_slide),
    }


def _mounting(findings: tuple[Finding, ...]) -> dict[str, object]:
    return {
        "breaks": " ".join(f.rule.id for f in findings if f.status is Status.BREAKS),
        "not_checked": " ".join(f.rule.id for f in findings if f.status is Status.NOT_CHECKED),
    }


def _full(task: Task) -> dict[str, object]:
    from deflect.advice import advise

    advice = advise(task.case, task.samples)
    spread, findings = advice.assessment.analysis.spread, advice.assessment.findings
    best = next(iter(advice.outcomes), None)
    forget()
    return _mounting(findings) | {
        "verdict": advice.verdict.value,
        "reasons": "; ".join(advice.reasons),
        "working_force_kn": rounded(task.case.die.working_force / 1e3),
        "sag_mm": rounded(spread.sag.nominal),
        "sag_mm_per_m": rounded(1e3 * spread.sag_slope.nominal),
        "gap_mm": rounded(spread.gap.nominal),
        "gap_low_mm": rounded(spread.gap.low),
        "gap_high_mm": rounded(spread.gap.high),
        "contact_percent": rounded(100 * spread.contact_share.nominal),
        "pressure_mpa": rounded(spread.pressure.nominal),
        "creep_um": rounded(1e3 * spread.creep.nominal),
        "creep_low_um": rounded(1e3 * spread.creep.low),
        "creep_high_um": rounded(1e3 * spread.creep.high),
        "strokes": rounded(spread.strokes.nominal),
        "face_mm": rounded(spread.face.nominal),
        "remedy": "" if best is None else best.remedy.title,
        "remedy_size": "" if best is None else best.proposal.size,
    }


def is_open(row: Row) -> bool:
    """Whether a screening row leaves the pair to the full check."""
    return row.verdict == Sifted.OPEN.value
