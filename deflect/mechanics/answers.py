"""A body's answers to unit forces at its ports, part by part as they were solved for: joining them would copy them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from deflect.mechanics.arrays import Floats, Sparse


@dataclass(frozen=True, eq=False)
class Answers:
    """Motions (N, n) of a body under unit forces at n ports, mm/N: ``parts`` (N, n_k) side by side, times ``scale``."""

    parts: tuple[Floats, ...]
    scale: float = 1.0

    def under(self, force: Floats) -> Floats:
        """The body's motion (N,) under forces (n,) at the ports, N."""
        ends = np.cumsum([part.shape[1] for part in self.parts])
        pieces = np.split(force, ends[:-1])
        return np.asarray(sum(part @ piece for part, piece in zip(self.parts, pieces, strict=True)) * self.scale)

    def read(self, rows: Sparse) -> Floats:
        """What ``rows`` (m, N) read of each of them (m, n)."""
        return np.hstack([rows @ part for part in self.parts]) * self.scale

    def scaled(self, by: float) -> Answers:
        return replace(self, scale=self.scale * by)

    @property
    def nbytes(self) -> int:
        return sum(part.nbytes for part in self.parts)
