"""What a cut through a tube needs to know: what lies before and beyond it, and where."""

import math
from collections.abc import Iterator
from typing import Final, NamedTuple

from core.assess.places import array, place, tube_shape
from core.document.base import Ref, Vec3
from core.document.lookup import sides
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Along, Point, Tube
from core.edits.finding_things import piece_of
from core.edits.refusals import EditRefusedError
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.geometry.tubes import Arc, TubeShape, nearest_on, pieces, place_along

IN_A_BEND: Final = 1e-6
"""mm by which a cut may reach into an arc and still count as beside it."""

IN_LINE: Final = math.radians(0.001)
"""rad; two tubes that meet with less between their directions run straight on. Own choice: on a
leg of a metre it is 0.02 mm."""


class Cut(NamedTuple):
    """A cut through a tube at a joint.

    Attributes:
        shape: of the whole tube.
        at: mm from its start.
        stands: where the joint is, mm, car frame.
        bends_before: how many bends come before it.
    """

    shape: TubeShape
    at: float
    stands: Vec3
    bends_before: int


def cut_at(document: Document, tube: Ref, joint: Ref) -> Cut:
    """A cut through a tube at a joint that follows it.

    Raises:
        EditRefusedError: the joint does not follow that tube, the tube's shape is not known, or
            the cut would go through a bend.
    """
    along = piece_of(document, Point, joint).along
    if along is None or along.tube != tube:
        msg = "the joint does not follow that tube; cut it at a joint that does"
        raise EditRefusedError(msg)
    shape = shape_of(document, tube)
    at = from_start(along, shape)
    begins = [(piece.begin, piece.length) for piece in pieces(shape) if isinstance(piece, Arc)]
    if any(begin + IN_A_BEND < at < begin + length - IN_A_BEND for begin, length in begins):
        msg = "that joint is in a bend, which cannot be cut in two; cut it on a straight"
        raise EditRefusedError(msg)
    before = sum(nearest_on(shape, middle)[0] < at for middle in shape.midpoints)
    try:
        return Cut(shape, at, compute(document, {}, place, joint), before)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error


def shape_of(document: Document, tube: Ref) -> TubeShape:
    """The shape of a tube.

    Raises:
        EditRefusedError: it is no tube, or its shape is not known; the text says why.
    """
    piece_of(document, Tube, tube)
    try:
        return compute(document, {}, tube_shape, tube)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error


def length_of(document: Document, tube: Ref) -> float | None:
    """The length of a tube, mm, or nothing where its shape is not known."""
    try:
        return compute(document, {}, tube_shape, tube).length
    except NotComputedError:
        return None


def followers(document: Document, tube: Ref) -> Iterator[tuple[Ref, Along]]:
    """Every piece of a point that follows a tube, and its place along it."""
    for thing in document.points:
        for ref in sides(thing):
            along = on_side(thing, ref.side).along
            if along is not None and along.tube == tube:
                yield ref, along


def from_start(along: Along, shape: TubeShape) -> float:
    """How far from the tube's start a place along it is, mm."""
    return along.distance if along.end == "start" else shape.length - along.distance


def is_beyond(document: Document, joint: Ref, cut: Cut) -> bool:
    """Whether a joint that a tube passes lies beyond a cut; one without a known place does not."""
    try:
        there = compute(document, {}, place, joint)
    except NotComputedError:
        return False
    return nearest_on(cut.shape, array(there))[0] > cut.at


def run_straight_on(first: TubeShape, second: TubeShape) -> bool:
    """Whether the second tube begins in the direction in which the first one ends."""
    ahead = place_along(first, first.length)[1]
    return math.acos(min(1.0, float(ahead @ place_along(second, 0.0)[1]))) < IN_LINE


def place_on_tube(document: Document, tube: Ref, near: Vec3) -> Along:
    """The place along a tube that is nearest to a place in the car, mm.

    Raises:
        EditRefusedError: the tube's shape is not known.
    """
    return Along(tube=tube, distance=nearest_on(shape_of(document, tube), array(near))[0])
