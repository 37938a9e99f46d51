"""Names for the arrays that the mechanics passes around, and what round-off must not decide in them."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
Flags = NDArray[np.bool_]
Sparse = Any  # scipy.sparse matrices, which carry no complete types

# Share of the greatest value by which another one is alike: a solution has about ten digits.
_ALIKE = 1e-9


def symmetric(matrix: Floats) -> Floats:
    """A square matrix that is symmetric but for round-off, made so exactly."""
    return np.asarray(0.5 * (matrix + matrix.T))


def greatest(values: Floats) -> int:
    """Index of the greatest of ``values`` (n,), NaN left out; of those that are alike by symmetry always the first."""
    most = np.nanmax(values)
    return int(np.flatnonzero(values >= most - _ALIKE * abs(most))[0])
