"""Rules on load paths by geometry: bends and joints that nothing holds, tubes loaded mid-span."""

from collections.abc import Iterator

from core.assess.frame import (
    NamedNetwork,
    joints_in_one_place,
    network,
    stood_on,
    touches,
    touches_again,
    tubes_of_frame,
    tubes_passing,
    visits,
)
from core.assess.limits import limit
from core.assess.places import CannotBeBent, shapeless_tubes, tube_bent, tube_shape
from core.document.base import Ref, Vec3
from core.document.steel import Die, Section, Tube
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Remedy
from core.frame.joints import MidTubeTee, apart, loose_nodes, mid_tube_tees, unmet_bends
from core.frame.touching import Touch
from core.quantities import number

CHOICE = "load paths: a tube is to be pushed and pulled, not bent in its middle"


def _no(
    read: Reader, rule: str, subjects: tuple[Ref, ...], words: str, place: Vec3 | None
) -> Finding:
    """A verdict of no at a joint; unknown if a tube without a shape should come to it."""
    for tube in read(shapeless_tubes):
        if subjects[0] in {joint for joint, _ in read(visits, tube)}:
            doubt = f"{words} {read.label(tube)} should come there, but has no shape yet."
            return Finding(rule, "unknown", subjects, doubt, place=place, limit_source=CHOICE)
    return Finding(rule, "no", subjects, words, place=place, limit_source=CHOICE)


@cell(When.LIVE)
def tube_shapes(read: Reader) -> Findings:
    """Tubes that cannot be bent as drawn."""
    tubes = read.all(Tube)
    if not tubes:
        msg = "no tube is drawn"
        raise NotComputedError(msg)
    return tuple(found for ref in tubes for found in read(shape_findings, ref))


@cell(When.LIVE)
def shape_findings(read: Reader, ref: Ref) -> Findings:
    """The same of one tube; a cell of its own, so that a drag asks again only what moved."""
    try:
        bent = read(tube_bent, ref)
    except NotComputedError as error:
        words = f"The shape of {read.label(ref)} is not known: {error}."
        return (Finding("tube_shape", "unknown", (ref,), words),)
    if isinstance(bent, CannotBeBent):
        return (Finding("tube_shape", "no", (ref,), bent.words),)
    return ()


@cell(When.LIVE)
def bends_met(read: Reader) -> Findings:
    """Bends at which no other tube ends."""
    frame = read(network)
    return tuple(
        _no(
            read,
            "unmet_bend",
            (frame.joints[bend.node], *(frame.tubes[t] for t in bend.bending)),
            f"Nothing meets the bend {read.label(frame.joints[bend.node])} of "
            f"{_names(read, frame, bend.bending)}: end another tube there, or straighten it.",
            Vec3(*bend.place),
        )
        for bend in unmet_bends(frame.network)
    )


def _names(read: Reader, frame: NamedNetwork, tubes: tuple[int, ...]) -> str:
    return " and ".join(read.label(frame.tubes[t]) for t in tubes)


@cell(When.LIVE)
def tees(read: Reader) -> Findings:
    """Tubes loaded sideways between their own joints."""
    frame = read(network)
    carried = {i for ref in read(stood_on) if (i := frame.index(ref)) is not None}
    return tuple(_tee(read, frame, tee) for tee in mid_tube_tees(frame.network, carried))


def _tee(read: Reader, frame: NamedNetwork, tee: MidTubeTee) -> Finding:
    joint = frame.joints[tee.node]
    passing = _names(read, frame, tee.passing)
    name = read.label(joint)
    words = {
        "one end": f"{_names(read, frame, tee.ending)} ends on {passing} at {name}, in mid-tube, "
        f"and bends it: bring a second tube there, or end it at a joint.",
        "crossing": f"{passing} cross at {name} in mid-tube and bend one another: "
        "bring tube ends there.",
        "carried": f"A bracket on {name} bends {passing} in its middle: move it to a tube joint.",
    }[tee.cause]
    subjects = (joint, *(frame.tubes[t] for t in (*tee.passing, *tee.ending)))
    return _no(read, "mid_tube_tee", subjects, words, Vec3(*tee.place))


