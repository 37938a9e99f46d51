"""What a comparison says, in words and rows: once for terminal, JSON and page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from deflect.compare import Action, BeddingPlan, Compared, Comparison, Likely
from deflect.compare.comparing import Solved
from deflect.findings import Analysis, Finding, Status
from deflect.mechanics.difference import Difference
from deflect.model.case import Case
from deflect.model.values import Interval, Rectangle
from deflect.report.wording import bare, bound, figure, force, listed, name, place, point, ranged, unit_shown, whole
from deflect.sizing.emulation import Kind, Measure
from deflect.units import show_length, show_share

# From this share of the draws on a verdict is as good as sure.
_SURE = 0.95

TITLES = {
    Kind.FORCE: "Another working force",
    Kind.CUSHION: "Another cushion force",
    Kind.MOVE: "Another place on the table",
    Kind.SHIMS: "Shims below the die",
    Kind.FORCE_AND_SHIMS: "Another working force, and shims below the die",
    Kind.POSTS: "Support posts below the bolster",
    Kind.SUB_PLATE: "A sub-plate on the bolster",
}
# What each measure takes and spoils (common practice, no source).
PRICE = {
    Kind.FORCE: "an hour at the press; the panel needs its force: what is tried at another force is the spotting, "
    "not the panel",
    Kind.CUSHION: "half an hour at the press; the panel draws in by its cushion: what is tried at another one is the "
    "spotting, not the panel",
    Kind.MOVE: "1 to 2 hours at the press; clamps and pins must suit the new place",
    Kind.SHIMS: "4 to 6 hours; shims are for the tryout alone, captive or fastened, and go out before the die moves on",
    Kind.FORCE_AND_SHIMS: "5 to 7 hours; as for both",
    Kind.POSTS: "a day; posts stand in the bed where people may not reach while the press runs",
    Kind.SUB_PLATE: "1 to 2 weeks for the plate; it eats shut height and is fastened, never only laid on the bolster",
}
# Time and risk of each action (common practice, no source).
ACTION_WORDS = {
    Action.PROVE: "Spot as usual. What is blued here stands on the production press within the tolerance.",
    Action.RECHECK: "Spot as usual, and plan half a shift on the production press to blue it once more: within the "
    "ranges of what is not known it may come out beyond the tolerance.",
    Action.LEAVE: "Do not take metal away here: what is bedded in on this press is wrong on the production press by "
    "the figure given. Plan the spotting there.",
}


NO_CLOSURE = (
    "Where a slide or the upper die is not described, closure is not in the comparison: check it on the production "
    "press."
)


@dataclass(frozen=True)
class Row:
    """One number on both presses, as shown; key, unit and values for JSON."""

    key: str
    title: str
    unit: str
    production: Interval
    standin: Interval

    @property
    def shown(self) -> tuple[str, str, str]:
        gone = self.standin.nominal - self.production.nominal
        told = bare(gone, self.unit)
        sign = "+" if gone > 0 and told.strip("0.") else ""
        return (
            ranged(self.production, self.unit),
            ranged(self.standin, self.unit),
            f"{sign}{told} " + unit_shown(self.unit),
        )


def rows(first: Solved, second: Solved) -> tuple[Row, ...]:
    """Forces, and the headline numbers with their ranges."""
    made = [
        _row("working_force", "Working force", "kN", first, second, lambda a: _exact(a.case.die.working_force / 1e3)),
        _row("cushion_force", "Cushion force", "kN", first, second, lambda a: _exact(a.case.die.cushion_force / 1e3)),
        _row("table_force", "Table force", "kN", first, second, lambda a: _exact(a.case.table_force / 1e3)),
        _row("table_sag", "Table sag", "mm", first, second, lambda a: a.spread.sag),
        _row("greatest_gap", "Greatest gap below the die", "mm", first, second, lambda a: a.spread.gap),
        _row("contact_share", "Contact share", "%", first, second, lambda a: a.spread.contact_share.scaled(100.0)),
        _row("pressure", "Contact pressure, edges apart", "MPa", first, second, lambda a: a.spread.pressure),
        _row("face_error", "Face error", "mm", first, second, lambda a: a.spread.face),
        _row("creep", "Creep per stroke, free", "µm", first, second, lambda a: a.spread.creep.scaled(1e3)),
    ]
    if first.holder is not None or second.holder is not None:
        here, there = (None if one is None else one.mean for one in (first.holder, second.holder))
        made.append(Row("holder_pressure", "Blank-holder pressure, mean", "MPa", _exact(here or 0), _exact(there or 0)))
        here, there = (None if one is None else 100 * one.bending_share for one in (first.holder, second.holder))
        made.append(
            Row("holder_bending", "Cushion force that bends the ring", "%", _exact(here or 0), _exact(there or 0))
        )
    return tuple(made)


def _row(key: str, title: str, unit: str, first: Solved, second: Solved, read: Callable[[Analysis], Interval]) -> Row:
    return Row(key, title, unit, read(first.analysis), read(second.analysis))


def _exact(value: float) -> Interval:
    return Interval.exactly(value)


def headline(one: Compared, tolerance: float) -> str:
    """The difference that decides, with its range."""
    if one.likeness is None:
        return one.failed
    return (
        f"the face differs by {ranged(one.likeness.face_spread, 'mm')} after the best rigid fit, greatest less least; "
        f"tolerance {figure(tolerance, 'mm')}"
    )


def surety(one: Compared) -> str:
    """In how many draws the verdict holds, and what decides."""
    if one.likeness is None:
        return ""
    judged = one.after if one.if_it_went_in is Likely.AFTER_MEASURES and one.after else one.likeness
    told = f"holds in {100 * one.sure:.0f} % of the draws"
    if one.sure >= _SURE or not judged.drivers:
        return told
    return f"{told}; decided by {listed(list(judged.drivers))}"


def verdict_words(one: Compared) -> str:
    """The verdict, and what it would be if the die went in."""
    if one.side.goes_in or one.likeness is None:
        return one.verdict.value
    return f"{one.verdict.value}; apart from that: {one.if_it_went_in.value}"


def obstacles(findings: tuple[Finding, ...], lacking: tuple[str, ...] = ()) -> tuple[str, ...]:
    """What keeps the die out, a line each; then what was not checked."""
    broken = [f for f in findings if f.status is Status.BREAKS and f.reading is not None]
    told = [f"{f.rule.title}: {_read(f)}" for f in broken]
    unasked = [f"{f.rule.title} not checked: {f.reason}" for f in findings if f.status is Status.NOT_CHECKED]
    return (*lacking, *told, *unasked)


def _read(finding: Finding) -> str:
    reading = finding.reading
    assert reading is not None
    value, unit = reading.value.nominal, finding.rule.unit
    limit = bound(reading.limit, unit, reading.at_most)
    return f"{figure(value, unit)}, {limit}" + (f" ({reading.where})" if reading.where else "")


def differs(what: str, told: Difference, plan: Rectangle) -> str:
    """Greatest, where, and r.m.s."""
    x, y = told.at
    high = "higher" if told.greatest > 0 else "lower"
    if told.greatest == 0:
        return f"{what}: no difference"
    where = place(x, y, plan).replace("of the base", "of the die").replace("below the", "in the")
    return (
        f"{what}: greatest {figure(abs(told.greatest), 'mm')} {high} on the stand-in, {where} ({point(x, y)}); "
        f"r.m.s. {figure(told.rms, 'mm')}, greatest less least {figure(told.spread, 'mm')}"
    )


def size(measure: Measure, before: Case) -> str:
    """How much of a measure, in words."""
    case = measure.case
    placing, was = case.die.placing, before.die.placing
    parts = []
    if case.die.working_force != before.die.working_force:
        parts.append(f"{force(case.die.working_force)} instead of {force(before.die.working_force)}")
    if case.die.cushion_force != before.die.cushion_force:
        parts.append(f"cushion {force(case.die.cushion_force)} instead of {force(before.die.cushion_force)}")
    if (placing.x, placing.y) != (was.x, was.y):
        parts.append(f"moved by x {whole(placing.x - was.x)}, y {whole(placing.y - was.y)} mm")
    shims = measure.shims[len(was.shims) :]
    if shims:
        thin, thick = min(s.thickness for s in shims), max(s.thickness for s in shims)
        span = f"{thin:.2f} to {thick:.2f}" if thick > thin else f"{thin:.2f}"
        parts.append(f"{len(shims)} of {len(measure.fields)} fields shimmed by {span} mm")
    elif measure.kind in (Kind.SHIMS, Kind.FORCE_AND_SHIMS):
        parts.append("no field is worth a shim of a whole step")
    posts = case.press.bed.posts[len(before.press.bed.posts) :]
    if posts:
        places = "; ".join(f"x {whole(p.x)}, y {whole(p.y)}" for p in posts)
        parts.append(f"{len(posts)} set {posts[0].gap:.2f} mm below the unloaded bolster, at {places} mm")
    plate = case.press.bolster.sub_plate
    if plate is not None and before.press.bolster.sub_plate is None:
        parts.append(f"{plate.thickness:.0f} mm of {plate.material.name}, {plate.mass / 1e3:.1f} t")
    return ", ".join(parts)


def leaves(measure: Measure, tolerance: float, stands: bool) -> str:
    """What a measure leaves, and what becomes of gap and contact."""
    told = (
        f"leaves {figure(measure.left.spread, 'mm')}"
        f" ({'within' if measure.left.spread <= tolerance else 'beyond'} the tolerance)"
    )
    if measure.continuous is not None:
        told += f"; shims of any thickness would leave {figure(measure.continuous, 'mm')}"
    share = show_share(round(measure.told.contact_share, 2))
    told += f"; greatest gap then {figure(measure.told.gap, 'mm')}, contact {share}"
    return f"{told}: it would rock, and is not chosen" if not stands else told


def emulated(one: Compared, told: Comparison) -> str:
    """What comes of emulating, in one sentence."""
    found = one.emulation
    if found is None:
        return "Nothing needs to be done: it is within the tolerance by itself."
    best = one.measure
    if found.chosen is not None and one.if_it_went_in is Likely.REDONE:
        assert best is not None
        return (
            f"{TITLES[best.kind]} brings the lower face within the tolerance ({size(best, one.side.case)}), but not "
            "the closure of both faces: the slides bend differently."
        )
    if found.chosen is not None:
        after = one.after
        assert best is not None
        held = "" if after is None else f"; over the draws {ranged(after.face_spread, 'mm')} is left"
        return f"{TITLES[best.kind]} makes it alike: {size(best, one.side.case)}{held}."
    nearest = (
        "nothing helps" if best is None else f"nearest comes: {TITLES[best.kind].lower()}, {size(best, one.side.case)}"
    )
    return (
        f"Nothing that was tried reaches the tolerance of {figure(told.tolerance, 'mm')}: "
        f"{nearest}; it misses by {figure(found.short_by, 'mm')}."
    )


def closes(one: Compared, plan: Rectangle) -> tuple[str, ...]:
    """How differently lower and upper face close, as it stands and with the measure."""
    told = []
    for what, found in (("Closure", one.closure), ("Closure with the measure", one.closure_after)):
        if found is not None:
            said = differs(what, found, plan)
            told.append(said.replace(" higher on", " farther apart on").replace(" lower on", " nearer on"))
    return tuple(told)


def plan_in_short(plan: BeddingPlan) -> tuple[str, ...]:
    """One line for each action that a zone asks for."""
    lines = []
    for action in Action:
        zones = [zone for zone in plan.zones if zone.action is action]
        if not zones:
            continue
        far = max((zone.difference for zone in zones), key=abs)
        worst = max(abs(zone.at_worst) for zone in zones)
        where = "the whole face" if len(zones) == len(plan.zones) else listed([f"{z.row} {z.column}" for z in zones])
        lines.append(
            f"{action.value}: {where} (off by up to {figure(abs(far), 'mm')}, at the far end of the ranges "
            f"{figure(worst, 'mm')}). {ACTION_WORDS[action]}"
        )
    return tuple(lines)


def time_and_risk(plan: BeddingPlan) -> str:
    """What the plan asks for on the production press, in words (common practice, no source)."""
    left, again = plan.share(Action.LEAVE), plan.share(Action.RECHECK)
    if left == 0 and again == 0:
        return "On the production press: a hit or two to confirm. Little is risked."
    if left == 0:
        return "On the production press: half a shift to blue it again. Small corrections are to be expected."
    if left <= 1 / 3:
        return (
            "On the production press: about a day for the zones left. The risk is there: spotted on the stand-in, "
            "these zones would have to be welded up or milled."
        )
    return (
        "On the production press: one to three days, as for bedding-in anew. What is spotted on the stand-in beyond "
        "the zones named is work for nothing."
    )


def signed(value: float) -> str:
    """A difference in mm with its sign: "+0.014", "−0.015", "0.000"."""
    shown = bare(value, "mm")
    return f"+{shown}" if value > 0 and shown.strip("0.") else shown


def title(case: Case) -> str:
    """A press by its name and force."""
    return f"{name(case.press.name)}, at {force(case.die.working_force)}"


def grid_words(told: Comparison) -> str:
    """Grid and steps of the shim plan."""
    return f"fields of about {show_length(told.shim_field)}, steps of {show_length(told.shim_step)}"
