"""One advice for all report tests: real mechanics, a handful of made-up rules, a remedy and a caution."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from deflect.casefile import read_case
from deflect.findings import (
    Advice,
    Analysis,
    Assessment,
    Finding,
    Lighter,
    Measurement,
    NotChecked,
    Outcome,
    Proposal,
    Reading,
    Remedy,
    Rule,
    Spread,
    Stage,
    Status,
    Step,
    Trouble,
    Verdict,
    Warned,
)
from deflect.mechanics.analysis import analyse as really_analyse
from deflect.mechanics.meeting import Meeting
from deflect.mechanics.mesh_error import LEAST, Estimate, MeshError
from deflect.mechanics.side_by_side import Answer, SideBySide
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.press import SupportPost
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Interval, Rectangle, StatedInput
from deflect.sources import PRACTICE, Source, Tag

HOSTILE = "<script>alert('x')</script> [bold]die[/bold] $x_2$ {{ 7*7 }} & \x1b[31m\u202e\x00 " + "long" * 100
"""A name that tries to be markup, mathematics, a template and a control sequence."""


def around(value: float, share: float = 0.2) -> Interval:
    """The value with a range."""
    return Interval(value * (1 - share), value, value * (1 + share))


def analyse(case: Case) -> Analysis:
    """A case solved at its usual inputs and at both corners of their ranges, with invented ranges."""
    solved = really_analyse(case, samples=2, mesh_error=False)
    solution, free = solved.solution, solved.creep.free
    spread = Spread(
        sag=around(max(solution.sag.along_x, solution.sag.along_y)),
        sag_slope=around(solution.sag.slope),
        gap=around(solution.greatest_gap),
        contact_share=Interval(
            0.8 * solution.contact_share, solution.contact_share, min(1.0, 1.2 * solution.contact_share)
        ),
        face=around(solution.face.error_range),
        creep=around(free, 0.6),
        strokes=around(solved.met.strokes, 0.6),
        base_stress=around(solution.base_stress),
        bolster_stress=around(solution.bolster_stress),
        pressure=around(solution.pressure_inside),
        samples=16,
        drivers=(
            ("sag", "stiffness of the land"),
            ("sag_slope", "stiffness of the land"),
            ("gap", "stiffness of the land"),
            ("creep", "friction"),
            ("strokes", "friction"),
        ),
        met=tuple(Meeting("half of the cutting clearance is used up", n) for n in (9.7, 61.2, 61.4, 700.0)),
        seconds=(("creep", "side thrust"),),
    )
    estimates = {key: Estimate(least, least, 0.5 * least, least) for key, least in LEAST.items()}
    estimates["gap"] = Estimate(solution.greatest_gap, solution.greatest_gap, 0.004, 0.002)
    error = MeshError(estimates, finer=2, capped=True, steps=0.0001)
    return replace(solved, face=solution.face, spread=spread, mesh_error=error)


def _nothing(analysis: Analysis) -> NotChecked:
    return NotChecked("not asked here")


def rule(identity: str, trouble: Trouble, unit: str) -> Rule:
    """A rule that is only shown."""
    return Rule(
        id=identity,
        title=f"{trouble.value.capitalize()} in bounds",
        question=f"Does the {trouble.value} stay in bounds?",
        trouble=trouble,
        unit=unit,
        formula="number = what is measured",
        why="Beyond it the part suffers.",
        source=PRACTICE,
        breaks="a case that breaks it",
        holds="a case that holds it",
        measure=_nothing,
    )


def finding(known: Rule, status: Status, value: Interval | None, limit: float | None, where: str = "") -> Finding:
    """A finding with a reading, or without where there is no value."""
    if value is None:
        return Finding(known, status, None, "the press file gives no permitted offset")
    return Finding(known, status, Reading(value, limit, True, where))


def findings_of(analysis: Analysis) -> tuple[Finding, ...]:
    """Five findings, one of each status."""
    gap = analysis.spread.gap
    return (
        finding(rule("table-sag", Trouble.SAG, "mm/m"), Status.HOLDS, around(0.08), 0.17),
        finding(
            rule("gap", Trouble.GAP, "mm"),
            Status.BREAKS if gap.nominal > 0.03 else Status.HOLDS,
            gap,
            0.03,
            "below the middle of the base",
        ),
        finding(rule("creep", Trouble.CREEP, "strokes"), Status.UNDECIDED, Interval(9e3, 2e4, math.inf), 1e4),
        finding(rule("offset", Trouble.OFFSET, "mm"), Status.NOT_CHECKED, None, None),
        finding(rule("pressure", Trouble.PRESSURE, "MPa"), Status.REPORTED, Interval.exactly(12.3), None),
    )


def shimmed(before: Analysis) -> Analysis:
    """What a shim and a post might make of it: a smaller gap, nothing solved anew."""
    shim = Shim(Rectangle(0.0, 0.0, 1200.0, 600.0), 0.05)
    placing = replace(before.case.die.placing, shims=(shim,))
    post = SupportPost(-300.0, 250.0, 2e6, 0.05, 200.0)
    bed = replace(before.case.press.bed, posts=(post,))
    case = Case(replace(before.case.press, bed=bed), replace(before.case.die, placing=placing))
    return replace(before, case=case, spread=replace(before.spread, gap=around(0.02)))


PLATE = Answer(
    sag_x=0.0912,
    sag_y=0.0973,
    sag_slope=7.4e-5,
    greatest_gap=0.0624,
    gap_at=(0.0, 0.0),
    centre_gap=0.0624,
    contact_share=0.55,
    face=0.0507,
    table_centre=-0.194,
    base_centre=-0.231,
    corner_lift=0.0397,
    base_stress=5.5,
    bolster_stress=12.0,
    unknowns=5346,
    contact_unknowns=853,
    seconds=0.9,
    memory=4.1e7,
)
"""An invented answer of plates; solids answer a little less."""


def advise_by_hand(before: Analysis) -> Advice:
    """An advice with one remedy that cures the gap."""
    after = shimmed(before)
    remedy = Remedy(
        id="shim",
        title="Captive shim below the void",
        cures=frozenset({Trouble.GAP}),
        effort="half a day, toolroom",
        hours=4.0,
        stage=Stage.TRYOUT,
        who="toolroom",
        when="before the next tryout",
        drawback="Holds for this press only; must come out on any other.",
        hazard="A shim that comes loose travels; it must be captive.",
        source=PRACTICE,
        proposals=lambda analysis: iter(()),
    )
    caution = Warned(
        id="lifting",
        heading="Lifting the die",
        words=("Nobody under a raised load or in its swing.", "Die blocks in before hands go in."),
        numbers=("Lower half 9.5 t, upper half 8.2 t.", "Force in each of two legs counted: 54 kN."),
        defer="The lift is approved by a competent person under local rules, not by this program.",
        source=Source("statics", Tag.DERIVED),
    )
    locked = replace(caution, id="energy", heading="Energy locked out", numbers=())
    return Advice(
        verdict=Verdict.WITH_MEASURES,
        reasons=("The gap below the middle is greater than allowed; a shim cures it.",),
        assessment=Assessment(before, findings_of(before)),
        outcomes=(Outcome(remedy, Proposal(after.case, "0.05 mm, 1200 x 600 mm"), after, findings_of(after),
                          ("gap",), ("creep",), ("table-sag",), True),),
        cautions=(caution, locked),
        deciders=("friction",),
        measurements=(Measurement("friction", "creep", "Pull it.", "low: breaks", "high: holds"),),
        side_by_side=SideBySide(PLATE, replace(PLATE, sag_x=0.0826, unknowns=107_490, seconds=61.0, memory=1.42e9)),
        lighter=(Lighter("as it is", 6777.0, 0.05, 0.057, 8.3), Lighter("thin ribs", 6193.0, 0.052, 0.062, 9.3)),
        steps=(Step(Stage.TRYOUT, "shim", "Shim it", "0.05 mm", "The gap is 0.1 mm.", "Gap 0.1 to 0.02 mm"),),
    )  # fmt: skip


def hostile_case() -> Case:
    """A case all of whose names are hostile."""
    case = read_case("rowan-trim", "alder-10mn")
    stated = StatedInput(HOSTILE, HOSTILE, HOSTILE, False)
    die = replace(
        case.die,
        name=HOSTILE,
        note=HOSTILE,
        patterns=tuple(replace(p, name=HOSTILE) for p in case.die.patterns),
        inputs=(*case.die.inputs, stated),
    )
    steel = replace(case.press.bolster.material, name=HOSTILE)
    press = replace(case.press, name=HOSTILE, note=HOSTILE, bolster=replace(case.press.bolster, material=steel))
    return Case(press, die)


@pytest.fixture(scope="session")
def advice() -> Advice:
    """A trim die on a press, with a remedy."""
    return advise_by_hand(analyse(read_case("rowan-trim", "alder-10mn")))


@pytest.fixture(scope="session")
def keyed() -> Advice:
    """A trim die that its usual keys hold, on the same press."""
    case = read_case("rowan-trim", "alder-10mn")
    placing = replace(case.die.placing, keyed=True)
    return advise_by_hand(analyse(replace(case, die=replace(case.die, placing=placing))))


@pytest.fixture(scope="session")
def both_halves() -> Advice:
    """A die whose slide and upper half are described, its upper base a casting with ribs."""
    case = read_case("sorrel-restrike", "birch-12mn")
    base = case.die.upper.base
    assert base is not None
    ribbed = replace(base, ribs=RibPattern(60.0, 0.0, 50.0, Ribs(300.0, 40.0), Ribs(300.0, 40.0)))
    die = replace(case.die, upper=replace(case.die.upper, base=ribbed))
    return advise_by_hand(analyse(replace(case, die=die)))


@pytest.fixture(scope="session")
def on_springs() -> Advice:
    """A draw die whose blank holder stands on gas springs."""
    return advise_by_hand(analyse(read_case("teasel-draw", "birch-12mn")))


@pytest.fixture(scope="session")
def hostile(advice: Advice) -> Advice:
    """The same with hostile names everywhere."""
    case = hostile_case()
    before = advice.assessment.analysis
    made = advise_by_hand(replace(before, case=case, solution=replace(before.solution, case=case)))
    return replace(made, reasons=(f"{HOSTILE} breaks.",))
