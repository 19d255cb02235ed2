"""The width across the driven wheels: shafts, joints, and where the wheel planes may stand."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.assess.places import array, unit_frame
from core.document.base import Ref, Vec3
from core.document.power import PowerUnit
from core.document.running_gear import Corner, DriveShaft, Hub, Wheel
from core.driveline.bench import BenchReadings, BenchShaft, joint_from_bench
from core.driveline.lateral import LateralRange, Shift, unit_shift, wheel_plane_interval
from core.driveline.shaft import ShaftDoesNotReachError, shaft_pose
from core.driveline.sides import DriveSide
from core.driveline.width import ChainLink, wheel_plane, width_chain
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import unit


def known(value: float | None, what: str) -> float:
    """A figure that is needed.

    Raises:
        NotComputedError: it is not given.
    """
    if value is None:
        msg = f"{what} is not known"
        raise NotComputedError(msg)
    return value


@cell(When.LIVE)
def bench_shaft(read: Reader, ref: Ref) -> BenchShaft | None:
    """What a shaft's bench readings give, or nothing where there are none."""
    bench = read.thing(DriveShaft, ref).bench
    if bench is None:
        return None
    readings = BenchReadings(
        pushed_home=bench.pushed_home,
        pulled_to_stop=bench.pulled_to_stop,
        plus_minus=bench.seats_uncertainty or 0.0,
        gearbox_seat_to_inner_centre=bench.gearbox_seat_to_joint,
        gearbox_seat_plus_minus=bench.gearbox_seat_uncertainty or 0.0,
        outer_centre_to_hub_seat=bench.joint_to_hub_seat,
        hub_seat_plus_minus=bench.hub_seat_uncertainty or 0.0,
        reserve_each_end=bench.kept_each_end,
    )
    try:
        return joint_from_bench(readings)
    except ValueError as error:
        msg = f"the bench readings of {read.label(ref)} do not fit one another: {error}"
        raise NotComputedError(msg) from error


@cell(When.LIVE)
def shaft_length(read: Reader, ref: Ref) -> float:
    """Outer joint to sliding centre of the inner joint, mm: as given, else from the bench."""
    given = read.thing(DriveShaft, ref).length
    if given is not None:
        return given
    bench = read(bench_shaft, ref)
    if bench is None:
        msg = f"the length of {read.label(ref)} is not known; measure it on the bench"
        raise NotComputedError(msg)
    return bench.length


@cell(When.LIVE)
def plunge_limits(read: Reader, ref: Ref) -> tuple[float, float]:
    """Plunge allowed in and out from mid stroke, mm, none below zero: as given or benched."""
    shaft = read.thing(DriveShaft, ref)
    if shaft.plunge_in is not None and shaft.plunge_out is not None:
        return shaft.plunge_in, shaft.plunge_out
    bench = read(bench_shaft, ref)
    if bench is None:
        msg = f"how far the inner joint of {read.label(ref)} may slide is not known"
        raise NotComputedError(msg)
    return bench.plunge_each_way, bench.plunge_each_way


@cell(When.LIVE)
def outer_joint(read: Reader, corner: Ref) -> Vec3:
    """Outer joint centre at the design position, mm, car frame: hub face less its depth."""
    thing = read.thing(Corner, corner)
    face, axis = array(thing.upright.hub_face), unit(array(thing.upright.spin_axis))
    x, y, z = (float(v) for v in face - axis * _joint_depth(read, corner))
    return Vec3(x, y, z)


def _joint_depth(read: Reader, corner: Ref) -> float:
    hub = read.thing(Corner, corner).hub
    if hub is None:
        msg = f"no hub is named for {read.label(corner)}"
        raise NotComputedError(msg)
    depth = read.thing(Hub, hub).joint_to_face
    return known(depth, f"the depth from the joint to the face of {read.label(hub)}")


@cell(When.LIVE)
def drive_side(read: Reader, ref: Ref) -> DriveSide:
    """Everything from the bell-housing face to the wheel plane on a shaft's side."""
    shaft = read.thing(DriveShaft, ref)
    corner = read.thing(Corner, shaft.corner)
    unit_thing, frame = read.thing(PowerUnit, shaft.unit), read(unit_frame, shaft.unit)
    side = _side(shaft.corner)
    inner, axis = _output(read, shaft.unit, side)
    if corner.wheel is None:
        msg = f"no wheel is named for {read.label(shaft.corner)}"
        raise NotComputedError(msg)
    return DriveSide(
        side=side,
        bell_housing_face_y=unit_thing.origin.y,
        inner_joint=_plain(frame.to_car(array(inner))),
        slide_axis=_plain(frame.directions_to_car(array(axis))),
        outer_joint=read(outer_joint, shaft.corner),
        spin_axis=corner.upright.spin_axis,
        shaft_length=read(shaft_length, ref),
        joint_to_hub_face=_joint_depth(read, shaft.corner),
        spacer=corner.upright.spacer,
        wheel_offset=read.thing(Wheel, corner.wheel).offset,
    )


