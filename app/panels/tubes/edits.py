"""Edits of the tube tools that make several things in one step of undo."""

from core.assess.places import tube_shape
from core.document.base import Ref, Vec3
from core.document.power import Mount
from core.document.project import Document
from core.document.sides import mirror_place
from core.document.steel import Along, Bracket, Point
from core.edits.refusals import EditRefusedError
from core.edits.things import make, thing_of
from core.edits.tubes import insert_bend
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.geometry.tubes import TubeShape


def are_of_one_side(one: Ref, other: Ref) -> bool:
    """Whether two pieces belong to pairs and are of the same side, so that a pair may join them."""
    return one.side == other.side != "one"


def shape_of(document: Document, tube: Ref) -> TubeShape:
    """The shape of a tube as drawn.

    Raises:
        EditRefusedError: it is not known, and why.
    """
    try:
        return compute(document, {}, tube_shape, tube)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error


def middle_of_leg(shape: TubeShape, leg: int) -> Vec3:
    """The middle of what is straight of a leg, mm, car frame; legs are counted from the start."""
    start, end = shape.vertices[leg], shape.vertices[leg + 1]
    tangents = (0.0, *shape.tangents, 0.0)
    direction = (end - start) / float(((end - start) ** 2).sum()) ** 0.5
    along = tangents[leg] + shape.straights[leg] / 2.0
    x, y, z = (float(v) for v in start + direction * along)
    return Vec3(x, y, z)


def bend_in_leg(
    document: Document, tube: Ref, leg: int, name: str, radius: float | None = None
) -> tuple[Document, Point]:
    """The document with a bend in the middle of a leg, still straight, and the point to drag.

    Raises:
        HeldError: the tube is tacked or welded.
        EditRefusedError: its shape is not known, or it has no such leg.
    """
    shape = shape_of(document, tube)
    if not 0 <= leg < len(shape.straights):
        raise EditRefusedError(f"there is no leg {leg + 1}; it has {len(shape.straights)}")
    pair = thing_of(document, tube.id).pair
    at = middle_of_leg(shape, leg)
    stored = mirror_place(at) if pair and tube.side == "right" else at
    after, point = make(document, Point, name, at=stored, pair=pair)
    ref = Ref(point.id, tube.side if pair else "one")
    return insert_bend(after, tube, ref, leg, radius), point


def point_on_tube(
    document: Document, tube: Ref, distance: float, name: str
) -> tuple[Document, Point]:
    """The document with a joint so far along a tube from its start, which it follows.

    Raises:
        EditRefusedError: the tube is not as long.
    """
    length = shape_of(document, tube).length
    if not 0 <= distance <= length:
        msg = f"the tube is {length:.1f} mm long, so nothing lies {distance:.1f} along it"
        raise EditRefusedError(msg)
    pair = thing_of(document, tube.id).pair
    side = Ref(tube.id, "left") if pair else tube
    return make(document, Point, name, along=Along(tube=side, distance=distance), pair=pair)


def bracket_on(
    document: Document, name: str, carries: Ref, on: Ref, thickness: float | None = None
) -> tuple[Document, Bracket]:
    """The document with a bracket that carries one thing and stands on another.

    It is a left and right pair where both are pieces of pairs, and of one side.

    Raises:
        EditRefusedError: one of them cannot be carried or stood on.
    """
    pair = are_of_one_side(carries, on)
    if pair and carries.side == "right":
        carries, on = carries.mirrored(), on.mirrored()
    return make(document, Bracket, name, carries=carries, on=on, thickness=thickness, pair=pair)


def mount_on(
    document: Document, name: str, fields: dict[str, object], joint: Ref | None, bracket: str
) -> tuple[Document, Mount]:
    """The document with a mount, and with its bracket to a joint if one is named.

    Raises:
        EditRefusedError: something about the mount does not fit, or the joint cannot carry it.
    """
    after, mount = make(document, Mount, name, **fields)
    if joint is not None:
        after, _ = bracket_on(after, bracket, Ref(mount.id), joint)
    return after, mount
