"""What the frame goes round: shell, openings, obstacles, pipes, people, bolts."""

from typing import ClassVar, Literal

from core.document.base import (
    AnyRef,
    Box,
    Carrier,
    Entity,
    HubRef,
    Plain,
    TubeRef,
    Vec3,
    direction,
    distinct,
    not_negative,
    positive,
)


class Arch(Plain, frozen=True, kw_only=True):
    """A wheel arch in side view: centre (x, z) and radius."""

    end: Literal["front", "rear"]
    centre_x: float
    centre_z: float
    radius: float

    def check(self) -> None:
        """Refuse a radius of nothing."""
        positive("a wheel arch", radius=self.radius)


class Sill(Plain, frozen=True, kw_only=True):
    """One sill of the shell as a line with a size."""

    name: str
    start: Vec3
    end: Vec3
    height: float
    width: float

    def check(self) -> None:
        """Refuse sizes of nothing and a sill from a place to itself."""
        positive(f"sill {self.name}", height=self.height, width=self.width)
        if self.start == self.end:
            msg = f"sill {self.name} ends where it begins"
            raise ValueError(msg)


class Roof(Plain, frozen=True, kw_only=True):
    """The roof as a flat piece."""

    z: float
    front_x: float
    rear_x: float
    half_width: float

    def check(self) -> None:
        """Refuse a roof of no width."""
        positive("the roof", half_width=self.half_width)


class Shell(Entity, tag_field="kind", tag="shell", frozen=True, kw_only=True):
    """The body shell that cannot change: outside size, sills, roof and wheel arches."""

    may_be_pair: ClassVar[bool] = False

    front_x: float | None = None
    rear_x: float | None = None
    half_width: float | None = None
    roof_z: float | None = None
    roof: Roof | None = None
    sills: tuple[Sill, ...] = ()
    arches: tuple[Arch, ...] = ()

    def check(self) -> None:
        """Refuse a shell of no width and two sills of one name."""
        positive(f"shell {self.name}", half_width=self.half_width)
        distinct(f"shell {self.name}", "sills", tuple(sill.name for sill in self.sills))


class Opening(Entity, tag_field="kind", tag="opening", frozen=True, kw_only=True):
    """A hole in the shell or the frame that a thing or a person must pass."""

    outline: tuple[Vec3, ...]
    carrier: Carrier = "shell"
    known: tuple[TubeRef, ...] = ()

    def check(self) -> None:
        """Refuse an outline of fewer than three corners."""
        if len(self.outline) < 3:
            msg = f"opening {self.name} needs three or more corners"
            raise ValueError(msg)


class Obstacle(Entity, tag_field="kind", tag="obstacle", frozen=True, kw_only=True):
    """A rigid thing in the car that nothing may enter: tank, radiator, battery, silencer, pipe.

    Either a box, or a line of points with an outside diameter and a bend radius.
    """

    box: Box | None = None
    line: tuple[Vec3, ...] = ()
    outside: float | None = None
    bend_radius: float | None = None
    carrier: Carrier = "chassis"
    hot: bool = False
    rigid: bool = True
    litres: float | None = None

    def check(self) -> None:
        """Refuse an obstacle that is neither box nor line, or both."""
        if (self.box is None) == (not self.line) or len(self.line) == 1:
            msg = f"{self.name} needs either a box or a line of two or more points"
            raise ValueError(msg)
        if self.line and self.outside is None:
            msg = f"{self.name} is a line, so it needs its outside diameter"
            raise ValueError(msg)
        owner = f"obstacle {self.name}"
        positive(owner, outside=self.outside, litres=self.litres)
        not_negative(owner, bend_radius=self.bend_radius)


class KeepOut(Entity, tag_field="kind", tag="keep_out", frozen=True, kw_only=True):
    """A space that nothing may enter."""

    box: Box
    carrier: Carrier = "chassis"
    why: str = ""
    known: tuple[TubeRef, ...] = ()


class Run(Entity, tag_field="kind", tag="run", frozen=True, kw_only=True):
    """A hose, pipe or cable along a line of points, with a radius at each corner."""

    what: str = ""
    outside: float
    bend_radius: float
    least_bend_radius: float | None = None
    points: tuple[Vec3, ...]
    ends_on: tuple[str, ...] = ()  # solids or things it may touch at its ends

    def check(self) -> None:
        """Refuse fewer than two points and sizes of nothing."""
        if len(self.points) < 2:
            msg = f"run {self.name} needs two or more points"
            raise ValueError(msg)
        positive(f"run {self.name}", outside=self.outside)
        not_negative(f"run {self.name}", bend=self.bend_radius, least_bend=self.least_bend_radius)


