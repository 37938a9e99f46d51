"""Plates set against a general-purpose structural finite element library; its figures are frozen."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial
from importlib import resources
from typing import Any

from deflect.checks.bench.cross_plates import bedded, opened, stacked
from deflect.checks.check import Check, Row
from deflect.sources import Source, Tag

ORDER, HEADING = 95, "Against a general-purpose structural solver"


@cache
def frozen() -> Mapping[str, Any]:
    """Library, version, day, mesh sizes (mm) and the figures of every case on each of them."""
    text = resources.files("deflect.checks.exact").joinpath("by_pynite.toml").read_text("utf-8")
    return tomllib.loads(text)


def limit(levels: Sequence[float]) -> float:
    """What three meshes, each half as coarse as the one before, tend to (A. C. Aitken, Proc. R. Soc. Edinb. 46
    (1926) 289); the finest one's figure where the differences do not shrink."""
    coarse, middle, fine = levels
    before, last = middle - coarse, fine - middle
    if abs(last) >= abs(before) or last * before <= 0:
        return fine
    return fine + last**2 / (before - last)


def _rows(name: str, ours: Callable[[], Mapping[str, float]], share: float, shares_within: float) -> Sequence[Row]:
    """Each figure against the library's: lengths as a share of the greatest, areas as they are."""
    figures = {key: limit(levels) for key, levels in frozen()[name].items()}
    greatest = max(abs(value) for key, value in figures.items() if key.startswith("w "))
    computed = ours()
    within = {key: share * greatest if key.startswith(("w ", "gap ")) else shares_within for key in figures}
    return [Row(key, value, computed[key], within[key], absolute=True) for key, value in figures.items()]


def _source() -> Source:
    told = frozen()
    sizes = ", ".join(f"{size:g}" for size in told["sizes"])
    return Source(
        f"{told['library']} {told['version']}, run {told['made']} on meshes of {sizes} mm and taken to their limit "
        "(tests/cross/by_pynite.py)",
        Tag.PUBLISHED,
    )


_REMARK = "figures of another program, not of a book; the same equations, other elements, other contact search"

CHECKS = (
    Check(
        "G01",
        "A thick plate with an opening off its middle, on two opposite supports, under even pressure.",
        _source(),
        "deflect.mechanics.plate.Plate",
        "The library's last two meshes differ by 0.3 %, their limit is known to a tenth of that.",
        {"": partial(_rows, "opened", opened, 1e-3, 0.0)},
        _REMARK,
    ),
    Check(
        "G02",
        "A bolster on springs that only press, round a bed opening: it sags and its corners lift.",
        _source(),
        "deflect.mechanics.contact.solve_contact",
        "Elements of 100 mm; with 50 mm the difference of 0.35 % falls to 0.13 %.  The share counts whole patches, "
        "0.017 off; springs of 0.7 of the stiffness put it 0.06 off, a contact search given up after two rounds 0.022.",
        {"": partial(_rows, "bedded", bedded, 6e-3, 0.02)},
        _REMARK,
    ),
    Check(
        "G03",
        "A die base on a bolster on a land, both contacts only press: it bridges the bolster's sag.",
        _source(),
        "deflect.mechanics.standing.Standing",
        "Elements of 100 mm, patches of 50 mm; with 50 mm the difference of 0.7 % falls to 0.4 %.  The share counts "
        "whole patches, 0.021 off; springs half as stiff between the plates put it 0.18 off.",
        {"": partial(_rows, "stacked", stacked, 1e-2, 0.025)},
        _REMARK,
    ),
)
