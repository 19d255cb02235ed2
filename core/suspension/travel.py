"""Where the wheel is wanted: wheel height, rack, adjusters, or the road under a rolled car."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from core.geometry.types import Array


@dataclass(frozen=True, eq=False, slots=True)
class Road:
    """A flat road as seen from the car, which the tyre must touch.

    Attributes:
        normal: (..., 3) unit, up from the road.
        point: (..., 3) mm, any place on it.
    """

    normal: Array
    point: Array


class Wanted(Protocol):
    """Where the wheels of a body are wanted, of one wheel or of more."""

    @property
    def heights(self) -> Array:
        """Wheel centres up from design, (..., wheels) mm; not used with a road."""
        ...

    @property
    def rack(self) -> Array:
        """Sideways travel of the rack, (...) mm."""
        ...

    @property
    def road(self) -> Road | None:
        """Where the tyres must touch, in place of the heights."""
        ...

    @property
    def ends_moved(self) -> Array | None:
        """How far chassis ends are moved, (..., rods, 3) mm."""
        ...

    @property
    def lengthened(self) -> Array | None:
        """How much longer than drawn rods are set, (..., rods) mm."""
        ...


@dataclass(frozen=True, eq=False, slots=True)
class Travel:
    """Positions of one corner; everything in it broadcasts to one shape.

    Attributes:
        bump: wheel centre up from design relative to the chassis, (...) mm. Not used with a road.
        rack: sideways travel of the rack, (...) mm, positive to the left on both sides of the car.
        road: where the tyre must touch, in place of `bump`.
        ends_moved: (..., rods, 3) mm, how far chassis ends are moved, as by shims.
        lengthened: (..., rods) mm, how much longer than drawn rods are set.
        apart: (...) mm, how much higher the other wheel of a rigid axle is than it would be by
            what it does while this one rises; any other corner is not asked for it.
    """

    bump: Array
    rack: Array
    road: Road | None = None
    ends_moved: Array | None = None
    lengthened: Array | None = None
    apart: Array | None = None

    @property
    def heights(self) -> Array:
        """Of the one wheel, (..., 1) mm."""
        return self.bump[..., None]

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the positions."""
        shapes = [np.shape(self.bump), np.shape(self.rack)]
        if self.road is not None:
            shapes += [np.shape(self.road.normal)[:-1], np.shape(self.road.point)[:-1]]
        if self.ends_moved is not None:
            shapes.append(np.shape(self.ends_moved)[:-2])
        if self.lengthened is not None:
            shapes.append(np.shape(self.lengthened)[:-1])
        if self.apart is not None:
            shapes.append(np.shape(self.apart))
        return np.broadcast_shapes(*shapes)


def at(bump: Array | float = 0.0, rack: Array | float = 0.0) -> Travel:
    """Return positions by wheel height and rack travel; both broadcast, mm."""
    return Travel(np.asarray(bump, dtype=np.float64), np.asarray(rack, dtype=np.float64))


def grid(bumps: Array, racks: Array) -> Travel:
    """Return every wheel height with every rack travel: shape (bumps, racks), mm."""
    return at(np.asarray(bumps)[:, None], np.asarray(racks)[None, :])


def rolled(roll_deg: Array, road_height: float = 0.0, rack: Array | float = 0.0) -> Travel:
    """Return positions with the body rolled and both tyres on the road.

    Args:
        roll_deg: (...) turn of the body about the x axis through the ground point on the centre
            plane, positive with the left side up; no heave is added.
        road_height: z of the road at design, mm.
        rack: (...) mm.
    """
    roll = np.radians(np.asarray(roll_deg, dtype=np.float64))
    normal = np.stack([np.zeros_like(roll), np.sin(roll), np.cos(roll)], axis=-1)
    road = Road(normal, np.array([0.0, 0.0, road_height]))
    return Travel(np.zeros(()), np.asarray(rack, dtype=np.float64), road)
