"""The frame as joints and tubes for the load-path rules; brackets and what they stand on."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.assess.limits import limit
from core.assess.places import array, drawn_tubes, place, tube_line, tube_radius, tube_shape
from core.document.base import Ref, Vec3
from core.document.power import Mount
from core.document.running_gear import Axle, Corner, Rack
from core.document.steel import Bracket, Material, Point, Section, Tube
from core.engine.cells import NotComputedError, Reader, When, cell
from core.frame.brackets import Footing, bracket_reach, footings
from core.frame.mass import TubeMass, total, tube_mass
from core.frame.network import Member, Network, Visit, VisitKind
from core.frame.sections import round_tube
from core.frame.touching import (
    CoincidentNodes,
    LeastGap,
    Touch,
    TouchAgain,
    coincident_nodes,
    least_tube_gap,
    touch_again,
    touching_not_shared,
)


@dataclass(frozen=True)
class NamedNetwork:
    """The frame with the joint and the tube that each index stands for."""

    network: Network
    joints: tuple[Ref, ...]
    tubes: tuple[Ref, ...]
    numbers: dict[Ref, int]

    def index(self, joint: Ref) -> int | None:
        """The index of a joint, if any tube visits it."""
        return self.numbers.get(joint)


@cell(When.LIVE)
def points_on_tubes(read: Reader) -> tuple[tuple[Ref, Ref], ...]:
    """Each point that follows a tube, with that tube."""
    found: list[tuple[Ref, Ref]] = []
    for ref in read.all(Point):
        along = read.thing(Point, ref).along
        if along is not None:
            found.append((ref, along.tube))
    return tuple(found)


@cell(When.LIVE)
def visits(read: Reader, ref: Ref) -> tuple[tuple[Ref, VisitKind], ...]:
    """The joints that a tube visits, and what it does there: end, bend or through."""
    tube = read.thing(Tube, ref)
    followers = [point for point, on in read(points_on_tubes) if on == ref]
    through = [*followers, *tube.through]
    return (
        (tube.start, "end"),
        *((bend.point, "bend") for bend in tube.bends),
        *((point, "through") for point in through),
        (tube.end, "end"),
    )


def tubes_of_frame(read: Reader) -> tuple[Ref, ...]:
    """Every tube that has a shape.

    Raises:
        NotComputedError: there is none.
    """
    tubes = read(drawn_tubes)
    if not tubes:
        msg = "no tube is drawn"
        raise NotComputedError(msg)
    return tubes


@cell(When.LIVE)
def tubes_passing(read: Reader) -> tuple[Ref, ...]:
    """The tubes that are said to pass joints which do not follow them."""
    return tuple(ref for ref in read.all(Tube) if read.thing(Tube, ref).through)


@cell(When.LIVE)
def joint_numbers(read: Reader) -> dict[Ref, int]:
    """Every joint that a tube with a shape visits, and its number, in the order of the tubes."""
    visited = (joint for ref in read(drawn_tubes) for joint, _ in read(visits, ref))
    return {joint: number for number, joint in enumerate(dict.fromkeys(visited))}


@cell(When.LIVE)
def member(read: Reader, ref: Ref) -> Member:
    """A tube as a member of the frame, its joints by their numbers."""
    numbers = read(joint_numbers)
    stops = tuple(Visit(numbers[joint], kind) for joint, kind in read(visits, ref))
    return Member(stops, read(tube_line, ref), read(tube_radius, ref))


@cell(When.LIVE)
def network(read: Reader) -> NamedNetwork:
    """Every tube that has a shape, as a member of one network with the joints they visit."""
    tubes = tubes_of_frame(read)
    numbers = read(joint_numbers)
    places = np.array([read(place, joint) for joint in numbers], dtype=np.float64)
    members = tuple(read(member, ref) for ref in tubes)
    return NamedNetwork(Network(places, members), tuple(numbers), tubes, numbers)


@dataclass(frozen=True)
class Standing:
    """A bracket: what it carries, where, what it stands on, and how far it reaches.

    Attributes:
        carries: the point, mount or rack carried.
        carried_at: mm, car frame.
        on: what it stands on.
        reach: mm, from what is carried to where it stands; none where that is no point.
    """

    carries: Ref
    carried_at: Vec3
    on: Ref
    reach: float | None


@cell(When.LIVE)
def standing(read: Reader, ref: Ref) -> Standing:
    """A bracket with its reach."""
    bracket = read.thing(Bracket, ref)
    carried_at = _carried_at(read, bracket.carries)
    if not read.has(Point, bracket.on):
        return Standing(bracket.carries, carried_at, bracket.on, None)
    stands_at = read(place, bracket.on)
    reach = float(bracket_reach(array(carried_at), array(stands_at)))
    return Standing(bracket.carries, carried_at, bracket.on, reach)


@cell(When.LIVE)
def footing(read: Reader, ref: Ref) -> Footing | None:
    """What a bracket stands on: a tube joint, one tube or nothing; none on a bracket or mount."""
    on = read.thing(Bracket, ref).on
    if read.has(Point, on):
        return read(footing_of, on)
    return "one tube" if read.has(Tube, on) else None


def _carried_at(read: Reader, ref: Ref) -> Vec3:
    if read.has(Bracket, ref):
        return _carried_at(read, read.thing(Bracket, ref).carries)
    return read(place, ref)


@cell(When.LIVE)
def all_footings(read: Reader) -> dict[Ref, Footing]:
    """What a bracket on each visited joint would stand on."""
    frame = read(network)
    return dict(zip(frame.joints, footings(frame.network), strict=True))


@cell(When.LIVE)
def footing_of(read: Reader, joint: Ref) -> Footing:
    """What a bracket on a joint stands on; nothing where no tube comes."""
    return read(all_footings).get(joint, "nothing")


@cell(When.LIVE)
def carried_by(read: Reader) -> tuple[tuple[Ref, Ref], ...]:
    """Each thing that a bracket carries, with that bracket."""
    return tuple((read.thing(Bracket, ref).carries, ref) for ref in read.all(Bracket))


@cell(When.LIVE)
def stood_on(read: Reader) -> tuple[Ref, ...]:
    """What each bracket stands on."""
    return tuple(read.thing(Bracket, ref).on for ref in read.all(Bracket))


@cell(When.LIVE)
def to_be_carried(read: Reader) -> tuple[Ref, ...]:
    """Everything the frame has to hold: pick-ups on the chassis, mounts, rack feet or rack."""
    wanted: dict[Ref, None] = {}
    for corner in read.all(Corner):
        wanted |= _on_chassis(read, _corner_points(read, corner))
    for axle in read.all(Axle):
        wanted |= _on_chassis(read, _axle_points(read, axle))
    for mount in read.all(Mount):
        wanted[mount] = None
    for rack in read.all(Rack):
        for held in read.thing(Rack, rack).feet or (rack,):
            wanted[held] = None
            if held.side != "one":
                wanted[held.mirrored()] = None
    return tuple(wanted)


def _on_chassis(read: Reader, points: Iterable[Ref]) -> dict[Ref, None]:
    return {
        ref: None
        for ref in points
        if read.has(Point, ref) and read.thing(Point, ref).carrier == "chassis"
    }


def _axle_points(read: Reader, axle: Ref) -> list[Ref]:
    """Ends of the links of a rigid axle, and the points of what else holds it."""
    thing = read.thing(Axle, axle)
    held = (ref for each in thing.holders for ref in each.points)
    return [*(link.inner for link in thing.links), *held]


def _corner_points(read: Reader, corner: Ref) -> list[Ref]:
    thing = read.thing(Corner, corner)
    return [
        *(link.inner for link in thing.links),
        *(role.point for role in thing.points),
        *(ref for each in thing.holders for ref in each.points),
        *(() if thing.damper is None else (thing.damper.lower, thing.damper.upper)),
    ]


@cell(When.RELEASE)
def touches(read: Reader) -> tuple[Touch, ...]:
    """Tubes that touch and share no joint."""
    return touching_not_shared(read(network).network, read(limit, "touch").value)


@cell(When.RELEASE)
def touches_again(read: Reader) -> tuple[TouchAgain, ...]:
    """Tubes that share a joint and touch at another place too."""
    return touch_again(read(network).network, read(limit, "touch").value)


@cell(When.RELEASE)
def joints_in_one_place(read: Reader) -> tuple[CoincidentNodes, ...]:
    """Joints that are apart in name only."""
    return coincident_nodes(read(network).network)


@cell(When.RELEASE)
def closest_tubes(read: Reader) -> LeastGap | None:
    """The closest two tubes that share no joint."""
    return least_tube_gap(read(network).network)


@cell(When.LIVE)
def weight_of_tube(read: Reader, ref: Ref) -> TubeMass:
    """Weight and centre of gravity of one tube, from section and centre line."""
    tube = read.thing(Tube, ref)
    section = read.thing(Section, tube.section)
    material = read.thing(Material, tube.material or section.material)
    figures = round_tube(section.outside, section.wall, material.density_kg_m3)
    return tube_mass(read(tube_shape, ref), figures.mass_kg_per_m)


@dataclass(frozen=True)
class FrameFigures:
    """The frame in figures: pieces, joints, bends, and all tubes together."""

    tubes: int
    joints: int
    bends: int
    weight: TubeMass


@cell(When.RELEASE)
def frame_figures(read: Reader) -> FrameFigures:
    """How many tubes, joints and bends there are, and their weight."""
    frame = read(network)
    bends = sum(len(read(tube_shape, ref).radii) for ref in frame.tubes)
    weight = total(read(weight_of_tube, ref) for ref in frame.tubes)
    assert weight is not None
    return FrameFigures(len(frame.tubes), len(frame.joints), bends, weight)
