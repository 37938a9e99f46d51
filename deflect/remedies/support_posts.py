"""Support posts in the bed opening."""

from deflect.findings import Remedy, Saying, Stage, Trouble
from deflect.sizing.post_places import support_posts
from deflect.sources import PRACTICE

REMEDY = Remedy(
    id="support-posts",
    title="Support posts below the bolster",
    cures=frozenset(
        {Trouble.GAP, Trouble.ROCKING, Trouble.SAG, Trouble.FACE, Trouble.CLOSURE, Trouble.CREEP, Trouble.STRESS}
    ),
    effort="2 to 5 days: posts, a floor to stand on, setting their height",
    hours=40.0,
    stage=Stage.TRYOUT,
    who="maintenance, with the press maker",
    when="with a die that needs no cushion, on a bolster that stays in the press",
    drawback="No cushion can be used while they stand; every other die on this press stands on them too.",
    hazard="Posts are fastened: a loose one falls into the bed or is shot out. "
    "Nobody reaches into the bed before energy is locked out.",
    source=PRACTICE,
    sized=support_posts,
    trade_says=(Saying("posts take the sag out of a table", ("table-sag", "gap", "face")),),
)
