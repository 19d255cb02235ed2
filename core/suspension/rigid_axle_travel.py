"""Where an axle is wanted: by both wheel heights, by heave and roll, or on the road."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.rigid_axle import RigidAxle
from core.suspension.travel import Road, rolled


@dataclass(frozen=True, eq=False, slots=True)
class AxleTravel:
    """Positions of one axle; everything in it broadcasts to one shape.

    Attributes:
        left: left wheel centre up from design relative to the chassis, (...) mm. Not used with a
            road.
        right: right wheel centre, likewise.
        road: where both tyres must touch, in place of the heights.
        ends_moved: (..., rods, 3) mm, how far chassis ends are moved, as by shims.
        lengthened: (..., rods) mm, how much longer than drawn rods are set.
    """

    left: Array
    right: Array
    road: Road | None = None
    ends_moved: Array | None = None
    lengthened: Array | None = None

    @property
    def heights(self) -> Array:
        """Of both wheel centres, (..., 2) mm."""
        return np.stack(np.broadcast_arrays(self.left, self.right), axis=-1)

    @property
    def rack(self) -> Array:
        """None of its rods goes with the rack: 0."""
        return np.zeros(())

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the positions."""
        shapes = [np.shape(self.left), np.shape(self.right)]
        if self.road is not None:
            shapes += [np.shape(self.road.normal)[:-1], np.shape(self.road.point)[:-1]]
        if self.ends_moved is not None:
            shapes.append(np.shape(self.ends_moved)[:-2])
        if self.lengthened is not None:
            shapes.append(np.shape(self.lengthened)[:-1])
        return np.broadcast_shapes(*shapes)


def wheels_at(left: Array | float = 0.0, right: Array | float = 0.0) -> AxleTravel:
    """Return positions by the heights of both wheel centres; they broadcast, mm."""
    return AxleTravel(np.asarray(left, dtype=np.float64), np.asarray(right, dtype=np.float64))


def heave_and_roll(
    axle: RigidAxle, heave: Array | float = 0.0, roll_deg: Array | float = 0.0
) -> AxleTravel:
    """Return positions by heave and roll; both broadcast.

    Args:
        axle: whose span and lean at design the heights come from, by their sine.
        heave: mean rise of both wheel centres relative to the chassis, (...) mm.
        roll_deg: (...) of the body against the axle from design, positive with the left side of
            the body up, so that the left wheel goes down in it.

    Raises:
        ValueError: if the axle would stand on its end.
    """
    angle = np.arcsin(axle.lean) - np.radians(np.asarray(roll_deg, dtype=np.float64))
    if np.any(np.abs(angle) >= 0.5 * np.pi):
        raise ValueError("an axle cannot be rolled by a right angle against the body")
    rise = 0.5 * axle.span * (np.sin(angle) - axle.lean)
    return wheels_at(heave + rise, heave - rise)


def axle_on_road(roll_deg: Array | float, road_height: float = 0.0) -> AxleTravel:
    """Return positions with the body rolled and both tyres on the road.

    Args:
        roll_deg: (...) turn of the body about the x axis through the ground point on the centre
            plane, positive with the left side up; no heave is added.
        road_height: z of the road at design, mm.
    """
    road = rolled(np.asarray(roll_deg, dtype=np.float64), road_height).road
    return AxleTravel(np.zeros(()), np.zeros(()), road)
