"""A hollow body with ribs: castings and weldments, open or closed below.

Skins are sheets in plane stress; ribs carry along their own way only, and where they cross, the crossing keeps
them from stretching: a rib of pitch p between crossings of thickness b is p / (p - CROSSING b) times stiffer.
The laminate of both bends about its own neutral plane; skins that close a box twist as a box (Bredt), because
their shear is in the laminate.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections.laminate import Laminate, Layer, stack
from deflect.mechanics.sections.perforated import perforated_sheet, solid_share
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION, PlateSection
from deflect.mechanics.sections.solid import plane_stress
from deflect.model.material import Material
from deflect.model.ribs import RibPattern
from deflect.model.values import Rectangle

# Share of a crossing rib's thickness over which a rib does not stretch, and over which it does not bend sideways:
# ours, from cells of solid elements (seven patterns, open and closed; one value for all).
CROSSING, JOINT = 0.3, 0.8
# Torsion of a rectangle b x h: b^3 h / 3 less this share of b / h (Saint-Venant; S. Timoshenko, J. N. Goodier,
# Theory of Elasticity, section 109; from memory).
END_LOSS = 0.63


@dataclass(frozen=True, eq=False)
class Skin:
    """What a skin is made of: plane stress stiffness (3, 3) in MPa, Poisson's ratio, share that is material,
    and the share of the pitch between its holes."""

    sheet: Floats
    poisson_ratio: float
    solid_share: float = 1.0
    ligament: float = 1.0

    @staticmethod
    def plain(material: Material) -> Skin:
        return Skin(plane_stress(material), material.poisson_ratio)


def perforated_skin(material: Material, pitch: float, diameter: float) -> Skin:
    """A skin with pin holes on a square grid."""
    sheet, nu = perforated_sheet(material, pitch, diameter)
    return Skin(sheet, nu, solid_share(pitch, diameter), 1.0 - diameter / pitch)


@dataclass(frozen=True)
class Core:
    """Ribs that are smeared: thickness and pitch of those along x and along y, mm; pitch infinite: none that way.

    bay: their distance as they stand; beside walls the pitch by which they are smeared is greater; None: it is not.
    """

    thickness: tuple[float, float]
    pitch: tuple[float, float]
    bay: tuple[float, float] | None = None

    @property
    def share(self) -> tuple[float, float]:
        return (self.thickness[0] / self.pitch[0], self.thickness[1] / self.pitch[1])

    @property
    def solid_share(self) -> float:
        """Share of the plan that the ribs take up."""
        x, y = self.share
        return 1.0 - (1.0 - x) * (1.0 - y)

    def membrane(self, material: Material) -> Floats:
        """Stresses, smeared over the plan, from strains of the grid (3, 3), MPa.  Derived.

        Stretch: each rib carries along its own way; where ribs cross it does not stretch over CROSSING of the
        crossing rib's thickness, and is narrowed by what pulls the crossing one (Poisson).  Shear: ribs bend in
        the plane between their crossings (for a square grid of thin ribs E (b/p)^3 / 2: L. J. Gibson, M. F. Ashby,
        Cellular Solids, 1988; from memory).
        """
        (x, y), e, nu = self.share, material.youngs_modulus, material.poisson_ratio
        stiffness = np.zeros((3, 3))
        if x == 0.0 or y == 0.0:
            stiffness[0, 0], stiffness[1, 1] = e * x, e * y
            return stiffness
        flexibility = np.array([[(1 - CROSSING * y) / x, -nu], [-nu, (1 - CROSSING * x) / y]]) / e
        stiffness[:2, :2] = np.linalg.inv(flexibility)
        stiffness[2, 2] = 1.0 / (self._shear_give(0, material) + self._shear_give(1, material))
        return stiffness

    def _shear_give(self, way: int, material: Material) -> float:
        """Angle per shear stress, 1/MPa, that the ribs of one way add: bending and shear over their clear length."""
        b, p = self.thickness[way], self.pitch[way]
        length = (self.bay or self.pitch)[1 - way]
        clear = length - JOINT * self.thickness[1 - way]
        plate = material.youngs_modulus / (1 - material.poisson_ratio**2)
        bent = p * clear**3 / (length * plate * b**3)
        return bent + p * clear / (length * SHEAR_CORRECTION * material.shear_modulus * b)

    def twist(self, height: float, shear_modulus: float) -> float:
        """Twisting stiffness of open ribs, N mm: a quarter of G J per pitch, of both ways together."""
        return sum(
            shear_modulus * open_torsion(height, b) / (4 * p)
            for b, p in zip(self.thickness, self.pitch, strict=True)
            if b > 0
        )


def open_torsion(height: float, thickness: float) -> float:
    """Saint-Venant torsion constant of a rectangle, mm4."""
    short, tall = sorted((height, thickness))
    return short**3 * tall / 3 * (1 - END_LOSS * short / tall)


def ribbed_section(
    thickness: float, material: Material, pattern: RibPattern, plan: Rectangle, skin: Skin | None = None
) -> PlateSection:
    """A ribbed body between its outer walls, smeared over ``plan``; ``thickness``: total height, mm."""
    given = ((pattern.along_x, plan.width), (pattern.along_y, plan.length))
    pitch = [None if ribs is None else ribs.smeared_pitch(across, pattern.walls) for ribs, across in given]
    widths = [0.0 if p is None or ribs is None else ribs.thickness for p, (ribs, _) in zip(pitch, given, strict=True)]
    bay = [np.inf if ribs is None else ribs.bay(across, pattern.walls) for ribs, across in given]
    core = Core((widths[0], widths[1]), (pitch[0] or np.inf, pitch[1] or np.inf), (bay[0], bay[1]))
    if not pattern.is_open and min(widths) == 0.0:
        raise MechanicsFailed("a box with a bottom needs ribs both ways between its skins: check the pitch of the ribs")
    return core_section(thickness, material, pattern, core, skin or Skin.plain(material))


def wall_section(thickness: float, material: Material, pattern: RibPattern, plan: Rectangle, way: str) -> PlateSection:
    """The strip of the plan that the outer walls along ``way`` ("x" or "y") take up: solid from top to underside.

    Ribs of its thickness without a gap between them, and no crossings; but it twists as a thin wall, and bends
    sideways between the ribs that meet it.
    """
    wall = pattern.walls
    core = Core((wall, wall), (wall, wall))
    ribs, across = (pattern.along_y, plan.length) if way == "x" else (pattern.along_x, plan.width)
    bay = across - wall if ribs is None else ribs.bay(across, wall)
    clear = bay - JOINT * (wall if ribs is None else ribs.thickness)
    # Derived: sideways, a wall of unit height and inertia w^3/12 takes half of the shear angle.
    plate = material.youngs_modulus / (1 - material.poisson_ratio**2)
    sideways = plate * wall**2 * bay / (4 * clear**3)
    return core_section(thickness, material, pattern, core, Skin.plain(material), sideways)


def core_section(
    thickness: float, material: Material, pattern: RibPattern, core: Core, skin: Skin, sideways: float = 0.0
) -> PlateSection:
    """The skins of a pattern on a given core of ribs; ``thickness``: total height, mm; ``sideways``: shear stiffness
    in the plane, MPa, of a core that is a wall."""
    modulus, g = material.youngs_modulus, material.shear_modulus
    height = thickness - pattern.top - pattern.bottom
    if height <= 0:
        raise MechanicsFailed("the skins leave no height for the ribs: check the thickness and the skins")
    full = core.solid_share >= 1.0
    ribs = np.diag([modulus, modulus, sideways]) if full else core.membrane(material)
    foot, roof = pattern.bottom, pattern.bottom + height
    poisson = skin.poisson_ratio / (1 - skin.poisson_ratio)
    web = (skin.solid_share, skin.solid_share)
    laminate = stack(
        [
            Layer(0.0, foot, skin.sheet, web, poisson),
            # A rib swells by the strain along its own way only: of two ways, half of the sum each.
            Layer(foot, roof, ribs, core.share, material.poisson_ratio / 2),
            Layer(roof, thickness, skin.sheet, web, poisson),
        ]
    )
    bending = _one_way(laminate.bending, pattern.top, thickness, core)
    bending[2, 2] += core.twist(height, g) / (2.0 if full else 1.0)
    above, below = thickness - laminate.middle, laminate.middle
    share = core.solid_share
    columns = max(above - pattern.top, 0.0), max(below - foot, 0.0)
    spans = core.bay or core.pitch
    squeeze = skin_give(pattern.top, material, spans, core.thickness) * (1 - share)
    squeeze += (pattern.top + columns[0] / share) / modulus
    # Open below, the pressure counts on what bears: the ribs' own feet.
    squeeze_below = below / modulus
    if not pattern.is_open:
        squeeze_below = skin_give(foot, material, spans, core.thickness) * (1 - share)
        squeeze_below += (foot + columns[1] / share) / modulus
    return PlateSection(
        bending=bending,
        shear=np.diag([laminate.shear(way, g) for way in (0, 1)]),
        mass=material.density * ((pattern.top + foot) * skin.solid_share + share * height),
        to_top=above,
        to_underside=below,
        thickening=laminate.thickening,
        squeeze=squeeze,
        squeeze_below=squeeze_below,
        fibres=_fibres(laminate, thickness, pattern, skin, ribs, core),
        ligament=skin.ligament,
        bearing_share=share if pattern.is_open else 1.0,
    )


def _one_way(bending: Floats, skin: float, thickness: float, core: Core) -> Floats:
    """Ribs one way only: across them the skin bends between the ribs, which hold it straight over their thickness.

    Source: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, section 86:
    E a h^3 / (12 (a - t + (h/H)^3 t)) for pitch a, rib thickness t, skin h, total height H.
    """
    x, y = core.share
    if (x > 0) == (y > 0):
        return bending.copy()
    straight = 1.0 / (1.0 - max(x, y) * (1.0 - (skin / thickness) ** 3))
    scale = np.diag([np.sqrt(straight) if y > 0 else 1.0, np.sqrt(straight) if x > 0 else 1.0, 1.0])
    return np.asarray(scale @ bending @ scale)


def _fibres(
    laminate: Laminate,
    thickness: float,
    pattern: RibPattern,
    skin: Skin,
    ribs: Floats,
    core: Core,
) -> tuple[Floats, ...]:
    """Top of the top skin, and the underside of the bottom skin or the feet of the ribs that run each way."""
    top = laminate.fibre(thickness, skin.sheet)
    if not pattern.is_open:
        return top, laminate.fibre(0.0, skin.sheet)
    smeared = laminate.fibre(0.0, ribs)
    # The stress of a rib is that of its strip of the plan over its share of it, along its own way alone.
    feet = [smeared * np.eye(3)[:, [way]] / share for way, share in enumerate(core.share) if share > 0]
    return (top, *feet)


def skin_give(skin: float, material: Material, pitch: tuple[float, float], thickness: tuple[float, float]) -> float:
    """Mean sinking of a skin between its ribs under pressure, mm/MPa: clamped at the ribs, bending and shear.

    Derived: one term of Galerkin's method, (x^2 - a^2)^2 (y^2 - b^2)^2 for bending (3 % below the exact mean) and
    (x^2 - a^2)(y^2 - b^2) for shear, with a and b half of the clear spans; between ribs one way, exact.
    """
    if skin == 0.0 or min(p - t for p, t in zip(pitch, thickness, strict=True)) <= 0.0:
        return 0.0
    # Ribs along x are apart across y, and the other way round.
    a, b = ((p - t) / 2 for p, t in zip(pitch, thickness, strict=True))
    rigidity = material.youngs_modulus * skin**3 / (12 * (1 - material.poisson_ratio**2))
    shear = SHEAR_CORRECTION * material.shear_modulus * skin
    if np.isinf(a) and np.isinf(b):
        return 0.0
    if np.isinf(a) or np.isinf(b):
        span = min(a, b)
        return float(span**4 / (45 * rigidity) + span**2 / (3 * shear))
    bent = 7 / 128 * (8 / 15) ** 2 * a**4 * b**4 / (a**4 + b**4 + 4 / 7 * a**2 * b**2) / rigidity
    sheared = 5 / 18 * a**2 * b**2 / (a**2 + b**2) / shear
    return float(bent + sheared)
