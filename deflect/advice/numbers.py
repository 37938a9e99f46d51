"""Numbers in the sentences of the advice, rounded as they are read."""

from __future__ import annotations

from types import MappingProxyType

# Decimals by unit; from this length on a number in mm is a size, not a deflection.
_DECIMALS = MappingProxyType({"mm": 3, "mm/m": 3, "t": 1, "times": 1})
_SIZE = 10.0


def figure(value: float, unit: str) -> str:
    """A number without its unit: "0.062", "1290", "55"."""
    decimals = _DECIMALS.get(unit, 0)
    if unit == "mm" and abs(value) >= _SIZE:
        decimals = 0 if round(value, 1) == round(value) else 1
    return f"{value:.{decimals}f}"
