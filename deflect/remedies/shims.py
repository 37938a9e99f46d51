"""Captive shims where the die hangs free."""

from deflect.findings import Remedy, Saying, Stage, Trouble
from deflect.sizing.shim_plan import shim_plans
from deflect.sources import PRACTICE

REMEDY = Remedy(
    id="shims",
    title="Captive shims below the base",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING}),
    effort="2 to 6 hours at the press, with feeler gauge and dial",
    hours=4.0,
    stage=Stage.PRESS,
    who="press room, with the tool room",
    when="at the press",
    drawback="Right for this press and this force only; it loads the die at rest and must be marked on the die.",
    hazard="Loose shims are shot out of the press: every shim is captive, screwed or let in, and counted.",
    source=PRACTICE,
    sized=shim_plans,
    trade_says=(Saying("shims cure a hollow table", ("gap", "contact", "closed-height")),),
)
