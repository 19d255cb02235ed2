"""Forces in a corner that stands still under a load, by a general multibody library.

The library is Exudyn; see `tests.oracles.multibody`. The damper is a bar of fixed length, and the
forces are the library's own multipliers of its joints.
"""

from importlib import import_module
from typing import Any

import numpy as np

from tests.oracles.multibody import (
    BALL,
    HINGE,
    Mechanism,
    Numbers,
    axes_along,
    quiet_and_exact,
)

LIBRARY: Any = import_module("exudyn")  # called through Any: some of its functions have no types


class LoadedCorner(Mechanism):
    """An upright on two arms, a rod and a damper, under a force."""

    def __init__(self, wheel_centre: Numbers) -> None:
        super().__init__(wheel_centre)
        self._centre = wheel_centre
        self._balls: dict[str, object] = {}
        self._arms: dict[str, tuple[object, Numbers]] = {}
        self._bars: dict[str, object] = {}
        self._system.SetObjectParameter(self._height, "activeConnector", False)  # noqa: FBT003

    def arm(self, name: str, front: Numbers, rear: Numbers, outer: Numbers) -> None:
        """An arm on a hinge, with a ball on the upright."""
        middle = (front + rear + outer) / 3.0
        body = self._body(middle)
        self._joint(self._chassis, body, front, HINGE, rear - front)
        self._balls[name] = self._system.CreateGenericJoint(
            itemNumbers=[body, self.upright],
            position=outer,
            rotationMatrixAxes=axes_along(np.array([1.0, 0.0, 0.0])),
            constrainedAxes=BALL,
        )
        self._arms[name] = body, middle

    def bar(self, name: str, inner: Numbers, outer: Numbers, on: str = "upright") -> None:
        """A bar of fixed length between the chassis and the upright or an arm."""
        body, middle = (self.upright, self._centre) if on == "upright" else self._arms[on]
        self._bars[name] = self._system.CreateDistanceConstraint(
            itemNumbers=[self._chassis, body],
            localPosition0=inner,
            localPosition1=outer - middle,
        )

    def load(self, force: Numbers, place: Numbers) -> None:
        """Push the upright, and let everything come to rest."""
        self._system.CreateForce(
            itemNumber=self.upright, loadVector=force, localPosition=place - self._centre
        )
        self._system.Assemble()
        self._system.SolveStatic(quiet_and_exact(), updateInitialValues=True)

    def at_ball(self, name: str) -> Numbers:
        """Force (3,) N between an arm and the upright, whichever way, car frame."""
        force = self._system.GetObjectOutput(
            self._balls[name], LIBRARY.OutputVariableType.ForceLocal
        )
        axes = axes_along(np.array([1.0, 0.0, 0.0]))
        return np.asarray(axes @ np.array(force), dtype=np.float64)

    def in_bar(self, name: str) -> float:
        """Force N along a bar."""
        return float(
            self._system.GetObjectOutput(self._bars[name], LIBRARY.OutputVariableType.Force)
        )
