"""The engine and gearbox as one body, its mounts, and the room its service needs."""

import re
from typing import ClassVar, Literal

from core.document.base import (
    Axes,
    Box,
    Carrier,
    Entity,
    Plain,
    TubeRef,
    UnitRef,
    Vec3,
    direction,
    distinct,
    not_negative,
    positive,
)

_SHA256 = re.compile(r"[0-9a-f]{64}")


class Solid(Plain, frozen=True, kw_only=True):
    """A box of the engine and gearbox, in its own frame."""

    name: str
    box: Box


class MeshRef(Plain, frozen=True, kw_only=True):
    """A mesh kept beside the file, by the SHA-256 of its bytes."""

    sha256: str
    what: str = ""
    shown: bool = True

    def check(self) -> None:
        """Refuse what is not a SHA-256."""
        if not _SHA256.fullmatch(self.sha256):
            msg = "a mesh is named by the 64 hexadecimal digits of its SHA-256"
            raise ValueError(msg)


class Inertia(Plain, frozen=True, kw_only=True):
    """Moments of inertia about the centre of gravity, own axes, kg m2; xy is -sum m x y."""

    xx: float
    yy: float
    zz: float
    xy: float = 0.0
    xz: float = 0.0
    yz: float = 0.0

    def check(self) -> None:
        """Refuse moments of nothing."""
        positive("an inertia", xx=self.xx, yy=self.yy, zz=self.zz)


class Outputs(Plain, frozen=True, kw_only=True):
    """Where the two shafts meet the gearbox: inner joint centres at mid stroke, own frame."""

    left: Vec3
    right: Vec3
    left_axis: Vec3 = Vec3(0.0, 1.0, 0.0)
    right_axis: Vec3 = Vec3(0.0, -1.0, 0.0)

    def check(self) -> None:
        """Refuse axes that point nowhere, and both outputs in one place."""
        direction("the outputs", left_axis=self.left_axis, right_axis=self.right_axis)
        if self.left == self.right:
            msg = "the left and the right output are in one place"
            raise ValueError(msg)


class PowerUnit(Entity, tag_field="kind", tag="power_unit", frozen=True, kw_only=True):
    """Engine and gearbox bolted together and moved as one.

    Its own frame has its origin where the crank axis meets the bell-housing face. Everything on it
    is in that frame; `origin` and `axes` say where the frame stands in the car.
    """

    may_be_pair: ClassVar[bool] = False

    origin: Vec3
    axes: Axes = Axes()
    orientation: str = ""
    solids: tuple[Solid, ...] = ()
    mesh: MeshRef | None = None
    mass_kg: float | None = None
    centre_of_gravity: Vec3 | None = None
    inertia: Inertia | None = None
    outputs: Outputs | None = None
    torque_nm: float | None = None
    torque_at_rpm: float | None = None
    torque_low_nm: float | None = None
    torque_high_nm: float | None = None
    power_kw: float | None = None
    power_at_rpm: float | None = None
    rev_limit_rpm: float | None = None
    gear_ratios: tuple[float, ...] = ()
    reverse_ratio: float | None = None
    final_drive: float | None = None
    clutch_factor: float | None = None  # clutch limit over the highest engine torque
    exhaust_note: str = ""

    def check(self) -> None:
        """Refuse sizes of nothing."""
        owner = f"engine and gearbox {self.name}"
        positive(
            owner,
            mass_kg=self.mass_kg,
            torque_nm=self.torque_nm,
            torque_at_rpm=self.torque_at_rpm,
            torque_low_nm=self.torque_low_nm,
            torque_high_nm=self.torque_high_nm,
            power_kw=self.power_kw,
            power_at_rpm=self.power_at_rpm,
            rev_limit_rpm=self.rev_limit_rpm,
            reverse_ratio=self.reverse_ratio,
            final_drive=self.final_drive,
            clutch_factor=self.clutch_factor,
        )
        for ratio in self.gear_ratios:
            positive(owner, gear_ratios=ratio)
        distinct(owner, "solids", tuple(solid.name for solid in self.solids))


class Stiffness(Plain, frozen=True, kw_only=True):
    """Stiffness of a mount along its own three axes, N/mm."""

    x: float
    y: float
    z: float

    def check(self) -> None:
        """Refuse stiffness below zero."""
        not_negative("a mount insert", x=self.x, y=self.y, z=self.z)


class Insert(Plain, frozen=True, kw_only=True):
    """One choice of rubber in a mount."""

    name: str
    stiffness: Stiffness


class StopGap(Plain, frozen=True, kw_only=True):
    """Free movement before a mount meets its stop, along its own axes; none given, none known."""

    x: float | None = None
    y: float | None = None
    z: float | None = None

    def check(self) -> None:
        """Refuse gaps below zero."""
        not_negative("a stop gap", x=self.x, y=self.y, z=self.z)


class Mount(Entity, tag_field="kind", tag="mount", frozen=True, kw_only=True):
    """A rubber mount: a bush in one place, or a stay from the unit to the car."""

    unit: UnitRef
    form: Literal["bush", "stay"]
    what: str = ""
    place: Vec3  # of the bush, or of the stay's unit end; unit's frame
    chassis_end: Vec3 | None = None  # of a stay; car frame
    stay_length: float | None = None  # as bought, centre to centre
    axes: Axes = Axes()
    inserts: tuple[Insert, ...] = ()
    fitted: str = ""
    stop_gap: StopGap | None = None
    captive: bool | None = None

    def check(self) -> None:
        """Refuse a stay with one end and a fitted insert that is not among the inserts."""
        owner = f"mount {self.name}"
        if (self.form == "stay") != (self.chassis_end is not None):
            msg = f"{owner}: a stay has a chassis end, a bush has not"
            raise ValueError(msg)
        names = tuple(insert.name for insert in self.inserts)
        distinct(owner, "inserts", names)
        if self.fitted and self.fitted not in names:
            msg = f"{owner}: «{self.fitted}» is fitted but is not one of its inserts"
            raise ValueError(msg)
        positive(owner, stay_length=self.stay_length)


class ServiceZone(Entity, tag_field="kind", tag="service_zone", frozen=True, kw_only=True):
    """Room that work on the car needs, and the tubes known to pass through it."""

    box: Box
    want: str = ""
    carrier: Carrier = "unit"
    known: tuple[TubeRef, ...] = ()
