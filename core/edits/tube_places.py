"""What a cut through a tube needs to know: what lies before and beyond it, and where."""

from collections.abc import Iterator
from typing import NamedTuple

from core.assess.places import array, place, tube_shape
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Along, Point
from core.edits.refusals import EditRefusedError
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.geometry.tubes import TubeShape, nearest_on


class CutPlaces(NamedTuple):
    """How many bends come before a cut, where the cut points stand, and who follows beyond it."""

    bends_before: int
    loosened: list[tuple[Ref, Vec3]]
    beyond: list[tuple[Ref, float]]


def cut_places(document: Document, tube: Ref, at: Ref) -> CutPlaces:
    """What a cut of a tube at a joint that follows it has to carry over.

    Raises:
        EditRefusedError: the joint does not follow that tube, or its shape is not known.
    """
    point = on_side(Lookup(document).by_id[at.id], at.side)
    if not isinstance(point, Point) or point.along is None or point.along.tube != tube:
        msg = f"{point.name} does not follow that tube; cut it at a joint that does"
        raise EditRefusedError(msg)
    try:
        shape = compute(document, {}, tube_shape, tube)
        cut_at = _from_start(point.along, shape)
        stands = compute(document, {}, place, at)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error
    bends_before = sum(nearest_on(shape, mid)[0] < cut_at for mid in shape.midpoints)
    stored = stands if at.side != "right" else stands._replace(y=-stands.y)
    beyond = [
        (ref, distance - cut_at)
        for ref, distance in _followers(document, tube, shape)
        if distance > cut_at and ref.id != at.id
    ]
    return CutPlaces(bends_before, [(Ref(at.id), stored)], beyond)


def _followers(document: Document, tube: Ref, shape: TubeShape) -> Iterator[tuple[Ref, float]]:
    for thing in document.points:
        for ref in sides(thing):
            piece = on_side(thing, ref.side)
            if isinstance(piece, Point) and piece.along and piece.along.tube == tube:
                yield ref, _from_start(piece.along, shape)


def _from_start(along: Along, shape: TubeShape) -> float:
    return along.distance if along.end == "start" else shape.length - along.distance


def place_on_tube(document: Document, tube: Ref, near: Vec3) -> Along:
    """The place along a tube that is nearest to a place in the car, mm.

    Raises:
        EditRefusedError: the tube's shape is not known.
    """
    try:
        shape = compute(document, {}, tube_shape, tube)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error
    return Along(tube=tube, distance=nearest_on(shape, array(near))[0])
