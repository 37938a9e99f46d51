"""Bolts: ISO 724 threads, ISO 898-1 proof loads, VDI 2230 preload and torque, levers and scatter."""

from __future__ import annotations

import math

import pytest

from deflect.mechanics.bolts import (
    LOSS,
    SCATTER,
    THREADS,
    Thread,
    assembly_preload,
    bolted_clamp,
    clamp_force,
    preload,
    proof_load,
    strap_lever,
    thread_for,
    tightening_torque,
)
from deflect.model.die import Clamp
from deflect.model.holder import ClampBolt, Grade, Tightening

# ---- ISO 724: pitch diameter and core diameter of the basic profile, mm (from memory; 0.5 µm is the tables' rounding)


@pytest.mark.parametrize(
    ("thread", "pitch_diameter", "core_diameter"),
    [("M16", 14.701, 13.546), ("M20", 18.376, 16.933), ("M24", 22.051, 20.319), ("M30", 27.727, 25.706),
     ("M36", 33.402, 31.093), ("M42", 39.077, 36.479), ("M24x2", 22.701, 21.546)],
)  # fmt: skip
def test_diameters_iso_724(thread: str, pitch_diameter: float, core_diameter: float) -> None:
    assert THREADS[thread].pitch_diameter == pytest.approx(pitch_diameter, abs=6e-4)
    assert THREADS[thread].core_diameter == pytest.approx(core_diameter, abs=6e-4)


# ---- ISO 898-1 (published): stress area, mm2, and proof loads, kN, from areas rounded to three digits

ISO_898 = {
    "M20": (245, 147, 203),
    "M24": (353, 212, 293),
    "M30": (561, 337, 466),
    "M36": (817, 490, 678),
}


@pytest.mark.parametrize("thread", ISO_898)
def test_proof_loads_iso_898_1(thread: str) -> None:
    """0.3 %: the table multiplies rounded areas and rounds the product to 1 kN in 147."""
    area, proof_88, proof_109 = ISO_898[thread]
    assert THREADS[thread].stress_area == pytest.approx(area, rel=2e-3)
    assert proof_load(thread, Grade.G8_8) == pytest.approx(1e3 * proof_88, rel=3e-3)
    assert proof_load(thread, Grade.G10_9) == pytest.approx(1e3 * proof_109, rel=3e-3)


# ---- VDI 2230, friction 0.12: (preload kN, torque Nm) of grades 8.8 and 10.9; recomputed from the published formula

VDI = {
    "M16": (81.0, 205, 118.9, 302),
    "M20": (130.5, 414, 185.8, 590),
    "M24": (187.9, 712, 267.6, 1015),
    "M30": (300.0, 1424, 427.2, 2029),
    "M36": (438.1, 2476, 624.0, 3527),
    "M42": (602.4, 3957, 857.9, 5636),
}
# The published table of fine threads (VDI 2230:2001).
VDI_FINE = {
    "M16x1.5": (87.6, 218, 128.7, 320),
    "M20x1.5": (148, 454, 211, 646),
    "M24x2": (209, 769, 297, 1095),
}


@pytest.mark.parametrize("thread", VDI)
def test_coarse_threads_vdi_2230(thread: str) -> None:
    """1 % on the preload; 3 % on the torque, whose diameter under the head is a convention."""
    check_vdi(thread, VDI[thread])


@pytest.mark.parametrize("thread", VDI_FINE)
def test_fine_threads_vdi_2230(thread: str) -> None:
    check_vdi(thread, VDI_FINE[thread])


def check_vdi(thread: str, row: tuple[float, float, float, float]) -> None:
    for grade, force, torque in ((Grade.G8_8, row[0], row[1]), (Grade.G10_9, row[2], row[3])):
        assert assembly_preload(thread, grade) == pytest.approx(1e3 * force, rel=0.01)
        assert tightening_torque(thread, grade) == pytest.approx(1e3 * torque, rel=0.03)


def test_more_friction_less_preload_vdi_2230() -> None:
    """M24, 8.8 at 0.10 and 0.14: 192 kN and 623 Nm, 183 kN and 796 Nm."""
    for friction, force, torque in ((0.10, 192, 623), (0.14, 183, 796)):
        assert assembly_preload("M24", Grade.G8_8, friction) == pytest.approx(1e3 * force, rel=0.005)
        assert tightening_torque("M24", Grade.G8_8, friction) == pytest.approx(1e3 * torque, rel=0.01)


def test_preload_stays_below_proof_load() -> None:
    for thread in THREADS:
        for grade in Grade:
            assert 0.8 * proof_load(thread, grade) < assembly_preload(thread, grade) < proof_load(thread, grade)


def test_scatter_is_greatest_over_least() -> None:
    for method in Tightening:
        found = preload(ClampBolt("M30", Grade.G8_8, method))
        assert found.high / found.low == pytest.approx(SCATTER[method][1])
        assert found.high == pytest.approx(assembly_preload("M30", Grade.G8_8))


def test_by_feel_gives_a_little_over_half_of_the_table() -> None:
    """50 to 60 %: common practice, no source."""
    found = preload(ClampBolt("M24"))
    assert 0.5 < found.nominal / assembly_preload("M24", Grade.G8_8) < 0.6


def test_levers_of_straps() -> None:
    """Moments about the heel: F_die (a + b) = F_bolt a."""
    assert strap_lever(60.0, 60.0) == 0.5
    assert strap_lever(100.0, 50.0) == pytest.approx(2 / 3)
    bolt = ClampBolt("M30", Grade.G8_8, Tightening.TORQUE_WRENCH)
    straight, strapped = clamp_force(bolted_clamp(0, 0, bolt)), clamp_force(bolted_clamp(0, 0, bolt, 0.5))
    assert strapped.nominal == pytest.approx(0.5 * straight.nominal)
    # 300.0 kN / sqrt(1.5) less a tenth
    assert straight.nominal == pytest.approx(300.0e3 / math.sqrt(1.5) * 0.9, rel=0.01)
    assert straight.low == pytest.approx(300.0e3 / 1.6 * (1 - LOSS.high), rel=0.01)
    assert straight.high == pytest.approx(300.0e3 * (1 - LOSS.low), rel=0.01)


def test_a_stated_force_stays_as_it_is() -> None:
    force = clamp_force(Clamp(0, 0, 60e3))
    assert force.is_exact
    assert force.nominal == 60e3


def test_a_clamp_by_its_bolt_has_the_usual_force() -> None:
    clamp = bolted_clamp(10.0, 20.0, ClampBolt("M24"), 0.6)
    assert clamp.force == clamp_force(clamp).nominal


def test_thread_for_a_bolt() -> None:
    assert [thread_for(d).diameter for d in (8.0, 30.0, 35.0, 60.0)] == [12.0, 30.0, 30.0, 48.0]
    assert isinstance(thread_for(30.0), Thread)
