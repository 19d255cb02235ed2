"""Axles and corners, wheels, steering, shafts and brakes."""

from collections.abc import Mapping
from itertools import pairwise
from typing import ClassVar, Literal

from core.document.base import (
    AxleRef,
    CornerRef,
    Entity,
    HubRef,
    Plain,
    PointRef,
    RackRef,
    TyreRef,
    UnitRef,
    Vec3,
    WheelRef,
    distinct,
    not_negative,
    positive,
    share,
)
from core.document.links import (
    Adjuster,
    AntiRollBar,
    Damper,
    Holder,
    Link,
    Linkage,
    Rocker,
    Role,
    TorsionBar,
    Upright,
)
from core.document.steel import LinkEnd


class Axle(Entity, tag_field="kind", tag="axle", frozen=True, kw_only=True):
    """The front or the rear end: a pair of corners, and what steers or drives them."""

    may_be_pair: ClassVar[bool] = False

    end: Literal["front", "rear"]
    rack: RackRef | None = None
    driven: bool = False
    bar: AntiRollBar | None = None
    links: tuple[Link, ...] = ()  # of a rigid axle: its outer ends are on the axle
    holders: tuple[Holder, ...] = ()  # of a rigid axle: what else holds it

    def check(self) -> None:
        """Refuse two links or holders of one name."""
        names = (*(link.name for link in self.links), *(held.name for held in self.holders))
        distinct(f"axle {self.name}", "links", names)


class Corner(Entity, tag_field="kind", tag="corner", frozen=True, kw_only=True):
    """One wheel's linkage, upright, wheel and damper."""

    axle: AxleRef
    linkage: Linkage = "other"
    description: str = ""
    links: tuple[Link, ...] = ()
    arms: tuple[Link, ...] = ()  # tubes in one piece with the upright, such as a trailing arm's
    points: tuple[Role, ...] = ()
    holders: tuple[Holder, ...] = ()  # of a linkage of the builder's own
    upright: Upright
    hub: HubRef | None = None
    wheel: WheelRef | None = None
    tyre: TyreRef | None = None
    droop: float | None = None  # wheel travel down from the design position
    bump: float | None = None  # wheel travel up
    unsprung_mass_kg: float | None = None
    weight_kg: float | None = None  # on this wheel at the design load, off scales
    wanted_camber_deg: float | None = None
    wanted_toe_in_deg: float | None = None
    damper: Damper | None = None
    rocker: Rocker | None = None
    torsion_bar: TorsionBar | None = None
    strap_droop: float | None = None  # droop at which a strap or stop holds it, damper off
    adjusters: tuple[Adjuster, ...] = ()

    def check(self) -> None:
        """Refuse travel below zero and two links or roles of one name."""
        owner = f"corner {self.name}"
        not_negative(owner, droop=self.droop, bump=self.bump, strap_droop=self.strap_droop)
        positive(owner, unsprung_mass_kg=self.unsprung_mass_kg, weight_kg=self.weight_kg)
        names = (link.name for link in (*self.links, *self.arms))
        distinct(owner, "links", (*names, *(held.name for held in self.holders)))
        distinct(owner, "points", tuple(role.role for role in self.points))


class Hub(Entity, tag_field="kind", tag="hub", frozen=True, kw_only=True):
    """What turns with the wheel: stud circle, spigot, spline, nut, and depths to the shaft."""

    stud_count: int | None = None
    stud_circle: float | None = None
    stud_thread: str = ""
    spigot: float | None = None
    bearing: str = ""
    nut_thread: str = ""
    nut_torque_nm: float | None = None
    nut_across_flats: float | None = None
    spline_count: int | None = None
    joint_to_face: float | None = None  # outer joint centre to hub face
    seat_to_face: float | None = None  # hub seat of the joint to hub face

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(
            f"hub {self.name}",
            stud_count=self.stud_count,
            stud_circle=self.stud_circle,
            spigot=self.spigot,
            nut_torque_nm=self.nut_torque_nm,
            nut_across_flats=self.nut_across_flats,
            spline_count=self.spline_count,
        )


