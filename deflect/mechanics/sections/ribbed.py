"""A hollow body with ribs: castings and weldments, open or closed below, with T-slots in the top skin or without.

Skins are sheets in plane stress; ribs carry along their own way only, and where they cross, the crossing keeps
them from stretching: a rib of pitch p between crossings of thickness b is p / (p - CROSSING b) times stiffer.
The laminate of both bends about its neutral plane; skins that close a box twist as a box (Bredt), because their
shear is in the laminate.

Walls and what lies between them are one body.  Each rib stands for its own bay, so that within half a bay of a wall
none is smeared along it; both bend along the walls about planes that their skins draw together; and the body twists as
one: the frame of all its ribs and walls (`rib_grid.py`) is smeared over the whole plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections.laminate import Laminate, Layer, stack
from deflect.mechanics.sections.perforated import perforated_sheet, solid_share
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION, PlateSection
from deflect.mechanics.sections.rib_grid import JOINT, RibGrid
from deflect.mechanics.sections.slotted import SlotForm, slotted_layer
from deflect.mechanics.sections.solid import plane_stress
from deflect.model.material import Material
from deflect.model.ribs import RibPattern
from deflect.model.values import Rectangle

# Share of a crossing rib's thickness over which a rib does not stretch: ours, from cells of solid elements (seven
# patterns, open and closed; one value for all).
CROSSING = 0.3


@dataclass(frozen=True, eq=False)
class Skin:
    """What both skins are made of: plane stress stiffness (3, 3) in MPa, Poisson's ratio, share that is material,
    the share of the pitch between its holes, and the T-slots in the top one."""

    sheet: Floats
    poisson_ratio: float
    solid_share: float = 1.0
    ligament: float = 1.0
    slots: SlotForm | None = None

    @staticmethod
    def plain(material: Material, slots: SlotForm | None = None) -> Skin:
        return Skin(plane_stress(material), material.poisson_ratio, slots=slots)

    def top(self, low: float, high: float, core: Core) -> Layer:
        """The top skin as a layer over its ribs."""
        thickening = self.poisson_ratio / (1 - self.poisson_ratio)
        if self.slots is None:
            return Layer(low, high, self.sheet, (self.solid_share, self.solid_share), thickening)
        ribs = core.share[0 if self.slots.direction == "x" else 1]
        return slotted_layer(low, high, self.sheet, self.solid_share, thickening, self.slots, ribs)


def perforated_skin(material: Material, pitch: float, diameter: float, slots: SlotForm | None = None) -> Skin:
    """A skin with pin holes on a square grid."""
    sheet, nu = perforated_sheet(material, pitch, diameter)
    return Skin(sheet, nu, solid_share(pitch, diameter), 1.0 - diameter / pitch, slots)


@dataclass(frozen=True)
class Core:
    """Ribs that are smeared: thickness and pitch of those along x and along y, mm; pitch infinite: none that way.

    bay: distance from rib to rib or wall, where it is not the pitch; None: it is.
    body: the frame of the body that they are part of; None: they go on without an end.
    """

    thickness: tuple[float, float]
    pitch: tuple[float, float]
    bay: tuple[float, float] | None = None
    body: RibGrid | None = None

    def without(self, *ways: int) -> Core:
        """The same with no ribs along x (0), along y (1), or both."""
        x, y = (0.0 if way in ways else self.thickness[way] for way in (0, 1))
        across, along = (np.inf if way in ways else self.pitch[way] for way in (0, 1))
        return replace(self, thickness=(x, y), pitch=(across, along))

    @property
    def grid(self) -> RibGrid:
        return self.body or RibGrid.endless(self.thickness, self.pitch, self.bay or self.pitch)

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
        crossing rib's thickness, and is narrowed by what pulls the crossing one (Poisson).  Ribs without a gap
        between them are a wall.  Shear: the grid bends in its plane.
        """
        (x, y), e, nu = self.share, material.youngs_modulus, material.poisson_ratio
        stiffness = np.diag([e * x, e * y, self.grid.shear(material)])
        if min(x, y) > 0.0 and self.solid_share < 1.0:
            flexibility = np.array([[(1 - CROSSING * y) / x, -nu], [-nu, (1 - CROSSING * x) / y]]) / e
            stiffness[:2, :2] = np.linalg.inv(flexibility)
        return stiffness


# A hollow body between its walls, in this order: where ribs stand both ways, and within half a bay of the walls along
# x, of those along y, and of both, where none stands along the walls.
INNER, BESIDE_X, BESIDE_Y, CORNER = range(4)


