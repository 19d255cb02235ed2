"""What is asked for when a donor's corner is carried over, and where its hub comes to stand."""

from dataclasses import dataclass
from math import sqrt
from typing import Literal

from core.document.base import Ref, Vec3
from core.document.donors import DonorCorner
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.running_gear import Tyre, Wheel
from core.document.sides import on_side
from core.edits.donor_places import places, plus, spin_axis, times, turned_round
from core.edits.finding_things import piece_of
from core.edits.refusals import EditRefusedError


@dataclass(frozen=True)
class HubPlace:
    """Where the hub face centre goes: mm ahead in the car, and outboard of its centre plane."""

    x: float
    outboard: float


@dataclass(frozen=True)
class Station:
    """Where the wheel goes: its centre so far ahead, the middle of its tyre so far outboard, mm.

    The half track is on the ground, the tyre taken for a thin disc.
    """

    x: float
    half_track: float


@dataclass(frozen=True)
class CarryOver:
    """What is asked for when a donor's corner is carried over.

    Attributes:
        donor: the corner as measured on the donor.
        end: of this car.
        name: what the corner is called here; its points are named after it.
        at: where it goes, on either side.
        tyre: that this car will stand on there; its loaded radius is the new height of the hub.
        wheel: of this car; with it the wheel centre is at that height, else the hub face is.
        hub: of this car.
        side: both, as a pair, or one alone.
        turned: end for end, half a turn about the vertical.
        rack: where the steering rack is to lie, from the steering axis, where that is settled.
    """

    donor: Ref
    end: Literal["front", "rear"]
    name: str
    at: HubPlace | Station
    tyre: Ref | None
    wheel: Ref | None = None
    hub: Ref | None = None
    side: Literal["both", "left", "right"] = "both"
    turned: bool = False
    rack: Literal["ahead", "behind"] | None = None


@dataclass(frozen=True)
class Settled:
    """Where a donor's corner comes to stand.

    Places are x ahead in the car, y outboard of its centre plane, z up, mm.

    Attributes:
        donor: the corner as measured.
        tyre: what the height rests on.
        face: the hub face centre.
        spin: axis of the wheel.
        at: every point by its role.
    """

    donor: DonorCorner
    tyre: Ref
    face: Vec3
    spin: Vec3
    at: dict[str, Vec3]


def settled(document: Document, asked: CarryOver) -> Settled:
    """Where a donor's corner comes to stand in this car.

    Raises:
        EditRefusedError: something that it needs is not known, or a corner stands there.
    """
    donor = piece_of(document, DonorCorner, asked.donor)
    from_face = _from_hub_face(donor)
    tyre, radius = _tyre(document, asked.tyre)
    _refuse_taken(document, asked)
    turn = turned_round if asked.turned else _as_it_is
    spin = turn(spin_axis(donor))
    face = _hub_face(asked.at, radius, _offset(document, asked.wheel), spin)
    at = {role: plus(face, turn(place)) for role, place in from_face.items()}
    return Settled(donor, tyre, face, spin, at)


def _as_it_is(place: Vec3) -> Vec3:
    return place


def _hub_face(at: HubPlace | Station, radius: float, offset: float | None, spin: Vec3) -> Vec3:
    """The hub face centre, with the wheel centre at the loaded radius above the ground."""
    if isinstance(at, HubPlace):
        _refuse_inboard(at.outboard)
        return Vec3(at.x, at.outboard, radius + (offset or 0.0) * spin.z)
    _refuse_inboard(at.half_track)
    if offset is None:
        msg = (
            "a half track is to the middle of the tyre, and no wheel is named whose offset tells "
            "how far the hub face is from there; name it, or give the place of the hub face"
        )
        raise EditRefusedError(msg)
    contact = radius * spin.z * spin.y / sqrt(1.0 - spin.z**2)  # outboard of the wheel centre
    return plus(Vec3(at.x, at.half_track - contact, radius), times(offset, spin))


def _tyre(document: Document, ref: Ref | None) -> tuple[Ref, float]:
    """The tyre that the corner will stand on, and its loaded radius."""
    if ref is None:
        msg = (
            "the hub will be as high as the loaded radius of the tyre that this car stands on "
            "there, and none is named; make that tyre first"
        )
        raise EditRefusedError(msg)
    tyre = piece_of(document, Tyre, ref)
    if tyre.loaded_radius is None:
        msg = (
            f"the loaded radius of {tyre.name} is not known; measure it from the wheel centre to "
            "the ground at about its load in this car, or take it from its maker's table"
        )
        raise EditRefusedError(msg)
    return ref, tyre.loaded_radius


def _offset(document: Document, wheel: Ref | None) -> float | None:
    return None if wheel is None else piece_of(document, Wheel, wheel).offset


def _from_hub_face(donor: DonorCorner) -> dict[str, Vec3]:
    if donor.linkage == "rigid_axle":
        msg = f"{donor.name} is one end of a rigid axle, which is not carried over by its corners"
        raise EditRefusedError(msg)
    if not donor.points:
        msg = f"{donor.name} has no points yet; measure them from its hub first"
        raise EditRefusedError(msg)
    found = places(donor)
    if found is None:
        msg = (
            f"{donor.name} is measured from the wheel centre, and the offset of its wheel, which "
            "leads from there to the hub face, is not known; measure it"
        )
        raise EditRefusedError(msg)
    return found


def _refuse_inboard(outboard: float) -> None:
    if not outboard > 0.0:
        msg = f"it is counted outboard of the centre plane on either side, so not {outboard:g}"
        raise EditRefusedError(msg)


def _refuse_taken(document: Document, asked: CarryOver) -> None:
    """Refuse a corner where one stands."""
    ends = {axle.id for axle in document.axles if axle.end == asked.end}
    wanted = ("left", "right") if asked.side == "both" else (asked.side,)
    lookup = Lookup(document)
    for corner in document.corners:
        for ref in sides(corner) if corner.axle.id in ends else ():
            outboard = on_side(corner, ref.side).upright.hub_face.y
            if ("right" if outboard < 0.0 else "left") in wanted:
                msg = f"the {asked.end} end has {lookup.label(ref)} there already; remove it first"
                raise EditRefusedError(msg)
