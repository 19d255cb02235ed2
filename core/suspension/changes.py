"""What can be other than drawn on a corner: where a point is, and how long a rod is.

A point is named by the ends that meet in it: ("lower arm, front leg", "outer") is the field
`outer` of the constraint of that name. Amounts are mm of a change, shape (..., changes).
"""

from dataclasses import dataclass, field, replace
from typing import Any, Literal

import numpy as np

from core.geometry.types import Array, read_only, unit
from core.suspension.constraints import Constraint, Guide, HArm, Held, Hinge, Rod, Slide
from core.suspension.linkage import Linkage, SteeringAxis

End = tuple[str, str]
"""Name of a constraint, and the field of it that is a place."""

Body = Literal["chassis", "upright", "arm"]
Shifts = dict[End, Array]
"""How far each moved end is from where it is drawn, (..., 3) mm, car frame."""

ONE_PLACE = 1e-6
"""Ends nearer than this, mm, are one point: they are copies of one number."""

AXES = {"x": read_only([1, 0, 0]), "y": read_only([0, 1, 0]), "z": read_only([0, 0, 1])}


@dataclass(frozen=True, slots=True)
class Point:
    """One place of the drawing, with every end that meets in it.

    Attributes:
        name: as the builder calls it.
        ends: that are there.
        body: what has it. A point of a stiff arm, `arm`, can be drawn elsewhere, not built so.
    """

    name: str
    ends: tuple[End, ...]
    body: Body


@dataclass(frozen=True, eq=False, slots=True)
class Change:
    """One number that can be other than drawn; its unit is 1 mm.

    Attributes:
        name: as the builder calls it.
        longer: rods by name, and how much longer each gets for 1 mm of the change.
        moves: ends that go along the direction.
        direction: (3,) unit, car frame; of the upright, as the upright stands at design.
    """

    name: str
    longer: tuple[tuple[str, float], ...] = ()
    moves: tuple[End, ...] = ()
    direction: Array = field(default_factory=lambda: np.zeros(3))


def lengthening(name: str, *rods: str) -> Change:
    """Return the change that makes rods longer, each by as much."""
    return Change(name, tuple((rod, 1.0) for rod in rods))


def moving(name: str, points: tuple[Point, ...], direction: Array) -> Change:
    """Return the change that moves points together.

    Args:
        name: as the builder calls it.
        points: what goes.
        direction: (3,) of any length, car frame.

    Raises:
        ValueError: if the direction has no length.
    """
    ends = tuple(end for point in points for end in point.ends)
    return Change(name, moves=ends, direction=unit(np.asarray(direction, dtype=np.float64)))


def points_of(linkage: Linkage) -> tuple[Point, ...]:
    """Return every point of a corner, ends at one place of one body taken together.

    The ball of a trailing arm is one point, taken as the chassis has it: moved on the upright
    instead, it is as far off the other way.
    """
    found: list[tuple[Array, Body, list[End]]] = []
    for held in linkage.constraints:
        for name, body in bodies(held):
            place = np.asarray(getattr(held, name), dtype=np.float64)
            near = (ends for at, on, ends in found if on == body and _is_one(at, place))
            group = next(near, None)
            if group is None:
                found.append((place, body, [(held.name, name)]))
            else:
                group.append((held.name, name))
    return tuple(Point(_called(ends), tuple(ends), body) for _, body, ends in found)


def bodies(held: Constraint) -> tuple[tuple[str, Body], ...]:
    """Return the fields of a constraint that are places, each with what has it."""
    match held:
        case Rod():
            return ("inner", "chassis"), ("outer", "upright")
        case Held():
            return (("place", "chassis"),)
        case Hinge():
            return ("first", "chassis"), ("second", "chassis")
        case Slide():
            return ("lower", "upright"), ("top", "chassis")
        case Guide():
            return (("point", "chassis"),)
        case HArm():
            fields = ("first_inner", "second_inner", "first_outer", "second_outer")
            return tuple((each, "arm") for each in fields)


