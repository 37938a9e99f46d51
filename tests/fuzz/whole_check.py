"""What comes of a case at the whole check, on a coarse mesh: an answer that balances, or a refusal in words."""

from __future__ import annotations

import io
import json
import math
import re
import time
import traceback
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import pytest
from reader import figures_of
from rich.console import Console

import deflect.mechanics.analysis as analysis
import deflect.mechanics.footprint as footprint
from deflect.advice import _verdict, advise_on, assess, cautions
from deflect.faults import DeflectError
from deflect.findings import Advice
from deflect.mechanics.keeping import forget
from deflect.model.case import Case
from deflect.report.data import as_json
from deflect.report.document import document
from deflect.report.summary import print_summary

ANSWERED, TOLD, GAVE_UP, CRASHED = "answered", "refused by the mechanics", "gave up", "crashed"
SLOW, HUNG = 20.0, 30.0
"""Seconds of the processor from which a check counts as slow, and as hung; a demo case takes 0.5 to 5 on this mesh."""
BALANCE = 1e-6
"""Residual of force and moment balance as a share: round-off of 1e-16 times the 1e8 or so by which the stiffest and the
softest part of one case may differ, and two digits of room (demo cases: below 1e-9)."""
_NAN = re.compile(r"\bnan\b", re.IGNORECASE)
_COARSER_PATCHES, _COARSER_ELEMENTS = 3.0, 3.0


@dataclass(frozen=True)
class Answer:
    """What came of it, in how many seconds; the advice, where there is one; what is wrong with it."""

    outcome: str
    seconds: float
    advice: Advice | None = None
    wrong: str = ""


@contextmanager
def coarse_mesh(remedies: bool = False) -> Iterator[None]:
    """Meshes on which a check is quick; without remedies, what keys and clamps take of each stroke is left out, too."""
    forget()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", _COARSER_PATCHES * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", _COARSER_ELEMENTS * footprint.ELEMENT_SIZE)
        if not remedies:
            patch.setattr(analysis, "grips_of", lambda _: ())
        yield
    forget()


def check(case: Case, samples: int = 0, with_page: bool = False) -> Answer:
    """Assess a case, and put the answer into words, JSON and, if asked for, the page, as the command does."""
    begun = time.process_time()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")  # as in the suite: a division by zero is a fault
            advice = _quick(case) if samples == 0 else advise_on(assess(case, samples, mesh_error=False))
            text = json.dumps(as_json(advice), allow_nan=False)
            shown = io.StringIO()
            print_summary(advice, Console(file=shown, width=100))
            paper = page(advice) if with_page else ""
    except DeflectError as told:
        return Answer(TOLD, time.process_time() - begun, wrong=str(told))
    except (ValueError, LookupError, ArithmeticError):
        return Answer(GAVE_UP, time.process_time() - begun, wrong=traceback.format_exc(limit=-6))
    except Exception:
        return Answer(CRASHED, time.process_time() - begun, wrong=traceback.format_exc(limit=-6))
    seconds = time.process_time() - begun
    wrong = [*wrong_with(advice, text, shown.getvalue()), *(["nan on the page"] if _NAN.search(paper) else [])]
    return Answer(ANSWERED, seconds, advice, "; ".join(wrong))


def _quick(case: Case) -> Advice:
    """Every rule asked at the usual values, creep along one direction, no remedies: the verdict as it then is."""
    before = assess(case, 0, mesh_error=False, thrust_direction=0.0)
    verdict, reasons = _verdict(before, ())
    return Advice(verdict, reasons, before, (), cautions(before.analysis), ())


def wrong_with(advice: Advice, text: str, shown: str) -> Iterator[str]:
    """What is wrong with an answer."""
    evidence = advice.assessment.analysis.solution.evidence
    for name in ("force_balance", "moment_balance", "complementarity"):
        residual = getattr(evidence, name)
        if not residual <= BALANCE:
            yield f"{name} {residual:.1e}"
    spread = advice.assessment.analysis.spread
    for name, figure in figures_of(spread):
        if math.isnan(figure):
            yield f"spread{name} is no number"
    told = json.loads(text)
    bad = [null["path"] for null in told["nulls"] if "no such number" in null["reason"]]
    if bad:
        yield f"no number in {bad[:5]}"
    for rule in told["rules"]:
        if "nan" in json.dumps(rule).split():
            yield f"nan in words of {rule['id']}"
    if "nan" in shown.lower().replace("(", " ").replace(",", " ").split():
        yield "nan on the screen"
    if not told["cautions"]:
        yield "no cautions"


def page(advice: Advice) -> str:
    """The report's page."""
    return document(advice)
