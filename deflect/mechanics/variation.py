"""A standing die with other bodies, without a new factorisation: stiffness by a factor, warmth by superposition."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from deflect.mechanics.loading import Response
from deflect.mechanics.standing import Standing


@dataclass(frozen=True)
class Variation:
    """How bodies differ from their usual values.

    bolster, walls: stiffness of the bolster, and of walls that span between columns, as multiples; die_warmth,
    bolster_warmth: how much warmer the top is than the underside, beyond the usual, K.
    """

    bolster: float = 1.0
    walls: float = 1.0
    die_warmth: float = 0.0
    bolster_warmth: float = 0.0


AS_USUAL = Variation()


def varied(standing: Standing, by: Variation) -> Standing:
    """The same die on the same table with varied bodies.

    The bolster's answer goes with its stiffness as a whole.  Of a thickness that is bending alone: its shear, a
    quarter of the answer, changes less, so that a range comes out a little wide.
    """
    if by == AS_USUAL:
        return standing
    n = standing.contacts
    below = slice(n, n + (0 if standing.walls is None else len(standing.walls)))
    pick = np.flatnonzero(standing.bears)
    own = standing.base.contact_compliance.take(pick, 0).take(pick, 1)
    compliance = standing.compliance.copy()
    compliance[:n, :n] -= own
    if standing.walls is not None:
        compliance[below, below] -= standing.walls
    compliance /= by.bolster
    compliance[:n, :n] += own
    if standing.walls is not None:
        compliance[below, below] += standing.walls / by.walls

    def softer(response: Response) -> Response:
        if by.bolster == 1.0:
            return response
        table = response.table / by.bolster
        return replace(response, table=table, ports=response.ports + standing.signed_rows @ (table - response.table))

    of_table, of_base = standing.warm
    more = of_table * by.bolster_warmth + of_base * by.die_warmth
    return replace(
        standing,
        compliance=compliance,
        table_answer=standing.table_answer.scaled(1.0 / by.bolster),
        # What the usual warmth does is no answer to a load, and stays.
        constant=softer(standing.constant + standing.warmed * -1.0) + standing.warmed + more,
        warmed=standing.warmed + more,
        working=softer(standing.working),
        returning=softer(standing.returning),
        walls=None if standing.walls is None else np.asarray(standing.walls / by.walls),
    )
