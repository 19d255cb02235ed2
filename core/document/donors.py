"""A corner of a donor car, as it was measured there: points from its hub, and how it stood."""

from typing import ClassVar, Literal

from core.document.base import Entity, Plain, Vec3, distinct, positive
from core.document.links import Linkage
from core.document.steel import MeasuredTo

DonorOn = Literal["chassis", "rack", "upright", "lower arm", "upper arm"]
"""What of a donor's corner carries a point; chassis and rack are the inner ones."""

INNER: tuple[DonorOn, ...] = ("chassis", "rack")

STEEPEST_DEG = 45.0
"""No wheel of a car that stands on its wheels leans or toes more; what does was mistyped."""


class DonorPoint(Plain, frozen=True, kw_only=True):
    """A point of a donor's corner: what it does there, and where, from the hub."""

    role: str
    at: Vec3  # from the donor's datum: x ahead, y outboard, z up
    on: DonorOn
    measured_to: MeasuredTo = "bolt centre"

    def check(self) -> None:
        """Refuse a role that no path could name."""
        if not self.role.strip() or "." in self.role or self.role.isdecimal():
            msg = f"the role «{self.role}» of a point must be a word without full stops"
            raise ValueError(msg)


class DonorLink(Plain, frozen=True, kw_only=True):
    """A rod or one leg of an arm of a donor, by the roles of its two ends."""

    name: str
    inner: str
    outer: str
    outside: float | None = None

    def check(self) -> None:
        """Refuse a link from a point to itself."""
        positive(f"link {self.name}", outside=self.outside)
        if self.inner == self.outer:
            msg = f"link {self.name} ends where it begins"
            raise ValueError(msg)


class DonorCorner(Entity, tag_field="kind", tag="donor_corner", frozen=True, kw_only=True):
    """One corner of a donor car, measured as it stood; its other side is the mirror image.

    Places are from the datum, the hub face centre or the wheel centre, along the axes of the donor:
    x ahead, y outboard, z up.
    """

    may_be_pair: ClassVar[bool] = False

    end: Literal["front", "rear"]
    side: Literal["left", "right"]  # that was measured
    linkage: Linkage = "other"
    description: str = ""
    stood: Literal["on_wheels", "arms_set", "hanging"] | None = None
    datum: Literal["hub_face", "wheel_centre"] = "hub_face"
    points: tuple[DonorPoint, ...] = ()
    links: tuple[DonorLink, ...] = ()
    arms: tuple[DonorLink, ...] = ()  # in one piece with the upright
    camber_deg: float | None = None  # top outward above zero
    toe_in_deg: float | None = None  # of this wheel alone
    tyre_size: str = ""
    loaded_radius: float | None = None
    hub_height: float | None = None  # of the datum above the ground, as it stood
    ride_height: float | None = None  # of a mark on the body above the ground, as it stood
    ride_height_at: str = ""
    track: float | None = None  # middle of tyre to middle of tyre, on the ground
    wheel_offset: float | None = None  # hub face to rim centre plane, as on any wheel

    def check(self) -> None:
        """Refuse sizes of nothing, a role twice, and links to roles that are not there."""
        owner = f"donor corner {self.name}"
        positive(
            owner,
            loaded_radius=self.loaded_radius,
            hub_height=self.hub_height,
            ride_height=self.ride_height,
            track=self.track,
        )
        distinct(owner, "points", tuple(point.role for point in self.points))
        distinct(owner, "links", tuple(link.name for link in (*self.links, *self.arms)))
        self._check_angles()
        self._check_ends()

    def _check_angles(self) -> None:
        for words, angle in (("camber", self.camber_deg), ("toe-in", self.toe_in_deg)):
            if angle is not None and abs(angle) > STEEPEST_DEG:
                msg = f"donor corner {self.name}: no wheel stands at {angle:g} deg of {words}"
                raise ValueError(msg)

    def _check_ends(self) -> None:
        on = {point.role: point.on for point in self.points}
        for link in (*self.links, *self.arms):
            for end in (link.inner, link.outer):
                if end not in on:
                    msg = f"link {link.name} ends at «{end}», but no point has that role"
                    raise ValueError(msg)
            if on[link.outer] in INNER:
                msg = f"link {link.name} ends at «{link.outer}», which is on the {on[link.outer]}"
                raise ValueError(msg)
        if on.get("damper_lower") in INNER:
            raise ValueError("the lower eye of a damper is on the upright or on an arm")


def usual_links(points: tuple[DonorPoint, ...]) -> tuple[DonorLink, ...]:
    """Links told from the names of roles alone, in the order of the points.

    An inner point goes with the outer one of the same words, or of the words before: tie_inner with
    tie_outer, lower_inner_front and lower_inner_rear with lower_outer. What has no partner makes no
    link.
    """
    outer = {point.role for point in points if point.on not in INNER}
    found = (_usual_link(point.role, outer) for point in points if point.on in INNER)
    return tuple(link for link in found if link is not None)


def _usual_link(role: str, outer: set[str]) -> DonorLink | None:
    before, inner, after = role.partition("_inner")
    if not inner:
        return None
    partner = next(
        (end for end in (f"{before}_outer{after}", f"{before}_outer") if end in outer), None
    )
    if partner is None:
        return None
    return DonorLink(name=before + after, inner=role, outer=partner)
