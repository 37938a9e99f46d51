"""What the closing does to the lower half, rings of other make, how the cushion stands: told on page and in data."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from deflect.findings import Advice
from deflect.mechanics.under_closing import under_closing
from deflect.model.press import Cushion, CushionGuides
from deflect.report.data_closure import closure_told
from deflect.report.data_ring import ring_told
from deflect.report.drawing_closure import label_places
from deflect.report.sections import blank_holder, closing
from deflect.units import show_deflection


def text(page: object) -> str:
    return " ".join(re.sub("<[^>]*>", " ", str(page)).split())


def test_the_lower_half_is_told_as_stated_and_as_it_closes(both_halves: Advice) -> None:
    analysis = both_halves.assessment.analysis
    found, data, page = under_closing(analysis), closure_told(analysis), text(closing.fragment(both_halves))
    assert found is not None
    assert data is not None
    told = data["lower_half_as_closed"]
    assert told["as_stated"]["face_found_mm"] == pytest.approx(found.stated.face)
    assert told["as_it_closes"]["face_found_mm"] == pytest.approx(found.closed.face)
    assert np.isfinite(told["as_it_closes"]["free_creep_um"])
    assert f"face error {show_deflection(found.stated.face)} {show_deflection(found.closed.face)}" in page
    # The middle of this pair is left light: its face is out by less than the stated pattern makes it.
    assert found.moved
    assert told["moved_numbers"] == list(found.moved)
    assert f"This differs by enough to matter : the stated patterns tell otherwise of {found.moved[0]}" in page


def test_a_die_on_springs_tells_rings_with_ribs_and_no_cushion(on_springs: Advice) -> None:
    page, data = text(blank_holder.fragment(on_springs)), ring_told(on_springs.assessment.analysis)
    assert data is not None
    assert "A gas spring gives its force wherever the ring is." in page
    ribbed = [row for row in data["other_rings"] if row["ring_made_of"] != "solid"]
    assert ribbed
    assert all(row["ring_made_of"] in page for row in ribbed)
    assert {row["ring_height_mm"] for row in ribbed} == {on_springs.assessment.analysis.case.die.blank_holder.thickness}  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("guides", "words"),
    [
        (None, "The cushion is taken as guided level: how stiff its guides are is not stated (press.cushion.guides)."),
        (CushionGuides(4, 2e5, 600.0), "The cushion tilts against its guides by 0.000 mm/m left or right"),
    ],
)
def test_a_cushion_is_told_as_level_or_by_its_tilt(
    on_springs: Advice, guides: CushionGuides | None, words: str
) -> None:
    """The same die on a cushion in place of its springs, pins in the springs' places."""
    case = on_springs.assessment.analysis.case
    holder = case.die.blank_holder
    assert holder is not None
    assert holder.carried is not None
    assert holder.carried.springs is not None
    pins = tuple((spring.x, spring.y) for spring in holder.carried.springs.springs)
    carried = replace(holder.carried, springs=None)
    die = replace(
        case.die, blank_holder=replace(holder, carried=carried), cushion_pins=pins, cushion_force=1e6, bedded=None
    )
    press = replace(case.press, cushion=Cushion(2e6, guides=guides))
    analysis = replace(on_springs.assessment.analysis, case=replace(case, die=die, press=press))
    advice = replace(on_springs, assessment=replace(on_springs.assessment, analysis=analysis))
    assert words in text(blank_holder.fragment(advice))
    data = ring_told(analysis)
    assert data is not None
    assert data["cushion_is_level"] is (guides is None)


@pytest.mark.parametrize(
    ("length", "room", "places"),
    [(2000.0, 300.0, 5), (1255.0, 345.0, 3), (700.0, 345.0, 3), (600.0, 345.0, 1), (0.0, 345.0, 1)],
)
def test_numbers_on_a_small_face_do_not_cover_each_other(length: float, room: float, places: int) -> None:
    found = label_places(-length / 2, length / 2, 5, room)
    assert len(found) == places
    assert 0.0 in found
    assert np.all(np.diff(found) >= room)
