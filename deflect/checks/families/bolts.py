"""Bolts of clamps: proof load, preload and torque of each size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

from deflect.checks.check import Check, Row
from deflect.mechanics.bolts import assembly_preload, proof_load, tightening_torque
from deflect.model.holder import Grade
from deflect.sources import Source, Tag

ORDER, HEADING = 125, "Bolts"
_PRELOAD = "deflect.mechanics.bolts.assembly_preload"
_FRICTION, _USED = 0.12, 0.9
_THREAD_ANGLE = math.radians(60.0)
# Pitch, bearing diameter under the head and its hole, mm (ISO 261, ISO 4014, ISO 273; the last two from memory).
_SIZES = {16: (2.0, 22.5, 17.5), 20: (2.5, 28.2, 22.0), 24: (3.0, 33.6, 26.0), 30: (3.5, 42.75, 33.0),
          36: (4.0, 51.1, 39.0), 42: (4.5, 59.95, 45.0)}  # fmt: skip
# Proof loads as printed, kN, of grades 8.8 and 10.9, from areas rounded to three digits.
_PRINTED = {20: (147, 203), 24: (212, 293), 30: (337, 466), 36: (490, 678)}
# Preload, kN, and torque, Nm, as printed for fine threads, grades 8.8 and 10.9, friction 0.12.
_FINE = {"M24x2": ((209.0, 769.0), (297.0, 1095.0)), "M20x1.5": ((148.0, 454.0), (211.0, 646.0)),
         "M16x1.5": ((87.6, 218.0), (128.7, 320.0))}  # fmt: skip
_STRENGTH = {Grade.G8_8: (640.0, 660.0, 580.0, 600.0), Grade.G10_9: (940.0, 940.0, 830.0, 830.0)}


def _by_mechanics(size: int, grade: Grade) -> tuple[float, float, float]:
    """Preload, N, torque, Nmm, and proof load, N, of a coarse thread from statics of a wedge on a cylinder.

    The nut climbs the thread against friction, tan(lead + friction angle); the shank is pulled, and twisted until
    it yields all through (pi d0^3/12), to 0.9 of the yield strength together (von Mises).
    """
    pitch, head, hole = _SIZES[size]
    sharp = pitch / (2 * math.tan(_THREAD_ANGLE / 2))
    flank = size - 2 * 3 / 8 * sharp
    root = size - 2 * (17 / 24) * sharp
    shank = (flank + root) / 2
    area = math.pi * shank**2 / 4
    small, large, proof_small, proof_large = _STRENGTH[grade]
    strength, proof = (small, proof_small) if size <= 16 else (large, proof_large)
    climb = math.tan(math.atan(pitch / (math.pi * flank)) + math.atan(_FRICTION / math.cos(_THREAD_ANGLE / 2)))
    twist = climb * flank / 2  # Nmm per N of preload
    reduced = math.hypot(1 / area, math.sqrt(3) * twist / (math.pi * shank**3 / 12))
    preload = _USED * strength / reduced
    return preload, preload * (twist + _FRICTION * (head + hole) / 4), proof * area


def _coarse(size: int) -> Sequence[Row]:
    rows = []
    for column, grade in enumerate(Grade):
        preload, torque, proof = (value / 1e3 for value in _by_mechanics(size, grade))
        thread = f"M{size}"
        rows += [
            Row(f"preload {grade.value}, kN", preload, assembly_preload(thread, grade) / 1e3, 2e-3),
            Row(f"torque {grade.value}, Nm", torque, tightening_torque(thread, grade) / 1e3, 4e-3),
            Row(f"proof load {grade.value}, kN", proof, proof_load(thread, grade) / 1e3, 1e-9),
        ]
        if size in _PRINTED:
            printed = _PRINTED[size][column]
            label = f"proof load {grade.value} as printed, kN"
            rows.append(Row(label, float(printed), proof_load(thread, grade) / 1e3, 3e-3, str(printed)))
    return rows


def _fine(thread: str) -> Sequence[Row]:
    rows = []
    for grade, (preload, torque) in zip(Grade, _FINE[thread], strict=True):
        rows += [
            Row(f"preload {grade.value}, kN", preload, assembly_preload(thread, grade) / 1e3, 4e-3, f"{preload:g}"),
            Row(f"torque {grade.value}, Nm", torque, tightening_torque(thread, grade) / 1e3, 0.01, f"{torque:g}"),
        ]
    return rows


_SOURCE = Source(
    "derived: wedge on a cylinder, von Mises, plastic torsion; thread ISO 68-1, strengths and printed proof loads "
    "ISO 898-1 (published)",
    Tag.DERIVED,
)

CHECKS = (
    *(
        Check(
            f"B{size}",
            f"Preload, torque and proof load of an M{size} bolt at friction 0.12.",
            _SOURCE,
            _PRELOAD,
            "The formula in use puts tan(a + b) as tan a + tan b: 0.1 % in the preload, 0.25 % in the torque; "
            "printed proof loads are of rounded areas.",
            {"": partial(_coarse, size)},
        )
        for size in _SIZES
    ),
    Check(
        "BF",
        "Preload and torque of bolts with a fine thread.",
        Source("VDI 2230:2001, table of fine threads, friction 0.12", Tag.PUBLISHED),
        _PRELOAD,
        "Printed to three digits; the diameter under the head is from memory, which moves the torque by 1 %.",
        {thread: partial(_fine, thread) for thread in _FINE},
    ),
)