@cell(When.LIVE)
def loose(read: Reader) -> Findings:
    """Tube ends and bends at which no second tube is."""
    frame = read(network)
    return tuple(
        _no(
            read,
            "loose_joint",
            (frame.joints[node.node], frame.tubes[node.member]),
            f"Only {read.label(frame.tubes[node.member])} comes to "
            f"{read.label(frame.joints[node.node])}: join another tube to it.",
            Vec3(*node.place),
        )
        for node in loose_nodes(frame.network)
    )


@cell(When.LIVE)
def joints_on_tubes(read: Reader) -> Findings:
    """Joints that a tube is said to pass but does not."""
    if not set(tubes_of_frame(read)) & set(read(tubes_passing)):
        return ()  # ends, bends and followers lie on their tube by how they are solved
    frame = read(network)
    held = read(limit, "joint_apart")
    found: list[Finding] = []
    for off in apart(frame.network, held.value):
        joint, tube = frame.joints[off.node], frame.tubes[off.member]
        words = (
            f"{read.label(tube)} is said to pass {read.label(joint)} but misses it by "
            f"{number(off.distance, 1)}: let the joint follow the tube, or take it off the tube."
        )
        mend = Remedy("tie_to_tube", (("ref", joint), ("tube", tube)), "let the joint follow it")
        found.append(
            Finding(
                "joint_apart",
                "no",
                (joint, tube),
                words,
                measured=off.distance,
                limit=held.value,
                higher_is_worse=True,
                place=Vec3(*off.place),
                limit_source=held.source,
                remedies=(mend,),
            )
        )
    return tuple(found)


@cell(When.RELEASE)
def tubes_touching(read: Reader) -> Findings:
    """Tubes that touch without a joint that says so."""
    frame = read(network)
    found = [_touching(read, frame, touch) for touch in read(touches)]
    for again in read(touches_again):
        a, b = (frame.tubes[m] for m in again.members)
        words = (
            f"{read.label(a)} and {read.label(b)} share a joint and touch again away from it "
            f"({_overlap(again.gap)}): move one of them."
        )
        found.append(_gap_finding("touch_again", (a, b), words, again.gap, again.places[0], ()))
    return tuple(found)


def _overlap(gap: float) -> str:
    return f"overlap {number(-gap, 1)}" if gap < 0 else f"{number(gap, 1)} apart"


def _touching(read: Reader, frame: NamedNetwork, touch: Touch) -> Finding:
    a, b = (frame.tubes[m] for m in touch.members)
    words = f"{read.label(a)} and {read.label(b)} touch ({_overlap(touch.gap)}) but share no joint"
    joints = [frame.joints[n] for n in touch.nodes]
    mend: tuple[Remedy, ...] = ()
    if touch.repair == "end_on_tube" and touch.onto is not None:
        onto = frame.tubes[touch.onto]
        name = read.label(joints[0])
        words += f": let {name} follow {read.label(onto)}, or move it clear."
        arguments = (("ref", joints[0]), ("tube", onto))
        mend = (Remedy("tie_to_tube", arguments, f"let {name} follow {read.label(onto)}"),)
    elif touch.repair == "ends_together" and len(joints) == 2:
        names = [read.label(joint) for joint in joints]
        words += f": make {names[0]} and {names[1]} one joint."
        mend = (_merge(joints[0], joints[1], names),)
    else:
        words += ": move one of them, or give them a joint there."
    return _gap_finding("touching", (a, b), words, touch.gap, touch.places[0], mend)


def _merge(keep: Ref, drop: Ref, names: list[str]) -> Remedy:
    arguments = (("keep", keep), ("drop", drop))
    return Remedy("merge_points", arguments, f"make {names[0]} and {names[1]} one joint")


def _gap_finding(
    rule: str,
    subjects: tuple[Ref, ...],
    words: str,
    gap: float,
    place: tuple[float, float, float],
    remedies: tuple[Remedy, ...],
) -> Finding:
    return Finding(
        rule,
        "no",
        subjects,
        words,
        measured=gap,
        place=Vec3(*place),
        limit_source=CHOICE,
        remedies=remedies,
    )


@cell(When.LIVE)
def tubes_doubled(read: Reader) -> Findings:
    """Tubes that run from joint to joint on the very line of another."""
    lines: dict[frozenset[Ref], list[Ref]] = {}
    for ref in tubes_of_frame(read):
        joints = frozenset(joint for joint, kind in read(visits, ref) if kind != "through")
        lines.setdefault(joints, []).append(ref)
    return tuple(
        _no(
            read,
            "doubled_tube",
            tuple(tubes),
            f"{' and '.join(read.label(ref) for ref in tubes)} run between the same joints in one "
            "place: remove one of them.",
            None,
        )
        for tubes in lines.values()
        if len(tubes) > 1
    )


