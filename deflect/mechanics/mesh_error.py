"""How far headline numbers are off because bodies and contact are cut into pieces, and finer pieces where they are
off too far."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from deflect.mechanics.footprint import Mesh
from deflect.model.case import Case
from deflect.model.values import Interval

# A number has settled where its error is below this share of it, or below its own least (ours: what nobody can
# measure on a table): 2 µm of a length, 0.02 of the bearing area, 0.1 µm of creep per stroke, 0.1 MPa.
SHARE = 0.02
LEAST: Mapping[str, float] = {
    "sag": 2e-3,
    "gap": 2e-3,
    "face": 2e-3,
    "contact_share": 2e-2,
    "creep": 1e-4,
    "base_stress": 0.1,
    "bolster_stress": 0.1,
    "pressure": 0.1,
}
# Those for which finer patches are solved; stresses and pressure, which peak at edges, are told with what comes out.
REFINED_FOR = ("sag", "gap", "face", "contact_share")
# The meshes of the estimate are coarser by this factor, first the elements, then the patches.
COARSER = 1.5
# Patches are made finer to these shares of the usual size; the first of them with a narrow rim as well, since a die
# that bridges a sagging table stands on its edges.
FINER = ((0.8, True), (0.5, False))
# A change is trusted only as far as the one before it shrank to it: half of that one counts (ours).  Greatest readings
# jump about between meshes, and may agree on two of them by luck.
TRUSTED = 0.5
# Finer patches that would make more ports than this are not solved: some seconds and half a gigabyte.  The next
# level has about so many times as many ports.
MOST_PORTS, _GROWTH = 2100, 1.6
# Figures of a case on one mesh, by the keys of ``LEAST``, and its number of ports.
Read = Callable[[Mesh], tuple[Mapping[str, float], int]]


@dataclass(frozen=True)
class Estimate:
    """One number: on the usual mesh, on the finest one that was solved, and how far that is off, in its own
    unit; least: error that is none."""

    usual: float
    finest: float
    error: float
    least: float

    @property
    def allowed(self) -> float:
        return max(SHARE * abs(self.finest), self.least)

    @property
    def settled(self) -> bool:
        """Whether the error is below 2 % or its least."""
        return self.error <= self.allowed

    def applied(self, value: Interval) -> Interval:
        """A number of this case, or of one that is like it, put right by the finest mesh and widened by the error.

        As a share of the number, but by no more than here: what is small here may be large there.
        """
        shift, scale = self.finest - self.usual, max(abs(self.usual), 1e-300)

        def moved(x: float) -> float:
            return x + max(-abs(shift), min(abs(shift), shift / scale * abs(x)))

        def off(x: float) -> float:
            return min(self.error, self.error / scale * abs(x))

        low, nominal, high = moved(value.low), moved(value.nominal), moved(value.high)
        return Interval(max(min(low - off(low), nominal), 0.0), nominal, max(high + off(high), nominal))


@dataclass(frozen=True)
class MeshError:
    """Estimates by number; finer: how often the patches were made finer; capped: the next ones were too many;
    steps: change of the creep with steps half as long, mm per stroke."""

    estimates: Mapping[str, Estimate]
    finer: int
    capped: bool
    steps: float

    @property
    def unsettled(self) -> tuple[str, ...]:
        """The numbers whose error is still too great."""
        return tuple(key for key, estimate in self.estimates.items() if not estimate.settled)


def estimate(case: Case, usual: Mapping[str, float], read: Read, creep: tuple[float, float], steps: float) -> MeshError:
    """Solve on coarser meshes and, as long as a number of ``REFINED_FOR`` has not settled, with finer patches.

    usual: figures on the usual mesh; creep: on the usual mesh and on a coarser one, mm per stroke.
    """
    mesh = Mesh.suited(case)
    elements, _ = read(replace(mesh, element=COARSER * mesh.element))
    patches, ports = read(replace(mesh, patch=COARSER * mesh.patch))
    off = {key: abs(elements[key] - usual[key]) for key in usual}
    found, capped = [patches, usual], False
    for share, narrow_rim in FINER:
        if all(_estimate(key, found, off[key]).settled for key in REFINED_FOR):
            break
        if capped := _GROWTH * ports > MOST_PORTS:
            break
        figures, ports = read(replace(mesh, patch=share * mesh.patch, narrow_rim=narrow_rim))
        found.append(figures)
    estimates = {key: _estimate(key, found, off[key]) for key in usual}
    # The creep is that of the usual mesh, which its strokes were marched on.
    here, there = creep
    estimates["creep"] = Estimate(here, here, abs(there - here) + steps, LEAST["creep"])
    return MeshError(estimates, len(found) - 2, capped, steps)


def _estimate(key: str, found: Sequence[Mapping[str, float]], elements: float) -> Estimate:
    """Of one number on meshes with finer and finer patches, the second of them the usual one; elements: its change
    with coarser elements."""
    values = [figures[key] for figures in found]
    changes = [abs(now - before) for before, now in itertools.pairwise(values)]
    left = max(changes[-1], TRUSTED * changes[-2]) if len(changes) > 1 else changes[-1]
    return Estimate(values[1], values[-1], left + elements, LEAST[key])
