"""Donors for the tests: corners of the invented cars as a builder would measure them."""

from dataclasses import replace
from math import asin, atan2, degrees
from typing import Final

from core.assess.places import place
from core.document.base import Fact, Ref, Vec3
from core.document.donors import DonorCorner, DonorLink, DonorOn, DonorPoint
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner, Tyre, Wheel
from core.document.steel import Point
from core.edits.donor import CarryOver, HubPlace
from core.edits.things import make
from core.engine.assess import compute
from core.geometry.types import unit
from tests.core.edits.cars import empty_car
from tests.core.suspension.corners import vec

ON: Final[dict[str, DonorOn]] = {
    "chassis": "chassis",
    "upright": "upright",
    "arm": "lower arm",
    "rack": "rack",
}
LOADED = 300.0
"""Loaded radius of the tyre of the bare car, mm."""


def measured(car: Document, end: str, **fields: object) -> DonorCorner:
    """The left corner at one end of a car, measured there from its hub face or its wheel centre."""
    corner = corner_at(car, end)
    spin = unit(vec(*corner.upright.spin_axis))
    offset = offset_of(car, corner)
    centre = vec(*corner.upright.hub_face) - offset * spin
    origin = vec(*corner.upright.hub_face) if fields.get("datum") != "wheel_centre" else centre
    points = tuple(
        DonorPoint(role=role, at=Vec3(*map(float, vec(*stands(car, ref)) - origin)), on=on)
        for role, ref, on in roles_of(car, corner)
    )
    roles = {ref: role for role, ref, _ in roles_of(car, corner)}
    values: dict[str, object] = {
        "id": "donor_corner1",
        "name": "parts car",
        "end": end,
        "side": "left",
        "linkage": corner.linkage,
        "stood": "on_wheels",
        "points": points,
        "links": links_of(corner, roles),
        "camber_deg": degrees(asin(-spin[2])),
        "toe_in_deg": degrees(atan2(spin[0], spin[1])),
        "hub_height": float(origin[2]),
        "wheel_offset": offset,
        "facts": (Fact(of="points", source="measured", uncertainty=1.0, how="plumb line"),),
    }
    return DonorCorner(**{**values, **fields})  # type: ignore[arg-type] # pyright: ignore[reportArgumentType]


def corner_at(car: Document, end: str) -> Corner:
    (axle,) = (axle for axle in car.axles if axle.end == end)
    (corner,) = (corner for corner in car.corners if corner.axle.id == axle.id)
    return corner


def offset_of(car: Document, corner: Corner) -> float:
    assert corner.wheel is not None
    wheel = Lookup(car).by_id[corner.wheel.id]
    assert isinstance(wheel, Wheel)
    return wheel.offset


def stands(car: Document, ref: Ref) -> Vec3:
    return compute(car, {}, place, ref)


def roles_of(car: Document, corner: Corner) -> list[tuple[str, Ref, DonorOn]]:
    """Roles with their points, the damper's eyes among them where they have none."""
    found = [(role.role, role.point) for role in corner.points]
    assert corner.damper is not None
    known = {ref for _, ref in found}
    eyes = (("damper_lower", corner.damper.lower), ("damper_upper", corner.damper.upper))
    found += [(role, ref) for role, ref in eyes if ref not in known]
    return [(role, ref, on_of(car, ref)) for role, ref in found]


def on_of(car: Document, ref: Ref) -> DonorOn:
    thing = Lookup(car).by_id[ref.id]
    return ON[thing.carrier] if isinstance(thing, Point) else "rack"


def links_of(corner: Corner, roles: dict[Ref, str]) -> tuple[DonorLink, ...]:
    return tuple(
        DonorLink(
            name=link.name, inner=roles[link.inner], outer=roles[link.outer], outside=link.outside
        )
        for link in corner.links
    )


class Builder:
    """A car with a tyre and a wheel, and a donor's corner ready to be carried over."""

    def __init__(self, donor: DonorCorner, document: Document | None = None) -> None:
        document = empty_car() if document is None else document
        fields = {f: getattr(donor, f) for f in donor.__struct_fields__ if f not in ("id", "name")}
        document, made = make(document, DonorCorner, donor.name, **fields)
        document, tyre = make(document, Tyre, "new tyre", size="195/65R15", loaded_radius=LOADED)
        size = {"rim_width_in": 6.0, "rim_in": 15.0, "offset": 41.0}
        self.document, wheel = make(document, Wheel, "new wheel", **size)
        self.donor, self.tyre, self.wheel = Ref(made.id), Ref(tyre.id), Ref(wheel.id)

    def asks(self, **changes: object) -> CarryOver:
        """A pair at the front, 700 outboard at x = 0, but for the changes."""
        plain = CarryOver(self.donor, "front", "new corner", HubPlace(0.0, 700.0), self.tyre)
        return replace(plain, **changes)  # type: ignore[arg-type] # pyright: ignore[reportArgumentType]


def by_role(car: Document, corner: Corner) -> dict[str, Vec3]:
    """Where the points of a corner stand, by their roles."""
    return {role.role: stands(car, role.point) for role in corner.points}
