"""Corners as bodies and joints of a general multibody library, which finds where they stand.

The library is Exudyn (J. Gerstmayr, University of Innsbruck; its licence is of the BSD kind).
Nothing of the program is used here: the arms, the rods and the rack are bodies of their own, each
with the place and the turn of its own, and the joints between them are the library's.
"""

from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
from numpy.typing import NDArray

# Called through Any: some of its functions have no types.
_LIBRARY: Any = import_module("exudyn")
_UTILITIES: Any = import_module("exudyn.utilities")

Numbers = NDArray[np.float64]
LEFT = np.array([0.0, 1.0, 0.0])
STEP = 10.0  # mm of wheel height or rack from one solution to the next, so that none is jumped to

# What a joint takes away: three shifts and three turns along its own axes, the first one given.
BALL = [1, 1, 1, 0, 0, 0]
UNIVERSAL = [1, 1, 1, 1, 0, 0]
HINGE = [1, 1, 1, 0, 1, 1]
SLIDE = [0, 1, 1, 1, 1, 1]


@dataclass(frozen=True, eq=False, slots=True)
class Stands:
    """Where the library puts the upright.

    Attributes:
        centre: (positions, 3) mm, of the wheel.
        rotation: (positions, 3, 3), of the upright from design.
    """

    centre: Numbers
    rotation: Numbers


class Mechanism:
    """An upright, to be held by arms and rods and then moved."""

    def __init__(self, wheel_centre: Numbers) -> None:
        self._container = _LIBRARY.SystemContainer()  # kept, for the system belongs to it
        self._system = self._container.AddSystem()
        self._chassis = self._system.CreateGround()
        self.upright = self._body(wheel_centre)
        self._height = self._drive(self.upright, 2)
        self._rack: object = None

    def wishbone(self, front: Numbers, rear: Numbers, outer: Numbers) -> None:
        """An arm that turns about two places of the chassis and has a ball on the upright."""
        arm = self._body((front + rear + outer) / 3.0)
        self._joint(self._chassis, arm, front, HINGE, rear - front)
        self._joint(arm, self.upright, outer, BALL)

    def rod(self, inner: Numbers, outer: Numbers, carrier: object = None) -> None:
        """A rod from the chassis, or what is given, to the upright; it cannot spin."""
        rod = self._body((inner + outer) / 2.0)
        held = self._chassis if carrier is None else carrier
        self._joint(held, rod, inner, UNIVERSAL, outer - inner)
        self._joint(rod, self.upright, outer, BALL)

    def track_rod(self, inner: Numbers, outer: Numbers) -> None:
        """A rod whose inner end is on a rack that slides across the car."""
        rack = self._body(inner)
        self._joint(self._chassis, rack, inner, SLIDE, LEFT)
        self._rack = self._drive(rack, 1)
        self.rod(inner, outer, rack)

    def strut(self, lower: Numbers, top: Numbers) -> None:
        """A rod with a ball on the chassis, that slides in the upright along its own line."""
        rod = self._body((lower + top) / 2.0)
        self._joint(self._chassis, rod, top, BALL)
        self._joint(self.upright, rod, lower, SLIDE, top - lower)

    def ball_on_chassis(self, place: Numbers) -> None:
        """A ball between the upright and the chassis."""
        self._joint(self._chassis, self.upright, place, BALL)

    def stands(self, bumps: Numbers, racks: Numbers) -> Stands:
        """Where the upright is at positions (n,) mm, each reached from the one before.

        Raises:
            exudyn.SolverError: if the library finds no solution.
        """
        self._system.Assemble()
        now, found = np.zeros(2), list[tuple[Numbers, Numbers]]()
        for wanted in np.stack([bumps, racks], axis=1):
            steps = int(np.ceil(np.abs(wanted - now).max() / STEP)) + 1
            for between in np.linspace(now, wanted, steps + 1)[1:]:
                self._move(*between)
            now = wanted
            found.append(self._pose())
        return Stands(
            np.array([place for place, _ in found]), np.array([turn for _, turn in found])
        )

    def _body(self, place: Numbers) -> object:
        inertia = _UTILITIES.RigidBodyInertia(mass=1.0, inertiaTensor=np.eye(3))  # stands still
        return self._system.CreateRigidBody(inertia=inertia, referencePosition=place)

    def _joint(
        self, one: object, other: object, place: Numbers, taken: list[int], along: Numbers = LEFT
    ) -> None:
        self._system.CreateGenericJoint(
            itemNumbers=[one, other],
            position=place,
            rotationMatrixAxes=axes_along(along),
            constrainedAxes=taken,
        )

    def _drive(self, body: object, axis: int) -> object:
        """Take the shift of a body along one axis of the car, to be set."""
        return self._system.CreateCoordinateConstraint(
            itemNumbers=[None, body], coordinates=[None, axis]
        )

    def _move(self, bump: float, rack: float) -> None:
        self._system.SetObjectParameter(self._height, "offset", bump)
        if self._rack is not None:
            self._system.SetObjectParameter(self._rack, "offset", rack)
        self._system.SolveStatic(quiet_and_exact(), updateInitialValues=True)

    def _pose(self) -> tuple[Numbers, Numbers]:
        kinds = _LIBRARY.OutputVariableType
        place, turn = (
            np.array(self._system.GetObjectOutputBody(self.upright, kind), dtype=np.float64)
            for kind in (kinds.Position, kinds.RotationMatrix)
        )
        return place, turn.reshape(3, 3)


def quiet_and_exact() -> object:
    """Settings of the library: nothing is printed or written, as exact as its numbers allow."""
    settings = _LIBRARY.SimulationSettings()
    settings.solution.file.write = False
    settings.staticSolver.verboseMode = 0
    settings.staticSolver.newton.relativeTolerance = 1e-13
    settings.staticSolver.newton.absoluteTolerance = 1e-10
    return settings


def axes_along(direction: Numbers) -> Numbers:
    """Three axes at right angles as columns, the first one along a direction."""
    first = direction / np.linalg.norm(direction)
    second = np.cross(first, np.eye(3)[np.argmin(np.abs(first))])
    second = second / np.linalg.norm(second)
    axes = np.stack([first, second, np.cross(first, second)], axis=1)
    return np.asarray(axes, dtype=np.float64)
