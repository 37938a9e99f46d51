"""An advice as plain data: units in the key names, finite numbers only, keys documented in keys.py."""

from __future__ import annotations

import math
from typing import Any

from deflect.faults import printable
from deflect.findings import Advice, Analysis, Finding, MeshError, Outcome, SideBySide, Warned
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.press import SupportPost
from deflect.model.values import StatedInput
from deflect.report import balances, confirm, left_out, versions
from deflect.report.balances import interval
from deflect.report.bed import bed_data, warmth_data
from deflect.report.data_closure import closure_told
from deflect.report.data_creep import creep_evidence, creep_told, holders_told
from deflect.report.data_mass import mass_data
from deflect.report.data_ring import ring_told
from deflect.report.headlines import Headline, change_shown, headlines
from deflect.report.keys import KEYS
from deflect.report.places import added_posts, added_shims
from deflect.report.sentence import what_happens

FORMAT = 1
"""Raised whenever a key changes its meaning or goes."""
WRITTEN_BY = "deflect"
"""First value of every result file: how a later run knows its own."""
# Digits that are kept: more than the mechanics can vouch for, fewer than change from machine to machine.
_DIGITS = 6

Plain = dict[str, Any]


def as_json(advice: Advice) -> Plain:
    """The whole advice as JSON values, in a fixed order."""
    analysis = advice.assessment.analysis
    told: Plain = {
        "written_by": WRITTEN_BY,
        "version": versions.own(),
        "format": FORMAT,
        "case": _case(analysis.case),
        "verdict": advice.verdict.value,
        "what_happens": what_happens(analysis),
        "reasons": list(advice.reasons),
        "would_decide": list(advice.deciders),
        "measurements": [
            {
                "uncertain": m.uncertain,
                "rule": m.rule,
                "how": m.how,
                "at_low": m.at_low,
                "at_high": m.at_high,
                "decides": m.decides,
            }
            for m in advice.measurements
        ],
        "steps": [
            {
                "stage": s.stage.value,
                "remedy": s.remedy,
                "title": s.title,
                "size": s.size,
                "why": s.why,
                "change": change_shown(s, advice),
            }
            for s in advice.steps
        ],
        "against_trade": list(advice.against_trade),
        "unmended": list(advice.unmended),
        "cautions": [_caution(caution) for caution in advice.cautions],
        "forces": _forces(analysis.case),
        "headlines": _headlines(analysis, advice.assessment.findings),
        "details": _details(analysis),
        "bed": bed_data(analysis),
        "warmth": warmth_data(analysis),
        "mass": mass_data(advice),
        "lift_off": balances.lift(analysis),
        "shear_force": balances.shear(analysis),
        "clearance": balances.eaten(analysis),
        "matching": balances.match(analysis),
        "closure": closure_told(analysis),
        "blank_holder": ring_told(analysis),
        "creep": creep_told(analysis),
        "holders": holders_told(analysis),
        "rules": [_rule(finding) for finding in advice.assessment.findings],
        "remedies": [_remedy(outcome, advice) for outcome in advice.outcomes],
        "model_limits": left_out.as_rows(left_out.left_out(analysis)),
        "confirm": confirm.as_rows(confirm.readings(analysis)),
        "evidence": _evidence(analysis),
        "mesh_error": _mesh_error(analysis.mesh_error),
        "side_by_side": _side_by_side(advice.side_by_side),
        "inputs": [_input("press", stated) for stated in analysis.case.press.inputs]
        + [_input("die", stated) for stated in analysis.case.die.inputs],
        "computed_with": [{"name": name, "version": version} for name, version in versions.dependencies()],
    }
    reasons: list[Plain] = []
    return finite(told, reasons) | {"nulls": reasons, "keys": dict(KEYS)}


def finite(told: Plain, reasons: list[Plain]) -> Plain:
    """The same values, rounded; numbers that are none are null, and why is added to ``reasons``."""
    plain = _finite(told, "", reasons)
    assert isinstance(plain, dict)
    return plain


