"""Published checks, each once: as data, and as a run that serves the tests, ``deflect verify`` and the report."""

from deflect.checks.check import Check, Row
from deflect.checks.registry import Outcome, all_checks, outcome_of, run

__all__ = ["Check", "Outcome", "Row", "all_checks", "outcome_of", "run"]
