"""The cross-check cases solved with Pynite, a general-purpose structural finite element library (MIT licence).

    pip install 'deflect[cross]'
    python tests/cross/by_pynite.py

solves every case on three meshes, each half as coarse as the one before, and writes the figures, with the library's
version and the day, to deflect/checks/exact/by_pynite.toml.  Its quadrilaterals (DKMQ: I. Katili, Int. J. Numer.
Methods Eng. 36 (1993) 1885) have nothing in common with ours but the theory; springs stand at its nodes.
"""

from __future__ import annotations

import datetime
import functools
import importlib.metadata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from Pynite import FEModel3D

from deflect.checks.bench.cross_cases import BEDDED, OPENED, STACKED, Bedded, Slab
from deflect.model.values import Rectangle

FROZEN = Path(__file__).parents[2] / "deflect" / "checks" / "exact" / "by_pynite.toml"
SIZES = (100.0, 50.0, 25.0)
# What carries the plates sideways and about their normal does not matter: nothing pushes that way.
_HELD = {"support_DX": True, "support_DY": True, "support_RZ": True}
_EXCHANGES = 40


@dataclass
class Sheet:
    """One plate of a model: names of its nodes by place."""

    model: FEModel3D
    slab: Slab
    size: float
    level: float
    quarter: bool = False
    nodes: dict[tuple[float, float], str] = field(default_factory=dict)

    def lay(self, opening: Rectangle | None = None) -> None:
        """Nodes, quadrilaterals and what holds them in plane; a quarter is held by symmetry on the axes."""
        plan, tag = self.slab.plan, f"s{self.level:g}"
        elastic = self.slab.youngs_modulus
        self.model.add_material(tag, elastic, elastic / (2 * (1 + self.slab.poisson)), self.slab.poisson, 0.0)
        x = self._lines(0.0 if self.quarter else plan.left, plan.right)
        y = self._lines(0.0 if self.quarter else plan.front, plan.back)
        for a in x:
            for b in y:
                self.nodes[(a, b)] = self.model.add_node(f"{tag} {a:g} {b:g}", a, b, self.level)
        used = set()
        for a, b in self.cells(Rectangle((x[0] + x[-1]) / 2, (y[0] + y[-1]) / 2, x[-1] - x[0], y[-1] - y[0])):
            if opening is not None and _within(opening, a + self.size / 2, b + self.size / 2):
                continue
            corners = [(a, b), (a + self.size, b), (a + self.size, b + self.size), (a, b + self.size)]
            used.update(corners)
            self.model.add_quad(f"{tag} {a:g} {b:g}", *(self.nodes[c] for c in corners), self.slab.thickness, tag)
        for place in set(self.nodes) - used:
            self.model.delete_node(self.nodes.pop(place))
        for (a, b), node in self.nodes.items():
            turns = {"support_RY": self.quarter and a == 0.0, "support_RX": self.quarter and b == 0.0}
            self.model.def_support(node, **_HELD, **turns)

    def _lines(self, low: float, high: float) -> list[float]:
        return np.linspace(low, high, round((high - low) / self.size) + 1).tolist()

    def cells(self, area: Rectangle) -> Iterator[tuple[float, float]]:
        """Lower corners of the cells within an area that the mesh follows."""
        for a in self._lines(area.left, area.right)[:-1]:
            for b in self._lines(area.front, area.back)[:-1]:
                if not self.quarter or (a >= 0 and b >= 0):
                    yield a, b

    def shares(self, area: Rectangle, without: Rectangle | None = None) -> dict[tuple[float, float], float]:
        """The area, mm2, that each node stands for."""
        found: dict[tuple[float, float], float] = {}
        for a, b in self.cells(area):
            if without is not None and _within(without, a + self.size / 2, b + self.size / 2):
                continue
            for corner in ((a, b), (a + self.size, b), (a, b + self.size), (a + self.size, b + self.size)):
                found[corner] = found.get(corner, 0.0) + self.size**2 / 4
        return found

    def press(self, area: Rectangle, pressure: float, without: Rectangle | None = None) -> None:
        """An even downward pressure, MPa."""
        for place, share in self.shares(area, without).items():
            self.model.add_node_load(self.nodes[place], "FZ", -pressure * share)

    def down(self, place: tuple[float, float]) -> float:
        """Deflection downwards at a node, mm."""
        return -float(self.model.nodes[self.nodes[place]].DZ["Combo 1"])


def _within(area: Rectangle, x: float, y: float) -> bool:
    return area.left < x < area.right and area.front < y < area.back


