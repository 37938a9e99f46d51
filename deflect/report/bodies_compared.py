"""Plate and solid side by side: the rows of the comparison, once for terminal and document."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.findings import SideBySide
from deflect.model.values import Rectangle
from deflect.report.wording import bare, figure, place, point, unit_shown

_GIGABYTE = 1e9


@dataclass(frozen=True)
class Row:
    """One number from either kind of bodies, as shown; short: said on the terminal as well."""

    title: str
    plate: str
    solid: str
    difference: str
    short: bool = False


def rows(told: SideBySide, plan: Rectangle) -> tuple[Row, ...]:
    """The numbers of both; ``plan``: of the die base, for the place of the greatest gap."""
    plate, solid = told.plate, told.solid
    return (
        _row("Table sag along x", plate.sag_x, solid.sag_x, "mm", short=True),
        _row("Table sag along y", plate.sag_y, solid.sag_y, "mm", short=True),
        _row("Greatest gap below the base", plate.greatest_gap, solid.greatest_gap, "mm", short=True),
        Row("Where", _where(plate.gap_at, plan), _where(solid.gap_at, plan), ""),
        _row("Gap below the middle of the base", plate.centre_gap, solid.centre_gap, "mm"),
        _row("Contact share of the base", 100 * plate.contact_share, 100 * solid.contact_share, "%", short=True),
        _row("Face error under force", plate.face, solid.face, "mm", short=True),
        _row("Bolster's top, middle of the die", plate.table_centre, solid.table_centre, "mm"),
        _row("Die's face, middle of the die", plate.base_centre, solid.base_centre, "mm"),
        _row("Greatest rise of the bolster off its land", plate.corner_lift, solid.corner_lift, "mm"),
        _row("Greatest bending stress of the base", plate.base_stress, solid.base_stress, "MPa"),
        _row("Greatest bending stress of the bolster", plate.bolster_stress, solid.bolster_stress, "MPa"),
    )


def effort(told: SideBySide) -> str:
    """What the solids took, in one sentence."""
    plate, solid = told.plate, told.solid
    return (
        f"Plates: {_count(plate.unknowns)} unknowns. Solids: {_count(solid.unknowns)} unknowns, "
        f"{solid.seconds:.0f} s, {solid.memory / _GIGABYTE:.1f} GB for factors and answers."
    )


def _row(title: str, plate: float, solid: float, unit: str, short: bool = False) -> Row:
    gone = plate - solid
    sign = "+" if bare(gone, unit).strip("0.") and gone > 0 else ""
    return Row(title, figure(plate, unit), figure(solid, unit), f"{sign}{bare(gone, unit)} {unit_shown(unit)}", short)


def _where(at: tuple[float, float], plan: Rectangle) -> str:
    return f"{place(*at, plan)} ({point(*at)})"


def _count(number: int) -> str:
    return f"{number:,}".replace(",", " ")
