"""Places and gap of support posts: one after the other where it relieves most, then the widest gap that cures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from deflect.findings import Analysis, Ask, Proposal
from deflect.mechanics.arrays import Flags
from deflect.mechanics.changes import work_of_posts
from deflect.mechanics.standing import stand
from deflect.model.case import Case
from deflect.model.press import Press, SupportPost
from deflect.model.values import Rectangle
from deflect.sizing.search import least_change

# A steel post of about 150 mm diameter and 1 m height: E A / H, N/mm (derived); a head of this side, mm; the
# step in which its gap is set with a feeler gauge, mm (common practice, no source).
STIFFNESS, HEAD, STEP = 3.5e6, 200.0, 0.05
# The widest gap that is tried, mm; places stand about this far apart, mm; no more posts than this (ours).
WIDEST, PITCH, MOST = 1.0, 400.0, 8


def support_posts(analysis: Analysis, ask: Ask) -> Iterator[Proposal]:
    """The case with the fewest posts that cure, set as low as still cures."""
    case = analysis.case
    posts = post_places(case.press)
    if not posts or ask(case).excess <= 0:
        return
    taken = _taken(analysis, posts, ask)
    chosen = tuple(p for p, t in zip(posts, taken, strict=True) if t)
    if not chosen:
        return
    gaps = least_change(WIDEST, STEP, STEP, lambda gap: ask(_on_posts(case, chosen, gap)))
    if not gaps or ask(_on_posts(case, chosen, gaps[-1])).excess > 0:
        # What no gap cures may still be cured in part, and posts close below the bolster take out most of its sag.
        gaps = (*gaps, STEP)
    for gap in dict.fromkeys(gaps):
        yield Proposal(
            _on_posts(case, chosen, gap),
            f"{len(chosen)} post{'' if len(chosen) == 1 else 's'}, heads of {HEAD:.0f} mm, "
            f"set {gap:.2f} mm below the unloaded bolster",
        )


def post_places(press: Press) -> tuple[SupportPost, ...]:
    """Where a post may stand, on a grid centred in the bed opening: none where a cushion is, where posts stand
    already, or under a moving bolster, of whose travel the press file says no clearance."""
    bed, bolster = press.bed, press.bolster
    if press.cushion is not None or bed.posts or bolster.moving:
        return ()
    opening = bed.opening
    # An odd number each way puts one post in the middle.
    nx, ny = (2 * int((extent - HEAD) / 2 / PITCH) + 1 for extent in (opening.length, opening.width))
    places = (
        SupportPost(opening.x + PITCH * (i - nx // 2), opening.y + PITCH * (j - ny // 2), STIFFNESS, STEP, HEAD)
        for i in range(nx)
        for j in range(ny)
    )
    return tuple(p for p in places if not any(_meet(p, hole) for hole in bolster.openings))


def _meet(post: SupportPost, area: Rectangle) -> bool:
    near_x = abs(post.x - area.x) < (post.head + area.length) / 2
    return near_x and abs(post.y - area.y) < (post.head + area.width) / 2


def _taken(analysis: Analysis, posts: Sequence[SupportPost], ask: Ask) -> Flags:
    """Which places are taken: greedily by relieved energy until it cures, then each exchanged for a better one."""
    case, assumptions = analysis.case, analysis.solution.assumptions
    standing = stand(_on_posts(case, posts, STEP))
    taken, closed = np.zeros(len(posts), dtype=bool), analysis.solution.closed[1]
    best, least = taken, ask(case).excess

    def excess(of: Flags) -> float:
        return ask(_on_posts(case, [p for p, t in zip(posts, of, strict=True) if t], STEP)).excess

    while taken.sum() < min(MOST, len(posts)) and least > 0:
        work = work_of_posts(standing, assumptions, taken, closed)
        if work.max() <= 0:
            break
        taken = taken.copy()
        taken[work.argmax()] = True
        now = excess(taken)
        if now < least:
            best, least = taken, now
    for place in np.flatnonzero(best)[:-1] if best.sum() > 1 else ():
        moved = best.copy()
        moved[place] = False
        moved[work_of_posts(standing, assumptions, moved, closed).argmax()] = True
        if not moved[place] and excess(moved) < least:
            best, least = moved, excess(moved)
    return best


def _on_posts(case: Case, posts: Sequence[SupportPost], gap: float) -> Case:
    bed = replace(case.press.bed, posts=tuple(replace(p, gap=gap) for p in posts))
    return replace(case, press=replace(case.press, bed=bed))
