"""Carrying a donor's corner over into this car: its points, links and upright at another hub."""

from collections.abc import Iterator
from math import radians
from typing import Final, TypeVar

import msgspec

from core.document.base import Because, Carrier, Fact, Ref, Side, Vec3
from core.document.donors import DonorCorner, DonorLink, DonorPoint
from core.document.facts import fact_at
from core.document.layers import add_thing
from core.document.links import Damper, Link, Role, Upright
from core.document.project import Document
from core.document.running_gear import Axle, Corner
from core.document.sides import mirror_thing
from core.document.steel import Point
from core.edits.donor_asked import CarryOver, HubPlace, Settled, Station, settled
from core.edits.holds import kept_to_rules
from core.edits.names import free_name
from core.edits.refusals import EditRefusedError

__all__ = ["CarryOver", "HubPlace", "Station", "carry_over"]

E = TypeVar("E", Point, Corner)

EYES: Final = ("damper_lower", "damper_upper")
"""Roles of the two eyes of a damper."""


def carry_over(document: Document, asked: CarryOver) -> tuple[Document, Corner]:
    """The document with a donor's corner in it, and the corner.

    Every point keeps its place from the hub, so the arms keep the donor's angles; the hub is as
    high as this car's tyre makes it: z here = z there + (hub here - hub there). A physical part is
    never mirrored: turned end for end it goes to the other side of the car, and where the side that
    was measured is not the one wanted, the donor's other corner is meant. Each point is as sure as
    it was measured from the hub, and rests on donor and tyre. A rod that was on the donor's rack is
    on this car's, where the end has one, and else ends on the chassis.

    Raises:
        EditRefusedError: something that it needs is not known, or a corner stands there.
    """
    stands = settled(document, asked)
    try:
        made = _Made(document, asked, stands)
        points = tuple(made.points())
        corner = made.corner(points)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    after = msgspec.structs.replace(document, next_number=made.next_number)
    for thing in (*made.new_axles, *points, corner):
        after = add_thing(after, thing)
    return kept_to_rules(document, after), corner


