"""What can go wrong, and how it is told.

DeflectError
├── QuantityRefused    a written quantity cannot be read: problem, allowed, remedy
├── CaseRefused        a case file cannot be used; holds every Fault found
├── OutputRefused      a report or file cannot be written where it was asked for
└── MechanicsFailed    the solver found no answer that it can vouch for
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

LONGEST_VALUE = 90
"""Characters of a faulty value that are shown."""
LONGEST_LINE = 4000
"""Characters of a line of a message."""
LONGEST_PATH = 300
"""Characters of a file's path that are shown."""


class DeflectError(Exception):
    """Anything that this package refuses or fails to do, told in words: harmless whatever names they hold."""

    def __str__(self) -> str:
        return "\n".join(printable(line, LONGEST_LINE) for line in super().__str__().split("\n"))


GAVE_UP = (ValueError, LookupError, ArithmeticError, RuntimeError, MemoryError)
"""What Python and its libraries raise where a computation cannot go on: told as a failure, never shown as it is."""


class QuantityRefused(DeflectError):
    """A written quantity cannot be read."""

    def __init__(self, problem: str, allowed: str = "", remedy: str = "") -> None:
        self.problem, self.allowed, self.remedy = problem, allowed, remedy
        super().__init__("; ".join(part for part in (problem, allowed, remedy) if part))


class OutputRefused(DeflectError):
    """A report or file cannot be written where it was asked for."""


class MechanicsFailed(DeflectError):
    """The solver found no answer that it can vouch for."""


def given_up(fault: BaseException) -> MechanicsFailed:
    """A fault of the program itself, one of ``GAVE_UP``, in words."""
    told = printable(f"{type(fault).__name__}: {fault}", LONGEST_PATH)
    return MechanicsFailed(f"the solver gave up ({told}); please report this case")


@dataclass(frozen=True)
class Fault:
    """One mistake in a case file: where it stands, what is written, what is allowed, what to do."""

    file: str
    line: int | None
    key: str
    value: str
    problem: str
    allowed: str = ""
    remedy: str = ""

    @property
    def place(self) -> str:
        """File and line, as far as known."""
        file = printable(self.file, LONGEST_PATH)
        return file if self.line is None else f"{file}, line {self.line}"

    def __str__(self) -> str:
        written = f"{self.key} = {self.value}" if self.key and self.value else self.key or self.value
        lines = [f"{self.place}: {written}" if written else self.place, f"    {self.problem}"]
        if self.allowed:
            lines.append(f"    allowed: {self.allowed}")
        if self.remedy:
            lines.append(f"    to do: {self.remedy}")
        return "\n".join(lines)


class CaseRefused(DeflectError):
    """A case file cannot be used. ``faults`` holds every mistake found, in the order of the file."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(render(self.faults))


def render(faults: tuple[Fault, ...]) -> str:
    """All faults as text, under a line that counts them."""
    count = "1 mistake" if len(faults) == 1 else f"{len(faults)} mistakes"
    return "\n".join([f"The case is refused: {count}.", *(str(fault) for fault in faults)])


def printable(text: str, longest: int = LONGEST_VALUE) -> str:
    """The text on one line, control characters written out, cut to ``longest`` characters."""
    shown = "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
    return shown if len(shown) <= longest else shown[: longest - 1] + "…"
