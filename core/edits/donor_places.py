"""Where a donor's corner has its points, its spin axis and its steering arm; plain values.

All in the frame of one side: x ahead, y outboard, z up, mm, from the hub face centre. There a left
and a right corner of one car read the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin
from typing import Final

from core.document.base import Vec3
from core.document.donors import DonorCorner

AXIS_LOWER: Final = ("lower_outer",)
AXIS_UPPER: Final = ("upper_outer", "strut_top")
ROD_OUTER: Final = ("tie_outer", "toe_outer")
"""Roles of the ends of the steering axis, and of the ball of the track rod or toe link."""

SAME_LINE: Final = 1.0
"""mm; a ball nearer than this to the steering axis, ahead or aside, is said to be in line with it.
Own rule: no tape tells less."""


def spin_axis(donor: DonorCorner) -> Vec3:
    """The donor's spin axis as it stood, outboard, of length 1; what is not measured counts as 0.

    From camber = asin(-z) and toe-in = atan2(x, y). Source of the sign of toe: ISO 8855:2011, 7.1.6
    (read in an excerpt); of camber: the same standard, from memory.
    """
    camber, toe = radians(donor.camber_deg or 0.0), radians(donor.toe_in_deg or 0.0)
    return Vec3(cos(camber) * sin(toe), cos(camber) * cos(toe), 0.0 - sin(camber))


def hub_face_from_datum(donor: DonorCorner) -> Vec3 | None:
    """The hub face centre, from the datum; nothing if the offset that tells it is not known."""
    if donor.datum == "hub_face":
        return Vec3(0.0, 0.0, 0.0)
    return None if donor.wheel_offset is None else times(donor.wheel_offset, spin_axis(donor))


def places(donor: DonorCorner) -> dict[str, Vec3] | None:
    """Every point by its role, from the hub face centre; nothing if that is not known."""
    face = hub_face_from_datum(donor)
    if face is None:
        return None
    return {point.role: plus(point.at, times(-1.0, face)) for point in donor.points}


def plus(one: Vec3, other: Vec3) -> Vec3:
    """The sum of two places."""
    return Vec3(one.x + other.x, one.y + other.y, one.z + other.z)


def times(factor: float, place: Vec3) -> Vec3:
    """A place so many times as far."""
    return Vec3(factor * place.x, factor * place.y, factor * place.z)


def turned_round(place: Vec3) -> Vec3:
    """A place or direction of a corner that is turned end for end.

    The part is turned by half a turn about the vertical, (x, y) to (-x, -y), and so comes to the
    other side of the car, where outboard is the other way: of x, y outboard, z only x changes sign.
    """
    return Vec3(0.0 - place.x, place.y, place.z)


@dataclass(frozen=True)
class SteeringArm:
    """Where the ball of the steering arm is from the steering axis, at the height of the ball.

    Attributes:
        ahead: mm, below zero behind.
        outboard: mm, below zero inboard.
        castor_deg: top of the axis rearward above zero.
    """

    ahead: float
    outboard: float
    castor_deg: float

    @property
    def points(self) -> str:
        """Which way it points: ahead, behind, or neither."""
        return "neither" if abs(self.ahead) < SAME_LINE else _way(self.ahead)

    @property
    def inner_steers(self) -> str:
        """What the arm alone makes of the inner wheel's steer beside the outer's.

        Steered at the front, with the rods near enough across the car: an arm behind the axis whose
        ball is inboard of it makes the inner wheel steer more, as does one ahead whose ball is
        outboard; the others less. Source: the trapezium after Ackermann, as in T. D. Gillespie,
        Fundamentals of Vehicle Dynamics, SAE 1992 (from memory).
        """
        if min(abs(self.ahead), abs(self.outboard)) < SAME_LINE:
            return "the same"
        return "more" if self.ahead * self.outboard > 0.0 else "less"


def _way(ahead: float) -> str:
    return "ahead" if ahead > 0.0 else "behind"


def steering_arm(by_role: Mapping[str, Vec3], rod_outer: str | None = None) -> SteeringArm | None:
    """The steering arm of a corner; nothing if its axis or its ball has no point.

    Source of castor: M. Blundell, D. Harty, The Multibody Systems Approach to Vehicle Dynamics,
    Elsevier 2004, 4.5.5, p. 165.

    Args:
        by_role: places by role; x ahead, y outboard, z up, mm, from anywhere.
        rod_outer: the role of the ball, where it is not called as usual.
    """
    lower, upper = _first(by_role, AXIS_LOWER), _first(by_role, AXIS_UPPER)
    ball = _first(by_role, ROD_OUTER if rod_outer is None else (rod_outer,))
    if lower is None or upper is None or ball is None or upper.z - lower.z < SAME_LINE:
        return None
    share = (ball.z - lower.z) / (upper.z - lower.z)
    ahead = ball.x - lower.x - share * (upper.x - lower.x)
    outboard = ball.y - lower.y - share * (upper.y - lower.y)
    castor = degrees(atan2(lower.x - upper.x, upper.z - lower.z))
    return SteeringArm(ahead, outboard, castor)


def _first(by_role: Mapping[str, Vec3], roles: tuple[str, ...]) -> Vec3 | None:
    return next((by_role[role] for role in roles if role in by_role), None)


def rod_outer_of(donor: DonorCorner) -> str | None:
    """The role of the ball of the rod that ends on the donor's rack; nothing if none does."""
    on_rack = {point.role for point in donor.points if point.on == "rack"}
    return next((link.outer for link in donor.links if link.inner in on_rack), None)
