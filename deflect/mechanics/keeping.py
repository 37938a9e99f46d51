"""What a process keeps of bodies and solutions, and how it is let go: for those who go through many cases."""

from __future__ import annotations

from deflect.mechanics import body, closure, footprint, ground, hanging, mesh, plate, ring, ring_case, under_closing

_KEPT = (
    body.condense_table,
    body.condense_base,
    footprint.footprint,
    footprint._fastened,
    ground._stand_unlocated,
    ground._drag_of,
    ground._march,
    hanging.condense_slide,
    hanging._footprint,
    hanging._hang,
    closure.closed_at,
    closure._camber_of,
    ring.ring_body,
    ring_case.ring_of,
    ring_case.ring_range,
    under_closing._solved,
    plate._reader_of,
    mesh._one_mesh,
)


def forget() -> None:
    """Let go of every factorised body and solved state; what is asked for next is made anew."""
    for kept in _KEPT:
        kept.cache_clear()
