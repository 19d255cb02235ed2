"""What moving a handle does to the document; and where its free interval ends."""

import numpy as np

from app.scene.dragging import AXES, Stop
from core.assess.places import array, vec
from core.assess.width import drive_side, plane_range
from core.document.base import Because, Entity, Ref, Vec3
from core.document.lookup import Lookup
from core.document.power import Mount, PowerUnit
from core.document.project import Document
from core.document.running_gear import Corner, DriveShaft
from core.document.sides import on_side
from core.document.steel import Point
from core.driveline.width import wheel_plane
from core.edits.points import slide_point
from core.edits.things import thing_of
from core.edits.unit import move_unit
from core.edits.values import change, set_free
from core.engine.address import Address
from core.engine.assess import Assessment
from core.engine.cells import NotComputedError
from core.geometry.frames import Frame
from core.geometry.tubes import TubeShape, nearest_on
from core.geometry.types import Array
from core.quantities import number
from core.scene.records import Handle

STEP = 0.1
"""mm to which a drag rounds what it changes: the last digit shown on screen."""


def moved_to(
    base: Document,
    handle: Handle,
    to: Array,
    because: tuple[Because, ...] = (),
    shape: TubeShape | None = None,
) -> Document:
    """The document with what a handle stands for moved.

    Args:
        base: as it was at the press, when the handle was at `handle.at`.
        handle: what is dragged.
        to: (3,) where its place is to be, mm, car frame.
        because: what the place relies on.
        shape: of the tube that it slides on.

    Raises:
        HeldError: something holds it.
        EditRefusedError: the document would break a rule.
    """
    step = to - array(handle.at)
    if handle.path == "along.distance":
        return base if shape is None else _slid(base, handle, to, shape)
    if not float(np.abs(step).max()):
        return base
    if handle.kind == "unit" and not any(handle.held_axes):
        return move_unit(base, handle.ref, _round(step), because)
    return _changed(base, handle, step, because)


def _slid(base: Document, handle: Handle, to: Array, shape: TubeShape) -> Document:
    point = on_side(thing_of(base, handle.ref.id), handle.ref.side)
    assert isinstance(point, Point)
    assert point.along is not None
    along = nearest_on(shape, to)[0]
    from_end = along if point.along.end == "start" else shape.length - along
    distance = float(np.clip(round(from_end, 1), 0.0, shape.length))
    return base if distance == point.along.distance else slide_point(base, handle.ref, distance)


def _changed(base: Document, handle: Handle, step: Array, because: tuple[Because, ...]) -> Document:
    """Held coordinates among those that stay are no hindrance: then each goes by itself."""
    frame = _frame_of(base, handle)
    old = array(_value(base, handle))
    moved = old + (step if frame is None else frame.directions_from_car(step))
    new = vec(np.where(np.abs(moved - old) > STEP / 10.0, np.round(moved, 1), old))
    if not any(handle.held_axes):
        return change(base, Address(handle.ref, handle.path), new, because=because)
    after = base
    for axis, name in enumerate(Vec3._fields):
        if new[axis] != old[axis]:
            address = Address(handle.ref, f"{handle.path}.{name}")
            after = change(after, address, new[axis], because=because)
    return after


def _round(step: Array) -> Vec3:
    return vec(np.round(step / STEP) * STEP)


def _value(document: Document, handle: Handle) -> Vec3:
    found: object = on_side(thing_of(document, handle.ref.id), handle.ref.side)
    for name in handle.path.split("."):
        found = getattr(found, name)
    assert isinstance(found, Vec3)
    return found


def _frame_of(document: Document, handle: Handle) -> Frame | None:
    """The frame of the engine and gearbox for what is stored in it."""
    thing = thing_of(document, handle.ref.id)
    if not _is_on_unit(thing, handle.path) or not document.power_units:
        return None
    unit: PowerUnit = document.power_units[0]
    axes = np.column_stack([unit.axes.x, unit.axes.y, unit.axes.z]).astype(np.float64)
    return Frame(array(unit.origin), axes)


