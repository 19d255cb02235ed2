"""How a rigid body shakes on its mounts: frequencies, modes, and the axis it turns about freely."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import eigh

from core.geometry.types import Array, read_only, unit
from core.powerunit.bushes import MountError
from core.powerunit.held import Held

TONNE_PER_KG = 1e-3
"""With N and mm masses are in tonnes, so that N = t mm/s2."""

T_MM2_PER_KG_M2 = 1e3

ROUNDING = 1e-9

MOTIONS = ("fore and aft", "sideways", "bounce", "roll", "pitch", "yaw")
"""Along and about x, y and z of the car."""


@dataclass(frozen=True, eq=False)
class Mass:
    """Mass and inertia of a rigid body.

    Attributes:
        mass_kg: kg.
        inertia: (3, 3) kg m2 about the centre of gravity, car axes. Elements of the tensor: off
            the diagonal stands minus the sum of m x y, as I omega gives the angular momentum.

    Raises:
        MountError: if there is no mass, or no body has such an inertia.
    """

    mass_kg: float
    inertia: Array

    def __post_init__(self) -> None:
        """Check the figures."""
        object.__setattr__(self, "inertia", read_only(self.inertia))
        if not (np.isfinite(self.mass_kg) and self.mass_kg > 0.0):
            raise MountError("a body must have a mass above nought")
        if np.abs(self.inertia - self.inertia.T).max() > ROUNDING * np.abs(self.inertia).max():
            raise MountError("an inertia tensor is the same mirrored about its diagonal")
        least, middle, most = np.linalg.eigvalsh(self.inertia)
        if least <= 0.0 or most > (least + middle) * (1.0 + ROUNDING):
            msg = (
                "no body has such moments of inertia: about square axes none is more than the "
                "other two together"
            )
            raise MountError(msg)

    @property
    def matrix(self) -> Array:
        """Mass matrix (6, 6) for moves in mm and turns in radians; t, t mm2."""
        found = np.zeros((6, 6))
        found[:3, :3] = np.eye(3) * self.mass_kg * TONNE_PER_KG
        found[3:, 3:] = self.inertia * T_MM2_PER_KG_M2
        return found


@dataclass(frozen=True, eq=False)
class Shaking:
    """The six ways in which a rigid body shakes on its mounts.

    Attributes:
        frequencies: (6,) Hz, lowest first; nought where a motion is free.
        shapes: (6, 6) columns are the twists about the centre of gravity, mm and radians, each of
            kinetic energy 1/2 at 1 rad/s.
        shares: (6, 6) column by column, how much of that energy is in each of `MOTIONS`; in sum 1.
            A share can be below nought where the inertia couples two turns.
    """

    frequencies: Array
    shapes: Array
    shares: Array

    @property
    def names(self) -> tuple[str, ...]:
        """The motion with the greatest share of each."""
        return tuple(MOTIONS[int(column.argmax())] for column in self.shares.T)


def shaking(held: Held, mass: Mass) -> Shaking:
    """Return frequencies and modes: K q = omega^2 M q, without damping.

    Args:
        held: the body on its mounts.
        mass: of the body, about the same centre of gravity.

    Source:
        Generalised eigenproblem of small vibrations; S. S. Rao, Mechanical Vibrations (from
        memory).
    """
    matrix = mass.matrix
    squares, shapes = eigh(held.stiffness, matrix)
    shares = np.asarray(shapes * (matrix @ shapes), dtype=np.float64)
    frequencies = np.sqrt(np.maximum(squares, 0.0)) / (2.0 * np.pi)
    return Shaking(read_only(frequencies), read_only(shapes), read_only(shares))


def torque_roll_axis(mass: Mass, axis: Array) -> Array:
    """Return the line that a body hung free would turn about under a torque: unit(J^-1 tau).

    Args:
        mass: of the body.
        axis: (3,) direction of the torque, car frame.

    Returns:
        (3,) direction, car frame; it goes through the centre of gravity.
    """
    return unit(np.asarray(np.linalg.solve(mass.inertia, axis), dtype=np.float64))
