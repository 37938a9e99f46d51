"""Names for the arrays that the mechanics passes around."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
Flags = NDArray[np.bool_]
Sparse = Any  # scipy.sparse matrices, which carry no complete types