class _Made:
    """The things that a corner carried over is made of; points and corner name one another.

    Attributes:
        next_number: after all of them.
        new_axles: the axle, if the car has none at that end.
    """

    def __init__(self, document: Document, asked: CarryOver, stands: Settled) -> None:
        self.asked, self.stands, self.donor = asked, stands, stands.donor
        number = document.next_number
        self._corner_id, self._first_point = f"corner{number}", number + 2
        own = [axle for axle in document.axles if axle.end == asked.end]
        self._axle = own[0] if own else _axle(document, asked.end, f"axle{number + 1}")
        self.new_axles = () if own else (self._axle,)
        rack = self._axle.rack
        self._on_rack = None if rack is None else Ref(rack.id, "left")
        self._to_make = [p for p in self.donor.points if not (rack and p.on == "rack")]
        self.next_number = self._first_point + len(self._to_make)
        self._taken = {point.name for point in document.points}
        self._side: Side = "left" if asked.side == "both" else "one"
        self._corner_ref = Ref(self._corner_id, self._side)

    def points(self) -> Iterator[Point]:
        """A point for each of the donor's; where this car has a rack, its ball is one already."""
        for number, measured in enumerate(self._to_make, self._first_point):
            name = free_name(self._taken, f"{self.asked.name} {measured.role.replace('_', ' ')}")
            self._taken.add(name)
            yield self._on_its_side(self._point(measured, f"point{number}", name))

    def _point(self, measured: DonorPoint, thing_id: str, name: str) -> Point:
        carrier, carrier_of = self._carrier(measured)
        return Point(
            id=thing_id,
            name=name,
            pair=self._side == "left",
            at=self.stands.at[measured.role],
            carrier=carrier,
            carrier_of=carrier_of,
            measured_to=measured.measured_to,
            facts=tuple(self._facts_of(measured)),
        )

    def _carrier(self, measured: DonorPoint) -> tuple[Carrier, Ref | None]:
        """What a point moves with here; where no rack steers the end, the chassis holds its rod."""
        if measured.on in ("chassis", "rack"):
            return "chassis", None
        return "upright" if measured.on == "upright" else "arm", self._corner_ref

    def _facts_of(self, measured: DonorPoint) -> Iterator[Fact]:
        """Where the place comes from: one fact if all three numbers have the same."""
        path = f"points.{measured.role}.at"
        found = [fact_at(self.donor, "one", f"{path}.{axis}") or Fact() for axis in Vec3._fields]
        if found[0] == found[1] == found[2]:
            yield self._fact("at", found[0], path)
            return
        for axis, fact in zip(Vec3._fields, found, strict=True):
            yield self._fact(f"at.{axis}", fact, f"{path}.{axis}")

    def _fact(self, of: str, known: Fact, path: str) -> Fact:
        return Fact(
            of=of,
            source=known.source,
            uncertainty=known.uncertainty,
            how=known.how or f"as on {self.donor.name}",
            when=known.when,
            readings=known.readings,
            because=(Because(ref=self.asked.donor, of=path), self._because_tyre()),
        )

    def _because_tyre(self) -> Because:
        return Because(ref=self.stands.tyre, of="loaded_radius")

    def corner(self, points: tuple[Point, ...]) -> Corner:
        """The corner on these points, which are in the order of the donor's."""
        refs = self._refs(points)
        turned = ", turned end for end" if self.asked.turned else ""
        whole = Corner(
            id=self._corner_id,
            name=self.asked.name,
            pair=self._side == "left",
            axle=Ref(self._axle.id),
            linkage=self.donor.linkage,
            description=f"carried over from {self.donor.name}{turned}",
            links=_links(self.donor.links, refs),
            arms=_links(self.donor.arms, refs),
            points=tuple(Role(role=role, point=ref) for role, ref in refs.items()),
            upright=Upright(hub_face=self.stands.face, spin_axis=self.stands.spin),
            hub=self.asked.hub,
            wheel=self.asked.wheel,
            tyre=self.stands.tyre,
            damper=_damper(self.donor, refs),
            facts=tuple(self._corner_facts()),
        )
        return self._on_its_side(whole)

    def _refs(self, points: tuple[Point, ...]) -> dict[str, Ref]:
        """Each role with its point, in the order of the donor's; on a rack, with its left ball."""
        made = zip(self._to_make, points, strict=True)
        found = {measured.role: Ref(point.id, self._side) for measured, point in made}
        roles = (measured.role for measured in self.donor.points)
        ball = self._on_rack
        return {role: found[role] if role in found or ball is None else ball for role in roles}

    def _corner_facts(self) -> Iterator[Fact]:
        how = "carried over; as high as the loaded radius makes it"
        because = (Because(ref=self.asked.donor), self._because_tyre())
        yield Fact(of="upright.hub_face", source="chosen", how=how, because=because)
        yield self._spin_fact("x", "toe_in_deg", self.donor.toe_in_deg)
        yield self._spin_fact("z", "camber_deg", self.donor.camber_deg)

    def _spin_fact(self, axis: str, field: str, angle: float | None) -> Fact:
        """Of a part of the spin axis: as sure as its angle, which is small, so in radians."""
        of, because = f"upright.spin_axis.{axis}", (Because(ref=self.asked.donor, of=field),)
        if angle is None:
            how = f"not measured on {self.donor.name}, taken as 0"
            return Fact(of=of, how=how, because=because)
        known = fact_at(self.donor, "one", field) or Fact()
        doubt = None if known.uncertainty is None else radians(known.uncertainty)
        how = known.how or f"as on {self.donor.name}"
        return Fact(of=of, source=known.source, uncertainty=doubt, how=how, because=because)

    def _on_its_side(self, thing: E) -> E:
        return mirror_thing(thing) if self.asked.side == "right" else thing


def _axle(document: Document, end: str, thing_id: str) -> Axle:
    name = free_name((axle.name for axle in document.axles), f"{end} axle")
    return Axle(id=thing_id, name=name, end="front" if end == "front" else "rear")


def _links(links: tuple[DonorLink, ...], refs: dict[str, Ref]) -> tuple[Link, ...]:
    return tuple(
        Link(name=m.name, inner=refs[m.inner], outer=refs[m.outer], outside=m.outside)
        for m in links
    )


def _damper(donor: DonorCorner, refs: dict[str, Ref]) -> Damper | None:
    """The damper by its two eyes; nothing unless both were measured."""
    on = {point.role: point.on for point in donor.points}
    lower, upper = EYES
    match on.get(lower):
        case "upright" | "lower arm" | "upper arm" as lower_on if upper in on:
            return Damper(lower=refs[lower], upper=refs[upper], lower_on=lower_on)
        case _:
            return None
