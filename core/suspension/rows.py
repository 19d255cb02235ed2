"""The conditions of a linkage as arrays.

All places here are taken from the wheel centre at design, so that numbers stay small; on an axle
from midway between both. Every array is (*geometries, count, 3), or 1 in place of 3; `flat` lays
the geometries out in a row.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array, unit
from core.suspension.constraints import AxleConstraint, Guide, HArm, Held, Hinge, Rod, Slide, Slot

Change = Callable[[Array], Array]
_AXES = np.eye(3)


@dataclass(frozen=True, eq=False, slots=True)
class Rods:
    """Lengths from the chassis to the upright, one condition each."""

    arms: Array  # outer ends on the upright
    ends: Array  # inner ends on the chassis
    lengths: Array
    on_rack: Array  # (count, 1): 1 where the inner end goes with the rack, otherwise 0

    def each(self, change: Change) -> "Rods":
        """The same with every array changed."""
        return Rods(change(self.arms), change(self.ends), change(self.lengths), self.on_rack)


@dataclass(frozen=True, eq=False, slots=True)
class Planes:
    """Points that stay in planes, one condition each.

    Either a point of the upright in a plane of the chassis, or the other way about.
    """

    arms: Array  # points of the upright
    through: Array  # points of the chassis
    normals: Array  # carried by whichever has the plane

    def each(self, change: Change) -> "Planes":
        """The same with every array changed."""
        return Planes(change(self.arms), change(self.through), change(self.normals))


@dataclass(frozen=True, eq=False, slots=True)
class Turns:
    """Directions of the upright that stay square to directions of an arm, one condition each.

    The arm turns about `axes` through `feet` so that it follows the point `arms` of the upright.
    """

    arms: Array
    feet: Array  # on the axis, square below the point at design
    axes: Array  # unit
    normals: Array  # unit, of the arm
    spans: Array  # of the upright; as long as the arm is wide, so that errors are in mm

    def each(self, change: Change) -> "Turns":
        """The same with every array changed."""
        return Turns(
            change(self.arms),
            change(self.feet),
            change(self.axes),
            change(self.normals),
            change(self.spans),
        )


@dataclass(frozen=True, eq=False, slots=True)
class Rockers:
    """Rockers on the body, each held by a rod at either end: one condition each.

    The first rod sets how far the rocker has turned, the second is the condition.
    """

    arms: Array  # pivots on the body
    axes: Array  # unit, of the body
    to_first: Array  # from the pivot to the outer end of the first rod, on the rocker
    to_second: Array
    first_ends: Array  # on the chassis
    second_ends: Array

    def each(self, change: Change) -> "Rockers":
        """The same with every array changed."""
        return Rockers(
            change(self.arms),
            change(self.axes),
            change(self.to_first),
            change(self.to_second),
            change(self.first_ends),
            change(self.second_ends),
        )


@dataclass(frozen=True, eq=False, slots=True)
class Rows:
    """All conditions of one linkage, or of many alike.

    Attributes:
        names: of the constraint each condition belongs to, in the order of the conditions: rods,
            planes of the chassis, planes of the upright, turns, rockers.
        shape: of the geometries.
        centre: wheel centre at design, or midway between two, (*shape, 1, 3) mm, car frame.
        spin: spin axes at design, (*shape, wheels, 3) unit, outboard.
        wheels: centres of several wheels at design, (*shape, wheels, 3); one is at `centre`.
    """

    names: tuple[str, ...]
    shape: tuple[int, ...]
    centre: Array
    spin: Array
    rods: Rods
    held: Planes
    slides: Planes
    turns: Turns
    wheels: Array | None = None
    rockers: Rockers | None = None

    @property
    def wheel_count(self) -> int:
        """How many wheels the body has, each of which is given its height."""
        return int(self.spin.shape[-2])

    def flat(self, shape: tuple[int, ...]) -> "Rows":
        """The same with one geometry for each position of a shape, in a row.

        A single geometry stays one, and serves all.
        """
        if not self.shape:
            return self._each(lambda array: array[None])
        count = math.prod(shape)
        return self._each(
            lambda array: np.broadcast_to(array, shape + array.shape[-2:]).reshape(
                count, *array.shape[-2:]
            )
        )

    def chosen(self, index: NDArray[np.intp]) -> "Rows":
        """The same, laid out flat before, for some positions only."""
        return self._each(lambda array: array[index] if len(array) > 1 else array)

    def _each(self, change: Change) -> "Rows":
        return Rows(
            self.names,
            self.shape,
            change(self.centre),
            change(self.spin),
            self.rods.each(change),
            self.held.each(change),
            self.slides.each(change),
            self.turns.each(change),
            None if self.wheels is None else change(self.wheels),
            self.rockers and self.rockers.each(change),
        )


def rows_of(constraints: Iterable[AxleConstraint], centre: Array, spin: Array) -> Rows:
    """Return the conditions of a linkage, those of rockers left out.

    Args:
        constraints: what holds the upright.
        centre: (..., 3) mm, wheel centre at design.
        spin: (..., 3) unit, outboard.

    Raises:
        ValueError: if two points that must make a line are one.
    """
    held = tuple(constraints)
    rods = [rod for each in held for rod in _rods(each)]
    planes = [plane for each in held for plane in _planes(each)]
    slides = [plane for each in held if isinstance(each, Slide) for plane in _slide(each)]
    turns = [turn for each in held if isinstance(each, HArm) for turn in _turns(each)]
    others: tuple[_Plane | _Turn, ...] = (*planes, *slides, *turns)
    names = chain((rod.name for rod in rods), (each[0] for each in others))
    places = [array for each in others for array in each[1:]]
    rod_ends = [end for rod in rods for end in (rod.inner, rod.outer)]
    shape = np.broadcast_shapes(*(np.shape(a)[:-1] for a in (centre, spin, *places, *rod_ends)))
    stack = _Stack(shape, centre)
    return Rows(
        tuple(names),
        shape,
        stack.directions([centre]),
        stack.directions([spin]),
        _rod_arrays(stack, rods),
        _plane_arrays(stack, planes),
        _plane_arrays(stack, slides),
        _turn_arrays(stack, turns),
    )


@dataclass(frozen=True, eq=False, slots=True)
class _Stack:
    """Lays places or directions one beside another, whatever their leading axes."""

    shape: tuple[int, ...]
    centre: Array

    def places(self, places: Iterable[Array]) -> Array:
        """(*shape, count, 3), from the wheel centre."""
        return self.directions([place - self.centre for place in places])

    def directions(self, vectors: Iterable[Array]) -> Array:
        """(*shape, count, 3)."""
        full = [np.broadcast_to(vector, (*self.shape, 3)) for vector in vectors]
        stacked = np.stack(full, axis=-2) if full else np.zeros((*self.shape, 0, 3))
        return np.asarray(stacked, dtype=np.float64)


_Plane = tuple[str, Array, Array, Array]
_Turn = tuple[str, Array, Array, Array, Array, Array]


def _rods(held: AxleConstraint) -> tuple[Rod, ...]:
    if isinstance(held, HArm):  # its first outer point is carried as by a wishbone
        inner = (held.first_inner, held.second_inner)
        return tuple(Rod(held.name, end, held.first_outer) for end in inner)
    return (held,) if isinstance(held, Rod) else ()


def _planes(held: AxleConstraint) -> tuple[_Plane, ...]:
    """Name, point of the upright, point of the chassis and normal of each plane."""
    match held:
        case Held(name, place):
            return tuple((name, place, place, axis) for axis in _AXES)
        case Hinge(name, first, second):
            square = _square_to(second - first)
            across = tuple((name, second, second, normal) for normal in square)
            return (*_planes(Held(name, first)), *across)
        case Guide(name, point, direction):
            return tuple((name, point, point, normal) for normal in _square_to(direction))
        case Slot(name, point, normal):
            return ((name, point, point, unit(np.asarray(normal, dtype=np.float64))),)
        case _:
            return ()


def _slide(held: Slide) -> tuple[_Plane, ...]:
    square = _square_to(held.top - held.lower)
    return tuple((held.name, held.lower, held.top, normal) for normal in square)


def _turns(held: HArm) -> tuple[_Turn, ...]:
    axis = unit(held.second_inner - held.first_inner)
    out = held.first_outer - held.first_inner
    along = np.sum(out * axis, axis=-1, keepdims=True) * axis
    foot, span = held.first_inner + along, held.second_outer - held.first_outer
    return tuple(
        (held.name, held.first_outer, foot, axis, normal, span) for normal in _square_to(span)
    )


def _square_to(direction: Array) -> tuple[Array, Array]:
    """Two directions square to one and to each other, (..., 3) unit."""
    along = unit(np.asarray(direction, dtype=np.float64))
    far = np.argmin(np.abs(along), axis=-1)
    first = unit(np.cross(along, _AXES[far]))
    return first, np.cross(along, first)


def _rod_arrays(stack: _Stack, rods: list[Rod]) -> Rods:
    arms = stack.places(rod.outer for rod in rods)
    ends = stack.places(rod.inner for rod in rods)
    lengths = np.sqrt(np.sum((arms - ends) ** 2, axis=-1, keepdims=True))
    on_rack = np.array([[float(rod.on_rack)] for rod in rods]).reshape(-1, 1)
    return Rods(arms, ends, lengths, on_rack)


def _plane_arrays(stack: _Stack, planes: list[_Plane]) -> Planes:
    return Planes(
        stack.places(arm for _, arm, _, _ in planes),
        stack.places(through for _, _, through, _ in planes),
        stack.directions(normal for _, _, _, normal in planes),
    )


def _turn_arrays(stack: _Stack, turns: list[_Turn]) -> Turns:
    return Turns(
        stack.places(turn[1] for turn in turns),
        stack.places(turn[2] for turn in turns),
        stack.directions(turn[3] for turn in turns),
        stack.directions(turn[4] for turn in turns),
        stack.directions(turn[5] for turn in turns),
    )
