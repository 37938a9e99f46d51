"""The same die and press written in other units are the same case, with the same answer.

Property: units are a matter of the door.  The factors are the definitions of the units (1 in = 25.4 mm,
1 lbf = 4.4482216152605 N, 1 lb = 0.45359237 kg).
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.standing import Assumptions, stand

ROOT = Path(__file__).parents[2] / "cases"
OTHER = {
    "mm": ("in", 25.4),
    "MN": ("lbf", 4.4482216152605e-6),
    "kN": ("lbf", 4.4482216152605e-3),
    "t": ("lb", 453.59237e-6),
}
METRIC = {"mm": ("m", 1e3), "MN": ("kN", 1e-3), "kN": ("N", 1e-3), "t": ("kg", 1e-3)}


def _rewritten(source: Path, target: Path, units: dict[str, tuple[str, float]]) -> Path:
    """The case file with every plain quantity in other units."""

    def other(found: re.Match[str]) -> str:
        unit, factor = units[found[2]]
        return f'"{float(found[1]) / factor!r} {unit}"'

    text, count = re.subn(r'"(-?\d+(?:\.\d+)?) (mm|MN|kN|t)"', other, source.read_text(encoding="utf-8"))
    assert count > 10
    target.write_text(text, encoding="utf-8")
    return target


@pytest.mark.parametrize("units", [OTHER, METRIC], ids=["inches and pounds", "metres and kilograms"])
def test_a_case_in_other_units_has_the_same_answer(units: dict[str, tuple[str, float]], tmp_path: Path) -> None:
    die, press = ROOT / "dies" / "elder-offset.toml", ROOT / "presses" / "alder-10mn.toml"
    plain = read_case(die, press)
    other = read_case(_rewritten(die, tmp_path / "die.toml", units), _rewritten(press, tmp_path / "press.toml", units))
    one, two = (stand(case).solve(1.0, Assumptions(50.0)) for case in (plain, other))
    # Round-off of the conversion; contacts that hardly press may exchange.
    assert two.gap == pytest.approx(one.gap, abs=1e-6)
    assert two.contact_force == pytest.approx(one.contact_force, abs=1e-6 * np.abs(one.contact_force).sum())
    assert other.die.lower.mass == pytest.approx(plain.die.lower.mass, rel=1e-9)
