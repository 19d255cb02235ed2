"""What holds a wheel and springs it: links and what else holds, dampers, bars, adjusters."""

from typing import Literal

from core.document.base import (
    PlaceRef,
    Plain,
    Vec3,
    direction,
    not_negative,
    positive,
)

Linkage = Literal[
    "double_wishbone",
    "strut",
    "five_links",
    "trailing_arm_two_lateral_links",
    "semi_trailing_arm",
    "upper_link_lower_h_arm",
    "rigid_axle",
    "other",
]
Carries = Literal["upright", "lower arm", "upper arm"]
"""What of a corner can carry the outer end of a rod or an eye."""


class Link(Plain, frozen=True, kw_only=True):
    """A rod or one leg of an arm, from the chassis to the upright."""

    name: str
    inner: PlaceRef
    outer: PlaceRef
    outside: float | None = None

    def check(self) -> None:
        """Refuse a link from a point to itself."""
        if self.inner == self.outer:
            msg = f"link {self.name} ends where it begins"
            raise ValueError(msg)
        positive(f"link {self.name}", outside=self.outside)


class Role(Plain, frozen=True, kw_only=True):
    """What a point does in the linkage."""

    role: str
    point: PlaceRef


class Holder(Plain, frozen=True, kw_only=True):
    """What holds an upright, or a rigid axle, and is no rod between two balls.

    A ball holds one point; a hinge two; a strut is a lower point and the top that it slides
    through; a guide is a point that slides along the direction; an H-arm has two inner points and
    then two outer ones.
    """

    name: str
    how: Literal["ball", "hinge", "strut", "guide", "h_arm"]
    points: tuple[PlaceRef, ...]
    direction: Vec3 | None = None

    def check(self) -> None:
        """Refuse too few or too many points, and a guide without a direction."""
        needed = {"ball": 1, "hinge": 2, "strut": 2, "guide": 1, "h_arm": 4}[self.how]
        if len(self.points) != needed:
            msg = f"{self.name} is a {self.how} and needs {needed} points, not {len(self.points)}"
            raise ValueError(msg)
        if self.how == "guide":
            direction(f"the guide {self.name}", direction=self.direction or Vec3(0.0, 0.0, 0.0))


class Upright(Plain, frozen=True, kw_only=True):
    """The part that carries the hub, at the design position, in the car frame."""

    hub_face: Vec3  # centre of the face that the wheel bolts to
    spin_axis: Vec3  # outboard
    spacer: float = 0.0

    def check(self) -> None:
        """Refuse an axis that points nowhere."""
        direction("an upright", spin_axis=self.spin_axis)


class Rocker(Plain, frozen=True, kw_only=True):
    """A rocker on the chassis that a push- or pull-rod turns, and that works the damper."""

    pivot: PlaceRef
    pivot_axis: Vec3
    rod_outer: PlaceRef
    rod_on: Carries = "lower arm"
    rod_inner: PlaceRef
    rod_outside: float | None = None

    def check(self) -> None:
        """Refuse an axis that points nowhere, and a rod from a point to itself."""
        direction("a rocker", pivot_axis=self.pivot_axis)
        positive("the rod of a rocker", outside=self.rod_outside)
        if self.rod_inner == self.rod_outer:
            raise ValueError("the rod of a rocker ends where it begins")


class TorsionBar(Plain, frozen=True, kw_only=True):
    """A bar that is twisted by an arm about its hinge, or by the rocker about its pivot."""

    on: Literal["lower arm", "upper arm", "rocker"] = "lower arm"
    rate_nm_per_deg: float

    def check(self) -> None:
        """Refuse a rate of nothing."""
        positive("a torsion bar", rate_nm_per_deg=self.rate_nm_per_deg)


class BumpStop(Plain, frozen=True, kw_only=True):
    """A rubber on the damper's rod: it is met when the damper has that much left to close."""

    length: float
    rate: float | None = None  # N/mm

    def check(self) -> None:
        """Refuse sizes of nothing."""
        positive("a bump stop", length=self.length, rate=self.rate)