def _finite(value: Any, path: str, reasons: list[Plain]) -> Any:
    """The same values, rounded, with every number that is none turned into null, its reason noted."""
    match value:
        case dict():
            return {key: _finite(part, f"{path}.{key}" if path else key, reasons) for key, part in value.items()}
        case list():
            return [_finite(part, f"{path}[{place}]", reasons) for place, part in enumerate(value)]
        case float() if math.isnan(value):
            reasons.append({"path": path, "reason": "there is no such number here"})
            return None
        case float() if math.isinf(value):
            reasons.append({"path": path, "reason": "without end: never reached, or it slides away"})
            return None
        case str():
            return printable(value, max(10 * len(value), 1))
        case float():
            return float(f"{value:.{_DIGITS}g}")
        case _:
            return value


def _case(case: Case) -> Plain:
    return {
        "die": case.die.name,
        "press": case.press.name,
        "operation": case.die.operation.value,
        "bedded_on": None if case.die.bedded is None else case.die.bedded.press.name,
        "input_hash": case.input_hash,
    }


def _forces(case: Case) -> Plain:
    return {
        "working_force_kN": case.die.working_force / 1e3,
        "cushion_force_kN": case.die.cushion_force / 1e3,
        "table_force_kN": case.table_force / 1e3,
        "base_force_kN": case.base_force / 1e3,
        "rated_force_kN": case.press.rated_force / 1e3,
        "cushion_hangs_on_bolster": case.cushion_hangs,
    }


def _headlines(analysis: Analysis, findings: tuple[Finding, ...]) -> Plain:
    told = {number.key: _headline(number) for number in headlines(analysis, findings)}
    x, y = analysis.solution.greatest_gap_at
    told["greatest_gap_mm"] |= {"x_mm": x, "y_mm": y}
    told["creep_um_per_stroke"] |= {"held_by_keys": analysis.creep.held}
    return told


def _headline(number: Headline) -> Plain:
    return interval(number.value) | {
        "limit": number.limit,
        "at_most": None if number.limit is None else number.at_most,
        "status": None if number.status is None else number.status.value,
        "where": number.where,
        "note": number.note,
        "driver": number.driver,
    }


def _details(analysis: Analysis) -> Plain:
    solution, sag = analysis.solution, analysis.solution.sag
    return {
        "sag_along_x_mm": sag.along_x,
        "sag_along_y_mm": sag.along_y,
        "reference_length_mm": sag.reference_length,
        "reference_width_mm": sag.reference_width,
        "sinking_mm": sag.sinking,
        "centre_gap_mm": solution.centre_gap,
        "pressure_inside_MPa": solution.pressure_inside,
        "base_stress_MPa": solution.base_stress,
        "bolster_stress_MPa": solution.bolster_stress,
        "land_share_percent": solution.land_share * 100,
        "corner_lift_mm": solution.corner_lift,
        "bed_stiffness_N_per_mm3": interval(analysis.bed_stiffness),
        "acceptance_sag_mm_per_m": analysis.acceptance_slope * 1e3,
        "creep_is_steady": bool(analysis.creep.march.steady),
    }


def _rule(finding: Finding) -> Plain:
    rule, reading = finding.rule, finding.reading
    return {
        "id": rule.id,
        "title": rule.title,
        "question": rule.question,
        "trouble": rule.trouble.value,
        "status": finding.status.value,
        "unit": rule.unit,
        "value": None if reading is None else interval(reading.value),
        "limit": None if reading is None else reading.limit,
        "at_most": None if reading is None else reading.at_most,
        "where": "" if reading is None else reading.where,
        "note": "" if reading is None else reading.note,
        "reason": finding.reason,
        "formula": rule.formula,
        "why": rule.why,
        "source": rule.source.text,
        "tag": rule.source.tag.value,
    }


def _remedy(outcome: Outcome, advice: Advice) -> Plain:
    remedy, proposal = outcome.remedy, outcome.proposal
    before = {finding.rule.id: finding for finding in advice.assessment.findings}
    return {
        "id": remedy.id,
        "title": remedy.title,
        "size": proposal.size,
        "is_cure": outcome.is_cure,
        "confirmed": outcome.confirmed,
        "cured": list(outcome.cured),
        "left": list(outcome.left),
        "worsened": list(outcome.worsened),
        "hours": remedy.hours,
        "effort": remedy.effort,
        "stage": remedy.stage.value,
        "who": remedy.who,
        "when": remedy.when,
        "drawback": remedy.drawback,
        "hazard": remedy.hazard,
        "hazard_of_this_size": proposal.hazard,
        "source": remedy.source.text,
        "tag": remedy.source.tag.value,
        "shims": [_shim(shim) for shim in added_shims(outcome, advice.assessment.analysis.case)],
        "posts": [_post(post) for post in added_posts(outcome, advice.assessment.analysis.case)],
        "headlines_after": _headlines(outcome.analysis, outcome.findings),
        "rules_before_and_after": [_before_after(before.get(after.rule.id), after) for after in outcome.findings],
    }


