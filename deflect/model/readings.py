"""What was measured on a press's table: dial readings under known forces, or an acceptance figure."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.force import Pattern


@dataclass(frozen=True)
class DialReading:
    """One dial: its name, its place on the bolster's top (mm), how far that went down under the force (mm)."""

    dial: str
    x: float
    y: float
    movement: float


@dataclass(frozen=True)
class TestForce:
    """One force in N on the bare table, where it acts (bolster axes), and what the dials read from the unloaded
    table."""

    force: float
    patterns: tuple[Pattern, ...]
    dials: tuple[DialReading, ...]

    __test__ = False  # not a test of the suite, whatever its name


@dataclass(frozen=True)
class MeasuredAcceptance:
    """A measured acceptance figure: sag per reference length (mm/mm) under a force in N spread evenly over a share
    of the bolster's length and width; uncertainty: of the figure, as a share."""

    slope: float
    force: float
    loaded_share: float
    reference_length: float
    reference_width: float
    uncertainty: float


@dataclass(frozen=True)
class Readings:
    """Readings of one session.

    date: as the user gives it; source: who measured with what; uncertainty: of one reading, mm;
    force_uncertainty: of all forces together, as a share; both such that 95 of 100 lie within.
    from_floor: whether the dials stand on the foundation; otherwise sinking and tilt of the whole table are not
    in the readings, as with dials on a bridge.
    """

    date: str
    source: str
    uncertainty: float
    force_uncertainty: float
    from_floor: bool
    tests: tuple[TestForce, ...]
    acceptance: MeasuredAcceptance | None = None

    @property
    def count(self) -> int:
        """How many figures were measured."""
        return sum(len(test.dials) for test in self.tests) + (self.acceptance is not None)
