"""A rocker turned by a push- or pull-rod: its angle, and how near it comes to dead centre.

A blade of an anti-roll bar on its drop link is the same thing.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from core.geometry.frames import mirror
from core.geometry.types import Array, unit
from core.suspension.carried import carried_per_bump, carried_place, mirrored_arm
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.screw import cross
from core.suspension.solve import solve
from core.suspension.travel import Travel

NO_POSE = "the linkage does not reach this position"
TOO_SHORT = "the rod is pulled straight and does not reach the rocker"
TOO_LONG = "the rod has pushed the rocker to dead centre and is too long from there"
CUT_OFF = "the rod comes to dead centre on the way from design"

LEAST_SINE = 1e-6
"""Below this, as a sine, a rod drawn at dead centre leaves open which way the rocker turns."""

NEAR_SINE = 0.5
"""Dead centre nearer than 30 degrees at any position: the ways from design are looked at too."""

PARTS = 24
"""Parts that a way from design is looked at in."""


@dataclass(frozen=True, eq=False, slots=True)
class Rocker:
    """A rocker on the chassis with its rod, at design; places (..., 3) mm.

    Attributes:
        pivot: a point of its axis.
        axis: (..., 3) direction that it turns about, right-handed, of any length.
        rod_outer: end of the rod on the upright or on the arm.
        rod_inner: end of the rod on the rocker.
        arm: that carries the outer end; None, the upright does.
    """

    pivot: Array
    axis: Array
    rod_outer: Array
    rod_inner: Array
    arm: Arm | None = None


@dataclass(frozen=True, eq=False, slots=True)
class RockerPoses:
    """A rocker at every position; nan where it has no place.

    Attributes:
        pivot: (..., 3) mm, a point of its axis.
        axis: (..., 3) unit.
        angle_rad: (...), turn from design, right-handed about the axis.
        per_bump_rad: (...), turn for each mm that the wheel centre rises.
        rod_from_dead_centre_deg: (...), angle of the rod to the plane through axis and rod end:
            90 where it drives squarely, 0 at dead centre, where the rocker locks.
        why: (...), empty, or why there is no place.
    """

    pivot: Array
    axis: Array
    angle_rad: Array
    per_bump_rad: Array
    rod_from_dead_centre_deg: Array
    why: NDArray[np.str_]

    def at(self, place: Array) -> Array:
        """Where a place (..., 3) mm of the rocker, given at design, is now (Rodrigues)."""
        drawn = place - self.pivot
        cosine, sine = np.cos(self.angle_rad)[..., None], np.sin(self.angle_rad)[..., None]
        along = np.sum(drawn * self.axis, axis=-1, keepdims=True) * self.axis
        turned = cosine * (drawn - along) + sine * cross(self.axis, drawn) + along
        return np.asarray(self.pivot + turned)

    def per_bump(self, now: Array) -> Array:
        """Movement (..., 3) of a place of now for each mm that the wheel centre rises."""
        return np.asarray(self.per_bump_rad[..., None] * cross(self.axis, now - self.pivot))

    def from_dead_centre_deg(self, now: Array, other: Array) -> Array:
        """Return the angle (...) of what pulls at a place to the plane through axis and place.

        Args:
            now: (..., 3) mm, the place on the rocker.
            other: (..., 3) mm, the other end, as of a damper. The sign turns where it passes
                over centre and works the other way.
        """
        return np.asarray(
            np.degrees(np.arcsin(_squareness(self.axis, now - self.pivot, other - now)))
        )


def rocker_poses(poses: Poses, rocker: Rocker) -> RockerPoses:
    """Return the rocker at every position, its branch the one that is drawn.

    The end of the rod runs on a circle and keeps its distance from the outer end, which is one
    equation a cos + b sin = c for the angle (derived here). The angle is told to within half a
    turn either way.

    Args:
        poses: of the upright.
        rocker: at design; its geometries broadcast against the positions.

    Raises:
        ValueError: if the rod ends on the axis, has no length, or is drawn at dead centre.
    """
    circle = _circle(rocker)
    outer = carried_place(poses, rocker.rod_outer, rocker.arm)
    reach, phase = circle.reach(outer)
    why = _why(poses, rocker, circle, reach)
    angle = np.where(why == "", circle.angle(reach, phase), np.nan)
    inner = circle.at(angle)
    lever, along = inner - circle.centre, outer - inner
    tangent = cross(circle.axis, lever)
    moved = np.sum(along * carried_per_bump(poses, outer, rocker.arm), axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        speed = moved / np.sum(along * tangent, axis=-1)
    square = np.degrees(np.arcsin(np.abs(_squareness(circle.axis, lever, along))))
    pivot = np.asarray(rocker.pivot, dtype=np.float64)
    return RockerPoses(pivot, circle.axis, angle, np.asarray(speed), np.asarray(square), why)


def mirrored_rocker(rocker: Rocker) -> Rocker:
    """Return the same rocker on the other side of the car, whose angle has the same sign."""
    return Rocker(
        mirror(rocker.pivot),
        -mirror(rocker.axis),  # a turn is mirrored the other way round
        mirror(rocker.rod_outer),
        mirror(rocker.rod_inner),
        mirrored_arm(rocker.arm),
    )


@dataclass(frozen=True, eq=False, slots=True)
class _Circle:
    """What the rod's end runs on, the angle 0 at design; `branch` is +1 or -1."""

    centre: Array
    axis: Array
    ahead: Array
    radius: Array
    rod: Array
    branch: Array

    def reach(self, outer: Array) -> tuple[Array, Array]:
        """Cosine (...) that closes the rod, beyond 1 where none does; the angle it is from."""
        away = outer - self.centre
        side = cross(self.axis, self.ahead)
        first, second = np.sum(away * self.ahead, axis=-1), np.sum(away * side, axis=-1)
        square = np.sum(away**2, axis=-1) + self.radius**2 - self.rod**2
        with np.errstate(divide="ignore", invalid="ignore"):
            cosine = square / (2.0 * self.radius * np.hypot(first, second))
        return np.asarray(cosine), np.asarray(np.arctan2(second, first))

    def angle(self, cosine: Array, phase: Array) -> Array:
        """Turn (...) from design, rad."""
        sine = np.sqrt(np.maximum((1.0 - cosine) * (1.0 + cosine), 0.0))
        angle = phase + self.branch * np.arctan2(sine, cosine)
        return np.asarray((angle + np.pi) % (2.0 * np.pi) - np.pi)

    def at(self, angle: Array) -> Array:
        """Place (..., 3) mm of the rod's end."""
        cosine, sine = np.cos(angle)[..., None], np.sin(angle)[..., None]
        out = cosine * self.ahead + sine * cross(self.axis, self.ahead)
        return np.asarray(self.centre + self.radius[..., None] * out)