def _shim(shim: Shim) -> Plain:
    area = shim.area
    return {
        "x_mm": area.x,
        "y_mm": area.y,
        "length_mm": area.length,
        "width_mm": area.width,
        "thickness_mm": shim.thickness,
    }


def _post(post: SupportPost) -> Plain:
    return {
        "table_x_mm": post.x,
        "table_y_mm": post.y,
        "head_mm": post.head,
        "left_open_mm": post.gap,
        "stiffness_kN_per_mm": post.stiffness / 1e3,
    }


def _before_after(before: Finding | None, after: Finding) -> Plain:
    return {
        "id": after.rule.id,
        "unit": after.rule.unit,
        "status_before": None if before is None else before.status.value,
        "value_before": None if before is None or before.value is None else interval(before.value),
        "status_after": after.status.value,
        "value_after": None if after.value is None else interval(after.value),
        "limit": after.limit,
    }


def _caution(caution: Warned) -> Plain:
    return {
        "id": caution.id,
        "heading": caution.heading,
        "words": list(caution.words),
        "numbers": list(caution.numbers),
        "ask": caution.defer,
        "source": caution.source.text,
        "tag": caution.source.tag.value,
    }


def _evidence(analysis: Analysis) -> Plain:
    evidence = analysis.solution.evidence
    return {
        "force_balance_share": float(evidence.force_balance),
        "moment_balance_share": float(evidence.moment_balance),
        "complementarity_share": float(evidence.complementarity),
        "active_set_exchanges": int(evidence.exchanges),
        "plate_unknowns": int(evidence.plate_unknowns),
        "contact_unknowns": int(evidence.contact_unknowns),
        "range_samples": int(analysis.spread.samples),
    } | creep_evidence(analysis)


def _mesh_error(error: MeshError | None) -> Plain | None:
    if error is None:
        return None
    found = error.estimates
    return {
        "sag_error_mm": found["sag"].error,
        "gap_error_mm": found["gap"].error,
        "face_error_mm": found["face"].error,
        "contact_share_error_percent": found["contact_share"].error * 100,
        "creep_error_um": found["creep"].error * 1e3,
        "base_stress_error_MPa": found["base_stress"].error,
        "bolster_stress_error_MPa": found["bolster_stress"].error,
        "pressure_error_MPa": found["pressure"].error,
        "finer_meshes": error.finer,
        "finest_is_capped": error.capped,
        "not_settled": list(error.unsettled),
    }


def _side_by_side(told: SideBySide | None) -> Plain | None:
    if told is None:
        return None
    return {
        of: {
            "sag_along_x_mm": answer.sag_x,
            "sag_along_y_mm": answer.sag_y,
            "gap_mm": answer.greatest_gap,
            "gap_x_mm": answer.gap_at[0],
            "gap_y_mm": answer.gap_at[1],
            "centre_gap_mm": answer.centre_gap,
            "contact_percent": answer.contact_share * 100,
            "face_error_range_mm": answer.face,
            "table_centre_mm": answer.table_centre,
            "base_centre_mm": answer.base_centre,
            "corner_lift_mm": answer.corner_lift,
            "base_stress_MPa": answer.base_stress,
            "bolster_stress_MPa": answer.bolster_stress,
            "body_unknowns": answer.unknowns,
            "contact_unknowns": answer.contact_unknowns,
            "time_s": answer.seconds,
            "memory_GB": answer.memory / 1e9,
        }
        for of, answer in (("plate", told.plate), ("solid", told.solid))
    }


def _input(of: str, stated: StatedInput) -> Plain:
    return {
        "of": of,
        "key": stated.key,
        "value_shown": stated.shown,
        "origin": stated.origin,
        "is_default": stated.is_default,
    }