def _keep_matrices(model: FEModel3D) -> None:
    """Ask each quadrilateral for its matrix once: exchanges of springs leave it as it is."""
    for quad in model.quads.values():
        quad.Ke = functools.cache(quad.Ke)


def opened(size: float) -> dict[str, float]:
    """Deflection downwards at each place, mm."""
    sheet = Sheet(FEModel3D(), OPENED.slab, size, 0.0)
    sheet.lay(OPENED.opening)
    ends = (OPENED.slab.plan.left, OPENED.slab.plan.right)
    for (a, _), node in sheet.nodes.items():
        if a in ends:
            sheet.model.def_support(node, **_HELD, support_DZ=True)
    sheet.press(OPENED.slab.plan, OPENED.pressure, OPENED.opening)
    sheet.model.analyze(check_stability=False)
    return {f"w at {a:g}, {b:g}": sheet.down((a, b)) for a, b in OPENED.places}


def _bed(sheet: Sheet, case: Bedded) -> None:
    """Springs that only press, at the nodes of the land."""
    for place, share in sheet.shares(case.slab.plan, case.bare).items():
        sheet.model.def_support_spring(sheet.nodes[place], "DZ", case.springs * share, "-")


def bedded(size: float) -> dict[str, float]:
    """Deflection downwards at each place, mm, and the share of the land that carries.  A quarter, by symmetry."""
    sheet = Sheet(FEModel3D(), BEDDED.slab, size, 0.0, True)
    sheet.lay()
    _bed(sheet, BEDDED)
    sheet.press(BEDDED.loaded, BEDDED.force / (BEDDED.loaded.length * BEDDED.loaded.width))
    _keep_matrices(sheet.model)
    sheet.model.analyze(check_stability=False, max_iter=_EXCHANGES)
    land = sheet.shares(BEDDED.slab.plan, BEDDED.bare)
    carries = sum(share for place, share in land.items() if sheet.down(place) > 0)
    figures = {f"w at {a:g}, {b:g}": sheet.down((a, b)) for a, b in BEDDED.places}
    return figures | {"share of the land that carries": carries / sum(land.values())}


def stacked(size: float) -> dict[str, float]:
    """Deflections downwards of the lower plate, gaps between the plates, mm, and the share of the upper one in contact.

    The library opens springs between plates but never closes them again, so the set is exchanged here: springs are
    closed where the plates overlap and open where they would pull, until nothing changes.  A quarter, by symmetry.
    """
    model = FEModel3D()
    below, upper = (Sheet(model, s, size, z, True) for s, z in ((STACKED.below.slab, 0.0), (STACKED.upper, 1e3)))
    below.lay()
    upper.lay()
    _bed(below, STACKED.below)
    loaded = STACKED.below.loaded
    upper.press(loaded, STACKED.below.force / (loaded.length * loaded.width))
    _keep_matrices(model)
    touching = upper.shares(STACKED.upper.plan)
    closed = set(touching)
    for _ in range(_EXCHANGES):
        model.springs.clear()
        for a, b in closed:
            stiffness = STACKED.between * touching[(a, b)]
            model.add_spring(f"c {a:g} {b:g}", below.nodes[(a, b)], upper.nodes[(a, b)], stiffness)
        model.analyze(check_stability=False, max_iter=_EXCHANGES)
        overlap = {place for place in touching if upper.down(place) > below.down(place)}
        if overlap == closed:
            break
        closed = overlap
    else:
        raise RuntimeError("the contact did not settle")
    figures = {f"w at {a:g}, {b:g}": below.down((a, b)) for a, b in STACKED.below.places}
    figures |= {f"gap at {a:g}, {b:g}": below.down((a, b)) - upper.down((a, b)) for a, b in STACKED.gaps}
    share = sum(touching[place] for place in closed) / sum(touching.values())
    return figures | {"share of the upper plate in contact": share}


CASES: Mapping[str, Callable[[float], dict[str, float]]] = {"opened": opened, "bedded": bedded, "stacked": stacked}


def main() -> None:
    """Solve everything and write it down."""
    version = importlib.metadata.version("PyNiteFEA")
    lines = [
        "# Written by tests/cross/by_pynite.py; not to be edited.  Lengths in mm, forces in N.",
        'library = "Pynite (PyNiteFEA)"',
        f'version = "{version}"',
        f'made = "{datetime.date.today().isoformat()}"',
        f"sizes = {list(SIZES)}",
    ]
    for name, solve in CASES.items():
        levels = [solve(size) for size in SIZES]
        lines += ["", f"[{name}]", *(f'"{key}" = {[level[key] for level in levels]}' for key in levels[0])]
    FROZEN.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
