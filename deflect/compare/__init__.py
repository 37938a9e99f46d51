"""Will a die behave alike on a stand-in press, and if not, can the press be made to?

compare(die, production, standins) puts the same die on each press at its own force; see ``comparing.py``.
"""

from deflect.compare.bedding import Action, BeddingPlan, Zone
from deflect.compare.comparing import Compared, Comparison, Likely, compare
from deflect.compare.sides import Side, force_on, side_of

__all__ = [
    "Action",
    "BeddingPlan",
    "Compared",
    "Comparison",
    "Likely",
    "Side",
    "Zone",
    "compare",
    "force_on",
    "side_of",
]
