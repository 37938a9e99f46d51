"""Every mistake of both files and of the pair is told at once, and nothing but refusals ever comes out."""

from __future__ import annotations

from pathlib import Path

import pytest
from case_bench import DIE, PRESS, Bench
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from deflect.casefile import read_case, template
from deflect.faults import CaseRefused


def test_mistakes_of_both_files_and_of_the_pair(bench: Bench) -> None:
    bench.spoil(bench.die, 'height = "500 mm"', "height = 500")  # an entry
    bench.spoil(bench.die, 'height = "550 mm"', 'height = "300 mm"')  # a cross-check
    bench.spoil(bench.die, 'name = "Test die"', 'name = "Test die"\nplacing = {x = "3 m"}')  # the pair
    bench.spoil(bench.die, "[[die.forces]]", '[die.bedded]\npress = "nowhere"\nforce = "1 MN"\n[[die.forces]]')
    bench.spoil(bench.press, '"220 mm"', '"0,22 m"')
    bench.spoil(bench.press, 'opening = {length = "3000 mm"', 'opening = {length = "5000 mm"')
    keys = [fault.key for fault in bench.case_faults()]
    assert keys == [
        "die.lower.height",
        "die.upper.height",
        "die.bedded.press",
        "press.bolster.thickness",
        "press.bed.opening",
        "die.placing",
    ]


def test_mistakes_come_in_the_order_of_the_file(bench: Bench) -> None:
    bench.press.write_text(PRESS.replace('"', "", 0).replace(" mm", " kg"))
    lines = [fault.line or 0 for fault in bench.press_faults()]
    assert len(lines) == 5
    assert lines == sorted(lines)


def test_the_text_counts_and_lists(bench: Bench) -> None:
    bench.spoil(bench.press, '"10 MN"', "10")
    with pytest.raises(CaseRefused, match=r"refused: 1 mistake\.\n") as refused:
        read_case(bench.die, bench.press)
    assert str(refused.value) == (
        "The case is refused: 1 mistake.\n"
        f"{bench.press}, line 3: press.rated_force = 10\n"
        "    the unit is missing\n"
        "    allowed: 50 kN to 200 MN, in N, kN, MN, tf, lbf\n"
        '    to do: write "10 kN" or "10 MN", if that is meant'
    )


def test_a_press_that_is_that_of_bedding_in_too_is_told_once(bench: Bench) -> None:
    bench.add(bench.die, '[die.bedded]\npress = "press.toml"\nforce = "5 MN"')
    bench.spoil(bench.press, '"10 MN"', "10")
    (fault,) = bench.case_faults()
    assert fault.file == str(bench.press)
    assert fault.key == "press.rated_force"


def test_two_presses_of_one_name_are_each_told(bench: Bench, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    other = tmp_path / "elsewhere" / bench.press.name
    bench.add(bench.die, '[die.bedded]\npress = "elsewhere/press.toml"\nforce = "5 MN"')
    bench.spoil(bench.press, '"10 MN"', "10")
    other.write_text(bench.press.read_text(encoding="utf-8"), encoding="utf-8")
    assert [fault.key for fault in bench.case_faults()] == ["press.rated_force", "press.rated_force"]


def test_bedding_press_is_found_beside_the_die(bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    bench.add(bench.die, '[die.bedded]\npress = "press.toml"\nforce = "5 MN"')
    case = read_case(bench.die, "alder-10mn")
    assert case.die.bedded is not None
    assert case.die.bedded.press.name == "Test press"
    assert case.die.bedded.force == pytest.approx(5e6)


def test_mistakes_of_the_bedding_press_are_told(bench: Bench) -> None:
    bench.spoil(bench.press, '"10 MN"', "10")
    bench.add(bench.die, '[die.bedded]\npress = "press.toml"\nforce = "5 MN"')
    (fault,) = bench.die_faults()
    assert (fault.key, fault.line) == ("press.rated_force", 3)


ODD = st.sampled_from(
    [
        "5",
        "-1",
        "true",
        "nan",
        "-inf",
        "1e400",
        "1979-05-27",
        "07:32:00",
        '""',
        '"x"',
        '"0 mm"',
        '"1e300 m"',
        '"-5 MN"',
        '"5 %"',
        "[]",
        "{}",
        "[[]]",
        "[{}]",
        "[[1, 2], [3]]",
        "{kind = 5}",
        '{kind = "frame"}',
        '{kind = "line"}',
        "{a.b.c = 1}",
        '"\\u0000"',
        '"unknown"',
        '"full"',
        "{low = 1, usual = 2, high = 3}",
        "[[[[[]]]]]",
        '{"=list" = 1}',
        '{"" = {}}',
    ]
)


@given(st.data())
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_one_odd_value_is_read_or_refused(tmp_path: Path, data: st.DataObject) -> None:
    """Put an odd value, or a text of its own, in place of any value of any file."""
    texts = {"die": data.draw(st.sampled_from([DIE, template("die")])), "press": PRESS}
    texts["press"] = data.draw(st.sampled_from([PRESS, template("press")]))
    kind = data.draw(st.sampled_from(["die", "press"]))
    lines = [line.removeprefix("# ") if " = " in line else line for line in texts[kind].split("\n")]
    spot = data.draw(st.sampled_from([n for n, line in enumerate(lines) if " = " in line]))
    lines[spot] = lines[spot].split(" = ")[0] + " = " + data.draw(ODD)
    texts[kind] = "\n".join(lines)
    paths = {name: tmp_path / f"{name}.toml" for name in texts}
    for name, path in paths.items():
        path.write_text(texts[name], encoding="utf-8")
    try:
        read_case(paths["die"], paths["press"])
    except CaseRefused as refused:
        faults = refused.faults
    else:
        faults = ()
    assert all(fault.line and fault.problem for fault in faults)
