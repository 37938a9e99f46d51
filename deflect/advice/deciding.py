"""What would decide an undecided case: which input, how to measure it, what each outcome would mean."""

from __future__ import annotations

from deflect.advice.judging import judge
from deflect.findings import Assessment, Finding, Measurement, Status, Trouble
from deflect.mechanics.analysis import analyse_at_end
from deflect.mechanics.draws import UNCERTAIN

# How many inputs are named: one or two decide, more is a research project.
_MOST = 2
_TWO_DIALS = "Two dials at one end of the base, one on the base, one on the table beside it, through one stroke."
_HEADLINE = {
    Trouble.SAG: "sag_slope",
    Trouble.GAP: "gap",
    Trouble.ROCKING: "contact_share",
    Trouble.FACE: "face",
    Trouble.CREEP: "creep",
}
# How a fitter measures each input (common practice, no source).
HOW = {
    "land stiffness": "Dial on the bolster's top over the land, its foot on the floor beside the bed: zero it without "
    "force, read it under a known force; the movement over the land is the bed's.",
    "hold-down of the bolster": "Count the bolts or clamps that hold the bolster down, try them with the torque "
    "wrench, and put a dial on a corner of the bolster: if it rises under force, they do not hold.",
    "local give at the land": "Feeler gauge between bolster and bed at the opening's edge, with and without force.",
    "local give of the contact": "Blue the underside of the base, load it once, and compare the marked area.",
    "friction": "Pull the free lower half with a load cell until it slips; divide by its weight.",
    "table out of level": "Precision level on the cleaned bolster along x and y, and once more turned end for end.",
    "side thrust": "Dial against the base along x and along y, zeroed before the stroke, read at the bottom and after "
    "it; witness marks on base and table after fifty strokes.",
    "one-sided cutting": "Dial against the base across the open end of the trim line, zeroed before and read "
    "at the bottom: with and without a sheet.",
    "force off the press's centre": "Dials between slide and table at the four corners, read at the bottom of the "
    "stroke: the tilt of the slide tells how far the force is off.",
    "tangential give": _TWO_DIALS,
    "joint stiffness": _TWO_DIALS,
    "effective thickness of the bolster": "deflect calibrate with more dials over the bed opening, or a greater force.",
    "walls of the bed": "Dials on the bolster over the middle of each wall and over the columns, under a known force; "
    "deflect calibrate finds the walls from them.",
    "warmth of the die base": "Contact thermometer on the base's top and on its underside near the edge, after an hour "
    "of running.",
    "warmth of the bolster": "Contact thermometer on the bolster's top and from below in the bed opening, after an "
    "hour of running.",
    "land stiffness of the press it was bedded on": "The same dial over the land of that press, under a known force.",
}


def measurements(before: Assessment) -> tuple[Measurement, ...]:
    """The one or two inputs that move the undecided rules most, solved at both of their ends."""
    drivers = dict(before.analysis.spread.drivers)
    undecided = [f for f in before.findings if f.status is Status.UNDECIDED]
    told: dict[str, Measurement] = {}
    for finding in undecided:
        name = drivers.get(_HEADLINE.get(finding.rule.trouble, ""))
        if name is not None and name not in told and len(told) < _MOST:
            told[name] = _measurement(before, finding, name)
    return tuple(told.values())


def _measurement(before: Assessment, finding: Finding, name: str) -> Measurement:
    assert name in UNCERTAIN
    case, worst = before.analysis.case, before.analysis.creep.thrust_direction
    like = before.analysis.mesh_error
    ends = [judge(finding.rule, analyse_at_end(case, name, end, worst, like)) for end in (0.0, 1.0)]
    return Measurement(
        uncertain=name,
        rule=finding.rule.id,
        how=HOW[name],
        at_low=_words("low", ends[0]),
        at_high=_words("high", ends[1]),
    )


def _words(end: str, finding: Finding | None) -> str:
    if finding is None or finding.reading is None:
        return f"at the {end} end of its range: not to be said"
    value = f"{finding.reading.value.nominal:.3g} {finding.rule.unit}"
    return f"at the {end} end of its range, all else usual: {finding.rule.title} {value}, {finding.status.value}"
