"""Comparisons as they are told: verdicts, JSON, page, terminal, refusals."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace

import pytest
from click.testing import CliRunner
from rich.console import Console

from deflect.casefile.apart import die_apart, press_apart
from deflect.cli import main
from deflect.compare import Action, Comparison, Likely, compare, force_on
from deflect.faults import CaseRefused
from deflect.report.compared.data import comparison_json
from deflect.report.compared.page import page
from deflect.report.compared.plans import bedding_plan, shim_plans
from deflect.report.compared.terminal import print_comparison
from deflect.report.paper.printing import comparison_papers


@pytest.fixture(scope="module")
def told() -> Comparison:
    """A draw die, its own press as a stand-in, and one without a cushion."""
    own, without = press_apart("birch-12mn"), press_apart("alder-10mn")
    return compare(die_apart("hazel-draw"), own, [own, without], {"alder-10mn": 8.5e6})


def test_a_press_is_its_own_stand_in(told: Comparison) -> None:
    same = told.compared[0]
    assert same.verdict is Likely.ALIKE
    assert same.likeness is not None
    assert (same.likeness.face.greatest, same.likeness.table.greatest, same.sure) == (0.0, 0.0, 1.0)
    assert same.emulation is None
    assert same.bedding is not None
    assert {zone.action for zone in same.bedding.zones} == {Action.PROVE}


def test_what_the_stand_in_lacks_comes_first(told: Comparison) -> None:
    other = told.compared[1]
    assert other.verdict is Likely.NOT_IN
    assert "the press has no cushion" in other.side.lacking[0]
    assert other.side.case.die.cushion_force == 0.0
    assert other.side.remark == "as stated"
    assert other.if_it_went_in in (Likely.ALIKE, Likely.AFTER_MEASURES, Likely.REDONE)


def test_json_is_finite_and_says_the_same(told: Comparison) -> None:
    plain = json.loads(json.dumps(comparison_json(told), allow_nan=False))
    same, other = plain["standins"]
    assert same["verdict"] == "behaves alike"
    assert same["face"]["spread_mm"] == {"low": 0.0, "usual": 0.0, "high": 0.0}
    assert other["working_force_kN"] == 8500.0
    assert all(number["difference"] == 0.0 for number in same["numbers"].values())
    assert plain["cautions"]


def test_the_page_is_one_file(told: Comparison) -> None:
    shown = page(told)
    assert not re.search(r'(src|href)="(?!#)|@import|url\((?!#)', shown)
    assert shown.count("<svg") >= 6
    assert "Cautions in full" in shown
    assert "closure" in shown


def test_each_plan_is_a_paper_of_one_page_that_says_what_the_page_says(told: Comparison) -> None:
    shown = page(told)
    papers = comparison_papers(told, shown)
    shims = sum(len(shim_plans(one, told, "0")) for one in told.compared)
    assert sum(file.startswith("bedding-plan") for file in papers) == 2
    assert sum(file.startswith("shim-plan") for file in papers) == shims
    for file, paper in papers.items():
        if "plan" in file:
            assert len(re.findall(rb"/Type\s*/Page\b", paper())) == 1, file
    assert papers["comparison.pdf"]().startswith(b"%PDF-")
    for k, one in enumerate(told.compared):
        for part in (bedding_plan(one), *(plan.told for plan in shim_plans(one, told, str(k)))):
            assert words_of(part) in words_of(shown)
    assert not re.search(r">[^<]*[ (=]-\d", re.sub(r"<style.*?</style>|<svg.*?</svg>", "", shown, flags=re.DOTALL))


def words_of(shown: str) -> str:
    """Every word of a page but those of its figures."""
    return re.sub(r"\s+|<[^>]*>", "", re.sub(r"<svg.*?</svg>", "", str(shown), flags=re.DOTALL))


def test_papers_without_a_folder_are_refused_before_anything_is_solved() -> None:
    result = CliRunner().invoke(main, ["compare", "hazel-draw", "birch-12mn", "larch-16mn", "--papers"])
    assert result.exit_code == 2
    assert "--papers needs --report" in result.output


def test_the_terminal_names_verdict_and_plan(told: Comparison) -> None:
    console = Console(file=io.StringIO(), width=120)
    print_comparison(told, console)
    written = console.file.getvalue()  # type: ignore[attr-defined]
    assert "Verdict: BEHAVES ALIKE" in written
    assert "Verdict: DOES NOT GO IN AS IT STANDS" in written
    assert "Bedding plan" in written
    assert "Nobody stands below" in written


def test_whose_force_it_is() -> None:
    die, press = die_apart("rowan-trim").value, press_apart("alder-10mn").value
    assert die is not None
    assert press is not None
    assert force_on(die, press) == (die.working_force, "the die's working force")
    assert force_on(die, replace(press, tryout_force=2e6))[0] == 2e6
    assert force_on(die, replace(press, tryout_force=2e6), 3e6) == (3e6, "as stated")
    weak, why = force_on(die, replace(press, rated_force=5e6))
    assert weak == 5e6
    assert "cannot give" in why


def test_mistakes_of_all_files_are_told_at_once() -> None:
    with pytest.raises(CaseRefused) as refused:
        compare(die_apart("no-die"), press_apart("no-press"), [press_apart("alder-10mn"), press_apart("none")])
    assert len(refused.value.faults) == 3


@pytest.mark.parametrize("force", ["oak=3 MN", "alder-10mn", "alder-10mn=3", "alder-10mn=0 kN"])
def test_a_force_that_cannot_be_read_is_refused(force: str) -> None:
    result = CliRunner().invoke(main, ["compare", "rowan-trim", "alder-10mn", "birch-12mn", "--force", force])
    assert result.exit_code == 2
    assert "Traceback" not in result.output