class Exhaust(Entity, tag_field="kind", tag="exhaust", frozen=True, kw_only=True):
    """What is hot, and how far other things keep from it."""

    may_be_pair: ClassVar[bool] = False

    unit_solids: tuple[str, ...] = ()  # solids of the engine that are hot
    heat_distance: float | None = None
    heat_distance_with_shield: float | None = None
    heat_distance_from: str = ""
    tube_gap: float | None = None

    def check(self) -> None:
        """Refuse distances below zero and a solid named twice."""
        owner = f"exhaust {self.name}"
        not_negative(
            owner,
            heat_distance=self.heat_distance,
            heat_distance_with_shield=self.heat_distance_with_shield,
            tube_gap=self.tube_gap,
        )
        distinct(owner, "hot solids", self.unit_solids)


class Seat(Plain, frozen=True, kw_only=True):
    """A seat: its cushion as a box and its back as a line with half a thickness."""

    cushion: Box
    back_low: Vec3
    back_high: Vec3
    back_half_thickness: float

    def check(self) -> None:
        """Refuse a back of no height or no thickness."""
        positive("a seat", back_half_thickness=self.back_half_thickness)
        if self.back_low == self.back_high:
            msg = "the back of a seat ends where it begins"
            raise ValueError(msg)


class Belt(Plain, frozen=True, kw_only=True):
    """One strap from the body to its anchor."""

    name: str
    body: Vec3
    anchor: Vec3
    on: str = ""


class Occupant(Entity, tag_field="kind", tag="occupant", frozen=True, kw_only=True):
    """A person seated: hip point, heel, shoulder, helmet room, seat and belts."""

    hip_point: Vec3
    heel: Vec3 | None = None
    shoulder: Vec3 | None = None
    helmet_centre: Vec3 | None = None
    helmet_radius: float | None = None
    drives: bool = False
    seat: Seat | None = None
    belts: tuple[Belt, ...] = ()

    def check(self) -> None:
        """Refuse a helmet of nothing and two belts of one name."""
        positive(f"occupant {self.name}", helmet_radius=self.helmet_radius)
        distinct(f"occupant {self.name}", "belts", tuple(b.name for b in self.belts))


class Pedal(Plain, frozen=True, kw_only=True):
    """A pedal by its pad and its travel."""

    name: str
    pad_centre: Vec3
    pad_width: float
    pad_height: float
    travel: float

    def check(self) -> None:
        """Refuse a pad of nothing and travel below zero."""
        positive(f"pedal {self.name}", pad_width=self.pad_width, pad_height=self.pad_height)
        not_negative(f"pedal {self.name}", travel=self.travel)


class Controls(Entity, tag_field="kind", tag="controls", frozen=True, kw_only=True):
    """Pedals, steering wheel and steering column."""

    may_be_pair: ClassVar[bool] = False

    pedals: tuple[Pedal, ...] = ()
    pedal_faces_x: float | None = None
    wheel_centre: Vec3 | None = None
    wheel_diameter: float | None = None
    rim_outside: float | None = None
    column: tuple[Vec3, ...] = ()  # wheel, joints in order, rack pinion
    column_outside: float | None = None
    joint_angle_limit_deg: float | None = None

    def check(self) -> None:
        """Refuse sizes of nothing and two pedals of one name."""
        distinct(f"controls {self.name}", "pedals", tuple(pedal.name for pedal in self.pedals))
        positive(
            f"controls {self.name}",
            wheel_diameter=self.wheel_diameter,
            rim_outside=self.rim_outside,
            column_outside=self.column_outside,
            joint_angle_limit_deg=self.joint_angle_limit_deg,
        )


class Fastener(Entity, tag_field="kind", tag="fastener", frozen=True, kw_only=True):
    """A bolt or nut with the place of its head and the way the tool comes off."""

    what: str = ""
    thread: str
    across_flats: float
    head_place: Vec3
    tool_from: Vec3
    tool_outside: float | None = None
    tool_length: float | None = None
    tool_checked: bool = True
    hub: HubRef | None = None  # whose nut it is
    fixes: tuple[AnyRef, ...] = ()

    def check(self) -> None:
        """Refuse a tool that comes from nowhere."""
        direction(f"fastener {self.name}", tool_from=self.tool_from)
        positive(
            f"fastener {self.name}",
            across_flats=self.across_flats,
            tool_outside=self.tool_outside,
            tool_length=self.tool_length,
        )


class ThreadSize(Plain, frozen=True, kw_only=True):
    """Usual width across flats of a thread."""

    thread: str
    across_flats: float

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(f"thread {self.thread}", across_flats=self.across_flats)


class Workshop(Entity, tag_field="kind", tag="workshop", frozen=True, kw_only=True):
    """What the workshop has: sockets, usual nut sizes, the dolly's height."""

    may_be_pair: ClassVar[bool] = False

    sockets_in_hand: tuple[float, ...] = ()
    across_flats_by_thread: tuple[ThreadSize, ...] = ()
    dolly_height: float | None = None

    def check(self) -> None:
        """Refuse sizes of nothing and a thread said twice."""
        owner = f"workshop {self.name}"
        for size in self.sockets_in_hand:
            positive(owner, sockets_in_hand=size)
        not_negative(owner, dolly_height=self.dolly_height)
        distinct(owner, "threads", tuple(size.thread for size in self.across_flats_by_thread))
