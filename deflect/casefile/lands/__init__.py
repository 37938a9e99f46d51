"""Ways to say how the bed carries the bolster: one a file with a ``KIND``, found by scanning the folder."""

from __future__ import annotations

import pkgutil
from importlib import import_module

from deflect.casefile.lands.kind import LandKind


def land_kinds() -> dict[str, LandKind]:
    """Every kind in this folder, by its key."""
    modules = (import_module(f"{__name__}.{found.name}") for found in pkgutil.iter_modules(__path__))
    kinds = [module.KIND for module in modules if isinstance(getattr(module, "KIND", None), LandKind)]
    return {kind.key: kind for kind in kinds}