def _is_on_unit(thing: Entity, path: str) -> bool:
    if isinstance(thing, Mount):
        return path == "place"
    return isinstance(thing, Point) and thing.carrier == "unit"


def released(base: Document, handle: Handle) -> Document:
    """The document with every held coordinate of a handle set free."""
    after = base
    if handle.path == "along.distance":
        return set_free(after, Address(handle.ref, handle.path))
    for held, name in zip(handle.held_axes, Vec3._fields, strict=True):
        if held:
            after = set_free(after, Address(handle.ref, f"{handle.path}.{name}"))
    return after


# --- where a free interval ends --------------------------------------------------------------


def stop_of(assessment: Assessment, handle: Handle) -> Stop | None:
    """How far a wheel may move sideways on its bought shaft; nothing where that is not known."""
    if handle.kind != "wheel_centre" or handle.ref.side == "one":
        return None
    sides = [handle.ref]
    corner = thing_of(assessment.document, handle.ref.id)
    if isinstance(corner, Corner) and not any(o.of.startswith("upright") for o in corner.right):
        sides.append(handle.ref.mirrored())
    rooms = [room for ref in sides if (room := _room(assessment, ref)) is not None]
    if not rooms:
        return None
    inward, outward = max(r[0] for r in rooms), min(r[1] for r in rooms)
    inner = next(r for r in rooms if r[0] == inward)
    outer = next(r for r in rooms if r[1] == outward)
    return _stop(handle, (inward, outward), (inner[2], outer[3]))


def _stop(handle: Handle, room: tuple[float, float], words: tuple[str, str]) -> Stop:
    inward, outward = min(room[0], 0.0), max(room[1], 0.0)
    y = handle.at.y
    if handle.ref.side == "right":
        return Stop(1, y - outward, y - inward, words[1], words[0])
    return Stop(1, y + inward, y + outward, words[0], words[1])


def _room(assessment: Assessment, corner: Ref) -> tuple[float, float, str, str] | None:
    """How far a wheel plane may move, negative inward, and the words for both ends."""
    shaft = _shaft_of(assessment.document, corner)
    if shaft is None:
        return None
    try:
        span = assessment.value(plane_range, shaft)
        plane = wheel_plane(assessment.value(drive_side, shaft))
    except NotComputedError:
        return None
    if span.width < 0:
        return None
    name = Lookup(assessment.document).label(shaft)
    low, high = number(span.lower, 1), number(span.upper, 1)
    inner = f"{name} is pushed home: its wheel plane stands at least {low} from the centre line"
    outer = f"{name} is pulled to its stop: its wheel plane stands at most {high} out"
    return span.lower - plane, span.upper - plane, inner, outer


def _shaft_of(document: Document, corner: Ref) -> Ref | None:
    for shaft in document.drive_shafts:
        for side in ("left", "right", "one"):
            piece: Entity = on_side(shaft, side)
            assert isinstance(piece, DriveShaft)
            if piece.corner == corner:
                return Ref(shaft.id, side if shaft.pair else "one")
    return None


# --- words -----------------------------------------------------------------------------------

_WAYS = (("behind", "ahead"), ("right", "left"), ("down", "up"))


def way(step: Array, least: float = 0.05) -> str:
    """A move in words, such as «ahead 12.0, up 3.5»."""
    parts = [
        f"{_WAYS[axis][int(step[axis] > 0)]} {number(abs(float(step[axis])), 1)}"
        for axis in range(3)
        if abs(float(step[axis])) >= least
    ]
    return ", ".join(parts) if parts else "not moved"


def axis_along(direction: Array, taken: int | None = None) -> tuple[int, float]:
    """The car's axis nearest to a direction, and its sign; not the one that is taken."""
    sizes = np.abs(AXES @ direction)
    if taken is not None:
        sizes[taken] = -1.0
    axis = int(np.argmax(sizes))
    return axis, float(np.sign(direction[axis]) or 1.0)
