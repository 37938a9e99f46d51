"""The judgement bank: situations with what a tool room says of them, and what the adviser says.

What a tool room says was written down before any situation was solved (common practice, no source).  Nothing is
tuned to it: where both differ, both are shown.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

from deflect.advice import advise
from deflect.casefile import Changes, read_case, read_press
from deflect.casefile.names import demo_folder
from deflect.findings import Advice, Finding, Status, Verdict
from deflect.model.case import Case

DRAWS = 2
"""Both corners of the ranges: what decides a verdict nearly always lies there, at an eighth of the time."""
NOTHING = ""
"""In place of a rule or a remedy: none."""


@dataclass(frozen=True)
class Said:
    """What a tool room says: verdict, main fault (id of a rule), first choice and never-first (ids of remedies)."""

    verdict: Verdict
    fault: str
    first: str
    never_first: str
    because: str


@dataclass(frozen=True)
class Situation:
    """A demo die on a demo press, changed in a few keys; others: names of presses that the die may go to."""

    id: str
    user: str
    story: str
    die: str
    press: str
    die_changes: Changes
    press_changes: Changes
    others: tuple[str, ...]
    said: Said

    def case(self) -> Case:
        """The case as read.  Raises CaseRefused."""
        case = read_case(self.die, self.press, self.die_changes, self.press_changes)
        return replace(case, other_presses=tuple(read_press(other) for other in self.others))


@dataclass(frozen=True)
class Answer:
    """What the adviser says of a situation: verdict, the rules at fault, and the remedies in its order.

    Of a verdict without a fault, the rules that could not be asked stand for it.  input_hash: of the case as read.
    """

    verdict: Verdict
    faults: tuple[str, ...]
    remedies: tuple[str, ...]
    input_hash: str = ""

    @property
    def first(self) -> str:
        return self.remedies[0] if self.remedies else NOTHING


@dataclass(frozen=True)
class Compared:
    """A situation and its answer, point by point."""

    situation: Situation
    answer: Answer

    @property
    def points(self) -> dict[str, bool]:
        """Whether verdict, main fault, first choice and never-first agree."""
        said, answer = self.situation.said, self.answer
        return {
            "verdict": answer.verdict is said.verdict,
            "main fault": said.fault in answer.faults if said.fault else not answer.faults,
            "first choice": answer.first == said.first,
            "never first": answer.first != said.never_first,
        }

    @property
    def agrees(self) -> bool:
        return all(self.points.values())


def bank_folder() -> Path:
    """Where the bank stands, beside the demo cases."""
    return demo_folder() / "bank"


def situations() -> tuple[Situation, ...]:
    """Every situation of the bank, in the order of its file."""
    told = tomllib.loads((bank_folder() / "situations.toml").read_text(encoding="utf-8"))["situation"]
    return tuple(
        Situation(
            one["id"],
            one["user"],
            one["story"],
            one["die"],
            one["press"],
            Changes(one.get("die_with", {}), tuple(one.get("die_without", ()))),
            Changes(one.get("press_with", {}), tuple(one.get("press_without", ()))),
            tuple(one.get("others", ())),
            Said(Verdict(one["verdict"]), one["fault"], one["first"], one["never_first"], one["because"]),
        )
        for one in told
    )


def remarks() -> dict[str, str]:
    """Why tool and tool room differ, in words, by situation: written after the answers were seen."""
    found: dict[str, str] = tomllib.loads((bank_folder() / "remarks.toml").read_text(encoding="utf-8"))
    return found


def answer(situation: Situation, draws: int = DRAWS) -> Answer:
    """Solve a situation.  Raises CaseRefused, MechanicsFailed."""
    return answer_of(advise(situation.case(), draws))


def answer_to(name: str) -> Answer:
    """The answer to the situation of this id.  Raises StopIteration where there is none."""
    return answer(next(one for one in situations() if one.id == name))


def answer_of(advice: Advice) -> Answer:
    """What an advice comes to."""
    findings = advice.assessment.findings
    faults = _with(findings, Status.BREAKS) + _with(findings, Status.UNDECIDED)
    unasked = tuple(f.rule.id for f in findings if f.missing) if advice.verdict is Verdict.UNDECIDED else ()
    remedies = tuple(outcome.remedy.id for outcome in advice.outcomes)
    return Answer(advice.verdict, faults or unasked, remedies, advice.assessment.analysis.case.input_hash)


def _with(findings: tuple[Finding, ...], status: Status) -> tuple[str, ...]:
    return tuple(f.rule.id for f in findings if f.status is status)
