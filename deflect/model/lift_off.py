"""What may lift the lower half with the rising slide, as stated or assumed."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.values import Interval

_NONE = Interval.exactly(0.0)


@dataclass(frozen=True)
class LiftOff:
    """Upward pull on the lower half, each source apart.  A die that is not read from a file has none.

    stripping: force that strips the sheet, as a share of the cutting force; reaching: the share of it that the
    lower half feels; guides: seized guides, N; stuck_panel: a panel that holds both halves together, N;
    sealed_area: area that may seal against air, mm2; suction: pull on it as a share of one atmosphere;
    required: least holding force over pull.
    """

    stripping: Interval = _NONE
    reaching: Interval = _NONE
    guides: Interval = _NONE
    stuck_panel: Interval = _NONE
    sealed_area: float = 0.0
    suction: Interval = _NONE
    required: float = 1.0
