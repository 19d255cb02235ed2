"""The car shown moved: wheels, links, dampers, shafts and rack where bump, roll and steer put them.

The body stands still; what moves is drawn moved, for showing only. Handles and figures stay those
of the design.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from core.assess.dampers import damper_at_design, rocker_at_design
from core.assess.places import array
from core.assess.width import drive_side, outer_joint
from core.document.base import Ref
from core.document.running_gear import Axle, Corner, DriveShaft, Rack
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.scene.beams import posed_axle
from core.scene.ends import Ends, ends_of_car
from core.scene.gear import (
    RACK_BAR,
    CarriedRod,
    On,
    corner_rods,
    damper_rods,
    pose_of_shaft,
    rack_drawn,
    shaft_drawn,
    shaft_rods,
)
from core.scene.records import RodRecord, Scene, SolidRecord
from core.scene.standing import Standing, standing, wheel_name
from core.scene.wheel_figures import WheelFigures, wheel_figures
from core.suspension.carried import carried_place
from core.suspension.damper import lower_eye
from core.suspension.poses import Poses
from core.suspension.rocker import rocker_poses


@dataclass(frozen=True, eq=False)
class MovedSolid(SolidRecord):
    """A solid that is another one turned and shifted, so that nothing of it need be made anew.

    Attributes:
        drawn: the same solid at design.
        rotation: (3, 3).
        shift: (3,) mm: a place p of it goes to rotation p + shift.
    """

    drawn: SolidRecord
    rotation: Array
    shift: Array


@dataclass(frozen=True, eq=False)
class PosedCorner:
    """A corner where it stands: how, what is read there, and what is drawn of it."""

    standing: Standing
    figures: WheelFigures
    rods: tuple[RodRecord, ...]


@dataclass(frozen=True)
class UnknownWheel:
    """A wheel of which it is not known where it goes, and why; it is drawn at design."""

    corner: Ref
    name: str
    why: str


NO_ENDS = Ends()


@dataclass(frozen=True, eq=False)
class PosedCar:
    """Everything that moves.

    Attributes:
        corners: each corner, or why it is not known where it goes.
        rods: what to draw of each thing in place of its rods at design.
        amiss: what else there is to say, such as a shaft that is too short.
        ends: how far things can be moved.
    """

    corners: tuple[PosedCorner | UnknownWheel, ...] = ()
    rods: Mapping[Ref, tuple[RodRecord, ...]] = field(
        default_factory=dict[Ref, tuple[RodRecord, ...]]
    )
    amiss: tuple[str, ...] = ()
    ends: Ends = NO_ENDS


@cell(When.LIVE)
def posed_corner(
    read: Reader, corner: Ref, bump: float, roll_deg: float, rack: float
) -> PosedCorner:
    """A corner with the wheels up by `bump` mm, the body rolled, and the rack to the left."""
    stands = read(standing, corner, bump, roll_deg, rack)
    return PosedCorner(stands, wheel_figures(read, stands), _rods(read, stands))


def _rods(read: Reader, stands: Standing) -> tuple[RodRecord, ...]:
    poses, carried = stands.poses, read(corner_rods, stands.corner)
    lines = np.stack([each.rod.line for each in carried])
    moved = np.array([[(each.inner == on, each.outer == on) for each in carried] for on in _MOVED])
    lines = np.where(moved[0][..., None], poses.at(lines), lines)
    lines = lines + moved[1][..., None] * np.array([0.0, float(poses.travel.rack), 0.0])
    return (
        *(
            replace(each.rod, line=line)
            for each, line in zip(carried, lines, strict=True)
            if each.inner not in ("damper", "rocker")
        ),
        *_rocker(read, stands, [each for each in carried if each.inner == "rocker"]),
        *_damper(read, stands, [each.rod for each in carried if each.inner == "damper"]),
    )


_MOVED: tuple[On, On] = ("upright", "rack")


def _rocker(read: Reader, stands: Standing, drawn: list[CarriedRod]) -> Iterator[RodRecord]:
    """A rocker and its rod; nothing where that does not reach."""
    if not drawn:
        return
    try:
        rocker = read(rocker_at_design, stands.corner)
        poses = rocker_poses(stands.poses, rocker)
    except (NotComputedError, ValueError):
        return  # the damper that it works is told of
    if not np.isfinite(float(poses.angle_rad)):
        return
    outer = carried_place(stands.poses, rocker.rod_outer, rocker.arm)
    for each in drawn:
        line = np.array(poses.at(each.rod.line))
        if each.outer == "rod":
            line[1] = outer
        yield replace(each.rod, line=line)


def _damper(read: Reader, stands: Standing, drawn: list[RodRecord]) -> tuple[RodRecord, ...]:
    """Body and spring between where the eyes are; nothing where that is not known."""
    if not drawn:
        return ()
    try:
        low = lower_eye(stands.poses, read(damper_at_design, stands.corner))
    except (NotComputedError, ValueError):
        return ()  # its figure says why
    if not np.isfinite(low).all():
        return ()
    body, spring = drawn
    length = float(np.linalg.norm(body.line[1] - body.line[0]))
    return damper_rods(stands.corner, (low, spring.line[1]), length, (body.radius, spring.radius))


@cell(When.LIVE)
def posed_car(read: Reader, bump: float, roll_deg: float, rack: float) -> PosedCar:
    """Everything that moves, each as far as it goes.

    Args:
        read: what the document says.
        bump: how far the wheels rise against the body, mm.
        roll_deg: of the body, left side up above zero.
        rack: mm to the left.
    """
    corners = tuple(
        _corner_or_why(read, corner, bump, roll_deg, rack) for corner in read.all(Corner)
    )
    posed = {c.standing.corner: c for c in corners if isinstance(c, PosedCorner)}
    rods = {corner: each.rods for corner, each in posed.items()}
    amiss: list[str] = []
    for ref in read.all(DriveShaft):
        _pose_shaft(read, ref, posed, rods, amiss)
    rods.update(_racks(read, rack))
    rods.update(_axles(read, posed))
    return PosedCar(corners, rods, tuple(amiss), read(ends_of_car))


def _corner_or_why(
    read: Reader, corner: Ref, bump: float, roll_deg: float, rack: float
) -> PosedCorner | UnknownWheel:
    try:
        return read(posed_corner, corner, bump, roll_deg, rack)
    except NotComputedError as error:
        return UnknownWheel(corner, read(wheel_name, corner), str(error))


def _pose_shaft(
    read: Reader,
    ref: Ref,
    posed: Mapping[Ref, PosedCorner],
    rods: dict[Ref, tuple[RodRecord, ...]],
    amiss: list[str],
) -> None:
    """Draw a shaft to where its wheel stands; one that does not reach is left out and told of."""
    corner = posed.get(read(corner_of_shaft, ref))
    if corner is None:
        return
    try:
        drive = read(drive_side, ref)
        joint = array(read(outer_joint, corner.standing.corner))
    except NotComputedError:
        return  # then nothing is drawn of it at design either
    poses = corner.standing.poses
    outer = poses.at(joint)
    pose = pose_of_shaft(drive, outer, poses.spin)
    if not bool(pose.reaches):
        rods[ref] = ()
        amiss.append(f"{read.label(ref)} is {float(pose.shortfall):.1f} too short to reach")
        return
    bar, boot, *_ = read(shaft_drawn, ref)
    ends = (outer - pose.direction * drive.shaft_length, outer)
    rods[ref] = shaft_rods(ref, ends, (bar.radius, boot.radius))


@cell(When.LIVE)
def corner_of_shaft(read: Reader, shaft: Ref) -> Ref:
    """The corner whose wheel a shaft drives."""
    return read.thing(DriveShaft, shaft).corner


def _racks(read: Reader, over: float) -> Iterator[tuple[Ref, tuple[RodRecord, ...]]]:
    """Each rack moved sideways in its housing."""
    step = np.array([0.0, over, 0.0])
    for ref in read.all(Rack):
        yield (
            ref,
            tuple(
                replace(rod, line=rod.line + step) if rod.part == RACK_BAR else rod
                for rod in read(rack_drawn, ref)
            ),
        )


def _axles(
    read: Reader, posed: Mapping[Ref, PosedCorner]
) -> Iterator[tuple[Ref, tuple[RodRecord, ...]]]:
    """Each anti-roll bar and each rigid axle, as far as it is known where its wheels stand."""
    poses = {ref: each.standing.poses for ref, each in posed.items()}
    for axle in read.all(Axle):
        moved = posed_axle(read, axle, poses)
        if moved is not None:
            yield axle, moved


def scene_at(scene: Scene, car: PosedCar) -> Scene:
    """Return the scene with what moves where it stands; all else is the very same records.

    Args:
        scene: at design.
        car: worked out for the same document.
    """
    poses = {c.standing.corner: c.standing.poses for c in car.corners if isinstance(c, PosedCorner)}
    return replace(
        scene,
        rods=tuple(_replaced(scene.rods, car.rods)),
        solids=tuple(
            _moved(solid, poses[solid.ref]) if solid.ref in poses else solid
            for solid in scene.solids
        ),
    )


def _replaced(
    drawn: tuple[RodRecord, ...], moved: Mapping[Ref, tuple[RodRecord, ...]]
) -> Iterator[RodRecord]:
    """The same order, so that a drawer finds each where it was."""
    done: set[Ref] = set()
    for rod in drawn:
        if rod.ref not in moved:
            yield rod
        elif rod.ref not in done:
            done.add(rod.ref)
            yield from moved[rod.ref]


def _moved(solid: SolidRecord, poses: Poses) -> MovedSolid:
    rotation = np.asarray(poses.rotation)
    shift = poses.centre - rotation @ poses.linkage.centre
    return MovedSolid(
        solid.ref,
        solid.part,
        solid.vertices @ rotation.T + shift,
        solid.triangles,
        solid.look,
        solid,
        rotation,
        shift,
    )
