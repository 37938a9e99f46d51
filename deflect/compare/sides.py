"""One die on one press at that press's own force: whether it goes in, and its case."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deflect.advice.mounting import mounting
from deflect.casefile.apart import DieApart, PressApart, pair_faults
from deflect.faults import CaseRefused
from deflect.findings import Finding, Status
from deflect.mechanics.mounting import reaches
from deflect.model.case import EDGE_SLACK, Case
from deflect.model.die import Die
from deflect.model.press import Press


@dataclass(frozen=True, eq=False)
class Side:
    """A die on a press at the force of that press.

    remark: how the force came about; mounting: every rule of mounting; lacking: what the press has not, in words;
    stands: whether the base stands on the table at all, so that there is something to solve.
    """

    case: Case
    remark: str
    mounting: tuple[Finding, ...]
    lacking: tuple[str, ...]
    stands: bool

    @property
    def goes_in(self) -> bool:
        """Whether no rule of mounting breaks and nothing lacks."""
        return self.stands and not self.lacking and all(f.status is not Status.BREAKS for f in self.mounting)


def force_on(die: Die, press: Press, stated: float | None = None) -> tuple[float, str]:
    """The slide's force with this die on this press, N, and where it comes from.

    The one stated for the comparison, else the press's own for tryout, else the die's working force; what is above
    the rated force is not given by the press, and said.
    """
    if stated is not None:
        return stated, "as stated"
    if press.tryout_force is not None:
        return press.tryout_force, "the force at which dies are tried in this press"
    if die.working_force > press.rated_force:
        return press.rated_force, "the press's rated force: it cannot give the die's working force"
    return die.working_force, "the die's working force"


def at_force(die: Die, press: Press, force: float) -> Die:
    """The die at another working force; the cushion takes its share of it, as far as the press has one."""
    given = 0.0 if press.cushion is None else press.cushion.force
    cushion = min(die.cushion_force * force / die.working_force, given)
    if (force, cushion) == (die.working_force, die.cushion_force):
        return die
    return replace(die, working_force=force, cushion_force=cushion)


def side_of(die: DieApart, press: PressApart, stated: float | None = None) -> Side:
    """Put a die on a press.  Raises CaseRefused where one of the files cannot be read."""
    if die.value is None or press.value is None:
        raise CaseRefused([*die.faults, *press.faults])
    force, remark = force_on(die.value, press.value, stated)
    lacking = tuple(fault.problem for fault in pair_faults(die, press))
    wanted = Case(press.value, replace(die.value, working_force=force))
    case = Case(press.value, at_force(die.value, press.value, force))
    over = reaches(die.value.placing, die.value.base.plan, press.value.bolster.plan)
    return Side(case, remark, mounting(wanted), lacking, max(over.values()) <= EDGE_SLACK)
