"""Places and gap of support posts, with rules that are stood in for."""

from __future__ import annotations

from deflect.casefile import read_case
from deflect.findings import Judged
from deflect.mechanics.analysis import analyse
from deflect.model.case import Case
from deflect.sizing.post_places import STEP, support_posts


def gaps(cures_up_to: float) -> list[float]:
    """What is proposed where a gap of 0.4 mm relieves most, and one up to this cures."""
    analysis = analyse(read_case("spruce-trim", "sycamore-8mn"), samples=0, mesh_error=False, thrust_direction=0.0)

    def ask(case: Case) -> Judged:
        posts = case.press.bed.posts
        if not posts:
            return Judged(1.0, -1.0)
        excess = posts[0].gap - cures_up_to if cures_up_to > 0 else 0.1 + abs(posts[0].gap - 0.4)
        return Judged(excess, -1.0)

    return [proposal.case.press.bed.posts[0].gap for proposal in support_posts(analysis, ask)]


def test_posts_that_cure_stand_as_low_as_still_cures() -> None:
    assert gaps(0.32) == [0.3]


def test_posts_that_cure_nothing_whole_are_tried_close_below_the_bolster_too() -> None:
    """There they take out most of the sag: one rule may be mended where the worst of all is not."""
    assert gaps(0.0) == [0.4, STEP]
