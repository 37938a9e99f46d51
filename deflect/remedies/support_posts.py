"""Support posts in the bed opening."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.model.press import SupportPost
from deflect.sources import PRACTICE

# Layouts tried, posts along x by posts along y, the fewest first.
LAYOUTS = ((1, 1), (2, 1), (3, 1), (3, 2), (4, 2))
# A steel post of about 150 mm diameter and 1 m height: E A / H, N/mm (derived); a head of this side, mm; and
# the gap at which a post can be set with a feeler gauge, mm (common practice, no source).
STIFFNESS = 3.5e6
HEAD = 200.0
GAP = 0.05


def _along(k: int, n: int) -> float:
    """Place of the k-th of n posts between -1 and 1."""
    return 0.0 if n == 1 else 2.0 * k / (n - 1) - 1.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    press = case.press
    if press.cushion is not None or press.bed.posts:
        return
    opening = press.bed.opening
    for columns, rows in LAYOUTS:
        spread_x, spread_y = (0.0 if n == 1 else 1.0 - 1.0 / n for n in (columns, rows))
        posts = tuple(
            SupportPost(
                opening.x + spread_x * opening.length / 2 * _along(i, columns),
                opening.y + spread_y * opening.width / 2 * _along(j, rows),
                STIFFNESS,
                GAP,
                HEAD,
            )
            for i in range(columns)
            for j in range(rows)
        )
        bed = replace(press.bed, posts=posts)
        yield Proposal(
            replace(case, press=replace(press, bed=bed)),
            f"{len(posts)} post{'' if len(posts) == 1 else 's'}, {columns} along x by {rows} along y, "
            f"heads of {HEAD:.0f} mm, "
            f"set {GAP:.2f} mm below the unloaded bolster",
        )


REMEDY = Remedy(
    id="support-posts",
    title="Support posts below the bolster",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING, Trouble.SAG, Trouble.FACE, Trouble.CREEP, Trouble.STRESS}),
    effort="2 to 5 days: posts, a floor to stand on, setting their height",
    hours=40.0,
    stage=Stage.TRYOUT,
    who="maintenance, with the press maker",
    when="with a die that needs no cushion, on a bolster that stays in the press",
    drawback="The cushion is lost while they stand; every other die on this press stands on them too.",
    hazard="Posts are fastened: a loose one falls into the bed or is shot out. "
    "Nobody reaches into the bed before energy is locked out.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("posts take the sag out of a table", ("table-sag", "gap", "face")),),
)
