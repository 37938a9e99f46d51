"""Sections of a plate, one kind a file: what thickness, material, holes, slots and ribs make of it."""

from deflect.mechanics.sections.perforated import perforated_section as perforated_section
from deflect.mechanics.sections.perforated import slot_constants as slot_constants
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION as SHEAR_CORRECTION
from deflect.mechanics.sections.plate_section import PlateSection as PlateSection
from deflect.mechanics.sections.ribbed import BESIDE_X as BESIDE_X
from deflect.mechanics.sections.ribbed import BESIDE_Y as BESIDE_Y
from deflect.mechanics.sections.ribbed import CORNER as CORNER
from deflect.mechanics.sections.ribbed import INNER as INNER
from deflect.mechanics.sections.ribbed import Core as Core
from deflect.mechanics.sections.ribbed import Skin as Skin
from deflect.mechanics.sections.ribbed import core_section as core_section
from deflect.mechanics.sections.ribbed import perforated_skin as perforated_skin
from deflect.mechanics.sections.ribbed import ribbed_sections as ribbed_sections
from deflect.mechanics.sections.ribbed import wall_section as wall_section
from deflect.mechanics.sections.slotted import SlotForm as SlotForm
from deflect.mechanics.sections.slotted import slotted_section as slotted_section
from deflect.mechanics.sections.solid import solid_section as solid_section
from deflect.mechanics.sections.stacked import stacked_section as stacked_section
from deflect.mechanics.sections.stepped import StepForm as StepForm