@cell(When.RELEASE)
def joints_doubled(read: Reader) -> Findings:
    """Joints that are two in name and one in place."""
    frame = read(network)
    found: list[Finding] = []
    for same in read(joints_in_one_place):
        joints = tuple(frame.joints[n] for n in same.nodes)
        names = [read.label(joint) for joint in joints]
        words = (
            f"{' and '.join(names)} are {number(same.spread, 2)} apart: make them one joint, "
            "or the tubes there count as not joined."
        )
        mend = _merge(joints[0], joints[1], names)
        found.append(
            Finding(
                "doubled_joint",
                "no",
                joints,
                words,
                measured=same.spread,
                place=Vec3(*same.place),
                limit_source=CHOICE,
                remedies=(mend,),
            )
        )
    return tuple(found)


@cell(When.LIVE)
def straights(read: Reader) -> Findings:
    """Straight tube beside a bend that is too short for the bender."""
    return tuple(found for ref in read.all(Tube) for found in read(straights_of, ref))


@cell(When.LIVE)
def straights_of(read: Reader, ref: Ref) -> Findings:
    """The same of one tube."""
    return tuple(_straight(read, ref))


def _straight(read: Reader, ref: Ref) -> Iterator[Finding]:
    try:
        shape = read(tube_shape, ref)
    except NotComputedError:
        return  # the rule on shapes tells of it
    if not len(shape.radii):
        return
    held = read(limit, "straight_between_bends", ref)
    die = read.thing(Tube, ref).die or read.thing(Section, read.thing(Tube, ref).section).die
    own = None if die is None else read.thing(Die, die).least_straight
    least = held.value if own is None else own
    shortest = float(shape.straights.min())
    if shortest < least:
        words = (
            f"{read.label(ref)} has only {number(shortest, 1)} straight beside a bend; the bender "
            f"wants {number(least, 1)}."
        )
        source = held.source if own is None else "the die's own figure"
        yield Finding("short_straight", "no", (ref,), words, shortest, least, limit_source=source)


@cell(When.LIVE)
def die_radii(read: Reader) -> Findings:
    """Bends drawn to another radius than the die's."""
    return tuple(found for ref in read.all(Tube) for found in _die_radius(read, ref))


def _die_radius(read: Reader, ref: Ref) -> Iterator[Finding]:
    tube = read.thing(Tube, ref)
    die = tube.die or read.thing(Section, tube.section).die
    if die is None:
        return
    radius = read.thing(Die, die).radius
    for bend in tube.bends:
        if bend.radius is not None and abs(bend.radius - radius) > RADIUS_WITHIN:
            words = (
                f"{read.label(ref)} is drawn with a bend of radius {number(bend.radius, 1)} at "
                f"{read.label(bend.point)}, but {read.label(die)} bends to {number(radius, 1)}."
            )
            yield Finding(
                "bend_radius",
                "no",
                (bend.point, ref),
                words,
                measured=bend.radius,
                limit=radius,
                limit_source="the die",
            )


RADIUS_WITHIN = 0.05
"""mm by which a bend's radius may differ from its die's: rounding of inches, no more."""

ROOM = "load paths"
RULES = (
    Rule("tube_shape", "Can every tube be bent as drawn?", tube_shapes, ROOM),
    Rule("unmet_bend", "Is every bend met by another tube?", bends_met, ROOM),
    Rule("mid_tube_tee", "Is a tube loaded sideways in its middle?", tees, ROOM),
    Rule("loose_joint", "Does a tube end where no other tube is?", loose, ROOM),
    Rule("joint_apart", "Does every tube pass the joints it is said to?", joints_on_tubes, ROOM),
    Rule("touching", "Do tubes touch without a joint?", tubes_touching, ROOM),
    Rule("doubled_joint", "Are two joints in one place?", joints_doubled, ROOM),
    Rule("doubled_tube", "Do two tubes lie in one place?", tubes_doubled, ROOM),
    Rule("bend_radius", "Is every bend drawn as its die bends?", die_radii, ROOM),
    Rule("short_straight", "Is there straight enough to hold beside each bend?", straights, ROOM),
)
