"""Case files on the desk: every key has its entry, edits keep comments, and a file leads nowhere else."""

from __future__ import annotations

from pathlib import Path

import pytest

from deflect.casefile import CaseKind, demo_cases
from deflect.desk.check.form_fields import FormTable, form_of, shown, typed
from deflect.desk.check.papers import Sheet, read
from deflect.faults import CaseRefused


def keys(table: FormTable, path: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    """Every key of a form, without places in lists."""
    found = {(*path, field.key) for field in table.fields}
    for inner in table.tables:
        found |= {(*path, inner.key)} | keys(inner, (*path, inner.key))
    for key, forms in table.lists.items():
        found |= {(*path, key)} | {one for form in forms for one in keys(form, (*path, key))}
    return found


def written(value: object, path: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    """Every key of a file, without places in lists."""
    if isinstance(value, dict):
        return {(*path, k) for k in value} | {one for k, v in value.items() for one in written(v, (*path, k))}
    if isinstance(value, list):
        return {one for part in value for one in written(part, path)}
    return set()


@pytest.mark.parametrize("kind", ["die", "press"])
def test_every_key_of_every_demo_case_has_its_entry(kind: CaseKind) -> None:
    known = keys(form_of(kind))
    for name in demo_cases(kind):
        used = written(Sheet.demo(kind, name).value(()))
        # Ranges and lists of places are one entry each; the kind of a pattern is chosen as it is added; how hold-downs
        # are spread is written in one line.
        extra = {p for p in used if p[-1] in ("low", "usual", "high", "kind") or p[:2] == ("bed", "hold_downs")}
        assert used - known - extra <= {p for p in used if p[:-1] in known}, name


def test_an_edit_is_read_and_taken_back_without_a_trace() -> None:
    die, press = Sheet.demo("die", "rowan-trim"), Sheet.demo("press", "alder-10mn")
    before = die.text
    die.write(("base", "thickness"), "380 mm")
    assert read(die, press, Path()).die.base.thickness == 380.0
    die.write(("base", "thickness"), "450 mm")
    assert die.text == before


def test_a_range_is_typed_as_it_is_shown() -> None:
    known = next(f for f in form_of("die").fields if f.key == "side_thrust")
    value = typed(known, "0.1 % / 0.5 % / 2 %")
    assert value == {"low": "0.1 %", "usual": "0.5 %", "high": "2 %"}
    assert shown(value) == "0.1 % / 0.5 % / 2 %"
    assert typed(known, "0.1 % to 2 %") == "0.1 % to 2 %"
    assert typed(known, " ") is None


@pytest.mark.parametrize("press", ["../alder.toml", "/etc/hostname", "..\\alder.toml"])
def test_a_file_on_the_desk_names_no_file_elsewhere(press: str) -> None:
    die = Sheet.demo("die", "rowan-trim")
    die.write(("bedded", "press"), press)
    die.write(("bedded", "force"), "8 MN")
    with pytest.raises(CaseRefused, match="demo press or a file of the chosen folder"):
        read(die, Sheet.demo("press", "alder-10mn"), Path())
