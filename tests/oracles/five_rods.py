"""A wheel on five rods, solved by scipy from the lengths of the rods alone.

Six unknowns, a small turn and a shift of the upright, and six equations: five lengths and the
height of the wheel centre. Source: any text on rigid bodies; nothing is shared with the program.
"""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import fsolve
from scipy.spatial.transform import Rotation

Array = NDArray[np.float64]


@dataclass(frozen=True)
class FiveRods:
    """The left wheel of a car as drawn.

    Attributes:
        names: of the rods.
        inner: (5, 3) chassis ends, mm.
        outer: (5, 3) ends on the upright.
        lengths: (5,).
        centre: (3,) of the wheel.
        spin: (3,) unit, outboard.
    """

    names: tuple[str, ...]
    inner: Array
    outer: Array
    lengths: Array
    centre: Array
    spin: Array

    def longer(self, by: dict[str, float]) -> "FiveRods":
        """The same with rods longer."""
        more = np.array([by.get(name, 0.0) for name in self.names])
        return replace(self, lengths=self.lengths + more)

    def inner_moved(self, name: str, by: Array, *, keeps_length: bool = True) -> "FiveRods":
        """The same with a chassis end elsewhere; the rod keeps its length unless made to fit."""
        inner = self.inner.copy()
        inner[self.names.index(name)] += by
        lengths = self.lengths if keeps_length else np.linalg.norm(self.outer - inner, axis=1)
        return replace(self, inner=inner, lengths=lengths)

    def moved(self, bump: float = 0.0) -> tuple[Rotation, Array]:
        """Turn about the drawn wheel centre and shift (3,) of the upright at a wheel height."""

        def missed(unknown: Array) -> Array:
            turn, shift = Rotation.from_rotvec(unknown[:3]), unknown[3:]
            outer = turn.apply(self.outer - self.centre) + self.centre + shift
            apart = np.linalg.norm(outer - self.inner, axis=1) - self.lengths
            return np.append(apart, shift[2] - bump)

        found, _, status, words = fsolve(
            missed, np.array([0, 0, 0, 0, 0, bump], float), xtol=1e-12, full_output=True
        )
        assert status == 1 or np.abs(missed(found)).max() < 1e-8, words
        return Rotation.from_rotvec(found[:3]), found[3:]

    def pose(self, bump: float = 0.0) -> tuple[Array, Array]:
        """Wheel centre (3,) and spin axis (3,) at a height of the wheel centre over design."""
        turn, shift = self.moved(bump)
        return self.centre + shift, turn.apply(self.spin)

    def at(self, place: Array, bump: float) -> Array:
        """Where a place (3,) of the upright, given at design, is at a wheel height."""
        turn, shift = self.moved(bump)
        return np.asarray(turn.apply(place - self.centre) + self.centre + shift)

    def on_arm(self, place: Array, hinge: tuple[Array, Array], ball: Array, bump: float) -> Array:
        """Where a place (3,) of an arm on two points of its hinge and its ball is."""
        axis = (hinge[1] - hinge[0]) / np.linalg.norm(hinge[1] - hinge[0])

        def square(other: Array) -> Array:
            return np.asarray(other - hinge[0] - axis * ((other - hinge[0]) @ axis))

        was, now = square(ball), square(self.at(ball, bump))
        angle = np.arctan2(axis @ np.cross(was, now), was @ now)
        return hinge[0] + Rotation.from_rotvec(axis * angle).apply(place - hinge[0])

    def camber_toe_deg(self, bump: float = 0.0) -> Array:
        """Camber, top outward, and toe-in, front inward: (2,) of a left wheel."""
        _, (x, y, z) = self.pose(bump)
        return np.asarray(np.degrees(np.array([-np.arcsin(z), np.arctan2(x, y)])))


def of_neutral(car: dict[str, Any], end: str) -> FiveRods:
    """The left wheel at an end of a car of the neutral form."""
    axle = car["suspension"][end]
    places, links = axle["hardpoints_left"], axle["links"]
    inner = np.array([places[a] for a, _ in links], float)
    outer = np.array([places[b] for _, b in links], float)
    lengths = np.linalg.norm(outer - inner, axis=1)
    centre = np.array(places["wheel_centre"], float)
    spin = np.array(axle["upright"]["spin_axis"], float)
    names = tuple(a.removesuffix("_inner").replace("_inner_", "_") for a, _ in links)
    return FiveRods(names, inner, outer, lengths, centre, spin)
