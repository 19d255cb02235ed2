"""Bodies on mounts for tests."""

import numpy as np

from core.geometry.types import Array
from core.powerunit.bushes import Bush
from core.powerunit.held import Held

NONE = np.full(3, np.inf)
NOWHERE = np.zeros(3)


def bush(
    place: tuple[float, float, float],
    stiffness: tuple[float, float, float] = (600.0, 300.0, 450.0),
    axes: Array | None = None,
    stop_gap: Array = NONE,
) -> Bush:
    square = np.eye(3) if axes is None else axes
    return Bush("a mount", np.array(place), square, np.array(stiffness), stop_gap)


def on(*bushes: Bush, centre: Array = NOWHERE) -> Held:
    return Held(centre, bushes)


def three() -> tuple[Bush, Bush, Bush]:
    """Two bushes and a stay, each somewhere else."""
    return (
        bush((75.0, -380.0, 185.0)),
        bush((70.0, 495.0, 173.0)),
        bush((-265.0, 130.0, -197.0), (1500.0, 20.0, 20.0)),
    )


def square_axes(numbers: list[float]) -> Array:
    """Right-handed square axes from nine numbers."""
    left, _, right = np.linalg.svd(np.array(numbers).reshape(3, 3) + 2.0 * np.eye(3))
    axes = left @ right
    return np.asarray(axes * np.sign(np.linalg.det(axes)))