def _side(corner: Ref) -> Literal["left", "right"]:
    if corner.side == "one":
        msg = "a drive shaft needs a left or a right corner"
        raise NotComputedError(msg)
    return corner.side


def _output(read: Reader, unit_ref: Ref, side: str) -> tuple[Vec3, Vec3]:
    outputs = read.thing(PowerUnit, unit_ref).outputs
    if outputs is None:  # pyright: ignore[reportUnnecessaryComparison]
        msg = f"where the shafts meet {read.label(unit_ref)} is not known"
        raise NotComputedError(msg)
    if side == "left":
        return outputs.left, outputs.left_axis
    return outputs.right, outputs.right_axis


def _plain(values: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in values)
    return x, y, z


@dataclass(frozen=True)
class ShaftAtDesign:
    """A drive shaft at the design position.

    Attributes:
        plunge: mm from mid stroke, pulled out above zero.
        inner_angle_deg: between the shaft and the inner joint's own axis.
        outer_angle_deg: between the shaft and the wheel's spin axis.
    """

    plunge: float
    inner_angle_deg: float
    outer_angle_deg: float


@cell(When.LIVE)
def shaft_at_design(read: Reader, ref: Ref) -> ShaftAtDesign:
    """Plunge and angles of a shaft with the corner at its design position."""
    drive = read(drive_side, ref)
    pose = shaft_pose(
        array(Vec3(*drive.inner_joint)),
        array(Vec3(*drive.slide_axis)),
        array(Vec3(*drive.outer_joint)),
        array(Vec3(*drive.spin_axis)),
        drive.shaft_length,
    )
    if not bool(pose.reaches):
        msg = f"{read.label(ref)} is {float(pose.shortfall):.1f} mm too short to reach at all"
        raise NotComputedError(msg)
    return ShaftAtDesign(
        float(pose.plunge), float(pose.inner_angle_deg), float(pose.outer_angle_deg)
    )


@cell(When.LIVE)
def chain(read: Reader, ref: Ref) -> tuple[ChainLink, ...]:
    """The lengths that add up to a wheel plane, from the centre plane outwards."""
    try:
        return width_chain(read(drive_side, ref))
    except ShaftDoesNotReachError as error:
        raise NotComputedError(str(error)) from error


@cell(When.LIVE)
def plane_range(read: Reader, ref: Ref) -> LateralRange:
    """Where the wheel plane of a shaft's side may stand, mm outboard of the centre plane."""
    plunge_in, plunge_out = read(plunge_limits, ref)
    try:
        return wheel_plane_interval(read(drive_side, ref), plunge_in, plunge_out)
    except (ShaftDoesNotReachError, ValueError) as error:
        raise NotComputedError(str(error)) from error


@dataclass(frozen=True)
class AxleWidth:
    """The driven axle: where its wheel planes stand and may stand, and what a shift would do.

    Attributes:
        shafts: left and right shaft.
        planes: left and right wheel plane as drawn, mm outboard of the centre plane.
        ranges: where each may stand.
        shift: the moves of the engine and gearbox that suit both, positive to the left.
    """

    shafts: tuple[Ref, Ref]
    planes: tuple[float, float]
    ranges: tuple[LateralRange, LateralRange]
    shift: Shift

    @property
    def track(self) -> float:
        """Distance of the two wheel planes as drawn, mm."""
        return self.planes[0] + self.planes[1]


@cell(When.LIVE)
def axle_width(read: Reader, left: Ref, right: Ref) -> AxleWidth:
    """The width across the wheels that a left and a right shaft drive."""
    planes = tuple(wheel_plane(read(drive_side, ref)) for ref in (left, right))
    ranges = tuple(read(plane_range, ref) for ref in (left, right))
    shift = unit_shift(ranges[0], planes[0], ranges[1], planes[1])
    return AxleWidth((left, right), (planes[0], planes[1]), (ranges[0], ranges[1]), shift)


@cell(When.LIVE)
def driven_pairs(read: Reader) -> tuple[tuple[Ref, Ref], ...]:
    """Left and right shaft of each driven axle."""
    by_corner: dict[str, dict[str, Ref]] = {}
    for ref in read.all(DriveShaft):
        corner = read.thing(DriveShaft, ref).corner
        by_corner.setdefault(corner.id, {})[corner.side] = ref
    return tuple(
        (found["left"], found["right"])
        for found in by_corner.values()
        if {"left", "right"} <= found.keys()
    )
