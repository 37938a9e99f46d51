"""Where a hollow blank holder has which section: its four sides and their corners.

The walls along either edge are smeared over the width of the ring, as ribs between them are along it: a side bends as
the one beam that skin and walls make.
"""

from __future__ import annotations

from deflect.mechanics.layout import Layout
from deflect.mechanics.sections import Core, PlateSection, Skin, core_section, solid_section
from deflect.model.die import BlankHolder
from deflect.model.ribs import RibPattern
from deflect.model.values import Rectangle

_CORNERS, _ALONG_X, _ALONG_Y = range(3)


def ring_layout(holder: BlankHolder) -> Layout:
    """The sections of a ring, in die axes; in the corners walls run both ways."""
    ribs = holder.ribs
    if ribs is None:
        return Layout((solid_section(holder.thickness, holder.material),))
    walls = (ribs.walls, holder.ring / 2, holder.ring - ribs.walls)
    across = (ribs.thickness, ribs.pitch, ribs.pitch)
    sections = tuple(_section(holder, *rows) for rows in ((walls, walls), (walls, across), (across, walls)))
    outer, inner = holder.pattern.outer, holder.pattern.inner
    front, side = (outer.width - inner.width) / 2, (outer.length - inner.length) / 2
    return Layout(
        sections,
        (
            (Rectangle(inner.x, inner.front - front / 2, inner.length, front), _ALONG_X),
            (Rectangle(inner.x, inner.back + front / 2, inner.length, front), _ALONG_X),
            (Rectangle(inner.left - side / 2, inner.y, side, inner.width), _ALONG_Y),
            (Rectangle(inner.right + side / 2, inner.y, side, inner.width), _ALONG_Y),
        ),
    )


def ring_squeeze(holder: BlankHolder) -> float:
    """By how much pressure on its face squeezes a ring against its middle, mm/MPa."""
    sections = ring_layout(holder).sections
    return sections[_CORNERS if holder.ribs is None else _ALONG_X].squeeze


def _section(
    holder: BlankHolder, along_x: tuple[float, float, float], along_y: tuple[float, float, float]
) -> PlateSection:
    """A skin on ribs both ways, each given by its thickness, the width that it stands for, and its distance, mm."""
    assert holder.ribs is not None
    thickness, pitch, bay = zip(along_x, along_y, strict=True)
    core = Core((thickness[0], thickness[1]), (pitch[0], pitch[1]), (bay[0], bay[1]))
    pattern = RibPattern(holder.ribs.skin, 0.0, holder.ribs.walls, None, None)
    return core_section(holder.thickness, holder.material, pattern, core, Skin.plain(holder.material))
