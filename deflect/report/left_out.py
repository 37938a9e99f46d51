"""What the model leaves out and how large each may be: read off an analysis once for every output.

Each size is an estimate to be set beside the headline numbers; none is added to them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from deflect.findings import Analysis
from deflect.mechanics import left_out as sizes
from deflect.mechanics.hanging import described_above
from deflect.mechanics.snap_through import EVENT
from deflect.model.case import Case
from deflect.model.values import EVEN, Interval
from deflect.report.balances import interval
from deflect.report.headlines import Headline, scaled
from deflect.sources import PRACTICE, Source, Tag
from deflect.units import show_length

Plain = dict[str, Any]
# Strokes per minute of lines of large presses (from memory; common practice).
RATE = Interval(6.0, 15.0, 25.0)
# Stroke of the slide and height at which a form or draw begins to press, mm, where they are not stated (from memory).
STROKE = 1000.0
FORCE_HEIGHT = 10.0
# How deep an edge goes into the sheet until the cut asks for most, as a share of its thickness; thickness where it is
# not stated, mm (from memory).
PENETRATION = 0.4
THICKNESS = 1.0
# Time in which the force of a cut goes, s: all of it within the event of a snap-through (ours, below that).
RELEASE = Interval(0.005, 0.010, EVENT / 1e3)
# Temperature between top and underside of a body, and between die and table, K (common practice, no source).
FACES = Interval(0.5, 1.0, 3.0)
WARM = Interval(1.0, 3.0, 10.0)
# Sag of a slide at rated force, mm per mm: 0.001, 0.0015 and 0.002 in/ft, as tables are accepted (from memory).
SLIDE_SLOPE = Interval(0.083e-3, 0.125e-3, 0.167e-3)
# Sideways clearance in the slide's guides, mm, flank to flank (common practice, no source).
GUIDE_CLEARANCE = Interval(0.05, 0.15, 0.30)
# What roughness settles in a joint, mm.
EMBEDDING = Interval(0.0015, 0.002, 0.003)
# Flatness of a ground bolster or a milled base, mm per mm (common practice, no source).
FLATNESS = Interval(0.01e-3, 0.02e-3, 0.04e-3)
# A gap below this is none, mm.
NO_GAP = 0.0005
# How much a press of this size grows in height at its rated force, mm (from memory).
STRETCH = Interval(1.0, 2.0, 3.0)


@dataclass(frozen=True)
class LeftOut:
    """One thing left out: lasting id, short name, what it is, how large (mm), the headline that it bears on (its key,
    "" for none), how the size comes about, and its source."""

    id: str
    name: str
    what: str
    size: Interval
    bears_on: str
    how: str
    source: Source


def left_out(analysis: Analysis) -> tuple[LeftOut, ...]:
    """What is left out of this case, in the order of the report."""
    return tuple(part for tell in _PARTS for part in tell(analysis))


def outweighing(told: tuple[LeftOut, ...], numbers: Iterable[Headline]) -> tuple[str, ...]:
    """Names of those whose usual size is no less than the headline number that they bear on."""
    usual = {number.key: number.value.nominal for number in numbers}
    return tuple(one.name for one in told if one.bears_on and one.size.nominal >= usual[one.bears_on])


def as_rows(told: tuple[LeftOut, ...]) -> list[Plain]:
    """The same as plain data."""
    return [
        {
            "id": one.id,
            "title": one.name,
            "what": one.what,
            "size_mm": interval(one.size),
            "bears_on": one.bears_on or None,
            "how": one.how,
            "source": str(one.source),
        }
        for one in told
    ]


def _derived(text: str) -> Source:
    return Source(text, Tag.DERIVED)


def _each(read: Callable[[float], float], over: Interval) -> Interval:
    """A size over the ends of a range, whichever way it runs."""
    ends = sorted((read(over.low), read(over.high)))
    return Interval(ends[0], read(over.nominal), ends[1])


def _share(case: Case) -> float:
    """Working force over rated force."""
    return min(1.0, case.die.working_force / case.press.rated_force)


def _period(analysis: Analysis) -> tuple[float, float]:
    """Natural period (s) of lower half and bolster on the bed, and how far the table goes down at most (mm)."""
    case = analysis.case
    down = max(0.0, -float(analysis.solution.table_movement.min()))
    return sizes.period(case.die.lower.mass + case.press.bolster.mass, down, case.table_force), down


def _impact(analysis: Analysis) -> Iterator[LeftOut]:
    """A force that comes within milliseconds."""
    case, (swing, down) = analysis.case, _period(analysis)
    stroke, height = case.press.stroke or STROKE, case.die.force_height or FORCE_HEIGHT
    if case.die.operation.cuts:
        thickness = THICKNESS if case.die.sheet is None else case.die.sheet.thickness
        depth, stretch = PENETRATION * thickness, _share(case) * STRETCH.nominal
        rises = _each(lambda rate: (depth + stretch) / sizes.speed_at(height, stroke, rate), RATE)
        into = (
            f"the slide goes {depth + stretch:.1f} mm, of it {depth:.2g} mm into the sheet and the rest into the press,"
        )
    else:
        rises = _each(lambda rate: sizes.time_to_bottom(height, stroke, rate), RATE)
        into = f"the slide goes the last {show_length(height)}"
    yield LeftOut(
        "impact",
        "impact",
        "the force is put on slowly here; at production speed the table goes beyond its lasting sag",
        _each(lambda rise: down * sizes.overshoot(swing, rise), rises),
        "sag_mm",
        f"{into} in {_ms(rises.low)} to {_ms(rises.high)} ms at {RATE.low:.0f} to {RATE.high:.0f} strokes a minute; "
        f"lower half and bolster swing in {_ms(swing)} ms: at most T/(π × rise) of the movement",
        _derived("derived: undamped mass on a spring, force rising evenly; speeds from memory"),
    )


def _release(analysis: Analysis) -> Iterator[LeftOut]:
    """A cut that breaks through lets the table spring up."""
    if not analysis.case.die.operation.cuts:
        return
    swing, down = _period(analysis)
    yield LeftOut(
        "release",
        "spring-up after a cut",
        "the table lets go as the sheet parts, and goes up beyond its rest, against clamps and weight",
        _each(lambda fall: down * sizes.overshoot(swing, fall), RELEASE),
        "",
        f"the force is gone in {_ms(RELEASE.low)} to {_ms(RELEASE.high)} ms; same swing, same formula",
        _derived("derived, as above; time within 20 ms: common practice, no source"),
    )


def _slide(analysis: Analysis) -> Iterator[LeftOut]:
    """Slide and upper half bend, and guides have clearance."""
    case = analysis.case
    if not described_above(case):
        share = _share(case)
        yield LeftOut(
            "slide-bending",
            "bending of the slide",
            "slide and upper half bend the other way, and the halves close less in the middle",
            scaled(SLIDE_SLOPE, share * case.die.base.length),
            "face_range_mm",
            f"0.083 to 0.167 mm/m at rated force × {show_length(case.die.base.length)} of base "
            f"× {100 * share:.0f} % of it",
            Source("slides are accepted by the figures of tables: from memory", Tag.MEMORY),
        )
    yield LeftOut(
        "slide-guides",
        "slide guides",
        "the slide stands anywhere within their clearance, and tilts, until the die's own guides bite",
        GUIDE_CLEARANCE,
        "",
        "sideways, flank to flank; warm guides less, worn ones more",
        PRACTICE,
    )


def _heat(analysis: Analysis) -> Iterator[LeftOut]:
    """Faces of unlike temperature bow a body; a warm die grows on a cool table."""
    base, expansion = analysis.case.die.base, analysis.case.die.matching.expansion.nominal
    if expansion == 0.0:
        return
    per_metre = f"{expansion * 1e6:.3g} µm/m/K"
    if analysis.case.die.warmth == EVEN:  # else it is solved
        yield LeftOut(
            "thermal-bow",
            "thermal bow",
            "a base whose top is warmer than its underside bows, until weight and force press it flat",
            _each(lambda dt: sizes.thermal_bow(expansion, dt, base.length, base.thickness), FACES),
            "greatest_gap_mm",
            f"α ΔT L²/(8 h): {per_metre}, {FACES.low:g} to {FACES.high:g} K, {show_length(base.length)} long, "
            f"{show_length(base.thickness)} high",
            _derived(
                "derived: Timoshenko & Woinowsky-Krieger 1959, section 14; temperatures: common practice, no source"
            ),
        )
    yield LeftOut(
        "thermal-growth",
        "thermal growth",
        "a die that warms up grows on a cooler table, and may shift as it does",
        scaled(WARM, expansion * base.length),
        "",
        f"α ΔT L: {per_metre}, {WARM.low:g} to {WARM.high:g} K",
        _derived("derived; temperatures: common practice, no source"),
    )


def _dent(analysis: Analysis) -> Iterator[LeftOut]:
    """What a solid gives around a force, a layer does not."""
    base, bolster = analysis.case.die.base, analysis.case.press.bolster
    pressure = analysis.solution.pressure_inside
    size = sizes.edge_dent(pressure, (base.thickness, base.material), (bolster.thickness, bolster.material))
    yield LeftOut(
        "indentation",
        "local indentation",
        "each patch gives by its own pressure, a solid gives around it as well",
        Interval(0.0, size / 2, size),
        "greatest_gap_mm",
        f"at most half of the give under {pressure:.1f} MPa, the greatest pressure off the edges; hard edges "
        "on small feet dent more",
        _derived("derived: half a plane that is pressed sinks half as deep at its edge; usual value halved (ours)"),
    )


def _bedding(analysis: Analysis) -> Iterator[LeftOut]:
    """Roughness settles, and faces are not flat."""
    case = analysis.case
    joints = 2 + (case.press.bolster.sub_plate is not None) + bool(case.die.placing.shims)
    yield LeftOut(
        "settling",
        "plastic bedding",
        "roughness is pressed flat in the first strokes, more where a shim or a burr is",
        scaled(EMBEDDING, joints),
        "greatest_gap_mm",
        f"1.5 to 3 µm a joint × {joints} joints",
        Source("VDI 2230 part 1, table of embedding: from memory", Tag.MEMORY),
    )
    if case.press.bolster.dish == 0.0:
        yield LeftOut(
            "flatness",
            "flatness",
            "bolster and base are taken as flat where the case files state no wear",
            scaled(FLATNESS, case.die.base.length),
            "greatest_gap_mm",
            f"0.01 to 0.04 mm/m × {show_length(case.die.base.length)} of base",
            PRACTICE,
        )


def _stretch(analysis: Analysis) -> Iterator[LeftOut]:
    """The frame grows in height."""
    case = analysis.case
    share = _share(case)
    yield LeftOut(
        "frame",
        "growth of the frame",
        "the press grows in height, and the slide is set lower by as much; no shape changes",
        scaled(STRETCH, share),
        "",
        f"1 to 3 mm at rated force × {100 * share:.0f} %",
        Source("from memory", Tag.MEMORY),
    )


def _ms(seconds: float) -> str:
    return f"{1e3 * seconds:.2g}" if seconds < 0.1 else f"{1e3 * seconds:.0f}"


_PARTS = (_impact, _release, _slide, _heat, _dent, _bedding, _stretch)
