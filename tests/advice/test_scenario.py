"""The demo scenario: each rule breaks somewhere, and each remedy is the first choice somewhere.

Each story and its first choice come from tool-room practice (common practice, no source); the figures of the dies
were then set, with the tool, so that the story shows.  So this proves that every rule and remedy can be reached and
stays so, not that the tool agrees with a tool room on dies that it has not seen.  A coarse mesh and the two corners of
the ranges keep it quick.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import pytest

import deflect.mechanics.footprint as footprint
from deflect.advice import advise, all_remedies, all_rules
from deflect.casefile import demo_cases, read_case, read_press
from deflect.faults import CaseRefused
from deflect.findings import Advice, Status, Verdict

pytestmark = pytest.mark.scenario

# The mesh is coarser than the usual one by this factor; the case of a slug on the table needs patches of its size.
COARSER = 1.6
CORNERS = 2


@dataclass(frozen=True)
class Told:
    """What a tool room says of a die on a press.

    broken: rules that break, or are left undecided where ranges straddle their limits; first: the remedy that
    comes first; others: presses of the shop that it may go to; usual_mesh: solved on the mesh that users get.
    """

    die: str
    press: str
    verdict: Verdict
    broken: frozenset[str]
    first: str = ""
    others: tuple[str, ...] = ()
    usual_mesh: bool = False


FIT, MEASURES, NOT = Verdict.FIT, Verdict.WITH_MEASURES, Verdict.NOT_FIT


def told(die: str, press: str, verdict: Verdict, broken: str, first: str = "", **more: object) -> Told:
    return Told(die, press, verdict, frozenset(broken.split()), first, **more)  # type: ignore[arg-type]


SHOP = (
    told("maple-restrike", "birch-12mn", FIT, ""),
    told("yew-form", "alder-10mn", MEASURES, "gap bearing-pressure", "clean-table", usual_mesh=True),
    told("aspen-flange", "alder-10mn", MEASURES, "creep", "cones"),
    told("cherry-flange", "alder-10mn", MEASURES, "key-force key-layout", "key"),
    told("ash-loose", "birch-12mn", MEASURES, "pick-up", "more-clamps"),
    told("pear-trim", "birch-12mn", MEASURES, "matching", "fit-halves"),
    told("laurel-trim", "birch-12mn", MEASURES, "shear-force", "stepped-edges"),
    told("beech-cast", "cedar-8mn", MEASURES, "thin-rib", "other-section"),
    told("chestnut-form", "alder-10mn", MEASURES, "table-sag", "support-posts"),
    told("juniper-foreign", "alder-10mn", MEASURES,
         "clamps-on-bolster clamps-on-slide lower-flange upper-flange", "suit-clamping"),
    told("linden-low", "birch-12mn", MEASURES, "closed-height", "sub-plate"),
    told("linden-low", "cedar-6mn", MEASURES, "rated-force force-over-height face", "lower-force"),
    told("oak-tall", "alder-10mn", MEASURES, "closed-height", "compliant-base"),
    told("walnut-heavy", "alder-10mn", MEASURES,
         "upper-on-slide crane-capacity mass-on-bolster mass-on-slide force-over-height",
         "other-press", others=("birch-12mn",)),
    told("holly-draw", "birch-12mn", MEASURES, "blank-holder", "compliant-holder"),
    told("holly-draw", "larch-16mn", MEASURES, "cushion-pins", "move-die"),
    told("sorrel-restrike", "birch-12mn", MEASURES, "closure face as-closed", "bed-in-again", usual_mesh=True),
    told("sedge-draw", "birch-12mn", MEASURES, "ring-pressure", "level-pins"),
    told("hickory-draw", "cypress-10mn", MEASURES, "ring-pressure", "compliant-holder", usual_mesh=True),
    told("teasel-draw", "birch-12mn", MEASURES, "ring-pressure", "spring-setting"),
    told("poplar-trim", "alder-10mn", MEASURES, "gap contact", "shims"),
    told("spruce-trim", "alder-10mn", MEASURES, "gap contact", "relieved-base"),
    told("spruce-trim", "sycamore-8mn", NOT, "acceptance table-sag gap contact cutting-clearance",
         "support-posts+shims"),
    told("elm-pierce", "cedar-6mn", MEASURES, "gap contact", "regrind-table"),
    told("hawthorn-thin", "alder-10mn", MEASURES, "gap contact base-stress", "thicker-base", usual_mesh=True),
    told("medlar-form", "alder-10mn", MEASURES, "face", "bed-in-again"),
    told("quince-offset", "alder-10mn", MEASURES, "force-offset", "turn-die"),
    told("dogwood-punch", "alder-10mn", MEASURES, "base-stress", "spread-force"),
)  # fmt: skip

# Pairs of which only what breaks is asked: no single remedy is the answer there.
HOPELESS = (
    told("dogwood-punch", "sycamore-8mn", NOT, "acceptance table-sag base-stress bolster-stress"),
    told("rowan-trim", "fir-2mn", NOT, "rated-force crane-capacity force-over-height table-sag gap contact creep"),
    told("elder-offset", "alder-10mn", NOT, "cutting-clearance matching creep force-offset"),
    told("reed-draw", "birch-12mn", NOT, "ring-pressure holder-strength"),
)
# The rule that a file cannot break: a base that sticks out of the table is refused when the file is read.
REFUSED = {"base-on-bolster": ("elder-offset", "cedar-6mn", "sticks out of the table")}


@pytest.fixture(autouse=True, scope="module")
def coarse() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", COARSER * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", COARSER * footprint.ELEMENT_SIZE)
        yield


@lru_cache
def advised(one: Told) -> Advice:
    case = read_case(one.die, one.press)
    case = replace(case, other_presses=tuple(read_press(other) for other in one.others))
    if not one.usual_mesh:
        return advise(case, samples=CORNERS)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", footprint.PATCH_SIZE / COARSER)
        patch.setattr(footprint, "ELEMENT_SIZE", footprint.ELEMENT_SIZE / COARSER)
        return advise(case, samples=CORNERS)


def wrong(advice: Advice) -> set[str]:
    return {f.rule.id for f in advice.assessment.findings if f.status in (Status.BREAKS, Status.UNDECIDED)}


@pytest.mark.parametrize("one", [*SHOP, *HOPELESS], ids=lambda one: f"{one.die} on {one.press}")
def test_the_tool_says_what_the_tool_room_says(one: Told) -> None:
    advice = advised(one)
    assert wrong(advice) == one.broken
    assert advice.verdict is one.verdict
    if one.first:
        assert advice.outcomes[0].remedy.id == one.first


@pytest.mark.parametrize("one", [one for one in SHOP if one.first], ids=lambda one: f"{one.die} on {one.press}")
def test_the_first_choice_is_among_the_steps(one: Told) -> None:
    """What comes first in the list of remedies is a step to take, and what is wrong with a clean table is not dirt."""
    steps = [step.remedy for step in advised(one).steps]
    assert one.first in steps


def test_every_rule_breaks_somewhere() -> None:
    breaks = {f.rule.id for one in (*SHOP, *HOPELESS) for f in advised(one).assessment.findings
              if f.status is Status.BREAKS}  # fmt: skip
    assert breaks | set(REFUSED) == {rule.id for rule in all_rules()}


@pytest.mark.parametrize("rule", REFUSED)
def test_what_cannot_be_set_at_all_is_refused(rule: str) -> None:
    die, press, words = REFUSED[rule]
    with pytest.raises(CaseRefused, match=words):
        read_case(die, press)


def test_every_remedy_is_the_first_choice_somewhere() -> None:
    first = {advised(one).outcomes[0].remedy.id for one in SHOP if advised(one).outcomes}
    first = {remedy for remedy in first if "+" not in remedy}
    assert first == {remedy.id for remedy in all_remedies()}


def test_every_file_says_that_it_is_invented_and_what_is_wrong_with_it() -> None:
    for cases in (demo_cases("press"), demo_cases("die")):
        for name, path in cases.items():
            opening = path.read_text(encoding="utf-8").split("\n[", 1)[0]
            remarks = [line[1:].strip() for line in opening.splitlines() if line.startswith("#")]
            assert "invented" in remarks[0], name
            assert len(" ".join(remarks[3:])) > 60, name