def ribbed_sections(
    thickness: float, material: Material, pattern: RibPattern, plan: Rectangle, skin: Skin | None = None
) -> tuple[PlateSection, ...]:
    """A ribbed body between its outer walls, each rib smeared over its own bay; ``thickness``: total height, mm."""
    skin = skin or Skin.plain(material)
    core = _inner_core(pattern, plan)
    if not pattern.is_open and min(core.thickness) == 0.0:
        raise MechanicsFailed("a box with a bottom needs ribs both ways between its skins: check the pitch of the ribs")
    if max(core.thickness) == 0.0:
        raise MechanicsFailed("no rib stands between the outer walls: check the pitch of the ribs")
    held = _neutral_planes(thickness, material, pattern, plan, skin.slots)[0]
    inner = core_section(thickness, material, pattern, core, skin, held)
    beside = [inner]
    for missing in ((0,), (1,), (0, 1)):
        left = core.without(*missing)
        laminate = core_laminate(thickness, material, pattern, left, skin, held)
        beside.append(
            replace(
                inner,
                bending=_bending(laminate, thickness, material, pattern, left),
                shear=_shear(laminate, thickness, material, pattern, left),
                mass=_mass(thickness, material, pattern, left, skin),
            )
        )
    return tuple(beside)


def wall_section(
    thickness: float,
    material: Material,
    pattern: RibPattern,
    plan: Rectangle,
    way: str,
    slots: SlotForm | None = None,
) -> PlateSection:
    """The strip of the plan that the outer walls along ``way`` ("x" or "y") take up: solid from top to underside.

    Ribs of its thickness without a gap between them, and no crossings; it bends along its way with the whole body,
    whose top skin has ``slots``.
    """
    along_x, along_y = _neutral_planes(thickness, material, pattern, plan, slots)[1]
    held = (along_x, None) if way == "x" else (None, along_y)
    return core_section(thickness, material, pattern, _wall_core(pattern, plan), Skin.plain(material), held)


def _inner_core(pattern: RibPattern, plan: Rectangle) -> Core:
    given = ((pattern.along_x, plan.width), (pattern.along_y, plan.length))
    bays = [1 if ribs is None else ribs.bays(across, pattern.walls) for ribs, across in given]
    thickness = [0.0 if ribs is None or n == 1 else ribs.thickness for n, (ribs, _) in zip(bays, given, strict=True)]
    bay = [(across - pattern.walls) / n for n, (_, across) in zip(bays, given, strict=True)]
    pitch = [distance if there > 0 else np.inf for distance, there in zip(bay, thickness, strict=True)]
    return Core((thickness[0], thickness[1]), (pitch[0], pitch[1]), (bay[0], bay[1]), RibGrid.of(pattern, plan))


def _wall_core(pattern: RibPattern, plan: Rectangle) -> Core:
    wall = (pattern.walls, pattern.walls)
    return Core(wall, wall, body=RibGrid.of(pattern, plan))


