"""The closed table of units, and what to say of units that are not in it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

INCH = 25.4
"""mm per inch (exact by definition)."""
FOOT = 12 * INCH
"""mm per foot (exact by definition)."""
POUND = 0.453_592_37
"""kg per pound (exact by definition)."""
GRAVITY = 9.806_65
"""Standard gravity, m/s2 (exact by definition): makes lbf and tf."""
POUND_FORCE = POUND * GRAVITY
"""N per pound-force."""
TONNE_FORCE = 1000 * GRAVITY
"""N per tonne-force."""
SHORT_TON = 2000 * POUND
"""kg per short ton (exact by definition)."""
PSI = POUND_FORCE / INCH**2
"""MPa per pound-force per square inch."""


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of quantity: its name, its units with their size in the inside unit, an example.

    geometric: the usual value of a written range is the geometric mean of its ends (stiffnesses
    and friction, known to a factor) rather than the arithmetic one. bare: may stand without a unit.
    likely: the units that a number without one may have been meant in.
    """

    name: str
    units: Mapping[str, float]
    example: str
    geometric: bool = False
    bare: bool = False
    likely: tuple[str, ...] = ()

    @property
    def written(self) -> str:
        """The allowed units, for messages."""
        return ", ".join(self.units)

    @property
    def called(self) -> str:
        """The name with its article."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"


def _kind(
    name: str,
    units: dict[str, float],
    example: str,
    *,
    geometric: bool = False,
    bare: bool = False,
    likely: tuple[str, ...] = (),
) -> Kind:
    frozen = MappingProxyType(units)
    return Kind(name, frozen, example, geometric, bare, likely or (example.rpartition(" ")[2],))


LENGTH = _kind("length", {"mm": 1.0, "µm": 1e-3, "cm": 10.0, "m": 1e3, "in": INCH, "ft": FOOT}, "200 mm")
FORCE = _kind(
    "force",
    {"N": 1.0, "kN": 1e3, "MN": 1e6, "tf": TONNE_FORCE, "lbf": POUND_FORCE},
    "6 MN",
    likely=("kN", "MN"),
)
MASS = _kind("mass", {"kg": 1.0, "t": 1e3, "lb": POUND}, "12.5 t", likely=("kg", "t"))
STRESS = _kind("stress", {"MPa": 1.0, "N/mm²": 1.0, "GPa": 1e3, "psi": PSI}, "120 MPa")
ANGLE = _kind("angle", {"degree": math.pi / 180, "mrad": 1e-3, "rad": 1.0}, "90 degree")
SLOPE = _kind("slope", {"mm/m": 1e-3, "µm/m": 1e-6, "in/ft": 1 / 12}, "0.17 mm/m")
TEMPERATURE_DIFFERENCE = _kind("temperature difference", {"K": 1.0, "°C": 1.0}, "5 K")
LAND_STIFFNESS = _kind("stiffness per area", {"N/mm³": 1.0}, "40 N/mm3", geometric=True)
SPRING_STIFFNESS = _kind("spring stiffness", {"N/mm": 1.0, "kN/mm": 1e3}, "1500 kN/mm", geometric=True)
DENSITY = _kind("density", {"kg/m³": 1e-9, "kg/dm³": 1e-6, "t/m³": 1e-6}, "7850 kg/m3")
SHARE = _kind("share", {"%": 0.01}, "60 %", bare=True)
FACTOR = _kind("factor", {"%": 0.01}, "1.5", bare=True)
AREA = _kind("area", {"mm²": 1.0, "cm²": 1e2, "m²": 1e6}, "0.8 m2", likely=("m²",))
TIME = _kind("time", {"h": 1.0, "min": 1 / 60}, "8 h")
EXPANSION = _kind("thermal expansion", {"µm/m/K": 1e-6}, "11.5 µm/m/K")
LENGTH_PER_ERROR = _kind("length per uncertainty", {"mm/µm": 1e3}, "200 mm/µm")
FRICTION = _kind("friction coefficient", {"%": 0.01}, "0.15", geometric=True, bare=True)

KINDS = (
    LENGTH, FORCE, MASS, STRESS, ANGLE, SLOPE, TEMPERATURE_DIFFERENCE,
    LAND_STIFFNESS, SPRING_STIFFNESS, DENSITY, SHARE, FRICTION,
    FACTOR, AREA, TIME, EXPANSION, LENGTH_PER_ERROR,
)  # fmt: skip

SPELLINGS = MappingProxyType({
    "um": "µm", "\u03bcm": "µm", "um/m": "µm/m", "\u03bcm/m": "µm/m",
    "deg": "degree", "degrees": "degree", "°": "degree",
    "N/mm2": "N/mm²", "N/mm^2": "N/mm²", "N/mm3": "N/mm³", "N/mm^3": "N/mm³",
    "kg/m3": "kg/m³", "kg/m^3": "kg/m³", "t/m3": "t/m³", "kg/dm3": "kg/dm³",
    "mm2": "mm²", "cm2": "cm²", "m2": "m²", "mm^2": "mm²", "m^2": "m²",
    "um/m/K": "µm/m/K", "\u03bcm/m/K": "µm/m/K", "mm/um": "mm/µm", "mm/\u03bcm": "mm/µm",
})  # fmt: skip
"""Other ways to type a unit of the table."""

ADVICE = MappingProxyType({
    "mN": 'mN is a thousandth of a newton: write "MN" for meganewton or "N"',
    "t": 't is a mass: for a force write "tf" (tonne-force, 9.80665 kN) or "kN"',
    "kg": 'kg is a mass: for a force write "kN" or "N" (1 kg weighs 9.80665 N)',
    "lb": 'lb is a mass: for a force write "lbf"',
    "kgf": 'write it in "N" (1 kgf = 9.80665 N)',
    "daN": 'write it in "N" (1 daN = 10 N)',
    "bar": 'write it in "MPa" (1 bar = 0.1 MPa)',
    "Pa": 'write it in "MPa" (1 MPa = 1 000 000 Pa)',
    "kPa": 'write it in "MPa" (1 MPa = 1000 kPa)',
    "ksi": 'write it in "psi" (1 ksi = 1000 psi)',
    "inch": 'write "in"', "inches": 'write "in"', '"': 'write "in"', "''": 'write "in"',
    "feet": 'write "ft"', "foot": 'write "ft"', "'": 'write "ft"',
    "lbs": 'write "lb" for a mass or "lbf" for a force',
    "kips": 'write it in "lbf" (1 kip = 1000 lbf)', "kip": 'write it in "lbf" (1 kip = 1000 lbf)',
    "g": 'write it in "kg"',
    "dm": 'write it in "mm" or "cm"',
})  # fmt: skip
"""What to write in place of a unit that is refused."""

TONS = frozenset({"ton", "tons", "to", "tonne", "tonnes", "tonnen"})
"""Words that are used for a mass and for a force, and for three different sizes."""