class Damper(Plain, frozen=True, kw_only=True):
    """A coil-over: its two eyes, its lengths and its spring."""

    lower: PlaceRef
    upper: PlaceRef
    lower_on: Literal["upright", "lower arm", "upper arm", "rocker"]
    open_length: float | None = None
    closed_length: float | None = None
    spring_rate: float | None = None  # N/mm
    spring_outside: float | None = None
    spring_free_length: float | None = None
    spring_block_length: float | None = None  # with every coil on the next
    spring_seats: float | None = None  # of the damper's length, what the spring does not take up
    bump_stop: BumpStop | None = None
    body_outside: float | None = None
    body_length: float | None = None

    def check(self) -> None:
        """Refuse a damper that is longer closed than open, and such a spring."""
        positive(
            "a damper",
            open_length=self.open_length,
            closed_length=self.closed_length,
            spring_rate=self.spring_rate,
            spring_outside=self.spring_outside,
            spring_free_length=self.spring_free_length,
            spring_block_length=self.spring_block_length,
            body_outside=self.body_outside,
            body_length=self.body_length,
        )
        not_negative("a damper", spring_seats=self.spring_seats)
        spring = (self.spring_block_length, self.spring_free_length)
        if spring[0] is not None and spring[1] is not None and spring[0] >= spring[1]:
            msg = f"a spring cannot be {spring[1]:g} free and {spring[0]:g} with its coils closed"
            raise ValueError(msg)
        both = (self.closed_length, self.open_length)
        if both[0] is not None and both[1] is not None and both[0] >= both[1]:
            msg = f"a damper cannot be {both[0]:g} closed and {both[1]:g} open"
            raise ValueError(msg)


class Adjuster(Plain, frozen=True, kw_only=True):
    """A screw, shim or slot at an inner point: what it moves, how far, and what it is for.

    A threaded end and a turnbuckle lengthen the links at the point. Shims, a slot and an eccentric
    move the point, outward along its links unless a direction is given.
    """

    point: PlaceRef
    least: float
    most: float
    sets: str = ""
    how: Literal["shims", "threaded end", "turnbuckle", "eccentric", "slot"] = "threaded end"
    step: float | None = None  # of one turn, or of the thinnest shim
    direction: Vec3 | None = None
    thread_engaged: float | None = None  # as drawn
    thread_needed: float | None = None

    def check(self) -> None:
        """Refuse a range that runs backwards, and steps of nothing."""
        direction("an adjuster", direction=self.direction)
        positive(
            "an adjuster",
            step=self.step,
            thread_engaged=self.thread_engaged,
            thread_needed=self.thread_needed,
        )
        if self.least > self.most:
            msg = f"an adjuster cannot run from {self.least:g} to {self.most:g}"
            raise ValueError(msg)


class AntiRollBar(Plain, frozen=True, kw_only=True):
    """A bar across the car that twists when one wheel rises above the other.

    Its places are those of the left end; the right end is their mirror image.
    """

    bearing: PlaceRef  # a place on the axis of the bar, which runs across the car
    arm_end: PlaceRef  # where the drop link meets the bar's arm
    link_lower: PlaceRef  # where it meets what moves
    link_on: Carries = "lower arm"
    rate_nm_per_deg: float | None = None  # of the whole bar, one end against the other
    outside: float | None = None  # of the bar, where its rate is to be worked out
    bore: float = 0.0
    length: float | None = None  # of the part that twists

    def check(self) -> None:
        """Refuse sizes of nothing, and a bore wider than the bar."""
        positive(
            "an anti-roll bar",
            rate_nm_per_deg=self.rate_nm_per_deg,
            outside=self.outside,
            length=self.length,
        )
        not_negative("an anti-roll bar", bore=self.bore)
        if self.outside is not None and self.bore >= self.outside:
            msg = f"an anti-roll bar {self.outside:g} outside cannot have a bore of {self.bore:g}"
            raise ValueError(msg)
