"""A rigid axle written another way: a turn vector and a rocker's angle, for a general solver."""

from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import root
from scipy.spatial.transform import Rotation

from core.geometry.types import Array

SCALE = 500.0
"""mm that a radian counts as: turns are unknowns of the size of the shifts."""


@dataclass(frozen=True)
class PlainAxle:
    """Points of an axle and of the chassis at design, mm; nothing is linearised here.

    Attributes:
        left: wheel centre.
        right: wheel centre.
        rods: chassis and axle end of each.
        held: points of the axle that stay where they are.
        planes: points of the axle and normals of the planes they stay in.
        rockers: pivot and axis on the axle, then chassis and rocker end of both rods.
    """

    left: Array
    right: Array
    rods: tuple[tuple[Array, Array], ...] = ()
    held: tuple[Array, ...] = ()
    planes: tuple[tuple[Array, Array], ...] = ()
    rockers: tuple[tuple[Array, ...], ...] = field(default=())

    def placed(self, unknowns: Array, place: Array) -> Array:
        """Where a point of the axle stands."""
        middle = 0.5 * (self.left + self.right)
        turn = Rotation.from_rotvec(unknowns[3:6] / SCALE)
        return np.asarray(middle + unknowns[:3] + turn.apply(place - middle))

    def errors(self, unknowns: Array, wanted: tuple[float, float]) -> Array:
        """How far everything is from being met, mm."""
        rises = [self.placed(unknowns, c)[2] - c[2] for c in (self.left, self.right)]
        found = [rise - want for rise, want in zip(rises, wanted, strict=True)]
        for inner, outer in self.rods:
            found.append(_apart(self.placed(unknowns, outer), inner) - _apart(outer, inner))
        for place in self.held:
            found.extend(self.placed(unknowns, place) - place)
        for place, normal in self.planes:
            found.append((self.placed(unknowns, place) - place) @ normal)
        for k, rocker in enumerate(self.rockers):
            found.extend(self._rocker(unknowns, rocker, unknowns[6 + k] / SCALE))
        return np.array(found)

    def _rocker(self, unknowns: Array, rocker: tuple[Array, ...], angle: float) -> list[float]:
        pivot, axis, *ends = rocker
        turn = Rotation.from_rotvec(angle * axis)
        pairs = ((ends[0], ends[1]), (ends[2], ends[3]))
        return [
            _apart(self.placed(unknowns, pivot + turn.apply(outer - pivot)), inner)
            - _apart(outer, inner)
            for inner, outer in pairs
        ]

    def solved(self, left: float, right: float, steps: int = 12) -> Array:
        """Unknowns with both wheels at their heights, gone to in small steps from design."""
        unknowns = np.zeros(6 + len(self.rockers))
        for share in np.linspace(0.0, 1.0, steps + 1)[1:]:
            wanted = (share * left, share * right)
            found = root(self.errors, unknowns, args=(wanted,), tol=1e-13)
            unknowns = found.x
        assert np.abs(self.errors(unknowns, (left, right))).max() < 1e-8
        return np.asarray(unknowns)


def _apart(one: Array, other: Array) -> float:
    return float(np.linalg.norm(one - other))
