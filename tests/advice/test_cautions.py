"""Cautions: every one, for every case, in every output, whatever is asked for."""

from __future__ import annotations

import inspect
import json
import pkgutil
from dataclasses import replace
from functools import lru_cache
from itertools import product
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import deflect
import deflect.cautions
from deflect import advice as asked
from deflect import cli
from deflect.advice import advise, all_cautions, cautions
from deflect.casefile import read_case
from deflect.cautions.lifting import crane_words
from deflect.findings import Advice, Analysis, Assessment, Verdict, Warned
from deflect.mechanics.analysis import analyse
from deflect.mechanics.lift_off import lift_off
from deflect.mechanics.lifting import leg_force, weight
from deflect.mechanics.lifting_points import pin_stresses
from deflect.mechanics.masses import lower_mass, upper_mass
from deflect.model.case import Case
from deflect.model.die import Block, Half, Operation
from deflect.model.press import Cushion
from deflect.model.values import Interval, Rectangle
from deflect.units import show_force

NAMES = frozenset(m.name.replace("_", "-") for m in pkgutil.iter_modules(deflect.cautions.__path__))
"""One caution a file, of the file's name."""


# Dies that trim, draw, restrike and stand off centre; with and without a cushion below.
PAIRS = [
    ("rowan-trim", "alder-10mn"),
    ("hazel-draw", "birch-12mn"),
    ("elder-offset", "alder-10mn"),
    ("maple-restrike", "birch-12mn"),
]


@lru_cache(maxsize=16)
def solved(die: str, press: str) -> Analysis:
    return analyse(read_case(die, press), samples=0, mesh_error=False)


