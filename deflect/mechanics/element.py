"""The plate element: nine nodes, tied transverse shear (MITC9).

Deflection and both rotations are biquadratic; the covariant shear strains are
taken at tying points only and interpolated between them, which keeps the
element free of locking in thin plates and of spurious zero-energy modes.

Source: K. J. Bathe and E. N. Dvorkin, "A formulation of general shell
elements: the use of mixed interpolation of tensorial components", Int. J.
Numer. Methods Eng. 22 (1986) 697-722; M. L. Bucalem and K. J. Bathe, same
journal 36 (1993) 3729-3754.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from skfem import Element, ElementQuad2
from skfem.element import DiscreteField

from deflect.mechanics.arrays import Floats

# Gauss points on the reference interval 0..1.  A shear component is tied at two
# points along its own direction and at three across it.
_ALONG = 0.5 + np.array([-0.5, 0.5]) / np.sqrt(3.0)
_ACROSS = 0.5 + np.array([-0.5, 0.0, 0.5]) * np.sqrt(0.6)
_TIES = (
    np.stack([a.ravel() for a in np.meshgrid(_ALONG, _ACROSS, indexing="ij")]),
    np.stack([a.ravel() for a in np.meshgrid(_ACROSS, _ALONG, indexing="ij")]),
)


def _lagrange(nodes: Floats, x: Floats) -> Floats:
    """Lagrange polynomials through ``nodes`` at ``x``: (nodes, points)."""
    rows = []
    for k, node in enumerate(nodes):
        others = np.delete(nodes, k)
        rows.append(np.prod([(x - o) / (node - o) for o in others], axis=0))
    return np.array(rows)


def _tie_weights(points: Floats) -> tuple[Floats, Floats]:
    """Weights of the six ties of each shear component: two of (6, points)."""
    x, y = points
    first = np.einsum("ip,jp->ijp", _lagrange(_ALONG, x), _lagrange(_ACROSS, y))
    second = np.einsum("ip,jp->ijp", _lagrange(_ACROSS, x), _lagrange(_ALONG, y))
    return first.reshape(6, -1), second.reshape(6, -1)


class ElementQuadMITC9(Element):  # type: ignore[misc]  # scikit-fem carries no types
    """Reissner-Mindlin quadrilateral for scikit-fem.

    Each basis function carries three fields: the deflection w (mm), the
    rotation vector (theta_x, theta_y) (rad) and the tied shear strain
    gamma = grad w - theta, shape (2, elements, points).  A point at height z
    above the mid-plane moves in the plane by -z theta.
    """

    nodal_dofs = 3
    facet_dofs = 3
    interior_dofs = 3
    maxdeg = 4
    dofnames = ["w", "tx", "ty"] * 3
    refdom = ElementQuad2.refdom
    doflocs = np.repeat(ElementQuad2.doflocs, 3, axis=0)
    _scalar = ElementQuad2()

    def gbasis(
        self, mapping: Any, X: Floats, i: int, tind: Any = None
    ) -> tuple[DiscreteField, DiscreteField, DiscreteField]:
        """Basis function ``i`` at the reference points ``X`` (2, points)."""
        node, component = divmod(i, 3)
        phi = self._scalar.gbasis(mapping, X, node, tind)[0]
        zero = np.zeros_like(phi.grad)
        tied = np.stack(
            [
                np.einsum("tp,et->ep", weights, self._covariant(mapping, ties, node, component, row, tind))
                for row, (ties, weights) in enumerate(zip(_TIES, _tie_weights(X), strict=True))
            ]
        )
        shear = np.einsum("ijep,iep->jep", mapping.invDF(X, tind), tied)
        if component == 0:
            deflection = phi
            rotation = DiscreteField(zero, grad=np.zeros((2, *zero.shape)))
        else:
            deflection = phi.zeros()
            value, grad = zero.copy(), np.zeros((2, *zero.shape))
            value[component - 1], grad[component - 1] = np.asarray(phi), phi.grad
            rotation = DiscreteField(value, grad=grad)
        return deflection, rotation, DiscreteField(shear)

    def _covariant(self, mapping: Any, ties: Floats, node: int, component: int, row: int, tind: Any) -> Floats:
        """Covariant shear strain ``row`` of one function at its ties: (elements, 6)."""
        value, slope = self._scalar.lbasis(ties, node)
        if component == 0:
            elements = mapping.mesh.nelements if tind is None else len(tind)
            return np.broadcast_to(slope[row], (elements, ties.shape[1]))
        jacobian = mapping.DF(ties, tind)  # (2, 2, elements, 6)
        return np.asarray(-value * jacobian[component - 1, row])
