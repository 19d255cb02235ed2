"""Turning the bolt or cup of a link end."""

from collections.abc import Iterator

from core.document.base import Because, Ref, Vec3
from core.document.lookup import sides
from core.document.project import Document
from core.document.running_gear import Axle, Corner
from core.document.sides import on_side
from core.document.steel import Point
from core.edits.finding_things import piece_of
from core.edits.refusals import EditRefusedError
from core.edits.values import change
from core.engine.address import Address

WHY = "the least tilt over its travel and steer"
DIGITS = 4
"""Of the parts of a direction: finer than a hundredth of a degree."""


def bolt_of(document: Document, end: Ref) -> Address:
    """Where the direction stands that decides how far a joint tilts: of its bolt, or of its cup.

    Raises:
        EditRefusedError: it is no point, or no joint is entered there.
    """
    point = piece_of(document, Point, end)
    if point.joint is None:
        raise EditRefusedError(f"no joint is entered at {point.name} whose bolt could be turned")
    has_cup = point.joint.kind in ("ball", "axial_ball")
    return Address(end, "joint.cup_direction" if has_cup else "joint.direction")


def turn_bolt(document: Document, end: Ref, direction: Vec3) -> Document:
    """The document with the bolt, or the cup, of a link end turned.

    The corners whose links end there are kept as what it relied on.

    Args:
        document: where it is.
        end: the point, on the side meant; both sides turn unless the right one's is its own.
        direction: of any length but nought, car frame, at the design position.

    Raises:
        HeldError: the direction is held, or the joint is in hand.
        EditRefusedError: it is no point, no joint is entered there, or the direction is nought.
    """
    address = bolt_of(document, end)
    x, y, z = (round(value, DIGITS) + 0.0 for value in direction)
    return change(document, address, Vec3(x, y, z), because=tuple(_because(document, end)))


def _because(document: Document, end: Ref) -> Iterator[Because]:
    for axle in document.axles:
        if end in _points_of(axle):
            yield Because(ref=Ref(axle.id), words=WHY)
    for corner in document.corners:
        for ref in sides(corner):
            if end in _ends(on_side(corner, ref.side)):
                yield Because(ref=ref, words=WHY)


def _ends(corner: Corner) -> set[Ref]:
    ends = _points_of(corner) | {role.point for role in corner.points}
    return ends if corner.damper is None else ends | {corner.damper.lower, corner.damper.upper}


def _points_of(thing: Corner | Axle) -> set[Ref]:
    """The points of all that holds a wheel or a rigid axle."""
    links = {ref for link in thing.links for ref in (link.inner, link.outer)}
    return links | {ref for held in thing.holders for ref in held.points}
