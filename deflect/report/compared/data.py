"""A comparison as plain data: units in the key names, finite numbers only."""

from __future__ import annotations

from typing import Any

from deflect.compare import BeddingPlan, Compared, Comparison
from deflect.compare.sides import Side
from deflect.findings import Finding, Warned
from deflect.mechanics.difference import Difference
from deflect.mechanics.likeness import Likeness
from deflect.model.values import Interval
from deflect.report import versions
from deflect.report.balances import interval
from deflect.report.compared import words
from deflect.report.data import WRITTEN_BY, finite
from deflect.sizing.emulation import Measure

FORMAT = 1
Plain = dict[str, Any]
_UNITS = {"%": "percent", "µm": "um"}
KEYS = {
    "verdict": "behaves alike, alike after measures, bedding must be redone, does not go in as it stands",
    "if_it_went_in": "the verdict, were it not for heights, slots, pins and masses",
    "tolerance_mm": "of the face's difference, greatest less least, after the best rigid fit",
    "face": "of the working surface: stand-in less production press; positive: stands higher on the stand-in",
    "table": "of the bolster's top below the die, wear included, in the same sense",
    "closure": "of what parts lower and upper face; null where a slide or the upper die is not described",
    "spread_mm": "greatest less least",
    "sure_percent": "share of the draws that agree with the verdict at the usual values",
    "decided_by": "the inputs that move the difference most, the strongest first",
    "continuous_mm": "what shims of any thickness on the same fields would leave",
    "short_by_mm": "by how much the best measure misses the tolerance; 0 where one reaches it",
    "bedding": "zones of the face: what to bed in on the stand-in, what to leave, what to check again",
    "x_mm, y_mm": "places on the die, from its middle; x to the right, y to the rear",
}


def comparison_json(told: Comparison) -> Plain:
    """The whole comparison as JSON values, in a fixed order."""
    plain: Plain = {
        "written_by": WRITTEN_BY,
        "version": versions.own(),
        "format": FORMAT,
        "die": told.production.case.die.name,
        "tolerance_mm": told.tolerance,
        "shim_step_mm": told.shim_step,
        "shim_field_mm": told.shim_field,
        "closure_compared": told.closure,
        "production": _side(told.production),
        "standins": [_standin(one, told) for one in told.compared],
        "cautions": [_caution(one) for one in told.cautions],
    }
    reasons: list[Plain] = []
    return finite(plain, reasons) | {"nulls": reasons, "keys": KEYS}


def _side(side: Side) -> Plain:
    return {
        "press": side.case.press.name,
        "working_force_kN": side.case.die.working_force / 1e3,
        "cushion_force_kN": side.case.die.cushion_force / 1e3,
        "force": side.remark,
        "goes_in": side.goes_in,
        "lacking": list(side.lacking),
        "mounting": [_finding(finding) for finding in side.mounting],
    }


def _finding(finding: Finding) -> Plain:
    value, limit = finding.value, finding.limit
    return {
        "rule": finding.rule.id,
        "status": finding.status.value,
        "value": None if value is None else value.nominal,
        "limit": limit,
        "unit": finding.rule.unit,
        "reason": finding.reason,
    }


def _standin(one: Compared, told: Comparison) -> Plain:
    plain = _side(one.side) | {"verdict": one.verdict.value, "if_it_went_in": one.if_it_went_in.value}
    if one.solved is None or one.likeness is None:
        return plain | {"failed": one.failed}
    found = one.emulation
    return plain | {
        "sure_percent": 100 * one.sure,
        "decided_by": list(one.likeness.drivers),
        "numbers": {
            f"{row.key}_{_UNITS.get(row.unit, row.unit)}": {
                "production": interval(row.production),
                "standin": interval(row.standin),
                "difference": row.standin.nominal - row.production.nominal,
            }
            for row in words.rows(told.solved, one.solved)
        },
        **_likeness(one.likeness),
        "closure": _closure(one.closure),
        "closure_after": _closure(one.closure_after),
        "short_by_mm": 0.0 if found is None else found.short_by,
        "measures": [] if found is None else [_measure(m, one, told) for m in found.measures],
        "chosen": None if found is None or found.chosen is None else found.chosen.kind.value,
        "after": None if one.after is None else _likeness(one.after) | {"alike_percent": 100 * one.after.alike},
        "bedding": None if one.bedding is None else _bedding(one.bedding),
        "cautions": [_caution(caution) for caution in one.cautions],
    }


def _likeness(alike: Likeness) -> Plain:
    return {
        "face": _difference(alike.face, alike.face_spread),
        "table": _difference(alike.table, alike.table_spread),
    }


def _closure(told: Difference | None) -> Plain | None:
    return None if told is None else _difference(told, Interval.exactly(told.spread))


def _difference(told: Difference, spread: Interval) -> Plain:
    return {
        "greatest_mm": told.greatest,
        "x_mm": told.at[0],
        "y_mm": told.at[1],
        "rms_mm": told.rms,
        "spread_mm": interval(spread),
    }


def _measure(measure: Measure, one: Compared, told: Comparison) -> Plain:
    before = one.side.case
    posts = measure.case.press.bed.posts[len(before.press.bed.posts) :]
    return {
        "kind": measure.kind.value,
        "size": words.size(measure, before),
        "price": words.PRICE[measure.kind],
        "left_mm": measure.left.spread,
        "stands": one.emulation is None or one.emulation.stands(measure),
        "within_tolerance": measure.left.spread <= told.tolerance,
        "continuous_mm": measure.continuous,
        "greatest_gap_mm": measure.told.gap,
        "contact_share_percent": 100 * measure.told.contact_share,
        "working_force_kN": measure.case.die.working_force / 1e3,
        "shims": [
            {"x_mm": s.area.x, "y_mm": s.area.y, "length_mm": s.area.length, "width_mm": s.area.width,
             "thickness_mm": s.thickness}
            for s in measure.shims[len(before.die.placing.shims) :]
        ],
        "posts": [{"x_mm": p.x, "y_mm": p.y, "gap_mm": p.gap} for p in posts],
    }  # fmt: skip


def _bedding(plan: BeddingPlan) -> Plain:
    return {
        "time_and_risk": words.time_and_risk(plan),
        "zones": [
            {
                "place": f"{zone.row} {zone.column}",
                "action": zone.action.value,
                "difference_mm": zone.difference,
                "at_worst_mm": zone.at_worst,
            }
            for zone in plan.zones
        ],
    }


def _caution(caution: Warned) -> Plain:
    return {
        "id": caution.id,
        "heading": caution.heading,
        "words": list(caution.words),
        "numbers": list(caution.numbers),
        "defer": caution.defer,
    }
