"""Materials: a name of the table, or own values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Discriminator, Tag, model_validator

from deflect.casefile.fields import Choice, Figure, Words, refuse
from deflect.casefile.parts.part import Derived, Part, shape_tag
from deflect.model.material import USUAL_EXPANSION, Material
from deflect.sources import Source
from deflect.sources import Tag as Trust
from deflect.units import DENSITY, EXPANSION, SHARE, STRESS, show_density, show_stress

GIGA = 1e3
"""MPa per GPa."""
MICRO = 1e-6
"""1/K per µm/m/K."""
DENSE = 1e-6
"""kg/mm3 per kg/dm3."""

EN_1993 = Source("EN 1993-1-1, 3.2.6; from memory", Trust.MEMORY)
EN_10293 = Source("cast steel after EN 10293; from memory", Trust.MEMORY)
EN_1561 = Source("EN 1561, informative annex; from memory", Trust.MEMORY)
EN_1563 = Source("EN 1563", Trust.PUBLISHED)
EN_1563_RATIO = Source("EN 1563; from memory", Trust.MEMORY)
PERMITTED = Source("low enough to bear every stroke; common practice, no source", Trust.PRACTICE)


@dataclass(frozen=True)
class NamedMaterial:
    """A material of the table, and where its elastic values come from."""

    material: Material
    source: Source
    ratio_source: Source

    def build(self) -> Material:
        return self.material

    def derived(self) -> Derived:
        return {
            ("youngs_modulus",): (show_stress(self.material.youngs_modulus), self.source),
            ("poisson_ratio",): (f"{self.material.poisson_ratio:g}", self.ratio_source),
            ("density",): (show_density(self.material.density), self.source),
            ("permitted_stress",): (show_stress(self.material.permitted_stress), PERMITTED),
        }


def _named(
    name: str, gpa: float, ratio: float, dense: float, permitted: float, source: Source, expands: float = 11.5
) -> NamedMaterial:
    ratio_source = EN_1563_RATIO if source is EN_1563 else source
    material = Material(name, gpa * GIGA, ratio, dense * DENSE, permitted, expands * MICRO)
    return NamedMaterial(material, source, ratio_source)


MATERIALS = {
    named.material.name: named
    for named in (
        _named("steel S355", 210.0, 0.3, 7.85, 120.0, EN_1993),
        _named("steel C45", 210.0, 0.3, 7.85, 130.0, EN_1993),
        _named("cast steel", 206.0, 0.3, 7.83, 100.0, EN_10293),
        _named("cast iron GJL-250", 110.0, 0.26, 7.20, 40.0, EN_1561, 11.7),
        _named("ductile iron GJS-500-7", 169.0, 0.275, 7.1, 90.0, EN_1563, 12.5),
        _named("ductile iron GJS-600-3", 174.0, 0.275, 7.2, 100.0, EN_1563, 12.5),
        _named("ductile iron GJS-700-2", 176.0, 0.275, 7.2, 110.0, EN_1563, 12.5),
    )
}
"""Young's modulus in GPa, Poisson's ratio, density in kg/dm3, permitted bending stress at every stroke in MPa
(common practice: a fatigue-minded figure that any press or die file may replace), expansion in µm/m/K."""


class MaterialName(Choice):
    """A material by its name."""

    def read(self, written: Any) -> NamedMaterial:
        return written if isinstance(written, NamedMaterial) else MATERIALS[super().read(written)]


class MaterialTable(Part):
    """Own values, alone or in place of single values of a named material."""

    name: Annotated[str, Words("name of the material")] = "own material"
    like: Annotated[NamedMaterial, MaterialName("the material whose other values hold", tuple(MATERIALS))] | None = None
    youngs_modulus: Annotated[float, Figure("Young's modulus", STRESS, "10 GPa", "700 GPa")] | None = None
    poisson_ratio: Annotated[float, Figure("Poisson's ratio", SHARE, "0", "0.45")] | None = None
    density: Annotated[float, Figure("density", DENSITY, "1000 kg/m3", "20000 kg/m3")] | None = None
    permitted_stress: (
        Annotated[float, Figure("plate bending stress permitted at every stroke", STRESS, "1 MPa", "1 GPa")] | None
    ) = None
    expansion: Annotated[float, Figure("thermal expansion", EXPANSION, "0 µm/m/K", "30 µm/m/K")] | None = None

    @model_validator(mode="after")
    def _is_complete(self) -> MaterialTable:
        missing = [key for key in _VALUES if getattr(self, key) is None]
        if self.like is None and missing:
            refuse(
                f"own values of a material lack {', '.join(missing)}",
                "all four values, or like = a named material",
                'give them, or add like = "steel S355"',
            )
        return self

    def build(self) -> Material:
        given = {key: getattr(self, key) for key in _VALUES}
        if self.like is not None:
            given = {key: getattr(self.like.material, key) if value is None else value for key, value in given.items()}
        usual = USUAL_EXPANSION if self.like is None else self.like.material.expansion
        given["expansion"] = usual if self.expansion is None else self.expansion
        is_named = self.like is None or "name" in self.model_fields_set
        name = self.name if is_named or self.like is None else f"{self.like.material.name}, own values"
        return Material(name, **given)

    def derived(self) -> Derived:
        return {} if self.like is None else self.like.derived()


_VALUES = ("youngs_modulus", "poisson_ratio", "density", "permitted_stress")

MaterialStated = Annotated[
    Annotated[NamedMaterial, MaterialName("a material of the table", tuple(MATERIALS)), Tag("=name")]
    | Annotated[MaterialTable, Tag("=table")],
    Discriminator(shape_tag({dict: "=table", MaterialTable: "=table", object: "=name"})),
]
"""A name of the table, or a table of own values."""
