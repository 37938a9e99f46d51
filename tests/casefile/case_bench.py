"""A press and a die that are right, and ways to spoil them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from deflect.casefile import read_case, read_die, read_press
from deflect.faults import CaseRefused, Fault

PRESS = """\
[press]
name = "Test press"
rated_force = "10 MN"

[press.bolster]
length = "4000 mm"
width = "2200 mm"
thickness = "220 mm"
material = "steel S355"

[press.bed]
opening = {length = "3000 mm", width = "1400 mm"}

[press.bed.land]
stiffness = "20 to 100 N/mm3"

[press.cushion]
force = "2 MN"
"""

DIE = """\
[die]
name = "Test die"
operation = "form"
working_force = "6 MN"

[die.base]
length = "2800 mm"
width = "1500 mm"
thickness = "320 mm"
material = "ductile iron GJS-600-3"

[die.lower]
height = "550 mm"

[die.upper]
height = "500 mm"

[[die.forces]]
kind = "patch"
x = "0 mm"
y = "0 mm"
length = "800 mm"
width = "500 mm"
"""


class Bench:
    """A folder with a press file and a die file."""

    def __init__(self, folder: Path) -> None:
        self.press, self.die = folder / "press.toml", folder / "die.toml"
        self.press.write_text(PRESS, encoding="utf-8")
        self.die.write_text(DIE, encoding="utf-8")

    def spoil(self, path: Path, old: str, new: str) -> int:
        """Replace a piece of a file; the line on which the replacement ends."""
        text = path.read_text(encoding="utf-8")
        assert old in text, old
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        return text[: text.index(old)].count("\n") + new.rstrip("\n").count("\n") + 1

    def add(self, path: Path, more: str) -> int:
        """Append to a file; the line of the first line appended."""
        text = path.read_text(encoding="utf-8")
        path.write_text(f"{text}\n{more}", encoding="utf-8")
        return text.count("\n") + 2

    def press_faults(self) -> tuple[Fault, ...]:
        return faults_in(lambda: read_press(self.press))

    def die_faults(self) -> tuple[Fault, ...]:
        return faults_in(lambda: read_die(self.die))

    def case_faults(self) -> tuple[Fault, ...]:
        return faults_in(lambda: read_case(self.die, self.press))


def faults_in(reading: Callable[[], object]) -> tuple[Fault, ...]:
    """The faults that a reading is refused for."""
    with pytest.raises(CaseRefused) as refused:
        reading()
    return refused.value.faults


def check_fault(fault: Fault, file: object, line: int, parts: tuple[str, str, str, str, str]) -> None:
    """Assert everything that a fault must tell."""
    key, value, problem, allowed, remedy = parts
    assert fault.file == str(file)
    assert fault.key == key
    assert fault.line == line
    assert fault.value.startswith(value)
    assert problem in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy
    told = str(fault)
    assert all(text in told for text in (f"line {line}", key, fault.value, problem, allowed, remedy))
