"""Lifting pins and cast lugs, as arithmetic."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import EN_818_4, LEGS_COUNTED, USUAL_HOISTING_FACTOR, USUAL_LEAN, leg_force
from deflect.mechanics.lifting_points import PIN_ARM, PIN_DIAMETERS, PIN_SEAT, lug_stresses, pin_stresses
from deflect.sources import Source, Tag
from deflect.units import show_force, show_length

# A cast lug that is shown: across, along the force, from its root to the sling, mm (ours).
LUG_WIDTH, LUG_HEIGHT, LUG_ARM = 120.0, 160.0, 120.0


def _say(analysis: Analysis) -> Warned:
    die = analysis.case.die
    masses = {
        "lower half": die.lower.mass,
        "upper half": die.upper.mass,
        "both halves hung from one": die.lower.mass + die.upper.mass,
    }
    pin = pin_stresses(1.0, 1.0, PIN_ARM, PIN_SEAT)
    lug = lug_stresses(1.0, 1.0, 1.0, 1.0)
    return Warned(
        id="lifting-points",
        heading="Lifting pins and lugs: arithmetic, not an approved design",
        words=(
            "Use only the lifting points that the die was designed and examined for, with the pins that belong to "
            "them, pushed home and secured against sliding out.",
            "A longer arm, a worn bore or a sling off its seat bends a pin harder than shown here; casting faults "
            "and notches at a lug's root are not in these figures at all.",
        ),
        numbers=(
            *(line for name, mass in masses.items() for line in _lines(name, mass)),
            f"formulas: pin of diameter d, arm {PIN_ARM} d, depth of bore b = {PIN_SEAT} d (ours): "
            f"shear {pin.shear.formula}, bending {pin.bending.formula}, bearing {pin.bearing.formula}, "
            f"at the mouth {pin.edge.formula}; lug {show_length(LUG_WIDTH)} wide (w), {show_length(LUG_HEIGHT)} high "
            f"(h), arm {show_length(LUG_ARM)} (ours): shear {lug.shear.formula}, bending {lug.bending.formula}",
        ),
        defer="What a pin, a lug and the casting around them may bear, with which reserve, is for a licensed or "
        "otherwise competent designer under local lifting codes.",
        source=Source(f"force in a leg: {EN_818_4}; hoisting: from memory; stresses: statics, derived", Tag.MEMORY),
    )


def _lines(name: str, mass: float) -> tuple[str, ...]:
    still = leg_force(mass, USUAL_LEAN)
    force = USUAL_HOISTING_FACTOR * still
    lug = lug_stresses(force, LUG_WIDTH, LUG_HEIGHT, LUG_ARM)
    return (
        f"{name}: F = {show_force(still)} in each of {LEGS_COUNTED} legs counted at {USUAL_LEAN:.0f} degrees, "
        f"times {USUAL_HOISTING_FACTOR} for hoisting = {show_force(force)} across each pin or lug",
        f"{name}, shear / bending / bearing (at the mouth) in MPa: "
        + "; ".join(_pin(force, d) for d in PIN_DIAMETERS)
        + f"; cast lug {lug.shear.value:.0f} / {lug.bending.value:.0f}",
    )


def _pin(force: float, diameter: float) -> str:
    worked = pin_stresses(force, diameter, PIN_ARM * diameter, PIN_SEAT * diameter)
    return (
        f"pin {show_length(diameter)} {worked.shear.value:.0f} / {worked.bending.value:.0f} / "
        f"{worked.bearing.value:.0f} ({worked.edge.value:.0f})"
    )


CAUTION = Caution("lifting-points", 2, _say)
