"""Which corners there are and which belong together: of an axle, left and right, on one beam."""

from typing import Literal

from core.document.base import Ref
from core.document.links import Link
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell


def side_of(ref: Ref) -> Literal["left", "right"]:
    """The side of a corner of a pair."""
    return "right" if ref.side == "right" else "left"


def stands_on(read: Reader, corner: Ref) -> Literal["left", "right"]:
    """The side of a corner: one that is no pair stands where its hub is."""
    if corner.side == "one" and read.thing(Corner, corner).upright.hub_face.y < 0.0:
        return "right"
    return side_of(corner)


@cell(When.LIVE)
def corners_of(read: Reader, axle: Ref) -> tuple[Ref, ...]:
    """The corners of an axle, left before right."""
    return tuple(ref for ref in read.all(Corner) if read.thing(Corner, ref).axle.id == axle.id)


@cell(When.LIVE)
def axle_at(read: Reader, end: str) -> Ref:
    """The axle at an end of the car.

    Raises:
        NotComputedError: there is none, or more than one.
    """
    found = [ref for ref in read.all(Axle) if read.thing(Axle, ref).end == end]
    if len(found) != 1:
        msg = f"there is no {end} axle" if not found else f"there are several {end} axles"
        raise NotComputedError(msg)
    return found[0]


@cell(When.LIVE)
def pair_of(read: Reader, axle: Ref) -> tuple[Ref, Ref]:
    """The left and the right corner of an axle.

    Raises:
        NotComputedError: it has not one of each.
    """
    by_side = {stands_on(read, ref): ref for ref in read(corners_of, axle)}
    if by_side.keys() != {"left", "right"} or len(read(corners_of, axle)) != 2:
        msg = f"{read.label(axle)} has not one left and one right corner"
        raise NotComputedError(msg)
    return by_side["left"], by_side["right"]


@cell(When.LIVE)
def is_rigid(read: Reader, axle: Ref) -> bool:
    """Whether both wheels of an axle are on one beam."""
    thing = read.thing(Axle, axle)
    kinds = (read.thing(Corner, ref).linkage for ref in read(corners_of, axle))
    return bool(thing.links or thing.holders) or "rigid_axle" in kinds


@cell(When.LIVE)
def is_on_rigid_axle(read: Reader, corner: Ref) -> bool:
    """Whether a corner is on one beam with the other of its axle."""
    return read(is_rigid, read.thing(Corner, corner).axle)


def links_of(read: Reader, corner: Ref) -> tuple[Link, ...]:
    """The links that hold a wheel: its own, or those of the beam that it is on."""
    thing = read.thing(Corner, corner)
    return read.thing(Axle, thing.axle).links if read(is_on_rigid_axle, corner) else thing.links