def _circle(rocker: Rocker) -> _Circle:
    axis = unit(np.asarray(rocker.axis, dtype=np.float64))
    drawn = rocker.rod_inner - rocker.pivot
    centre = rocker.pivot + np.sum(drawn * axis, axis=-1, keepdims=True) * axis
    lever = rocker.rod_inner - centre
    radius = np.linalg.norm(lever, axis=-1)
    rod = np.linalg.norm(rocker.rod_outer - rocker.rod_inner, axis=-1)
    if np.any(radius <= LEAST_SINE) or np.any(rod <= LEAST_SINE):
        raise ValueError("the rod must have a length, and end away from the axis of the rocker")
    square = _squareness(axis, lever, rocker.rod_outer - rocker.rod_inner)
    if np.any(np.abs(square) < LEAST_SINE):
        raise ValueError("the rod is drawn at dead centre: it cannot turn the rocker")
    branch = np.where(square > 0.0, -1.0, 1.0)
    ahead = np.asarray(lever / radius[..., None])
    return _Circle(centre, axis, ahead, np.asarray(radius), np.asarray(rod), branch)


def _squareness(axis: Array, lever: Array, along: Array) -> Array:
    """Sine (...) of the angle of a pull to the plane through axis and lever."""
    tangent = cross(axis, lever)
    size = np.linalg.norm(tangent, axis=-1) * np.linalg.norm(along, axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        sine = np.sum(tangent * along, axis=-1) / size
    return np.asarray(np.clip(sine, -1.0, 1.0))


def _why(poses: Poses, rocker: Rocker, circle: _Circle, cosine: Array) -> NDArray[np.str_]:
    """Why there is no place, (...); empty where there is one."""
    reached = np.broadcast_to(poses.is_reached, cosine.shape)
    lost = ~(np.abs(cosine) <= 1.0)  # not a number counts as lost
    near = np.abs(cosine[reached]) > np.sqrt(1.0 - NEAR_SINE**2)
    cut = _is_cut_off(poses, rocker, circle) if near.any() else np.zeros_like(lost)
    said = [
        (~reached, NO_POSE),
        (lost & (cosine > 0.0), TOO_SHORT),
        (lost, TOO_LONG),
        (cut, CUT_OFF),
    ]
    return np.select([when for when, _ in said], [words for _, words in said], default="")


def _is_cut_off(poses: Poses, rocker: Rocker, circle: _Circle) -> NDArray[np.bool_]:
    """Whether the rocker is lost somewhere on the straight way (...) from design."""
    ways = solve(poses.linkage, _parts_of(poses))
    cosine, _ = circle.reach(carried_place(ways, rocker.rod_outer, rocker.arm))
    return np.asarray(np.any(np.abs(cosine) > 1.0, axis=0))


def _parts_of(poses: Poses) -> Travel:
    """The positions (PARTS - 1, ...) on the way to each position by wheel height and rack."""
    share = np.linspace(0.0, 1.0, PARTS + 1)[1:-1].reshape(-1, *(1,) * len(poses.shape))
    travel = wheel_travel(poses)
    return Travel(
        share * travel.bump,
        share * travel.rack,
        ends_moved=_part(share[..., None, None], travel.ends_moved),
        lengthened=_part(share[..., None], travel.lengthened),
        apart=_part(share, travel.apart),
    )


def _part(share: Array, whole: Array | None) -> Array | None:
    return None if whole is None else share * whole


def wheel_travel(poses: Poses) -> Travel:
    """Return the same positions by wheel height in place of a road; 0 where there is no pose."""
    rise = poses.centre[..., 2] - poses.linkage.centre[..., 2]
    bump = np.where(poses.is_reached, rise, 0.0)
    return replace(poses.travel, bump=np.asarray(bump), road=None)
