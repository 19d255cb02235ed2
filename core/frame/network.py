"""The frame as joints and the tubes that visit them: the input of every load-path check."""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from core.geometry.types import Array

VisitKind = Literal["end", "bend", "through"]
Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Visit:
    """A tube at a joint: it ends there, bends there, or passes through.

    Attributes:
        node: index of the joint.
        kind: what the tube does there.
    """

    node: int
    kind: VisitKind


@dataclass(frozen=True, slots=True, eq=False)
class Member:
    """One piece of tube.

    Attributes:
        visits: the joints it visits.
        line: (n, 3) centre line, mm, car frame; bends as chords whose ends lie on the arc. Gaps on
            the outside of a bend come out too large by up to what the chord lies inside its arc.
        radius: outside radius, mm.
    """

    visits: tuple[Visit, ...]
    line: Array
    radius: float

    def __post_init__(self) -> None:
        """Refuse a line that is no line and a radius of nothing."""
        if self.line.ndim != 2 or self.line.shape[1:] != (3,) or len(self.line) < 2:
            raise ValueError(f"a centre line needs (n, 3) points, two or more: {self.line.shape}")
        if not np.isfinite(self.line).all():
            raise ValueError("a centre line has a point that is no number")
        if not 0.0 < self.radius < np.inf:
            raise ValueError("a tube needs an outside radius above zero")


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """The whole frame; leave a removable tube out of it to see the frame without.

    Attributes:
        places: (n, 3) joints, mm, car frame; a joint's index is its row.
        members: the tubes; a tube's index is its place in this tuple.
    """

    places: Array
    members: tuple[Member, ...]

    def __post_init__(self) -> None:
        """Refuse joints without a place and visits to joints that are not there."""
        if self.places.ndim != 2 or self.places.shape[1:] != (3,):
            raise ValueError(f"joints need (n, 3) places: {self.places.shape}")
        if not np.isfinite(self.places).all():
            raise ValueError("a joint has a place that is no number")
        for index, member in enumerate(self.members):
            if any(not 0 <= visit.node < len(self.places) for visit in member.visits):
                raise ValueError(f"tube {index} visits a joint that is not there")

    def place(self, node: int) -> Point:
        """Where a joint lies, mm, car frame."""
        return point(self.places[node])


@dataclass(slots=True)
class Meeting:
    """The tubes at one joint, each by its index, once for every visit.

    Attributes:
        ending: tubes that end there.
        bending: tubes that bend there.
        passing: tubes that pass through.
    """

    ending: list[int] = field(default_factory=list[int])
    bending: list[int] = field(default_factory=list[int])
    passing: list[int] = field(default_factory=list[int])

    def tubes(self) -> set[int]:
        """The tubes that visit the joint in any way."""
        return {*self.ending, *self.bending, *self.passing}


def meetings(network: Network) -> tuple[Meeting, ...]:
    """What meets at each joint, in the order of the joints."""
    found = tuple(Meeting() for _ in network.places)
    for index, member in enumerate(network.members):
        for visit in member.visits:
            at = found[visit.node]
            {"end": at.ending, "bend": at.bending, "through": at.passing}[visit.kind].append(index)
    return found


def point(place: Array) -> Point:
    """A place (3,) as plain floats."""
    x, y, z = (float(value) for value in place)
    return x, y, z
