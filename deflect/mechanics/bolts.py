"""Bolts of clamps: thread, proof load, preload and torque, what of it reaches the die, and how surely.

Sources: thread profile ISO 68-1, ISO 724; proof stresses ISO 898-1 (published); preload and torque VDI 2230
(formula published); scatter of tightening VDI 2230 (torque wrench published, the others from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deflect.model.die import Clamp
from deflect.model.holder import ClampBolt, Grade, Tightening
from deflect.model.values import Interval
from deflect.sources import Source, Tag

VDI_2230 = Source("VDI 2230, 90 % of the yield strength, friction 0.12", Tag.PUBLISHED)

# Friction in thread and under the nut: oiled, no lubricant of its own (VDI 2230, class B; published value 0.12).
BOLT_FRICTION = 0.12
# Share of the yield strength that tightening uses up, tension and torsion together (VDI 2230).
UTILISATION = 0.9
# Yield strength and proof stress, MPa, for threads up to and above the size (ISO 898-1; published).
_SIZE_STEP = 16.0  # mm
_YIELD = {Grade.G8_8: (640.0, 660.0), Grade.G10_9: (940.0, 940.0)}
_PROOF = {Grade.G8_8: (580.0, 600.0), Grade.G10_9: (830.0, 830.0)}
# Greatest over least preload at one torque.  Torque wrench: published; its upper end with friction only
# estimated: published; impact wrench and by feel: from memory.
SCATTER = {
    Tightening.TORQUE_WRENCH: (1.4, 1.6),
    Tightening.ESTIMATED_FRICTION: (1.6, 1.8),
    Tightening.IMPACT_WRENCH: (2.5, 4.0),
    Tightening.BY_FEEL: (2.5, 4.0),
}
# Share of the preload that goes as surfaces bed down and the die breathes below its clamps: least, usual and
# most, before the bolts are tightened again (common practice, no source).
LOSS = Interval(0.05, 0.1, 0.2)


@dataclass(frozen=True)
class Thread:
    """A metric thread, mm: diameter and pitch (ISO 261), bearing diameter of a hexagon head (ISO 4014) and
    its hole, medium (ISO 273); the last two from memory."""

    diameter: float
    pitch: float
    head: float
    hole: float

    @property
    def pitch_diameter(self) -> float:
        """d2 = d - 3/4 H, H = sqrt(3)/2 P (ISO 724)."""
        return self.diameter - 0.75 * self._height

    @property
    def core_diameter(self) -> float:
        """d3 = d - 17/12 H: d1 = d - 5/4 H less H/6 for the rounded root (ISO 68-1, ISO 724)."""
        return self.diameter - 17.0 / 12.0 * self._height

    @property
    def stress_diameter(self) -> float:
        """(d2 + d3)/2, mm (ISO 898-1)."""
        return (self.pitch_diameter + self.core_diameter) / 2

    @property
    def stress_area(self) -> float:
        """pi/4 ((d2 + d3)/2)², mm2 (ISO 898-1)."""
        return math.pi / 4 * self.stress_diameter**2

    @property
    def bending_inertia(self) -> float:
        """Second moment of area of the core, mm4."""
        return math.pi / 64 * self.core_diameter**4

    @property
    def friction_diameter(self) -> float:
        """Mean diameter of the face under the head, mm: (dw + dh)/2 (VDI 2230)."""
        return (self.head + self.hole) / 2

    @property
    def _height(self) -> float:
        return math.sqrt(3) / 2 * self.pitch


_SIZES = {12: (1.75, 16.6, 13.5), 16: (2.0, 22.5, 17.5), 20: (2.5, 28.2, 22.0), 24: (3.0, 33.6, 26.0),
          30: (3.5, 42.75, 33.0), 36: (4.0, 51.1, 39.0), 42: (4.5, 59.95, 45.0), 48: (5.0, 69.45, 52.0)}  # fmt: skip
_FINE = {16: 1.5, 20: 1.5, 24: 2.0, 30: 2.0, 36: 3.0}
THREADS = {f"M{d}": Thread(float(d), *sizes) for d, sizes in _SIZES.items()} | {
    f"M{d}x{pitch:g}": Thread(float(d), pitch, *_SIZES[d][1:]) for d, pitch in _FINE.items()
}
"""Threads by their designation."""


def thread_for(diameter: float) -> Thread:
    """The coarse thread of a bolt of some diameter, mm: the largest that is no thicker, M12 at least."""
    return THREADS[f"M{max((d for d in _SIZES if d <= diameter), default=min(_SIZES))}"]


def proof_load(thread: str, grade: Grade) -> float:
    """Proof load, N: proof stress times stress area (ISO 898-1)."""
    return _by_size(_PROOF, thread, grade) * THREADS[thread].stress_area


def assembly_preload(thread: str, grade: Grade, friction: float = BOLT_FRICTION) -> float:
    """Greatest preload on assembly, N: FM = 0.9 Rp As / sqrt(1 + 3 [1.5 d2/d0 (P/(pi d2) + 1.155 mu)]²)
    (VDI 2230), d0 the diameter of the stress area."""
    t = THREADS[thread]
    twist = 1.5 * t.pitch_diameter / t.stress_diameter * (t.pitch / (math.pi * t.pitch_diameter) + 1.155 * friction)
    return UTILISATION * _by_size(_YIELD, thread, grade) * t.stress_area / math.sqrt(1 + 3 * twist**2)


def tightening_torque(thread: str, grade: Grade, friction: float = BOLT_FRICTION) -> float:
    """Torque on assembly, Nmm: MA = FM (0.159 P + 0.577 mu d2 + mu DKm/2) (VDI 2230)."""
    t = THREADS[thread]
    arm = 0.159 * t.pitch + 0.577 * friction * t.pitch_diameter + friction * t.friction_diameter / 2
    return assembly_preload(thread, grade, friction) * arm


def preload(bolt: ClampBolt) -> Interval:
    """Preload once tightened, N.

    The scatter factor is the greatest over the least preload, and the greatest is that of the table. Usual: the
    geometric mean of both at the middle of the factor's range (ours; by feel it gives 55 % of the table, where 50 to
    60 % are common practice, no source).
    """
    greatest = assembly_preload(bolt.thread, bolt.grade)
    low, high = SCATTER[bolt.tightening]
    return Interval(greatest / high, greatest / math.sqrt((low + high) / 2), greatest)


def bolt_clamp_force(bolt: ClampBolt, lever: float = 1.0) -> Interval:
    """Force of the clamp on the die, N: preload less its loss, times the lever's share (see ``Clamp``)."""
    tight = preload(bolt)
    return Interval(
        tight.low * (1 - LOSS.high) * lever,
        tight.nominal * (1 - LOSS.nominal) * lever,
        tight.high * (1 - LOSS.low) * lever,
    )


def clamp_force(clamp: Clamp) -> Interval:
    """Force of a clamp on the die, N: the stated one, or that of its bolt."""
    return Interval.exactly(clamp.force) if clamp.bolt is None else bolt_clamp_force(clamp.bolt, clamp.lever)


def bolted_clamp(x: float, y: float, bolt: ClampBolt, lever: float = 1.0) -> Clamp:
    """A clamp whose force is the usual one of its bolt."""
    return Clamp(x, y, bolt_clamp_force(bolt, lever).nominal, bolt, lever)


def strap_lever(heel: float, nose: float) -> float:
    """Share of the bolt's force that reaches the die: a/(a + b), the heel a and the nose b from the bolt, mm."""
    return heel / (heel + nose)


def _by_size(table: dict[Grade, tuple[float, float]], thread: str, grade: Grade) -> float:
    small, large = table[grade]
    return small if THREADS[thread].diameter <= _SIZE_STEP else large
