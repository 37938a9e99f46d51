"""A ribbed base on a welded bolster in the report: mass, beam by hand, and what the model leaves out."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from deflect.advice import assess, cautions
from deflect.casefile import read_case
from deflect.findings import Advice, Verdict
from deflect.mechanics.stroke_energy import kilowatt_hours, lifting_energy
from deflect.model.case import Case
from deflect.remedies import compliant_holder
from deflect.report.sections import blank_holder, by_hand, closing, limits, mass


@pytest.fixture(scope="module")
def willow() -> Case:
    return read_case("willow-cast-trim", "cedar-8mn")


def told(case: Case) -> Advice:
    assessment = assess(case, 0, mesh_error=False)
    return Advice(Verdict.FIT, (), assessment, (), cautions(assessment.analysis), ())


def plain(fragment: object) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", str(fragment)).split())


def test_energy_is_weight_times_stroke() -> None:
    """1 t by 1 m: 9806.65 J (standard acceleration of gravity); 3.6 MJ are a kilowatt hour."""
    assert lifting_energy(1000.0, 1000.0) == pytest.approx(9806.65, rel=1e-12)
    assert kilowatt_hours(9806.65, 1_000_000) == pytest.approx(2724.07, rel=1e-5)


def test_the_report_tells_mass_middle_and_energy(willow: Case) -> None:
    page = plain(mass.fragment(told(willow)))
    base = willow.die.base
    assert f"{base.mass / 1000:.2f} t, {100 * base.mass / base.solid.mass:.0f} % of the solid block" in page
    # The thick top lifts the middle above half the height.
    assert 225 < base.centre_height < 290
    assert "4, 310 mm from middle to middle" in page
    assert "70.6 kJ a stroke" in page
    assert "35304 kWh" in page


def test_what_is_not_stated_is_said(willow: Case) -> None:
    page = plain(mass.fragment(told(replace(willow, press=replace(willow.press, stroke=None)))))
    assert "press.stroke is missing" in page
    page = plain(mass.fragment(told(replace(willow, press=replace(willow.press, strokes_per_year=None)))))
    assert "press.strokes_per_year is missing" in page


def test_the_beam_by_hand_takes_the_ribbed_section(willow: Case) -> None:
    """Two skins of 120 and 60 mm, 420 mm over all: I of a flanged beam by hand, its ribs left out."""
    beam = by_hand.beam_of(willow)
    top, bottom, height = 120.0, 60.0, 420.0
    middle = (top * (height - top / 2) + bottom * bottom / 2) / (top + bottom)
    flanges = top * (height - top / 2 - middle) ** 2 + bottom * (middle - bottom / 2) ** 2
    flanges += (top**3 + bottom**3) / 12
    # Ribs and Poisson's ratio add 5 to 20 %.
    assert 1.05 < beam.inertia / (beam.width * flanges) < 1.2
    assert "I of the section" in plain(by_hand.fragment(told(willow)))


def test_limits_of_ribs_are_told(willow: Case) -> None:
    page = plain(limits.fragment(told(willow)))
    assert "the base counts as a casting with ribs" in page
    assert "bends and twists within 4 % of solid ones" in page
    slab = read_case("rowan-trim", "alder-10mn")
    page = plain(limits.fragment(told(slab)))
    assert "the base counts as a solid block" in page
    assert "Ribs are spread" not in page


@pytest.fixture(scope="module")
def hickory() -> Advice:
    return told(read_case("hickory-draw", "cypress-10mn"))


def test_a_half_told_by_its_sections_has_no_range(hickory: Advice) -> None:
    """Base and blocks by hand: 7852 kg by its section, 840 kg of the punch and 184 kg of two guide blocks."""
    page = plain(mass.fragment(hickory))
    assert "lower half 8.88 t, estimated: weigh it" in page
    assert "257 mm over its underside, over the middle of the base; all of its mass from its sections" in page
    assert "the rest" not in page


def test_a_slide_told_as_a_body_is_weighed(hickory: Advice) -> None:
    """By the press file, where it describes what of the slide bends."""
    (blocks,) = [one for one in hickory.cautions if one.id == "die-blocks"]
    assert "does not tell" not in blocks.numbers[0]
    body = hickory.assessment.analysis.case.press.slide.body  # type: ignore[union-attr]
    assert body is not None
    assert f"{body.mass * 9.80665e-3:.1f} kN by the press file" in blocks.numbers[0]


def test_other_rings_of_a_ribbed_ring_say_what_changes(hickory: Advice) -> None:
    """Its ribs are shortened and its skin stays, or every part of it becomes thinner; it has ribs as it is."""
    page = plain(blank_holder.fragment(hickory))
    assert "Ring as thick as, its ribs shortened, its skin kept" in page
    assert "As high as it is, with thinner skin, walls and ribs" in page
    sizes = [one.size for one in compliant_holder.REMEDY.proposals(hickory.assessment.analysis)]
    assert sizes[0] == "a ring 200 mm thick instead of 220 mm, its ribs shortened below the skin of 60 mm"
    assert "of the same height with thinner parts: skin" in sizes[-1]


def test_stress_of_a_ribbed_body_is_not_that_of_a_slab(hickory: Advice) -> None:
    """6 M / t^2 holds for a rectangle alone."""
    formulas = {f.rule.id: f.rule.formula for f in hickory.assessment.findings}
    for rule in ("base-stress", "bolster-stress"):
        assert "of ribs and skins" in formulas[rule]


def test_a_slide_without_guides_is_not_said_to_tilt_against_them(hickory: Advice) -> None:
    """Four points hold it; how far it tilts is in their forces."""
    page = plain(closing.fragment(hickory))
    assert "against its guides" not in page
    assert "No guides of the slide are stated (press.slide.body.guides)" in page