@pytest.fixture(scope="module")
def analysis() -> Analysis:
    return solved("rowan-trim", "alder-10mn")


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Cases of the demo scenario solved at their usual values, without rules: the way to the cautions is left."""
    known = {(a.case.die.name, a.case.press.name): a for a in (solved(*pair) for pair in PAIRS)}

    def assess(case: Case, *_: object) -> Assessment:
        return Assessment(known[case.die.name, case.press.name], ())

    monkeypatch.setattr(asked, "assess", assess)


def with_die(analysis: Analysis, **changes: object) -> Analysis:
    case = analysis.case
    return replace(analysis, case=replace(case, die=replace(case.die, **changes)))  # type: ignore[arg-type]


def said(analysis: Analysis, name: str) -> Warned:
    return next(w for w in cautions(analysis) if w.id == name)


def text(warned: Warned) -> str:
    return " ".join((warned.heading, *warned.words, *warned.numbers, warned.defer))


# ---- every caution, always


def test_every_file_is_a_caution_of_its_name() -> None:
    assert {c.id for c in all_cautions()} == NAMES
    assert len({c.order for c in all_cautions()}) == len(NAMES)


@pytest.mark.parametrize("pair", PAIRS, ids=" on ".join)
@pytest.mark.parametrize("samples", [0, 16])
@pytest.mark.usefixtures("quick")
def test_advice_holds_every_caution_for_every_demo_case(pair: tuple[str, str], samples: int) -> None:
    advice = advise(read_case(*pair), samples=samples, progress=lambda _: None)
    assert [w.id for w in advice.cautions] == [c.id for c in all_cautions()]
    assert {w.id for w in deflect.advise(*pair).cautions} == NAMES


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    operation=st.sampled_from(Operation),
    keyed=st.booleans(),
    clamped=st.booleans(),
    cushion=st.sampled_from([None, Cushion(2e6), Cushion(2e6, hangs_on_bolster=True)]),
    cushion_force=st.sampled_from([0.0, 1e6]),
    lower=st.floats(5.0, 1e5),
    upper=st.floats(5.0, 1e5),
    height=st.floats(15.0, 3000.0),
    force=st.floats(1e3, 2e8),
    estimated=st.booleans(),
)
def test_every_caution_speaks_whatever_the_case(
    analysis: Analysis,
    operation: Operation,
    keyed: bool,
    clamped: bool,
    cushion: Cushion | None,
    cushion_force: float,
    lower: float,
    upper: float,
    height: float,
    force: float,
    estimated: bool,
) -> None:
    """Over all that a case file allows."""
    case = analysis.case
    placing = replace(case.die.placing, keyed=keyed, clamps=case.die.placing.clamps if clamped else ())
    die = replace(
        case.die,
        operation=operation,
        placing=placing,
        cushion_force=cushion_force,
        working_force=force,
        lower=Half(height, lower, estimated),
        upper=Half(height, upper, estimated),
    )
    changed = replace(analysis, case=Case(replace(case.press, cushion=cushion), die))
    warned = cautions(changed)
    assert {w.id for w in warned} == NAMES
    for one in warned:
        assert one.heading
        assert one.words
        assert len(one.defer) > 20
        for line in (*one.words, *one.numbers):
            assert len(line) > 20
            assert not {"nan", "inf", "None"} & set(line.split())
    told = {w.id: text(w) for w in warned}
    assert ("do not hold it down" in told["pick-up"]) is keyed
    assert ("fewer than four clamps" in told["pick-up"]) is not clamped
    assert ("not to cut" in told["snap-through"]) is not operation.cuts
    assert ("of the rated force" in told["snap-through"]) is operation.cuts
    assert ("gas springs, cushion" in told["energy"]) is (cushion is not None)
    assert ("weigh it" in told["lifting"]) is estimated


# ---- nothing drops one


def test_an_advice_without_cautions_cannot_be_made(analysis: Analysis) -> None:
    with pytest.raises(ValueError, match="part of every result"):
        Advice(Verdict.FIT, (), Assessment(analysis, ()), (), (), ())


def test_a_caution_without_words_cannot_be_made(analysis: Analysis) -> None:
    warned = said(analysis, "lifting")
    for empty in ({"words": ()}, {"words": ("",)}, {"heading": ""}, {"defer": ""}):
        with pytest.raises(ValueError, match="always says something"):
            replace(warned, **empty)  # type: ignore[arg-type]


def test_no_public_function_takes_a_switch_for_cautions() -> None:
    """What may be passed on the way to an advice: the case, how finely to solve it, whom to tell of progress."""
    assert set(inspect.signature(advise).parameters) == {"case", "samples", "progress"}
    assert set(inspect.signature(cautions).parameters) == {"analysis"}
    assert not inspect.signature(all_cautions).parameters


@pytest.mark.usefixtures("quick")
def test_no_flag_of_the_command_line_drops_a_caution() -> None:
    """Every combination of flags, and both shapes of output."""
    flags = [p.opts[0] for p in cli.check.params if isinstance(p, click.Option) and p.is_flag]
    assert "--json" in flags
    flags.remove("--papers")  # asks for a folder; papers carry their cautions on the first page, tested with them
    warned = cautions(solved("rowan-trim", "alder-10mn"))
    for given_ones in product(*((None, flag) for flag in flags)):
        words = [flag for flag in given_ones if flag]
        result = CliRunner().invoke(cli.main, ["check", "rowan-trim", "alder-10mn", *words])
        assert result.exit_code in (cli.RAN, cli.STRICT), result.output
        if "--json" in words:
            told = json.loads(result.stdout)["cautions"]
            assert [(c["id"], c["words"], c["numbers"]) for c in told] == [
                (w.id, list(w.words), list(w.numbers)) for w in warned
            ]
        else:
            told = " ".join(result.stdout.split())
            for one in warned:
                for line in (one.heading, *(one.numbers or one.words), one.defer):
                    assert line in told


@pytest.mark.usefixtures("quick")
def test_a_written_report_holds_every_caution(tmp_path: Path) -> None:
    result = CliRunner().invoke(cli.main, ["check", "rowan-trim", "alder-10mn", "--report", str(tmp_path)])
    assert result.exit_code == cli.RAN, result.output
    page = (tmp_path / "report.html").read_text(encoding="utf-8").replace("&#39;", "'")
    for one in cautions(solved("rowan-trim", "alder-10mn")):
        for line in (one.heading, *one.words, *one.numbers, one.defer):
            assert line in page


# ---- what each one says


@pytest.mark.parametrize("name", sorted(NAMES))
def test_every_caution_defers_and_names_its_source(analysis: Analysis, name: str) -> None:
    warned = said(analysis, name)
    assert any(word in warned.defer for word in ("codes", "maker", "supervisor", "officer"))
    assert any(tag in str(warned.source) for tag in ("published", "from memory", "common practice, no source", "ours"))


def test_lifting_tells_the_statics_of_en_818_4(analysis: Analysis) -> None:
    die = analysis.case.die
    lines = said(analysis, "lifting").numbers
    for line, mass in zip(lines, (die.lower.mass, die.upper.mass, die.lower.mass + die.upper.mass), strict=False):
        for angle in (30, 45, 60):
            assert f"{show_force(leg_force(mass, angle))} at {angle} degrees" in line
    # 20 t on two legs counted: 20 / 1.4 = 14.29 t up to 45 degrees (printed mode factor), 20 t up to 60.
    assert "for 14.29 t up to 45 degrees, for 20 t up to 60" in lines[2]


def test_a_rating_is_never_rounded_down(analysis: Analysis) -> None:
    """11.5 / 1.4 = 8.2143 t: 8.22 t must be asked for."""
    assert "for 8.22 t up to 45 degrees" in said(analysis, "lifting").numbers[0]


def test_eyebolts_only_where_they_suit(analysis: Analysis) -> None:
    """DIN 580 with EN 818-4: 1.2 t / 1.4 = 857 kg takes M20 (860 kg); changing hands, M24."""
    heavy = text(said(analysis, "lifting"))
    assert "no eyebolts for lower half and upper half" in heavy
    assert "an insert of 500 kg" in heavy
    light = text(said(with_die(analysis, upper=Half(300.0, 1200.0, False)), "lifting"))
    assert "upper half of 1.2 t on 2 legs up to 45 degrees: eyebolts M20 by the table, M24 as the next" in light
    assert "no eyebolts for lower half, above" in light


def test_the_crane_is_compared_where_its_capacity_is_known() -> None:
    assert "compare" in crane_words(20_000.0, None)
    assert "80 % of its capacity of 25 t: the tackle" in crane_words(20_000.0, 25_000.0)
    assert "is 81 % of its capacity" in crane_words(20_020.0, 25_000.0)
    assert "too heavy" in crane_words(20_000.0, 16_000.0)


def test_lifting_points_show_stresses_of_this_die_and_approve_nothing(analysis: Analysis) -> None:
    warned = said(analysis, "lifting-points")
    assert "not an approved design" in warned.heading
    force = 1.1 * leg_force(analysis.case.die.upper.mass, 45.0)
    worked = pin_stresses(force, 80.0, 120.0, 120.0)
    wanted = f"pin 80 mm {worked.shear.value:.0f} / {worked.bending.value:.0f} / {worked.bearing.value:.0f}"
    line = next(n for n in warned.numbers if n.startswith("upper half, shear"))
    assert wanted in line
    assert [f"pin {d} mm" in line for d in (60, 80, 100, 120)] == [True] * 4
    assert "F × arm / (π d³ / 32)" in text(warned)


def test_turning_says_what_each_hoist_holds(analysis: Analysis) -> None:
    die = analysis.case.die
    told = said(analysis, "turning")
    for line, half in zip(told.numbers, (die.lower, die.upper), strict=True):
        assert f"{show_force(weight(half.mass) / 2)} on each of two hoists" in line
        assert f"either may hold all of {show_force(weight(half.mass))}" in line
    for line, found in zip(told.numbers, (lower_mass(die), upper_mass(die)), strict=True):
        assert f"centre of gravity {found.height:.0f} mm over its underside" in line
    assert "% of the mass by its section" in told.numbers[0]
    assert "taken at half of its height" in told.numbers[1]
    assert "Nobody is near" in text(told)


def test_turning_a_half_whose_punch_stands_to_the_rear_loads_the_rear_hoist(analysis: Analysis) -> None:
    """The nearer hoist holds half of the weight and, over the distance of the hoists, the rest of its moment: by
    hand."""
    die = analysis.case.die
    block = Block(Rectangle(0.0, 300.0, 800.0, 400.0), die.base.thickness, die.lower.height, 300.0)
    lower = replace(die.lower, blocks=(block,))
    case = replace(analysis.case, die=replace(die, lower=lower))
    line = said(replace(analysis, case=case), "turning").numbers[0]
    off = 300.0 * 300.0 / die.lower.mass
    nearer = weight(die.lower.mass) * (0.5 + off / die.base.width)
    assert f"{show_force(nearer)} on the nearer of two hoists" in line


def test_blocks_are_set_against_the_weight_and_never_the_drive(analysis: Analysis) -> None:
    told = said(analysis, "die-blocks")
    assert show_force(weight(analysis.case.die.upper.mass)) in told.numbers[0]
    assert "do not hold against the drive" in text(told)
    assert "120 times the upper half's weight" in told.numbers[1]  # 10 MN over 8.5 t of the demo case


def test_pick_up_keeps_feet_and_hands_clear_and_quotes_the_balance(analysis: Analysis) -> None:
    """11.5 t and four clamps of 60 kN hold 352.8 kN; 20 % of the cut with dull edges, 10.137 MN, is 2.027 MN."""
    told = said(analysis, "pick-up")
    balance = lift_off(analysis.case)
    assert "Feet and hands clear" in told.heading
    assert "held down by 352.8 kN" in told.numbers[0]
    assert f"pulled up by {show_force(balance.pull.nominal)}" in told.numbers[1]
    assert f"at worst by {show_force(balance.pull.high)}" in told.numbers[1]
    assert all(one.source in told.numbers[1] for one in balance.pulls)
    assert f"reserve {balance.reserve.nominal:.1f} times, at worst {balance.reserve.low:.1f}" in told.numbers[2]
    assert "at least the 1.5" in told.numbers[2]
    assert "2.027 MN (20 % of the force of the cut, upper bound)" in told.numbers[3]
    assert "101.3 kN for each square metre" in told.numbers[4]
    assert "4 clamps are stated where 6 are asked for" in told.numbers[-1]


def test_pick_up_tells_a_short_reserve_and_a_loose_die_that_is_held_sideways(analysis: Analysis) -> None:
    die = analysis.case.die
    tight = replace(die.lift_off, guides=Interval.exactly(300e3))
    assert "less than the 1.5" in said(with_die(analysis, lift_off=tight), "pick-up").numbers[2]
    loose = replace(die.placing, coned=True, clamps=())
    told = said(with_die(analysis, lift_off=tight, placing=loose), "pick-up")
    assert "locating cones hold nothing down, and nothing clamps it" in told.numbers[2]
    assert "Cones let this die lift freely" in text(told)


def test_the_cushion_is_named_where_it_pushes() -> None:
    drawn = said(solved("hazel-draw", "birch-12mn"), "pick-up")
    assert any("cushion pushes the blank holder up with as much as 1.8 MN" in n for n in drawn.numbers)


def test_snap_through_against_the_rated_force(analysis: Analysis) -> None:
    """15 and 30 % of 8.8 MN against 10 MN: 13.2 % above what is tolerated, 26.4 % too much; 10 % at 6.667 MN."""
    told = said(analysis, "snap-through")
    assert "1.32 MN, 13.2 % of the rated force, above the 10 %" in told.numbers[0]
    assert "2.64 MN, 26.4 % of the rated force, too much" in told.numbers[1]
    assert "cutting with 6.667 MN" in told.numbers[2]
    assert "20 ms" in text(told)
    small = said(with_die(analysis, working_force=1e6), "snap-through")
    assert "within the 10 %" in small.numbers[0]


def test_a_die_that_does_not_cut_hears_so(analysis: Analysis) -> None:
    told = said(with_die(analysis, operation=Operation.FORM), "snap-through")
    assert told.words[0].startswith("This die is stated to form and not to cut")
    assert told.numbers == ()
