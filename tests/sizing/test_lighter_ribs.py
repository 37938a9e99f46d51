"""Lighter ribs save mass and cost stiffness, each solved anew."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.casefile import read_case
from deflect.mechanics.analysis import Analysis, analyse
from deflect.sizing.lighter_ribs import lighter_ribs


@pytest.fixture(scope="module")
def willow() -> Analysis:
    return analyse(read_case("willow-cast-trim", "cedar-8mn"), samples=0, mesh_error=False)


def test_each_pattern_weighs_less_and_bends_more(willow: Analysis) -> None:
    now, *others = lighter_ribs(willow)
    assert now.mass == willow.case.die.base.mass
    assert len(others) == 3
    for one in others:
        assert one.mass < now.mass
        assert one.stress > now.stress
        assert one.face > now.face
    assert others[2].mass < min(others[0].mass, others[1].mass)


def test_no_rib_is_thinner_than_the_foundry_casts_it(willow: Analysis) -> None:
    """With a limit of 38 mm ribs stay at 40: only a wider pitch is left."""
    base = willow.case.die.base
    assert base.ribs is not None
    limited = replace(base, ribs=replace(base.ribs, thinnest=38.0))
    analysis = replace(willow, case=willow.case.with_base(limited))
    assert [one.told for one in lighter_ribs(analysis)] == ["as it is", "ribs a quarter farther apart"]


def test_a_solid_base_has_no_ribs_to_thin() -> None:
    analysis = analyse(read_case("rowan-trim", "alder-10mn"), samples=0, mesh_error=False)
    assert lighter_ribs(analysis) == ()
