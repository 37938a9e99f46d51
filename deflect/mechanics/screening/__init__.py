"""Many dies on many presses: bodies condensed once, then every pair, place and force a small problem.

A table is condensed on a grid of cells of its own top with its land and hold-downs eliminated as they stand under a
usual force; a die at its patches.  The die's patches take part in the cells by interpolation, which keeps force and
moment: moving a die costs no new response.  What is read is sag, gap, contact and breathing; creep is not: of it there
is a bound only.
"""

from deflect.mechanics.screening.die import CondensedDie, condense_die, die_content
from deflect.mechanics.screening.pair import Screened, screen
from deflect.mechanics.screening.table import CondensedTable, condense_top, table_content

__all__ = [
    "CondensedDie",
    "CondensedTable",
    "Screened",
    "condense_die",
    "condense_top",
    "die_content",
    "screen",
    "table_content",
]
