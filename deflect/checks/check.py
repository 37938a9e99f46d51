"""What a check is: a question, its source, and rows that set a computed figure against an exact one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from deflect.sources import Source

# A printed figure may differ from the exact one by so many units of its last digit: books cut off as well as round.
PRINTED_UNITS = 1.0
# Added to that, as a share of the figure: round-off of a figure that lies just between.
_ROUND_OFF = 1e-9


@dataclass(frozen=True)
class Row:
    """One figure: exact and computed, and how far they may lie apart.

    tolerance: a share of the exact figure, or, where ``absolute``, in its unit.  printed: the figure as the
    source prints it, digit by digit; empty where it prints none, or where it was not looked up.
    """

    label: str
    exact: float
    computed: float
    tolerance: float
    printed: str = ""
    absolute: bool = False

    @property
    def allowed(self) -> float:
        """Greatest difference allowed, in the figure's own unit."""
        return self.tolerance if self.absolute else self.tolerance * abs(self.exact)

    @property
    def difference(self) -> float:
        """Computed less exact."""
        return self.computed - self.exact

    @property
    def last_digit(self) -> float:
        """One unit of the printed figure's last digit."""
        mantissa, _, exponent = self.printed.partition("e")
        decimals = len(mantissa.partition(".")[2])
        return 10.0 ** (int(exponent or 0) - decimals)

    @property
    def as_printed(self) -> bool:
        """Whether the exact figure is the printed one, to its last digit."""
        if not self.printed:
            return True
        return abs(float(self.printed) - self.exact) <= PRINTED_UNITS * self.last_digit + _ROUND_OFF * abs(self.exact)

    @property
    def passed(self) -> bool:
        """Whether both hold; a figure that is not a number never does."""
        return bool(abs(self.difference) <= self.allowed) and self.as_printed


Case = Callable[[], Sequence[Row]]


@dataclass(frozen=True)
class Check:
    """One check.

    id; what: in one sentence; source: where the exact figures come from; function: the production
    function that gives the computed ones, dotted ("" where there is none); reason: of the tolerances;
    cases: label and the run that yields its rows; remark: what a reader should know of the figures.
    """

    id: str
    what: str
    source: Source
    function: str
    reason: str
    cases: Mapping[str, Case] = field(repr=False)
    remark: str = ""

    def rows(self, case: str) -> tuple[Row, ...]:
        """Run one case; its label goes in front of those of its rows."""
        return tuple(replace(row, label=", ".join(part for part in (case, row.label) if part))
                     for row in self.cases[case]())  # fmt: skip

    def run(self) -> tuple[Row, ...]:
        """Run every case."""
        return tuple(row for case in self.cases for row in self.rows(case))
