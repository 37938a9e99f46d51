"""The hint at what a word was meant to be: the nearest by its slips, and none where nothing is near."""

from __future__ import annotations

from pathlib import Path

import pytest

from deflect.casefile import demo_cases, read_die
from deflect.faults import CaseRefused
from deflect.units.misspelt import nearest

KEYS = (
    "thickness", "length", "width", "height", "base", "bearing", "cones", "working_force", "forces", "shims", "mass",
)  # fmt: skip


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("thicknes", "thickness"),  # one letter left out
        ("thicckness", "thickness"),  # put in
        ("thickmess", "thickness"),  # taken for another
        ("lenght", "length"),  # two swapped
        ("heigth", "height"),
        ("Working-Force", "working_force"),
        ("force", "forces"),
        ("working", "working_force"),
        ("width_mm", "width"),
        ("masse", "mass"),
    ],
)
def test_slips_lead_to_the_word_that_was_meant(word: str, meant: str) -> None:
    assert nearest(word, KEYS) == meant


@pytest.mark.parametrize("word", ["stone", "weight_of_it", "m", "x", "", "bottom", "gap", "cushion", "\n" * 1000])
def test_nothing_is_named_where_nothing_is_near(word: str) -> None:
    assert nearest(word, KEYS) is None
    assert nearest(word, ()) is None


def test_a_likeness_of_letters_alone_is_no_hint() -> None:
    """Four of its letters stand in this order in "cones": half of both words, and no slip of the hand."""
    assert nearest("thicknes", ("cones", "notes")) is None


@pytest.mark.parametrize(
    ("table", "hint"),
    [("[die.base]", 'did you mean "thickness"?'), ("[die]", "take it out, or take a key of the list")],
)
def test_the_hint_at_a_key_of_the_die(tmp_path: Path, table: str, hint: str) -> None:
    text = demo_cases("die")["rowan-trim"].read_text(encoding="utf-8")
    (tmp_path / "die.toml").write_text(text.replace(table, f'{table}\nthicknes = "450 mm"', 1), "utf-8")
    with pytest.raises(CaseRefused) as refused:
        read_die(tmp_path / "die.toml")
    (fault,) = refused.value.faults
    assert fault.remedy == hint