class Wheel(Entity, tag_field="kind", tag="wheel", frozen=True, kw_only=True):
    """A rim by width, diameter and offset, and what it bolts to."""

    rim_width_in: float
    rim_in: float
    offset: float  # hub face to rim centre plane; positive, hub face outboard of it
    stud_count: int | None = None
    stud_circle: float | None = None
    stud_thread: str = ""
    centre_bore: float | None = None

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(
            f"wheel {self.name}",
            rim_width_in=self.rim_width_in,
            rim_in=self.rim_in,
            stud_count=self.stud_count,
            stud_circle=self.stud_circle,
            centre_bore=self.centre_bore,
        )


class Tyre(Entity, tag_field="kind", tag="tyre", frozen=True, kw_only=True):
    """A tyre by the size moulded on it, with its stiffness and its radius under load."""

    size: str
    loaded_radius: float | None = None
    unloaded_radius: float | None = None  # only where it is not by the rule of its size
    vertical_stiffness: float | None = None  # N/mm

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(
            f"tyre {self.name}",
            loaded_radius=self.loaded_radius,
            unloaded_radius=self.unloaded_radius,
            vertical_stiffness=self.vertical_stiffness,
        )


class Rack(Entity, tag_field="kind", tag="rack", frozen=True, kw_only=True):
    """A steering rack across the car; its two balls follow from its place and their spacing."""

    may_be_pair: ClassVar[bool] = False

    centre: Vec3
    ball_spacing: float
    travel_per_turn: float | None = None
    total_travel: float | None = None
    used_each_way: float | None = None
    housing_outside: float | None = None
    feet: tuple[PointRef, ...] = ()
    joint: LinkEnd | None = None  # at the left ball; mirrored for the right

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(
            f"rack {self.name}",
            ball_spacing=self.ball_spacing,
            travel_per_turn=self.travel_per_turn,
            total_travel=self.total_travel,
            used_each_way=self.used_each_way,
            housing_outside=self.housing_outside,
        )


class BenchReadings(Plain, frozen=True, kw_only=True):
    """A shaft laid straight on the bench: seat face to seat face, pushed home and pulled out.

    What its own fields say of how sure a reading is goes before a fact about all of the bench.
    """

    read_to: ClassVar[Mapping[str, str]] = {
        "pushed_home": "seats_uncertainty",
        "pulled_to_stop": "seats_uncertainty",
        "gearbox_seat_to_joint": "gearbox_seat_uncertainty",
        "joint_to_hub_seat": "hub_seat_uncertainty",
    }
    """Each reading, and the field that says how sure it is; any other number is no reading."""

    pushed_home: float
    pulled_to_stop: float
    seats_uncertainty: float | None = None
    gearbox_seat_to_joint: float
    gearbox_seat_uncertainty: float | None = None
    joint_to_hub_seat: float
    hub_seat_uncertainty: float | None = None
    kept_each_end: float = 0.0
    how: str = ""

    def check(self) -> None:
        """Refuse a shaft that is shorter pulled than pushed."""
        positive("a shaft on the bench", pushed_home=self.pushed_home)
        not_negative(
            "a shaft on the bench",
            seats_uncertainty=self.seats_uncertainty,
            gearbox_seat_uncertainty=self.gearbox_seat_uncertainty,
            hub_seat_uncertainty=self.hub_seat_uncertainty,
            kept_each_end=self.kept_each_end,
        )
        if self.pulled_to_stop < self.pushed_home:
            msg = "a shaft cannot be shorter pulled to its stop than pushed home"
            raise ValueError(msg)


class AngleAtStroke(Plain, frozen=True, kw_only=True):
    """One line of a joint's own table: the angle it allows at a stroke."""

    plunge: float
    angle_deg: float

    def check(self) -> None:
        """Refuse angles below zero."""
        not_negative("a line of an angle table", angle_deg=self.angle_deg)


