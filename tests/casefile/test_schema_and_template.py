"""The schema for editors, the files to start from, and the demo cases."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any, get_args

import pytest
from case_bench import DIE, PRESS
from jsonschema import Draft202012Validator

from deflect.casefile import CaseKind, demo_cases, read, read_case, read_die, read_press, schema, template
from deflect.casefile.kinds import PARTS
from deflect.casefile.parts.material import MATERIALS
from deflect.casefile.parts.part import Part
from deflect.units import KINDS

KINDS_OF_FILE: tuple[CaseKind, ...] = ("press", "die")
DEMOS = [(kind, path) for kind in KINDS_OF_FILE for path in demo_cases(kind).values()]


@pytest.mark.parametrize("kind", KINDS_OF_FILE)
def test_schema_is_one(kind: CaseKind) -> None:
    Draft202012Validator.check_schema(schema(kind))


@pytest.mark.parametrize(("kind", "path"), DEMOS, ids=lambda one: getattr(one, "stem", one))
def test_schema_accepts_the_demo_cases(kind: CaseKind, path: Path) -> None:
    Draft202012Validator(schema(kind)).validate(tomllib.loads(path.read_text(encoding="utf-8")))


SPOILT = [
    ("press", PRESS, '"220 mm"', "220"),
    ("press", PRESS, '"220 mm"', '"0,22 m"'),
    ("press", PRESS, '"220 mm"', '"220 kg"'),
    ("press", PRESS, '"steel S355"', '"steel"'),
    ("press", PRESS, "rated_force", "rated_farce"),
    ("press", PRESS, '"20 to 100 N/mm3"', '"20-100 N/mm3"'),
    ("press", PRESS, 'rated_force = "10 MN"', 'rated_force = "10 MN"\nclamps_required = 3'),
    ("press", PRESS, 'rated_force = "10 MN"', 'rated_force = "10 MN"\nshut_height = 1250'),
    ("die", DIE, '"patch"', '"pach"'),
    ("die", DIE, 'height = "550 mm"', 'height = "550 mm"\nlength = "3 m"'),
    ("die", DIE, 'name = "Test die"', 'name = "Test die"\ncushion_pins = [["0 mm", 5]]'),
    ("die", DIE, '"form"', '"forming"'),
    ("die", DIE, "[die.upper]", "[die.lift_off]\nguides = 20\n[die.upper]"),
    ("die", DIE, "[die.upper]", '[die.matching]\nfitted = "by hand"\n[die.upper]'),
    ("die", DIE, "[die.base]", "[die.bas]"),
    ("die", DIE, "[die.upper]", "[die.base_plate]\n[die.upper]"),
]


@pytest.mark.parametrize(("kind", "text", "old", "new"), SPOILT)
def test_schema_refuses_what_the_reader_refuses(kind: CaseKind, text: str, old: str, new: str) -> None:
    validator = Draft202012Validator(schema(kind))
    assert validator.is_valid(tomllib.loads(text))
    assert not validator.is_valid(tomllib.loads(text.replace(old, new, 1)))


def test_schema_accepts_other_names_of_the_base() -> None:
    aliased = tomllib.loads(DIE.replace("[die.base]", "[die.lower_shoe]"))
    assert Draft202012Validator(schema("die")).is_valid(aliased)


def test_schema_tells_meaning_range_and_units() -> None:
    force = schema("press")["properties"]["press"]["properties"]["rated_force"]
    assert force["description"] == "rated force of the slide; 50 kN to 200 MN, in N, kN, MN, tf, lbf"


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kind_of_quantity_has_an_example(kind: Any) -> None:
    assert kind.example


@pytest.mark.parametrize("kind", KINDS_OF_FILE)
def test_template_checks_as_it_stands(kind: CaseKind, tmp_path: Path) -> None:
    path = tmp_path / f"{kind}.toml"
    path.write_text(template(kind), encoding="utf-8")
    assert read(path).name == f"New {kind}"


def test_templates_fit_each_other(tmp_path: Path) -> None:
    for kind in KINDS_OF_FILE:
        (tmp_path / f"{kind}.toml").write_text(template(kind), encoding="utf-8")
    assert read_case(tmp_path / "die.toml", tmp_path / "press.toml").table_force > 0


def everything_on(text: str) -> str:
    """A template with every remark that is a key or a table put to use; of several forms of a key the last."""
    lines: dict[str, str] = {}
    table = ""
    for line in text.split("\n"):
        used = line.removeprefix("# ") if re.match(r"# ([a-z_]+ = |\[)", line) else line
        table = f"{len(lines)}" if used.startswith("[") else table
        key = f"{table} {used.split(' = ')[0]}" if " = " in used and not used.startswith("#") else f"{len(lines)}"
        lines[key] = used
    return "\n".join(lines.values())


def test_every_remark_of_the_press_template_can_be_used(tmp_path: Path) -> None:
    path = tmp_path / "press.toml"
    # Stiffness of posts, of a slide's hanging point and of its guides.
    of_others = ('"2000 kN/mm"', '"2000 to 8000 kN/mm"', '"400 kN/mm"')
    for land in ("walls", "stiffness", "spanning_walls", "from_allowance"):
        others = {"walls", "stiffness", "spanning_walls", "from_allowance"} - {land}
        text = "\n".join(
            line
            for line in everything_on(template("press")).split("\n")
            if line.split(" = ")[0] not in others or any(told in line for told in of_others)
        ).replace('stands_on = "bed"', 'stands_on = "bolster"')
        path.write_text(text, encoding="utf-8")
        press = read_press(path)
        assert press.cushion is not None
        assert press.bolster.t_slots is not None
        assert press.slide is not None
        assert press.slide.t_slots is not None
        assert press.slide.body is not None
        assert press.slide.body.guides is not None
        assert press.slide.body.ribs is not None
        assert press.shut_height is not None
        assert len(press.force_over_height) == 2
        assert len(press.bed.hold_downs) == 1
        assert [post.gap for post in press.bed.posts] == [0.05]
        assert press.bolster.sub_plate is not None
        assert press.bolster.ribs is not None
        assert press.bolster.warmth.high == 3.0
        assert (press.bed.land.walls is not None) == (land == "spanning_walls")
        assert (press.stroke, press.strokes_per_year) == (800.0, 1_200_000)


@pytest.mark.parametrize("without", ["[die.base.ribs]", "[[die.base.steps]]"])
def test_every_remark_of_the_die_template_can_be_used(without: str, tmp_path: Path) -> None:
    """A base has ribs or steps, never both."""
    path = tmp_path / "die.toml"
    text = everything_on(template("die")).replace("tryout-press.toml", "birch-12mn").replace('"90 %"', '"70 %"')
    before, after = text.split(without)
    path.write_text(before + after[after.index("\n[") :], encoding="utf-8")
    die = read_die(path)
    assert (die.base.ribs is None) == (without == "[die.base.ribs]")
    assert len(die.base.steps) == (1 if die.base.ribs is None else 0)
    assert die.bedded is not None
    assert len(die.patterns) == 3
    assert len(die.base.bearing) == 1
    assert len(die.placing.shims) == 1
    assert [one.thickness for one in die.placing.dirt] == [0.2]
    assert die.placing.keyed
    assert die.placing.coned
    assert [len(parts) for parts in (die.placing.keys, die.placing.cones, die.guides)] == [1, 1, 1]
    assert [clamp.bolt is None for clamp in die.placing.clamps] == [True] * 4 + [False]
    assert die.closed_height is not None
    assert die.cushion_pins is not None
    for half in (die.lower, die.upper):
        assert half.flange is not None
        assert len(half.flange.slots) == 4


def keys_of(part: type[Part]) -> set[str]:
    """Every key that a part and the parts in it may have."""
    found = set(part.model_fields)
    for info in part.model_fields.values():
        for inner in parts_in(info.annotation):
            found |= keys_of(inner)
    return found


def parts_in(annotation: Any) -> list[type[Part]]:
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return [annotation]
    return [part for inner in get_args(annotation) for part in parts_in(inner)]


@pytest.mark.parametrize("kind", KINDS_OF_FILE)
def test_template_shows_every_key(kind: CaseKind) -> None:
    rare = {"like", "name", "youngs_modulus", "poisson_ratio", "density", "permitted_stress", "region"}
    shown = set(re.findall(r"[a-z_]+", template(kind)))
    assert keys_of(PARTS[kind]) - rare <= shown


@pytest.mark.parametrize(("kind", "path"), DEMOS, ids=lambda one: getattr(one, "stem", one))
def test_demo_case_reads_and_says_that_it_is_invented(kind: CaseKind, path: Path) -> None:
    case = read(path)
    assert case.note.startswith("Invented.")
    assert "are invented" in path.read_text(encoding="utf-8").split("\n\n")[0]


FITTING = [
    ("rowan-trim", "alder-10mn"),
    ("hazel-draw", "birch-12mn"),
    ("elder-offset", "alder-10mn"),
    ("maple-restrike", "alder-10mn"),
    ("willow-cast-trim", "cedar-8mn"),
]


@pytest.mark.parametrize(("die", "press"), FITTING)
def test_demo_dies_stand_on_their_presses(die: str, press: str) -> None:
    case = read_case(die, press)
    assert 0 < case.table_force <= case.press.rated_force
    # Large dies weigh up to 29 t (a public forum, weak); the smallest of the scenario stands for a small one.
    assert 5e3 < case.die.lower.mass + case.die.upper.mass < 29e3


def test_demo_presses() -> None:
    alder, birch = read_press("alder-10mn"), read_press("birch-12mn")
    assert (alder.rated_force, alder.cushion) == (10e6, None)
    assert birch.cushion is not None
    assert birch.bolster.pin_field is not None
    assert set(MATERIALS) >= {alder.bolster.material.name, birch.bolster.material.name}


def test_demo_cases_stand_beside_the_package_or_in_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wheel carries them in deflect/demo; a checkout has them in cases."""
    from deflect.casefile import names

    packaged = tmp_path / "deflect" / "demo" / "presses"
    packaged.mkdir(parents=True)
    (packaged / "packed.toml").write_text(PRESS, encoding="utf-8")
    monkeypatch.setattr(names, "__file__", str(tmp_path / "deflect" / "casefile" / "names.py"))
    assert list(names.demo_cases("press")) == ["packed"]
    assert read_press("packed").name == "Test press"
