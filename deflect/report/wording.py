"""Numbers and places as words: one way to say each, for terminal, document and figures."""

from __future__ import annotations

import math

from deflect.faults import printable
from deflect.model.values import Interval, Rectangle
from deflect.units import show_force

LONGEST_NAME = 60
"""Characters of a name from a case file that are shown."""
_LONGEST_SENTENCE = 2000
# A place this far from the middle, as a share of the half length, is an edge.
_EDGE = 0.6
_DECIMALS = {
    "mm": 3, "mm/m": 3, "um": 1, "µm": 1, "MPa": 1, "kN": 0, "%": 0, "strokes": 0, "t": 2, "clamps": 0,
    "ways": 0, "times": 1,
}  # fmt: skip
# From here on a number in mm is a length, not a deflection.
_LENGTH = 10.0
# Between groups of three digits.
_GROUP = " "
_SHOWN = {"um": "µm", "strokes": "strokes"}
MANY_STROKES = 100_000
"""From this count of strokes on none is told apart from another."""
MANY_TIMES = 100
"""From this reserve on none is told apart from another."""
NEVER = "no end"
"""A count of strokes that is never reached."""


def name(text: str) -> str:
    """A name from a case file, on one line and harmless."""
    return printable(text, LONGEST_NAME)


def sentence(text: str) -> str:
    """A sentence that may hold a name, on one line and harmless."""
    return printable(text, _LONGEST_SENTENCE)


def opening(text: str) -> str:
    """The sentence with a capital at its start and the rest as it is: "8.8 MN" stays so."""
    return text[:1].upper() + text[1:]


def bare(value: float, unit: str) -> str:
    """A number without its unit, rounded as this unit is read; digits in groups of three from 10 000 on."""
    if math.isnan(value):
        return "–"
    if math.isinf(value):
        return NEVER if value > 0 else f"−{NEVER}"
    if unit == "strokes" and value < 1:
        return "less than 1"
    if unit == "strokes" and value >= MANY_STROKES:
        return f"{MANY_STROKES:,} or more".replace(",", _GROUP)
    if unit == "times" and value >= MANY_TIMES:
        return f"{MANY_TIMES:.0f} or more"
    rounded = _two_digits(value) if unit == "strokes" else value
    decimals = _DECIMALS.get(unit, 3)
    # A percentage near its end says more with a decimal than as a full hundred.
    if unit == "%" and (99 < abs(rounded) < 100 or 0.05 <= abs(rounded) < 1):
        decimals = 1
    if unit == "mm" and abs(rounded) >= _LENGTH:
        decimals = 0 if round(rounded, 1) == round(rounded) else 1
    shown = f"{round(rounded, decimals) + 0.0:,.{decimals}f}".replace("-", "−")
    return shown.replace(",", _GROUP if abs(rounded) >= 10_000 else "")


def _two_digits(value: float) -> float:
    """A count of which no more than two digits are meant."""
    return value if value == 0 else round(value, 1 - math.floor(math.log10(abs(value))))


def residual(share: float) -> str:
    """What an equation leaves over: "3e-16"; "0" where it leaves nothing."""
    return "0" if share == 0 else f"{abs(share):.0e}"


def unit_shown(unit: str) -> str:
    """The unit as it is written beside a number."""
    return _SHOWN.get(unit, unit)


def figure(value: float, unit: str) -> str:
    """A number with its unit: "0.068 mm", "1.5 µm", "80 %"."""
    shown = bare(value, unit)
    if unit == "strokes" and shown.endswith(" 1"):
        return f"{shown} stroke"
    return shown if not math.isfinite(value) else f"{shown} {unit_shown(unit)}".rstrip()


def span(value: Interval, unit: str) -> str:
    """The range without its unit: "0.050 to 0.090"; empty where low and high read alike."""
    low, high = bare(value.low, unit), bare(value.high, unit)
    return "" if low == high else f"{low} to {high}"


def ranged(value: Interval, unit: str) -> str:
    """Usual value, and the range in brackets: "0.068 mm (0.050 to 0.090)"."""
    low, high = bare(value.low, unit), bare(value.high, unit)
    usual = figure(value.nominal, unit)
    return usual if low == high else f"{usual} ({low} to {high})"


def limit_sign(limit: float | None, unit: str, at_most: bool) -> str:
    """A limit as it stands in a table: "≤ 0.050 mm"."""
    return "none" if limit is None else f"{'≤' if at_most else '≥'} {figure(limit, unit)}"


def bound(limit: float | None, unit: str, at_most: bool) -> str:
    """A limit: "at most 0.050 mm"."""
    if limit is None:
        return "no limit"
    return f"at {'most' if at_most else 'least'} {figure(limit, unit)}"


def place(x: float, y: float, plan: Rectangle) -> str:
    """A place on the die base in words: "at the right rear corner of the base"."""
    side = _third((x - plan.x) / (plan.length / 2), "left", "right")
    depth = _third((y - plan.y) / (plan.width / 2), "front", "rear")
    if side and depth:
        return f"at the {side} {depth} corner of the base"
    if side or depth:
        return f"at the {side or depth} edge of the base"
    return "below the middle of the base"


def _third(share: float, low: str, high: str) -> str:
    if abs(share) < _EDGE:
        return ""
    return low if share < 0 else high


def point(x: float, y: float) -> str:
    """A point's coordinates: "x +1400, y −700 mm"."""
    return f"x {_signed(x)}, y {_signed(y)} mm"


def whole(value: float) -> str:
    """A whole number with its sign: "−600"."""
    return f"{round(value):d}".replace("-", "−")


def _signed(value: float) -> str:
    rounded = round(value)
    return "0" if rounded == 0 else f"{rounded:+d}".replace("-", "−")


def force(newton: float) -> str:
    """A force, nothing shown as plain "none"."""
    return "none" if newton == 0 else show_force(newton)


def listed(parts: list[str]) -> str:
    """Words in a row: "a, b and c"."""
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + f" and {parts[-1]}" if parts else ""