class DriveShaft(Entity, tag_field="kind", tag="drive_shaft", frozen=True, kw_only=True):
    """The shaft from the gearbox to a wheel, with its two joints.

    `length` is from the outer joint centre to the sliding centre of the inner joint. Without it
    the bench readings give it.
    """

    corner: CornerRef
    unit: UnitRef
    length: float | None = None
    bench: BenchReadings | None = None
    bar_outside: float | None = None
    inner_joint: str = ""
    outer_joint: str = ""
    outer_boot_outside: float | None = None
    plunge_in: float | None = None
    plunge_out: float | None = None
    inner_angle_deg: float | None = None
    outer_angle_deg: float | None = None
    angle_table: tuple[AngleAtStroke, ...] = ()
    yield_mpa: float | None = None
    spline_count: int | None = None
    bearing_y: float | None = None  # of an intermediate shaft, in the unit's frame

    def check(self) -> None:
        """Refuse sizes of nothing and strokes below zero."""
        owner = f"drive shaft {self.name}"
        positive(
            owner,
            length=self.length,
            bar_outside=self.bar_outside,
            outer_boot_outside=self.outer_boot_outside,
            inner_angle_deg=self.inner_angle_deg,
            outer_angle_deg=self.outer_angle_deg,
            yield_mpa=self.yield_mpa,
            spline_count=self.spline_count,
        )
        not_negative(owner, plunge_in=self.plunge_in, plunge_out=self.plunge_out)
        plunges = [line.plunge for line in self.angle_table]
        if any(a >= b for a, b in pairwise(plunges)):
            msg = f"{owner}: the plunges of the angle table must rise from line to line"
            raise ValueError(msg)


class Brake(Entity, tag_field="kind", tag="brake", frozen=True, kw_only=True):
    """The brakes of one axle: disc, caliper and master cylinder."""

    may_be_pair: ClassVar[bool] = False

    axle: AxleRef
    disc_diameter: float
    disc_thickness: float | None = None
    effective_radius: float
    pistons_one_side: int
    piston_diameter: float
    cylinder_diameter: float

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive(
            f"brake {self.name}",
            disc_diameter=self.disc_diameter,
            disc_thickness=self.disc_thickness,
            effective_radius=self.effective_radius,
            pistons_one_side=self.pistons_one_side,
            piston_diameter=self.piston_diameter,
            cylinder_diameter=self.cylinder_diameter,
        )


class Handbrake(Plain, frozen=True, kw_only=True):
    """A lever and cable to the calipers of one axle."""

    axle: AxleRef
    what: str = ""
    hand_force: float
    lever_ratio: float
    cable_efficiency: float
    caliper_ratio: float
    slope_wanted_percent: float | None = None

    def check(self) -> None:
        """Refuse forces and ratios of nothing, and a cable that gives more than it gets."""
        positive(
            "a handbrake",
            hand_force=self.hand_force,
            lever_ratio=self.lever_ratio,
            cable_efficiency=self.cable_efficiency,
            caliper_ratio=self.caliper_ratio,
        )
        share("a handbrake", cable_efficiency=self.cable_efficiency)
        not_negative("a handbrake", slope_wanted_percent=self.slope_wanted_percent)


class BrakeSystem(Entity, tag_field="kind", tag="brake_system", frozen=True, kw_only=True):
    """Pedal, balance, pads and handbrake."""

    may_be_pair: ClassVar[bool] = False

    pad_friction: float
    pad_friction_low: float | None = None
    pad_friction_high: float | None = None
    pedal_ratio: float
    front_share_of_rod_force: float
    front_share_least: float | None = None
    front_share_most: float | None = None
    what: str = ""
    handbrake: Handbrake | None = None

    def check(self) -> None:
        """Refuse sizes of nothing and a share beyond one."""
        owner = f"brakes {self.name}"
        positive(
            owner,
            pad_friction=self.pad_friction,
            pad_friction_low=self.pad_friction_low,
            pad_friction_high=self.pad_friction_high,
            pedal_ratio=self.pedal_ratio,
        )
        share(
            owner,
            front_share_of_rod_force=self.front_share_of_rod_force,
            front_share_least=self.front_share_least,
            front_share_most=self.front_share_most,
        )