@lru_cache(maxsize=256)
def _neutral_planes(
    thickness: float, material: Material, pattern: RibPattern, plan: Rectangle, slots: SlotForm | None
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Heights over the underside, mm, of the planes that a bend of the body along x, and along y, leaves unstretched:
    between its walls, and in its walls.  Derived.

    Were they stretched alike, both would bend about the middle of the whole cut.  What they hand each other passes the
    skins as shear, which gives (half a sine along the body, a parabola across half of its clear width): that leaves
    them this share of the gain in stiffness, the square of the way to the common plane.
    """
    plain, wall = Skin.plain(material), pattern.walls
    skins = (Skin.plain(material, slots), Skin.plain(material, slots), plain)
    core = _inner_core(pattern, plan)
    inner, walls = [], []
    for way, (across, along) in enumerate(((plan.width, plan.length), (plan.length, plan.width))):
        assert core.bay is not None
        clear = across - 2 * wall
        ribbed = min(max(across - wall - core.bay[way], 0.0), clear)
        cores = (core, core.without(way), _wall_core(pattern, plan))
        alone = [
            core_laminate(thickness, material, pattern, c, skin).stretching
            for c, skin in zip(cores, skins, strict=True)
        ]
        stiffness, plane = (np.array([part[way] for part in parts]) for parts in zip(*alone, strict=True))
        force = stiffness * np.array([ribbed, clear - ribbed, 2 * wall])
        own = float(np.average(plane[:2], weights=force[:2])), float(plane[2])
        common = float(np.average(plane, weights=force))
        between, outer = force[:2].sum() / 2, force[2] / 2
        handed = 3 * float(plain.sheet[2, 2]) * (pattern.top + pattern.bottom) / (clear / 2)
        share = handed / (handed + between * outer / (between + outer) * (np.pi / along) ** 2)
        inner.append(own[0] + float(np.sqrt(share)) * (common - own[0]))
        walls.append(own[1] + float(np.sqrt(share)) * (common - own[1]))
    return (inner[0], inner[1]), (walls[0], walls[1])


def core_laminate(
    thickness: float,
    material: Material,
    pattern: RibPattern,
    core: Core,
    skin: Skin,
    held: tuple[float | None, float | None] = (None, None),
) -> Laminate:
    """The layers of a pattern on a given core of ribs."""
    foot, roof = pattern.bottom, thickness - pattern.top
    if roof <= foot:
        raise MechanicsFailed("the skins leave no height for the ribs: check the thickness and the skins")
    poisson = skin.poisson_ratio / (1 - skin.poisson_ratio)
    web = (skin.solid_share, skin.solid_share)
    layers = (
        Layer(0.0, foot, skin.sheet, web, poisson),
        # A rib swells by the strain along its own way only: of two ways, half of the sum each.
        Layer(foot, roof, core.membrane(material), core.share, material.poisson_ratio / 2),
        skin.top(roof, thickness, core),
    )
    return stack(layers, held)


def core_section(
    thickness: float,
    material: Material,
    pattern: RibPattern,
    core: Core,
    skin: Skin,
    held: tuple[float | None, float | None] = (None, None),
) -> PlateSection:
    """The skins of a pattern on a given core of ribs; ``thickness``: total height, mm; ``held``: where the rest of
    the body holds the neutral planes along x and along y, mm over the underside."""
    modulus = material.youngs_modulus
    laminate = core_laminate(thickness, material, pattern, core, skin, held)
    foot = pattern.bottom
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
        bending=_bending(laminate, thickness, material, pattern, core),
        shear=_shear(laminate, thickness, material, pattern, core),
        mass=_mass(thickness, material, pattern, core, skin),
        to_top=above,
        to_underside=below,
        thickening=laminate.thickening,
        squeeze=squeeze,
        squeeze_below=squeeze_below,
        fibres=_fibres(laminate, thickness, pattern, skin, core.membrane(material), core),
        ligament=skin.ligament,
        bearing_share=share if pattern.is_open else 1.0,
    )


def _bending(laminate: Laminate, thickness: float, material: Material, pattern: RibPattern, core: Core) -> Floats:
    bending = laminate.bending.copy()
    if pattern.is_open:
        # Ribs keep a skin from bending over their thickness, but not from being stretched (solid elements: 1 %): as
        # the rest of the body does by holding it, and as both skins of a box are.
        own = replace(laminate, held=(None, None)).bending
        bending += _one_way(own, pattern.top, thickness, core) - own
    height = thickness - pattern.top - pattern.bottom
    # A box's ribs twist between two skins: what their joints gain is nothing against the box.
    bending[2, 2] += core.grid.torsion(height, pattern.top if pattern.is_open else 0.0, material)
    return bending


def _shear(laminate: Laminate, thickness: float, material: Material, pattern: RibPattern, core: Core) -> Floats:
    """Webs along each way carry its shear; a box without them there leans as a frame of its skins and the ribs that
    cross it (Vierendeel's girder; derived, with joints as stiff as those of the frame in plan: 9 % against strips of
    solid elements)."""
    stiffness = [laminate.shear(way, material.shear_modulus) for way in (0, 1)]
    for way in (0, 1):
        if pattern.is_open or core.share[way] > 0.0:
            continue
        assert core.bay is not None
        bay, rib = core.bay[1 - way], core.thickness[1 - way] or pattern.walls
        plate = material.youngs_modulus / (12 * (1 - material.poisson_ratio**2))
        skins = plate * (pattern.top**3 + pattern.bottom**3)
        height = thickness - (pattern.top + pattern.bottom) / 2
        along, up = bay - JOINT * rib, height - JOINT * (pattern.top + pattern.bottom) / 2
        leaning = along**3 / bay / (12 * skins) + bay * up**3 / height**2 / (12 * plate * rib**3)
        # Thick ribs close together hardly bend: what is left then is the shear of a solid body.
        leaning += 1.0 / (SHEAR_CORRECTION * material.shear_modulus * thickness)
        stiffness[way] = 1.0 / leaning
    return np.diag(stiffness)


def _mass(thickness: float, material: Material, pattern: RibPattern, core: Core, skin: Skin) -> float:
    """kg/mm2."""
    skins, height = pattern.top + pattern.bottom, thickness - pattern.top - pattern.bottom
    skins -= 0.0 if skin.slots is None else skin.slots.area / skin.slots.pitch
    return material.density * (skins * skin.solid_share + core.solid_share * height)


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
    outer = skin.sheet.copy()
    top: tuple[Floats, ...] = (laminate.fibre(thickness, outer),)
    if skin.slots is not None:
        # Across the slots the land between them is spared, and the whole pull of the skin passes what is left below.
        floor, layer = pattern.top - skin.slots.depth, skin.top(thickness - pattern.top, thickness, core)
        across = 1 if skin.slots.direction == "x" else 0
        pull, first = (layer.moment(power) for power in (0, 1))
        outer[across] = 0.0
        whole = np.zeros((3, 3))
        whole[across] = pull[across] / floor
        top = (
            laminate.fibre(thickness, outer),
            laminate.fibre(float(first[across, across] / pull[across, across]), whole),
        )
    if not pattern.is_open:
        return *top, laminate.fibre(0.0, skin.sheet)
    smeared = laminate.fibre(0.0, ribs)
    # The stress of a rib is that of its strip of the plan over its share of it, along its own way alone.
    feet = [smeared * np.eye(3)[:, [way]] / share for way, share in enumerate(core.share) if share > 0]
    return (*top, *feet)


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