def shifts_of(changes: tuple[Change, ...], amounts: Array) -> Shifts:
    """Return how far each end has moved, (..., 3) mm.

    Args:
        changes: what is other than drawn.
        amounts: (..., changes) mm.
    """
    found: Shifts = {}
    for k, change in enumerate(changes):
        step = amounts[..., k, None] * change.direction
        for end in dict.fromkeys(change.moves):
            found[end] = found[end] + step if end in found else step
    return found


def longer_of(changes: tuple[Change, ...], amounts: Array, rods: tuple[str, ...]) -> Array:
    """Return how much longer than drawn each rod is, (..., rods) mm.

    Args:
        changes: what is other than drawn.
        amounts: (..., changes) mm.
        rods: names, in the order of the answer.

    Raises:
        ValueError: if there is no rod of a name.
    """
    per_unit = np.zeros((len(changes), len(rods)))
    for k, change in enumerate(changes):
        for name, each in change.longer:
            if name not in rods:
                raise ValueError(f"there is no rod {name} to be made longer")
            per_unit[k, rods.index(name)] += each
    return np.asarray(amounts @ per_unit, dtype=np.float64)


def displaced(linkage: Linkage, shifts: Shifts, which: tuple[Body, ...]) -> tuple[Constraint, ...]:
    """Return what holds the upright, with the ends on some bodies moved.

    Raises:
        ValueError: if there is no such end.
    """
    known = {(held.name, name) for held in linkage.constraints for name, _ in bodies(held)}
    if unknown := sorted(set(shifts) - known):
        raise ValueError(f"there is no {unknown[0][1]} end of {unknown[0][0]} to be moved")
    return tuple(_displaced(held, shifts, which) for held in linkage.constraints)


def axis_displaced(linkage: Linkage, shifts: Shifts) -> SteeringAxis | None:
    """Return the steering axis, which goes with the points it is drawn through."""
    axis = linkage.steering_axis
    if axis is None:
        return None
    lower = axis.lower + _shift_at(linkage, shifts, axis.lower, "upright")
    return replace(
        axis, lower=lower, upper=axis.upper + _shift_at(linkage, shifts, axis.upper, axis.upper_on)
    )


def redrawn(linkage: Linkage, changes: tuple[Change, ...], amounts: Array) -> Linkage:
    """Return a corner drawn with its points elsewhere, every rod as long as it then must be.

    The wheel stays as it is drawn.

    Args:
        linkage: as drawn.
        changes: what moves.
        amounts: (..., changes) mm.

    Raises:
        ValueError: if a change lengthens a rod, which a drawing does not do.
    """
    if any(change.longer for change in changes):
        raise ValueError("on a drawing a rod is as long as its ends are apart")
    shifts = shifts_of(changes, amounts)
    held = displaced(linkage, shifts, ("chassis", "upright", "arm"))
    return Linkage(held, linkage.wheel, axis_displaced(linkage, shifts))


def _displaced(held: Constraint, shifts: Shifts, which: tuple[Body, ...]) -> Constraint:
    moved: dict[str, Any] = {
        name: getattr(held, name) + shifts[held.name, name]
        for name, body in bodies(held)
        if body in which and (held.name, name) in shifts
    }
    return replace(held, **moved) if moved else held


def _shift_at(linkage: Linkage, shifts: Shifts, place: Array, body: Body) -> Array:
    """How far the point drawn at a place has moved, if one is there."""
    for held in linkage.constraints:
        for name, on in bodies(held):
            is_there = on in {body, "arm"} and _is_one(getattr(held, name), place)
            if is_there and (held.name, name) in shifts:
                return shifts[held.name, name]
    return np.zeros(3)


def _is_one(place: Array, other: Array) -> bool:
    return bool(np.all(np.abs(place - other) < ONE_PLACE))


def _called(ends: list[End]) -> str:
    """The point's name: what meets there, and by which end."""
    return f"{' and '.join(dict.fromkeys(name for name, _ in ends))}, {ends[0][1]}"
